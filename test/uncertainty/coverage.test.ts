import { describe, expect, test } from 'vitest';
import type { ErrorRows, Sym3 } from '../../src/uncertainty/covariance';
import { finish } from '../../src/uncertainty/covariance';
import { averageInterval, covarianceOf, type Interval, lengthInterval, maxInterval, rowIntervals } from '../../src/uncertainty/interval';
import { propagate, squareRoot } from '../../src/uncertainty/propagate';
import { normal, stream } from '../display/random';
import {
  changeCoverage,
  distanceCoverage,
  FIGURES,
  figureChangeCoverage,
  figureCoverage,
  METERS,
  METRICS,
  type Method,
  ROOM,
  STRATA,
  sourcesOf,
} from './coverage';

// A short version of `npm run check:coverage`. Seeds are fixed.
const SESSIONS = 200;
const [SPREAD, ACCURATE, TRIPOD] = METERS as unknown as [(typeof METERS)[0], (typeof METERS)[0], (typeof METERS)[0]];
const [DE2000, ITP] = METRICS as unknown as [(typeof METRICS)[0], (typeof METRICS)[0]];

describe('of a distance, 0.95 intervals hold the truth in at least 94 of 100 sessions', () => {
  for (const [metric, meter] of [
    [DE2000, SPREAD],
    [DE2000, ACCURATE],
    [DE2000, TRIPOD],
    [ITP, ACCURATE],
  ] as const) {
    test.each(STRATA.map((stratum) => [stratum]))(`${metric.name}, ${meter.name}, %s deviations off`, (stratum) => {
      const { row, max, average } = distanceCoverage(metric, meter, stratum, SESSIONS);
      expect(row).toBeGreaterThanOrEqual(0.94);
      expect(max).toBeGreaterThanOrEqual(0.94);
      expect(average).toBeGreaterThanOrEqual(0.94);
    });
  }
});

describe('of a smooth figure, in 93 to 97', () => {
  for (const meter of [SPREAD, ACCURATE]) {
    test.each(FIGURES.map((figure) => [figure.name, figure] as const))(`%s, ${meter.name}`, (_, figure) => {
      const share = figureCoverage(figure, meter, 1500);
      expect(share).toBeGreaterThanOrEqual(0.93);
      expect(share).toBeLessThanOrEqual(0.97);
    });
  }
});

describe('of a change', () => {
  test.each([
    [0, 0],
    [5, 5],
    [5, 1],
    [10, 0],
  ] as const)('of distances from %d to %d deviations, in at least 94', (before, after) => {
    for (const what of ['row', 'average'] as const) {
      expect(changeCoverage(what, DE2000, ACCURATE, [before, after], SESSIONS).held).toBeGreaterThanOrEqual(0.94);
    }
  });

  test('of a peak by 2 %, in 93 to 97, and it is mostly shown, by a meter that knows luminance to 2 %', () => {
    const { held, changed } = figureChangeCoverage(FIGURES[0]!, ACCURATE, 1.02, 1500);
    expect(held).toBeGreaterThanOrEqual(0.93);
    expect(held).toBeLessThanOrEqual(0.97);
    expect(changed).toBeGreaterThan(0.7);
  });
});

/** Each row by its error vector and covariance. */
const byRow =
  (interval: (e: readonly [number, number, number], S: Sym3) => Interval, shared = true) =>
  (rows: ErrorRows) => {
    const [lo, hi] = [new Float64Array(rows.count), new Float64Array(rows.count)];
    for (let i = 0; i < rows.count; i++) {
      const e = [...rows.error.subarray(3 * i, 3 * i + 3)] as unknown as readonly [number, number, number];
      [lo[i], hi[i]] = interval(e, [...covarianceOf(rows, i, shared)] as unknown as Sym3) as [number, number];
    }
    return { lo, hi };
  };

const full = ([a, b, c, d, e, f]: Sym3) => [
  [a, b, c],
  [b, d, e],
  [c, e, f],
];

