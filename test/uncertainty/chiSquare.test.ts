import { describe, expect, test } from 'vitest';
import { chiSquareCdf, chiSquareQuantile, nonCentral, nonCentralCdf, noncentrality } from '../../src/uncertainty/chiSquare';
import { gammaP, gammaQ } from '../../src/uncertainty/gamma';
import { normalCdf, normalDensity } from '../../src/uncertainty/normal';
import { normal, stream } from '../display/random';

describe('χ²', () => {
  test.each([
    // Percentage points, E. S. Pearson & H. O. Hartley, Biometrika Tables for Statisticians I, Table 8; from memory.
    [1, [0.001, 0.004, 0.455, 3.841, 5.024, 6.635]],
    [2, [0.051, 0.103, 1.386, 5.991, 7.378, 9.21]],
    [3, [0.216, 0.352, 2.366, 7.815, 9.348, 11.345]],
    [10, [3.247, 3.94, 9.342, 18.307, 20.483, 23.209]],
  ])('with %d degrees of freedom has the percentage points of the tables', (k, points) => {
    [0.025, 0.05, 0.5, 0.95, 0.975, 0.99].forEach((p, i) => {
      expect(chiSquareQuantile(p, k)).toBeCloseTo(points[i]!, 3);
    });
  });

  test('its inverse undoes it, whole degrees of freedom or not, from the far lower to the far upper tail', () => {
    for (const k of [1, 1.3, 2, 2.4, 3, 30, 300, 30_000]) {
      for (const p of [1e-6, 0.001, 0.025, 0.4, 0.5, 0.975, 1 - 1e-6]) {
        expect(Math.abs(chiSquareCdf(chiSquareQuantile(p, k), k) / p - 1)).toBeLessThan(1e-12);
      }
    }
  });

  test('the two incomplete gamma functions make 1, and steps of the order are Poisson terms', () => {
    for (const [a, x] of [
      [0.5, 0.1],
      [3, 3.9],
      [3, 4.1],
      [40, 12],
      [15_000, 15_100],
      [1e6, 998_000],
    ] as const) {
      expect(gammaP(a, x) + gammaQ(a, x)).toBeCloseTo(1, 12);
    }
    expect(gammaP(3, 2)).toBeCloseTo(1 - Math.exp(-2) * (1 + 2 + 2), 14);
  });

  test('what is not a number stays none', () => {
    expect([
      chiSquareCdf(Number.NaN, 3),
      chiSquareCdf(3, Number.NaN),
      nonCentralCdf(3, 3, Number.NaN),
      noncentrality(Number.NaN, 3, 0.5),
    ]).toEqual([Number.NaN, Number.NaN, Number.NaN, Number.NaN]);
  });
});

/** The Rice distribution, k = 2, by Simpson's rule on its density with I₀ from its own integral: shares nothing with the sum. */
function byBessel(d: number, delta: number): number {
  const simpson = (f: (t: number) => number, to: number, n: number): number => {
    let sum = f(0) + f(to);
    for (let i = 1; i < n; i++) sum += (i % 2 ? 4 : 2) * f((to * i) / n);
    return (sum * to) / (3 * n);
  };
  // e^(−z)·I₀(z), kept from overflowing.
  const besselI0 = (z: number): number => simpson((t) => Math.exp(z * (Math.cos(t) - 1)), Math.PI, 400) / Math.PI;
  return simpson((r) => r * Math.exp(-0.5 * (r - delta) ** 2) * besselI0(r * delta), d, 400);
}

