import { describe, expect, test } from 'vitest';
import { xyYToXyz } from '../../src/colour/chromaticity';
import { probabilityOfConformity, verdictOfInterval, verdictOfProbability } from '../../src/uncertainty/conformity';
import { errorRows, finish } from '../../src/uncertainty/covariance';
import { de2000From } from '../../src/uncertainty/errorVector';
import { rowIntervals } from '../../src/uncertainty/interval';

describe('a meter that is off by +0.002 in x and +2 % in Y (constructed)', () => {
  const white = xyYToXyz(0.3127, 0.329, 120);
  const Y = 120 * 0.8 ** 2.4;
  const perfect = xyYToXyz(0.3127, 0.329, Y);
  const errorOf = de2000From(perfect, white);

  test('reads ΔE 1.408 from a perfect 80 % grey', () => {
    expect(Math.hypot(...errorOf(xyYToXyz(0.3127 + 0.002, 0.329, 1.02 * Y)))).toBeCloseTo(1.408, 3);
  });

  test('so that "within 1" cannot be claimed with it, even for a reading of 0', () => {
    const meter = { spread: { xy: 0.0004, Y: 0.005 }, accuracy: { xy: 0.002, Y: 0.02 } };
    const { lo, hi } = finish(rowIntervals(finish(errorRows(1, () => ({ xyz: perfect, errorOf }), { meter, names: ['x', 'y', 'Y'] }))));
    expect(verdictOfInterval([lo[0]!, hi[0]!], { high: 1 })).toBe('undecided');
    expect(verdictOfInterval([lo[0]!, hi[0]!], { high: 3 })).toBe('within');
  });
});

describe('a verdict', () => {
  test('of a normal figure keeps 1.96 deviations from its limit (JCGM 106:2012, 8.3)', () => {
    const verdict = (value: number) => verdictOfProbability(probabilityOfConformity(value, 0.5, { high: 3 }));
    expect([2.01, 2.03, 3, 3.97, 3.99].map(verdict)).toEqual(['within', 'undecided', 'undecided', 'undecided', 'beyond']);
    expect(probabilityOfConformity(3, 0.5, { high: 3 })).toBeCloseTo(0.5, 12);
  });

  test('for a figure that is better larger looks at the lower end', () => {
    expect(verdictOfProbability(probabilityOfConformity(1100, 40, { low: 1000 }))).toBe('within');
    expect(verdictOfInterval([1020, 1180], { low: 1000 })).toBe('within');
    expect(verdictOfInterval([900, 999], { low: 1000 })).toBe('beyond');
    expect(verdictOfInterval([900, 1001], { low: 1000 })).toBe('undecided');
  });

  test('between two limits counts both tails', () => {
    expect(probabilityOfConformity(0, 1, { low: -1.96, high: 1.96 })).toBeCloseTo(0.95, 4);
    expect(probabilityOfConformity(0, 1, { low: -3, high: 3 })).toBeCloseTo(0.9973, 4);
    expect(verdictOfInterval([-1, 1], { low: -1.5, high: 1.5 })).toBe('within');
    expect(verdictOfInterval([1.6, 2], { low: -1.5, high: 1.5 })).toBe('beyond');
    expect(verdictOfInterval([1, 2], { low: -1.5, high: 1.5 })).toBe('undecided');
  });

  test('is the same from the interval of a normal figure as from its probability, at one limit', () => {
    for (let value = 0; value < 6; value += 0.05) {
      const byInterval = verdictOfInterval([value - 1.959964 * 0.7, value + 1.959964 * 0.7], { high: 3 });
      expect(byInterval).toBe(verdictOfProbability(probabilityOfConformity(value, 0.7, { high: 3 })));
    }
  });

  test('without uncertainty is that of the value, and without a number undecided', () => {
    expect(probabilityOfConformity(3, 0, { high: 3 })).toBe(1);
    expect(probabilityOfConformity(3.01, 0, { high: 3 })).toBe(0);
    expect(verdictOfProbability(Number.NaN)).toBe('undecided');
    expect(verdictOfInterval([Number.NaN, Number.NaN], { high: 3 })).toBe('undecided');
  });
});
