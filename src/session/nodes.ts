import type { NodeId } from '../text/finding';
import type { Span } from '../text/span';
import type { Line, RowLine } from './line';
import { cellCount, cellSpan } from './line';
import type { SessionText } from './sessionText';
import { tableOf } from './table';

/**
 * Names for places of the tree that stay when lines move: the block's name, then what is in it: `grey`, `grey/property/mode`,
 * `grey/columns`, `grey/row/3/Y`, `grey/line/7`. The second block of a name is `grey~2`; the lines before the first block are `file`.
 */
export function blockLabels(source: SessionText): readonly string[] {
  const seen = new Map<string, number>();
  return source.blocks.map((block) => {
    if (!block.header) return 'file';
    const times = (seen.get(block.name) ?? 0) + 1;
    seen.set(block.name, times);
    return times === 1 ? block.name : `${block.name}~${times}`;
  });
}

/** The node that a span of a line belongs to. `line` counts within the block. */
export function nodeIn(source: SessionText, label: string, blockIndex: number, line: number, span: Span): NodeId {
  const block = source.blocks[blockIndex]!;
  const at: Line = block.lines[line]!;
  switch (at.kind) {
    case 'header':
      return label;
    case 'property':
      return `${label}/property/${at.name.text}`;
    case 'columns':
      return `${label}/columns`;
    case 'row': {
      const row = `${label}/row/${block.rowLines.indexOf(line)}`;
      const column = columnAt(block, at, span);
      return column === undefined ? row : `${row}/${column}`;
    }
    default:
      return `${label}/line/${line}`;
  }
}

/** The one column that a span of a row lies in. */
function columnAt(block: SessionText['blocks'][number], row: RowLine, span: Span): string | undefined {
  for (const column of tableOf(block).columns.values()) {
    if (column.cell >= cellCount(row)) continue;
    const cell = cellSpan(row, column.cell);
    if (cell[0] <= span[0] && span[1] <= cell[1]) return column.name;
  }
  return undefined;
}
