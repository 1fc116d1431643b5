import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { deltaE76, deltaE94, deltaE2000, deltaEitp, deltaEuv, deltaLch, deltaUvStar } from '../../src/colour/difference';
import type { Vec3 } from '../../src/colour/vector';
import { uniform } from './random';

/** Sharma, Wu & Dalal (2005), Color Res. Appl. 30(1) 21–30, Table 1: all 34 pairs, ΔE00 to four decimals. */
const SHARMA_WU_DALAL: readonly (readonly [Vec3, Vec3, number])[] = [
  [[50, 2.6772, -79.7751], [50, 0, -82.7485], 2.0425],
  [[50, 3.1571, -77.2803], [50, 0, -82.7485], 2.8615],
  [[50, 2.8361, -74.02], [50, 0, -82.7485], 3.4412],
  [[50, -1.3802, -84.2814], [50, 0, -82.7485], 1.0],
  [[50, -1.1848, -84.8006], [50, 0, -82.7485], 1.0],
  [[50, -0.9009, -85.5211], [50, 0, -82.7485], 1.0],
  [[50, 0, 0], [50, -1, 2], 2.3669],
  [[50, -1, 2], [50, 0, 0], 2.3669],
  [[50, 2.49, -0.001], [50, -2.49, 0.0009], 7.1792],
  [[50, 2.49, -0.001], [50, -2.49, 0.001], 7.1792],
  [[50, 2.49, -0.001], [50, -2.49, 0.0011], 7.2195],
  [[50, 2.49, -0.001], [50, -2.49, 0.0012], 7.2195],
  [[50, -0.001, 2.49], [50, 0.0009, -2.49], 4.8045],
  [[50, -0.001, 2.49], [50, 0.001, -2.49], 4.8045],
  [[50, -0.001, 2.49], [50, 0.0011, -2.49], 4.7461],
  [[50, 2.5, 0], [50, 0, -2.5], 4.3065],
  [[50, 2.5, 0], [73, 25, -18], 27.1492],
  [[50, 2.5, 0], [61, -5, 29], 22.8977],
  [[50, 2.5, 0], [56, -27, -3], 31.903],
  [[50, 2.5, 0], [58, 24, 15], 19.4535],
  [[50, 2.5, 0], [50, 3.1736, 0.5854], 1.0],
  [[50, 2.5, 0], [50, 3.2972, 0], 1.0],
  [[50, 2.5, 0], [50, 1.8634, 0.5757], 1.0],
  [[50, 2.5, 0], [50, 3.2592, 0.335], 1.0],
  [[60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644],
  [[63.0109, -31.0961, -5.8663], [62.8187, -29.7946, -4.0864], 1.263],
  [[61.2901, 3.7196, -5.3901], [61.4292, 2.248, -4.962], 1.8731],
  [[35.0831, -44.1164, 3.7933], [35.0232, -40.0716, 1.5901], 1.8645],
  [[22.7233, 20.0904, -46.694], [23.0331, 14.973, -42.5619], 2.0373],
  [[36.4612, 47.858, 18.3852], [36.2715, 50.5065, 21.2231], 1.4146],
  [[90.8027, -2.0831, 1.441], [91.1528, -1.6435, 0.0447], 1.4441],
  [[90.9257, -0.5406, -0.9208], [88.6381, -0.8985, -0.7239], 1.5381],
  [[6.7747, -0.2908, -2.4247], [5.8714, -0.0985, -2.2286], 0.6377],
  [[2.0776, 0.0795, -1.135], [0.9033, -0.0636, -0.5514], 0.9082],
];

/** CIEDE2000 as its paper writes it, in degrees and step by step (eq. 2–22): slow, and nothing in common with the one under test. */
const byTheBook = (lab1: Vec3, lab2: Vec3): number => inTerms(lab1, lab2).deltaE;

function inTerms(lab1: Vec3, lab2: Vec3) {
  const rad = Math.PI / 180;
  const c1 = Math.hypot(lab1[1], lab1[2]);
  const c2 = Math.hypot(lab2[1], lab2[2]);
  const c7 = ((c1 + c2) / 2) ** 7;
  const G = 0.5 * (1 - Math.sqrt(c7 / (c7 + 25 ** 7)));
  const a1 = (1 + G) * lab1[1];
  const a2 = (1 + G) * lab2[1];
  const C1 = Math.hypot(a1, lab1[2]);
  const C2 = Math.hypot(a2, lab2[2]);
  const h1 = C1 === 0 ? 0 : (Math.atan2(lab1[2], a1) / rad + 360) % 360;
  const h2 = C2 === 0 ? 0 : (Math.atan2(lab2[2], a2) / rad + 360) % 360;
  const colourless = C1 * C2 === 0;
  let dh = 0;
  if (!colourless) {
    dh = h2 - h1;
    if (dh > 180) dh -= 360;
    else if (dh < -180) dh += 360;
  }
  const dL = lab2[0] - lab1[0];
  const dC = C2 - C1;
  const dH = 2 * Math.sqrt(C1 * C2) * Math.sin((dh / 2) * rad);
  const L = (lab1[0] + lab2[0]) / 2;
  const C = (C1 + C2) / 2;
  let h = h1 + h2;
  if (!colourless) {
    if (Math.abs(h1 - h2) <= 180) h = (h1 + h2) / 2;
    else h = h1 + h2 < 360 ? (h1 + h2 + 360) / 2 : (h1 + h2 - 360) / 2;
  }
  const T =
    1 -
    0.17 * Math.cos((h - 30) * rad) +
    0.24 * Math.cos(2 * h * rad) +
    0.32 * Math.cos((3 * h + 6) * rad) -
    0.2 * Math.cos((4 * h - 63) * rad);
  const theta = 30 * Math.exp(-(((h - 275) / 25) ** 2));
  const RC = 2 * Math.sqrt(C ** 7 / (C ** 7 + 25 ** 7));
  const SL = 1 + (0.015 * (L - 50) ** 2) / Math.sqrt(20 + (L - 50) ** 2);
  const SC = 1 + 0.045 * C;
  const SH = 1 + 0.015 * C * T;
  const RT = -Math.sin(2 * theta * rad) * RC;
  const [lightness, chroma, hue] = [dL / SL, dC / SC, dH / SH];
  return { lightness, chroma, hue, deltaE: Math.sqrt(lightness ** 2 + chroma ** 2 + hue ** 2 + RT * chroma * hue) };
}

const lab = fc.tuple(
  fc.double({ min: 0, max: 100, noNaN: true }),
  fc.double({ min: -128, max: 128, noNaN: true }),
  fc.double({ min: -128, max: 128, noNaN: true }),
) as fc.Arbitrary<Vec3>;

describe('ΔE2000', () => {
  test.each(SHARMA_WU_DALAL.map((pair, i) => [i + 1, ...pair] as const))(
    'gives the value of pair %i of Sharma, Wu & Dalal, both ways round',
    (_, a, b, expected) => {
      expect(Math.abs(deltaE2000(a, b) - expected)).toBeLessThanOrEqual(5.0001e-5);
      expect(Math.abs(deltaE2000(b, a) - expected)).toBeLessThanOrEqual(5.0001e-5);
    },
  );

  test('agrees with the paper’s own steps on 100,000 random pairs (seed 2005) to 1e-9', () => {
    const next = uniform(2005);
    let worst = 0;
    for (let i = 0; i < 100_000; i++) {
      const spread = i % 2 === 0 ? 256 : 8;
      const a: Vec3 = [100 * next(), 256 * next() - 128, 256 * next() - 128];
      const b: Vec3 = [100 * next(), a[1] + spread * (next() - 0.5), a[2] + spread * (next() - 0.5)];
      worst = Math.max(worst, Math.abs(deltaE2000(a, b) - byTheBook(a, b)));
    }
    expect(worst).toBeLessThan(1e-9);
  });

  test('gives the terms of the paper’s own steps, signed as the second colour is off', () => {
    const next = uniform(2005);
    for (let i = 0; i < 10_000; i++) {
      const a: Vec3 = [100 * next(), 256 * next() - 128, 256 * next() - 128];
      const b: Vec3 = [100 * next(), 256 * next() - 128, 256 * next() - 128];
      const terms = { lightness: Number.NaN, chroma: Number.NaN, hue: Number.NaN };
      deltaE2000(a, b, 1, terms);
      const { lightness, chroma, hue } = inTerms(a, b);
      expect(Math.abs(terms.lightness - lightness)).toBeLessThan(1e-9);
      expect(Math.abs(terms.chroma - chroma)).toBeLessThan(1e-9);
      expect(Math.abs(terms.hue - hue)).toBeLessThan(1e-9);
    }
  });

  test('agrees with the paper’s own steps where a hue is missing, on an axis or nearly opposite', () => {
    const corners: readonly Vec3[] = [
      [50, 0, 0],
      [50, 10, 0],
      [50, -10, 0],
      [50, 0, 10],
      [50, 0, -10],
      [40, 3, -60],
      [40, 30, 1e-9],
      [40, 30, -1e-9],
      [60, -30, 1e-7],
      [60, -30, -1e-7],
      [70, 1e-12, 0],
      [50, 12, 12],
      [50, -12, 12],
      [50, 12, -12],
    ];
    for (const a of corners) for (const b of corners) expect(Math.abs(deltaE2000(a, b) - byTheBook(a, b)), `${a} ${b}`).toBeLessThan(1e-9);
  });

  test('is symmetric, zero for equal colours and never negative', () => {
    fc.assert(
      fc.property(lab, lab, (a, b) => {
        const there = deltaE2000(a, b);
        expect(Math.abs(there - deltaE2000(b, a))).toBeLessThan(1e-10);
        expect(there).toBeGreaterThanOrEqual(0);
        expect(deltaE2000(a, a)).toBe(0);
      }),
      { seed: 11664, numRuns: 2000 },
    );
  });

  test('passes NaN on', () => {
    expect(deltaE2000([Number.NaN, 0, 0], [50, 1, 1])).toBeNaN();
    expect(deltaE2000([50, 0, 0], [50, Number.NaN, 1])).toBeNaN();
  });
});

describe('the parts of a difference', () => {
  test('add up to ΔE*ab: ΔL² + ΔC² + ΔH² (ISO/CIE 11664-4)', () => {
    fc.assert(
      fc.property(lab, lab, (a, b) => {
        const { dL, dC, dH } = deltaLch(a, b);
        expect(Math.abs(Math.sqrt(dL * dL + dC * dC + dH * dH) - deltaE76(a, b))).toBeLessThan(1e-5);
      }),
      { seed: 4, numRuns: 2000 },
    );
  });

  test('turn their signs when reference and sample change places', () => {
    const a: Vec3 = [50, 30, 5];
    const b: Vec3 = [55, 20, -12];
    const there = deltaLch(a, b);
    const back = deltaLch(b, a);
    expect(there.dL).toBe(5);
    expect(there.dC).toBeLessThan(0);
    expect(there.dh).toBeLessThan(0);
    expect(there.dH).toBeLessThan(0);
    expect([back.dL, back.dC, back.dh, back.dH]).toEqual([-there.dL, -there.dC, -there.dh, -there.dH]);
  });

  test('have no hue where a colour has no chroma', () => {
    expect(deltaLch([50, 0, 0], [50, 3, 4])).toEqual({ dL: 0, dC: 5, dh: 0, dH: 0 });
  });
});

describe('the other differences', () => {
  test('ΔE94 takes its weights from the reference, so it is not symmetric', () => {
    const a: Vec3 = [50, 60, 10];
    const b: Vec3 = [50, 50, 20];
    expect(deltaE94(a, b)).not.toBeCloseTo(deltaE94(b, a), 3);
    expect(deltaE94(a, a)).toBe(0);
  });

  test('ΔE*ab, ΔE*uv and ΔE ITP are symmetric', () => {
    fc.assert(
      fc.property(lab, lab, (a, b) => {
        expect(deltaE76(a, b)).toBe(deltaE76(b, a));
        expect(deltaEuv(a, b)).toBe(deltaEuv(b, a));
        expect(deltaEitp(a, b)).toBe(deltaEitp(b, a));
      }),
      { seed: 2124 },
    );
  });

  test('Δu*v* is 13·L*·Δu′v′: 1.3 at L* 100 and Δu′v′ 0.001 (EBU Tech 3320)', () => {
    expect(deltaUvStar(100, [0.1978, 0.4683], [0.1978, 0.4693])).toBeCloseTo(1.3, 12);
  });
});
