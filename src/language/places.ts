import type { Block } from '../session/block';
import { cellCount, cellSpan, type Line, type RowLine } from '../session/line';
import { blockLabels } from '../session/nodes';
import type { SessionText } from '../session/sessionText';
import { skipBlanks } from '../text/blanks';
import type { Span } from '../text/span';

/** Where an offset stands. Any number is one: those outside the text are taken to its ends. */
export interface Place {
  readonly block: Block;
  /** Of the block among those of the file. */
  readonly index: number;
  /** The number of the block's first line in the file. */
  readonly first: number;
  /** Within the block. */
  readonly line: number;
  readonly on: Line;
  /** Within the line; at most the length of its text. */
  readonly at: number;
}

export const clamped = (source: SessionText, offset: number): number =>
  Number.isNaN(offset) ? 0 : Math.min(Math.max(Math.trunc(offset), 0), source.text.length);

export function placeAt(source: SessionText, offset: number): Place {
  const within = clamped(source, offset);
  const fileLine = source.lineAt(within);
  const index = source.blockAt(fileLine);
  const block = source.blocks[index]!;
  const first = source.blockStarts[index]!;
  const on = block.lines[fileLine - first]!;
  return { block, index, first, line: fileLine - first, on, at: Math.min(within - source.lineStart(fileLine), on.text.length) };
}

/** What intents call a block. */
export const labelOf = (source: SessionText, index: number): string => blockLabels(source)[index]!;

/** The span of a line's text from its first character that is no blank (nor the byte order mark of a file) to its last; empty in a blank line. */
export function contentSpan(line: Line, index: number): Span {
  const start = skipBlanks(line.text, index === 0 && line.text.charCodeAt(0) === 0xfeff ? 1 : 0);
  let end = line.text.length;
  while (end > start && skipBlanks(line.text, end - 1, end) === end) end--;
  return [start, end];
}

/**
 * The last line (within the block) that is a block's own. Blank lines behind it are not, nor are comments at the start of a line that stand
 * after a blank line: those are about what follows.
 */
export function lastOwnLine(block: Block): number {
  let last = block.lines.length - 1;
  for (let i = last; i > 0; i--) {
    const { kind, text } = block.lines[i]!;
    if (kind === 'blank') last = i - 1;
    else if (kind !== 'comment' || !text.startsWith('#')) break;
  }
  return last;
}

/** From the start of a block's head to the end of its last own line. */
export const blockSpan = (source: SessionText, index: number): Span =>
  linesSpan(source, source.blockStarts[index]!, source.blockStarts[index]! + lastOwnLine(source.blocks[index]!));

/** Lines of the file, both inclusive, without the last one's end. */
export const linesSpan = (source: SessionText, from: number, to: number): Span => [
  source.lineStart(from),
  source.lineStart(to) + source.lines[to]!.text.length,
];

/** The lines of a block from its column line to its last row; undefined where it has no table. */
export function tableLines(block: Block): { readonly from: number; readonly to: number } | undefined {
  const from = block.columnsLine ?? block.rowLines[0];
  return from === undefined ? undefined : { from, to: Math.max(from, block.rowLines.at(-1) ?? from) };
}

/** The cell that an offset of a row stands in or at an end of. */
export function cellAt(row: RowLine, at: number): number | undefined {
  for (let cell = 0; cell < cellCount(row); cell++) {
    const [start, end] = cellSpan(row, cell);
    if (at < start) return undefined;
    if (at <= end) return cell;
  }
  return undefined;
}

export const holds = ([start, end]: Span, at: number): boolean => start <= at && at <= end;
