import { describe, expect, test } from 'vitest';
import { deviationInterval, meanInterval, medianInterval, studentQuantile } from '../../src/uncertainty/scatter';
import { normal, stream } from '../display/random';

describe("Student's t", () => {
  test.each([
    // JCGM 100:2008, Table G.2, 95 %; from memory.
    [1, '12.71'],
    [2, '4.30'],
    [3, '3.18'],
    [4, '2.78'],
    [5, '2.57'],
    [8, '2.31'],
    [10, '2.23'],
    [20, '2.09'],
    [30, '2.04'],
    [50, '2.01'],
    [100, '1.984'],
  ])('with %d degrees of freedom has 2.5 %% above %s', (nu, t) => {
    expect(studentQuantile(0.025, nu).toFixed(t.split('.')[1]!.length)).toBe(t);
  });

  test('is in closed form for one and for two degrees of freedom', () => {
    for (const tail of [0.4, 0.1, 0.025, 0.001]) {
      expect(studentQuantile(tail, 1) / Math.tan(Math.PI * (0.5 - tail))).toBeCloseTo(1, 12);
      const twice = 1 - 2 * tail;
      expect(studentQuantile(tail, 2) / (twice * Math.sqrt(2 / (1 - twice * twice)))).toBeCloseTo(1, 12);
    }
  });

  test('comes to the normal distribution with many', () => {
    expect(studentQuantile(0.025, 100_000)).toBeCloseTo(1.959964, 4);
    expect(studentQuantile(0.5, 7)).toBeCloseTo(0, 12);
  });
});

describe('the interval', () => {
  test('of a mean of 4 readings is 3.18 standard errors either way', () => {
    const [lo, hi] = meanInterval(10, 0.2, 4);
    expect(hi - 10).toBeCloseTo(0.1 * 3.1824, 4);
    expect(10 - lo).toBeCloseTo(hi - 10, 12);
  });

  test('of a standard deviation of 10 readings is from 0.688 to 1.826 of it (χ² of 9: 2.700 and 19.023, NIST/SEMATECH e-Handbook 1.3.6.7.4)', () => {
    expect(deviationInterval(1, 10)[0]).toBeCloseTo(Math.sqrt(9 / 19.023), 4);
    expect(deviationInterval(1, 10)[1]).toBeCloseTo(Math.sqrt(9 / 2.7), 3);
  });

  test.each([
    // Binomial tables at ½: two tails of 0.031, 0.021 and 0.041.
    [6, 1],
    [10, 2],
    [20, 6],
  ])('of the median of %d readings leaves out those before the one of rank %d', (n, rank) => {
    const readings = Array.from({ length: n }, (_, i) => (7 * i) % n);
    if (n % 7 === 0) throw new Error('not all numbers are there');
    expect(medianInterval(readings)).toEqual([rank - 1, n - rank]);
  });

  test('of the median of 5 readings does not exist', () => {
    expect(medianInterval([1, 2, 3, 4, 5])).toBeUndefined();
  });

  test('of the median goes on smoothly where the binomial terms become too small for a number', () => {
    const width = (n: number) => {
      const [lo, hi] = medianInterval(Array.from({ length: n }, (_, i) => i))!;
      return hi - lo;
    };
    expect(Math.abs(width(500) - width(501))).toBeLessThanOrEqual(3);
    expect(width(5000) / Math.sqrt(5000)).toBeCloseTo(1.96, 1);
  });

  test('holds the truth in 95 of 100 series (4,000 of 7 readings)', () => {
    const chance = stream('series');
    let [mean, sd, median] = [0, 0, 0];
    const holds = ([lo, hi]: readonly [number, number], truth: number) => Number(lo <= truth && truth <= hi);
    for (let s = 0; s < 4000; s++) {
      const list = Array.from({ length: 7 }, () => 5 + 2 * normal(chance));
      const m = list.reduce((a, b) => a + b) / 7;
      const d = Math.sqrt(list.reduce((sum, v) => sum + (v - m) ** 2, 0) / 6);
      mean += holds(meanInterval(m, d, 7), 5);
      sd += holds(deviationInterval(d, 7), 2);
      median += holds(medianInterval(list)!, 5);
    }
    // Three standard deviations of a share of 0.95; that of the median is 1 − 2/2⁷.
    for (const share of [mean / 4000, sd / 4000]) expect(Math.abs(share - 0.95)).toBeLessThan(0.0104);
    expect(Math.abs(median / 4000 - (1 - 2 ** -6))).toBeLessThan(0.006);
  });
});
