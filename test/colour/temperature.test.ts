import { describe, expect, test } from 'vitest';
import { uv1960ToXy, xyToUv1960 } from '../../src/colour/chromaticity';
import { CCT_LAST, type Cct, cctDuv, daylightXy, planckianUv } from '../../src/colour/temperature';
import type { Xy } from '../../src/colour/vector';
import { WHITES } from '../../src/colour/whites';
import { uniform } from './random';

function answered(result: Cct): { cct: number; duv: number } {
  if ('refused' in result) throw new Error(result.refused);
  return result;
}

/** The chromaticity at a distance from the Planckian point of T, square to the locus: the definition, run backwards. */
function isotherm(T: number, duv: number): Xy {
  const h = T * 1e-5;
  const [u, v] = planckianUv(T);
  const [u1, v1] = planckianUv(T + h);
  const [u0, v0] = planckianUv(T - h);
  const length = Math.hypot(u1 - u0, v1 - v0);
  // From red to blue, "above" is to the right.
  return uv1960ToXy([u + (duv * (v1 - v0)) / length, v - (duv * (u1 - u0)) / length]);
}

describe('correlated colour temperature and Duv', () => {
  test('come back from the definition run backwards, 1,100 … 39,000 K and |Duv| to 0.049 (seed 2014): below 1 K and 2e-8', () => {
    const next = uniform(2014);
    for (let i = 0; i < 1000; i++) {
      const T = 1100 * (39000 / 1100) ** next();
      const duv = 0.098 * next() - 0.049;
      const { cct, duv: found } = answered(cctDuv(isotherm(T, duv)));
      expect(Math.abs(cct - T), `${T} K, ${duv}`).toBeLessThan(1);
      expect(Math.abs(found - duv), `${T} K, ${duv}`).toBeLessThan(2e-8);
    }
  });

  test('are within 0.02 K near the locus where displays are, 2,500 … 10,000 K and |Duv| to 0.003 (seed 2013)', () => {
    const next = uniform(2013);
    for (let i = 0; i < 500; i++) {
      const T = 2500 + 7500 * next();
      const duv = 0.006 * next() - 0.003;
      expect(Math.abs(answered(cctDuv(isotherm(T, duv))).cct - T)).toBeLessThan(0.02);
    }
  });

  test('the printed D65 is 6504 K and 0.0032 above the locus, since daylight is greener than a radiator', () => {
    const { cct, duv } = answered(cctDuv(WHITES.d65));
    expect(Math.abs(cct - 6504)).toBeLessThan(1);
    expect(duv).toBeCloseTo(0.0032, 4);
    expect(answered(cctDuv(WHITES.e)).duv).toBeLessThan(0);
  });

  test('McCamy’s polynomial (1992) is 65 K off near 9,300 K and within 10 K at D65', () => {
    const mcCamy = ([x, y]: Xy) => {
      const n = (x - 0.332) / (y - 0.1858);
      return ((-449 * n + 3525) * n - 6823.3) * n + 5520.33;
    };
    expect(Math.abs(mcCamy(WHITES.d65) - answered(cctDuv(WHITES.d65)).cct)).toBeLessThan(10);
    expect(Math.abs(mcCamy(WHITES.d93) - answered(cctDuv(WHITES.d93)).cct)).toBeGreaterThan(50);
  });

  test('are refused where they mean nothing', () => {
    expect(cctDuv([0.3, 0.6])).toEqual({ refused: 'far-from-planckian' });
    expect(cctDuv([0.64, 0.33])).toEqual({ refused: 'outside-table' });
    expect(cctDuv([0.15, 0.06])).toEqual({ refused: 'far-from-planckian' });
    expect(cctDuv(isotherm(6500, 0.0501))).toEqual({ refused: 'far-from-planckian' });
    expect(cctDuv(isotherm(6500, -0.0501))).toEqual({ refused: 'far-from-planckian' });
    expect(cctDuv(uv1960ToXy(planckianUv(900)))).toEqual({ refused: 'outside-table' });
    expect(cctDuv(uv1960ToXy(planckianUv(2 * CCT_LAST)))).toEqual({ refused: 'outside-table' });
    expect(cctDuv([Number.NaN, 0.3])).toEqual({ refused: 'not-a-chromaticity' });
    expect(cctDuv([0.3, Number.POSITIVE_INFINITY])).toEqual({ refused: 'not-a-chromaticity' });
  });

  test('find the nearest Planckian point, wherever the search starts (seed 7, against a scan of 4,000 temperatures)', () => {
    const next = uniform(7);
    const scan = Array.from({ length: 4000 }, (_, i) => planckianUv(1000 * 40 ** (i / 3999)));
    for (let i = 0; i < 300; i++) {
      const xy: Xy = [0.2 + 0.45 * next(), 0.2 + 0.25 * next()];
      const result = cctDuv(xy);
      const [u, v] = xyToUv1960(xy);
      const nearest = Math.min(...scan.map((p) => Math.hypot(p[0] - u, p[1] - v)));
      if ('refused' in result) {
        if (result.refused === 'far-from-planckian') expect(nearest).toBeGreaterThan(0.05 - 1e-5);
      } else expect(Math.abs(Math.abs(result.duv) - nearest)).toBeLessThan(1e-5);
    }
  });
});

describe('the Planckian and daylight loci', () => {
  test('have their domains', () => {
    expect(planckianUv(0)).toEqual([Number.NaN, Number.NaN]);
    expect(planckianUv(-5)).toEqual([Number.NaN, Number.NaN]);
    expect(daylightXy(3999)).toBeUndefined();
    expect(daylightXy(25001)).toBeUndefined();
    expect(daylightXy(Number.NaN)).toBeUndefined();
    expect(daylightXy(4000)).toBeDefined();
    expect(daylightXy(25000)).toBeDefined();
  });

  test('daylight of 9305 K rounds to the D93 white', () => {
    const [x, y] = daylightXy((9300 * 1.4388) / 1.438)!;
    expect(x).toBeCloseTo(WHITES.d93[0], 4);
    expect(y).toBeCloseTo(WHITES.d93[1], 4);
  });
});
