import type { RunResult } from '../measure/result';
import type { Analysis } from '../project/analysis';
import type { Block } from '../session/block';
import type { Line } from '../session/line';
import type { SessionText } from '../session/sessionText';
import type { Finding } from '../text/finding';

/** Where an offset of a text stands. */
export interface Place {
  readonly line: Line;
  /** The number of the line in the text, and where it starts. */
  readonly number: number;
  readonly start: number;
  /** Within the line's text: an offset in its end counts as the end of the text before it. */
  readonly at: number;
  readonly block: Block;
  /** The number of the line within its block. */
  readonly inBlock: number;
}

/** Total: an offset before the text is its start, one behind it its end, what is no number its start. */
export function placeAt(source: SessionText, offset: number): Place {
  const within = Number.isNaN(offset) ? 0 : Math.min(Math.max(Math.trunc(offset), 0), source.text.length);
  const number = source.lineAt(within);
  const start = source.lineStart(number);
  const line = source.lines[number]!;
  const index = source.blockAt(number);
  return {
    line,
    number,
    start,
    at: Math.min(within - start, line.text.length),
    block: source.blocks[index]!,
    inBlock: number - source.blockStarts[index]!,
  };
}

/** The figures of a block that is a live run. */
export const resultOf = ({ results }: Analysis, block: Block): RunResult | undefined => results.find(({ run }) => run.block === block);

/** How many of the first `count` numbers are within, given that those come first. */
export function ascending(count: number, within: (index: number) => boolean): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (within(middle)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The findings in a line: they are in the order of the text, and none goes over the end of its line. */
export function findingsIn({ findings, source }: Analysis, line: number): readonly Finding[] {
  const [start, end] = [source.lineStart(line), source.lineStart(line + 1)];
  const isLast = line === source.lines.length - 1;
  const first = ascending(findings.length, (i) => findings[i]!.span[0] < start);
  const behind = ascending(findings.length, (i) => findings[i]!.span[0] < end || (isLast && findings[i]!.span[0] <= end));
  return findings.slice(first, behind);
}

/** The row of its table that a line of a block is; undefined when it is none. */
export function rowAt(block: Block, inBlock: number): number | undefined {
  const { rowLines } = block;
  const row = ascending(rowLines.length, (i) => rowLines[i]! < inBlock);
  return rowLines[row] === inBlock ? row : undefined;
}
