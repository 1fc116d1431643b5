import { type ErrorRows, finish } from '../uncertainty/covariance';
import { averageInterval, type Interval, maxInterval, rowIntervals } from '../uncertainty/interval';
import { askedOf, counts, fromResponses, ofLengths, partsOf, scattered, someRows, unsaidPart, withoutInterval } from './figureIntervals';
import { colouredIn, lengthRows } from './lengths';
import { type Method, methodOf } from './methods';
import { type FigureResponse, type Responses, responsesOf } from './responses';
import type { RunResult } from './result';
import { definite, joined, type Told, told, untold } from './told';
import type { Value } from './value';

/** The intervals of one run: of its figures, computed; of its rows, computed when they are asked for. */
export class Intervals {
  private readonly rows = new Map<string, Told>();
  private readonly passes = new Map<string, Responses>();

  constructor(
    private readonly result: RunResult,
    private readonly figures: ReadonlyMap<string, Told>,
    /** What the run has answered already. */
    private readonly answers: readonly Responses[],
  ) {}

  /** The interval of a figure of the run; undefined where it has no number. */
  of(id: string): Told | undefined {
    return this.figures.get(id);
  }

  /** What the errors of the readings do to a figure that was asked for again and again; undefined for any other. */
  responseOf(id: string): FigureResponse | undefined {
    return this.answers.find(({ values }) => values.has(id))?.values.get(id);
  }

  /** The error vectors of the rows that a mean of distances, or a figure of one row, is made of; for a black of 0 where it was not seen. */
  *rowsOf(id: string): Generator<unknown, ErrorRows> {
    const { result } = this;
    const method = methodOf(result.run.kind, id, 'run') as Extract<Method, { by: 'average' | 'row' }>;
    const context = result.contexts[0]!;
    const parts = partsOf(result, context, id, method);
    const c = colouredIn(context, method.of);
    return c ? yield* lengthRows(result, c, method.of, parts) : someRows(this.vectors(method.of).vectors.get(method.of)![0]!.rows, parts);
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
    const isQuick = method.by === 'scatter' || this.answered('lists', id) || contexts.every((context) => colouredIn(context, of));
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
          return finish(method.by === 'average' ? averageInterval(rows) : maxInterval(rows));
        });
        return told(joined(whole));
      }
      default: {
        const responses = this.answered('lists', id) ?? this.pass('lists', id);
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
    return c ? finish(lengthRows(result, c, id, patches)) : someRows(this.vectors(id).vectors.get(id)![k]!.rows, patches);
  }

  private answered(what: 'lists' | 'vectors', id: string): Responses | undefined {
    return this.answers.find((responses) => responses[what].has(id));
  }

  private vectors(id: string): Responses {
    return this.answered('vectors', id) ?? this.pass('vectors', id);
  }

  /** The answers of the rows alone, for figures that are asked for first now. */
  private pass(what: 'lists' | 'vectors', id: string): Responses {
    const name = `${what} ${id}`;
    let pass = this.passes.get(name);
    if (!pass) {
      // A figure of a group of rows, or on a line through all of them, hangs on every one.
      pass = finish(responsesOf(this.result, { [what]: [id] }, this.result.specs[id]!.by === undefined));
      this.passes.set(name, pass);
    }
    return pass;
  }
}

/** In a run of more rows, the figures of all of them are not computed again and again for the interval of one. */
const MOST_ROWS = 1000;

const done = new WeakMap<RunResult, Intervals>();

/** The intervals of a run, where they have been computed; never computes any. */
export const knownIntervals = (result: RunResult): Intervals | undefined => done.get(result);

/** Lets a run under another name have the intervals that are known of it. */
export function lendIntervals(from: RunResult, to: RunResult): void {
  const known = done.get(from);
  if (known) done.set(to, known);
}

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
  const answers: Responses[] = [];
  for (const together of [true, false]) {
    const some = rest.filter(([, method]) => (method.by === 'readings' && method.together === true) === together);
    if (some.length === 0) continue;
    const responses = yield* responsesOf(result, askedOf(some), together);
    answers.push(responses);
    for (const [id, method] of some) figures.set(id, yield* fromResponses(result, responses, id, method));
  }
  const intervals = new Intervals(result, figures, answers);
  done.set(result, intervals);
  return intervals;
}
