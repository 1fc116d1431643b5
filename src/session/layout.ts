import { endBeforeBlanks, skipBlanks } from '../text/blanks';
import type { Message } from '../text/message';
import type { TextEdit } from '../text/span';
import { CellKind, type ColumnsLine, cellCount, cellKind, cellText, type Line, type RowLine } from './line';
import type { SessionText } from './sessionText';

/**
 * The canonical layout: heads at column 0, properties at 2, rows at 4 with a `~` in column 2, cells at fixed stops, two blanks before a
 * remark or comment. It changes nothing but blanks, looks at one line and the column line of its run, and never at the widest cell: so
 * one edited cell is one changed line in a diff.
 */

const ROW_INDENT = 4;
const GAP = 2;
const NARROWEST = 6;
const STOPS: ReadonlyMap<string, number> = new Map([
  ['Y', 8],
  ['X', 8],
  ['Z', 8],
  ['x', 7],
  ['y', 7],
  ["u'", 7],
  ["v'", 7],
]);

/** How wide a column is laid out: by what its last name part holds, or its head where that is wider. */
function stopWidth(written: string, first: boolean): number {
  const name = written.split('[', 1)[0]!.replace(/^.*\./, '');
  return Math.max(first ? NARROWEST : (STOPS.get(name) ?? NARROWEST), written.length);
}

export interface Stop {
  readonly at: number;
  readonly width: number;
}

const stops = new WeakMap<ColumnsLine, readonly Stop[]>();

/** Where each cell of a run's rows starts; cells without a column follow at the narrowest stop. */
export function columnStops(columns: ColumnsLine | undefined): (cell: number) => Stop {
  let known = columns && stops.get(columns);
  if (!known) {
    let at = ROW_INDENT;
    known = (columns?.columns ?? []).map((column, i) => {
      const stop = { at, width: stopWidth(column.text, i === 0) };
      at += stop.width + GAP;
      return stop;
    });
    if (columns) stops.set(columns, known);
  }
  const of = known;
  const last = of[of.length - 1];
  const behind = last ? last.at + last.width + GAP : ROW_INDENT;
  return (cell) => of[cell] ?? { at: behind + (cell - of.length) * (NARROWEST + GAP), width: NARROWEST };
}

/** Lays cells out at their stops. Of the first column, numbers are set to the right. */
function layCells(
  lead: string,
  cells: readonly { readonly text: string; readonly right: boolean }[],
  columns: ColumnsLine | undefined,
): string {
  const stop = columnStops(columns);
  let line = lead.padEnd(ROW_INDENT);
  cells.forEach(({ text, right }, i) => {
    const { at, width } = stop(i);
    line = line.padEnd(i === 0 ? at : Math.max(at, line.length + GAP));
    line += right && i === 0 ? text.padStart(width) : text;
  });
  return line;
}

/** A line in its canonical layout, without its end. Lines that cannot be read are left as they are. */
export function laidOut(line: Line, columns: ColumnsLine | undefined): string {
  const { text } = line;
  const mark = text.charCodeAt(0) === 0xfeff ? '\ufeff' : '';
  switch (line.kind) {
    case 'blank':
      return mark;
    case 'comment':
    case 'note':
      return text.slice(0, endBeforeBlanks(text, 0));
    case 'version':
      return `${mark}nitbook ${text.slice(...line.at)}${behind(text, line.at[1])}`;
    case 'header': {
      const link = line.link ? [line.link.word, line.link.id.text] : [];
      const parts = [line.keyword, line.id, line.date, line.title].flatMap((part) => (part ? [text.slice(...part.span)] : []));
      const end = line.link?.id.span[1] ?? (line.title ?? line.date ?? line.id ?? line.keyword).span[1];
      return `${mark}${line.struck ? '~ ' : ''}${[...parts, ...link].join(' ')}${behind(text, end)}`;
    }
    case 'property': {
      const value = text.slice(...line.value.span);
      return `${line.struck ? '  ~ ' : '  '}${text.slice(...line.name.span)}:${value && ' '}${value}${behind(text, line.value.span[1])}`;
    }
    case 'columns': {
      const cells = line.columns.map((column) => ({ text: column.text, right: false }));
      return layCells(line.struck ? '  ~ ' : '', cells, line) + behind(text, line.columns[line.columns.length - 1]!.span[1]);
    }
    case 'row':
      return layRow(line, columns);
    case 'conflict':
    case 'held':
    case 'other':
      return text;
  }
}

function layRow(line: RowLine, columns: ColumnsLine | undefined): string {
  const cells = Array.from({ length: cellCount(line) }, (_, i) => ({ text: cellText(line, i), right: isNumeric(cellKind(line, i)) }));
  // An empty cell exists only between its tabs: set in blanks it would be gone.
  if (cells.some((_, i) => cellKind(line, i) === CellKind.Empty)) return line.text;
  const end = line.cells[line.cells.length - 2]!;
  return layCells(line.struck ? '  ~ ' : '', cells, columns) + behind(line.text, end);
}

const isNumeric = (kind: CellKind): boolean => kind === CellKind.Number || kind === CellKind.Below || kind === CellKind.Above;

/** What stands behind the content of a line, after two blanks: a remark, a comment, or what could not be read. */
function behind(text: string, from: number): string {
  const at = skipBlanks(text, from);
  const end = endBeforeBlanks(text, at);
  return at < end ? `  ${behindParts(text.slice(at, end))}` : '';
}

/** A remark and the comment behind it, two blanks between them. */
function behindParts(rest: string): string {
  if (!rest.startsWith('|')) return rest;
  for (let i = rest.indexOf('#'); i > 0; i = rest.indexOf('#', i + 1)) {
    const next = rest[i + 1];
    const before = endBeforeBlanks(rest, 0, i);
    if (before < i && (next === undefined || next === '#' || skipBlanks(rest, i + 1) > i + 1))
      return `${rest.slice(0, before)}  ${rest.slice(i)}`;
  }
  return rest;
}

/** Why a text is not rewritten; undefined when it may be. */
export const refusesRewriting = (source: SessionText): Message | undefined =>
  source.version > 1 ? { code: 'version-newer', args: { version: source.version } } : undefined;

/** The edits that bring a session (or the lines `from` to `to`, exclusive) into its canonical layout; none when it is in it. */
export function formatEdits(source: SessionText, from = 0, to = source.lines.length): readonly TextEdit[] {
  if (refusesRewriting(source)) return [];
  const edits: TextEdit[] = [];
  source.blocks.forEach((block, b) => {
    const start = source.blockStarts[b]!;
    for (let i = Math.max(0, from - start); i < block.lines.length && start + i < to; i++) {
      const line = block.lines[i]!;
      const laid = laidOut(line, block.columns);
      // A blank line between \r and \n keeps its blanks: without them the two would be one line end.
      if (laid === '' && line.eol === '\n' && source.lines[start + i - 1]?.eol === '\r') continue;
      const edit = difference(line.text, laid, source.lineStart(start + i));
      if (edit) edits.push(edit);
    }
  });
  return edits;
}

/** The smallest single edit from one line to another. */
export function difference(before: string, after: string, at: number): TextEdit | undefined {
  if (before === after) return undefined;
  const most = Math.min(before.length, after.length);
  let head = 0;
  while (head < most && before[head] === after[head]) head++;
  let tail = 0;
  while (tail < most - head && before[before.length - 1 - tail] === after[after.length - 1 - tail]) tail++;
  return { span: [at + head, at + before.length - tail], text: after.slice(head, after.length - tail) };
}
