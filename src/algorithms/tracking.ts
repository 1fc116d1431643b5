import { type HlgDisplay, hlgEotfGrey } from '../colour/hlg';
import { pqEotf } from '../colour/pq';
import { phrase } from '../text/message';
import { computed, type Result, refused, unequal } from './result';
import { median } from './statistics';

/** Luminance, cd/m², that a signal (0 … 1, as sent) stands for. */
export type Curve = (signal: number) => number;

/**
 * A tracking run: one member a patch, in any order; patches of one signal follow each other as they come. NaN where a reading is open,
 * below the floor or over the range of the meter: such a row takes part in nothing.
 */
export interface Tracking {
  /** Signals as sent, 0 … 1 (HLG may exceed 1). */
  readonly signals: ArrayLike<number>;
  /** Luminance read, cd/m². */
  readonly luminance: ArrayLike<number>;
  /** Relative standard uncertainty of each reading (0.005 is half a per cent), repeats already taken into account. */
  readonly u: ArrayLike<number>;
  /** The curve of the target; PQ when left out. */
  readonly curve?: Curve;
}

/** The room for the scatter of the meter, and for what no eye takes for a kink: stops. Common practice, no source. */
const LEAST_FALL = 0.1;
/** The mid-tones, cd/m² of the target, in which a display follows its curve if it does anywhere. */
const MID_TONES = [5, 100] as const;

/**
 * The curve of an HLG display of nominal peak luminance `display.Lw`, with the system gamma for that peak. Source: ITU-R BT.2100 Table 5,
 * Note 5f; Report ITU-R BT.2390. Refused for a peak that is not above 0, or not above the black.
 */
export function hlgCurve(display: HlgDisplay): Result<Curve> {
  const { Lw, Lb = 0 } = display;
  if (!(Number.isFinite(Lw) && Lw > 0 && Lb >= 0 && Lb < Lw)) return refused('peak-unknown', { peak: Lw });
  return computed((signal) => hlgEotfGrey(signal, display));
}

/** d = log2(Y/T), stops, row by row: + is too bright. NaN where either is not above 0, or the reading is none. */
export function deviationStops(run: Pick<Tracking, 'signals' | 'luminance' | 'curve'>): Float64Array {
  const { signals, luminance, curve = pqEotf } = run;
  return Float64Array.from(signals, (signal, i) => {
    const target = curve(signal);
    return luminance[i]! > 0 && target > 0 ? Math.log2(luminance[i]! / target) : Number.NaN;
  });
}

/** A relative uncertainty in stops: d log2(Y) = dY/(Y·ln 2). */
export const stopsOf = (relative: number): number => relative / Math.LN2;

/** The rows that have a deviation, by rising signal; rows of one signal in the order of the run. */
export function rising(signals: ArrayLike<number>, deviation: ArrayLike<number>): readonly number[] {
  const rows: number[] = [];
  for (let i = 0; i < signals.length; i++) if (Number.isFinite(deviation[i]!) && Number.isFinite(signals[i]!)) rows.push(i);
  return rows.sort((a, b) => signals[a]! - signals[b]!);
}

/** g: how much brighter than its target, in stops, the display is as a whole: the median d of rows with targets of 5 to 100 cd/m². */
export function overallGain(run: Tracking): Result<number> {
  const { signals, curve = pqEotf } = run;
  const wrong = unequal(signals, run.luminance, run.u);
  if (wrong) return wrong;
  const inMidTones = deviationStops(run).filter((d, i) => {
    const target = curve(signals[i]!);
    return Number.isFinite(d) && target >= MID_TONES[0] && target <= MID_TONES[1];
  });
  return inMidTones.length > 0 ? computed(median(inMidTones)) : refused('no-mid-tones', { from: MID_TONES[0], to: MID_TONES[1] });
}

export interface Knee {
  /** Signal at which the roll-off has taken τ. */
  readonly signal: number;
  /** Luminance, cd/m², of the display there. */
  readonly luminance: number;
}

export type KneeSearch =
  | ({ readonly found: true } & Knee)
  /** No roll-off up to this signal, the highest with a reading. */
  | { readonly found: false; readonly upTo: number };

/**
 * Where the roll-off begins to show. g is the overall gain; τ = max(0.1 stop, 3u/ln 2) of a row. From the top down, the first row with
 * d − g ≥ −τ is the last that follows; the knee lies between it and the next row above, where the straight line through their
 * d − g + τ meets 0. Its luminance is curve(s)·2^(g − τ), τ on the straight line too.
 *
 * Ties: a row at −τ exactly follows, and is then the knee itself; rows without a deviation are passed over, so that "the next" is the
 * next one with a reading; rows of one signal stand in the order of the run; when the top row follows there is no knee. A dip below
 * a row that follows is no knee. Refused without a row in the mid-tones. The definition is this project's own.
 */
export function knee(run: Tracking): Result<KneeSearch> {
  const gain = overallGain(run);
  if (!gain.ok) return gain;
  const g = gain.v;
  const { signals, u, curve = pqEotf } = run;
  const d = deviationStops(run);
  const rows = rising(signals, d);
  const tau = (i: number) => Math.max(LEAST_FALL, 3 * stopsOf(u[i]!) || 0);
  const above = (i: number) => d[i]! - g + tau(i);
  // The median is one of the rows or lies between two, so at least one row follows.
  const last = rows.findLastIndex((i) => above(i) >= 0);
  const follows = rows[last]!;
  const falls = rows[last + 1];
  if (falls === undefined) return computed({ found: false, upTo: signals[follows]! });
  const t = above(follows) / (above(follows) - above(falls));
  const between = (of: (i: number) => number) => of(follows) + t * (of(falls) - of(follows));
  const signal = between((i) => signals[i]!);
  return computed({ found: true, signal, luminance: curve(signal) * 2 ** (g - between(tau)) });
}

export interface Deviation {
  /** Mean d, stops. */
  readonly bias: number;
  /** Mean |d|, stops. */
  readonly average: number;
  /** Rows in the means. */
  readonly n: number;
}

/**
 * How well the display follows where it means to: over rows with a target of at least ten times the floor of the meter (cd/m², 0 when
 * it states none), up to the knee; all of them without a knee. A row at the signal of the knee belongs to it. Above the knee a
 * roll-off is no error. Refused when the knee is, or when no row is left.
 */
export function followed(run: Tracking, floor: number): Result<Deviation> {
  const end = knee(run);
  if (!end.ok) return end;
  const { signals, curve = pqEotf } = run;
  const top = end.v.found ? end.v.signal : Number.POSITIVE_INFINITY;
  let sum = 0;
  let sumOfSizes = 0;
  let n = 0;
  deviationStops(run).forEach((d, i) => {
    if (!Number.isFinite(d) || !(curve(signals[i]!) >= 10 * floor) || signals[i]! > top) return;
    sum += d;
    sumOfSizes += Math.abs(d);
    n++;
  });
  if (n === 0) return refused('too-few-rows', { count: 1, which: phrase('from ten times the floor up to the knee'), found: 0 });
  return computed({ bias: sum / n, average: sumOfSizes / n, n });
}
