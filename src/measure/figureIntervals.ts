import type { Block } from '../session/block';
import { phrase } from '../text/message';
import type { ErrorRows } from '../uncertainty/covariance';
import { averageInterval, type Interval, LEVEL, maxInterval, rowIntervals } from '../uncertainty/interval';
import type { Coloured } from './colours';
import { statedErrors } from './errors';
import { farthestInterval, shareInterval } from './extremes';
import type { Context } from './kernel';
import { colouredIn, isOfChromaticityAlone, lengthRows } from './lengths';
import { LUMINANCE, type Method } from './methods';
import type { Asked, How, Responses } from './responses';
import type { RunResult } from './result';
import { scatterInterval } from './scattering';
import { silentMeter } from './sources';
import { definite, joined, type Told, told, untold } from './told';

// The interval of one figure of a run, by its method.

export const scattered = (result: RunResult, id: string, patch?: number): Told => {
  const interval = scatterInterval(result, id, patch);
  return interval ? told(interval) : untold('few');
};

/** Whether a patch takes part in averages and maxima. */
export const counts = (context: Context, i: number): boolean =>
  'counts' in context && typeof context.counts === 'function' ? (context as Coloured).counts(i) : !context.patches.revisit[i];

export function someRows({ sources, error, spread, shared }: ErrorRows, which: readonly number[]): ErrorRows {
  const pick = (list: Float64Array, size: number) => Float64Array.from(which.flatMap((i) => [...list.subarray(size * i, size * (i + 1))]));
  return { count: which.length, sources, error: pick(error, 3), spread: pick(spread, 6), shared: pick(shared, 3 * sources.length) };
}

/** Why a figure has no interval, where that hangs on its kind or on what the meters of the run say. */
export function withoutInterval(result: RunResult, method: Method, id: string): Told | undefined {
  if (method.by === 'none') return untold(method.why);
  if (method.by === 'scatter') return undefined;
  const { session, run } = result;
  if (run.kind === 'correction' && session.text(run.block, 'spectra') !== undefined) return untold('spectral');
  const silent = silentMeter(session, result);
  if (silent) return silent.meter ? untold('no-spread', { meter: silent.meter.name }) : untold('no-meter');
  const of = 'of' in method && typeof method.of === 'string' ? method.of : id;
  if (!result.contexts.some((context) => colouredIn(context, of))) return undefined;
  const unsaid = statedErrors(session, run.meter)!.unsaid[0];
  return unsaid === undefined || (unsaid === 'Y' && isOfChromaticityAlone(of)) ? undefined : unsaidOf(run.meter, unsaid);
}

const unsaidOf = (meter: Block | undefined, what: 'xy' | 'Y'): Told =>
  untold('no-spread-of', { meter: meter?.name ?? '', what: what === 'xy' ? phrase('chromaticity') : phrase('luminance') });

export function unsaidPart(result: RunResult): Told {
  const unsaid = statedErrors(result.session, result.run.meter)?.unsaid[0];
  return unsaidOf(result.run.meter, unsaid ?? 'xy');
}

/** What has to be asked of a run for some of its figures. */
export function askedOf(open: readonly (readonly [string, Method])[]): Asked {
  const values = new Map<string, How>();
  const lists = new Set<string>();
  const vectors = new Set<string>();
  for (const [id, method] of open) {
    if (method.by === 'readings') values.set(id, method.most !== undefined ? 'halved' : method.slope ? 'slope' : 'plain');
    if (method.by === 'share') lists.add(LUMINANCE);
    else if (method.by === 'farthest') for (const list of method.of) lists.add(list);
    else if ('of' in method) vectors.add(method.of as string);
  }
  return { values, lists: [...lists], vectors: [...vectors] };
}

/** The interval of a figure made of distances from targets, in one of the contexts of the run. */
export function* ofLengths(
  result: RunResult,
  c: Coloured,
  id: string,
  method: Method & { readonly of?: unknown },
): Generator<unknown, Interval> {
  const of = method.of as string;
  const counting = partsOf(result, c, id, method);
  const rows = yield* lengthRows(result, c, of, counting);
  if (method.by === 'row') {
    const { lo, hi } = yield* rowIntervals(rows);
    return [lo[0]!, hi[0]!];
  }
  if (method.by === 'average') return yield* averageInterval(rows);
  if (method.by === 'largest' && method.all) return yield* maxInterval(rows);
  const { lo, hi } = yield* rowIntervals(rows, LEVEL ** (1 / Math.max(1, counting.length)));
  const ends = [lo, hi].map((ends) => {
    const list = new Float64Array(c.patches.count).fill(Number.NaN);
    for (const [k, i] of counting.entries()) list[i] = ends[k]!;
    const value = result.valueIn(c, id, () => list);
    return value.ok ? value.v : Number.NaN;
  });
  return ends as unknown as Interval;
}

/** The patches whose rows a figure of the run is made of, or picked from. */
export function partsOf(result: RunResult, context: Context, id: string, method: Method & { readonly of?: unknown }): readonly number[] {
  if (method.by === 'row') return [pickedRow(result, context, id)];
  const list = result.rowsIn(context, method.of as string);
  return Array.from(list.keys()).filter((i) => counts(context, i) && Number.isFinite(list[i]!));
}

/** The patch that a figure of the run is the row figure of: asked for with the places of the rows in their stead. */
function pickedRow(result: RunResult, context: Context, id: string): number {
  const places = Float64Array.from(context.patches.first.keys());
  const value = result.valueIn(context, id, () => places);
  return value.ok ? value.v : -1;
}

export function* fromResponses(result: RunResult, responses: Responses, id: string, method: Method): Generator<unknown, Told> {
  const of = method.by === 'share' ? [LUMINANCE] : 'of' in method ? [method.of].flat() : [];
  if ([id, ...of].some((name) => responses.untold.has(name))) return unsaidPart(result);
  switch (method.by) {
    case 'row':
    case 'average':
    case 'largest': {
      const whole: Interval[] = [];
      for (const [k, context] of result.contexts.entries()) {
        const rows = someRows(responses.vectors.get(method.of)![k]!.rows, partsOf(result, context, id, method));
        whole.push(yield* method.by === 'average' ? averageInterval(rows) : maxInterval(rows));
      }
      return told(joined(whole));
    }
    case 'farthest':
      return told(
        joined(
          result.contexts.map((context, k) => farthestInterval(result, context, id, method, (list) => responses.lists.get(list)![k]!)),
        ),
      );
    case 'share':
      return told(
        joined(responses.lists.get(LUMINANCE)!.map((list, k) => shareInterval(result, result.contexts[k]!, id, list, method.of))),
      );
    default: {
      const response = responses.values.get(id)!;
      if (Number.isNaN(response.interval[0] + response.interval[1])) return untold('lost');
      const [lo, hi] = response.interval;
      const ends = definite([lo, method.by === 'readings' && method.most !== undefined ? Math.min(hi, method.most) : hi]);
      const value = result.value(id);
      if (!ends.ok || !value.ok || !value.bound) return ends;
      return told(value.bound === 'at-least' ? [ends.ci[0], Number.POSITIVE_INFINITY] : [Number.NEGATIVE_INFINITY, ends.ci[1]]);
    }
  }
}
