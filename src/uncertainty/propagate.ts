import { type Interval, LEVEL } from './interval';
import { normalQuantile } from './normal';

/** A figure with what its uncertainty is made of. */
export interface Propagated {
  readonly value: number;
  /** Standard deviation, of the linear part. */
  readonly sd: number;
  readonly interval: Interval;
  /** The change of the figure with each source by one standard deviation, signed: what `compared` takes to see what cancels. */
  readonly bySource: Float64Array;
}

/**
 * A figure f of many readings, by deterministic sampling: each independent source of error moves the readings by z standard deviations
 * (1.96 at 0.95) either way. Falls and rises of f are added as squares, each side for itself:
 *
 *   lo = f − √Σ fall²,  hi = f + √Σ rise²
 *
 * For a straight f that is the propagation of JCGM 100:2008, 5.1.2. For one source and a monotone f it is exact however bent f is
 * (a contrast over an uncertain black), which the symmetric interval is not; for several sources see Zou & Donner, Statistics in
 * Medicine 27 (2008).
 *
 * `sources`: for each independent source the shift of all readings by one standard deviation: the columns of a square root of their
 * covariance. A reading's own spread moves only it; an error that all share moves all. 2·sources + 1 calls of f, which must keep no
 * reference to its argument. Known limits: f has to be monotone along each source over ±z, so no distances (near 0 their interval needs
 * `lengthInterval`) and no largest of nearly equal figures; NaN of f gives NaN.
 */
export function propagate(
  f: (readings: Float64Array) => number,
  means: ArrayLike<number>,
  sources: readonly ArrayLike<number>[],
  level = LEVEL,
): Propagated {
  const z = normalQuantile(0.5 * (1 + level));
  const at = Float64Array.from(means);
  const value = f(at);
  const bySource = new Float64Array(sources.length);
  let variance = 0;
  let falls = 0;
  let rises = 0;
  sources.forEach((shift, s) => {
    const moved = (by: number): number => {
      for (let i = 0; i < at.length; i++) at[i] = means[i]! + by * shift[i]!;
      return f(at);
    };
    const above = moved(z);
    const below = moved(-z);
    const slope = (above - below) / (2 * z);
    bySource[s] = slope;
    variance += slope * slope;
    falls += Math.max(0, value - Math.min(above, below)) ** 2;
    rises += Math.max(0, Math.max(above, below) - value) ** 2;
  });
  return { value, sd: Math.sqrt(variance), interval: [value - Math.sqrt(falls), value + Math.sqrt(rises)], bySource };
}

/** The columns of the lower square root of a covariance matrix (rows of it), for `propagate`. André-Louis Cholesky; semi-definite is taken too. */
export function squareRoot(covariance: readonly ArrayLike<number>[]): Float64Array[] {
  const n = covariance.length;
  const columns: Float64Array[] = [];
  for (let j = 0; j < n; j++) {
    const column = new Float64Array(n);
    for (let i = j; i < n; i++) {
      let rest = covariance[i]![j]!;
      for (const before of columns) rest -= before[i]! * before[j]!;
      column[i] = rest;
    }
    const pivot = column[j]!;
    // A source that the ones before it explain to the last digits is none of its own.
    if (pivot > 1e-14 * covariance[j]![j]!) for (let i = j; i < n; i++) column[i]! /= Math.sqrt(pivot);
    else column.fill(0);
    columns.push(column);
  }
  return columns;
}
