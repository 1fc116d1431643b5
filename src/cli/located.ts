import type { Finding } from '../text/finding';

export interface Position {
  readonly line: number;
  readonly column: number;
}

/** A finding and where it is, as editors count: lines and UTF-16 columns from 1. */
export interface Located {
  readonly path: string;
  readonly shown: string;
  readonly finding: Finding;
  readonly start: Position;
  readonly end: Position;
}

export function located(path: string, shown: string, text: string, findings: readonly Finding[]): Located[] {
  const starts = lineStarts(text);
  // Editors take a byte order mark for no character of the first line.
  const mark = text.startsWith('\uFEFF') ? 1 : 0;
  const positionOf = (offset: number): Position => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: Math.max(1, offset - starts[low]! + 1 - (low === 0 ? mark : 0)) };
  };
  return findings.map((finding) => ({ path, shown, finding, start: positionOf(finding.span[0]), end: positionOf(finding.span[1]) }));
}

function lineStarts(text: string): number[] {
  const starts = [0];
  for (const { 0: end, index } of text.matchAll(/\r\n|\r|\n/g)) starts.push(index + end.length);
  return starts;
}
