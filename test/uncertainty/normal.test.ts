import { describe, expect, test } from 'vitest';
import { maximumFactor, normalCdf, normalQuantile } from '../../src/uncertainty/normal';
import { normal, stream } from '../display/random';

describe('the normal distribution', () => {
  test.each([
    // Abramowitz & Stegun, Tables 26.1 and 26.5; from memory.
    [0.5, 0],
    [0.841344746068543, 1],
    [0.95, 1.64485362695147],
    [0.975, 1.95996398454005],
    [0.977249868051821, 2],
    [0.99865010196837, 3],
    // mpmath, 40 digits.
    [1e-6, -4.753424308822899],
    [1e-12, -7.034483825301131],
  ])('has probability %d below z = %d', (p, z) => {
    expect(normalQuantile(p)).toBeCloseTo(z, 12);
    expect(Math.abs(normalCdf(z) / p - 1)).toBeLessThan(1e-12);
  });

  test('its inverse undoes it from −8 to 5', () => {
    for (let z = -8; z <= 5; z += 0.01) expect(Math.abs(normalQuantile(normalCdf(z)) - z)).toBeLessThan(1e-9);
  });

  test('ends at infinity, and has no value outside', () => {
    expect([0, 1, -0.1, 1.1, Number.NaN].map(normalQuantile)).toEqual([
      Number.NEGATIVE_INFINITY,
      Number.POSITIVE_INFINITY,
      Number.NaN,
      Number.NaN,
      Number.NaN,
    ]);
  });
});

describe('the factor of the maximum test', () => {
  test('is 2.800 for 10 and 3.016 for 20 differences (constructed), and 1.960 for one', () => {
    expect(maximumFactor(10)).toBeCloseTo(2.8, 3);
    expect(maximumFactor(20)).toBeCloseTo(3.016, 3);
    expect(maximumFactor(1)).toBeCloseTo(1.959964, 6);
  });

  test('lets chance through in one case of twenty (10,000 sets of 15 errors)', () => {
    const chance = stream('fifteen errors');
    const k = maximumFactor(15);
    let exceeded = 0;
    for (let i = 0; i < 10_000; i++) {
      let most = 0;
      for (let j = 0; j < 15; j++) most = Math.max(most, Math.abs(normal(chance)));
      if (most > k) exceeded++;
    }
    // Three standard deviations of a count of 500.
    expect(Math.abs(exceeded - 500)).toBeLessThan(3 * Math.sqrt(10_000 * 0.05 * 0.95));
  });
});
