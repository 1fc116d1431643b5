import { cellSpan, type Line, type RowLine } from '../session/line';
import type { SessionText } from '../session/sessionText';
import { type Span, shifted } from '../text/span';
import { blockSpan, cellAt, clamped, contentSpan, holds, lastOwnLine, linesSpan, placeAt, tableLines } from './places';

/**
 * What an offset stands in, from the smallest part to the whole text, each wider than the one before: a cell, its row, the table, the
 * block; a part of a name, the name, the property.
 */
export function selectionAt(source: SessionText, offset: number): readonly Span[] {
  const { block, index, first, line, on, at } = placeAt(source, offset);
  const start = source.lineStart(first + line);
  const spans = partsAt(on, at).map((span) => shifted(span, start));
  spans.push(shifted(contentSpan(on, first + line), start), [start, start + on.text.length]);
  const table = tableLines(block);
  if (table && table.from <= line && line <= table.to) spans.push(linesSpan(source, first + table.from, first + table.to));
  if (block.header && line <= lastOwnLine(block)) spans.push(blockSpan(source, index));
  spans.push([0, source.text.length]);

  const within = clamped(source, offset);
  const widening: Span[] = [];
  for (const span of spans) {
    const last = widening.at(-1);
    const isWider = !last || (span[0] <= last[0] && span[1] >= last[1] && span[1] - span[0] > last[1] - last[0]);
    if (isWider && holds(span, within)) widening.push(span);
  }
  return widening;
}

/** The parts of a line's content at an offset of it, smallest first. */
function partsAt(line: Line, at: number): Span[] {
  switch (line.kind) {
    case 'header': {
      const words = [line.keyword, line.id, line.date, line.title, line.link?.id].flatMap((word) => (word ? [word.span] : []));
      return words.filter((span) => holds(span, at)).flatMap((span) => [...unquotedPart(line.text, span), span]);
    }
    case 'property': {
      const name = line.name.span;
      const value = line.value.span;
      const found: Span[] = [];
      if (holds(name, at)) found.push(...unquotedPart(line.text, name), ...part(line.text, name, ' / ', at), name);
      if (value[1] > value[0] && holds(value, at)) {
        found.push(...unquotedPart(line.text, value), ...part(line.text, value, ', ', at), value);
      }
      return [...found, [name[0], Math.max(name[1], value[1])]];
    }
    case 'columns': {
      const column = line.columns.find(({ span }) => holds(span, at));
      return column ? [column.span] : [];
    }
    case 'row':
      return [...rowParts(line, at), [line.cells[0]!, line.cells.at(-2)!]];
    case 'version':
      return holds(line.at, at) ? [line.at] : [];
    default:
      return [];
  }
}

function rowParts(row: RowLine, at: number): Span[] {
  const cell = cellAt(row, at);
  if (cell !== undefined) return [...unquotedPart(row.text, cellSpan(row, cell)), cellSpan(row, cell)];
  return row.remark && holds(row.remark.span, at) ? [row.remark.span] : [];
}

/** What stands between quotation marks. */
const unquotedPart = (text: string, [start, end]: Span): Span[] =>
  end - start > 2 && text[start] === '"' && text[end - 1] === '"' ? [[start + 1, end - 1]] : [];

/** The part of a list that an offset stands in. */
function part(text: string, [start, end]: Span, separator: string, at: number): Span[] {
  let from = start;
  for (const item of text.slice(start, end).split(separator)) {
    if (holds([from, from + item.length], at)) return item === '' ? [] : [[from, from + item.length]];
    from += item.length + separator.length;
  }
  return [];
}
