import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  gridOf,
  largestApart,
  nonuniformity,
  overCentre,
  type Place,
  worstChromaticity,
  worstLuminance,
} from '../../src/algorithms/uniformity';
import { deltaUv, uvToXy } from '../../src/colour/chromaticity';
import type { Xy } from '../../src/colour/vector';
import { uniform } from '../colour/random';
import { expectRefused, resultOf } from './expectations';

const places = (rows: readonly (readonly number[])[], xy?: (row: number, column: number) => Xy): Place[] =>
  rows.flatMap((list, row) => list.map((luminance, column) => ({ row: row + 1, column: column + 1, luminance, xy: xy?.(row, column) })));
const gridFrom = (...of: Parameters<typeof places>) => resultOf(gridOf(places(...of)));

describe('a grid', () => {
  test('is put in order, whatever the order and the numbers of its places', () => {
    const scattered: Place[] = [
      { row: 20, column: -1, luminance: 3 },
      { row: 10, column: 5, luminance: 2 },
      { row: 20, column: 5, luminance: 4 },
      { row: 10, column: -1, luminance: 1 },
    ];
    const grid = resultOf(gridOf(scattered));
    expect([grid.rows, grid.columns]).toEqual([2, 2]);
    expect(grid.cells.map(({ luminance }) => luminance)).toEqual([1, 2, 3, 4]);
  });

  test('is refused with a hole, a place read twice, an open place, or nothing', () => {
    const full = places([
      [1, 2, 3],
      [4, 5, 6],
    ]);
    expectRefused(gridOf(full.filter((_, i) => i !== 4)), 'grid-hole', { row: 2, column: 2 });
    expectRefused(gridOf([...full, full[2]!]), 'grid-repeated', { row: 1, column: 3 });
    expectRefused(gridOf(full.map((p, i) => (i === 3 ? { ...p, luminance: Number.NaN } : p))), 'grid-hole', { row: 2, column: 1 });
    expectRefused(gridOf(full.map((p, i) => (i === 3 ? { ...p, row: Number.NaN } : p))), 'not-finite', { at: 4 });
    expectRefused(gridOf([]), 'too-few-rows');
  });
});

describe('the luminance of a grid', () => {
  test('is judged by its extremes and against the centre (worked by hand)', () => {
    const grid = gridFrom([
      [90, 100, 95],
      [98, 100, 125],
      [80, 99, 96],
    ]);
    expect(resultOf(nonuniformity(grid))).toBeCloseTo(1 - 80 / 125, 12);
    // +25 % at the right beats −20 % at the lower left.
    expect(resultOf(worstLuminance(grid))).toMatchObject({ v: 0.25, cell: { row: 2, column: 3 } });
    // Of two cells alike the first.
    expect(resultOf(worstLuminance(gridFrom([[75, 100, 125]])))).toMatchObject({ v: -0.25, cell: { column: 1 } });
    expect(resultOf(worstLuminance(gridFrom([[7]])))).toMatchObject({ v: 0, cell: { row: 1, column: 1 } });
  });

  test('has no centre in an even grid, and nothing to compare in the dark', () => {
    expectRefused(worstLuminance(gridFrom([[1, 2]])), 'no-centre', { rows: 1, columns: 2 });
    expectRefused(overCentre(gridFrom([[1, 0, 2]])), 'no-light');
    expectRefused(nonuniformity(gridFrom([[0, 0]])), 'no-light');
    expect(resultOf(nonuniformity(gridFrom([[0, 2]])))).toBe(1);
  });
});

describe('the colour of a grid', () => {
  const uvAt = (u: number, v: number): Xy => uvToXy([u, v]);

  test('is judged against the centre, and cell against cell (worked by hand)', () => {
    const grid = gridFrom(
      [
        [1, 1, 1],
        [1, 1, 1],
        [1, 1, 1],
      ],
      (row, column) => uvAt(0.1978 + 0.001 * (column - 1), 0.4683 + 0.002 * (row - 1)),
    );
    const worst = resultOf(worstChromaticity(grid));
    expect(worst).toMatchObject({ v: expect.closeTo(Math.hypot(0.001, 0.002), 12) });
    const apart = resultOf(largestApart(grid));
    expect(apart.v).toBeCloseTo(2 * Math.hypot(0.001, 0.002), 12);
    const [a, b] = apart.cells;
    expect(Math.abs(a.row - b.row)).toBe(2);
    expect(Math.abs(a.column - b.column)).toBe(2);
  });

  test('on one line, across or upright, has its ends apart; one colour everywhere nothing', () => {
    for (const direction of [
      [1, 0],
      [0, 1],
      [0.6, 0.8],
    ]) {
      const grid = gridFrom([[1, 1, 1, 1, 1]], (_, column) => {
        const along = 0.004 * [0.5, 0, 1, 0.25, 0.75][column]!;
        return uvAt(0.2 + along * direction[0]!, 0.46 + along * direction[1]!);
      });
      const found = resultOf(largestApart(grid));
      expect(found.v).toBeCloseTo(0.004, 12);
      expect(found.cells.map(({ column }) => column).sort()).toEqual([2, 3]);
    }
    expect(resultOf(largestApart(gridFrom([[1, 1]], () => [0.31, 0.33])))).toMatchObject({ v: 0 });
  });

  test('has the same two cells farthest apart as a search of all pairs (300 grids, seed 9)', () => {
    const next = uniform(9);
    for (let i = 0; i < 300; i++) {
      const grid = gridFrom(
        Array.from({ length: 1 + Math.floor(5 * next()) }, () => [1, 1, 1, 1, 1]).map((row) => row.map(() => 1)),
        () => uvAt(0.2 + 0.01 * next(), 0.46 + 0.01 * next()),
      );
      let most = 0;
      for (const p of grid.cells) for (const q of grid.cells) most = Math.max(most, deltaUv(p.xy!, q.xy!));
      const found = resultOf(largestApart(grid));
      expect(found.v).toBeCloseTo(most, 12);
      expect(deltaUv(found.cells[0].xy!, found.cells[1].xy!)).toBeCloseTo(most, 12);
    }
  });

  test('is refused where a cell has none, which is named', () => {
    const grid = resultOf(gridOf(places([[1, 1, 1]], () => [0.31, 0.33]).map((p, i) => (i === 2 ? { ...p, xy: undefined } : p))));
    expectRefused(worstChromaticity(grid), 'no-colours', { row: 1, column: 3 });
    expectRefused(largestApart(grid), 'no-colours');
    expectRefused(worstChromaticity(gridFrom([[1, 1]], () => [0.31, 0.33])), 'no-centre');
  });
});

test('figures of a grid do not hang on its brightness or on how it is turned (property)', () => {
  const cells = fc.integer({ min: 0, max: 2 }).chain((half) => {
    const side = 2 * half + 1;
    return fc.array(fc.array(fc.integer({ min: 1, max: 1000 }), { minLength: side, maxLength: side }), { minLength: 1, maxLength: 5 });
  });
  fc.assert(
    fc.property(cells, (rows) => {
      const grid = gridFrom(rows);
      const brighter = gridFrom(rows.map((row) => row.map((Y) => 4 * Y)));
      const turned = gridFrom(rows[0]!.map((_, column) => rows.map((row) => row[column]!)));
      expect(nonuniformity(brighter)).toEqual(nonuniformity(grid));
      expect(nonuniformity(turned)).toEqual(nonuniformity(grid));
      if (rows.length % 2 === 1) expect(Math.abs(resultOf(worstLuminance(turned)).v)).toBe(Math.abs(resultOf(worstLuminance(grid)).v));
    }),
  );
});
