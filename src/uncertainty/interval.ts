import { chiSquareCdf, chiSquareQuantile, noncentrality } from './chiSquare';
import type { ErrorRows, Sym3 } from './covariance';
import { normalQuantile } from './normal';

/** An interval of a figure, both ends part of it. */
export type Interval = readonly [lo: number, hi: number];

/** The level of all intervals shown: k = 2 as people say, 0.025 on either side. */
export const LEVEL = 0.95;

/**
 * What is needed of an error vector e and its covariance Σ; all of it adds up over independent rows, which makes the figures of the long
 * vector that all rows form.
 */
interface Moments {
  /** eᵀe, eᵀΣe, eᵀΣ²e, eᵀΣ³e. */
  readonly e0: number;
  readonly e1: number;
  readonly e2: number;
  readonly e3: number;
  /** tr Σ, tr Σ². */
  readonly t1: number;
  readonly t2: number;
}

function momentsOf(x: number, y: number, z: number, S: Sym3 | Float64Array): Moments {
  const [xx, xy, xz, yy, yz, zz] = S as Sym3;
  const gx = xx * x + xy * y + xz * z;
  const gy = xy * x + yy * y + yz * z;
  const gz = xz * x + yz * y + zz * z;
  return {
    e0: x * x + y * y + z * z,
    e1: x * gx + y * gy + z * gz,
    e2: gx * gx + gy * gy + gz * gz,
    e3: xx * gx * gx + yy * gy * gy + zz * gz * gz + 2 * (xy * gx * gy + xz * gx * gz + yz * gy * gz),
    t1: xx + yy + zz,
    t2: xx * xx + yy * yy + zz * zz + 2 * (xy * xy + xz * xz + yz * yz),
  };
}

/*
 * The length of a vector μ that was seen as e = μ + n, n ~ N(0, Σ).
 *
 * With Σ = σ²·1 in k dimensions, |e|²/σ² is non-central χ² with λ = |μ|²/σ², and its inverse in λ is the interval: exact.
 *
 * With unequal variances, |e|² is a sum of unequal χ². It is given the two moments of c·χ²(ν, λ): mean |μ|² + tr Σ and variance
 * 2·tr Σ² + 4·μᵀΣμ, hence ν = tr Σ/c, λ = |μ|²/c, and c = tr Σ²/tr Σ at μ = 0 (F. E. Satterthwaite 1946; P. B. Patnaik 1949), the variance along μ
 * for large μ. As μ is not known, c takes the mean of both quadratic forms over N(e, Σ): c = (vᵀΣv + tr Σ²)/(vᵀv + tr Σ), at v = e for the
 * lower limit. For the upper limit v is e moved outwards by z standard deviations, v = e + z·Σe/√(eᵀΣe): the μ of that limit points
 * more into the direction of the large variances than e does, and without this the upper limit is missed by up to 7 % instead of 2.5 %.
 *
 * The shorter way, d² = eᵀΣ⁻¹e and the interval of d times |e|/d, fails: it covers 2 % instead of 95 % where variances differ much.
 *
 * Simulated over variances from 1 : 1 : 1 to 1 : 0.01 : 0.01 and directions along, across and oblique: a side is missed by at most 3.1 %
 * at a nominal 2.5 %, both together at most 5.6 %. Known limit: e has to be normal, so the metric nearly straight over the noise.
 */

/** c of the moments above, at e moved by z standard deviations. */
function variance({ e0, e1, e2, e3, t1, t2 }: Moments, z: number): number {
  if (z === 0 || !(e1 > 0)) return (e1 + t2) / (e0 + t1);
  const by = z / Math.sqrt(e1);
  return (e1 + 2 * by * e2 + by * by * e3 + t2) / (e0 + 2 * by * e1 + by * by * e2 + t1);
}

/** The lower limit of |μ|, which |μ| is below with probability `tail`; 0 where the reading tells no more. */
function lower(m: Moments, tail: number): number {
  const c = variance(m, 0);
  if (!(c > 0)) return Math.sqrt(m.e0);
  return Math.sqrt(c) * noncentrality(Math.sqrt(m.e0 / c), m.t1 / c, 1 - tail);
}

/**
 * The upper limit of |μ|, which |μ| is above with probability `tail`. Below the median of χ² the median stands in for |e|²: there the
 * inverse falls to 0 and ends, and a reading nearer to nothing than the noise allows is chance, no knowledge. It only adds coverage.
 */
