import { endBeforeBlanks, skipBlanks, trimBlanks } from '../text/blanks';
import { type Message, phrase } from '../text/message';
import type { TextEdit } from '../text/span';
import type { Block } from './block';
import { difference, laidOut, refusesRewriting } from './layout';
import {
  CellKind,
  type ColumnsLine,
  cellCount,
  cellKind,
  cellSpan,
  cellText,
  type Line,
  type PropertyLine,
  quoted,
  type RowLine,
} from './line';
import { blockLabels } from './nodes';
import { readLine } from './readLine';
import type { SessionText } from './sessionText';
import { columnSpec } from './table';

/**
 * What a gesture asks for. `block` is the label of a block (`grey`, the second of a name `grey~2`), `line` counts within the block, its
 * head being 0; `column` is a column's name without its unit.
 */
export type Intent =
  /** Empty text is a reading still to take. */
  | { readonly do: 'setCell'; readonly block: string; readonly line: number; readonly column: string; readonly text: string }
  /** Of a head: voids the block, or brings it back. */
  | { readonly do: 'strike'; readonly block: string; readonly line: number; readonly on: boolean }
  /** Strikes a row and puts one to take under it. */
  | { readonly do: 'strikeAndTakeAgain'; readonly block: string; readonly line: number }
  /** Puts a row to take of the same patch under a row. */
  | { readonly do: 'addRepeat'; readonly block: string; readonly line: number }
  /** Under the last row; cells by column, those left out are still to take. */
  | { readonly do: 'addRow'; readonly block: string; readonly cells: Readonly<Record<string, string>> }
  /** Changes the property that counts, or adds it. `?` is still to be noted, `~` takes an inherited one out. */
  | { readonly do: 'setProperty'; readonly block: string; readonly name: string; readonly value: string }
  | { readonly do: 'removeProperty'; readonly block: string; readonly name: string };

/** Why an intent is refused, and the sentences. A version that is too new is refused with `version-newer`. */
export const REFUSALS = {
  'plan-block': 'There is no block {block} in this file.',
  'plan-line': 'Line {line} of {block} is not {expected}.',
  'plan-column': '{block} has no column {column}.',
  'plan-columns': '{block} has no column line yet.',
  'plan-property': '{block} has no property {name} of its own.',
  'plan-text': '"{text}" would not be read as {expected}.',
} as const;

type Refusal = keyof typeof REFUSALS;

/** Thrown inside this file only, so that each step can be written as if the one before had gone well. */
class Refused extends Error {
  constructor(readonly said: Message) {
    super(said.code);
  }
}

const refuse = (code: Refusal, args: Message['args']): never => {
  throw new Refused({ code, args });
};

/**
 * The edits that a gesture amounts to: of the line it means alone, byte for byte the same everywhere else, with the line ends of the file.
 * No edits when all is as asked already; a message when it cannot be done.
 */
export function plan(source: SessionText, intent: Intent): readonly TextEdit[] | Message {
  const refused = refusesRewriting(source);
  if (refused) return refused;
  try {
    return edits(place(source, intent.block), intent);
  } catch (error) {
    if (error instanceof Refused) return error.said;
    throw error;
  }
}

/** A block and where it stands. */
interface Place {
  readonly source: SessionText;
  readonly label: string;
  readonly block: Block;
  /** The number of its head in the file. */
  readonly first: number;
}

function place(source: SessionText, label: string): Place {
  const index = blockLabels(source).indexOf(label);
  const block = source.blocks[index];
  return block?.header ? { source, label, block, first: source.blockStarts[index]! } : refuse('plan-block', { block: label });
}

function edits(at: Place, intent: Intent): readonly TextEdit[] {
  switch (intent.do) {
    case 'setCell':
      return setCell(at, intent.line, intent.column, intent.text);
    case 'strike':
      return strike(at, intent.line, intent.on);
    case 'strikeAndTakeAgain':
      return [...strike(at, intent.line, true), ...addRepeat(at, intent.line)];
    case 'addRepeat':
      return addRepeat(at, intent.line);
    case 'addRow':
      return addRow(at, intent.cells);
    case 'setProperty':
      return setProperty(at, intent.name, intent.value);
    case 'removeProperty':
      return removeProperty(at, intent.name);
  }
}

const startOf = ({ source, first }: Place, line: number): number => source.lineStart(first + line);

/** The edit that turns a line into `after`. */
function rewritten(at: Place, line: number, after: string): readonly TextEdit[] {
  const edit = difference(at.block.lines[line]!.text, after, startOf(at, line));
  return edit ? [edit] : [];
}

/** Puts a line under another. */
function inserted(at: Place, line: number, text: string): readonly TextEdit[] {
  const above = at.block.lines[line]!;
  const end = startOf(at, line) + above.text.length;
  return [{ span: [end, end], text: (above.eol || at.source.eol) + text }];
}

