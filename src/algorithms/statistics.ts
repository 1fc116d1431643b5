import { phrase } from '../text/message';
import { computed, type Result, refused } from './result';

export interface Statistics {
  readonly n: number;
  readonly mean: number;
  readonly median: number;
  /** Sample standard deviation, and the standard error of the mean; undefined for a single value, which says nothing of its scatter. */
  readonly spread?: { readonly sd: number; readonly se: number; readonly dof: number };
}

/**
 * Mean, median and scatter of readings of one thing, in their unit. Source: JCGM 100:2008 (GUM) 4.2.1–4.2.3, s² = Σ(q − q̄)²/(n − 1),
 * s(q̄) = s/√n. Refused for no readings and for numbers that are not finite.
 */
export function statistics(values: ArrayLike<number>): Result<Statistics> {
  const n = values.length;
  if (n === 0) return refused('too-few-rows', { count: 1, which: phrase('with a reading'), found: 0 });
  let sum = 0;
  for (let i = 0; i < n; i++) {
    if (!Number.isFinite(values[i]!)) return refused('not-finite', { at: i + 1 });
    sum += values[i]!;
  }
  const mean = sum / n;
  const middle = median(values);
  if (n === 1) return computed({ n, mean, median: middle });
  // Two passes: Σq² − n·q̄² would lose the digits that the scatter of a steady reading is made of.
  let squares = 0;
  for (let i = 0; i < n; i++) squares += (values[i]! - mean) ** 2;
  const sd = Math.sqrt(squares / (n - 1));
  return computed({ n, mean, median: middle, spread: { sd, se: sd / Math.sqrt(n), dof: n - 1 } });
}

/** The middle value, or the mean of the two middle ones of an even number; NaN for none, or when one is NaN. */
export function median(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  if (sorted.length === 0 || Number.isNaN(sorted[sorted.length - 1]!)) return Number.NaN;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
