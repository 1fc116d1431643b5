import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  bt709Oetf,
  bt1886Eotf,
  bt1886Inverse,
  powerEotf,
  powerInverse,
  powerOverBlackEotf,
  powerOverBlackInverse,
  srgbEotf,
  srgbInverse,
} from '../../src/colour/curves';
import { eetf, eetfKneeStart, eetfLuminance } from '../../src/colour/eetf';
import { hlgEotf, hlgEotfGrey, hlgInverseGrey, hlgInverseOetf, hlgOetf, hlgSystemGamma } from '../../src/colour/hlg';
import { pqEotf, pqInverse } from '../../src/colour/pq';
import { asSent, codeToSignal, type SignalFormat, signalToCode } from '../../src/colour/quantise';

const signal = fc.double({ min: 0, max: 1, noNaN: true });

describe('curves', () => {
  test('come back to the signal they started from', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 1, noNaN: true }), fc.double({ min: 0, max: 0.5, noNaN: true }), (V, Lb) => {
        const curve = { gamma: 2.4, Lw: 120, Lb };
        expect(powerInverse(powerEotf(V, curve), curve)).toBeCloseTo(V, 10);
        expect(powerOverBlackInverse(powerOverBlackEotf(V, curve), curve)).toBeCloseTo(V, 6);
        expect(bt1886Inverse(bt1886Eotf(V, curve), curve)).toBeCloseTo(V, 10);
        expect(srgbInverse(srgbEotf(V))).toBeCloseTo(V, 10);
        expect(pqInverse(pqEotf(V))).toBeCloseTo(V, 10);
        expect(hlgOetf(hlgInverseOetf(V))).toBeCloseTo(V, 10);
        expect(hlgInverseGrey(hlgEotfGrey(V, { Lw: 1000, Lb }), { Lw: 1000, Lb })).toBeCloseTo(V, 8);
      }),
      { seed: 1886, numRuns: 500 },
    );
  });

  test('never fall as the signal rises', () => {
    fc.assert(
      fc.property(signal, signal, (a, b) => {
        const [low, high] = a < b ? [a, b] : [b, a];
        const range = { Lb: 0, Lw: 4000, Lmin: 0.01, Lmax: 600 };
        expect(bt1886Eotf(high, { Lw: 100, Lb: 0.05 })).toBeGreaterThanOrEqual(bt1886Eotf(low, { Lw: 100, Lb: 0.05 }));
        expect(pqEotf(high)).toBeGreaterThanOrEqual(pqEotf(low));
        expect(hlgEotfGrey(high, { Lw: 1000 })).toBeGreaterThanOrEqual(hlgEotfGrey(low, { Lw: 1000 }));
        expect(eetf(high, range)).toBeGreaterThanOrEqual(eetf(low, range) - 1e-12);
      }),
      { seed: 2084, numRuns: 500 },
    );
  });

  test('BT.1886 starts at the black, ends at the white and is a plain power law over no black', () => {
    expect(bt1886Eotf(0, { Lw: 100, Lb: 0.05 })).toBeCloseTo(0.05, 12);
    expect(bt1886Eotf(1, { Lw: 100, Lb: 0.05 })).toBeCloseTo(100, 10);
    expect(bt1886Eotf(0.3, { Lw: 100, Lb: 0 })).toBeCloseTo(powerEotf(0.3, { gamma: 2.4, Lw: 100 }), 12);
    expect(bt1886Eotf(-1, { Lw: 100, Lb: 0.05 })).toBe(0);
    expect(bt1886Eotf(0.5, { Lw: 10, Lb: 10 })).toBeCloseTo(10, 12);
  });

  test('power laws give no light below black and go on above white', () => {
    expect(powerEotf(-0.05, { gamma: 2.4, Lw: 100 })).toBe(0);
    expect(powerOverBlackEotf(-0.05, { gamma: 2.4, Lw: 100, Lb: 0.1 })).toBe(0.1);
    expect(powerEotf(1.09, { gamma: 2.4, Lw: 100 })).toBeGreaterThan(122);
    expect(powerInverse(-1, { gamma: 2.4, Lw: 100 })).toBe(0);
  });

  test('the two parts of sRGB and of BT.709 meet', () => {
    expect(srgbEotf(0.04045)).toBeCloseTo(srgbEotf(0.0404500001), 7);
    expect(bt709Oetf(0.018)).toBeCloseTo(4.5 * 0.018, 3);
  });

  test('NaN stays NaN', () => {
    expect(powerEotf(Number.NaN, { gamma: 2.4, Lw: 100 })).toBeNaN();
    expect(bt1886Eotf(Number.NaN, { Lw: 100, Lb: 0 })).toBeNaN();
    expect(pqEotf(Number.NaN)).toBeNaN();
    expect(pqInverse(Number.NaN)).toBeNaN();
    expect(hlgEotfGrey(Number.NaN, { Lw: 1000 })).toBeNaN();
    expect(eetf(Number.NaN, { Lb: 0, Lw: 4000, Lmin: 0, Lmax: 800 })).toBeNaN();
    expect(signalToCode(Number.NaN, { range: 'full', depth: 8 })).toBeNaN();
  });
});

