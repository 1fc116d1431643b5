import { describe, expect, test } from 'vitest';
import { normalCdf, normalQuantile } from '../../src/uncertainty/normal';

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
