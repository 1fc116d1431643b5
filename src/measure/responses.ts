import type { ErrorRows } from '../uncertainty/covariance';
import type { Interval } from '../uncertainty/interval';
import { Reach } from '../uncertainty/propagate';
import { statedErrors } from './errors';
import type { Context } from './kernel';
import { LUMINANCE } from './methods';
import { Seen } from './readings';
import type { RunResult } from './result';
import { metersOf, type Source, sourcesOf, touch } from './sources';
import type { Value } from './value';

/** What is to be known of a run under other readings. */
export interface Asked {
  /** Figures of the run, with how each is asked for. */
  readonly values?: ReadonlyMap<string, How>;
  /** Row figures; `LUMINANCE` for the readings themselves. */
  readonly lists?: readonly string[];
  /** Row figures as vectors: those that are distances, and signed ones, of which the size counts. */
  readonly vectors?: readonly string[];
}

/**
 * `halved`: with half of the errors too, as it may come to an end. `slope`: at least as far as next to no error takes it, carried on: a figure
 * that goes by the rank of near readings moves with the one that has the rank, and then meets the next.
 */
export type How = 'plain' | 'halved' | 'slope';

/** What the errors of the readings do to a figure: at both of its ends, where it has two. */
export class FigureResponse {
  private readonly ends: readonly [Reach, Reach];
  /** Change by one standard deviation of the errors that other runs may share, by name. */
  readonly named = new Map<string, number>();

  constructor([low, high]: Interval) {
    this.ends = [new Reach(low), new Reach(high)];
  }

  /** `halves`: with half of the errors. */
  add(source: Source, above: Interval, below: Interval, halves?: readonly [Interval, Interval]): void {
    const slopes = ([0, 1] as const).map((end) =>
      this.ends[end].add(above[end], below[end], halves && [halves[0][end], halves[1][end]]),
    ) as [number, number];
    if (source.name !== undefined) this.named.set(source.name, 0.5 * (slopes[0] + slopes[1]));
  }

  /** End by end, whichever of two is farther away. */
  farther(a: Interval, b: Interval): Interval {
    const at = (end: 0 | 1) => (Math.abs(b[end] - this.ends[end].value) > Math.abs(a[end] - this.ends[end].value) ? b[end] : a[end]);
    return [at(0), at(1)];
  }

  get interval(): Interval {
    return [this.ends[0].interval[0], this.ends[1].interval[1]];
  }

  get sd(): number {
    return Math.max(this.ends[0].sd, this.ends[1].sd);
  }

  /** What it would be at `times` as much of an error as gives it these ends. */
  extended(ends: Interval, times: number): Interval {
    const at = (end: 0 | 1) => this.ends[end].value + times * (ends[end] - this.ends[end].value);
    return [at(0), at(1)];
  }
}

/** What the errors do to a row figure, row by row: a row's own spread, and what it shares with others. Reaches are for 0.95, as of `Reach`. */
export class ListResponse {
  private readonly own: Sides;
  private readonly shared: Sides;
  private readonly bends: Float64Array;
  private readonly slopes: Float64Array;

  constructor(readonly list: Float64Array) {
    const zeros = () => new Float64Array(list.length);
    this.own = { falls: zeros(), rises: zeros() };
    this.shared = { falls: zeros(), rises: zeros() };
    this.bends = zeros();
    this.slopes = zeros();
  }

  add(source: Source, above: Float64Array, below: Float64Array): void {
    const { list, own, shared, bends, slopes } = this;
    for (let i = 0; i < list.length; i++) {
      const [up, down] = [above[i]! - list[i]!, below[i]! - list[i]!];
      const { falls, rises } = source.name === undefined || source.patch === i ? own : shared;
      falls[i]! += Math.max(0, -up, -down) ** 2;
      rises[i]! += Math.max(0, up, down) ** 2;
      bends[i]! += (up + down) ** 2;
      slopes[i]! += (up - down) ** 2;
    }
  }

  /** How far down row i may reach, its own part and the part that it shares taken so many times. */
  fall(i: number, own = 1, shared = own): number {
    return Math.sqrt(own * own * this.own.falls[i]! + shared * shared * this.shared.falls[i]!);
  }

