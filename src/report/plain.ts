import type { Judgement } from '../judge/limits';
import type { MeasureSpec } from '../measure/specs';
import { writeReference } from '../session/reference';
import type { Bound } from '../text/limitText';

/** What the forms for programs (JSON, CSV) share: limits as numbers that need no further knowledge, keys as references have them. */

/** The bound that a figure is held to: a number to stay at or below (or above, by the direction of the measure), or a range to stay in. */
export type PlainBound = number | readonly [low: number, high: number] | null;

/** The distance that `nearer` measures are held to becomes the range about what they are nearer to; null where that is not known. */
export function plainBound(bound: Bound | undefined, { direction }: MeasureSpec, { centre }: Judgement): PlainBound {
  if (!bound) return null;
  if (bound.low !== undefined) return [bound.low, bound.high];
  if (direction !== 'nearer') return bound.high;
  return Number.isNaN(centre) ? null : [clean(centre - bound.high), clean(centre + bound.high)];
}

/** Without the noise of binary fractions: 100.1 - 0.3 is 99.8. */
const clean = (v: number): number => Number(v.toPrecision(12));

/** A row's key as it stands behind the @ of a reference. */
export const writtenKey = (keys: readonly string[]): string => writeReference({ path: '', ids: [], measure: '', keys }).slice(2);
