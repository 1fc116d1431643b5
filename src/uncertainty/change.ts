import type { ErrorRows, Sym3 } from './covariance';
import { averageInterval, covarianceOf, type Interval, LEVEL, lengthInterval, likelyLength, SLICE } from './interval';
import { normalQuantile } from './normal';
import type { Propagated } from './propagate';

/** A figure of one of two sessions of the same meter. */
export interface Side {
  /** As it is shown. */
  readonly value: number;
  /** Its best estimate: the value, but for distances, which noise makes too large. */
  readonly best: number;
  /** With all errors, at the level of the comparison. */
  readonly interval: Interval;
  /** Standard deviation, to first order; and the part of it from each error that the other side may share, signed, by the name of the error. */
  readonly sd: number;
  readonly shared: ReadonlyMap<string, number>;
  /** From 0 to 1: how far the signs of `shared` can be relied on. A distance within its own uncertainty from 0 might as well lie on the other side. */
  readonly firm: number;
}

export interface Change {
  /** After less before, of the values shown. */
  readonly difference: number;
  readonly interval: Interval;
  /** Whether the interval leaves out 0: "changed"; else "change not shown", which is not "unchanged". */
  readonly changed: boolean;
}

/**
 * The change of a figure with the same meter in the same session: an error common to all its readings cancels as far as both figures
 * respond to it alike, and can be relied on to do so. With ρ the correlation that this gives,
 *
 *   fall² = f_b² + r_a² − 2ρ·f_b·r_a,  rise² = r_b² + f_a² − 2ρ·r_b·f_a
 *
 * where f and r reach down and up from the best estimates a and b to the ends of their intervals: limits of a difference from lopsided
 * intervals of correlated figures, G. Y. Zou & A. Donner, Statistics in Medicine 27 (2008). For straight figures it is the propagation
 * of JCGM 100, 5.2. Known limit: cautious for distances that are not clearly above 0, where hardly anything cancels.
 */
export function compared(before: Side, after: Side): Change {
  let rho = 0;
  for (const [name, part] of before.shared) rho += part * (after.shared.get(name) ?? 0);
  rho /= before.sd * after.sd || 1;
  if (rho > 0) rho *= before.firm * after.firm;
  // The way down of a distance not clear of 0 is bias rather than chance: it is added as it is.
  const reach = (down: number, up: number, firm: number): number =>
    Math.sqrt(Math.max(0, down * down + up * up - 2 * Math.max(-1, rho - (1 - firm)) * down * up));
  const best = after.best - before.best;
  const fall = reach(after.best - after.interval[0], before.interval[1] - before.best, after.firm);
  const rise = reach(before.best - before.interval[0], after.interval[1] - after.best, before.firm);
  const interval: Interval = [best - fall, best + rise];
  return { difference: after.value - before.value, interval, changed: interval[0] > 0 || interval[1] < 0 };
}

/** A side from a figure of `propagate`; `names` those of the sources that another side may share, by their place. */
export function propagatedSide({ value, interval, sd, bySource }: Propagated, names: readonly (string | undefined)[]): Side {
  const shared = new Map(names.flatMap((name, s) => (name === undefined ? [] : [[name, bySource[s]!] as const])));
  return { value, best: value, interval, sd, shared, firm: 1 };
}

/** 1 where the lower end is as far from 0 as the upper end is from the estimate. */
const firmness = (best: number, [lo, hi]: Interval): number => (hi > best ? Math.min(1, lo / (hi - best)) : 1);

const vectorAt = ({ error }: ErrorRows, i: number): [number, number, number] => [error[3 * i]!, error[3 * i + 1]!, error[3 * i + 2]!];

const whole = (rows: ErrorRows, i: number): Sym3 => [...covarianceOf(rows, i, true)] as unknown as Sym3;

/** Adds the change of the length of row i with each shared error to `into`, and returns the variance of the length from the spread. */
function addSensitivity({ spread, shared, sources }: ErrorRows, i: number, e: readonly number[], by: number, into: Float64Array): number {
  const length = Math.hypot(...e);
  if (length === 0) return 0;
  const [x, y, z] = [e[0]! / length, e[1]! / length, e[2]! / length];
  for (let s = 0; s < sources.length; s++) {
    const at = 3 * (sources.length * i + s);
    into[s]! += by * (x * shared[at]! + y * shared[at + 1]! + z * shared[at + 2]!);
  }
  const [xx, xy, xz, yy, yz, zz] = spread.subarray(6 * i, 6 * i + 6) as unknown as Sym3;
  return by * by * (xx * x * x + yy * y * y + zz * z * z + 2 * (xy * x * y + xz * x * z + yz * y * z));
}

