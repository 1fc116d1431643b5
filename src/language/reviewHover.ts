import { figureFor } from '../figure/figures';
import { withInterval } from '../measure/intervals';
import type { RunResult } from '../measure/result';
import { explanation } from '../report/explained';
import { judgementText, limitLine, measuredText, whyText } from '../report/format';
import { takenWith } from '../report/said';
import { type Figure, figureOf, figureTitle, type Named } from '../report/summary';
import type { Checked, CheckedReview, Status } from '../review/check';
import type { Block } from '../session/block';
import { fill, type Say } from '../text/message';
import type { Hover } from './hover';
import { shown } from './markdown';
import { holds } from './places';

/** The reference that an offset of a review stands in, the innermost where one is in another. */
export const referenceAt = ({ checked }: CheckedReview, offset: number): Checked | undefined =>
  checked.filter(({ mention }) => holds(mention.span, offset)).at(-1);

/** What is known of the figure, the property or the chart that a reference names; undefined where there is none. */
export function hoverInReview(review: CheckedReview, offset: number, say: Say = fill): Hover | undefined {
  const at = referenceAt(review, offset);
  if (!at) return undefined;
  const parts = at.figure
    ? figureParts(at, at.figure, say)
    : at.property
      ? propertyParts(at, say)
      : at.mention.is === 'image'
        ? chartParts(at, say)
        : [];
  return parts.length === 0 ? undefined : { span: at.mention.span, parts };
}

/** The run of a figure that a reference names. */
export const runOf = ({ reference, analysis, figure }: Checked): RunResult | undefined =>
  figure && analysis?.results.find(({ run }) => run.id === reference?.ids[0]);

function figureParts(at: Checked, { id, key }: Figure, say: Say): string[] {
  const { analysis, status } = at;
  const result = runOf(at)!;
  // With its interval, which may have come since the review was checked.
  const figure = figureOf(analysis!, result, id, key, withInterval(result, id, key, result.value(id, key)));
  const { value, spec, judgement } = figure;
  const title = shown(figureTitle(figure, say));
  const run = shown(result.run.id);
  if (!value.ok) {
    const why = shown(whyText(value.why, say));
    return [say('**{title}** of {run} is not computed: {why}.', { title, run, why }), ...taken(result, say)];
  }
  const judged = [judgementText(judgement, say), limitLine(spec, judgement, say)].filter((part) => part !== '').join('; ');
  const why = explanation(figure, result, say);
  const against = result.againstText(say);
  return [
    say('**{title}** of {run}: **{now}**', { title, run, now: shown(measuredText(figure, say)) }),
    ...(judged === '' ? [] : [shown(judged)]),
    ...(why === '' ? [] : [shown(why)]),
    ...(against === '' ? [] : [say('Against {against}.', { against: shown(against) })]),
    ...taken(result, say),
    ...said(status, say),
  ];
}

/** What does not hold is said by a finding. */
const said = (status: Status, say: Say): string[] => (status === 'holds' ? [`*${say('The claim holds.')}*`] : []);

/** With what a run was taken, and what it is called. */
function taken({ run }: RunResult, say: Say): string[] {
  const { mode, signal, meter } = run;
  const words = takenWith(
    { ...(mode && { mode: named(mode) }), ...(signal && { signal: named(signal) }), ...(meter && { meter: named(meter) }) },
    shown,
    say,
  );
  return [[run.kind, run.title && say('“{title}”', { title: shown(run.title) }), words].filter((part) => part !== '').join(', ')];
}

const named = (block: Block): Named => ({ id: block.name, title: block.header?.title?.text ?? '' });

function propertyParts({ property, status }: Checked, say: Say): string[] {
  const { block, name, text } = property!;
  const args = { name: shown(name), id: shown(block.name), text: shown(text) };
  return [say('**{name}** of {id}: **{text}**', args), ...said(status, say)];
}

/** The answer of a chart, and what it is against. */
function chartParts({ reference, analysis }: Checked, say: Say): string[] {
  if (!reference || !analysis) return [];
  const reading = figureFor(analysis, reference, say);
  if (!reading.ok) return [];
  const { title, summary, against } = reading.figure;
  return [`**${shown(title)}**`, shown(summary), ...(against === '' ? [] : [shown(against)])];
}
