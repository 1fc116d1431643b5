import { describe, expect, test } from 'vitest';
import { OBSERVER_FIRST, OBSERVER_LAST, OBSERVER_X, OBSERVER_Y, OBSERVER_Z, observerAt } from '../../src/colour/observer';
import { SPACES } from '../../src/colour/spaces';
import { insideLocus, integrate, LOCUS, LOCUS_HULL, locusXy, spectrumXy } from '../../src/colour/spectrum';
import type { Xy } from '../../src/colour/vector';
import { WHITES } from '../../src/colour/whites';
import { ILLUMINANT_WAVELENGTHS, ILLUMINANTS } from '../published/illuminants';
import { uniform } from './random';

describe('the observer table', () => {
  test('has a row for every nanometre from 360 to 830, ȳ highest at 555 nm with 1 (ISO/CIE 11664-1)', () => {
    expect([OBSERVER_X.length, OBSERVER_Y.length, OBSERVER_Z.length]).toEqual([471, 471, 471]);
    expect(OBSERVER_Y.indexOf(Math.max(...OBSERVER_Y)) + OBSERVER_FIRST).toBe(555);
    expect(OBSERVER_Y[555 - OBSERVER_FIRST]).toBe(1);
  });

  test('has equal sums, so that equal energy is white, to 4e-4 (CIE 15)', () => {
    const sum = (values: Readonly<Float64Array>) => values.reduce((a, b) => a + b, 0);
    expect(Math.abs(sum(OBSERVER_X) / sum(OBSERVER_Y) - 1)).toBeLessThan(4e-4);
    expect(Math.abs(sum(OBSERVER_Z) / sum(OBSERVER_Y) - 1)).toBeLessThan(4e-4);
  });

  test('is linear between its rows and dark outside them', () => {
    const [a, b, between] = [observerAt(450), observerAt(451), observerAt(450.25)];
    for (let i = 0; i < 3; i++) expect(between[i]).toBeCloseTo(0.75 * a[i]! + 0.25 * b[i]!, 15);
    expect(observerAt(OBSERVER_LAST)[0]).toBe(OBSERVER_X[470]);
    expect(observerAt(359.9)).toEqual([0, 0, 0]);
    expect(observerAt(830.1)).toEqual([0, 0, 0]);
    expect(observerAt(Number.NaN)).toEqual([0, 0, 0]);
  });
});

describe('a spectrum', () => {
  test('of 1 W/(sr·m²) in a narrow band at 555 nm is 683 cd/m² (CIE 15)', () => {
    const wavelengths = [553, 554, 555, 556, 557];
    expect(integrate(wavelengths, [0, 0, 1, 0, 0])[1]).toBeCloseTo(683, 9);
  });

  test('of D65 has the same chromaticity in steps of 5 nm and where every other sample is left out of the red', () => {
    const keep = ILLUMINANT_WAVELENGTHS.map((nm, i) => nm < 600 || i % 2 === 0);
    const only = (values: readonly number[]) => values.filter((_, i) => keep[i]);
    const regular = spectrumXy(ILLUMINANT_WAVELENGTHS, ILLUMINANTS.d65);
    const irregular = spectrumXy(only(ILLUMINANT_WAVELENGTHS), only(ILLUMINANTS.d65));
    expect(irregular[0]).toBeCloseTo(regular[0], 3);
    expect(irregular[1]).toBeCloseTo(regular[1], 3);
    expect(regular[0]).toBeCloseTo(0.31272, 4);
  });

  test('is not a number where it is not a spectrum, and dark light has no chromaticity', () => {
    const none = [Number.NaN, Number.NaN, Number.NaN];
    expect(integrate([], [])).toEqual(none);
    expect(integrate([500], [1])).toEqual(none);
    expect(integrate([500, 510], [1])).toEqual(none);
    expect(integrate([510, 500], [1, 1])).toEqual(none);
    expect(integrate([500, 500, 510], [1, 1, 1])).toEqual(none);
    expect(spectrumXy([500, 510], [0, 0])).toEqual([Number.NaN, Number.NaN]);
  });
});

/** The definition, edge by edge: left of every edge of the counter-clockwise hull. */
function insideEveryEdge([x, y]: Xy): boolean {
  return LOCUS_HULL.every(([px, py], i) => {
    const [qx, qy] = LOCUS_HULL[(i + 1) % LOCUS_HULL.length]!;
    return (qx - px) * (y - py) - (qy - py) * (x - px) >= 0;
  });
}

describe('the region of real chromaticities', () => {
  test('agrees with a test of every edge on 20,000 random points (seed 1931)', () => {
    const next = uniform(1931);
    for (let i = 0; i < 20_000; i++) {
      const xy: Xy = [0.8 * next() - 0.02, 0.9 * next() - 0.02];
      expect(insideLocus(xy, 0), xy.join()).toBe(insideEveryEdge(xy));
    }
  });

  test('holds every white, every primary and the locus itself', () => {
    for (const white of Object.values(WHITES)) expect(insideLocus(white, 0)).toBe(true);
    for (const { primaries } of Object.values(SPACES)) for (const p of Object.values(primaries)) expect(insideLocus(p as Xy)).toBe(true);
    for (const xy of LOCUS) expect(insideLocus(xy)).toBe(true);
  });

  test('does not hold what no light can be', () => {
    expect(insideLocus([0.8, 0.3])).toBe(false);
    expect(insideLocus([0.05, 0.2])).toBe(false);
    expect(insideLocus([0.45, 0.05])).toBe(false);
    expect(insideLocus([0.6, 0.45])).toBe(false);
    expect(insideLocus([-0.1, 0.3])).toBe(false);
    expect(insideLocus([0.3, 0.9])).toBe(false);
    expect(insideLocus([Number.NaN, 0.3])).toBe(false);
    expect(insideLocus([Number.POSITIVE_INFINITY, 0.3])).toBe(false);
  });

  test('takes a distance from its border as tolerance', () => {
    const outside: Xy = [0.709, 0.2922];
    expect(insideLocus(outside)).toBe(false);
    expect(insideLocus(outside, 0.002)).toBe(true);
  });

  test('smooths the locus by less than 1e-5', () => {
    for (const xy of LOCUS) expect(insideLocus([xy[0], xy[1]], 1e-5)).toBe(true);
    expect(locusXy(359)).toBeUndefined();
    expect(locusXy(831)).toBeUndefined();
    expect(locusXy(520)![1]).toBeCloseTo(0.8338, 4);
  });
});