describe('PQ', () => {
  test('ends at its ends: 0 and 10,000 cd/m²', () => {
    expect(pqEotf(-0.1)).toBe(0);
    expect(pqEotf(1.09)).toBe(10000);
    expect(pqInverse(20000)).toBe(1);
    expect(pqInverse(-1)).toBe(pqInverse(0));
    expect(pqInverse(0)).toBeCloseTo(7.3096e-7, 10);
  });
});

describe('HLG', () => {
  test('the extended system gamma takes over outside 400 … 2,000 cd/m² with a step of 0.011 at most (BT.2390)', () => {
    for (const edge of [400, 2000]) {
      expect(Math.abs(hlgSystemGamma(edge * 0.999999) - hlgSystemGamma(edge * 1.000001))).toBeLessThan(0.0115);
    }
    expect(hlgSystemGamma(1000)).toBe(1.2);
  });

  test('a grey through the RGB way is the grey, black lift and all', () => {
    for (const V of [0, 0.1, 0.5, 0.75, 1]) {
      const display = { Lw: 1000, Lb: 0.02 };
      for (const light of hlgEotf([V, V, V], display)) expect(light).toBeCloseTo(hlgEotfGrey(V, display), 9);
    }
    expect(hlgEotf([0, 0, 0], { Lw: 1000 })).toEqual([0, 0, 0]);
  });

  test('signal 0 gives the black and signal 1 the peak (BT.2100 Table 5)', () => {
    expect(hlgEotfGrey(0, { Lw: 600, Lb: 0.05 })).toBeCloseTo(0.05, 12);
    expect(hlgEotfGrey(1, { Lw: 600, Lb: 0.05 })).toBeCloseTo(600, 4);
  });
});

describe('the EETF', () => {
  test('leaves alone what a display as able as the mastering one shows', () => {
    const range = { Lb: 0, Lw: 1000, Lmin: 0, Lmax: 1000 };
    for (const L of [0.01, 1, 100, 999]) expect(eetfLuminance(L, range)).toBeCloseTo(L, 6);
  });

  test('ends at the peak of the display, and stays there beyond the mastered peak', () => {
    const range = { Lb: 0, Lw: 4000, Lmin: 0, Lmax: 800 };
    expect(eetfLuminance(4000, range)).toBeCloseTo(800, 6);
    expect(eetfLuminance(10000, range)).toBeCloseTo(800, 6);
  });

  test('starts to roll off without a step, at its knee', () => {
    const range = { Lb: 0, Lw: 4000, Lmin: 0, Lmax: 800 };
    const knee = eetfKneeStart(range);
    expect(eetf(knee - 1e-4, range)).toBeCloseTo(knee - 1e-4, 9);
    expect(eetf(knee + 1e-4, range)).toBeCloseTo(knee + 1e-4, 6);
    expect(eetf(knee + 0.05, range)).toBeLessThan(knee + 0.05);
  });

  test('of a mastered range without extent is not a number', () => {
    expect(eetf(0.5, { Lb: 1000, Lw: 1000, Lmin: 0, Lmax: 800 })).toBeNaN();
    expect(eetfKneeStart({ Lb: 1000, Lw: 1000, Lmin: 0, Lmax: 800 })).toBeNaN();
  });
});

describe('codes', () => {
  const formats: readonly SignalFormat[] = (['limited', 'full'] as const).flatMap((range) =>
    [8, 10, 12, 16].map((depth) => ({ range, depth })),
  );

  test('decode to the signal that encodes to them, every one of 8 and 10 bits', () => {
    for (const format of formats.filter((f) => f.depth <= 10))
      for (let code = 0; code < 2 ** format.depth; code++) expect(signalToCode(codeToSignal(code, format), format)).toBe(code);
  });

  test('of a level are never further than half a code from it', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 100, noNaN: true }), fc.constantFrom(...formats), (percent, format) => {
        const { code, signal: sent } = asSent(percent, format);
        expect(Number.isInteger(code)).toBe(true);
        const step = codeToSignal(1, format) - codeToSignal(0, format);
        expect(Math.abs(sent - percent / 100)).toBeLessThanOrEqual(step / 2 + 1e-9);
      }),
      { seed: 2100, numRuns: 1000 },
    );
  });

  test('round halves up, also where the product falls short by a last bit', () => {
    for (const percent of [10, 30, 50, 70, 90]) {
      expect(asSent(percent, { range: 'full', depth: 8 }).code).toBe(Math.ceil((255 * percent) / 100));
      expect(signalToCode(percent / 100, { range: 'full', depth: 8 })).toBe(Math.ceil((255 * percent) / 100));
    }
  });

  test('stop at the ends of the scale, and head- and footroom decode beyond 0 and 1', () => {
    const format = { range: 'limited', depth: 8 } as const;
    expect(signalToCode(2, format)).toBe(255);
    expect(signalToCode(-1, format)).toBe(0);
    expect(codeToSignal(255, format)).toBeCloseTo(1.0913, 4);
    expect(codeToSignal(0, format)).toBeCloseTo(-0.0731, 4);
    expect(asSent(109, format).code).toBe(255);
  });
});