const named = ({ sources }: ErrorRows, parts: Float64Array): ReadonlyMap<string, number> =>
  new Map(sources.map((name, s) => [name, parts[s]!]));

const sumOfSquares = (list: Float64Array): number => list.reduce((sum, v) => sum + v * v, 0);

/** The distance of one row, as a side. */
export function rowSide(rows: ErrorRows, i: number, level = LEVEL): Side {
  const e = vectorAt(rows, i);
  const S = whole(rows, i);
  const shared = new Float64Array(rows.sources.length);
  const variance = addSensitivity(rows, i, e, 1, shared);
  const best = likelyLength(e, S);
  const interval = lengthInterval(e, S, level);
  return {
    value: Math.hypot(...e),
    best,
    interval,
    sd: Math.sqrt(variance + sumOfSquares(shared)),
    shared: named(rows, shared),
    firm: firmness(best, interval),
  };
}

/**
 * The mean distance of all rows, as a side. Its lower end is sharper than that of `averageInterval`, which would hide most changes: rows that
 * are clearly off (their own lower limit above 0) count with their likely length, the others with 0; less z standard deviations of the
 * mean. Known limit: of rows without error 2.5 % look off by chance, so that with some thousand of them the lower end comes to lie above a
 * mean of 0, by up to a twentieth of a row's standard deviation. Pauses as `rowIntervals`.
 */
export function* averageSide(rows: ErrorRows, level = LEVEL): Generator<number, Side> {
  const shared = new Float64Array(rows.sources.length);
  let n = 0;
  for (let i = 0; i < rows.count; i++) if (!Number.isNaN(rows.error[3 * i]!)) n++;
  let [value, best, sure, variance] = [0, 0, 0, 0];
  for (let i = 0; i < rows.count; i++) {
    if (i > 0 && i % SLICE === 0) yield i;
    const e = vectorAt(rows, i);
    if (Number.isNaN(e[0])) continue;
    const S = whole(rows, i);
    const likely = likelyLength(e, S) / n;
    value += Math.hypot(...e) / n;
    best += likely;
    if (lengthInterval(e, S, level)[0] > 0) sure += likely;
    variance += addSensitivity(rows, i, e, 1 / n, shared);
  }
  const sd = Math.sqrt(variance + sumOfSquares(shared));
  const [least, most] = yield* averageInterval(rows, level);
  const interval: Interval = [Math.min(best, Math.max(least, sure - normalQuantile(0.5 * (1 + level)) * sd)), Math.max(best, most)];
  return { value, best, interval, sd, shared: named(rows, shared), firm: firmness(best, interval) };
}

/**
 * How far the colour of row i has moved between two sessions, in the metric's space: errors common to both, by their names, cancel but for
 * the difference of their effect. Changed where the interval is above 0. It tells that the display moved, not that its error grew or shrank.
 */
export function movedInterval(before: ErrorRows, after: ErrorRows, i: number, level = LEVEL): Interval {
  const a = vectorAt(before, i);
  const b = vectorAt(after, i);
  const sources = [...new Set([...before.sources, ...after.sources])];
  const shared = new Float64Array(3 * sources.length);
  for (const [rows, sign] of [
    [after, 1],
    [before, -1],
  ] as const)
    rows.sources.forEach((name, s) => {
      const [from, to] = [3 * (rows.sources.length * i + s), 3 * sources.indexOf(name)];
      for (let k = 0; k < 3; k++) shared[to + k]! += sign * rows.shared[from + k]!;
    });
  const spread = after.spread.subarray(6 * i, 6 * i + 6).map((v, k) => v + before.spread[6 * i + k]!);
  return lengthInterval(
    [b[0] - a[0], b[1] - a[1], b[2] - a[2]],
    whole({ count: 1, sources, error: after.error, spread, shared }, 0),
    level,
  );
}