describe('non-central χ²', () => {
  test.each([
    // Summed in 40 digits with mpmath.
    [0.5, 1, 0, 0.5204998778130465],
    [2.25, 2, 10.4264, 0.02499035942429305],
    [9, 2, 0.483, 0.9750146797013526],
    [25, 3, 7.69, 0.9749709180273896],
    [25, 3, 46.08, 0.024991079659074215],
    [4, 2.4, 3.7, 0.3827376135340341],
    [0.01, 3, 0.2, 0.0002399792292785683],
    [40, 3, 100, 7.221366011849015e-5],
    [200, 1.3, 160, 0.9308039393454457],
    [9500, 3, 10_000, 0.005508084421593554],
    [101_000, 3, 100_000, 0.9422621936080672],
    [1_003_000, 3, 1_000_000, 0.9329174510456161],
    [998_000, 2, 1_000_000, 0.15841322265370858],
    [60, 63, 0, 0.41607266947372284],
    [30_200, 30_000, 100, 0.6587908449688425],
    [31_000, 30_000, 2000, 5.3826894898246546e-5],
    [130_500, 30_000, 100_000, 0.769698383654381],
    [1_029_000, 30_000, 1_000_000, 0.30997564001128847],
  ])('F(%d; %d, %d) is what 40 digits give', (x, k, lambda, F) => {
    expect(Math.abs(nonCentralCdf(x, k, lambda) - F)).toBeLessThan(1e-12);
  });

  test.each([
    // λ at which a test at the 0.05 level has the power given: G. E. Haynam, Z. Govindarajulu & F. C. Leone (1970); from memory.
    [0.8, [7.849, 9.635, 10.903]],
    [0.9, [10.507, 12.654, 14.171]],
  ])('gives a χ² test the power %d at the tabulated λ', (power, lambdas) => {
    lambdas.forEach((lambda, i) => {
      expect(1 - nonCentralCdf(chiSquareQuantile(0.95, i + 1), i + 1, lambda)).toBeCloseTo(power, 4);
    });
  });

  test('with 1 and 3 degrees of freedom is what the normal distribution gives', () => {
    for (const delta of [0.1, 1, 3, 12, 40]) {
      for (const d of [0.2, 1, delta - 1, delta, delta + 2.5]) {
        if (d <= 0) continue;
        const [less, more] = [d - delta, d + delta];
        const one = normalCdf(less) - normalCdf(-more);
        expect(Math.abs(nonCentralCdf(d * d, 1, delta * delta) - one)).toBeLessThan(1e-12);
        const three = one - (normalDensity(less) - normalDensity(more)) / delta;
        expect(Math.abs(nonCentralCdf(d * d, 3, delta * delta) - three)).toBeLessThan(1e-12);
      }
    }
  });

  test('with 2 degrees of freedom is the integral of the Bessel form', () => {
    for (const [d, delta] of [
      [0.7, 0.5],
      [1.5, 3.2],
      [3, 0.7],
      [6, 5],
    ] as const) {
      expect(Math.abs(nonCentralCdf(d * d, 2, delta * delta) - byBessel(d, delta))).toBeLessThan(1e-9);
    }
  });

  test('is how often a point at 2 of three standard deviations is seen within 2.5 (20,000 draws)', () => {
    const chance = stream('three dimensions');
    let inside = 0;
    for (let i = 0; i < 20_000; i++) inside += Number(Math.hypot(2 + normal(chance), normal(chance), normal(chance)) < 2.5);
    expect(Math.abs(inside / 20_000 - nonCentralCdf(2.5 ** 2, 3, 4))).toBeLessThan(3 * Math.sqrt(0.25 / 20_000));
  });

  test('its slope in λ is its difference quotient', () => {
    for (const [x, k, lambda] of [
      [9, 2, 4],
      [25, 3, 7.7],
      [30_500, 30_000, 400],
    ] as const) {
      const h = 1e-3 * lambda;
      const quotient = (nonCentralCdf(x, k, lambda + h) - nonCentralCdf(x, k, lambda - h)) / (2 * h);
      expect(nonCentral(x, k, lambda).slope / quotient).toBeCloseTo(1, 5);
    }
  });
});

describe('the inverse in λ', () => {
  test.each([
    // Constructed by independent code, no published source.
    [2, 1.5, 0, 3.229],
    [2, 3, 0.695, 4.828],
    [3, 5, 2.773, 6.788],
  ])('with %d degrees of freedom and d = %d goes from %d to %d', (k, d, lo, hi) => {
    expect(noncentrality(d, k, 0.975)).toBeCloseTo(lo, 3);
    expect(noncentrality(d, k, 0.025)).toBeCloseTo(hi, 3);
  });

  test('is undone by F to 1e-6 of a standard deviation: by Newton to 1e-9, far out by the closed form', () => {
    for (const k of [1, 1.2, 1.7, 2, 2.5, 3, 4.5, 6, 20, 100]) {
      for (let d = 0.5; d < 90; d *= 1.07) {
        for (const p of [2.5e-6, 0.001, 0.025, 0.3, 0.5, 0.975, 1 - 2.5e-6]) {
          const delta = noncentrality(d, k, p);
          if (delta === 0) continue;
          const { F, slope } = nonCentral(d * d, k, delta * delta);
          expect(Math.abs((F - p) / (2 * delta * slope)), `d ${d}, k ${k}, p ${p}`).toBeLessThan(d >= 40 && k <= 6 ? 1e-6 : 1e-9);
        }
      }
    }
  });

  test('is met by the degrees of freedom of 10,000 rows', () => {
    for (const [d, p] of [
      [200, 0.025],
      [200, 0.975],
      [1000, 0.025],
      [176, 0.025],
    ] as const) {
      const delta = noncentrality(d, 30_000, p);
      expect(Math.abs(nonCentralCdf(d * d, 30_000, delta * delta) - p)).toBeLessThan(1e-10);
    }
  });

  test('is 0 where F does not reach the probability at all', () => {
    expect(noncentrality(0.2, 3, 0.025)).toBe(0);
    expect(noncentrality(2.7, 2, 0.975)).toBe(0);
    expect(noncentrality(2.72, 2, 0.975)).toBeGreaterThan(0);
  });
});
