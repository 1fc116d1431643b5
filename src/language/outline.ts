import type { Analysis } from '../project/analysis';
import { verdictText, visible } from '../report/format';
import { stillToTake } from '../report/said';
import type { Block } from '../session/block';
import type { SessionText } from '../session/sessionText';
import { counted, type Forms, fill, type Say, worded } from '../text/message';
import { type Span, shifted } from '../text/span';
import { blockSpan, contentSpan, lastOwnLine, linesSpan, tableLines } from './places';
import { standing } from './standing';

/** A part of a session, for outlines and breadcrumbs. */
export interface OutlineEntry {
  readonly is: 'block' | 'property' | 'table';
  /** Of its block; a word that the format does not know may stand here too. */
  readonly keyword: string;
  /** Never empty, fit for a screen. */
  readonly name: string;
  readonly detail: string;
  /** Struck out, or in a block that is. */
  readonly struck: boolean;
  /** Holds those of its children and `selection`. */
  readonly span: Span;
  readonly selection: Span;
  readonly children: readonly OutlineEntry[];
}

/** The blocks of a session with their properties and tables; runs say how they stand. In the order of the text. */
export function outline(analysis: Analysis, say: Say = fill): readonly OutlineEntry[] {
  const { source } = analysis;
  return source.blocks.flatMap((block, index) => (block.header ? [entry(analysis, block, index, say)] : []));
}

function entry(analysis: Analysis, block: Block, index: number, say: Say): OutlineEntry {
  const { source } = analysis;
  const header = block.header!;
  const own = header.id ?? header.date;
  const keyword = header.keyword.text;
  return {
    is: 'block',
    keyword,
    name: own ? `${keyword} ${own.text}` : keyword,
    detail: detail(analysis, block, say),
    struck: block.void,
    span: blockSpan(source, index),
    selection: shifted((own ?? header.keyword).span, source.lineStart(source.blockStarts[index]!)),
    children: children(source, block, index, say),
  };
}

const ROWS: Forms = ['1 row', '{count} rows'];

function detail(analysis: Analysis, block: Block, say: Say): string {
  const { title, link } = block.header!;
  const stands = standing(analysis).runs.get(block);
  // In a narrow view the end is cut off: what is to be seen of a run comes first.
  const parts = [
    block.void ? say('struck out') : '',
    stands ? verdictText(stands.verdict, say) : '',
    stands ? stillToTake({ toTake: stands.toTake }, visible, say) : '',
    title?.text ?? '',
    link ? `${link.word} ${link.id.text}` : '',
  ];
  return visible(parts.filter((part) => part !== '').join('; '));
}

function children(source: SessionText, block: Block, index: number, say: Say): OutlineEntry[] {
  const first = source.blockStarts[index]!;
  const keyword = block.header!.keyword.text;
  const last = lastOwnLine(block);
  const properties = block.propertyLines.map((i): OutlineEntry => {
    const line = block.property(i);
    const start = source.lineStart(first + i);
    return {
      is: 'property',
      keyword,
      name: visible(line.name.text || '""'),
      detail: visible(line.text.slice(...line.value.span)),
      struck: block.void || line.struck,
      span: shifted(contentSpan(line, first + i), start),
      selection: shifted(line.name.span, start),
      children: [],
    };
  });
  const table = tableLines(block);
  if (!table) return properties;
  const columns = block.columns?.columns.map((column) => column.text).join(' ');
  const [start, end] = linesSpan(source, first + table.from, first + Math.min(table.to, last));
  const [from, to] = contentSpan(block.lines[table.from]!, first + table.from);
  const entry: OutlineEntry = {
    is: 'table',
    keyword,
    name: visible(columns ?? say('rows')),
    detail: worded(counted(block.rowLines.length, ROWS), say),
    struck: block.void,
    span: [start, end],
    selection: [start + from, start + to],
    children: [],
  };
  return [...properties, entry].sort((a, b) => a.span[0] - b.span[0]);
}
