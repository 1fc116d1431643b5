import type { RunResult } from '../measure/result';
import type { Analysis } from '../project/analysis';
import type { Block } from '../session/block';
import { ascending } from '../text/ascending';
import type { Finding } from '../text/finding';

/** The figures of a block that is a live run. */
export const resultOf = ({ results }: Analysis, block: Block): RunResult | undefined => results.find(({ run }) => run.block === block);

/** The findings in a line: they are in the order of the text, and begin in the line that they are about. */
export function findingsIn({ findings, source }: Analysis, line: number): readonly Finding[] {
  const start = source.lineStart(line);
  const end = line === source.lines.length - 1 ? Number.POSITIVE_INFINITY : source.lineStart(line + 1);
  const first = ascending(findings.length, (i) => findings[i]!.span[0] < start);
  const behind = ascending(findings.length, (i) => findings[i]!.span[0] < end);
  return findings.slice(first, behind);
}

/** The row of its table that a line of a block is; undefined when it is none. */
export function rowAt({ rowLines }: Block, line: number): number | undefined {
  const row = ascending(rowLines.length, (i) => rowLines[i]! < line);
  return rowLines[row] === line ? row : undefined;
}
