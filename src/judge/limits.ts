import { cctDuv } from '../colour/temperature';
import type { Config } from '../config/config';
import type { RunResult } from '../measure/result';
import { type MeasureSpec, measureSpec, ROW_LIMITS } from '../measure/specs';
import { isHdr } from '../measure/target';
import type { Value } from '../measure/value';
import type { Session } from '../session/session';
import type { Bound } from '../text/limitText';

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
  const names = key.length > 0 ? [`${whole}@${key.join(',')}`, whole] : [whole];
  for (const name of names) {
    for (const block of session.all('limits')) {
      const value = session.value(block, name);
      if (value?.is === 'limit') return { ...pick(value), from: 'session' };
    }
  }
  for (const name of names) {
    const entry = config.limits.get(name);
    if (entry) return { ...pick(entry), from: 'folder' };
  }
  for (const name of names) {
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

/** Judges the point value of a figure by the limits that hold for it. */
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
  const against = (bound: Bound | undefined): Verdict => (bound ? verdictOf(value, bound, spec, centre) : 'no-number');
  return { verdict: against(limits.limit), aim: against(limits.aim), limits, centre };
}

/** Whether a number meets a bound: a range by its ends, else as the direction of the measure says. */
function meets(v: number, bound: Bound, spec: MeasureSpec, centre: number): boolean {
  if (bound.low !== undefined) return v >= bound.low && v <= bound.high;
  switch (spec.direction) {
    case 'larger':
      return v >= bound.high;
    case 'nearer':
      return Math.abs(v - centre) <= bound.high;
    case 'smaller':
    case 'report':
      return v <= bound.high;
  }
}

function verdictOf(value: Extract<Value, { ok: true }>, bound: Bound, spec: MeasureSpec, centre: number): Verdict {
  const met = meets(value.v, bound, spec, centre);
  if (value.bound) {
    // Known only to lie on one side of v: enough where that is the good side.
    const goodSide = value.bound === 'at-least' ? spec.direction === 'larger' : spec.direction === 'smaller';
    return bound.low === undefined && goodSide && met ? 'within' : bound.low === undefined && !goodSide && !met ? 'beyond' : 'undecided';
  }
  if (value.ends) {
    const [a, b] = value.ends.map((end) => meets(end, bound, spec, centre));
    if (a !== b) return 'undecided';
  }
  return met ? 'within' : 'beyond';
}