  rise(i: number, own = 1, shared = own): number {
    return Math.sqrt(own * own * this.own.rises[i]! + shared * shared * this.shared.rises[i]!);
  }

  interval(i: number): Interval {
    return [this.list[i]! - this.fall(i), this.list[i]! + this.rise(i)];
  }

  /** Whether the figure is bent by less than a third of what it moves: else it is near a fold, as a chroma near grey is. */
  isStraight(i: number): boolean {
    return 9 * this.bends[i]! < this.slopes[i]!;
  }
}

interface Sides {
  readonly falls: Float64Array;
  readonly rises: Float64Array;
}

/** Error vectors of rows, three numbers each, under the errors of the readings. */
export class VectorResponse {
  private readonly spread: Float64Array;
  private readonly shared = new Map<string, Float64Array>();

  constructor(private readonly vectors: Float64Array) {
    this.spread = new Float64Array(2 * vectors.length);
    for (let i = 0; i < vectors.length; i += 3) if (Number.isNaN(vectors[i]!)) this.spread.fill(Number.NaN, 2 * i, 2 * i + 6);
  }

  add({ name }: Source, above: Float64Array, below: Float64Array, apart: number): void {
    const { spread } = this;
    const shifts = above.map((v, k) => (v - below[k]!) / apart);
    if (name !== undefined) {
      this.shared.set(name, shifts);
      return;
    }
    for (let i = 0; i < shifts.length; i += 3) {
      const [x, y, z] = [shifts[i]!, shifts[i + 1]!, shifts[i + 2]!];
      const at = 2 * i;
      spread[at]! += x * x;
      spread[at + 1]! += x * y;
      spread[at + 2]! += x * z;
      spread[at + 3]! += y * y;
      spread[at + 4]! += y * z;
      spread[at + 5]! += z * z;
    }
  }

  get rows(): ErrorRows {
    const { vectors: error, spread } = this;
    const sources = [...this.shared.keys()];
    const count = error.length / 3;
    const shared = new Float64Array(3 * sources.length * count);
    sources.forEach((name, s) => {
      const shifts = this.shared.get(name)!;
      for (let i = 0; i < count; i++) shared.set(shifts.subarray(3 * i, 3 * i + 3), 3 * (sources.length * i + s));
    });
    return { count, sources, error, spread, shared };
  }
}

/** Answers of a run to the errors of its readings. Lists and vectors are there for each of its contexts. */
export class Responses {
  readonly values: ReadonlyMap<string, FigureResponse>;
  readonly lists: ReadonlyMap<string, readonly ListResponse[]>;
  readonly vectors: ReadonlyMap<string, readonly VectorResponse[]>;
  /** What hangs on something of which a meter says no spread. */
  readonly untold = new Set<string>();
  private readonly hows: ReadonlyMap<string, How>;

  constructor(
    private readonly result: RunResult,
    asked: Asked,
  ) {
    const { contexts } = result;
    const { lists = [], vectors = [] } = asked;
    const byContext = <T>(ids: Iterable<string>, make: (id: string, context: Context) => T) =>
      new Map([...ids].map((id) => [id, contexts.map((context) => make(id, context))]));
    this.hows = asked.values ?? new Map();
    this.values = new Map([...this.hows.keys()].map((id) => [id, new FigureResponse(endsOf(result.value(id)))]));
    this.lists = byContext(lists, (id, context) => new ListResponse(listIn(result, context, id)));
    this.vectors = byContext(vectors, (id, context) => new VectorResponse(vectorsIn(result, context, id)));
  }

