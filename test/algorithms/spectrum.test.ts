import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkSpectrum, spectrumPeaks } from '../../src/algorithms/spectrum';
import { ILLUMINANT_WAVELENGTHS, ILLUMINANTS } from '../published/illuminants';
import { expectRefused, resultOf } from './expectations';

const grid = (from: number, to: number, step: number) =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);
const gaussian = (nm: number, centre: number, sigma: number) => Math.exp(-0.5 * ((nm - centre) / sigma) ** 2);
/** Full width at half maximum over standard deviation of a Gaussian. */
const FWHM = 2 * Math.sqrt(2 * Math.log(2));

describe('the peaks of a spectrum', () => {
  test.each([
    [1, 0.02, 0.02],
    [4, 0.1, 0.3],
    [5, 0.2, 0.4],
  ])('are those of the Gaussians it was made of, in steps of %d nm: within %d nm, widths within %d nm', (step, near, wide) => {
    const nm = grid(380, 780, step);
    const lights: [number, number, number][] = [
      [452.3, 9, 1],
      [531.7, 14, 0.5],
      [627.1, 11, 0.8],
    ];
    const peaks = resultOf(
      spectrumPeaks(
        nm,
        nm.map((w) => lights.reduce((sum, [centre, sigma, height]) => sum + height * gaussian(w, centre, sigma), 0)),
      ),
    );
    expect(peaks).toHaveLength(3);
    peaks.forEach(({ wavelength, height, width }, i) => {
      const [centre, sigma, high] = lights[i]!;
      expect(Math.abs(wavelength - centre)).toBeLessThan(near);
      expect(Math.abs(height - high)).toBeLessThan(0.02);
      expect(Math.abs(resultOf(width) - FWHM * sigma)).toBeLessThan(wide);
    });
  });

  test('have a vertex and a width between samples (worked by hand)', () => {
    // A parabola 4 − (λ − 500)² sampled at 499, 500.5, 502: the vertex is exact. Half of 4 is 2, straight lines to it.
    const peaks = resultOf(spectrumPeaks([490, 499, 500.5, 502, 510], [0, 3, 3.75, 0, 0]));
    expect(peaks[0]!.wavelength).toBeCloseTo(500, 12);
    expect(peaks[0]!.height).toBeCloseTo(4, 12);
    // Left from 490 (0) to 499 (3): 2 at 496. Right from 500.5 (3.75) to 502 (0): 2 at 501.2.
    expect(resultOf(peaks[0]!.width)).toBeCloseTo(501.2 - 496, 12);
    // A triangle: 0 at 500, 2 at 510, 0 at 520.
    const triangle = resultOf(spectrumPeaks([490, 500, 510, 520, 530], [0, 0, 2, 0, 0]));
    expect(triangle[0]).toMatchObject({ wavelength: 510, height: 2 });
    expect(resultOf(triangle[0]!.width)).toBe(10);
    // A flat top is one peak in its middle.
    const flat = resultOf(spectrumPeaks([500, 510, 520, 530, 550], [0, 2, 2, 2, 0]));
    expect(flat).toEqual([{ wavelength: 520, height: 2, width: { ok: true, v: 35 } }]);
  });

  test('are no higher than three samples support where steps differ (worked by hand)', () => {
    // The parabola through the first three rises to 3.27. Half of 1: 500.5 on the left; from 511 (0.99) to 520 (0.1) on the right.
    const steep = resultOf(spectrumPeaks([500, 501, 511, 520, 530], [0, 1, 0.99, 0.1, 0]));
    expect(steep).toMatchObject([{ wavelength: 501, height: 1 }]);
    expect(resultOf(steep[0]!.width)).toBeCloseTo(511 + (9 * 0.49) / 0.89 - 500.5, 12);
    // 4 − (λ − 500)²/100 at 491, 499 and 512, of steps 8 and 13: still its own vertex.
    const broad = resultOf(spectrumPeaks([470, 491, 499, 512, 540], [0, 3.19, 3.99, 2.56, 0]));
    expect(broad[0]!.wavelength).toBeCloseTo(500, 9);
    expect(broad[0]!.height).toBeCloseTo(4, 9);
  });

  test('have a width above 0 and lie within an eighth above their sample, whatever the steps (property)', () => {
    const samples = fc.array(fc.tuple(fc.integer({ min: 1, max: 15 }), fc.integer({ min: 0, max: 50 })), { minLength: 3, maxLength: 20 });
    fc.assert(
      fc.property(samples, (list) => {
        const values = list.map(([, value]) => value);
        fc.pre(values.some((v) => v > 0));
        let at = 400;
        const nm = list.map(([step]) => {
          at += step;
          return at;
        });
        for (const { height, width } of resultOf(spectrumPeaks(nm, values))) {
          expect(height).toBeLessThanOrEqual(1.125 * Math.max(...values));
          if (width.ok) expect(width.v).toBeGreaterThan(0);
        }
      }),
    );
  });

  test('stand out: a ripple of 4 % is none, a notch in a broad top makes no second one, a valley does', () => {
    const wavelengthsOf = (values: readonly number[]) =>
      resultOf(
        spectrumPeaks(
          values.map((_, i) => 500 + 10 * i),
          values,
        ),
      ).map(({ wavelength }) => Math.round(wavelength));
    expect(wavelengthsOf([0, 0.5, 1, 0.5, 0.1, 0.14, 0])).toEqual([520]);
    expect(wavelengthsOf([0, 0.5, 1, 0.5, 0.1, 0.16, 0])).toHaveLength(2);
    expect(wavelengthsOf([0, 1, 0.97, 1, 0])).toHaveLength(1);
    expect(wavelengthsOf([0, 1, 0.2, 1, 0])).toHaveLength(2);
    expect(wavelengthsOf([0.9, 1, 0.97, 0.98, 0.1])).toHaveLength(1);
    expect(wavelengthsOf([1, 0.5, 0.2, 0.1, 0.05])).toEqual([]);
  });

  test('have no width where the spectrum ends, or another peak comes, before half', () => {
    const high = resultOf(spectrumPeaks([700, 710, 720, 730], [0.8, 0.9, 1, 0.2]));
    expectRefused(high[0]!.width, 'half-not-reached');
    const merged = resultOf(spectrumPeaks([500, 510, 520, 530, 540], [0, 1, 0.7, 0.9, 0]));
    expect(merged).toHaveLength(2);
    for (const { width } of merged) expectRefused(width, 'peaks-merged');
  });

  test('keep their place and width when the spectrum is brighter (property)', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 50 }), { minLength: 3, maxLength: 40 }),
        fc.constantFrom(0.5, 4, 1024),
        (values, by) => {
          fc.pre(values.some((v) => v > 0));
          const nm = values.map((_, i) => 400 + 5 * i);
          const plain = resultOf(spectrumPeaks(nm, values));
          const brighter = resultOf(
            spectrumPeaks(
              nm,
              values.map((v) => v * by),
            ),
          );
          expect(brighter).toEqual(plain.map((peak) => ({ ...peak, height: peak.height * by })));
        },
      ),
    );
  });
});

