import type { Xy } from '../colour/vector';
import type { Coloured } from '../measure/colours';
import type { Grey } from '../measure/greyscale';
import type { Context } from '../measure/kernel';
import { Seen } from '../measure/readings';
import { isHdr } from '../measure/target';
import { isTracked, type Tracked } from '../measure/tracking';
import { keyLabel } from '../session/blockProblems';
import type { Placed } from '../session/findings';
import type { RowLine } from '../session/line';
import type { Problem } from '../text/finding';

// The rows of a run as suspicions look at them: in the order of their light, beside what they should have been.

export const rowOf = ({ run, patches }: Context, patch: number): RowLine => run.table.rows[patches.first[patch]!]!;
export const placedAt = ({ run }: Context, row: number, p: Problem): Placed => ({
  block: run.block,
  line: run.table.lines[row]!,
  problem: p,
});
export const labelOf = (c: Context, row: RowLine): string => keyLabel(c.run.block, row);
export const isColoured = (c: Context): c is Coloured => 'targetY' in c;
export const isGrey = (c: Context): c is Grey => 'visits' in c;
/** Greys at rising levels, whatever they are judged by. */
export const isLevelled = (c: Context): c is Grey | Tracked => 'signals' in c;
/** What each patch should have been, cd/m²: a tracking run is held against its curve above the knee too. */
export const targetsOf = (c: Context): Float64Array | undefined => (isTracked(c) ? c.asked : isColoured(c) ? c.targetY : undefined);

/** Runs of one level, whose readings lie near each other. */
export const ONE_LEVEL = new Set(['uniformity', 'endurance']);

/** The patches with a luminance in the order of their level, window or file; undefined for runs whose rows have no order of light. */
export function orderOf(c: Context): Int32Array | undefined {
  const along = isLevelled(c) ? c.signals : 'sizes' in c ? (c.sizes as Float64Array) : undefined;
  const targets = targetsOf(c);
  if (!along && !targets && !ONE_LEVEL.has(c.run.kind)) return undefined;
  const { count, seen, Y, revisit } = c.patches;
  const order = new Int32Array(count);
  let length = 0;
  let isSorted = true;
  for (let i = 0; i < count; i++) {
    if (seen[i] !== Seen.Measured || !(Y[i]! > 0) || revisit[i] || (targets && !(targets[i]! > 0))) continue;
    if (along) {
      if (!Number.isFinite(along[i]!)) continue;
      isSorted &&= length === 0 || along[i]! >= along[order[length - 1]!]!;
    }
    order[length++] = i;
  }
  const found = order.subarray(0, length);
  return along && !isSorted ? found.sort((a, b) => along[a]! - along[b]!) : found;
}

/**
 * What readings are held against, cd/m². No HDR display shows all that is asked: its highest levels are held against the brightest that
 * it shows, the largest running median of three, which no slip of one row moves.
 */
export function expectedOf(c: Context, order: Int32Array): Float64Array | undefined {
  const targets = targetsOf(c);
  if (!targets || !isLevelled(c) || !isHdr(c.judged.target.curve)) return targets;
  const { Y } = c.patches;
  let brightest = 0;
  for (let at = 1; at + 1 < order.length; at++)
    brightest = Math.max(brightest, median([Y[order[at - 1]!]!, Y[order[at]!]!, Y[order[at + 1]!]!]));
  return targets.map((T) => Math.min(T, brightest));
}

/** A decimal number as it is written, with its point moved: digits stay as they were typed. */
export function pointMoved(raw: string, by: number): string {
  const at = raw.indexOf('.');
  const whole = at < 0 ? raw : raw.slice(0, at);
  const rest = at < 0 ? '' : raw.slice(at + 1);
  const all = `${'0'.repeat(Math.max(0, -by - whole.length + 1))}${whole}${rest}${'0'.repeat(Math.max(0, by - rest.length))}`;
  const point = Math.max(whole.length, -by + 1) + by;
  const integer = all.slice(0, point).replace(/^0+(?=\d)/, '');
  const decimals = all.slice(point);
  return decimals === '' ? integer : `${integer}.${decimals}`;
}

export function median(list: number[]): number {
  const sorted = Float64Array.from(list).sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

/** As many greys as these tell what is typical. */
const ENOUGH = 101;

/**
 * The median chromaticity of a greyscale, or of some of a long one, evenly spread. NaN with fewer than five colours, of which a swapped one
 * would be too large a part.
 */
export function typicalChromaticity({ patches: { count, X, Y, Z } }: Context): Xy {
  const [xs, ys]: [number[], number[]] = [[], []];
  const step = Math.ceil(count / ENOUGH);
  for (let i = 0; i < count; i += step) {
    const sum = X[i]! + Y[i]! + Z[i]!;
    if (!(sum > 0)) continue;
    xs.push(X[i]! / sum);
    ys.push(Y[i]! / sum);
  }
  return xs.length < 5 ? [Number.NaN, Number.NaN] : [median(xs), median(ys)];
}