  add(source: Source, above: RunResult, below: RunResult, z: number): void {
    const parts = new Map<number, RunResult>();
    const endsAt = (share: number, id: string): Interval => {
      const moved = parts.get(share) ?? this.result.moved(source.move(share * z));
      parts.set(share, moved);
      return endsOf(moved.value(id));
    };
    for (const [id, response] of this.values) {
      const how = this.hows.get(id)!;
      const [up, down] = ([above, below] as const).map((moved, side) => {
        const ends = endsOf(moved.value(id));
        const extended = () => response.extended(endsAt(side === 0 ? LITTLE : -LITTLE, id), 1 / LITTLE);
        return !isKnown(ends) ? extended() : how === 'slope' ? response.farther(ends, extended()) : ends;
      }) as [Interval, Interval];
      response.add(source, up, down, how === 'halved' ? [endsAt(0.5, id), endsAt(-0.5, id)] : undefined);
    }
    this.result.contexts.forEach((_, c) => {
      const [up, down] = [above.contexts[c], below.contexts[c]];
      if (!up || !down) return;
      for (const [id, lists] of this.lists) lists[c]!.add(source, listIn(above, up, id), listIn(below, down, id));
      for (const [id, vectors] of this.vectors) vectors[c]!.add(source, vectorsIn(above, up, id), vectorsIn(below, down, id), 2 * z);
    });
  }

  /** Notes what is not as it was, now that something was touched of which nothing is said. */
  touch(moved: RunResult): void {
    const { result, untold } = this;
    for (const id of this.values.keys()) {
      const [was, is] = [endsOf(result.value(id)), endsOf(moved.value(id))];
      if (isApart(was[0], is[0]) || isApart(was[1], is[1])) untold.add(id);
    }
    result.contexts.forEach((context, c) => {
      const other = moved.contexts[c];
      if (!other) return;
      const differs = (of: (from: RunResult, at: Context) => Iterable<number>) => {
        const was = [...of(result, context)];
        return [...of(moved, other)].some((v, i) => isApart(v, was[i]!));
      };
      for (const id of this.lists.keys()) if (differs((from, at) => listIn(from, at, id))) untold.add(id);
      for (const id of this.vectors.keys()) if (differs((from, at) => vectorsIn(from, at, id))) untold.add(id);
    });
  }
}

/** Of an error that takes a figure away altogether (a level that is not settled any more), so much is looked at and carried on. */
const LITTLE = 1 / 32;

const isKnown = ([low, high]: Interval): boolean => !Number.isNaN(low + high);

/** More than rounding does to any figure, and far less than a touch does to one that hangs on it. */
const isApart = (a: number, b: number): boolean => Math.abs(a - b) > 1e-9 || Number.isNaN(a) !== Number.isNaN(b);

const NONE: Interval = [Number.NaN, Number.NaN];

const endsOf = (value: Value): Interval => (value.ok ? (value.ends ?? [value.v, value.v]) : NONE);

function listIn(result: RunResult, context: Context, id: string): Float64Array {
  if (id !== LUMINANCE) return result.rowsIn(context, id);
  const { Y, seen, revisit } = context.patches;
  return Y.map((v, i) => (seen[i] === Seen.Measured && !revisit[i] ? v : Number.NaN));
}

function vectorsIn(result: RunResult, context: Context, id: string): Float64Array {
  const list = result.rowsIn(context, id);
  const of = result.vectorsIn(context, id);
  const vectors = new Float64Array(3 * list.length);
  for (let i = 0; i < list.length; i++) vectors.set(Number.isNaN(list[i]!) ? NO_VECTOR : (of?.(i) ?? [list[i]!, 0, 0]), 3 * i);
  return vectors;
}

const NO_VECTOR = [Number.NaN, Number.NaN, Number.NaN] as const;

/**
 * Asks a run again with each of its errors a standard deviation of the interval up, and down. Pauses after every computation of the run, which
 * is as long as a pause may have to wait.
 */
export function* responsesOf(result: RunResult, asked: Asked, together = false): Generator<void, Responses> {
  const { session } = result;
  const responses = new Responses(result, asked);
  const { z } = new Reach(0);
  for (const source of sourcesOf(result, together)) {
    responses.add(source, result.moved(source.move(z)), result.moved(source.move(-z)), z);
    yield;
  }
  for (const meter of metersOf(result)) {
    for (const what of statedErrors(session, meter)?.unsaid ?? []) {
      responses.touch(result.moved(touch(meter, what)));
      yield;
    }
  }
  return responses;
}
