import { describe, expect, test } from 'vitest';
import { median, statistics } from '../../src/algorithms/statistics';
import { expectRefused, resultOf } from './expectations';

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
