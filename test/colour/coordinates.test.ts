import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { xyYToXyz } from '../../src/colour/chromaticity';
import { deltaEitp } from '../../src/colour/difference';
import { rgb2020ToIctcp, xyzToIctcp } from '../../src/colour/ictcp';
import { labToXyz, xyzToLab, yToLstar } from '../../src/colour/lab';
import { xyzToLuv } from '../../src/colour/luv';
import { pqInverse } from '../../src/colour/pq';
import { SPACES, spaceMatrices } from '../../src/colour/spaces';
import { multiply, type Vec3 } from '../../src/colour/vector';
import { WHITES } from '../../src/colour/whites';

const WHITE = xyYToXyz(...WHITES.d65, 120);

describe('L*a*b* and L*u*v*', () => {
  test('L*a*b* comes back to the XYZ it was made of, below zero too', () => {
    const light = fc.double({ min: -1, max: 200, noNaN: true });
    fc.assert(
      fc.property(light, light, light, (X, Y, Z) => {
        const back = labToXyz(xyzToLab([X, Y, Z], WHITE), WHITE);
        expect(Math.abs(back[0] - X)).toBeLessThan(1e-9);
        expect(Math.abs(back[1] - Y)).toBeLessThan(1e-9);
        expect(Math.abs(back[2] - Z)).toBeLessThan(1e-9);
      }),
      { seed: 11664, numRuns: 1000 },
    );
  });

  test('white is 100, 0, 0 and black 0, 0, 0 in both', () => {
    for (const to of [xyzToLab, xyzToLuv]) {
      const [L, p, q] = to(WHITE, WHITE);
      expect(L).toBeCloseTo(100, 12);
      expect(p).toBeCloseTo(0, 12);
      expect(q).toBeCloseTo(0, 12);
      for (const v of to([0, 0, 0], WHITE)) expect(v).toBeCloseTo(0, 12);
    }
  });

  test('a grey of any luminance has no chroma against its white', () => {
    for (const Y of [0.001, 0.1, 5, 90]) {
      const [L, a, b] = xyzToLab(xyYToXyz(...WHITES.d65, Y), WHITE);
      expect(L).toBeCloseTo(yToLstar(Y / 120), 10);
      expect(a).toBeCloseTo(0, 10);
      expect(b).toBeCloseTo(0, 10);
    }
  });
});

describe('I, C_T, C_P', () => {
  test('are the PQ signal and nothing else for a grey (BT.2100)', () => {
    for (const Y of [0.01, 1, 100, 1000, 9999]) {
      const [I, T, P] = xyzToIctcp(xyYToXyz(...WHITES.d65, Y));
      expect(I).toBeCloseTo(pqInverse(Y), 9);
      expect(T).toBeCloseTo(0, 9);
      expect(P).toBeCloseTo(0, 9);
    }
  });

  test('are the same from XYZ and from BT.2020 RGB', () => {
    const rgb: Vec3 = [300, 20, 5];
    const there = rgb2020ToIctcp(rgb);
    const around = xyzToIctcp(multiply(spaceMatrices(SPACES.bt2020)!.toXyz, rgb));
    for (let i = 0; i < 3; i++) expect(around[i]).toBeCloseTo(there[i]!, 12);
  });

  test('stay finite where a dark reading makes a cone response negative: it counts as none', () => {
    const dark: Vec3 = [0.0001, 0.0002, -0.01];
    const violet: Vec3 = [0.002, 0.0001, 0.02];
    for (const xyz of [dark, violet, [0, 0, 0] as Vec3, [-1, -1, -1] as Vec3]) {
      for (const v of xyzToIctcp(xyz)) expect(Number.isFinite(v)).toBe(true);
      expect(Number.isFinite(deltaEitp(xyzToIctcp(xyz), xyzToIctcp([0, 0, 0])))).toBe(true);
    }
    expect(xyzToIctcp([-1, -1, -1])).toEqual(xyzToIctcp([0, 0, 0]));
  });
});
