import { referredPath } from '../project/paths';
import type { Checked, CheckedReview, ReviewPlace } from '../review/check';
import type { ReviewText } from '../review/markdown';
import { targetPlaces } from '../review/places';
import { readReference } from '../session/reference';
import type { SessionText } from '../session/sessionText';
import { type Span, shifted } from '../text/span';
import { headSpan } from './ids';
import { holds } from './places';
import { referenceAt } from './reviewHover';

/** Where a reference of a review leads. */
export interface Place {
  /** Of the session, and its text. */
  readonly path: string;
  readonly source: SessionText;
  /** The line of the row, of the property, or the head of the block. */
  readonly line: Span;
  /** What is selected there: the id in a head, else the whole line. */
  readonly span: Span;
  /** The reference as it is written. */
  readonly from: Span;
}

/** Where the row, the property or the block stands that the reference at an offset means. */
export function definitionInReview(review: CheckedReview, offset: number): Place | undefined {
  const at = referenceAt(review, offset);
  if (!at?.analysis || !at.path || !at.reference) return undefined;
  const { source } = at.analysis;
  const index = source.blocks.indexOf(at.analysis.session.byName.get(at.reference.ids[0]!)!);
  if (index < 0) return undefined;
  const inBlock = propertyLine(at) ?? rowLine(at);
  const fileLine = inBlock ? source.blockStarts[source.blocks.indexOf(inBlock.block)]! + inBlock.line : source.blockStarts[index]!;
  const line = lineSpan(source, fileLine);
  return { path: at.path, source, line, span: inBlock ? line : headSpan(source, index), from: at.mention.targetSpan };
}

function lineSpan(source: SessionText, line: number): Span {
  const start = source.lineStart(line);
  const { text } = source.lines[line]!;
  return [start + text.length - text.trimStart().length, start + text.length];
}

function propertyLine({ property, analysis }: Checked) {
  if (!property) return undefined;
  const properties = analysis!.session.properties(property.block);
  const found = properties.get(property.name) ?? properties.get(`.${property.name}`);
  return found && { block: found.block, line: found.block.lines.indexOf(found.line) };
}

function rowLine({ figure, reference, analysis }: Checked) {
  const result = analysis!.results.find(({ run }) => run.id === reference!.ids[0]);
  if (!figure || !result?.context || figure.key.length === 0) return undefined;
  const patch = result.rowOf(figure.id, figure.key);
  const row = patch === undefined || result.context.names ? undefined : result.context.patches.first[patch];
  const line = row === undefined ? undefined : result.run.table.lines[row];
  return line === undefined ? undefined : { block: result.run.block, line };
}

/** The id of a block at an offset of a review, where it stands in a reference, and in which session. */
export interface MentionedId {
  readonly id: string;
  readonly path: string;
  readonly span: Span;
}

export const idInReview = (review: ReviewText, place: Pick<ReviewPlace, 'path' | 'root'>, offset: number): MentionedId | undefined =>
  idsIn(review, place).find(({ span }) => holds(span, offset));

/** All ids that a review names, in the order of its text. Those that stand behind escapes are left out: they cannot be rewritten. */
export function idsIn({ mentions }: ReviewText, { path, root }: Pick<ReviewPlace, 'path' | 'root'>): readonly MentionedId[] {
  const folder = path.slice(0, path.lastIndexOf('/'));
  const seen = new Set<number>();
  return mentions.flatMap(({ target, targetSpan, isPlain }): MentionedId[] => {
    const reading = readReference(target);
    const session = reading.ok ? referredPath(reading.reference.path, folder, root) : undefined;
    // Several links can name one definition.
    if (!reading.ok || session === undefined || !isPlain || seen.has(targetSpan[0])) return [];
    seen.add(targetSpan[0]);
    const [start, end] = targetPlaces(target).ids;
    let at = start;
    return target
      .slice(start, end)
      .split('+')
      .map((written, i) => {
        const span = shifted([at, at + written.length], targetSpan[0]);
        at += written.length + 1;
        return { id: reading.reference.ids[i]!, path: session, span };
      });
  });
}
