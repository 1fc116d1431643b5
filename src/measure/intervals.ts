import type { Block } from '../session/block';
import { phrase } from '../text/message';
import { type ErrorRows, finish } from '../uncertainty/covariance';
import { averageInterval, type Interval, LEVEL, maxInterval, rowIntervals } from '../uncertainty/interval';
import type { Coloured } from './colours';
import { statedErrors } from './errors';
import { farthestInterval, shareInterval } from './extremes';
import type { Context } from './kernel';
import { colouredIn, isOfChromaticityAlone, lengthRows } from './lengths';
import { LUMINANCE, type Method, methodOf } from './methods';
import { type How, type Responses, responsesOf } from './responses';
import type { RunResult } from './result';
import { scatterInterval } from './scattering';
import { silentMeter } from './sources';
import { definite, joined, type Told, told, untold } from './told';
import type { Value } from './value';

/** The intervals of one run: of its figures, computed; of its rows, computed when they are asked for. */
export class Intervals {
  private readonly rows = new Map<string, Told>();
  private readonly passes = new Map<string, Responses>();

  constructor(
    private readonly result: RunResult,
    private readonly figures: ReadonlyMap<string, Told>,
    /** Row figures whose answers to the errors are known already. */
    private readonly known: Responses | undefined,
  ) {}

  /** The interval of a figure of the run; undefined where it has no number. */
  of(id: string): Told | undefined {
    return this.figures.get(id);
  }

  /** The interval of a row figure that has a number. */
  ofRow(id: string, patch: number): Told {
    const name = `${id} ${patch}`;
    let found = this.rows.get(name);
    if (!found) {
      found = this.row(id, patch);
      this.rows.set(name, found);
    }
    return found;
  }

  private row(id: string, patch: number): Told {
    const { result } = this;
    const method = methodOf(result.run.kind, id, 'row');
    const without = withoutInterval(result, method, id);
    if (without) return without;
    const { contexts } = result;
    const of = method.by === 'average' || method.by === 'largest' ? method.of : id;
    const isQuick = method.by === 'scatter' || this.known?.lists.has(id) || contexts.every((context) => colouredIn(context, of));
    if (!isQuick && result.context!.patches.count > MOST_ROWS) return untold('long');
    switch (method.by) {
      case 'scatter':
        return scattered(result, id, patch);
      case 'length': {
        const whole = contexts.map((_, k) => {
          const { lo, hi } = finish(rowIntervals(this.lengths(id, k, [patch])));
          return [lo[0]!, hi[0]!] as const;
        });
        return this.passes.get(`vectors ${id}`)?.untold.has(id) ? unsaidPart(result) : told(joined(whole));
      }
      case 'average':
      case 'largest': {
        // Rows of one group have one figure.
        const whole = contexts.map((context, k) => {
          const list = result.rowsIn(context, id);
          const group = Array.from(list.keys()).filter((i) => list[i] === list[patch] && counts(context, i));
          const rows = this.lengths(method.of, k, group);
          return method.by === 'average' ? averageInterval(rows) : finish(maxInterval(rows));
        });
        return told(joined(whole));
      }
      default: {
        const responses = this.known?.lists.has(id) ? this.known : this.pass('lists', id);
        const lists = responses.lists.get(id)!;
        if (responses.untold.has(id)) return unsaidPart(result);
        if (method.by === 'readings' && method.straight && !lists.every((list) => list.isStraight(patch))) return untold('folded');
        return definite(joined(lists.map((list) => list.interval(patch))));
      }
    }
  }

  /** The error vectors of some rows, in the k-th of the contexts. */
  private lengths(id: string, k: number, patches: readonly number[]): ErrorRows {
    const { result } = this;
    const c = colouredIn(result.contexts[k]!, id);
    return c ? finish(lengthRows(result, c, id, patches)) : someRows(this.pass('vectors', id).vectors.get(id)![k]!.rows, patches);
  }

  /** The answers of the rows alone, for figures that are asked for first now. */
  private pass(what: 'lists' | 'vectors', id: string): Responses {
    const name = `${what} ${id}`;
    let pass = this.passes.get(name);
    if (!pass) {
      pass = finish(responsesOf(this.result, { [what]: [id] }, true));
      this.passes.set(name, pass);
    }
    return pass;
  }
}

/** In a run of more rows, the figures of all of them are not computed again and again for the interval of one. */
const MOST_ROWS = 1000;

const scattered = (result: RunResult, id: string, patch?: number): Told => {
  const interval = scatterInterval(result, id, patch);
  return interval ? told(interval) : untold('few');
};

/** Whether a patch takes part in averages and maxima. */
const counts = (context: Context, i: number): boolean =>
  'counts' in context && typeof context.counts === 'function' ? (context as Coloured).counts(i) : !context.patches.revisit[i];

function someRows({ sources, error, spread, shared }: ErrorRows, which: readonly number[]): ErrorRows {
  const pick = (list: Float64Array, size: number) => Float64Array.from(which.flatMap((i) => [...list.subarray(size * i, size * (i + 1))]));
  return { count: which.length, sources, error: pick(error, 3), spread: pick(spread, 6), shared: pick(shared, 3 * sources.length) };
}

