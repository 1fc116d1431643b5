import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { xyToUv } from '../../src/colour/chromaticity';
import { area, areaRatio, clip, coverage, hull, triangleOf } from '../../src/colour/gamut';
import { SPACES } from '../../src/colour/spaces';
import type { Xy } from '../../src/colour/vector';

const P3 = triangleOf(SPACES['p3-d65'].primaries);
const SQUARE: Xy[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

const point = fc.tuple(
  fc.double({ min: 0.05, max: 0.7, noNaN: true }),
  fc.double({ min: 0.02, max: 0.8, noNaN: true }),
) as fc.Arbitrary<Xy>;
const points = fc.array(point, { minLength: 3, maxLength: 8 });

describe('hull', () => {
  test('keeps the corners, counter-clockwise, and drops what lies inside, on an edge or twice', () => {
    const corners = hull([[0.5, 0.5], ...SQUARE, [0.5, 0], [1, 1]]);
    expect(corners).toEqual([
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ]);
  });

  test('of fewer than three points, of a line or of what is not finite is undefined', () => {
    expect(hull([])).toBeUndefined();
    expect(
      hull([
        [0, 0],
        [1, 1],
      ]),
    ).toBeUndefined();
    expect(
      hull([
        [0, 0],
        [1, 1],
        [2, 2],
      ]),
    ).toBeUndefined();
    expect(
      hull([
        [0.1, 0.1],
        [0.2, 0.2],
        [0.3, 0.3],
        [0.7, 0.7],
      ]),
    ).toBeUndefined();
    expect(
      hull([
        [0, 0],
        [1, 0],
        [Number.NaN, 1],
      ]),
    ).toBeUndefined();
  });

  test('does not change what it is given', () => {
    const given: Xy[] = [
      [1, 1],
      [0, 0],
      [1, 0],
    ];
    hull(given);
    expect(given).toEqual([
      [1, 1],
      [0, 0],
      [1, 0],
    ]);
  });
});

describe('clip', () => {
  test('gives the square two overlapping squares share, whichever way round they are written', () => {
    const other: Xy[] = SQUARE.map(([x, y]) => [x + 0.5, y + 0.25]);
    expect(area(clip(SQUARE, other))).toBeCloseTo(0.375, 12);
    expect(area(clip([...SQUARE].reverse(), [...other].reverse()))).toBeCloseTo(0.375, 12);
  });

  test('of figures apart is empty, of one inside the other that one', () => {
    expect(
      clip(
        SQUARE,
        SQUARE.map(([x, y]) => [x + 3, y]),
      ),
    ).toEqual([]);
    expect(
      area(
        clip(
          SQUARE,
          SQUARE.map(([x, y]) => [x / 2 + 0.1, y / 2 + 0.1]),
        ),
      ),
    ).toBeCloseTo(0.25, 12);
  });

  test('has the same area whichever figure clips, and never more than either', () => {
    fc.assert(
      fc.property(points, points, (a, b) => {
        const one = hull(a);
        const two = hull(b);
        if (one === undefined || two === undefined) return;
        const there = area(clip(one, two));
        expect(Math.abs(there - area(clip(two, one)))).toBeLessThan(1e-9);
        expect(there).toBeLessThanOrEqual(Math.min(area(one), area(two)) + 1e-12);
      }),
      { seed: 1974, numRuns: 1000 },
    );
  });

  test('in xy and then mapped is the same figure as in u′v′, for straight lines stay straight', () => {
    fc.assert(
      fc.property(points, (given) => {
        const display = hull(given);
        if (display === undefined || area(display) < 1e-6) return;
        const mapped = area(clip(display, P3).map(xyToUv));
        const inUv = area(clip(hull(given.map(xyToUv))!, P3.map(xyToUv)));
        expect(Math.abs(mapped - inUv)).toBeLessThan(1e-10);
      }),
      { seed: 1976, numRuns: 1000 },
    );
  });
});

describe('coverage', () => {
  test('is between 0 and 1 and never exceeds the ratio of areas', () => {
    fc.assert(
      fc.property(points, fc.constantFrom('xy' as const, 'uv' as const), (given, plane) => {
        const share = coverage(given, P3, plane);
        const ratio = areaRatio(given, P3, plane);
        expect(share === undefined).toBe(ratio === undefined);
        if (share === undefined || ratio === undefined) return;
        expect(share).toBeGreaterThanOrEqual(0);
        expect(share).toBeLessThanOrEqual(1);
        expect(share).toBeLessThanOrEqual(ratio + 1e-9);
      }),
      { seed: 2020, numRuns: 1000 },
    );
  });

  test('of a space by itself is 1', () => {
    expect(coverage(P3, P3, 'xy')).toBeCloseTo(1, 12);
    expect(coverage([...P3].reverse(), P3, 'uv')).toBeCloseTo(1, 12);
  });

  test('does not fall when a panel gains an emitter', () => {
    fc.assert(
      fc.property(points, point, (given, more) => {
        const before = coverage(given, P3, 'uv');
        if (before !== undefined) expect(coverage([...given, more], P3, 'uv')).toBeGreaterThanOrEqual(before - 1e-9);
      }),
      { seed: 4, numRuns: 500 },
    );
  });

  test('of or against what has no area is undefined', () => {
    expect(
      coverage(
        [
          [0.3, 0.3],
          [0.4, 0.4],
        ],
        P3,
        'xy',
      ),
    ).toBeUndefined();
    expect(
      coverage(
        P3,
        [
          [0.3, 0.3],
          [0.4, 0.4],
          [0.5, 0.5],
        ],
        'xy',
      ),
    ).toBeUndefined();
    expect(areaRatio([], P3, 'uv')).toBeUndefined();
  });
});
