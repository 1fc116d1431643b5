import { knownInterval } from '../measure/intervals';
import type { RunResult } from '../measure/result';
import { untoldPhrase } from '../measure/told';
import { fill, type Phrase, phrase, type Say } from '../text/message';
import { figureText, limitTexts } from './format';
import type { Figure, Summary } from './summary';

/** Why a verdict is what it is, where the number does not say it. */
export const EXPLAINED = {
  interval: "{figure} lies within the meter's uncertainty of the {edge}.",
  bound: 'On which side of the {edge} it lies was not seen: {figure}.',
  ends: 'Between a black of 0 and one at the floor of the meter it lies on either side of the {edge}.',
  number: 'Judged by the number alone: {why}.',
  silent: 'The meter {meter} states no spread: what is read with it is judged by the number alone',
  intervals:
    'Behind ± and in brackets: where the true figure lies in 95 of 100 cases, by the spread and the accuracy that the meter states. A verdict is undecided where its limit lies in there.',
} as const;

/** Whether any figure of a summary has an interval that is shown. */
export const hasIntervals = ({ runs }: Summary): boolean =>
  runs.some(({ figures }) => figures.some(({ value }) => value.ok && value.ci !== undefined && !value.bound));

/** The meters whose silence about their spread leaves figures judged by their number alone. */
export function silentMeters({ runs }: Summary): readonly string[] {
  const names = runs.flatMap(({ figures, result }) =>
    figures.flatMap(({ id, key, judgement }) => {
      const known = judgement.limits && knownInterval(result, id, key);
      return known?.ok === false && known.why.code === 'no-spread' ? [String(known.why.args.meter)] : [];
    }),
  );
  return [...new Set(names)];
}

/**
 * One sentence on a verdict: why it is undecided, or that it rests on the number alone as nothing is known of its uncertainty. Empty where there is
 * nothing to explain, and while intervals are not computed.
 */
export function explanation(figure: Figure, result: RunResult, say: Say = fill): string {
  const { id, key, value, judgement } = figure;
  if (!value.ok || !judgement.limits) return '';
  const edge = undecidedEdge(figure, say);
  if (edge) {
    const why = value.ci ? 'interval' : value.bound ? 'bound' : 'ends';
    return say(EXPLAINED[why], { figure: figureText(figure, say), edge });
  }
  const known = knownInterval(result, id, key);
  return known?.ok === false && !value.bound ? say(EXPLAINED.number, { why: untoldPhrase(known.why) }) : '';
}

/** The limit, or else the aim, that a figure is not known to meet or to miss. */
function undecidedEdge({ spec, judgement }: Figure, say: Say): Phrase | undefined {
  const { limit, aim } = limitTexts(spec, judgement, say);
  if (judgement.verdict === 'undecided') return phrase('limit {bound}', { bound: limit });
  return judgement.verdict === 'no-number' && judgement.aim === 'undecided' ? phrase('aim {bound}', { bound: aim }) : undefined;
}
