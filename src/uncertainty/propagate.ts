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

type Pair = readonly [above: number, below: number];

/** What grows by less than this when its error is doubled comes to an end there. */
const ENDS_BY = 1.6;

/**
 * Adds up what independent sources of error do to a figure f, each of which moves the readings by z standard deviations (1.96 at 0.95)
 * either way. Falls and rises of f are added as squares, each side for itself:
 *
 *   lo = f − √Σ fall²,  hi = f + √Σ rise²
 *
 * For a straight f that is the propagation of JCGM 100:2008, 5.1.2. For one source and a monotone f it is exact however bent f is
 * (a contrast over an uncertain black), which the symmetric interval is not; for several sources see G. Y. Zou & A. Donner, Statistics in
 * Medicine 27 (2008).
 *
 * Where f goes the same way on either side of a source, or comes to an end, as a coverage does where the corner that is moved reaches that of
 * the reference, errors of many sources do not even out: every one of them has lowered it. What such sources do is added as it is. The
 * end is seen where f is told at half of the errors too (`halves`).
 *
 * Known limits: no distances (near 0 their interval needs `lengthInterval`) and no largest of nearly equal figures. NaN of f gives NaN.
 */
export class Reach {
  /** How far the sources are to move the readings, in standard deviations. */
  readonly z: number;
  private variance = 0;
  private readonly squares = { falls: 0, rises: 0 };
  private readonly sums = { falls: 0, rises: 0 };

  constructor(
    readonly value: number,
    level = LEVEL,
  ) {
    this.z = normalQuantile(0.5 * (1 + level));
  }

  /**
   * A source that makes the figure `above` at +z and `below` at −z; `halves` at half of that. Returns its change by one standard deviation,
   * signed.
   */
  add(above: number, below: number, halves?: readonly [above: number, below: number]): number {
    const { value, z } = this;
    const slope = (above - below) / (2 * z);
    this.variance += slope * slope;
    this.reach('rises', [above - value, below - value], halves && [halves[0] - value, halves[1] - value]);
    this.reach('falls', [value - above, value - below], halves && [value - halves[0], value - halves[1]]);
    return slope;
  }

  private reach(side: 'falls' | 'rises', [above, below]: Pair, halves: Pair = [0, 0]): void {
    const most = Math.max(0, above, below);
    const half = Math.max(0, ...halves);
    if (above * below > 0 || most < ENDS_BY * half) this.sums[side] += Math.max(most, half);
    else this.squares[side] += most * most;
  }

  get sd(): number {
    return Math.sqrt(this.variance);
  }

  get interval(): Interval {
    const { value, squares, sums } = this;
    return [value - Math.sqrt(squares.falls) - sums.falls, value + Math.sqrt(squares.rises) + sums.rises];
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
  const { value, sd, interval } = reach;
  return { value, sd, interval, bySource };
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
