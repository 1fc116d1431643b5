import type { Vec3 } from '../colour/vector';
import type { Block } from '../session/block';
import { keyLabel } from '../session/blockProblems';
import type { BlockMatch } from '../session/difference';
import { compared, type Side } from '../uncertainty/change';
import type { Interval } from '../uncertainty/interval';
import { Reach } from '../uncertainty/propagate';
import { spreadColumns, statedErrors } from './errors';
import { knownInterval } from './intervals';
import { methodOf } from './methods';
import type { Move } from './moved';
import { Seen } from './readings';
import { readPatches } from './readPatches';
import type { RunResult } from './result';
import { FEWEST, MOST_MOVED, ONE_BY_ONE, ownReadings, type Readings, sharedSources, shifted, sign } from './sources';

/**
 * What the figures of a run hang on that is not as it was. `again`: readings of one row that are not the same reading. `mended`: slips put
 * right. `rows`: readings that only one of the versions has. `else`: what is written of the display, the signal, the target or the meter.
 */
export type ChangedBy = 'again' | 'mended' | 'rows' | 'else';

/** A figure that both versions of a run have. */
export interface Asked {
  readonly id: string;
  readonly key: readonly string[];
}

export interface VersionChange {
  readonly by: ChangedBy;
  /** Where the true change lies, where readings were taken again and the meter says its spread; nothing else of a change is uncertain. */
  readonly interval?: Interval;
}

/**
 * How far the figures of a run in two versions of a session differ by more than the meter can show.
 *
 * Most readings of two versions are the same readings: whatever their errors are, they have them in both, and a figure that hangs on nothing
 * else has not changed by chance at all. So the difference D = f(after) − f(before) is propagated as one figure of all readings of both:
 *
 * - a reading that both versions have is one source of error, which moves it in both: it cancels as far as both figures respond to it alike;
 * - a reading that only one of them has is a source of its own: of one that was taken again there are two, independent by the spread;
 * - what all readings of a meter share (its accuracy) moves all of them in both.
 *
 * Of repeats n before and m after, c of them the same, the mean of the row has three independent parts: the sum of the c, over n before and
 * over m after; and those of either version alone.
 *
 * A slip put right is the same reading, that was written down wrongly: where nothing was taken again the difference is exact, a matter of
 * the record and not of the display. So it is for rows that only one version has, as long as no reading was taken again: another set of rows
 * is another figure, and no repetition would show the old one.
 *
 * The readings are taken for those of one sitting: that the meter itself has drifted in between is not seen.
 */
export function* compareVersions(
  before: RunResult,
  after: RunResult,
  became: ReadonlyMap<Block, BlockMatch>,
  asked: readonly Asked[],
): Generator<unknown, readonly VersionChange[]> {
  const [old, now] = [readingsOf(before), readingsOf(after)];
  const { errors, mended } = errorsOf(old, now, became);
  const hasAgain = errors.some(({ isAgain }) => isAgain);
  const hasRows = errors.some(({ parts }) => !parts[0] || !parts[1]);
  const exact: VersionChange = { by: mended ? 'mended' : hasRows ? 'rows' : 'else' };
  if (!hasAgain) return asked.map(() => exact);
  const moved = asked.map((one) => (isPropagated(after, one) ? movedFigure(before, after, one) : undefined));
  if (moved.some((figure) => figure !== undefined)) {
    for (const [moveBefore, moveAfter] of sources(before, after, errors)) {
      const [up, down] = [Z, -Z].map((by) => {
        const results = [moveBefore ? before.moved(moveBefore(by)) : before, moveAfter ? after.moved(moveAfter(by)) : after] as const;
        return moved.map((figure): Both => (figure ? figure.at(results) : NOTHING));
      }) as [Both[], Both[]];
      for (const [i, figure] of moved.entries()) figure?.add(up[i]!, down[i]!);
      yield;
    }
  }
  return moved.map((figure): VersionChange => {
    const interval = figure?.interval;
    if (!interval || Number.isNaN(interval[0] + interval[1])) return { by: 'again' };
    // A figure on which no reading hangs that is not as it was.
    return interval[1] - interval[0] <= 1e-9 * (Math.abs(interval[0]) + Math.abs(interval[1])) + 1e-12 ? exact : { by: 'again', interval };
  });
}

/** How far errors move the readings: as far as the ends of an interval lie. */
const { z: Z } = new Reach(0);

type Both = readonly [before: number, after: number];
const NOTHING: Both = [Number.NaN, Number.NaN];

/** A figure of both versions, and what the errors do to it and to the difference. */
class MovedFigure {
  private readonly difference: Reach;
  private readonly sides: readonly [Reach, Reach];
  private readonly shared = [new Map<string, number>(), new Map<string, number>()] as const;

