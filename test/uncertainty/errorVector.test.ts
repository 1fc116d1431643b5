import { describe, expect, test } from 'vitest';
import { xyToUv, xyYToXyz } from '../../src/colour/chromaticity';
import { deltaE76, deltaE94, deltaE2000, deltaEitp, deltaEuv, deltaUv, deltaUvStar } from '../../src/colour/difference';
import { xyzToIctcp } from '../../src/colour/ictcp';
import { xyzToLab, yToLstar } from '../../src/colour/lab';
import { xyzToLuv } from '../../src/colour/luv';
import type { Vec3 } from '../../src/colour/vector';
import {
  chromaDe2000From,
  de76From,
  de94From,
  de2000From,
  deItpFrom,
  deUvFrom,
  duvFrom,
  duvStarFrom,
  errorDe2000,
} from '../../src/uncertainty/errorVector';
import { stream } from '../display/random';

const WHITE = xyYToXyz(0.3127, 0.329, 120);
const length = (v: Vec3): number => Math.hypot(...v);

describe('an error vector', () => {
  test('of CIEDE2000 is as long as ΔE2000, for near and for far pairs, the blue region of the rotation term among them', () => {
    const chance = stream('pairs');
    const within = (by: number) => by * (2 * chance() - 1);
    for (let i = 0; i < 20_000; i++) {
      const a: Vec3 = [100 * chance(), within(90), within(90)];
      const b: Vec3 = i % 2 ? [100 * chance(), within(90), within(90)] : [a[0] + within(2), a[1] + within(2), a[2] + within(2)];
      expect(Math.abs(length(errorDe2000(a, b)) - deltaE2000(a, b))).toBeLessThan(1e-9);
    }
    // Sharma, Wu & Dalal (2005), pairs 1, 7 and 17: blue, grey, opposite hues.
    expect(length(errorDe2000([50, 2.6772, -79.7751], [50, 0, -82.7485]))).toBeCloseTo(2.0425, 4);
    expect(length(errorDe2000([50, 0, 0], [50, -1, 2]))).toBeCloseTo(2.3669, 4);
    expect(length(errorDe2000([50, 2.5, 0], [50, 0, -2.5]))).toBeCloseTo(4.3065, 4);
  });

  test('of the other metrics is as long as they are', () => {
    const target = xyYToXyz(0.3, 0.34, 40);
    const read = xyYToXyz(0.312, 0.331, 43);
    const [a, b] = [xyzToLab(target, WHITE), xyzToLab(read, WHITE)];
    expect(length(de2000From(target, WHITE)(read))).toBeCloseTo(deltaE2000(a, b), 12);
    expect(length(de94From(target, WHITE)(read))).toBeCloseTo(deltaE94(a, b), 12);
    expect(length(de76From(target, WHITE)(read))).toBeCloseTo(deltaE76(a, b), 12);
    expect(length(deUvFrom(target, WHITE)(read))).toBeCloseTo(deltaEuv(xyzToLuv(target, WHITE), xyzToLuv(read, WHITE)), 12);
    expect(length(deItpFrom(target)(read))).toBeCloseTo(deltaEitp(xyzToIctcp(target), xyzToIctcp(read)), 10);
    expect(length(duvFrom([0.3, 0.34])(read))).toBeCloseTo(deltaUv([0.3, 0.34], [0.312, 0.331]), 12);
    const star = deltaUvStar(yToLstar(43 / 120), xyToUv([0.3, 0.34]), xyToUv([0.312, 0.331]));
    expect(length(duvStarFrom([0.3, 0.34], 120)(read))).toBeCloseTo(star, 12);
    const levelled = xyzToLab(xyYToXyz(0.312, 0.331, 40), WHITE);
    expect(length(chromaDe2000From(target, WHITE)(read))).toBeCloseTo(deltaE2000(a, levelled), 12);
  });

  test('of ΔE94 is as long as it, whatever the chroma of the target', () => {
    const chance = stream('94');
    const within = (by: number) => by * (2 * chance() - 1);
    for (let i = 0; i < 2_000; i++) {
      const target = xyYToXyz(0.3127 + within(0.1), 0.329 + within(0.1), 100 * chance());
      const read = xyYToXyz(0.3127 + within(0.1), 0.329 + within(0.1), 100 * chance());
      const expected = deltaE94(xyzToLab(target, WHITE), xyzToLab(read, WHITE));
      expect(Math.abs(length(de94From(target, WHITE)(read)) - expected)).toBeLessThan(1e-9 * (1 + expected));
    }
    expect(length(de94From(WHITE, WHITE)(xyYToXyz(0.3137, 0.329, 120)))).toBeCloseTo(
      deltaE94(xyzToLab(WHITE, WHITE), xyzToLab(xyYToXyz(0.3137, 0.329, 120), WHITE)),
      9,
    );
  });

  test('turns with its reading around a grey, where ΔC′ and ΔH′ would fold it into a half-line', () => {
    for (let turn = 0; turn < 360; turn += 10) {
      const angle = (turn * Math.PI) / 180;
      const [, u, v] = errorDe2000([50, 0, 0], [50, (0.1 * Math.cos(angle)) / 1.5, 0.1 * Math.sin(angle)]);
      expect(u).toBeCloseTo(0.1 * Math.cos(angle), 3);
      expect(v).toBeCloseTo(0.1 * Math.sin(angle), 3);
    }
  });

  test('is nearly straight over the noise of a meter: opposite steps from a colour change it by opposite amounts', () => {
    const target: Vec3 = [55, 12, -30];
    const base = errorDe2000(target, [55.5, 13, -29]);
    const there = errorDe2000(target, [55.8, 13.3, -28.7]);
    const back = errorDe2000(target, [55.2, 12.7, -29.3]);
    for (let k = 0; k < 3; k++) expect(there[k]! + back[k]! - 2 * base[k]!).toBeCloseTo(0, 2);
  });
});
