import { describe, expect, test } from 'vitest';
import { fitEetf } from '../../src/algorithms/eetfFit';
import { eetfKneeStart, eetfLuminance } from '../../src/colour/eetf';
import { pqEotf } from '../../src/colour/pq';
import { uniform } from '../colour/random';
import { RECORDS } from '../published/records';
import { expectRefused, normal, resultOf } from './expectations';
import { deviating, rolledOff } from './trackings';

describe('the EETF that fits', () => {
  test('a display mapping 4,000 to 800 cd/m² starts at 0.6400, 355.7 cd/m² (constructed)', () => {
    const fit = resultOf(fitEetf(rolledOff(4000, 800)));
    expect(fit.kneeStart.signal).toBeCloseTo(0.64, 4);
    expect(fit.kneeStart.luminance).toBeCloseTo(355.7, 1);
    expect(fit.peak).toBeCloseTo(800, 6);
    expect(fit.from).toBeCloseTo(4000, 4);
    expect(fit.rms).toBeLessThan(1e-9);
  });

  test.each([
    [10_000, 600, 0],
    [4000, 300, 0.2],
    [4000, 1000, -0.3],
    [1000, 800, 0.05],
  ])('is the one that was put in: %d to %d cd/m², %d stop brighter as a whole', (Lw, Lmax, offset) => {
    const fit = resultOf(fitEetf(rolledOff(Lw, Lmax, offset)));
    expect(fit.peak / (Lmax * 2 ** offset)).toBeCloseTo(1, 7);
    expect(fit.from / Lw).toBeCloseTo(1, 6);
    expect(fit.kneeStart.signal).toBeCloseTo(eetfKneeStart({ Lb: 0, Lw, Lmin: 0, Lmax }), 7);
  });

  test('goes through the published values of the report (4,000 to 1,000 and 10,000 to 600 cd/m²) it was made from', () => {
    const records = RECORDS.filter(({ fn, input }) => fn === 'eetf' && input.Lb === 0 && input.Lmin === 0);
    expect(records.length).toBeGreaterThan(5);
    for (const { input, expected } of records) {
      const fit = resultOf(fitEetf(rolledOff(input.Lw, input.Lmax)));
      const L = eetfLuminance(input.cd_m2_in, { Lb: 0, Lw: fit.from, Lmin: 0, Lmax: fit.peak });
      expect(L / (expected as { cd_m2: number }).cd_m2).toBeCloseTo(1, 6);
    }
  });

  test('comes near through 0.5 % of noise: peak within 1 %, start within 0.01 (50 runs)', () => {
    const exact = rolledOff(4000, 800);
    for (let seed = 1; seed <= 50; seed++) {
      const error = normal(uniform(seed));
      const fit = resultOf(fitEetf({ ...exact, luminance: Array.from(exact.luminance, (Y) => Y * (1 + 0.005 * error())) }));
      expect(Math.abs(fit.peak / 800 - 1)).toBeLessThan(0.01);
      expect(Math.abs(fit.kneeStart.signal - 0.64)).toBeLessThan(0.01);
    }
  });

  test('a display that cuts off starts at its peak', () => {
    const exact = rolledOff(4000, 800);
    const cut = { ...exact, luminance: Array.from(exact.signals, (s) => Math.min(pqEotf(s), 700)) };
    const fit = resultOf(fitEetf(cut));
    expect(fit.peak).toBeCloseTo(700, 3);
    expect(fit.kneeStart.luminance / 700).toBeCloseTo(1, 2);
  });

  test('says how far off a display is that rolls off otherwise', () => {
    // Signals come out as they are up to 0.55, stand at 0.52 to 0.7, and end at 0.65.
    const out = (s: number) => (s <= 0.55 ? s : s <= 0.7 ? 0.52 : 0.65);
    const exact = rolledOff(4000, 800);
    const own = { ...exact, luminance: Array.from(exact.signals, (s) => pqEotf(out(s))) };
    expect(resultOf(fitEetf(own)).rms).toBeGreaterThan(0.1);
  });

  test('is refused where there is no roll-off, and for two rows on it', () => {
    expectRefused(fitEetf(rolledOff(4000, 800, 0, 12)), 'no-roll-off', { level: 60 });
    expectRefused(fitEetf(rolledOff(4000, 800, 0, 14)), 'too-few-rows', { count: 3, found: 2 });
    expectRefused(fitEetf(deviating([[0.8, 0]])), 'no-mid-tones');
  });
});
