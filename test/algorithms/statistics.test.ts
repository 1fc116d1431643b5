import { describe, expect, test } from 'vitest';
import { maximumFactor, normalQuantile, normalTail } from '../../src/algorithms/normal';
import { median, statistics } from '../../src/algorithms/statistics';
import { uniform } from '../colour/random';
import { expectRefused, normal, resultOf } from './expectations';

describe('repeated readings', () => {
  test('of an even number have the mean of the two middle ones as median', () => {
    expect(resultOf(statistics([4, 1, 3, 2]))).toMatchObject({ n: 4, mean: 2.5, median: 2.5 });
  });

  test('keep their scatter on top of a large level', () => {
    const { spread } = resultOf(statistics([1e9 + 1, 1e9 + 2, 1e9 + 3]));
    expect(spread!.sd).toBe(1);
    expect(spread!.se).toBeCloseTo(1 / Math.sqrt(3), 15);
  });

  test('have no deviation when there is one', () => {
    expect(resultOf(statistics([20.5]))).toEqual({ n: 1, mean: 20.5, median: 20.5 });
  });

  test('are refused when there are none, or one is no number', () => {
    expectRefused(statistics([]), 'too-few-rows', { found: 0 });
    expectRefused(statistics([1, Number.NaN]), 'not-finite', { at: 2 });
    expectRefused(statistics([Number.POSITIVE_INFINITY]), 'not-finite', { at: 1 });
  });

  test('leave the list as it was', () => {
    const list = [3, 1, 2];
    expect(median(list)).toBe(2);
    expect(list).toEqual([3, 1, 2]);
    expect(median([])).toBeNaN();
    expect(median([1, Number.NaN, 2])).toBeNaN();
  });
});

/** Simpson's rule on the density, from x to 12: an independent way to the tail. */
function tailBySimpson(x: number): number {
  const n = 20_000;
  const h = (12 - x) / n;
  let sum = 0;
  for (let i = 0; i <= n; i++) sum += (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * Math.exp(-0.5 * (x + i * h) ** 2);
  return (sum * h) / 3 / Math.sqrt(2 * Math.PI);
}

describe('the normal distribution', () => {
  test.each([
    [0.5, 0],
    [0.1, 1.2815515655446],
    [0.025, 1.9599639845401],
    [0.005, 2.5758293035489],
    [0.0005, 3.2905267314919],
  ])('is exceeded by %d at %d (tables of critical values, NIST/SEMATECH e-Handbook 1.3.6.7.1, digits from memory)', (tail, x) => {
    expect(normalQuantile(tail)).toBeCloseTo(x, 12);
  });

  test.each([-4, -3.5, -3, -1, 0, 0.3, 1, 2.9, 3, 3.1, 5, 7])('has the tail at %d that its density adds up to', (x) => {
    expect(normalTail(x) / tailBySimpson(x)).toBeCloseTo(1, 11);
  });

  test('has a quantile that is the inverse of its tail, from 1e-300 to 1', () => {
    for (const tail of [1e-300, 1e-20, 1e-6, 0.2, 0.8]) expect(normalTail(normalQuantile(tail)) / tail).toBeCloseTo(1, 10);
    expect(normalQuantile(0)).toBe(Number.POSITIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(-0.1)).toBeNaN();
    expect(normalQuantile(Number.NaN)).toBeNaN();
    expect(normalTail(Number.NaN)).toBeNaN();
  });
});

describe('the factor of the maximum test', () => {
  test('is 2.800 for 10 and 3.016 for 20 differences (constructed), and 1.960 for one', () => {
    expect(maximumFactor(10)).toBeCloseTo(2.8, 3);
    expect(maximumFactor(20)).toBeCloseTo(3.016, 3);
    expect(maximumFactor(1)).toBeCloseTo(1.959964, 6);
  });

  test('lets chance through in one case of twenty (10,000 sets of 15 errors, seed 95)', () => {
    const error = normal(uniform(95));
    const k = maximumFactor(15);
    let exceeded = 0;
    for (let i = 0; i < 10_000; i++) {
      let most = 0;
      for (let j = 0; j < 15; j++) most = Math.max(most, Math.abs(error()));
      if (most > k) exceeded++;
    }
    // Three standard deviations of a count of 500.
    expect(Math.abs(exceeded - 500)).toBeLessThan(3 * Math.sqrt(10_000 * 0.05 * 0.95));
  });
});
