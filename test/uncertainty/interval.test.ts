import { describe, expect, test } from 'vitest';
import { xyYToXyz } from '../../src/colour/chromaticity';
import { noncentrality } from '../../src/uncertainty/chiSquare';
import { type ErrorRows, errorRows, finish, type Sym3 } from '../../src/uncertainty/covariance';
import { de2000From } from '../../src/uncertainty/errorVector';
import { averageInterval, lengthInterval, likelyLength, maxInterval, rowIntervals } from '../../src/uncertainty/interval';
import { normal, stream, type Uniform } from '../display/random';

const UNIT: Sym3 = [1, 0, 0, 1, 0, 1];
const PLANE: Sym3 = [1, 0, 0, 1, 0, 0];

/** Rows of error vectors with the same spread, and a shift by the first shared error. */
function rowsOf(errors: readonly (readonly number[])[], spread: Sym3, shift: readonly number[] = [0, 0, 0]): ErrorRows {
  const count = errors.length;
  const shared = Float64Array.from(errors.flatMap(() => shift));
  return {
    count,
    sources: ['x'],
    error: Float64Array.from(errors.flat()),
    spread: Float64Array.from(errors.flatMap(() => spread)),
    shared,
  };
}

describe('the interval of a distance', () => {
  test.each([
    // Constructed by independent code, no published source.
    ['a plane', PLANE, 1.5, 0, 3.229],
    ['a plane', PLANE, 3, 0.695, 4.828],
    ['space', UNIT, 5, 2.773, 6.788],
  ])('in %s with unit deviations, seen at distance', (_, S, d, lo, hi) => {
    for (const e of [
      [d, 0, 0],
      [0, -d, 0],
      [0.6 * d, 0.8 * d, 0],
    ] as const) {
      const found = lengthInterval(e, S);
      expect(found[0]).toBeCloseTo(lo, 3);
      expect(found[1]).toBeCloseTo(hi, 3);
    }
  });

  test('grows in proportion with the unit of the metric', () => {
    const [lo, hi] = lengthInterval([0.05, 0, 0], [1e-4, 0, 0, 1e-4, 0, 1e-4]);
    expect(100 * lo).toBeCloseTo(2.773, 3);
    expect(100 * hi).toBeCloseTo(6.788, 3);
  });

  test('does not depend on how the axes lie', () => {
    const c = Math.SQRT1_2;
    // Variances 4 and 1 along the diagonals.
    const turned = lengthInterval([3 * c - c, 3 * c + c, 0], [2.5, 1.5, 0, 2.5, 0, 0]);
    const straight = lengthInterval([3, 1, 0], [4, 0, 0, 1, 0, 0]);
    expect(turned[0]).toBeCloseTo(straight[0], 9);
    expect(turned[1]).toBeCloseTo(straight[1], 9);
  });

  test('is about ±1.96 deviations along the error far from 0, not across it', () => {
    const [lo, hi] = lengthInterval([1000, 0, 0], [4, 0, 0, 1, 0, 0.01]);
    expect(lo).toBeCloseTo(1000 - 3.92, 1);
    expect(hi).toBeCloseTo(1000 + 3.92, 1);
  });

  test('never claims to be nearer to 0 than the median of the noise', () => {
    const atMedian = lengthInterval([Math.sqrt(2.3659738843753377), 0, 0], UNIT)[1];
    for (const d of [0, 0.1, 0.5, 1, 1.5]) expect(lengthInterval([d, 0, 0], UNIT)[1]).toBeCloseTo(atMedian, 9);
    expect(lengthInterval([1.6, 0, 0], UNIT)[1]).toBeGreaterThan(atMedian);
  });

  test('is a point without uncertainty, and no number without a reading', () => {
    expect(lengthInterval([3, 4, 0], [0, 0, 0, 0, 0, 0])).toEqual([5, 5]);
    expect(lengthInterval([Number.NaN, 0, 0], UNIT)).toEqual([Number.NaN, Number.NaN]);
  });

  test('holds a likely length, which is freed of what noise adds', () => {
    expect(likelyLength([0.5, 0, 0], UNIT)).toBe(0);
    expect(likelyLength([10, 0, 0], UNIT)).toBeCloseTo(9.9, 1);
  });
});

