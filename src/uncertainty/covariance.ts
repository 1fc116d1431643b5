import type { Vec3 } from '../colour/vector';
import type { ErrorOf } from './errorVector';

/** Uncertainty as a meter states it: of x and of y, the same; and of Y, relative (0.005 is 0.5 %). */
export interface Stated {
  readonly xy: number;
  readonly Y: number;
}

/** What a meter says of its errors. */
export interface MeterErrors {
  /** Repeatability, k = 1: another error at each reading. */
  readonly spread: Stated;
  /** k = 2: one error that all readings of the meter share. Left out where the meter does not say it. */
  readonly accuracy?: Stated;
  /** The lowest luminance told from dark, cd/m². */
  readonly floor?: number;
}

/** A symmetric 3 × 3 matrix: 00, 01, 02, 11, 12, 22. */
export type Sym3 = readonly [number, number, number, number, number, number];

/** How many standard deviations of a dark reading make what is told from dark. Source: L. A. Currie, Analytical Chemistry 40 (1968), from memory. */
const FLOOR_DEVIATIONS = 3.29;

/** How X, Y, Z (cd/m²) move with x, with y, and with the logarithm of Y at one chromaticity. Analytic; y > 0. */
export function xyYDirections(xyz: Vec3): readonly [dx: Vec3, dy: Vec3, dlnY: Vec3] {
  const [X, Y, Z] = xyz;
  // S = Y/y; X = x·S, Z = (1 − x − y)·S, dS/dy = −S/y.
  const S = X + Y + Z;
  const perY = Y === 0 ? 0 : S / Y;
  return [[S, 0, -S], [-X * perY, 0, -S - Z * perY], xyz];
}

/**
 * Covariance of one reading in X, Y, Z from the spread, the mean of `repeats` readings: independent, so it goes with 1/repeats.
 *
 * Model: what the meter states, on x, y and Y without correlation; and in the dark one more deviation in each of X, Y and Z,
 * floor ÷ 3.29. The second is what makes chromaticity uncertain near black: with a
 * floor of 0.003 cd/m² it doubles a spread of 0.0004 at 0.35 cd/m². Known limit: a meter that integrates longer in the dark does better than that.
 */
export function spreadOf(meter: MeterErrors, xyz: Vec3, repeats = 1): Sym3 {
  const [dx, dy, dY] = xyYDirections(xyz);
  const a = (meter.spread.xy * meter.spread.xy) / repeats;
  const b = (meter.spread.Y * meter.spread.Y) / repeats;
  const dark = (meter.floor ?? 0) / FLOOR_DEVIATIONS;
  const d = (dark * dark) / repeats;
  const at = (i: 0 | 1 | 2, j: 0 | 1 | 2): number => a * (dx[i] * dx[j] + dy[i] * dy[j]) + b * dY[i] * dY[j] + (i === j ? d : 0);
  return [at(0, 0), at(0, 1), at(0, 2), at(1, 1), at(1, 2), at(2, 2)];
}

/**
 * The shifts of X, Y, Z by one standard deviation (half of what is stated for k = 2) of the common error in x, in y and in Y: three
 * independent sources, each the same deviate for all readings of a session. Zero where the meter states no accuracy.
 */
export function sharedOf(meter: MeterErrors, xyz: Vec3): readonly [Vec3, Vec3, Vec3] {
  const [dx, dy, dY] = xyYDirections(xyz);
  const a = 0.5 * (meter.accuracy?.xy ?? 0);
  const b = 0.5 * (meter.accuracy?.Y ?? 0);
  return [times(dx, a), times(dy, a), times(dY, b)];
}

/** Σ = J·S·Jᵀ, with J given by its columns. */
export function transformed(columns: readonly [Vec3, Vec3, Vec3], S: Sym3): Sym3 {
  const [p, q, r] = columns;
  const [s00, s01, s02, s11, s12, s22] = S;
  const row = (i: 0 | 1 | 2): Vec3 => [
    p[i] * s00 + q[i] * s01 + r[i] * s02,
    p[i] * s01 + q[i] * s11 + r[i] * s12,
    p[i] * s02 + q[i] * s12 + r[i] * s22,
  ];
  const dot = (v: Vec3, i: 0 | 1 | 2): number => v[0] * p[i] + v[1] * q[i] + v[2] * r[i];
  const first = row(0);
  const second = row(1);
  return [dot(first, 0), dot(first, 1), dot(first, 2), dot(second, 1), dot(second, 2), dot(row(2), 2)];
}

/**
 * The Jacobian of an error vector at a reading, by columns: its change with X, with Y and with Z. Central differences over one standard
 * deviation either way (`sd`), so that a bend inside the noise is averaged instead of met at a point; at least 1e-6 of the reading.
 */
export function jacobian(errorOf: ErrorOf, xyz: Vec3, sd: Vec3): readonly [Vec3, Vec3, Vec3] {
  const [X, Y, Z] = xyz;
  const h = 1e-6 * (Math.abs(X) + Math.abs(Y) + Math.abs(Z)) + 1e-12;
  const [p, q, r] = [Math.max(sd[0], h), Math.max(sd[1], h), Math.max(sd[2], h)];
  return [
    slope(errorOf([X + p, Y, Z]), errorOf([X - p, Y, Z]), p),
    slope(errorOf([X, Y + q, Z]), errorOf([X, Y - q, Z]), q),
    slope(errorOf([X, Y, Z + r]), errorOf([X, Y, Z - r]), r),
  ];
}

const slope = (above: Vec3, below: Vec3, h: number): Vec3 => [
  (above[0] - below[0]) / (2 * h),
  (above[1] - below[1]) / (2 * h),
  (above[2] - below[2]) / (2 * h),
];