/** L⁻¹·e, for Σ = L·Lᵀ. */
function whitened(e: readonly number[], S: Sym3): number[] {
  const [p, q, r] = squareRoot(full(S)) as [Float64Array, Float64Array, Float64Array];
  const x = e[0]! / p[0]!;
  const y = (e[1]! - x * p[1]!) / q[1]!;
  return [x, y, (e[2]! - x * p[2]! - y * q[2]!) / r[2]!];
}

const resampling = stream('resampling');

/** Ways that look right. Each must be caught by the same counting that the room passes. */
const WRONG: Readonly<
  Record<string, { readonly method: Partial<Method>; readonly caughtAt: (typeof STRATA)[number]; readonly in: 'row' | 'max' | 'average' }>
> = {
  'resampling around the reading': {
    method: {
      rows: byRow((e, S) => {
        const columns = squareRoot(full(S));
        const draws = Array.from({ length: 200 }, () => {
          const n = columns.map(() => normal(resampling));
          return Math.hypot(...e.map((v, k) => v + columns.reduce((sum, column, j) => sum + column[k]! * n[j]!, 0)));
        }).sort((a, b) => a - b);
        return [draws[4]!, draws[194]!];
      }),
    },
    caughtAt: 0,
    in: 'row',
  },
  'the reading ± 1.96 deviations along it': {
    method: {
      rows: byRow((e, S) => {
        const { value, interval } = propagate((v) => Math.hypot(...v), e, squareRoot(full(S)));
        const half = (interval[1] - interval[0]) / 2;
        return [value - half, value + half];
      }),
    },
    caughtAt: 0,
    in: 'row',
  },
  'the interval of √(eᵀΣ⁻¹e) times |e|/d': {
    method: {
      rows: byRow((e, S) => {
        const w = whitened(e, S) as unknown as readonly [number, number, number];
        const by = Math.hypot(...e) / Math.hypot(...w);
        const [lo, hi] = lengthInterval(w, [1, 0, 0, 1, 0, 1]);
        return [lo * by, hi * by];
      }),
    },
    caughtAt: 5,
    in: 'row',
  },
  'the spread alone, without the accuracy': {
    method: { rows: (rows) => finish(rowIntervals(rows, 0.95, { shared: false })) },
    caughtAt: 5,
    in: 'row',
  },
  'one row after the other at 0.95 for the largest, without the accuracy': {
    method: {
      max: (rows) => {
        const { lo, hi } = finish(rowIntervals(rows, 0.95, { shared: false }));
        return [Math.max(...lo), Math.max(...hi)];
      },
    },
    caughtAt: 10,
    in: 'max',
  },
  'a mean in which the accuracy averages out': {
    method: { average: (rows) => finish(averageInterval(rows, 0.95, { shared: false })) },
    caughtAt: 0,
    in: 'average',
  },
  'a largest without the accuracy': {
    method: { max: (rows) => finish(maxInterval(rows, 0.95, { shared: false })) },
    caughtAt: 0,
    in: 'max',
  },
};

describe('the counting fails', () => {
  test.each(Object.entries(WRONG))('%s', (_, wrong) => {
    const covered = distanceCoverage(DE2000, ACCURATE, wrong.caughtAt, 100, { ...ROOM, ...wrong.method });
    expect(covered[wrong.in]).toBeLessThan(0.94);
  });

  test('a smooth figure whose accuracy is taken for as many errors of their own', () => {
    const share = figureCoverage(FIGURES.find(({ name }) => name === 'exponent')!, ACCURATE, 400, ({ f }, meter, readings) => {
      const all = sourcesOf(meter, readings);
      const apart = all.slice(-3).flatMap((shift) => readings.map((__, i) => shift.map((v, k) => (Math.floor(k / 3) === i ? v : 0))));
      return propagate(f, readings.flat(), [...all.slice(0, -3), ...apart]);
    });
    expect(share).toBeGreaterThan(0.97);
  });

  test('a smooth figure with half its interval', () => {
    const share = figureCoverage(FIGURES[0]!, ACCURATE, 400, ({ f }, meter, readings) =>
      propagate(f, readings.flat(), sourcesOf(meter, readings), 0.68),
    );
    expect(share).toBeLessThan(0.93);
  });
});
