import type { SessionText } from '../session/sessionText';
import { lastOwnLine, tableLines } from './places';

/** Lines of the file that can be folded under their first one, from 0, both inclusive; `to` is after `from`. */
export interface Folding {
  readonly from: number;
  readonly to: number;
  readonly is: 'block' | 'table' | 'comment';
}

/** Blocks, the tables in them, and comments or notes of several lines. In the order of their first lines, each line first of one only. */
export function foldings(source: SessionText): readonly Folding[] {
  const found: Folding[] = [];
  const fold = (is: Folding['is'], from: number, to: number) => {
    if (to > from) found.push({ from, to, is });
  };
  source.blocks.forEach((block, index) => {
    const first = source.blockStarts[index]!;
    if (block.header) fold('block', first, first + lastOwnLine(block));
    const table = block.header && tableLines(block);
    if (table) fold('table', first + table.from, first + table.to);
    for (let i = 0; i < block.lines.length; i++) {
      const { kind } = block.lines[i]!;
      if (kind !== 'comment' && kind !== 'note') continue;
      const from = i;
      while (block.lines[i + 1]?.kind === kind) i++;
      fold('comment', first + from, first + i);
    }
  });
  return found.sort((a, b) => a.from - b.from);
}
