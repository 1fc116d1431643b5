import type { Block } from '../session/block';
import type { ColumnName } from '../session/line';
import { propertyType, type Session, sessionOf } from '../session/session';
import type { SessionText } from '../session/sessionText';
import { tableOf } from '../session/table';
import { type Span, shifted } from '../text/span';
import { contentSpan, lastOwnLine } from './places';

/** What is struck out, to be faded: the contents of the lines, those of a voided block all but its comments. In order, apart. */
export function struckSpans(source: SessionText): readonly Span[] {
  return source.blocks.flatMap((block, index) => {
    const first = source.blockStarts[index]!;
    const last = block.void ? lastOwnLine(block) : block.lines.length - 1;
    return block.lines.flatMap((line, i): Span[] => {
      const isStruck = line.struck || (block.void && i <= last && line.kind !== 'comment' && line.kind !== 'conflict');
      const span = isStruck ? contentSpan(line, first + i) : undefined;
      return span && span[1] > span[0] ? [shifted(span, source.lineStart(first + i))] : [];
    });
  });
}

/** What a name or reference is, where its letters do not say. */
export interface SemanticMark {
  readonly span: Span;
  readonly is:
    | 'format' /** A property that the block's format knows. */
    | 'own' /** A name of the user's own: a setting, a topic, an x- property. */
    | 'unknown' /** Neither. */
    | 'reference' /** An id that leads to a block of the kind that it must. */
    | 'reading' /** A column whose cells are readings. */
    | 'key' /** A column whose cells say which patch a row is. */
    | 'unread' /** A column that the run does not read. */;
  /** A property that stands in place of one taken over; with the value ~, that takes it out. */
  readonly instead?: 'overrides' | 'removes';
}

/** Marks for colours, in the order of the text and apart. Struck-out lines have none: they are faded as a whole. */
export function semanticMarks(source: SessionText): readonly SemanticMark[] {
  const session = sessionOf(source);
  return source.blocks.flatMap((block, index) => {
    if (block.void || !block.header) return [];
    const marks: SemanticMark[] = [];
    const first = source.blockStarts[index]!;
    const mark = (line: number, span: Span, is: SemanticMark['is'], instead?: SemanticMark['instead']) =>
      marks.push({ span: shifted(span, source.lineStart(first + line)), is, ...(instead ? { instead } : {}) });

    const { link } = block.header;
    if (link && session.lineage(block).length > 1) mark(0, link.id.span, 'reference');
    const inherited = inheritedNames(session, block);
    for (let i = 1; i < block.lines.length; i++) {
      const line = block.lines[i]!;
      if (line.struck) continue;
      if (line.kind === 'property') {
        const name = line.name.text;
        const isOver = inherited.has(name) && block.find(name) === line;
        mark(i, line.name.span, nameIs(block, name), isOver ? (line.value.is === 'removed' ? 'removes' : 'overrides') : undefined);
        const type = propertyType(block, name);
        if (type?.is !== 'id' || (line.value.is !== 'text' && line.value.is !== 'string')) continue;
        if (session.byName.get(line.value.text)?.keyword === type.of) mark(i, line.value.span, 'reference');
      } else if (i === block.columnsLine && line.kind === 'columns') {
        for (const column of line.columns) mark(i, column.span, columnIs(block, column));
      }
    }
    return marks;
  });
}

function nameIs(block: Block, name: string): SemanticMark['is'] {
  const { spec } = block;
  if (spec && Object.hasOwn(spec.properties, name)) return 'format';
  return name.startsWith('x-') || (spec?.names === 'user' && !name.startsWith('.')) ? 'own' : 'unknown';
}

function columnIs(block: Block, column: ColumnName): SemanticMark['is'] {
  const { keys, columns: own } = block.spec!.table!;
  const { columns } = tableOf(block);
  if (columns.get(column.name)?.written !== column) return 'unread';
  // A control of a tuning run says what was tried.
  const isFree = block.keyword === 'tuning' && !Object.hasOwn(own, column.name);
  return isFree || keys.includes(column.name) ? 'key' : 'reading';
}

/** The names that a block takes over, whether or not it has them itself. */
function inheritedNames(session: Session, block: Block): ReadonlySet<string> {
  const parent = session.lineage(block)[1];
  return new Set(parent ? session.properties(parent).keys() : []);
}
