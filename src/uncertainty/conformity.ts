import type { Interval } from './interval';
import { normalCdf } from './normal';

/** `within`: conforms with enough certainty; `beyond`: the contrary is as certain; `undecided`: the meter cannot tell. */
export type Conformity = 'within' | 'beyond' | 'undecided';

/** The values that conform: at least `low`, at most `high`; an end left out is open. */
export interface Tolerance {
  readonly low?: number;
  readonly high?: number;
}

/** From this probability of conformity on a claim is made, below its complement the contrary. JCGM 106:2012, 8.3: a guard band of k = 1.96. */
export const ASSURANCE = 0.975;

/** The probability that a figure seen as `value`, normal with standard deviation `sd`, conforms. JCGM 106:2012, 7.3 and 7.4. sd 0: 1 or 0. */
export function probabilityOfConformity(value: number, sd: number, { low, high }: Tolerance): number {
  if (!(sd > 0)) return sd === 0 ? Number((low === undefined || value >= low) && (high === undefined || value <= high)) : Number.NaN;
  const below = high === undefined ? 1 : normalCdf((high - value) / sd);
  const under = low === undefined ? 0 : normalCdf((low - value) / sd);
  return Math.max(0, below - under);
}

/** The verdict for a probability of conformity. NaN: undecided. */
export function verdictOfProbability(probability: number): Conformity {
  return probability >= ASSURANCE ? 'within' : probability <= 1 - ASSURANCE ? 'beyond' : 'undecided';
}

/**
 * The verdict for an interval with 0.025 on either side, as those of this room are. For one limit it is the verdict of the
 * probability: the upper end is below the limit just where conformity has 0.975. A distance, which is not normal, can only be judged so.
 * Between two limits the interval has to lie inside both, or outside one: a little more cautious than the probability. NaN: undecided.
 */
export function verdictOfInterval([lo, hi]: Interval, { low, high }: Tolerance): Conformity {
  if ((high !== undefined && lo > high) || (low !== undefined && hi < low)) return 'beyond';
  const inside = (high === undefined || hi <= high) && (low === undefined || lo >= low);
  return inside && lo <= hi ? 'within' : 'undecided';
}