function upper(m: Moments, tail: number, z: number): number {
  const c = variance(m, z);
  if (!(c > 0)) return Math.sqrt(m.e0);
  const k = m.t1 / c;
  const x = m.e0 / c;
  const seen = x < k && chiSquareCdf(x, k) < 0.5 ? chiSquareQuantile(0.5, k) : x;
  return Math.sqrt(c) * noncentrality(Math.sqrt(seen), k, tail);
}

const tailOf = (level: number): number => 0.5 * (1 - level);

/** The interval of the length of one error vector with covariance `S`; NaN in, NaN out. Coverage: see above. */
export function lengthInterval(e: readonly [number, number, number], S: Sym3, level = LEVEL): Interval {
  const tail = tailOf(level);
  const m = momentsOf(e[0], e[1], e[2], S);
  return [lower(m, tail), upper(m, tail, -normalQuantile(tail))];
}

/** The length that is as likely too small as too large; 0 for a vector shorter than half of what noise alone gives. */
export function likelyLength(e: readonly [number, number, number], S: Sym3): number {
  return lower(momentsOf(e[0], e[1], e[2], S), 0.5);
}

/** What intervals of rows may leave out: with `shared: false` they hold the spread alone. */
export interface Which {
  readonly shared?: boolean;
}

/** The covariance of row i: its spread and, added, what it has of the shared errors. For one row alone that is all there is to it. */
export function covarianceOf({ spread, shared, sources }: ErrorRows, i: number, withShared: boolean): Float64Array {
  const S = spread.slice(6 * i, 6 * i + 6);
  if (withShared) for (let s = 0; s < sources.length; s++) addOuter(S, shared, 3 * (sources.length * i + s));
  return S;
}

function addOuter(S: Float64Array, v: Float64Array, at: number): void {
  const x = v[at]!;
  const y = v[at + 1]!;
  const z = v[at + 2]!;
  S[0]! += x * x;
  S[1]! += x * y;
  S[2]! += x * z;
  S[3]! += y * y;
  S[4]! += y * z;
  S[5]! += z * z;
}

/** The intervals of the rows of a run; NaN where there is no reading. */
export interface RowIntervals {
  readonly lo: Float64Array;
  readonly hi: Float64Array;
}

/** Rows computed between two pauses: a tenth of a millisecond, and few enough that the first, not yet compiled, keep within 8 ms. */
export const SLICE = 16;

/**
 * The interval of each row, for itself at `level`. Pauses after every 16 rows and says how many are done: whoever drives it looks at the
 * clock, goes on with `next()`, or drops it.
 */
export function* rowIntervals(rows: ErrorRows, level = LEVEL, { shared = true }: Which = {}): Generator<number, RowIntervals> {
  const { count, error } = rows;
  const lo = new Float64Array(count);
  const hi = new Float64Array(count);
  const tail = tailOf(level);
  const z = -normalQuantile(tail);
  for (let i = 0; i < count; i++) {
    if (i > 0 && i % SLICE === 0) yield i;
    const m = momentsOf(error[3 * i]!, error[3 * i + 1]!, error[3 * i + 2]!, covarianceOf(rows, i, shared));
    lo[i] = lower(m, tail);
    hi[i] = upper(m, tail, z);
  }
  return { lo, hi };
}

const present = ({ count, error }: ErrorRows): number => {
  let n = 0;
  for (let i = 0; i < count; i++) if (!Number.isNaN(error[3 * i]!)) n++;
  return n;
};

/**
 * The interval of the largest of the rows. Each row is taken at level^(1/n), so that all of them hold at once (Z. Šidák, JASA 62 (1967):
 * that is enough for errors that share a part as well), and with all of them the largest lies between the largest lower and the largest
 * upper end. Known limit: cautious, the more so the more the rows share. Pauses as `rowIntervals`. [NaN, NaN] without rows.
 *
 * A row's lower end is at most its length d. Its upper end is at most max(d, √tr Σ) + z·√tr Σ: the length of μ + n is at least its part along
 * μ, so that P(|μ + n| ≤ d) ≤ Φ((d − |μ|)/√c), and c ≤ tr Σ. So rows are passed over that cannot matter.
 */
