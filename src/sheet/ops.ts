import { type Edits, isRefusal, refusal } from '../language/answers';
import { addLevels, duplicateRun, freeId, insertTime } from '../language/gestures';
import { type PasteAnswers, type PastePreview, previewPaste } from '../language/paste';
import { lastOwnLine } from '../language/places';
import type { Block } from '../session/block';
import { difference, refusesRewriting } from '../session/layout';
import { CellKind, cellCount, cellSpan, type Line, quoted } from '../session/line';
import { blockLabels } from '../session/nodes';
import { type Intent, plan } from '../session/plan';
import { readLine } from '../session/readLine';
import { sessionOf } from '../session/session';
import type { SessionText } from '../session/sessionText';
import { kindAt, tableOf } from '../session/table';
import { skipBlanks, trimBlanks } from '../text/blanks';
import type { Finding } from '../text/finding';
import type { Message } from '../text/message';
import type { TextEdit } from '../text/span';
import type { At, Op } from './protocol';
import type { Trail } from './trail';

/** Why the sheet refuses something, besides what is refused everywhere. */
export const SHEET_REFUSALS = {
  moved: 'The line is not what it was: it was changed elsewhere in the meantime. What you typed is kept.',
  gone: 'The line is not there any more. What you typed is kept.',
  'not-written': 'The session cannot be written to now. What you typed is kept.',
  'mend-gone': 'The finding is not there any more.',
  'paste-question': 'It must first be said what the commas are.',
  'note-form': 'A note is one line.',
} as const;

export const refuse = (code: keyof typeof SHEET_REFUSALS): Message => ({ code, args: {} });

/** What an edit is made in and with. */
export interface Desk {
  readonly source: SessionText;
  /** `2026-03-14 15:30` where the reading of a row is to be stamped: the core has no clock. */
  readonly stamp?: string;
  /** Those of `source`; asked for mends alone. */
  readonly findings?: readonly Finding[];
}

/**
 * The line that an edit means in the text as it stands now: where the line has gone since the version that the page saw, as long as nobody
 * else has written in it; else the one line of its block that reads as it did.
 */
export function locate(source: SessionText, trail: Trail, base: number, at: At): number | Message {
  const went = trail.follow(base, at.line);
  const reads = (line: number) => source.lines[line]?.text === at.text;
  if (went && went !== 'lost') {
    if (reads(went.line) || (went.own && !went.elsewhere)) return went.line;
    if (went.elsewhere) return refuse('moved');
  }
  const index = blockLabels(source).indexOf(at.block);
  if (index < 0) return refuse('gone');
  const first = source.blockStarts[index]!;
  const alike = source.blocks[index]!.lines.flatMap(({ text }, i) => (text === at.text ? [first + i] : []));
  return alike.length === 1 ? alike[0]! : refuse(went === 'lost' ? 'gone' : 'moved');
}

/** The edits that a gesture amounts to, on a line of the text as it stands now. */
export function opEdits(desk: Desk, op: Op, line: number): Edits {
  const { source } = desk;
  const refused = refusesRewriting(source);
  if (refused) return refused;
  const place = placeOf(source, line);
  const planned = (intent: Intent) => plan(source, intent);
  const { label: block, inBlock } = place;
  switch (op.do) {
    case 'setCell':
      return stamped(desk, place, planned({ do: 'setCell', block, line: inBlock, column: op.column, text: op.text }));
    case 'strike':
      return planned({ do: 'strike', block, line: inBlock, on: op.on });
    case 'takeAgain':
      return planned({ do: 'strikeAndTakeAgain', block, line: inBlock });
    case 'addRepeat':
      return planned({ do: 'addRepeat', block, line: inBlock });
    case 'addLevels':
      return addLevels(source, source.lineStart(line), op.levels);
    case 'addRow':
      return planned({ do: 'addRow', block, cells: op.cells });
    case 'duplicate': {
      const copy = duplicateRun(source, source.lineStart(line), op.mode);
      return isRefusal(copy) ? copy : copy.edits;
    }
    case 'duplicateAdjusted':
      return duplicateAdjusted(source, line);
    case 'paste': {
      const preview = pastePreview(source, line, op.column, op.text, op.answers);
      if (isRefusal(preview)) return preview;
      return preview.questions.includes('decimalComma') ? refuse('paste-question') : preview.edits;
    }
    case 'setProperty':
      return planned({ do: 'setProperty', block, name: op.name, value: op.value });
    case 'removeProperty':
      return planned({ do: 'removeProperty', block, name: op.name });
    case 'setNote':
      return setNote(place, op.text);
    case 'mend': {
      const start = source.lineStart(line);
      const found = desk.findings?.find(({ code, span }) => code === op.code && span[0] === start + op.start);
      return found?.mends[op.nth]?.edits ?? refuse('mend-gone');
    }
  }
}

interface Place {
  readonly source: SessionText;
  readonly block: Block;
  readonly label: string;
  /** The number of its head in the file, and of the line in the block. */
  readonly first: number;
  readonly inBlock: number;
  readonly on: Line;
}

