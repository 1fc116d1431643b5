import { cctDuv } from '../colour/temperature';
import type { Config } from '../config/config';
import { withInterval } from '../measure/intervals';
import { plainPart, type RunResult } from '../measure/result';
import { type MeasureSpec, measureSpec, ROW_LIMITS } from '../measure/specs';
import { isHdr } from '../measure/target';
import type { Value } from '../measure/value';
import type { Session } from '../session/session';
import type { Bound, Limits } from '../text/limitText';
import { type Phrase, phrase } from '../text/message';
import { verdictOfInterval } from '../uncertainty/conformity';
import type { Interval } from '../uncertainty/interval';

/** `within`: meets its limit; `undecided`: what is known does not tell; `no-number`: there is no figure, or no limit to meet. */
export type Verdict = 'within' | 'beyond' | 'undecided' | 'no-number';

export interface AppliedLimits {
  readonly aim?: Bound;
  readonly limit?: Bound;
  readonly from: 'default' | 'folder' | 'session';
}

export interface Judgement {
  readonly verdict: Verdict;
  /** The same for the aim; `no-number` where there is none. */
  readonly aim: Verdict;
  readonly limits?: AppliedLimits;
  /** What a `nearer` measure is nearer to. */
  readonly centre: number;
}

/** Whether the limits for HDR hold for a run: by its target, else by the mastering peak of its signal. */
export function isHdrRun(session: Session, result: RunResult): boolean {
  const curve = session.value(result.run.target, 'curve');
  if (result.run.kind !== 'window' && result.run.kind !== 'contrast' && curve?.is === 'curve') return isHdr(curve.curve);
  return session.number(result.run.signal, 'mastering-peak') !== undefined || (curve?.is === 'curve' && isHdr(curve.curve));
}

/** The limits that hold for a measure: those of the session, else of the folder, else the defaults. An entry replaces the one below whole. */
export function limitsFor(
  session: Session,
  config: Config,
  result: RunResult,
  id: string,
  key: readonly string[],
): AppliedLimits | undefined {
  const whole = `${result.run.kind}.${id}`;
  const own = `${whole}@${key.map(plainPart).join(',')}`;
  /** Where a limit may stand: under the key of the row, under others that mean the row (600 and 10min), under the measure. */
  const among = (names: () => Iterable<string>): readonly string[] =>
    key.length === 0 ? [whole] : [own, ...[...names()].filter((name) => isOfRow(result, id, key, name, `${whole}@`)), whole];
  const blocks = session.all('limits');
  for (const name of among(() => blocks.flatMap((block) => [...session.properties(block).keys()]))) {
    for (const block of blocks) {
      const value = session.value(block, name);
      if (value?.is === 'limit') return { ...pick(value), from: 'session' };
    }
  }
  for (const name of among(() => config.limits.keys())) {
    const entry = config.limits.get(name);
    if (entry) return { ...pick(entry), from: 'folder' };
  }
  for (const name of among(() => Object.keys(ROW_LIMITS))) {
    const spec: Pick<MeasureSpec, 'sdr' | 'hdr'> | undefined = name === whole ? measureSpec(result.run.kind, id) : ROW_LIMITS[name];
    const limits = isHdrRun(session, result) ? spec?.hdr : spec?.sdr;
    if (limits) {
      return {
        ...(limits.aim === undefined ? {} : { aim: { high: limits.aim } }),
        ...(limits.limit === undefined ? {} : { limit: { high: limits.limit } }),
        from: 'default',
      };
    }
  }
  return undefined;
}

/** Whether a name in `limits` that starts so means the row of this key. */
function isOfRow(result: RunResult, id: string, key: readonly string[], name: string, start: string): boolean {
  if (!name.startsWith(start)) return false;
  const patch = result.rowOf(id, key);
  return patch !== undefined && result.rowOf(id, name.slice(start.length).split(',')) === patch;
}

const pick = ({ aim, limit }: { readonly aim?: Bound; readonly limit?: Bound }) => ({
  ...(aim ? { aim } : {}),
  ...(limit ? { limit } : {}),
});

/** What a measure is nearer to; the colour temperature of the target white for a colour temperature. */
export function centreOf(result: RunResult, id: string, spec: MeasureSpec): number {
  if (id === 'cct') {
    const white = result.context?.judged?.target.white;
    const found = white && cctDuv(white);
    return found && 'cct' in found ? found.cct : Number.NaN;
  }
  return spec.centre ?? 0;
}

/**
 * Judges a figure by the limits that hold for it: where its interval is known, with a guard band (JCGM 106:2012, 8.3), so that `within` and
 * `beyond` are claims with 0.975; else as it was read.
 */