  constructor(
    private readonly asked: Asked,
    private readonly values: Both,
    private readonly intervals: readonly [Interval, Interval],
    private readonly isDistance: boolean,
  ) {
    this.difference = new Reach(values[1] - values[0]);
    this.sides = [new Reach(values[0]), new Reach(values[1])];
  }

  at(results: readonly [RunResult, RunResult]): Both {
    const { id, key } = this.asked;
    return results.map((result) => {
      const value = result.value(id, key);
      return value.ok ? value.v : Number.NaN;
    }) as unknown as Both;
  }

  add(up: Both, down: Both): void {
    this.difference.add(up[1] - up[0], down[1] - down[0]);
    for (const side of [0, 1] as const) this.shared[side].set(`${this.shared[side].size}`, this.sides[side].add(up[side], down[side]));
  }

  /**
   * Propagation is wide where a distance is near 0, which any error can only raise; intervals of both figures that are put together, with what
   * they share taken off, are wide where both are alike. Both hold the true difference, so the ends are those that reach less far.
   */
  get interval(): Interval {
    const { interval: propagated } = this.difference;
    const side = (k: 0 | 1): Side => {
      const [value, interval] = [this.values[k], this.intervals[k]];
      const firm = this.isDistance && interval[1] > value ? Math.max(0, Math.min(1, interval[0] / (interval[1] - value))) : 1;
      return { value, best: value, interval, sd: this.sides[k].sd, shared: this.shared[k], firm };
    };
    const { interval: together } = compared(side(0), side(1));
    return [Math.max(propagated[0], together[0]), Math.min(propagated[1], together[1])];
  }
}

function movedFigure(before: RunResult, after: RunResult, asked: Asked): MovedFigure | undefined {
  const { id, key } = asked;
  const [from, to] = [before.value(id, key), after.value(id, key)];
  const [was, is] = [knownInterval(before, id, key), knownInterval(after, id, key)];
  if (!from.ok || !to.ok || from.bound || to.bound || !was?.ok || !is?.ok) return undefined;
  const { by } = methodOf(after.run.kind, id, key.length === 0 ? 'run' : 'row');
  return new MovedFigure(asked, [from.v, to.v], [was.ci, is.ci], by === 'length' || by === 'row' || by === 'average' || by === 'largest');
}

/** Whether the errors of a figure are those of its readings. */
function isPropagated({ run }: RunResult, { id, key }: Asked): boolean {
  const { by } = methodOf(run.kind, id, key.length === 0 ? 'run' : 'row');
  return run.kind !== 'correction' && by !== 'scatter' && by !== 'none';
}

/** The readings of a run, and those of others that give it its scale. */
function readingsOf(result: RunResult): readonly Readings[] {
  const { session, run, context } = result;
  if (!context) return [];
  const scale = (context.judged?.read ?? []).filter(({ run: other }) => other.block !== run.block);
  const others = new Map(scale.map(({ run: other }) => [other.block, other]));
  const onlyPatches = (block: Block, patches: Readings['patches']): Readings['patches'] => {
    const used = new Set(scale.filter(({ run: other }) => other.block === block).map(({ patch }) => patch));
    return { ...patches, ofRow: patches.ofRow.map((patch) => (used.has(patch) ? patch : -1)) };
  };
  return [
    ...ownReadings(result, context),
    ...[...others.values()].map((other) => ({
      block: other.block,
      meter: other.meter,
      patches: onlyPatches(other.block, readPatches(session, other, ['level'])),
    })),
  ];
}

/** A number of repeats of one patch, in one version. */
interface Part {
  readonly readings: Readings;
  readonly patch: number;
  /** How far the mean of the patch moves with one standard deviation of one reading. */
  readonly share: number;
}

/** An independent error of some readings: what they are in either version. */
interface ReadingError {
  readonly parts: readonly [before: Part | undefined, after: Part | undefined];
  /** Whether the row has another reading in the other version. */
  readonly isAgain: boolean;
}