export function* maxInterval(rows: ErrorRows, level = LEVEL, { shared = true }: Which = {}): Generator<number, Interval> {
  const { count, error } = rows;
  const tail = tailOf(level ** (1 / Math.max(1, present(rows))));
  const z = -normalQuantile(tail);
  const momentsAt = (i: number): Moments => momentsOf(error[3 * i]!, error[3 * i + 1]!, error[3 * i + 2]!, covarianceOf(rows, i, shared));
  let [lo, hi] = [Number.NaN, Number.NaN];
  let computed = 0;
  const take = (m: Moments): void => {
    const mayRise = !(Math.sqrt(Math.max(m.e0, m.t1)) + z * Math.sqrt(m.t1) <= hi);
    if (!(Math.sqrt(m.e0) <= lo)) lo = Math.max(lo || 0, lower(m, tail));
    if (mayRise) hi = Math.max(hi || 0, upper(m, tail, z));
    if (mayRise) computed++;
  };
  // Of the longest first: what cannot reach beyond it need not be computed, and that is nearly all of many rows.
  let longest = -1;
  const squareAt = (i: number): number => error[3 * i]! ** 2 + error[3 * i + 1]! ** 2 + error[3 * i + 2]! ** 2;
  for (let i = 0; i < count; i++) if (longest < 0 ? !Number.isNaN(squareAt(i)) : squareAt(i) > squareAt(longest)) longest = i;
  if (longest >= 0) take(momentsAt(longest));
  for (let i = 0; i < count; i++) {
    if (i > 0 && i % LOOKED_AT === 0) yield i;
    const before = computed;
    if (i !== longest && !Number.isNaN(error[3 * i]!)) take(momentsAt(i));
    if (computed > before && computed % SLICE === 0) yield i;
  }
  return [lo, hi];
}

/** Rows between two pauses where each is but looked at, or added up. */
const LOOKED_AT = 512;

/**
 * The interval of the mean of the rows.
 *
 * Lower end: the length of the mean error vector is at most the mean length; the spread of the mean goes with 1/n, the shared errors stay.
 * Known limit: it is far below, down to 0, where the rows err in different directions.
 *
 * Upper end: the mean length is at most the root mean square, which is the length of the vector of all rows over √n, known from Σ|e|². The
 * shared errors do not average out: along each, the root mean square freed from the noise, p² = (Σ|e|² − tr Σ)/n, is computed with that source
 * moved by z standard deviations either way, the larger rise is taken, and rises and the spread's own part are added as squares
 * (G. Y. Zou & A. Donner, Statistics in Medicine 27 (2008), for limits of sums). Known limit: above the mean length where lengths differ much.
 * Pauses as `rowIntervals`. [NaN, NaN] without rows.
 */
export function* averageInterval(rows: ErrorRows, level = LEVEL, { shared = true }: Which = {}): Generator<number, Interval> {
  const { error, spread } = rows;
  const count = rows.sources.length;
  const tail = tailOf(level);
  const z = -normalQuantile(tail);
  const n = present(rows);
  if (n === 0) return [Number.NaN, Number.NaN];
  const mean = new Float64Array(3);
  const meanSpread = new Float64Array(6);
  const meanShift = new Float64Array(3 * count);
  const along = new Float64Array(count);
  const size = new Float64Array(count);
  const sum = { e0: 0, e1: 0, e2: 0, e3: 0, t1: 0, t2: 0 };
  for (let i = 0; i < rows.count; i++) {
    if (i > 0 && i % LOOKED_AT === 0) yield i;
    const at = 3 * i;
    if (Number.isNaN(error[at]!)) continue;
    const m = momentsOf(error[at]!, error[at + 1]!, error[at + 2]!, spread.subarray(6 * i, 6 * i + 6));
    for (const key of MOMENTS) sum[key] += m[key];
    for (let k = 0; k < 3; k++) mean[k]! += error[at + k]! / n;
    for (let k = 0; k < 6; k++) meanSpread[k]! += spread[6 * i + k]! / (n * n);
    for (let s = 0; s < count; s++) {
      for (let k = 0; k < 3; k++) {
        const shift = rows.shared[3 * (count * i + s) + k]!;
        meanShift[3 * s + k]! += shift / n;
        along[s]! += (error[at + k]! * shift) / n;
        size[s]! += (shift * shift) / n;
      }
    }
  }
  if (shared) for (let s = 0; s < count; s++) addOuter(meanSpread, meanShift, 3 * s);
  const lo = lower(momentsOf(mean[0]!, mean[1]!, mean[2]!, meanSpread), tail);

  const fromSpread = upper(sum, tail, z) / Math.sqrt(n);
  const square = Math.max(0, (sum.e0 - sum.t1) / n);
  const point = Math.min(Math.sqrt(square), fromSpread);
  let squares = (fromSpread - point) ** 2;
  if (shared) {
    for (let s = 0; s < count; s++) {
      const moved = Math.sqrt(square + 2 * z * Math.abs(along[s]!) + z * z * size[s]!);
      squares += (moved - point) ** 2;
    }
  }
  return [lo, point + Math.sqrt(squares)];
}

const MOMENTS = ['e0', 'e1', 'e2', 'e3', 't1', 't2'] as const;