export function judgeValue(
  session: Session,
  config: Config,
  result: RunResult,
  id: string,
  key: readonly string[],
  value: Value,
): Judgement {
  const spec = measureSpec(result.run.kind, id);
  const limits = spec && limitsFor(session, config, result, id, key);
  const centre = spec ? centreOf(result, id, spec) : 0;
  if (!spec || !limits || !value.ok) return { verdict: 'no-number', aim: 'no-number', centre, ...(limits ? { limits } : {}) };
  const known = isOwn(result, id, key, value) ? withInterval(result, id, key, value) : value;
  const against = (bound: Bound | undefined): Verdict => (bound && known.ok ? verdictOf(known, bound, spec, centre) : 'no-number');
  return { verdict: against(limits.limit), aim: against(limits.aim), limits, centre };
}

/** Whether a number is the one that the run has: a row may be judged by the limit of the largest, and its interval is another. */
function isOwn(result: RunResult, id: string, key: readonly string[], value: Extract<Value, { ok: true }>): boolean {
  if (key.length > 0) return true;
  const own = result.value(id);
  return own.ok && own.v === value.v;
}

/** What is known of a figure: luminances and their ratios, which alone come as bounds, are not negative. */
function intervalOf({ v, bound, ends, ci }: Extract<Value, { ok: true }>): Interval {
  if (bound === 'at-least') return [ci?.[0] ?? v, Number.POSITIVE_INFINITY];
  if (bound === 'at-most') return [Math.min(ci?.[1] ?? v, 0), ci?.[1] ?? v];
  return ci ?? ends ?? [v, v];
}

/** What meets a bound: a range by its ends, else as the direction of the measure says; counted from the centre of a `nearer` one. */
function allowed(bound: Bound, { direction }: MeasureSpec, centre: number): { readonly between: Interval; readonly from: number } {
  if (bound.low !== undefined) return { between: [bound.low, bound.high], from: 0 };
  switch (direction) {
    case 'larger':
      return { between: [bound.high, Number.POSITIVE_INFINITY], from: 0 };
    case 'nearer':
      return { between: [-bound.high, bound.high], from: centre };
    case 'smaller':
    case 'report':
      return { between: [Number.NEGATIVE_INFINITY, bound.high], from: 0 };
  }
}

/**
 * What was expected of limits that contradict their aim, so that a reading could meet the aim and be beyond the limit; undefined where they do
 * not. Between a range and a bound it is enough that the number of the aim lies inside.
 */
export function contradiction({ aim, limit }: Limits, spec: MeasureSpec, centre: number): Phrase | undefined {
  if (!aim || !limit) return undefined;
  const isNearer = spec.direction === 'nearer';
  // Distances are from one centre, whichever it is; beside a range it has to be known.
  const isMixed = (aim.low === undefined) !== (limit.low === undefined);
  if (isNearer && isMixed && Number.isNaN(centre)) return undefined;
  const from = isNearer && isMixed ? centre : 0;
  const ends = (bound: Bound): Interval =>
    bound.low !== undefined ? [bound.low, bound.high] : isNearer ? [from - bound.high, from + bound.high] : allowed(bound, spec, 0).between;
  if (limit.low !== undefined) {
    const numbers = aim.low === undefined && !isNearer ? ([aim.high, aim.high] as const) : ends(aim);
    return contains(ends(limit), numbers) ? undefined : phrase('an aim inside the range of the limit');
  }
  return contains(ends(limit), ends(aim)) ? undefined : EXPECTED_AIM[spec.direction];
}

const contains = (outer: Interval, inner: Interval): boolean => inner[0] >= outer[0] && inner[1] <= outer[1];

const EXPECTED_AIM: Readonly<Record<MeasureSpec['direction'], Phrase>> = {
  smaller: phrase('an aim no larger than the limit, as smaller is better'),
  report: phrase('an aim no larger than the limit, or a range as the limit, such as 90..100'),
  larger: phrase('an aim no smaller than the limit, as larger is better'),
  nearer: phrase('an aim no farther off than the limit, as nearer is better'),
};

function verdictOf(value: Extract<Value, { ok: true }>, bound: Bound, spec: MeasureSpec, centre: number): Verdict {
  const { between, from } = allowed(bound, spec, centre);
  // A white far off the Planckian locus has no temperature to be near to.
  if (Number.isNaN(from)) return 'no-number';
  const [low, high] = intervalOf(value);
  return verdictOfInterval([low - from, high - from], { low: between[0], high: between[1] });
}