const ONE_LINE = /^[^\r\n]*$/;

function rowAt({ block, label }: Place, line: number): RowLine {
  const found = block.lines[line];
  return found?.kind === 'row' ? found : refuse('plan-line', { line, block: label, expected: phrase('a row') });
}

const columnsOf = ({ block, label }: Place): ColumnsLine => block.columns ?? refuse('plan-columns', { block: label });

/** How a text is written as a cell: quoted where it is a word that would not be read as one. */
function written({ block }: Place, columns: ColumnsLine, cell: number, text: string): string {
  const plain = trimBlanks(text) || '?';
  if (columnSpec(block, columns.columns[cell]!)?.holds !== 'word') return plain;
  // Both as the first cell, where it might be a name or a mark, and behind another.
  const tried = readLine(`    ${plain}  0  ${plain}`, '\n', columns.after);
  return tried.kind === 'row' && !tried.struck && hasCells(tried, [plain, '0', plain]) ? plain : quoted(plain);
}

const hasCells = (row: RowLine, cells: readonly string[]): boolean =>
  cellCount(row) === cells.length && cells.every((raw, i) => cellText(row, i) === raw);

function setCell(at: Place, line: number, name: string, text: string): readonly TextEdit[] {
  const row = rowAt(at, line);
  const columns = columnsOf(at);
  const cell = columns.columns.findIndex((column) => column.name === name.normalize('NFC'));
  if (cell < 0) refuse('plan-column', { block: at.label, column: name });
  const cellAsWritten = written(at, columns, cell, text);

  const all = Array.from({ length: Math.max(cellCount(row), cell + 1) }, (_, i) => (i < cellCount(row) ? cellText(row, i) : '?'));
  all[cell] = cellAsWritten;
  const hasEmpty = row.values.some((_, i) => cellKind(row, i) === CellKind.Empty);
  let after = cell < cellCount(row) ? replacedCell(row, cell, cellAsWritten) : extendedRow(row, all);
  if (!hasEmpty && laidOut(row, columns) === row.text) after = laidOut(readLine(after, row.eol, row.before), columns);

  // What stands behind the cells is compared too: a cell `#` would turn all behind it into a comment.
  const read = readLine(after, row.eol, row.before);
  const same =
    ONE_LINE.test(after) &&
    read.kind === 'row' &&
    read.struck === row.struck &&
    read.remark?.text === row.remark?.text &&
    hasCells(read, all);
  return same ? rewritten(at, line, after) : refuse('plan-text', { text, expected: phrase('one cell of {name}', { name }) });
}

/** The text of a row with another cell in it, the next one kept in its place where there is room. */
function replacedCell(row: RowLine, cell: number, text: string): string {
  const [start, end] = cellSpan(row, cell);
  const next = skipBlanks(row.text, end);
  const gap = row.text.slice(end, next);
  const behind = row.text.slice(next);
  // Tabs and other blanks have stops of their own, which are not ours to count.
  const isSpaces = behind !== '' && /^ *$/.test(gap);
  const room = isSpaces ? Math.max(Math.min(gap.length, 2), gap.length - (text.length - (end - start))) : 0;
  return row.text.slice(0, start) + text + (isSpaces ? ' '.repeat(room) : gap) + behind;
}

/** The text of a short row with further cells behind its last one. */
function extendedRow(row: RowLine, all: readonly string[]): string {
  const end = cellSpan(row, cellCount(row) - 1)[1];
  const gap = row.text.includes('\t') ? '\t' : '  ';
  return (
    row.text.slice(0, end) +
    all
      .slice(cellCount(row))
      .flatMap((cell) => [gap, cell])
      .join('') +
    row.text.slice(end)
  );
}

function strike(at: Place, line: number, on: boolean): readonly TextEdit[] {
  const found = at.block.lines[line];
  if (!found || !STRIKABLE.has(found.kind))
    return refuse('plan-line', { line, block: at.label, expected: phrase('a row, property or head') });
  if (found.struck === on) return [];
  const after = on ? struckOut(found) : broughtBack(found);
  const read = readLine(after, found.eol, found.before);
  return read.kind === found.kind && read.struck === on
    ? rewritten(at, line, after)
    : refuse('plan-text', { text: trimBlanks(after), expected: on ? phrase('struck out') : phrase('live') });
}

const contentAt = ({ text }: Line): number => skipBlanks(text, text.charCodeAt(0) === 0xfeff ? 1 : 0);
const isInTable = ({ kind }: Line): boolean => kind === 'row' || kind === 'columns';

function struckOut(line: Line): string {
  const { text } = line;
  const content = contentAt(line);
  // In column 2, over a blank that is there: nothing in the line moves.
  if (isInTable(line) && content >= 4) return `${text.slice(0, 2)}~${text.slice(3)}`;
  return `${text.slice(0, content)}~ ${text.slice(content)}`;
}