describe('what is a spectrum', () => {
  test('is daylight in steps of 5 nm (CIE 15)', () => {
    expect(checkSpectrum(ILLUMINANT_WAVELENGTHS, ILLUMINANTS.d65)).toBeUndefined();
  });

  test('is not what falls back, lies outside 360 to 830 nm, is negative, dark, short or no number: the first such sample is named', () => {
    const wrong = (nm: readonly number[], values: readonly number[]) => checkSpectrum(nm, values)!;
    expectRefused(wrong([400, 410, 410], [1, 1, 1]), 'wavelengths-unsorted', { nm: 410 });
    expectRefused(wrong([400, 420, 410], [1, 1, 1]), 'wavelengths-unsorted', { nm: 410 });
    expectRefused(wrong([359, 400, 500], [1, 1, 1]), 'wavelength-outside', { nm: 359, first: 360, last: 830 });
    expectRefused(wrong([400, 500, 830.5], [1, 1, 1]), 'wavelength-outside', { nm: 830.5 });
    expectRefused(wrong([400, 500, 600], [1, -0.001, -1]), 'power-negative', { nm: 500 });
    expectRefused(wrong([400, 500, 600], [0, 0, 0]), 'spectrum-dark');
    expectRefused(wrong([400, 500], [1, 1]), 'too-few-rows', { found: 2 });
    expectRefused(wrong([400, 500, 600], [1, Number.NaN, 1]), 'not-finite', { at: 2 });
    expectRefused(wrong([400, 500, 600], [1, 1]), 'lengths-differ', { counts: '3, 2' });
    expectRefused(spectrumPeaks([400, 500, 600], [0, 0, 0]), 'spectrum-dark');
  });
});
