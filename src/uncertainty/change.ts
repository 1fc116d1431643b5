import { type ErrorRows, SHARED, type Sym3 } from './covariance';
import { type Interval, LEVEL, lengthInterval } from './interval';
import { normalQuantile } from './normal';

/** A figure of one of two sessions of the same meter. */
export interface Side {
  readonly value: number;
  /** Its interval from the spread alone, at the level of the comparison. */
  readonly ownInterval: Interval;
  /** Its change with each error that both sessions share, by one standard deviation, signed; in the same order on both sides. */
  readonly shared: ArrayLike<number>;
}

export interface Change {
  /** After less before. */
  readonly difference: number;
  readonly interval: Interval;
  /** Whether the interval leaves out 0: "changed"; else "change not shown", which is not "unchanged". */
  readonly changed: boolean;
}

/**
 * The change of a figure, before and after, with the same meter in the same session: an error common to all its readings cancels as far
 * as both figures respond to it alike. Each side's own limits are added as squares, upper against lower (G. Y. Zou & A. Donner,
 * Statistics in Medicine 27 (2008)), so that intervals that are not symmetric, as those of distances, may be compared; and what is left of the shared errors with them.
 * Known limit: the figure of a distance near 0 is seen too large, by about its spread.
 */
export function compared(before: Side, after: Side, level = LEVEL): Change {
  const z = normalQuantile(0.5 * (1 + level));
  const difference = after.value - before.value;
  let left = 0;
  for (let s = 0; s < before.shared.length; s++) left += (z * (after.shared[s]! - before.shared[s]!)) ** 2;
  const fall = Math.sqrt((after.value - after.ownInterval[0]) ** 2 + (before.ownInterval[1] - before.value) ** 2 + left);
  const rise = Math.sqrt((after.ownInterval[1] - after.value) ** 2 + (before.value - before.ownInterval[0]) ** 2 + left);
  const interval: Interval = [difference - fall, difference + rise];
  return { difference, interval, changed: interval[0] > 0 || interval[1] < 0 };
}