const times = (v: Vec3, k: number): Vec3 => [v[0] * k, v[1] * k, v[2] * k];

/** Of the errors that rows share, the first three are those of their meter, in x, in y and in Y: `sharedOf`. */
const OF_METER = 3;

/**
 * The error vectors of the rows of a run, with what is uncertain about them. Flat lists: a row has 3 numbers in `error`, 6 in `spread`
 * (as `Sym3`), and in `shared`, for each of the sources of error that the rows share, the 3 of its shift by one standard deviation. NaN
 * where there is no reading.
 */
export interface ErrorRows {
  readonly count: number;
  /** What names each shared error: one of the same name in another run is the same error. */
  readonly sources: readonly string[];
  readonly error: Float64Array;
  readonly spread: Float64Array;
  readonly shared: Float64Array;
}

/** One reading, as the rows are made from it. */
export interface Reading {
  readonly xyz: Vec3;
  /** How many readings `xyz` is the mean of. */
  readonly repeats?: number;
  readonly errorOf: ErrorOf;
  /** The same with each reading that gives the scale (`RowOptions.scale`) larger by its `step`, and smaller. */
  readonly scaled?: readonly (readonly [above: ErrorOf, below: ErrorOf])[];
}

/**
 * A luminance that was read, and that targets or reference white are made from: its errors move all rows. With them goes the row that it
 * is itself: white against a white scaled by it is off in chromaticity alone.
 */
export interface ScaleReading {
  readonly name: string;
  /** cd/m², one standard deviation of its own spread; and of what it shares, moved together with the source `commonWith`. */
  readonly spread: number;
  readonly accuracy: number;
  readonly commonWith: string;
  /** cd/m²: how far `Reading.scaled` has it moved. */
  readonly step: number;
  readonly row?: number;
}

export interface RowOptions {
  readonly meter: MeterErrors;
  /** Names of the meter's errors in x, y and Y. */
  readonly names: readonly [string, string, string];
  readonly scale?: readonly ScaleReading[];
}

/** Rows computed between two pauses: a tenth of a millisecond, and few enough that the first, not yet compiled, keep within 8 ms. */
const SLICE = 16;

/**
 * The error vectors of `count` readings. Pauses after every 16 rows and says how many are done: whoever drives it looks at the clock,
 * goes on with `next()`, or drops it. Row i is as `readingOf(i)`; undefined leaves it NaN.
 */
export function* errorRows(
  count: number,
  readingOf: (i: number) => Reading | undefined,
  { meter, names, scale = [] }: RowOptions,
): Generator<number, ErrorRows> {
  const sources = [...new Set([...names, ...scale.flatMap(({ commonWith, name }) => [commonWith, name])])];
  const slots = scale.map(({ commonWith, name }) => [sources.indexOf(commonWith), sources.indexOf(name)] as const);
  const size = 3 * sources.length;
  const error = new Float64Array(3 * count);
  const spread = new Float64Array(6 * count);
  const shared = new Float64Array(size * count);
  for (let i = 0; i < count; i++) {
    if (i > 0 && i % SLICE === 0) yield i;
    const reading = readingOf(i);
    if (!reading) {
      error.fill(Number.NaN, 3 * i, 3 * i + 3);
      spread.fill(Number.NaN, 6 * i, 6 * i + 6);
      shared.fill(Number.NaN, size * i, size * (i + 1));
      continue;
    }
    const { xyz, repeats, errorOf, scaled } = reading;
    let own = spreadOf(meter, xyz, repeats);
    const common = sharedOf(meter, xyz);
    const sd = (k: 0 | 1 | 2, variance: number): number => Math.sqrt(variance + common[0][k] ** 2 + common[1][k] ** 2 + common[2][k] ** 2);
    const J = jacobian(errorOf, xyz, [sd(0, own[0]), sd(1, own[3]), sd(2, own[5])]);
    error.set(errorOf(xyz), 3 * i);
    const at = size * i;
    const add = (source: number, [a, b, c]: Vec3): void => {
      for (let k = 0; k < 3; k++) shared[at + 3 * source + k]! += J[0][k]! * a + J[1][k]! * b + J[2][k]! * c;
    };
    for (let s = 0; s < OF_METER; s++) add(s, common[s]!);
    for (let p = 0; p < scale.length; p++) {
      const { spread: ofSpread, accuracy, step, row } = scale[p]!;
      const [commonAt, ownAt] = slots[p]!;
      const [above, below] = scaled![p]!;
      const perStep = slope(above(xyz), below(xyz), step);
      for (let k = 0; k < 3; k++) {
        shared[at + 3 * commonAt + k]! += perStep[k]! * accuracy;
        shared[at + 3 * ownAt + k]! += perStep[k]! * ofSpread;
      }
      if (row !== i || !(own[3] > 0)) continue;
      // What goes with the error of Y in this reading moves with the scale, and is no spread of its own any more.
      const column = times([own[1], own[3], own[4]], 1 / Math.sqrt(own[3]));
      add(ownAt, column);
      own = without(own, column);
    }
    spread.set(transformed(J, own), 6 * i);
  }
  return { count, sources, error, spread, shared };
}

/** S − v·vᵀ. */
const without = ([a, b, c, d, e, f]: Sym3, [x, y, z]: Vec3): Sym3 => [a - x * x, b - x * y, c - x * z, d - y * y, e - y * z, f - z * z];

/** Runs a computation in slices to its end at once. */
export function finish<T>(slices: Generator<unknown, T>): T {
  for (;;) {
    const { done, value } = slices.next();
    if (done) return value;
  }
}
