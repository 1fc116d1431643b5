import { describe, expect, test } from 'vitest';
import { propagate, Reach, squareRoot } from '../../src/uncertainty/propagate';

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

  test('adds what a figure that goes one way only may lose, and looks between', () => {
    const corner = (v: ArrayLike<number>) => 100 - Math.abs(v[0]!) - Math.abs(v[1]!);
    const { interval } = propagate(
      corner,
      [0, 0],
      [
        [1, 0],
        [0, 1],
      ],
    );
    expect(interval[0]).toBeCloseTo(100 - 2 * 1.959964, 5);
    expect(interval[1]).toBe(100);
    const reach = new Reach(99);
    // It comes to an end at 99.4, halfway up.
    reach.add(99.4, 97, [99.4, 98]);
    reach.add(99.3, 98.7, [99.15, 98.85]);
    expect(reach.interval[1]).toBeCloseTo(99 + 0.4 + 0.3, 12);
    expect(reach.interval[0]).toBeCloseTo(99 - Math.hypot(2, 0.3), 12);
  });
});
