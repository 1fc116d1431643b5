import Color from 'colorjs.io';
import { describe, expect, it } from 'vitest';
import { p3InBt2020, saturationDrive } from './bench';
import {
  between,
  d65,
  eetf,
  hlgLight,
  hlgScene,
  pqLight,
  pqSignal,
  rgbToXyz,
  spaces,
  type Triple,
  times,
  uvOf,
  xyOf,
  xyOfUv,
  xyzOf,
} from './light';
import { codeOf, signalOf } from './signal';

const close = (actual: readonly number[], expected: readonly number[], epsilon: number) => {
  expected.forEach((value, i) => {
    expect(Math.abs(actual[i]! - value), `${actual} against ${expected}`).toBeLessThanOrEqual(epsilon);
  });
};

/** Coordinates that colorjs.io (an independent library) computes; absent components count as 0. */
const through = (from: string, coords: Triple, to: string): Triple =>
  new Color(from, [...coords] as [number, number, number]).to(to).coords.map((n) => n ?? 0) as unknown as Triple;

const colours: readonly Triple[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
  [1, 1, 1],
  [0.2, 0.5, 0.8],
];

describe('the colour arithmetic of the simulator, against colorjs.io', () => {
  it('takes linear BT.709, P3 and BT.2020 to XYZ', () => {
    for (const [space, id] of [
      ['bt709', 'srgb-linear'],
      ['p3', 'p3-linear'],
      ['bt2020', 'rec2020-linear'],
    ] as const) {
      for (const rgb of colours) close(times(rgbToXyz(spaces[space]), rgb), through(id, rgb, 'xyz-d65'), 2e-6);
    }
  });

  it('takes P3 into BT.2020', () => {
    for (const rgb of colours) close(times(between(spaces.p3, spaces.bt2020), rgb), through('p3-linear', rgb, 'rec2020-linear'), 2e-6);
  });

  it('takes PQ signals to absolute XYZ', () => {
    for (const level of [0.05, 0.25, 0.5, 0.58, 0.75, 0.9, 1]) {
      const Y = through('rec2100pq', [level, level, level], 'xyz-abs-d65')[1];
      expect(Math.abs(pqLight(level) / Y - 1)).toBeLessThan(1e-5);
      expect(pqSignal(pqLight(level))).toBeCloseTo(level, 12);
    }
  });

  it("takes x, y to u', v' and back", () => {
    for (const rgb of colours) {
      const xyz = through('srgb-linear', rgb, 'xyz-d65');
      const uv = uvOf(xyOf(xyz));
      close(uv, new Color('xyz-d65', [...xyz] as [number, number, number]).uv as unknown as readonly number[], 1e-9);
      close(xyOfUv(uv), xyOf(xyz), 1e-12);
      close(xyzOf(xyOf(xyz), xyz[1]), xyz, 1e-12);
    }
    close(xyOf(xyzOf(d65)), d65, 1e-15);
  });

  it('sends P3 primaries in BT.2020 with PQ', () => {
    const back = through('rec2100pq', p3InBt2020([1, 0, 0]), 'xyz-abs-d65');
    // P3 red lies a little outside of BT.2020 in blue (−0.0012 linear), and a signal cannot be negative.
    close(xyOf(back), [0.68, 0.32], 1.5e-3);
  });
});

describe('the EETF of BT.2390 (constructed examples: computed apart, no published source)', () => {
  it('leaves signals alone up to the start of the knee: 0.6400, 355.7 cd/m² for 4000 shown on 800', () => {
    expect(eetf(355, 4000, 800)).toBeCloseTo(355, 6);
    expect(eetf(pqLight(0.66), 4000, 800)).toBeLessThan(pqLight(0.66) * 0.9999);
    expect(pqSignal(355.7)).toBeCloseTo(0.64, 4);
  });
  it('ends at the peak of the display', () => {
    expect(eetf(4000, 4000, 800)).toBeCloseTo(800, 6);
    expect(eetf(10_000, 4000, 800)).toBeCloseTo(800, 6);
  });
  it('shows 75 % by 0.414 stop brighter for a mastering peak of 1000 than for one of 10 000', () => {
    const at75 = pqLight(0.75);
    expect(Math.log2(eetf(at75, 1000, 800) / eetf(at75, 10_000, 800))).toBeCloseTo(0.414, 3);
  });
  it('changes nothing for a display brighter than the mastering peak', () => {
    expect(eetf(900, 1000, 1250)).toBeCloseTo(900, 6);
  });
});

describe('HLG', () => {
  it('shows reference white at 75 % on 1,000 cd/m² (ITU-R BT.2408-8, table 1: 203 cd/m²)', () => {
    expect(hlgLight([0.75, 0.75, 0.75], 1000)[1]).toBeCloseTo(203, 0);
    expect(hlgLight([1, 1, 1], 1250)[0]).toBeCloseTo(1250, 2);
    expect(hlgLight([0, 0, 0], 1250)).toEqual([0, 0, 0]);
  });
  it('is that of colorjs.io for scene light', () => {
    for (const level of [0.1, 0.45, 0.5, 0.6, 0.9]) {
      // The library scales its light so that 75 % is 203 / 1,000 · 1 in relative XYZ; the ratio to that is what both share.
      const ratio = (at: number) =>
        through('rec2100hlg', [at, at, at], 'xyz-d65')[1] / through('rec2100hlg', [0.5, 0.5, 0.5], 'xyz-d65')[1];
      expect(hlgScene(level) / hlgScene(0.5)).toBeCloseTo(ratio(level), 6);
    }
  });
});

describe('drive', () => {
  it('is rounded to codes (BT.2100-2 table 9; the percentages are constructed examples)', () => {
    expect(codeOf(0, { range: 'limited', depth: 8 })).toBe(16);
    expect(codeOf(1, { range: 'limited', depth: 10 })).toBe(940);
    expect(codeOf(1, { range: 'full', depth: 8 })).toBe(255);
    expect(100 * signalOf(codeOf(0.01, { range: 'limited', depth: 8 }), { range: 'limited', depth: 8 })).toBeCloseTo(0.91324, 5);
    expect(100 * signalOf(codeOf(0.01, { range: 'limited', depth: 10 }), { range: 'limited', depth: 10 })).toBeCloseTo(1.0274, 5);
  });
  it('of saturation patches (constructed examples, BT.709, power 2.4, 75 %)', () => {
    close(saturationDrive('red', 0.5, 0.75, 2.4), [0.75, 0.36272, 0.36272], 5e-6);
    close(saturationDrive('cyan', 0.5, 0.75, 2.4), [0.53308, 0.75, 0.75], 5e-6);
    close(saturationDrive('red', 1, 0.75, 2.4), [0.75, 0, 0], 1e-6);
  });
});