function broughtBack(line: Line): string {
  const { text } = line;
  const content = contentAt(line);
  return text.slice(0, content) + (isInTable(line) ? ` ${text.slice(content + 1)}` : text.slice(skipBlanks(text, content + 1)));
}

const STRIKABLE: ReadonlySet<Line['kind']> = new Set<Line['kind']>(['row', 'columns', 'property', 'header']);

function addRepeat(at: Place, line: number): readonly TextEdit[] {
  const row = rowAt(at, line);
  const { keys, columns: own } = at.block.spec!.table!;
  // Of a free column (a control of a tuning run) the value belongs to the patch as well.
  const isKey = (name: string) => keys.includes(name) || !Object.hasOwn(own, name);
  const columns = columnsOf(at);
  const cells = columns.columns.map((column, i) => {
    const copied = i < cellCount(row) && isKey(column.name) && columnSpec(at.block, column);
    return (copied && cellText(row, i)) || '?';
  });
  return addedRow(at, line, columns, cells);
}

function addRow(at: Place, cells: Readonly<Record<string, string>>): readonly TextEdit[] {
  const columns = columnsOf(at);
  const names = columns.columns.map((column) => column.name);
  for (const name of Object.keys(cells)) if (!names.includes(name)) refuse('plan-column', { block: at.label, column: name });
  const row = names.map((name, i) => written(at, columns, i, Object.hasOwn(cells, name) && names.indexOf(name) === i ? cells[name]! : '?'));
  return addedRow(at, Math.max(at.block.rowLines.at(-1) ?? 0, at.block.columnsLine!), columns, row);
}

function addedRow(at: Place, above: number, columns: ColumnsLine, cells: readonly string[]): readonly TextEdit[] {
  const before = at.block.lines[above]!.after;
  const read = readLine(`    ${cells.join('  ')}`, '\n', before);
  const isOne = cells.every((cell) => ONE_LINE.test(cell)) && read.kind === 'row' && !read.struck && read.remark === undefined;
  if (!isOne || !hasCells(read, cells)) {
    return refuse('plan-text', { text: cells.join(' '), expected: phrase('a row of {count} cells', { count: cells.length }) });
  }
  return inserted(at, above, laidOut(read, columns));
}

function setProperty(at: Place, name: string, value: string): readonly TextEdit[] {
  const { block } = at;
  const wanted = name.normalize('NFC');
  const content = trimBlanks(value);
  if (wanted === '') return refuse('plan-text', { text: name, expected: phrase('a name') });
  const line = ownProperty(block, wanted);
  const old = line === undefined ? undefined : block.property(line);
  const above = block.propertyLines.at(-1) ?? 0;
  const before = old ? old.before : block.lines[above]!.after;
  // As it is where it reads so, quoted where it does not.
  for (const text of [content, quoted(content)]) {
    for (const head of old ? [''] : [name, quoted(name)]) {
      const after = old ? withValue(old, text) : `  ${head}:${text && ' '}${text}`;
      const read = readLine(after, '\n', before);
      if (!ONE_LINE.test(after) || read.kind !== 'property' || read.struck || read.name.text !== wanted || !holds(read, content)) continue;
      return old ? rewritten(at, line!, after) : inserted(at, above, after);
    }
  }
  return refuse('plan-text', { text: `${name}: ${value}`, expected: phrase('a property') });
}

function withValue({ text, value }: PropertyLine, content: string): string {
  const [start, end] = value.span;
  const gap = value.is === 'absent' ? ' ' : '';
  return content
    ? text.slice(0, start) + gap + content + text.slice(end)
    : text.slice(0, endBeforeBlanks(text, 0, start)) + text.slice(end);
}

function holds({ value, problems }: PropertyLine, content: string): boolean {
  if (problems.some((p) => p.code === 'string-open')) return false;
  if (value.is === 'text' || value.is === 'string') return value.text === content;
  return value.is === (content === '?' ? 'to-note' : content === '~' ? 'removed' : content === '' ? 'absent' : undefined);
}

/** The line of the property that counts: the first live one of its name. */
function ownProperty(block: Block, name: string): number | undefined {
  return block.propertyLines.find((line) => !block.property(line).struck && block.property(line).name.text === name);
}

function removeProperty(at: Place, name: string): readonly TextEdit[] {
  const line = ownProperty(at.block, name.normalize('NFC')) ?? refuse('plan-property', { block: at.label, name });
  const { text, eol } = at.block.lines[line]!;
  const start = startOf(at, line);
  // The last line of the file takes the end of the one above with it.
  const from = eol === '' ? start - at.block.lines[line - 1]!.eol.length : start;
  return [{ span: [from, start + text.length + eol.length], text: '' }];
}