/** Why a figure has no interval, where that hangs on its kind or on what the meters of the run say. */
function withoutInterval(result: RunResult, method: Method, id: string): Told | undefined {
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

function unsaidPart(result: RunResult): Told {
  const unsaid = statedErrors(result.session, result.run.meter)?.unsaid[0];
  return unsaidOf(result.run.meter, unsaid ?? 'xy');
}

const done = new WeakMap<RunResult, Intervals>();

/** The intervals of a run, where they have been computed; never computes any. */
export const knownIntervals = (result: RunResult): Intervals | undefined => done.get(result);

/** A figure with its interval, where that is known. */
export function withInterval(result: RunResult, id: string, key: readonly string[], value: Value): Value {
  if (!value.ok || value.ci) return value;
  const known = knownInterval(result, id, key);
  return known?.ok ? { ...value, ci: known.ci } : value;
}

/** A figure of a patch with its interval, where those of the run are known. */
export function withRowInterval(result: RunResult, id: string, patch: number, value: Value): Value {
  if (!value.ok || value.ci || value.bound) return value;
  const known = knownIntervals(result)?.ofRow(id, patch);
  return known?.ok ? { ...value, ci: known.ci } : value;
}

/** What is known of the interval of a figure, of the run or of the row of a key; undefined while nothing is, and where there is no number. */
export function knownInterval(result: RunResult, id: string, key: readonly string[]): Told | undefined {
  const intervals = knownIntervals(result);
  if (!intervals || key.length === 0) return intervals?.of(id);
  const value = result.value(id, key);
  if (!value.ok) return undefined;
  return value.bound ? untold('stated') : intervals.ofRow(id, result.rowOf(id, key)!);
}

/**
 * The intervals of all figures of a run. Pauses between small pieces of work: whoever drives it looks at the clock, goes on with `next()`,
 * or drops it, and then nothing is left of it. Computed once a result.
 */
export function* intervalsOf(result: RunResult): Generator<unknown, Intervals> {
  const known = done.get(result);
  if (known) return known;
  const figures = new Map<string, Told>();
  const open: (readonly [id: string, method: Method])[] = [];
  for (const [id, { scope }] of Object.entries(result.specs)) {
    if (scope === 'row' || !result.value(id).ok) continue;
    const method = methodOf(result.run.kind, id, 'run');
    const without = withoutInterval(result, method, id);
    if (without) figures.set(id, without);
    else if (method.by === 'scatter') figures.set(id, scattered(result, id));
    else open.push([id, method]);
  }
  for (const [id, method] of open) {
    if (!('of' in method) || typeof method.of !== 'string') continue;
    const whole: Interval[] = [];
    for (const context of result.contexts) {
      const c = colouredIn(context, method.of);
      if (c) whole.push(yield* ofLengths(result, c, id, method));
    }
    if (whole.length > 0) figures.set(id, told(joined(whole)));
  }
  const rest = open.filter(([id]) => !figures.has(id));
  let responses: Responses | undefined;
  for (const together of [true, false]) {
    const some = rest.filter(([, method]) => (method.by === 'readings' && method.together === true) === together);
    if (some.length === 0) continue;
    responses = yield* responsesOf(result, askedOf(some), together);
    for (const [id, method] of some) figures.set(id, yield* fromResponses(result, responses, id, method));
  }
  const intervals = new Intervals(result, figures, responses);
  done.set(result, intervals);
  return intervals;
}

function askedOf(open: readonly (readonly [string, Method])[]) {
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
function* ofLengths(result: RunResult, c: Coloured, id: string, method: Method & { readonly of?: unknown }): Generator<unknown, Interval> {
  const of = method.of as string;
  const counting = Array.from(c.patches.first.keys()).filter((i) => counts(c, i) && Number.isFinite(result.rowsIn(c, of)[i]!));
  if (method.by === 'row') {
    const { lo, hi } = yield* rowIntervals(yield* lengthRows(result, c, of, [pickedRow(result, c, id)]));
    return [lo[0]!, hi[0]!];
  }
  const rows = yield* lengthRows(result, c, of, counting);
  if (method.by === 'average') return averageInterval(rows);
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

/** The patch that a figure of the run is the row figure of: asked for with the places of the rows in their stead. */
function pickedRow(result: RunResult, context: Context, id: string): number {
  const places = Float64Array.from(context.patches.first.keys());
  const value = result.valueIn(context, id, () => places);
  return value.ok ? value.v : -1;
}

function* fromResponses(result: RunResult, responses: Responses, id: string, method: Method): Generator<unknown, Told> {
  const of = method.by === 'share' ? [LUMINANCE] : 'of' in method ? [method.of].flat() : [];
  if ([id, ...of].some((name) => responses.untold.has(name))) return unsaidPart(result);
  switch (method.by) {
    case 'row':
    case 'average':
    case 'largest': {
      const whole: Interval[] = [];
      for (const [k, context] of result.contexts.entries()) {
        const all = responses.vectors.get(method.of)![k]!.rows;
        const rows = someRows(
          all,
          Array.from(context.patches.first.keys()).filter((i) => counts(context, i)),
        );
        whole.push(method.by === 'average' ? averageInterval(rows) : yield* maxInterval(rows));
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
