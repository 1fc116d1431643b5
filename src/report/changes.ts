import { type Judgement, judgeValue } from '../judge/limits';
import { type Compared, knownComparison, pairsOf } from '../measure/comparison';
import type { RunResult } from '../measure/result';
import { type MeasureSpec, measureSpec } from '../measure/specs';
import type { Analysis } from '../project/analysis';
import { fill, type Phrase, phrase, type Say, worded } from '../text/message';
import type { Interval } from '../uncertainty/interval';
import { measuredText, numberText } from './format';

/** A measure before and after, with what is held of it. */
export interface MeasureChange extends Compared {
  readonly spec: MeasureSpec;
  readonly judgement: Judgement;
  /** The limit, or else the aim, that the number lies on another side of than before; `met` where that is the right one. */
  readonly crossed?: { readonly edge: 'limit' | 'aim'; readonly met: boolean };
}

/** What a table shows of a change: what is held to something, and what is shown to have changed. */
export const shownChanges = ({ measures }: RunChange): readonly MeasureChange[] =>
  measures.filter(({ judgement, change }) => judgement.limits !== undefined || (change.ok && change.changed));

/** Two runs that differ in their mode. */
export interface RunChange {
  readonly before: RunResult;
  readonly after: RunResult;
  readonly measures: readonly MeasureChange[];
}

/** What changed between runs, as far as it has been compared: nothing while intervals are under way. */
export const changesOf = (analysis: Analysis): readonly RunChange[] =>
  pairsOf(analysis.results).flatMap(([before, after]) => {
    const compared = knownComparison(before, after);
    return compared ? [{ before, after, measures: compared.map((one) => judged(analysis, after, one)) }] : [];
  });

function judged({ config }: Analysis, after: RunResult, compared: Compared): MeasureChange {
  const { id, from, to } = compared;
  // The numbers themselves: a limit is crossed by what was read, whatever is certain of it.
  const [was, is] = [from, to].map((v) => judgeValue(after.session, config, after, id, [], { ok: true, v, ci: [v, v] })) as [
    Judgement,
    Judgement,
  ];
  const edge = was.verdict !== is.verdict ? 'limit' : was.aim !== is.aim ? 'aim' : undefined;
  const met = edge && (edge === 'limit' ? is.verdict : is.aim) === 'within';
  return {
    ...compared,
    spec: measureSpec(after.run.kind, id)!,
    judgement: is,
    ...(edge && met !== undefined ? { crossed: { edge, met } } : {}),
  };
}

const SHOWN: Readonly<Record<'true' | 'false', Phrase>> = { true: phrase('changed'), false: phrase('change not shown') };

/** `changed`, `change not shown`. */
export const shownText = (isShown: boolean, say: Say = fill): string => worded(SHOWN[`${isShown}`], say);

/** The same of a change; empty where nothing is known of the errors. */
export const changedText = ({ change }: Pick<MeasureChange, 'change'>, say: Say = fill): string =>
  change.ok ? shownText(change.changed, say) : '';

/** `-1.04 (-1.85 … -0.21)`: the difference of the numbers, and where the true one lies. */
export const differenceText = ({ change, spec }: Pick<MeasureChange, 'change' | 'spec'>, say: Say = fill): string =>
  signedText(change.difference, change.ok ? change.interval : undefined, spec, say);

export function signedText(difference: number, interval: Interval | undefined, spec: MeasureSpec, say: Say = fill): string {
  const value = { ok: true, v: difference, ...(interval && { ci: interval }) } as const;
  const text = measuredText({ value, spec, judgement: { verdict: 'no-number', aim: 'no-number', centre: 0 } }, say);
  return difference > 0 && Number(numberText(difference, spec.decimals)) !== 0 ? `+${text}` : text;
}

const CROSSED: Readonly<Record<string, Phrase>> = {
  'limit met': phrase('limit met now'),
  'limit missed': phrase('limit met no longer'),
  'aim met': phrase('aim met now'),
  'aim missed': phrase('aim met no longer'),
};

/** Of the two modes of a change, as ids. */
export const modesOf = ({ before, after }: RunChange): readonly [before: string, after: string] => [
  before.run.mode?.name ?? '',
  after.run.mode?.name ?? '',
];

/** What is to be known to read such a table. */
export const CHANGE_WORDS = {
  modes: 'mode {before} → {after}',
  about: 'What readings of one meter share cancels in a difference. A change that is not shown may have happened all the same.',
} as const;

/** `limit met now`; empty where neither limit nor aim was crossed. */
export const crossedText = ({ crossed }: Pick<MeasureChange, 'crossed'>, say: Say = fill): string =>
  crossed ? worded(CROSSED[`${crossed.edge} ${crossed.met ? 'met' : 'missed'}`]!, say) : '';
