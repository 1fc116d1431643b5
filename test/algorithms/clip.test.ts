import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clip, highlight } from '../../src/algorithms/clip';
import { pqInverse } from '../../src/colour/pq';
import { uniform } from '../colour/random';
import { expectRefused, normal, resultOf } from './expectations';
import { rolledOff } from './trackings';

const steps = (luminance: readonly number[], u = 0.001) => ({
  signals: luminance.map((_, i) => (i + 1) / 10),
  luminance,
  u: luminance.map(() => u),
});

describe('the clip', () => {
  test('of the EETF from 4,000 to 800 cd/m², read with 0.5 % of noise on a 5 % grid, is at 0.85 with a peak of 800 (constructed)', () => {
    const exact = rolledOff(4000, 800);
    const peaks: number[] = [];
    let at85 = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const error = normal(uniform(seed));
      const luminance = Array.from(exact.luminance, (Y) => Y * (1 + 0.005 * error()));
      const found = resultOf(clip({ ...exact, luminance }));
      if (found.found && found.signal === 0.85) at85++;
      peaks.push(found.peak);
    }
    // 794.85 is read at 85 %; it misses 0.985·P about once in twelve times.
    expect(at85).toBeGreaterThan(170);
    expect(peaks.reduce((a, b) => a + b) / peaks.length).toBeCloseTo(800, -1);
    expect(resultOf(clip(exact))).toEqual({ found: true, signal: 0.85, row: 17, peak: expect.closeTo(800, 9) });
  });

  test('is the lowest level from which all readings are on the plateau (worked by hand)', () => {
    // Medians of three: 200, 400, 600, 600, 600: P = 600. 594 is (1 − 0.01)·600: on the plateau.
    expect(resultOf(clip(steps([100, 200, 400, 594, 600, 600, 601])))).toEqual({ found: true, signal: 0.4, row: 3, peak: 600 });
    // 593.9 is not.
    expect(resultOf(clip(steps([100, 200, 400, 593.9, 600, 600, 601])))).toEqual({ found: true, signal: 0.5, row: 4, peak: 600 });
    // A stray 660 makes no plateau of its own, a dip in the middle starts it anew.
    expect(resultOf(clip(steps([100, 600, 660, 600, 580, 598, 600, 600])))).toMatchObject({ signal: 0.6, peak: 600 });
  });

  test('takes rows by their signal, whatever their order, and passes over those without a reading', () => {
    const run = { signals: [0.9, 0.5, 0.8, 0.7, 0.6], luminance: [600, 300, 600, Number.NaN, 600], u: [0, 0, 0, 0, 0] };
    expect(resultOf(clip(run))).toEqual({ found: true, signal: 0.6, row: 4, peak: 600 });
  });

  test('takes rows of one signal in the order of the run', () => {
    const twice = (first: number, second: number) => {
      const luminance = [100, 300, first, second, 600, 600];
      return resultOf(clip({ signals: [0.1, 0.2, 0.3, 0.3, 0.4, 0.5], luminance, u: luminance.map(() => 0) }));
    };
    expect(twice(500, 600)).toEqual({ found: true, signal: 0.3, row: 3, peak: 600 });
    // The lower reading comes second, so that the plateau begins behind it.
    expect(twice(600, 500)).toMatchObject({ found: false });
  });

  test('is nowhere while the luminance rises, and when it falls again', () => {
    expect(resultOf(clip(steps([100, 200, 400, 600])))).toEqual({ found: false, upTo: 0.4, falls: false, peak: 400 });
    expect(resultOf(clip(steps([100, 600, 600, 600, 500])))).toEqual({ found: false, upTo: 0.5, falls: true, peak: 600 });
    // Two rows are none; nor is one that was read ten times.
    expect(resultOf(clip(steps([100, 300, 596, 600])))).toMatchObject({ found: false, falls: false });
    expect(resultOf(clip(steps([100, 300, 596, 650]), [1, 1, 1, 10]))).toMatchObject({ found: false, falls: false });
  });

  test('may stand on two rows that were read three times together, but not on two of a rise', () => {
    expect(resultOf(clip(steps([100, 300, 596, 600]), [1, 1, 2, 1]))).toEqual({ found: true, signal: 0.3, row: 2, peak: 596 });
    expect(resultOf(clip(steps([100, 300, 596, 605]), [1, 1, 2, 2]))).toMatchObject({ found: false });
  });

  test('is nowhere where the highest level rises again, or in the dark where the meter says nothing', () => {
    expect(resultOf(clip(steps([20, 50, 99.5, 100, 200])))).toMatchObject({ found: false, falls: false });
    const [signals, luminance, u] = [
      [0.1, 0.2, 0.6, 0.7, 0.8],
      [0.01, 0.02, 600, 600, 600],
      [0.5, 0.4, 0.01, 0.01, 0.01],
    ];
    expect(resultOf(clip({ signals, luminance, u }))).toEqual({ found: true, signal: 0.6, row: 2, peak: 600 });
  });

  test('gives an uncertain meter three standard uncertainties of room', () => {
    expect(resultOf(clip(steps([100, 580, 600, 600, 600], 0.01)))).toMatchObject({ signal: 0.3 });
    expect(resultOf(clip(steps([100, 582, 600, 600, 600], 0.01)))).toMatchObject({ signal: 0.2 });
  });

  test('is refused with fewer than three rows that have a reading', () => {
    expectRefused(clip(steps([100, 100])), 'too-few-rows', { count: 3, found: 2 });
    expectRefused(clip(steps([100, 100, 0, Number.NaN])), 'too-few-rows', { count: 3, found: 2 });
    expectRefused(clip(steps([1, 2, 3]), [1]), 'lengths-differ');
  });

  test('does not change with the unit, and every reading from it on is near the peak (property)', () => {
    const run = fc
      .array(fc.double({ min: 0.1, max: 1000, noNaN: true }), { minLength: 3, maxLength: 15 })
      .map((list) => list.sort((a, b) => a - b));
    fc.assert(
      fc.property(run, fc.constantFrom(0.25, 2, 64), (luminance, unit) => {
        const found = resultOf(clip(steps(luminance)));
        expect(resultOf(clip(steps(luminance.map((Y) => Y * unit))))).toEqual({ ...found, peak: found.peak * unit });
        if (found.found) for (const Y of luminance.slice(found.row)) expect(Y).toBeGreaterThanOrEqual(0.99 * found.peak);
      }),
    );
  });
});

describe('the share of highlights kept apart', () => {
  test('is 0.8367 for a clip at 0.85 and mastering to 4,000 cd/m² (constructed)', () => {
    expect(resultOf(highlight(0.85, 4000))).toBeCloseTo(0.8367, 4);
  });

  test('is all at the mastering peak and above, nothing at reference white and below, half in the middle', () => {
    const [grey, top] = [pqInverse(203), pqInverse(1000)];
    expect(resultOf(highlight(top, 1000))).toBe(1);
    expect(resultOf(highlight(1, 1000))).toBe(1);
    expect(resultOf(highlight(0.4, 1000))).toBe(0);
    expect(resultOf(highlight((grey + top) / 2, 1000))).toBeCloseTo(0.5, 12);
  });

  test('does not exist for a mastering peak without highlights', () => {
    expectRefused(highlight(0.6, 203), 'mastering-dim', { peak: 203 });
    expectRefused(highlight(0.6, Number.NaN), 'mastering-dim');
  });
});
