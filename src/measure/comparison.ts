import type { Block } from '../session/block';
import type { Message } from '../text/message';
import { averageSide, type Change, compared, propagatedSide, rowSide, type Side } from '../uncertainty/change';
import type { ErrorRows } from '../uncertainty/covariance';
import { type Intervals, intervalsOf } from './intervals';
import { methodOf } from './methods';
import type { RunResult } from './result';

/** A measure in two runs of one meter: what it was, what it is, and whether the difference is more than the meter's errors make. */
export interface Compared {
  readonly id: string;
  readonly from: number;
  readonly to: number;
  /** `changed` where the interval leaves out 0; else a change is not shown, which is not to say that there is none. */
  readonly change: ({ readonly ok: true } & Change) | { readonly ok: false; readonly why: Message; readonly difference: number };
}

const done = new WeakMap<RunResult, Map<RunResult, readonly Compared[]>>();

/** The comparison of two runs, where it has been made; never makes one. */
export const knownComparison = (before: RunResult, after: RunResult): readonly Compared[] | undefined => done.get(after)?.get(before);

/**
 * Every measure of a kind of run that has a number in both of two runs, before and after something was changed. What both share (all errors
 * of a meter that are common to its readings, a white that both are scaled by) cancels as far as both figures respond to it alike. Pauses as
 * `intervalsOf`, and leaves nothing when it is dropped.
 *
 * Known limits: bounds are left out, as nothing is known of how far beyond them a figure lies. Of the largest of rows, a figure by
 * rank, or one from the scatter of its readings, nothing cancels: cautious. Where the black was not seen, it is taken for 0 in both.
 */
export function* compareRuns(before: RunResult, after: RunResult): Generator<unknown, readonly Compared[]> {
  const known = knownComparison(before, after);
  if (known) return known;
  const [then, now] = [yield* intervalsOf(before), yield* intervalsOf(after)];
  const list: Compared[] = [];
  for (const [id, { scope }] of Object.entries(after.specs)) {
    if (scope === 'row') continue;
    const [from, to] = [before.value(id), after.value(id)];
    if (!from.ok || !to.ok || from.bound || to.bound) continue;
    const sides = [yield* sideOf(before, then, id), yield* sideOf(after, now, id)] as const;
    const silent = sides.find((side) => 'why' in side);
    const change =
      silent && 'why' in silent
        ? ({ ok: false, why: silent.why, difference: to.v - from.v } as const)
        : ({ ok: true, ...compared(sides[0] as Side, sides[1] as Side) } as const);
    list.push({ id, from: from.v, to: to.v, change });
  }
  const ofAfter = done.get(after) ?? new Map<RunResult, readonly Compared[]>();
  done.set(after, ofAfter.set(before, list));
  return list;
}

type Untold = { readonly why: Message };

function* sideOf(result: RunResult, intervals: Intervals, id: string): Generator<unknown, Side | Untold> {
  const told = intervals.of(id);
  if (!told?.ok) return told ?? { why: { code: 'lost', args: {} } };
  const method = methodOf(result.run.kind, id, 'run');
  if (method.by === 'average' || method.by === 'row') {
    const rows: ErrorRows = yield* intervals.rowsOf(id);
    return method.by === 'average' ? yield* averageSide(rows) : rowSide(rows, 0);
  }
  const value = result.value(id);
  const v = value.ok ? value.v : Number.NaN;
  const { ci } = told;
  const response = intervals.responseOf(id);
  if (!response) return { value: v, best: v, interval: ci, sd: (ci[1] - ci[0]) / 4, shared: new Map(), firm: 1 };
  const names = [...response.named.keys()];
  const bySource = Float64Array.from(response.named.values());
  return propagatedSide({ value: v, sd: response.sd, interval: ci, bySource }, names);
}

/** Whether two runs can be before and after: of one kind, meter, signal and target, and of two modes. */
export const isComparable = (a: RunResult, b: RunResult): boolean => isOfOneSort(a, b) && a.run.mode !== b.run.mode;

const isOfOneSort = ({ run: a }: RunResult, { run: b }: RunResult): boolean =>
  a.kind === b.kind &&
  a.meter !== undefined &&
  a.meter === b.meter &&
  a.signal === b.signal &&
  a.target === b.target &&
  a.mode !== undefined &&
  b.mode !== undefined;

/**
 * The runs that are before and after, in the order of the text. A run is compared with the nearest that it is like, of those further up that
 * it can be compared with, else with the one of a mode that its mode is from, else with the only one; with none where there is a choice.
 */
export function pairsOf(results: readonly RunResult[]): readonly Pair[] {
  let found = paired.get(results);
  if (!found) {
    const sorts: RunsOfOneSort[] = [];
    found = results.flatMap((after) => {
      const { mode } = after.run;
      if (!after.context || !mode) return [];
      let sort = sorts.find(({ first }) => isOfOneSort(first, after));
      if (!sort) {
        sort = new RunsOfOneSort(after);
        sorts.push(sort);
      }
      const before = sort.before(after, mode);
      sort.add(after, mode);
      return before ? [[before, after] as const] : [];
    });
    paired.set(results, found);
  }
  return found;
}

export type Pair = readonly [before: RunResult, after: RunResult];

const paired = new WeakMap<readonly RunResult[], readonly Pair[]>();

/** The runs further up that differ in nothing but their modes. There may be thousands. */
class RunsOfOneSort {
  private readonly byBlock = new Map<Block, RunResult>();
  private readonly byMode = new Map<Block, RunResult[]>();

  constructor(readonly first: RunResult) {}

  add(result: RunResult, mode: Block): void {
    this.byBlock.set(result.run.block, result);
    const alike = this.byMode.get(mode);
    if (alike) alike.push(result);
    else this.byMode.set(mode, [result]);
  }

  before({ session, run }: RunResult, mode: Block): RunResult | undefined {
    for (const block of session.lineage(run.block)) {
      const like = this.byBlock.get(block);
      if (like && like.run.mode !== mode) return like;
    }
    const others = [...this.byMode.keys()].filter((other) => other !== mode);
    const from = session.lineage(mode).find((other) => others.includes(other)) ?? (others.length === 1 ? others[0] : undefined);
    const found = from && this.byMode.get(from)!;
    return found?.length === 1 ? found[0] : undefined;
  }
}
