import { cctDuv } from '../colour/temperature';
import type { Config } from '../config/config';
import { plainPart, type RunResult } from '../measure/result';
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
  const patch = rowOf(result, id, key);
  return patch !== undefined && rowOf(result, id, name.slice(start.length).split(',')) === patch;
}

/** The patch that a key means for a measure: one and the same for 600, 600s and 10min. */
export function rowOf(result: RunResult, id: string, key: readonly string[]): number | undefined {
  const spec = result.specs[id];
  return spec && result.context ? result.patchOf(spec.by?.split(',') ?? result.context.keys, key) : undefined;
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

/** From and to: what a figure can be, or what a bound lets through. Closed at both ends. */
type Interval = readonly [number, number];

/** What is known of a figure: luminances and their ratios, which alone come as bounds, are not negative. */
function intervalOf(value: Extract<Value, { ok: true }>): Interval {
  if (value.bound === 'at-least') return [value.v, Number.POSITIVE_INFINITY];
  if (value.bound === 'at-most') return [Math.min(value.v, 0), value.v];
  return value.ends ?? [value.v, value.v];
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

function verdictOf(value: Extract<Value, { ok: true }>, bound: Bound, spec: MeasureSpec, centre: number): Verdict {
  const { between, from } = allowed(bound, spec, centre);
  // A white far off the Planckian locus has no temperature to be near to.
  if (Number.isNaN(from)) return 'no-number';
  const [low, high] = intervalOf(value);
  if (low - from >= between[0] && high - from <= between[1]) return 'within';
  return high - from < between[0] || low - from > between[1] ? 'beyond' : 'undecided';
}
