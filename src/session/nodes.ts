import { ascending } from '../text/ascending';
import type { NodeId } from '../text/finding';
import type { Span } from '../text/span';
import type { Block } from './block';
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
    const name = block.header ? block.name : 'file';
    const times = (seen.get(name) ?? 0) + 1;
    seen.set(name, times);
    return times === 1 ? name : `${name}~${times}`;
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
      const row = `${label}/row/${ascending(block.rowLines.length, (i) => block.rowLines[i]! < line)}`;
      const column = columnAt(block, at, span);
      return column === undefined ? row : `${row}/${column}`;
    }
    default:
      return `${label}/line/${line}`;
  }
}

/** The one column whose cell a span of a row lies in, or holds. */
function columnAt(block: Block, row: RowLine, span: Span): string | undefined {
  let at = ascending(row.values.length, (cell) => cellSpan(row, cell)[0] <= span[0]) - 1;
  if (at < 0 || span[1] > cellSpan(row, at)[1]) {
    if (at < 0 || cellSpan(row, at)[0] < span[0]) at++;
    if (at >= cellCount(row) || cellSpan(row, at)[1] > span[1]) return undefined;
    if (at + 1 < cellCount(row) && cellSpan(row, at + 1)[0] < span[1]) return undefined;
  }
  return columnNames(block).get(at);
}

const namesOf = new WeakMap<Block, ReadonlyMap<number, string>>();

/** The columns of a run by the cell they read. */
function columnNames(block: Block): ReadonlyMap<number, string> {
  let names = namesOf.get(block);
  if (!names) {
    names = new Map([...tableOf(block).columns.values()].map((column) => [column.cell, column.name]));
    namesOf.set(block, names);
  }
  return names;
}
