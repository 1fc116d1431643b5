import { phrase } from '../text/message';
import { computed, type Result, refused, unequal } from './result';
import { median } from './statistics';

/** A picture held over time: readings in the order of time, NaN where one is open. */
export interface Endurance {
  /** s from the first reading or from any other moment; equal times are repeats. */
  readonly times: ArrayLike<number>;
  /** cd/m². */
  readonly luminance: ArrayLike<number>;
  /** Relative standard uncertainty of each reading. */
  readonly u: ArrayLike<number>;
}

export interface Settled {
  /** cd/m²; and over the first reading. */
  readonly level: number;
  readonly share: number;
  /** The first time, s, from which every reading is near the level. */
  readonly from: number;
}

/** Readings this near are one level, whatever the meter: relative. Common practice, no source. */
const LEAST_ROOM = 0.01;
/** A reading that is no more certain than this says nothing: relative. */
const MOST_ROOM = 1;

interface Rows {
  readonly t: readonly number[];
  readonly Y: readonly number[];
  readonly room: readonly number[];
}

/** The rows with a reading. Refused when time runs backwards, which is a slip of the pen in one of the two rows. */
function readRows({ times, luminance, u }: Endurance): Result<Rows> {
  const wrong = unequal(times, luminance, u);
  if (wrong) return wrong;
  const rows = { t: [] as number[], Y: [] as number[], room: [] as number[] };
  let before = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < times.length; i++) {
    const t = times[i]!;
    if (!Number.isFinite(t)) return refused('not-finite', { at: i + 1 });
    if (t < before) return refused('time-backwards', { t, before });
    before = t;
    if (!(luminance[i]! > 0 && Number.isFinite(luminance[i]!))) continue;
    rows.t.push(t);
    rows.Y.push(luminance[i]!);
    rows.room.push(Math.min(MOST_ROOM, Math.max(LEAST_ROOM, 3 * u[i]! || 0)));
  }
  return rows.t.length > 0 ? computed(rows) : refused('too-few-rows', { count: 1, which: phrase('with a reading'), found: 0 });
}

/** Every reading over the first one, in the order of the rows; NaN for open rows. Nothing is interpolated: only rows that exist count. */
export function overFirst(run: Endurance): Result<Float64Array> {
  const rows = readRows(run);
  if (!rows.ok) return rows;
  const first = rows.v.Y[0]!;
  return computed(Float64Array.from(run.luminance, (Y) => (Y > 0 && Number.isFinite(Y) ? Y / first : Number.NaN)));
}

/**
 * The level that the luminance comes to: the median of the last three readings. It is settled from the first time on from which every
 * reading is within t = max(1 %, 3u), at most 100 %, of that level (t itself included). Refused when fewer than three rows are: then it is still moving.
 * The definition is this project's own; a slow drift of less than t over the last three readings counts as settled.
 */
export function settled(run: Endurance): Result<Settled> {
  const rows = readRows(run);
  return rows.ok ? settledOf(rows.v) : rows;
}

/** A sentence needs no more digits of a room than two. */
const percent = (share: number): number => Number((100 * share).toPrecision(2));

function settledOf({ t, Y, room }: Rows): Result<Settled> {
  const level = median(Y.slice(-3));
  const start = Y.findLastIndex((value, i) => Math.abs(value - level) > room[i]! * level) + 1;
  if (Y.length - start < 3) return refused('not-settled', { percent: percent(Math.max(...room.slice(-3))) });
  return computed({ level, share: level / Y[0]!, from: t[start]! });
}

/**
 * The time, s after the first reading, at which half of the drop has happened: the luminance is at the middle between the first and the
 * settled level, (Y₁ + Y∞)/2, not at half of the first. The first reading at or below it and the one before are joined by a straight
 * line. Refused when nothing is settled, and when the settled level is not below the first by more than t (a display that only
 * warms up has no drop).
 */
export function halfOfDrop(run: Endurance): Result<number> {
  const rows = readRows(run);
  if (!rows.ok) return rows;
  const end = settledOf(rows.v);
  if (!end.ok) return end;
  const { t, Y, room } = rows.v;
  const first = Y[0]!;
  if (!(first - end.v.level > room[0]! * first)) return refused('no-drop', { percent: percent(room[0]!) });
  const half = (first + end.v.level) / 2;
  const at = Y.findIndex((value) => value <= half);
  const along = (Y[at - 1]! - half) / (Y[at - 1]! - Y[at]!);
  return computed(t[at - 1]! + along * (t[at]! - t[at - 1]!) - t[0]!);
}
