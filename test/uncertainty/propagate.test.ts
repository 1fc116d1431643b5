import { describe, expect, test } from 'vitest';
import { propagate, squareRoot } from '../../src/uncertainty/propagate';

describe('propagation', () => {
  test('of a sum with correlated terms is that of JCGM 100:2008, 5.2.2', () => {
    const covariance = [
      [4, 1.2, 0],
      [1.2, 1, 0],
      [0, 0, 0.25],
    ];
    const { value, sd, interval } = propagate((v) => 2 * v[0]! - v[1]! + v[2]!, [10, 5, 1], squareRoot(covariance));
    const variance = 4 * 4 + 1 + 0.25 - 2 * 2 * 1.2;
    expect(value).toBe(16);
    expect(sd).toBeCloseTo(Math.sqrt(variance), 12);
    expect(interval[1] - 16).toBeCloseTo(1.959964 * Math.sqrt(variance), 5);
    expect(16 - interval[0]).toBeCloseTo(1.959964 * Math.sqrt(variance), 5);
  });

  test('of a contrast over an uncertain black is as lopsided as it has to be', () => {
    // 0.01 ± 0.002: between 0.00608 and 0.01392.
    const { interval } = propagate((v) => 100 / v[0]!, [0.01], [[0.002]]);
    expect(interval[0]).toBeCloseTo(100 / (0.01 + 1.959964 * 0.002), 1);
    expect(interval[1]).toBeCloseTo(100 / (0.01 - 1.959964 * 0.002), 1);
  });

  test('lets an error that all readings share cancel in a ratio', () => {
    const { bySource, sd } = propagate(
      (v) => v[0]! / v[1]!,
      [200, 50],
      [
        [2, 0],
        [0, 0.5],
        [2, 0.5],
      ],
    );
    expect(bySource[0]).toBeCloseTo(0.04, 4);
    expect(bySource[1]).toBeCloseTo(-0.04, 4);
    expect(bySource[2]).toBeCloseTo(0, 12);
    expect(sd).toBeCloseTo(0.04 * Math.SQRT2, 4);
  });

  test('does not lose a source that lies on another', () => {
    const columns = squareRoot([
      [1, 1],
      [1, 1],
    ]);
    const { sd } = propagate((v) => v[0]! + v[1]!, [0, 0], columns);
    expect(sd).toBeCloseTo(2, 12);
  });

  test('has no number where the figure has none', () => {
    expect(propagate(() => Number.NaN, [1], [[1]]).interval).toEqual([Number.NaN, Number.NaN]);
  });

  test('tells figures that go one way whichever way their readings err', () => {
    const distance = (x: number) =>
      propagate(
        (v) => Math.hypot(v[0]!, v[1]!),
        [x, 0],
        [
          [1, 0],
          [0, 1],
        ],
      ).smooth;
    expect([0, 1, 2, 40].map(distance)).toEqual([false, false, false, true]);
    expect(propagate((v) => 100 / v[0]!, [0.01], [[0.002]]).smooth).toBe(true);
    expect(
      propagate(
        (v) => v[0]! / v[1]!,
        [200, 50],
        [
          [2, 0],
          [0, 0.5],
        ],
      ).smooth,
    ).toBe(true);
  });
});
