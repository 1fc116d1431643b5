import { xyYToXyz, xyzToXy } from '../../src/colour/chromaticity';
import { deltaE2000, deltaEitp } from '../../src/colour/difference';
import { coverage as gamutCoverage, triangleOf } from '../../src/colour/gamut';
import { xyzToIctcp } from '../../src/colour/ictcp';
import { xyzToLab } from '../../src/colour/lab';
import { SPACES } from '../../src/colour/spaces';
import type { Vec3 } from '../../src/colour/vector';
import { averageSide, type Change, compared, propagatedSide, rowSide } from '../../src/uncertainty/change';
import { type ErrorRows, errorRows, finish, type MeterErrors, sharedOf, spreadOf } from '../../src/uncertainty/covariance';
import { de2000From, deItpFrom, type ErrorOf } from '../../src/uncertainty/errorVector';
import { averageInterval, type Interval, maxInterval, rowIntervals } from '../../src/uncertainty/interval';
import { type Propagated, propagate, squareRoot } from '../../src/uncertainty/propagate';
import { commonError, read, tripodMeter, written } from '../display/meter';
import { normal, stream, type Uniform } from '../display/random';

// Sessions with a known truth: how often does the interval hold it? No published source: the meters and displays are invented.

/** What is simulated: the meter as it states itself, and how its readings come about. */
export interface SimulatedMeter {
  readonly name: string;
  readonly states: MeterErrors;
  /** A session's readings of these colours, XYZ in cd/m². */
  readonly session: (chance: Uniform) => (xyz: Vec3) => Vec3;
}

/** Errors just as `covariance.ts` takes them: tests the intervals. */
function model(name: string, states: MeterErrors): SimulatedMeter {
  return {
    name,
    states,
    session: (chance) => {
      const common = [normal(chance), normal(chance), normal(chance)];
      return (xyz) => {
        const own = squareRoot(full(spreadOf(states, xyz)));
        const result = [...xyz];
        sharedOf(states, xyz).forEach((shift, s) => {
          for (let k = 0; k < 3; k++) result[k]! += common[s]! * shift[k]!;
        });
        for (const column of own) {
          const by = normal(chance);
          for (let k = 0; k < 3; k++) result[k]! += by * column[k]!;
        }
        return result as unknown as Vec3;
      };
    },
  };
}

const full = ([a, b, c, d, e, f]: readonly number[]): number[][] => [
  [a!, b!, c!],
  [b!, d!, e!],
  [c!, e!, f!],
];

const spread = { xy: 0.0004, Y: 0.005 };

export const METERS: readonly SimulatedMeter[] = [
  model('spread alone', { spread, floor: 0.003 }),
  model('spread and accuracy', { spread, accuracy: { xy: 0.002, Y: 0.02 }, floor: 0.003 }),
  {
    // Errors as the display simulator makes them, by another law near black, and rounded as written: tests the model of the meter too.
    name: 'tripod meter',
    states: { spread, accuracy: { xy: 0.002, Y: 0.02 }, floor: tripodMeter.floor },
    session: (chance) => {
      const common = commonError(tripodMeter, chance);
      return (xyz) => {
        const { x, y, Y } = written(tripodMeter, read(tripodMeter, xyz, common, chance));
        return xyYToXyz(Number(x), Number(y), Number(Y));
      };
    },
  },
];

const NAMES = ['x', 'y', 'Y'] as const;

/** A metric with targets of a greyscale, and a way to make a colour at a given distance. */
interface Metric {
  readonly name: string;
  readonly targets: readonly Vec3[];
  readonly errorOf: (target: Vec3) => ErrorOf;
  readonly distance: (target: Vec3, xyz: Vec3) => number;
}

const D65 = [0.3127, 0.329] as const;
const grey = (Y: number): Vec3 => xyYToXyz(...D65, Y);
const WHITE = grey(120);
const LEVELS = Array.from({ length: 20 }, (_, i) => (i + 1) / 20);

export const METRICS: readonly Metric[] = [
  {
    name: 'ΔE2000',
    targets: LEVELS.map((level) => grey(120 * level ** 2.4)),
    errorOf: (target) => de2000From(target, WHITE),
    distance: (target, xyz) => deltaE2000(xyzToLab(target, WHITE), xyzToLab(xyz, WHITE)),
  },
  {
    name: 'ΔE ITP',
    targets: LEVELS.map((level) => grey(1000 * level ** 3)),
    errorOf: (target) => deItpFrom(target),
    distance: (target, xyz) => deltaEitp(xyzToIctcp(target), xyzToIctcp(xyz)),
  },
];

/** Distances in units of σ = √(tr Σ/3) of the row: one for all rows, or all of them in turn. */
export type Stratum = number | 'mixed';
export const STRATA: readonly Stratum[] = [0, 1, 2, 5, 10, 'mixed'];
const MIXED = [0, 1, 2, 5, 10];