describe('with unequal variances', () => {
  const DEVIATIONS = [
    [1, 0.6, 0.6],
    [1, 0.3, 0.1],
    [1, 1, 0.1],
    [1, 0.1, 0.1],
    [1, 0.9, 0.02],
  ] as const;
  const DIRECTIONS = [
    [1, 0, 0],
    [0, 0, 1],
    [0.58, 0.58, 0.58],
    [0.3, 0.3, 0.9],
  ] as const;

  test.each(DEVIATIONS.map((sd) => [sd]))(
    'in the ratio %j a side is missed by 0.031 at most, both together by 0.056, wherever the truth lies (2,000 draws a place)',
    (sd) => {
      const S: Sym3 = [sd[0] ** 2, 0, 0, sd[1] ** 2, 0, sd[2] ** 2];
      const chance = stream(`unequal ${sd}`);
      for (const direction of DIRECTIONS) {
        for (const by of [0, 0.3, 1, 3, 5, 10]) {
          const truth = by * Math.hypot(...direction);
          let [below, above] = [0, 0];
          for (let i = 0; i < 2000; i++) {
            const e = sd.map((s, k) => by * direction[k]! + s * normal(chance)) as [number, number, number];
            const [lo, hi] = lengthInterval(e, S);
            below += Number(truth < lo);
            above += Number(truth > hi);
          }
          // Each and three standard deviations of a count of 2,000.
          expect(Math.max(below, above) / 2000, `${direction} × ${by}`).toBeLessThan(0.031 + 3 * Math.sqrt(0.03 / 2000));
          expect((below + above) / 2000, `${direction} × ${by}`).toBeLessThan(0.056 + 3 * Math.sqrt(0.05 / 2000));
        }
      }
    },
  );
});

describe('the rows of a run', () => {
  const errors = [
    [0.2, 0.1, 0],
    [3, 0, 1],
    [Number.NaN, Number.NaN, Number.NaN],
    [0, 5, 0],
  ];

  test('have each its own interval, NaN without a reading', () => {
    const { lo, hi } = finish(rowIntervals(rowsOf(errors, UNIT)));
    expect([lo[3], hi[3]]).toEqual([...lengthInterval([0, 5, 0], UNIT)]);
    expect(lo[2]).toBeNaN();
  });

  test('take shared errors to their spread, unless asked for the spread alone', () => {
    const rows = rowsOf(errors, UNIT, [2, 0, 0]);
    expect(finish(rowIntervals(rows)).hi[1]).toBe(lengthInterval([3, 0, 1], [5, 0, 0, 1, 0, 1])[1]);
    expect(finish(rowIntervals(rows, 0.95, { shared: false })).hi[1]).toBe(lengthInterval([3, 0, 1], UNIT)[1]);
  });

  test('can be left off after any 16', () => {
    const many = rowIntervals(
      rowsOf(
        Array.from({ length: 300 }, () => [1, 0, 0]),
        UNIT,
      ),
    );
    expect([many.next().value, many.next().value]).toEqual([16, 32]);
    expect(many.return({ lo: new Float64Array(), hi: new Float64Array() }).done).toBe(true);
  });

  test('have a largest between the largest ends at the level 0.95^(1/n)', () => {
    const level = 0.95 ** (1 / 3);
    const found = finish(maxInterval(rowsOf(errors, UNIT)));
    expect(found[0]).toBe(lengthInterval([0, 5, 0], UNIT, level)[0]);
    expect(found[1]).toBe(lengthInterval([0, 5, 0], UNIT, level)[1]);
    expect(finish(maxInterval(rowsOf([], UNIT)))).toEqual([Number.NaN, Number.NaN]);
  });

  test('have the same largest whether all rows are computed or those passed over that cannot matter', () => {
    const chance = stream('passed over');
    for (let n = 1; n < 60; n++) {
      const errors = Array.from({ length: n }, () => [0, 1, 2].map(() => 3 * chance() ** 3 * normal(chance)));
      const rows = {
        ...rowsOf(errors, UNIT, [0.5 * chance(), 0.2, 0]),
        spread: Float64Array.from(errors.flatMap(() => [chance(), 0, 0, chance() ** 4, 0, 0])),
      };
      const { lo, hi } = finish(rowIntervals(rows, 0.95 ** (1 / n)));
      expect(finish(maxInterval(rows))).toEqual([Math.max(...lo), Math.max(...hi)]);
    }
  });
});