function placeOf(source: SessionText, line: number): Place {
  const index = source.blockAt(line);
  const first = source.blockStarts[index]!;
  const block = source.blocks[index]!;
  return { source, block, label: blockLabels(source)[index]!, first, inBlock: line - first, on: source.lines[line]! };
}

/** With the time behind the row whose last reading this is, in the same edit. */
function stamped({ source, stamp }: Desk, { block, first, inBlock, on }: Place, edits: Edits): Edits {
  if (stamp === undefined || isRefusal(edits) || edits.length === 0 || on.kind !== 'row') return edits;
  const after = source.change(edits);
  const line = first + inBlock;
  const row = after.lines[line]!;
  const columns = [...tableOf(block).columns.values()];
  if (row.kind !== 'row' || columns.some((column) => kindAt(row, column) === CellKind.ToTake)) return edits;
  if (columns.every((column) => kindAt(on, column) !== CellKind.ToTake)) return edits;
  const time = insertTime(after, after.lineStart(line), stamp);
  if (isRefusal(time)) return edits;
  const edit = difference(on.text, after.change(time).lines[line]!.text, source.lineStart(line));
  return edit ? [edit] : [];
}

/** What pasting at a cell would do. */
export function pastePreview(
  source: SessionText,
  line: number,
  column: string,
  text: string,
  answers: PasteAnswers,
): PastePreview | Message {
  return previewPaste(source, source.lineStart(line) + offsetIn(source, line, column), text, answers);
}

/** Where a cell stands in its line; the end of the cells for one that is left out. */
function offsetIn(source: SessionText, line: number, column: string): number {
  const { block, on } = placeOf(source, line);
  const cell = tableOf(block).columns.get(column)?.cell;
  if (on.kind !== 'row' || cell === undefined) return 0;
  return cell < cellCount(on) ? cellSpan(on, cell)[0] : cellSpan(on, cellCount(on) - 1)[1];
}

/** The id of the mode that a run is duplicated for where it is measured again as adjusted; undefined where it has no mode. */
export function adjustedMode(source: SessionText, block: Block): { readonly from: Block; readonly id: string } | undefined {
  const session = sessionOf(source);
  const mode = session.resolve(block, 'mode');
  if (mode.is !== 'found') return undefined;
  const isTaken = (name: string) => source.blocks.some((other) => other.header && other.name === name);
  return { from: mode.block, id: freeId(`${mode.block.name}-adjusted`, isTaken) };
}

/** Puts a mode under the run's own that takes its settings over, and the run with its patches to take under it: as one edit. */
function duplicateAdjusted(source: SessionText, line: number): Edits {
  const { block, label } = placeOf(source, line);
  const adjusted = adjustedMode(source, block);
  if (!adjusted) return refusal('no-mode', { mode: '?' });
  const { from, id } = adjusted;
  const above = source.blockStarts[source.blocks.indexOf(from)]! + lastOwnLine(from);
  const { text, eol } = source.lines[above]!;
  const end = source.lineStart(above) + text.length;
  const mode: TextEdit = { span: [end, end], text: `${eol || source.eol}mode ${id} ${quoted(adjustedTitle(from))} from ${from.name}` };

  const after = source.change([mode]);
  const index = blockLabels(after).indexOf(label);
  const copy = duplicateRun(after, after.lineStart(after.blockStarts[index]!), id);
  if (isRefusal(copy)) return copy;
  const back = (at: number) => (at > end ? at - mode.text.length : at);
  const edits = copy.edits.map(({ span, text }): TextEdit => ({ span: [back(span[0]), back(span[1])], text }));
  return [mode, ...edits].sort((a, b) => a.span[0] - b.span[0]);
}

/** Titles are the session's own words, which nobody translates. */
function adjustedTitle(mode: Block): string {
  const title = mode.header?.title?.text ?? '';
  const before = title.replace(/(?:, )?as shipped$/i, '');
  return before === '' ? 'As adjusted' : `${before}, as adjusted`;
}

/** Writes another text in a note, takes the line of an empty one out, or puts one at the end of the block of any other line. */
function setNote({ source, block, first, inBlock, on }: Place, wanted: string): Edits {
  const text = trimBlanks(wanted);
  if (/[\r\n]/.test(text)) return refuse('note-form');
  if (on.kind !== 'note') {
    if (text === '') return [];
    const above = source.lines[first + lastOwnLine(block)]!;
    const end = source.lineStart(first + lastOwnLine(block)) + above.text.length;
    return [{ span: [end, end], text: `${above.eol || source.eol}  | ${text}` }];
  }
  const start = source.lineStart(first + inBlock);
  if (text === '') {
    const from = on.eol === '' && first + inBlock > 0 ? start - source.lines[first + inBlock - 1]!.eol.length : start;
    return [{ span: [from, start + on.text.length + on.eol.length], text: '' }];
  }
  const bar = on.text.indexOf('|') + 1;
  const gap = on.text.slice(bar, skipBlanks(on.text, bar)) || ' ';
  const line = `${on.text.slice(0, bar)}${gap}${text}`;
  if (readLine(line, on.eol, on.before).kind !== 'note') return refuse('note-form');
  const edit = difference(on.text, line, start);
  return edit ? [edit] : [];
}