export interface Truth {
  readonly xyz: readonly Vec3[];
  readonly distances: readonly number[];
}

/** A colour at the wanted distance from the target: along a random direction (luminance and both of chromaticity), by bisection. */
function displaced(metric: Metric, target: Vec3, wanted: number, chance: Uniform): Vec3 {
  if (wanted === 0) return target;
  const [x, y] = xyzToXy(target);
  const [a, b, c] = [normal(chance), normal(chance), normal(chance)];
  const at = (by: number): Vec3 => xyYToXyz(x + 0.001 * by * a, y + 0.001 * by * b, target[1] * Math.exp(0.01 * by * c));
  let [low, high] = [0, 1];
  while (metric.distance(target, at(high)) < wanted) high *= 2;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (metric.distance(target, at(middle)) < wanted) low = middle;
    else high = middle;
  }
  return at(high);
}

export function truthOf(metric: Metric, meter: SimulatedMeter, stratum: Stratum, chance: Uniform): Truth {
  const atTarget = rowsOf(metric, meter, metric.targets);
  const xyz = metric.targets.map((target, i) => {
    let variance = 0;
    for (const k of [0, 3, 5]) variance += atTarget.spread[6 * i + k]!;
    for (let k = 0; k < 9; k++) variance += atTarget.shared[9 * i + k]! ** 2;
    const by = stratum === 'mixed' ? MIXED[i % MIXED.length]! : stratum;
    return displaced(metric, target, by * Math.sqrt(variance / 3), chance);
  });
  return { xyz, distances: xyz.map((colour, i) => metric.distance(metric.targets[i]!, colour)) };
}

export function rowsOf(metric: Metric, meter: SimulatedMeter, readings: readonly Vec3[]): ErrorRows {
  const readingOf = (i: number) => ({ xyz: readings[i]!, errorOf: metric.errorOf(metric.targets[i]!) });
  return finish(errorRows(readings.length, readingOf, { meter: meter.states, names: NAMES }));
}

/** How intervals are made; the room's own, or a wrong one. */
export interface Method {
  readonly rows: (rows: ErrorRows) => { readonly lo: ArrayLike<number>; readonly hi: ArrayLike<number> };
  readonly max: (rows: ErrorRows) => Interval;
  readonly average: (rows: ErrorRows) => Interval;
}

export const ROOM: Method = {
  rows: (rows) => finish(rowIntervals(rows)),
  max: (rows) => finish(maxInterval(rows)),
  average: (rows) => finish(averageInterval(rows)),
};

export interface Covered {
  /** Shares of intervals that held the truth. */
  readonly row: number;
  readonly worstRow: number;
  readonly max: number;
  readonly average: number;
  /** Mean width of the interval of a row over σ. */
  readonly width: number;
}

const holds = ([lo, hi]: Interval, truth: number): number => Number(lo <= truth + 1e-9 && truth <= hi + 1e-9);
const meanOf = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;

export function distanceCoverage(
  metric: Metric,
  meter: SimulatedMeter,
  stratum: Stratum,
  sessions: number,
  method: Method = ROOM,
): Covered {
  const name = `${metric.name} ${meter.name} ${stratum}`;
  const truth = truthOf(metric, meter, stratum, stream(`${name} truth`));
  const chance = stream(name);
  const n = truth.xyz.length;
  const byRow = new Array<number>(n).fill(0);
  const largest = Math.max(...truth.distances);
  const mean = meanOf(truth.distances);
  let [max, average, width] = [0, 0, 0];
  for (let s = 0; s < sessions; s++) {
    const rows = rowsOf(metric, meter, truth.xyz.map(meter.session(chance)));
    const { lo, hi } = method.rows(rows);
    for (let i = 0; i < n; i++) {
      byRow[i]! += holds([lo[i]!, hi[i]!], truth.distances[i]!);
      width += hi[i]! - lo[i]!;
    }
    max += holds(method.max(rows), largest);
    average += holds(method.average(rows), mean);
  }
  return {
    row: meanOf(byRow) / sessions,
    worstRow: Math.min(...byRow) / sessions,
    max: max / sessions,
    average: average / sessions,
    width: width / sessions / n,
  };
}

/** A smooth figure of readings X, Y, Z in a row. */
interface Figure {
  readonly name: string;
  readonly truth: readonly Vec3[];
  readonly f: (readings: Float64Array) => number;
}

const P3 = triangleOf(SPACES['p3-d65'].primaries);
const chromaticity = (r: Float64Array, i: number) => xyzToXy([r[3 * i]!, r[3 * i + 1]!, r[3 * i + 2]!]);

