import { resultOf, rowAt } from '../language/lookup';
import type { Analysis } from '../project/analysis';
import { blockLabels } from '../session/nodes';
import type { SessionText } from '../session/sessionText';
import type { Span } from '../text/span';

/** The run that holds an offset of the text; undefined outside of runs, and in one that is struck out. */
export function runAt(source: SessionText, offset: number): string | undefined {
  const block = source.blocks[source.blockAt(source.lineAt(offset))]!;
  return block.isRun && !block.void ? block.name : undefined;
}

/** The row that stands for the reading at an offset in figures: the first of its repeats. */
export function markedRow(analysis: Analysis, offset: number): string | undefined {
  const { source } = analysis;
  const line = source.lineAt(offset);
  const index = source.blockAt(line);
  const block = source.blocks[index]!;
  const patches = resultOf(analysis, block)?.context?.patches;
  const row = rowAt(block, line - source.blockStarts[index]!);
  const patch = row === undefined ? undefined : patches?.ofRow[row];
  return patch === undefined || patch < 0 ? undefined : `${blockLabels(source)[index]}/row/${patches!.first[patch]}`;
}

/** Where a row that a mark names stands in the text, without its line end; undefined when it is gone. */
export function rowSpan(source: SessionText, row: string): Span | undefined {
  const [, label, number] = /^(.+)\/row\/(\d+)$/.exec(row) ?? [];
  const index = label === undefined ? -1 : blockLabels(source).indexOf(label);
  const line = source.blocks[index]?.rowLines[Number(number)];
  if (line === undefined) return undefined;
  const at = source.blockStarts[index]! + line;
  const start = source.lineStart(at);
  return [start, start + source.lines[at]!.text.length];
}
