import type { Block } from '../session/block';
import { refusesRewriting } from '../session/layout';
import type { Word } from '../session/line';
import { propertyType, sessionOf } from '../session/session';
import type { SessionText } from '../session/sessionText';
import type { Message } from '../text/message';
import { type Span, shifted, type TextEdit } from '../text/span';
import { type Edits, refusal } from './answers';
import { holds, placeAt } from './places';

/** A place where an id stands, or would: the keyword of a block that is called by it. */
interface IdPlace {
  readonly id: string;
  /** Absolute. */
  readonly span: Span;
  readonly is: 'head' | 'keyword' | 'reference';
  /** The block it stands in. */
  readonly index: number;
}

/** Where an id leads: the head of its block. */
export interface Definition {
  readonly id: string;
  /** Of the id in the head, or of the keyword of a block that is called by it. */
  readonly span: Span;
  /** Of the whole head line. */
  readonly head: Span;
  /** Of what was asked about. */
  readonly from: Span;
}

/** Where the block stands that the id at an offset means; undefined when there is no id, or none of that name. */
export function definitionAt(source: SessionText, offset: number): Definition | undefined {
  const at = idAt(source, offset);
  const meant = at && meantBlock(source, at);
  if (!at || meant === undefined) return undefined;
  const start = source.lineStart(source.blockStarts[meant]!);
  const header = source.blocks[meant]!.header!;
  return {
    id: at.id,
    span: shifted((header.id ?? header.keyword).span, start),
    head: [start, start + header.text.length],
    from: at.span,
  };
}

/**
 * All places that mean the same block as the id at an offset, in the order of the text, those struck out with them: they would mean it
 * again if they were brought back. Empty when there is no id.
 */
export function referencesAt(source: SessionText, offset: number, withDefinition = true): readonly Span[] {
  const at = idAt(source, offset);
  return at ? alike(source, at).flatMap(({ span, is }) => (withDefinition || is === 'reference' ? [span] : [])) : [];
}

/** What would be renamed at an offset, or why nothing can be. */
export function renameRange(source: SessionText, offset: number): { readonly span: Span; readonly id: string } | Message {
  const refused = refusesRewriting(source);
  if (refused) return refused;
  const at = idAt(source, offset);
  if (!at) return refusal('no-id');
  const { spec, header } = source.blocks[at.index]!;
  if (at.is === 'keyword' && spec?.id !== 'required' && spec?.id !== 'optional') {
    return refusal('no-own-id', { keyword: header!.keyword.text });
  }
  return { span: at.span, id: at.id };
}

/**
 * Gives the block that the id at an offset means another id, in its head and wherever the file names it. A block that was called by its
 * keyword gets an id. Of two heads with the same id the second is renamed alone, as all else means the first.
 */
export function rename(source: SessionText, offset: number, to: string): Edits {
  const range = renameRange(source, offset);
  if ('code' in range) return range;
  const at = idAt(source, offset)!;
  if (to === at.id && at.is !== 'keyword') return [];
  if (!/^[A-Za-z][A-Za-z0-9-]*$/.test(to)) return refusal('id-form', { id: to });
  const places = alike(source, at);
  const taken = source.blocks.findIndex(({ header, name }, i) => header && name === to && i !== at.index);
  if (taken >= 0) return refusal('id-taken', { id: to, line: source.blockStarts[taken]! + 1 });
  const edits = places.map(
    ({ is, span }): TextEdit => (is === 'keyword' ? { span: [span[1], span[1]], text: ` ${to}` } : { span, text: to }),
  );
  return readsAs(source, edits, places, to) ? edits : refusal('id-unread', { id: to });
}

/** Whether the edited places, and only they, hold the new id: `from` and `like` may be read as something else. */
function readsAs(source: SessionText, edits: readonly TextEdit[], places: readonly IdPlace[], to: string): boolean {
  const renamed = new Set(places.map(({ span }) => span[0]));
  const expected = idPlaces(source).map((place) =>
    renamed.has(place.span[0]) ? { ...place, id: to, is: place.is === 'keyword' ? 'head' : place.is } : place,
  );
  const after = idPlaces(source.change(edits));
  return (
    after.length === expected.length &&
    after.every(({ id, is, index }, i) => id === expected[i]!.id && is === expected[i]!.is && index === expected[i]!.index)
  );
}

function idAt(source: SessionText, offset: number): IdPlace | undefined {
  const { index, first, line, at } = placeAt(source, offset);
  const start = source.lineStart(first + line);
  return placesInLine(source.blocks[index]!, index, line, start).find(({ span }) => holds(span, start + at));
}

/** The places that mean one block with this one. */
function alike(source: SessionText, at: IdPlace): readonly IdPlace[] {
  const meant = meantBlock(source, at);
  const isFirst = meant === undefined || meant === meantByName(source, at.id);
  return idPlaces(source).filter(({ id, is, index }) => id === at.id && (is === 'reference' ? isFirst : index === meant));
}

function meantBlock(source: SessionText, { is, index, id }: IdPlace): number | undefined {
  return is === 'reference' ? meantByName(source, id) : index;
}

/** The first live block of a name, else the first one that is struck out. */
function meantByName(source: SessionText, id: string): number | undefined {
  const live = sessionOf(source).byName.get(id);
  const index = source.blocks.findIndex((block) => (live ? block === live : block.header !== undefined && block.name === id));
  return index < 0 ? undefined : index;
}

const inBlock = new WeakMap<Block, readonly { readonly line: number; readonly is: IdPlace['is']; readonly word: Word }[]>();

function idPlaces(source: SessionText): IdPlace[] {
  return source.blocks.flatMap((block, index) =>
    wordsIn(block).map(({ line, is, word }) => ({
      id: word.text,
      span: shifted(word.span, source.lineStart(source.blockStarts[index]! + line)),
      is,
      index,
    })),
  );
}

const placesInLine = (block: Block, index: number, line: number, start: number): IdPlace[] =>
  wordsIn(block)
    .filter((each) => each.line === line)
    .map(({ is, word }) => ({ id: word.text, span: shifted(word.span, start), is, index }));

/** The ids in a block, in the order of its text; spans count from their lines. */
function wordsIn(block: Block) {
  let found = inBlock.get(block);
  if (!found) {
    const { header } = block;
    const words: { line: number; is: IdPlace['is']; word: Word }[] = [];
    if (header) words.push({ line: 0, is: header.id ? 'head' : 'keyword', word: header.id ?? header.keyword });
    if (header?.link) words.push({ line: 0, is: 'reference', word: header.link.id });
    for (const line of block.propertyLines) {
      const { name, value } = block.property(line);
      if (propertyType(block, name.text)?.is !== 'id' || (value.is !== 'text' && value.is !== 'string')) continue;
      words.push({ line, is: 'reference', word: { text: value.text, span: value.span } });
    }
    found = words;
    inBlock.set(block, found);
  }
  return found;
}

/** Where the block stands that references mean by an id: the offset of the id in its head, or of its keyword; undefined for none. */
export function headOf(source: SessionText, id: string): number | undefined {
  const block = sessionOf(source).byName.get(id);
  const index = block ? source.blocks.indexOf(block) : -1;
  return index < 0 ? undefined : headSpan(source, index)[0];
}

/** Of the id in the head of a block, or of the keyword that it is called by. */
export function headSpan(source: SessionText, index: number): Span {
  const header = source.blocks[index]!.header!;
  return shifted((header.id ?? header.keyword).span, source.lineStart(source.blockStarts[index]!));
}