export const FIGURES: readonly Figure[] = [
  { name: 'peak', truth: [grey(812)], f: (r) => r[1]! },
  { name: 'contrast', truth: [grey(150), grey(0.045)], f: (r) => r[1]! / r[4]! },
  { name: 'contrast over a black near the floor', truth: [grey(150), grey(0.006)], f: (r) => r[1]! / r[4]! },
  {
    name: 'exponent',
    truth: [grey(120), ...LEVELS.slice(1, 18).map((V) => grey(120 * V ** 2.31))],
    f: (r) => {
      let [xz, xx] = [0, 0];
      for (let i = 1; i < r.length / 3; i++) {
        const x = Math.log(LEVELS[i]!);
        xz += x * Math.log(r[3 * i + 1]! / r[1]!);
        xx += x * x;
      }
      return xz / xx;
    },
  },
  {
    name: 'coverage of P3',
    truth: [xyYToXyz(0.676, 0.316, 25), xyYToXyz(0.262, 0.669, 85), xyYToXyz(0.149, 0.064, 9)],
    f: (r) => gamutCoverage([chromaticity(r, 0), chromaticity(r, 1), chromaticity(r, 2)], P3, 'uv') ?? Number.NaN,
  },
  { name: 'largest of windows', truth: [grey(812), grey(640), grey(410)], f: (r) => Math.max(r[1]!, r[4]!, r[7]!) },
];

/** The sources of readings: three of each reading's own, then the three that all share. */
export function sourcesOf(meter: MeterErrors, readings: readonly Vec3[]): Float64Array[] {
  const size = 3 * readings.length;
  const sources: Float64Array[] = [];
  const common = [0, 1, 2].map(() => new Float64Array(size));
  readings.forEach((xyz, i) => {
    for (const column of squareRoot(full(spreadOf(meter, xyz)))) {
      const source = new Float64Array(size);
      source.set(column, 3 * i);
      sources.push(source);
    }
    sharedOf(meter, xyz).forEach((shift, s) => {
      common[s]!.set(shift, 3 * i);
    });
  });
  return [...sources, ...common];
}

export type Propagation = (figure: Figure, meter: MeterErrors, readings: readonly Vec3[]) => Propagated;

export const propagated: Propagation = ({ f }, meter, readings) => propagate(f, readings.flat(), sourcesOf(meter, readings));

export function figureCoverage(figure: Figure, meter: SimulatedMeter, sessions: number, propagation = propagated): number {
  const chance = stream(`${figure.name} ${meter.name}`);
  const truth = figure.f(Float64Array.from(figure.truth.flat()));
  let held = 0;
  for (let s = 0; s < sessions; s++) {
    const readings = figure.truth.map(meter.session(chance));
    held += holds(propagation(figure, meter.states, readings).interval, truth);
  }
  return held / sessions;
}

export interface ChangeCovered {
  readonly held: number;
  /** The share of sessions in which a change was shown. */
  readonly changed: number;
}

/** Before and after with one meter and session: the mean distance or the first row, or a figure that changes by a factor of the readings. */
export function changeCoverage(
  what: 'average' | 'row',
  metric: Metric,
  meter: SimulatedMeter,
  [before, after]: readonly [Stratum, Stratum],
  sessions: number,
): ChangeCovered {
  const name = `${what} ${metric.name} ${meter.name} ${before} ${after}`;
  const a = truthOf(metric, meter, before, stream(`${name} before`));
  const b = before === after ? a : truthOf(metric, meter, after, stream(`${name} after`));
  const side = what === 'row' ? (rows: ErrorRows) => rowSide(rows, 12) : (rows: ErrorRows) => finish(averageSide(rows));
  const figure = ({ distances }: Truth) => (what === 'row' ? distances[12]! : meanOf(distances));
  return tally(sessions, figure(b) - figure(a), stream(name), (chance) => {
    const session = meter.session(chance);
    return compared(side(rowsOf(metric, meter, a.xyz.map(session))), side(rowsOf(metric, meter, b.xyz.map(session))));
  });
}

/** A smooth figure, before and after its readings are all multiplied. */
export function figureChangeCoverage(figure: Figure, meter: SimulatedMeter, factor: number, sessions: number): ChangeCovered {
  const after = figure.truth.map(([X, Y, Z], i): Vec3 => (i === 0 ? [X * factor, Y * factor, Z * factor] : [X, Y, Z]));
  const of = (colours: readonly Vec3[]) => figure.f(Float64Array.from(colours.flat()));
  return tally(sessions, of(after) - of(figure.truth), stream(`${figure.name} ${meter.name} ${factor}`), (chance) => {
    const session = meter.session(chance);
    const names = [...Array.from<undefined>({ length: 3 * figure.truth.length }), ...NAMES];
    const side = (colours: readonly Vec3[]) => propagatedSide(propagated(figure, meter.states, colours.map(session)), names);
    return compared(side(figure.truth), side(after));
  });
}

function tally(sessions: number, truth: number, chance: Uniform, run: (chance: Uniform) => Change): ChangeCovered {
  let [held, changed] = [0, 0];
  for (let s = 0; s < sessions; s++) {
    const change = run(chance);
    held += holds(change.interval, truth);
    changed += Number(change.changed);
  }
  return { held: held / sessions, changed: changed / sessions };
}
