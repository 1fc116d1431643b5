import { describe, expect, test } from 'vitest';
import { averageSide, compared, movedInterval, propagatedSide, rowSide } from '../../src/uncertainty/change';
import { type ErrorRows, finish } from '../../src/uncertainty/covariance';
import { lengthInterval } from '../../src/uncertainty/interval';
import { propagate } from '../../src/uncertainty/propagate';

/** Rows with a spread of 0.1 in all directions, and a shared error of 1 along the first axis. */
function rowsOf(errors: readonly (readonly number[])[], sources: readonly [string, string] = ['x', 'y']): ErrorRows {
  const shared = Float64Array.from(errors.flatMap(() => [1, 0, 0, 0, 0, 0]));
  const spread = Float64Array.from(errors.flatMap(() => [0.01, 0, 0, 0.01, 0, 0.01]));
  return { count: errors.length, sources, error: Float64Array.from(errors.flat()), spread, shared };
}

describe('before and after with one meter', () => {
  test('an error in luminance that both share cancels: 2 % more is shown by a meter that knows luminance to 2 %', () => {
    const peak = (Y: number) => propagate((v) => v[0]!, [Y], [[0.002 * Y], [0.01 * Y]]);
    const [before, after] = [peak(800), peak(816)];
    const paired = compared(propagatedSide(before, [undefined, 'Y']), propagatedSide(after, [undefined, 'Y']));
    expect(paired.difference).toBe(16);
    expect(paired.changed).toBe(true);
    expect(paired.interval[1] - 16).toBeCloseTo(1.959964 * Math.hypot(1.6, 1.632, 0.16), 2);
    // Not to be had from different meters: nothing is shared.
    expect(compared(propagatedSide(before, [undefined, 'Y']), propagatedSide(after, [undefined, 'Y of another'])).changed).toBe(false);
  });

  test('a distance far from 0 is known to change by less than its own uncertainty', () => {
    const side = (x: number) => rowSide(rowsOf([[x, 0, 0]]), 0);
    const { interval, changed } = compared(side(8), side(7));
    expect(changed).toBe(true);
    expect(interval[1] - interval[0]).toBeLessThan(1);
    expect(side(8).interval[1] - side(8).interval[0]).toBeGreaterThan(3.5);
  });

  test('a distance that the shared error might have caused may have changed the other way', () => {
    const side = (x: number) => rowSide(rowsOf([[x, 0, 0]]), 0);
    // With a shared error of +1 the truth is −1 and −0.2; with −1 it is 1 and 1.8.
    expect(compared(side(0), side(0.8)).changed).toBe(false);
  });

  test('but the colour has moved, which is another statement', () => {
    const [lo] = movedInterval(rowsOf([[0, 0, 0]]), rowsOf([[0.8, 0, 0]]), 0);
    expect(lo).toBeCloseTo(lengthInterval([0.8, 0, 0], [0.02, 0, 0, 0.02, 0, 0.02])[0], 12);
    expect(lo).toBeGreaterThan(0.4);
    // Seen by another meter it might be as well that of that meter.
    expect(movedInterval(rowsOf([[0, 0, 0]]), rowsOf([[0.8, 0, 0]], ['x of another', 'y']), 0)[0]).toBe(0);
  });

  test('the mean of rows in all directions that falls from 5 to 3 has changed', () => {
    const around = (by: number) =>
      rowsOf([
        [by, 0, 0],
        [-by, 0, 0],
        [0, by, 0],
        [0, -by, 0],
        [0, 0, by],
        [0, 0, -by],
      ]);
    const change = compared(finish(averageSide(around(5))), finish(averageSide(around(3))));
    expect(change.difference).toBeCloseTo(-2, 12);
    expect(change.changed).toBe(true);
    expect(compared(finish(averageSide(around(5))), finish(averageSide(around(4.98)))).changed).toBe(false);
  });
});