describe('the mean of rows', () => {
  test('without shared errors is from the mean vector up to the root of Σd² with n·k degrees of freedom', () => {
    const errors = [
      [3, 0, 0],
      [0, 4, 0],
      [2, 0, 2],
      [5, 1, 0],
    ];
    const [lo, hi] = finish(averageInterval(rowsOf(errors, UNIT)));
    const d = Math.sqrt(errors.flat().reduce((s, v) => s + v * v, 0));
    expect(hi).toBeCloseTo(noncentrality(d, 12, 0.025) / 2, 9);
    const mean = Math.hypot(10 / 4, 5 / 4, 2 / 4);
    expect(lo).toBeCloseTo(noncentrality(2 * mean, 3, 0.975) / 2, 9);
  });

  test('of one row is that row, and of none no number', () => {
    const [lo, hi] = finish(averageInterval(rowsOf([[5, 0, 0]], UNIT)));
    expect([lo, hi].map((v) => v.toFixed(3))).toEqual(['2.773', '6.788']);
    expect(finish(averageInterval(rowsOf([], UNIT)))).toEqual([Number.NaN, Number.NaN]);
  });

  test('narrows with more rows where their errors are their own, and does not where they share them', () => {
    const width = (n: number, shift: number[]) => {
      const [lo, hi] = finish(
        averageInterval(
          rowsOf(
            Array.from({ length: n }, () => [20, 0, 0]),
            UNIT,
            shift,
          ),
        ),
      );
      return hi - lo;
    };
    expect(width(100, [0, 0, 0]) / width(4, [0, 0, 0])).toBeCloseTo(0.2, 1);
    expect(width(400, [1, 0, 0])).toBeGreaterThan(3.8);
  });

  test.each([
    ['no error at all', 0, 0],
    ['an error along the shared one', 1, 0],
    ['an error across it', 0, 1],
  ])('of 1,000 rows with %s is covered in spite of a shared error as large as the spread', (_, along, across) => {
    const truth = Math.hypot(along, across);
    const chance: Uniform = stream(`1,000 rows ${along} ${across}`);
    let held = 0;
    for (let s = 0; s < 200; s++) {
      const common = normal(chance);
      const errors = Array.from({ length: 1000 }, () => [along + common + normal(chance), across + normal(chance), normal(chance)]);
      const [lo, hi] = finish(averageInterval(rowsOf(errors, UNIT, [1, 0, 0])));
      held += Number(lo <= truth && truth <= hi);
    }
    expect(held / 200).toBeGreaterThanOrEqual(0.94);
  });
});

test('the intervals of 10,000 rows can be computed, whatever they are', () => {
  const white = xyYToXyz(0.3127, 0.329, 120);
  const readingOf = (i: number) => {
    const Y = 120 * ((i % 100) / 100) ** 2.4;
    return { xyz: xyYToXyz(0.3127 + 0.001 * ((i % 7) - 3), 0.329, Y * 1.02), errorOf: de2000From(xyYToXyz(0.3127, 0.329, Y), white) };
  };
  const meter = { spread: { xy: 0.0004, Y: 0.005 }, accuracy: { xy: 0.002, Y: 0.02 }, floor: 0.003 };
  const rows = finish(errorRows(10_000, readingOf, { meter, names: ['x', 'y', 'Y'] }));
  const { lo, hi } = finish(rowIntervals(rows));
  for (let i = 0; i < 10_000; i++) {
    const seen = Math.hypot(rows.error[3 * i]!, rows.error[3 * i + 1]!, rows.error[3 * i + 2]!);
    expect(lo[i]! <= seen && seen <= hi[i]! && hi[i]! < 100, `row ${i}: ${lo[i]} ${seen} ${hi[i]}`).toBe(true);
  }
});
