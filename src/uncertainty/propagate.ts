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
  /** False where the figure goes the same way whichever way its readings err, as the largest of equals or a distance near 0 does. */
  readonly smooth: boolean;
}

/** Of the whole reach, how much may come from sources that move a figure one way only: a tenth of it, as squares add. */
const MOST_BENT = 0.1;

/**
 * Adds up what independent sources of error do to a figure f, each of which moves the readings by z standard deviations (1.96 at 0.95)
 * either way. Falls and rises of f are added as squares, each side for itself:
 *
 *   lo = f − √Σ fall²,  hi = f + √Σ rise²
 *
 * For a straight f that is the propagation of JCGM 100:2008, 5.1.2. For one source and a monotone f it is exact however bent f is
 * (a contrast over an uncertain black), which the symmetric interval is not; for several sources see G. Y. Zou & A. Donner, Statistics in
 * Medicine 27 (2008). Known limits: f has to be monotone along each source over ±z, so no distances (near 0 their interval needs
 * `lengthInterval`) and no largest of nearly equal figures; `smooth` tells. NaN of f gives NaN.
 */
export class Reach {
  /** How far the sources are to move the readings, in standard deviations. */
  readonly z: number;
  private variance = 0;
  private falls = 0;
  private rises = 0;
  private bends = 0;

  constructor(
    readonly value: number,
    level = LEVEL,
  ) {
    this.z = normalQuantile(0.5 * (1 + level));
  }

  /** A source that makes the figure `above` at +z and `below` at −z. Returns its change by one standard deviation, signed. */
  add(above: number, below: number): number {
    const { value, z } = this;
    const slope = (above - below) / (2 * z);
    this.variance += slope * slope;
    this.falls += Math.max(0, value - Math.min(above, below)) ** 2;
    this.rises += Math.max(0, Math.max(above, below) - value) ** 2;
    if ((above - value) * (below - value) > 0) this.bends += Math.min(Math.abs(above - value), Math.abs(below - value)) ** 2;
    return slope;
  }

  get sd(): number {
    return Math.sqrt(this.variance);
  }

  get interval(): Interval {
    return [this.value - Math.sqrt(this.falls), this.value + Math.sqrt(this.rises)];
  }

  get smooth(): boolean {
    return this.bends <= MOST_BENT * MOST_BENT * Math.max(this.falls, this.rises);
  }
}

/**
 * A figure f of many readings, by `Reach`.
 *
 * `sources`: for each independent source the shift of all readings by one standard deviation: the columns of a square root of their
 * covariance. A reading's own spread moves only it; an error that all share moves all. 2·sources + 1 calls of f, which must keep no
 * reference to its argument.
 */
export function propagate(
  f: (readings: Float64Array) => number,
  means: ArrayLike<number>,
  sources: readonly ArrayLike<number>[],
  level = LEVEL,
): Propagated {
  const at = Float64Array.from(means);
  const reach = new Reach(f(at), level);
  const bySource = Float64Array.from(sources, (shift) => {
    const moved = (by: number): number => {
      for (let i = 0; i < at.length; i++) at[i] = means[i]! + by * shift[i]!;
      return f(at);
    };
    return reach.add(moved(reach.z), moved(-reach.z));
  });
  const { value, sd, interval, smooth } = reach;
  return { value, sd, interval, bySource, smooth };
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
