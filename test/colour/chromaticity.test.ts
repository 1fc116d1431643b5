import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { deltaUv, uv1960ToXy, uvToXy, xyToUv, xyToUv1960, xyYToXyz, xyzToXy } from '../../src/colour/chromaticity';
import { rgbToXyzMatrix, SPACES, type SpaceId, spaceMatrices, spaceOf } from '../../src/colour/spaces';
import { multiply, type Xy } from '../../src/colour/vector';
import { WHITE_SOURCES, WHITES, whiteOf } from '../../src/colour/whites';

const xy = fc.tuple(fc.double({ min: 0.01, max: 0.73, noNaN: true }), fc.double({ min: 0.01, max: 0.83, noNaN: true })) as fc.Arbitrary<Xy>;

function expectNear(a: Xy, b: Xy): void {
  expect(Math.abs(a[0] - b[0])).toBeLessThan(1e-12);
  expect(Math.abs(a[1] - b[1])).toBeLessThan(1e-12);
}

describe('chromaticity', () => {
  test('survives the way to XYZ, to u′v′ and to the 1960 diagram and back', () => {
    fc.assert(
      fc.property(xy, fc.double({ min: 1e-4, max: 1e4, noNaN: true }), (c, Y) => {
        expectNear(xyzToXy(xyYToXyz(...c, Y)), c);
        expectNear(uvToXy(xyToUv(c)), c);
        expectNear(uv1960ToXy(xyToUv1960(c)), c);
      }),
      { seed: 15 },
    );
  });

  test('is the same u′ in both diagrams, and v is two thirds of v′ (CIE 15)', () => {
    expect(xyToUv1960(WHITES.d65)[0]).toBe(xyToUv(WHITES.d65)[0]);
    expect(xyToUv1960(WHITES.d65)[1]).toBeCloseTo((2 / 3) * xyToUv(WHITES.d65)[1], 15);
  });

  test('of a reading with y = 0 gives black, of black nothing', () => {
    expect(xyYToXyz(0.3, 0, 5)).toEqual([0, 0, 0]);
    expect(xyzToXy([0, 0, 0])).toEqual([Number.NaN, Number.NaN]);
  });

  test('Δu′v′ is the distance in the 1976 diagram', () => {
    const a = xyToUv(WHITES.d65);
    const b = xyToUv(WHITES.d50);
    expect(deltaUv(WHITES.d65, WHITES.d50)).toBeCloseTo(Math.hypot(a[0] - b[0], a[1] - b[1]), 15);
    expect(deltaUv(WHITES.d65, WHITES.d65)).toBe(0);
  });
});

describe('spaces', () => {
  test.each(Object.keys(SPACES) as SpaceId[])(
    '%s carries its id, makes its white of equal signals and sums its luminance weights to 1',
    (id) => {
      const space = SPACES[id];
      expect(space.id).toBe(id);
      const { toXyz, toRgb } = spaceMatrices(space)!;
      expect(toXyz[1][0] + toXyz[1][1] + toXyz[1][2]).toBeCloseTo(1, 14);
      const white = multiply(toXyz, [1, 1, 1]);
      expectNear(xyzToXy(white), space.white);
      for (const light of multiply(toRgb, white)) expect(light).toBeCloseTo(1, 12);
      expectNear(xyzToXy(multiply(toXyz, [0, 1, 0])), space.primaries.g);
    },
  );

  test('take another white and remember both', () => {
    const own = spaceMatrices(SPACES.bt709);
    const other = spaceMatrices(SPACES.bt709, WHITES.d93);
    expect(spaceMatrices(SPACES.bt709)).toBe(own);
    expect(spaceMatrices(SPACES.bt709, [...WHITES.d93])).toBe(other);
    expectNear(xyzToXy(multiply(other!.toXyz, [1, 1, 1])), WHITES.d93);
  });

  test('still answer rightly after more whites than they remember', () => {
    for (let i = 0; i < 100; i++) {
      const white: Xy = [0.3 + i * 1e-4, 0.33];
      expectNear(xyzToXy(multiply(spaceMatrices(SPACES.bt2020, white)!.toXyz, [1, 1, 1])), white);
    }
  });

  test('with primaries on a line or at y = 0 have no matrix', () => {
    expect(rgbToXyzMatrix({ r: [0.6, 0.3], g: [0.4, 0.3], b: [0.2, 0.3] }, WHITES.d65)).toBeUndefined();
    expect(rgbToXyzMatrix({ ...SPACES.bt709.primaries, b: [0.15, 0] }, WHITES.d65)).toBeUndefined();
    expect(rgbToXyzMatrix(SPACES.bt709.primaries, [0.3, 0])).toBeUndefined();
    expect(spaceMatrices(SPACES.bt709, [Number.NaN, 0.3])).toBeUndefined();
  });

  test('and whites are found by their own ids only', () => {
    expect(spaceOf('p3-d65')).toBe(SPACES['p3-d65']);
    expect(spaceOf('P3')).toBeUndefined();
    expect(spaceOf('constructor')).toBeUndefined();
    expect(whiteOf('d65')).toBe(WHITES.d65);
    expect(whiteOf('toString')).toBeUndefined();
    expect(Object.keys(WHITE_SOURCES).sort()).toEqual(Object.keys(WHITES).sort());
  });
});
