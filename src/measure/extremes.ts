import { type Interval, LEVEL } from '../uncertainty/interval';
import { maximumFactor, normalQuantile } from '../uncertainty/normal';
import type { Context } from './kernel';
import type { Method } from './methods';
import { Seen } from './readings';
import type { ListResponse } from './responses';
import type { RunResult } from './result';

/** What is known of the luminances that the meter could not see the whole of: they are no less. */
const overRange = ({ patches: { Y, seen, revisit } }: Context): readonly number[] =>
  Array.from(Y).filter((_, i) => seen[i] === Seen.Above && !revisit[i]);

/** How much wider the reach of each of n rows is taken for all of them to hold at once. */
const together = (n: number): number => maximumFactor(Math.max(1, n), LEVEL) / normalQuantile(0.5 * (1 + LEVEL));

/** The rows that a figure of all of them is made of. */
const finiteRows = (list: Float64Array, { patches }: Context): readonly number[] =>
  Array.from(list.keys()).filter((i) => Number.isFinite(list[i]!) && !patches.revisit[i]);

/**
 * The interval of the row figure farthest from a centre: its size lies between the largest lower and the largest upper end of the sizes of
 * all rows. The sign is the one seen; where the size may be 0, either.
 */
export function farthestInterval(
  result: RunResult,
  context: Context,
  id: string,
  { of, centre, shift = 0, all, alike }: Extract<Method, { by: 'farthest' }>,
  responseOf: (id: string) => ListResponse,
): Interval {
  const rows = of.map((name) => ({ name, response: responseOf(name), finite: finiteRows(responseOf(name).list, context) }));
  const by = together(rows.reduce((sum, { finite }) => sum + finite.length, 0));
  const byShared = alike ? 1 : by;
  /** The largest of all rows, each at the lower or upper end of its size. */
  const largest = (sign: 1 | -1): number => {
    const ends = new Map(
      rows.map(({ name, response }) => [
        name,
        response.list.map((v, i) =>
          Math.max(
            0,
            Math.abs(v - centre) + sign * (v > centre === sign > 0 ? response.rise(i, by, byShared) : response.fall(i, by, byShared)),
          ),
        ),
      ]),
    );
    if (all) return Math.max(...rows.flatMap(({ name, finite }) => finite.map((i) => ends.get(name)![i]!)));
    const value = result.valueIn(context, id, (name) => ends.get(name)!.map((size) => centre + size));
    return value.ok ? Math.abs(value.v - centre) : Number.NaN;
  };
  const value = result.valueIn(context, id);
  // Luminances over the range of the meter are as good as stated, and have no upper end.
  if (value.ok && value.bound === 'at-least') return [Math.max(largest(-1), ...overRange(context)), Number.POSITIVE_INFINITY];
  const [lower, upper] = [largest(-1), largest(1)];
  const zero = centre + shift;
  const seen = result.valueIn(context, id);
  if (!(lower > 0)) return [zero - upper, zero + upper];
  return seen.ok && seen.v < zero ? [zero - upper, zero - lower] : [zero + lower, zero + upper];
}

/**
 * The interval of one luminance over the largest, or of the fall from 1 to the smallest over the largest, in per cent. All rows hold at
 * once; what they share cancels.
 */
export function shareInterval(result: RunResult, context: Context, id: string, response: ListResponse, of: 'full' | 'least'): Interval {
  const value = result.valueIn(context, id);
  if (!value.ok) return [Number.NaN, Number.NaN];
  const { list } = response;
  const rows = finiteRows(list, context).filter((i) => list[i]! > 0);
  const by = together(rows.length);
  const upper = (i: number) => list[i]! + response.rise(i, by, 0);
  const lower = (i: number) => Math.max(0, list[i]! - response.fall(i, by, 0));
  const over = overRange(context);
  const most = [Math.max(...rows.map(lower), ...over), Math.max(...rows.map(upper), ...over)] as const;
  const seenMost = Math.max(...rows.map((k) => list[k]!), ...over);
  const full = rows.find((i) => Math.abs(list[i]! / seenMost - value.v) < 1e-12);
  // A full white that was not seen, or a largest luminance that is larger still: no more than this, and how little is not known.
  if (value.bound === 'at-most') return [Number.NEGATIVE_INFINITY, (full === undefined ? value.v * seenMost : upper(full)) / most[0]];
  const meant = of === 'full' && full !== undefined ? [full] : rows;
  const least = [Math.min(...meant.map(lower)), Math.min(...meant.map(upper))] as const;
  const [lo, hi] = [least[0] / most[1], Math.min(1, least[1] / most[0])];
  return of === 'least' ? [100 * (1 - hi), 100 * (1 - lo)] : [lo, hi];
}
