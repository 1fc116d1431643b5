import { describe, expect, test } from 'vitest';
import { maximumFactor, normalCdf, normalQuantile } from '../../src/uncertainty/normal';
import { normal, stream } from '../display/random';

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
    [0.1, 1.2815515655446],
    [0.025, 1.9599639845401],
    [0.005, 2.5758293035489],
    [0.0005, 3.2905267314919],
  ])('is exceeded by %d at %d (tables of critical values, NIST/SEMATECH e-Handbook 1.3.6.7.1, digits from memory)', (tail, x) => {
    expect(-normalQuantile(tail)).toBeCloseTo(x, 12);
  });

  test.each([-4, -3, -1, 0, 0.3, 1, 2.9, 3.1, 5, 7])('has the tail beyond %d that its density adds up to', (x) => {
    expect(normalCdf(-x) / tailBySimpson(x)).toBeCloseTo(1, 11);
  });

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