function errorsOf(
  old: readonly Readings[],
  now: readonly Readings[],
  became: ReadonlyMap<Block, BlockMatch>,
): { readonly errors: readonly ReadingError[]; readonly mended: boolean } {
  const errors: ReadingError[] = [];
  let mended = false;
  const part = (readings: Readings, patch: number, count: number): Part => ({
    readings,
    patch,
    share: Math.sqrt(count) / readings.patches.times[patch]!,
  });
  const unmatched = new Set(now);
  for (const readings of old) {
    const match = became.get(readings.block);
    const other = now.find(({ block }) => block === match?.block);
    if (other) unmatched.delete(other);
    const [own, its] = [rowsByPatch(readings), other ? rowsByPatch(other) : new Map<number, readonly number[]>()];
    const patchOf = (row: number | undefined) => (row === undefined || !other ? -1 : other.patches.ofRow[row]!);
    const left = new Map([...its].map(([patch, rows]) => [patch, new Set(rows)]));
    const alone = new Map<number, number>();
    for (const [patch, rows] of own) {
      const together = new Map<number, number>();
      for (const row of rows) {
        const to = match?.same.get(row);
        const at = patchOf(to);
        if (at >= 0 && left.get(at)?.delete(to!)) {
          together.set(at, (together.get(at) ?? 0) + 1);
          if (match!.mended.has(to!)) mended = true;
        } else alone.set(patch, (alone.get(patch) ?? 0) + 1);
      }
      for (const [at, count] of together) errors.push({ parts: [part(readings, patch, count), part(other!, at, count)], isAgain: false });
    }
    const [before, after] = [keysRead(readings), other ? keysRead(other) : new Set<string>()];
    for (const [patch, count] of alone)
      errors.push({ parts: [part(readings, patch, count), undefined], isAgain: after.has(keyOfPatch(readings, patch)) });
    for (const [patch, rows] of left)
      if (rows.size > 0)
        errors.push({ parts: [undefined, part(other!, patch, rows.size)], isAgain: before.has(keyOfPatch(other!, patch)) });
  }
  for (const readings of unmatched)
    for (const [patch, rows] of rowsByPatch(readings))
      errors.push({ parts: [undefined, part(readings, patch, rows.length)], isAgain: false });
  return { errors, mended };
}

const keyOfPatch = ({ block, patches }: Readings, patch: number): string =>
  keyLabel(block, block.row(block.rowLines[patches.first[patch]!]!));

/** The keys of which there is any reading: one below the floor of the meter counts, that of which nothing is known but that it is there. */
function keysRead(readings: Readings): ReadonlySet<string> {
  const { ofRow, seen } = readings.patches;
  const patches = [...new Set(ofRow)].filter((patch) => patch >= 0 && seen[patch] !== Seen.None);
  return new Set(patches.map((patch) => keyOfPatch(readings, patch)));
}

/** The rows that a reading was taken in, by patch. */
function rowsByPatch({ patches: { ofRow, seen } }: Readings): ReadonlyMap<number, readonly number[]> {
  const rows = new Map<number, number[]>();
  ofRow.forEach((patch, row) => {
    if (patch < 0 || seen[patch] !== Seen.Measured) return;
    const list = rows.get(patch);
    if (list) list.push(row);
    else rows.set(patch, [row]);
  });
  return rows;
}

type MoveBy = (by: number) => Move;

/** The independent errors of both versions, as what they do to either. Of many readings those far apart are moved together, with signs by chance. */
function* sources(
  before: RunResult,
  after: RunResult,
  errors: readonly ReadingError[],
): Generator<readonly [MoveBy | undefined, MoveBy | undefined]> {
  const [alone, others] = [errors.filter(({ parts }) => !parts[0] || !parts[1]), errors.filter(({ parts }) => parts[0] && parts[1])];
  for (const list of [alone, others]) {
    const many = Math.max(FEWEST, Math.min(ONE_BY_ONE, Math.floor(MOST_MOVED / list.length)));
    const count = list.length <= ONE_BY_ONE ? list.length : many;
    for (let g = 0; g < count; g++) {
      const group = list.filter((_, k) => k % count === g);
      for (const column of [0, 1, 2] as const)
        yield [
          spreadMove(
            before,
            group.flatMap(({ parts }) => parts[0] ?? []),
            column,
          ),
          spreadMove(
            after,
            group.flatMap(({ parts }) => parts[1] ?? []),
            column,
          ),
        ];
    }
  }
  const shared = [sharedOf(before), sharedOf(after)] as const;
  for (const name of new Set([...shared[0].keys(), ...shared[1].keys()])) yield [shared[0].get(name), shared[1].get(name)];
}

function sharedOf({ session, run }: RunResult): ReadonlyMap<string, MoveBy> {
  const stated = statedErrors(session, run.meter);
  return new Map((stated ? sharedSources(run.meter, stated) : []).map(({ name, move }) => [name!, move]));
}

function spreadMove({ session }: RunResult, parts: readonly Part[], column: 0 | 1 | 2): MoveBy | undefined {
  if (parts.length === 0) return undefined;
  const shifts = parts.map(({ readings: { meter, patches }, patch }): Vec3 | undefined => {
    const stated = statedErrors(session, meter);
    return stated && spreadColumns(stated.meter, [patches.X[patch]!, patches.Y[patch]!, patches.Z[patch]!], 1)[column];
  });
  return (by) => (block, reader, patches) => {
    const of = parts.flatMap((part, i) => (part.readings.block === block && part.readings.meter === reader ? [[part, i] as const] : []));
    if (of.length === 0) return patches;
    return shifted(patches, (add) => {
      for (const [{ readings, patch, share }, i] of of) {
        const from = readings.patches;
        const at = patches.ofRow[from.first[patch]!]!;
        const shift = shifts[i];
        if (at >= 0 && shift) add(at, shift, (by * sign(i) * share * from.times[patch]!) / patches.times[at]!);
      }
    });
  };
}
