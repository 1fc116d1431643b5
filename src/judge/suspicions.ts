import { deltaUv, xyzToXy } from '../colour/chromaticity';
import type { Xy } from '../colour/vector';
import { type Coloured, targetAt } from '../measure/colours';
import { type Grey, type RangeHypothesis, sharesOfWhite, usualGreys, whiteReadings } from '../measure/greyscale';
import type { Context } from '../measure/kernel';
import { FIELD } from '../measure/luminances';
import { driftOf } from '../measure/readPatches';
import type { RunResult } from '../measure/result';
import { isWhite } from '../measure/scaling';
import { chromaticitySpread, luminanceSpread, type Spread, spreadOf } from '../measure/spread';
import { isHdr } from '../measure/target';
import type { Tracked } from '../measure/tracking';
import type { Placed } from '../session/findings';
import { CellKind, cellCount, cellSpan, cellText, cellWord, type RowLine } from '../session/line';
import type { Session } from '../session/session';
import { kindAt, type TableColumn, valueAt } from '../session/table';
import { type Problem, problem } from '../text/finding';
import { type Arg, phrase, plainNumber } from '../text/message';
import type { Span } from '../text/span';
import { copies, darkWhites, otherChromaticity, otherLevels, reservedCodes, strayColours } from './mistyped';
import { replacing } from './readings';
import {
  expectedOf,
  isColoured,
  isGrey,
  isLevelled,
  labelOf,
  median,
  orderOf,
  placedAt,
  pointMoved,
  rowOf,
  typicalChromaticity,
} from './rows';

/**
 * How many standard deviations of their difference two readings of one patch may lie apart: by chance one pair in 15,000 lies further, so
 * that a session of a few hundred readings is left alone (common practice, no source).
 */
const BY_CHANCE = 4 * Math.SQRT2;

/**
 * Readings that light could have, but hardly this patch after its neighbours: slips of the decimal point, swapped chromaticities, falling
 * luminance, repeats that disagree, a white that drifts, a range mismatch; with those of mistyped.ts. Each says what it was compared with.
 */
export function suspicions(session: Session, result: RunResult): Placed[] {
  const context = result.context ?? usualContext(session, result);
  const levels = otherLevels(result);
  const units = levels.length > 0 ? levels : reservedCodes(result);
  if (!context) return units;
  const spread = spreadOf(session, result.run);
  const order = orderOf(context);
  const slips = order ? decimalSlips(context, order) : NO_SLIPS;
  const form = otherChromaticity(context);
  const swapped = form.length > 0 ? [] : swaps(context, spread);
  const known = { patches: slips.patches, lines: new Set(swapped.map(({ line }) => line)) };
  return [
    ...units,
    ...form,
    ...slips.problems,
    ...swapped,
    ...(order ? strayColours(context, order, spread, known) : []),
    ...(order ? falls(context, order, spread, slips.patches) : []),
    ...copies(context, order),
    ...darkWhites(context),
    ...disagreements(context, spread),
    ...(levels.length > 0 ? [] : rangeMismatch(result, context)),
  ];
}

/** A greyscale without a target (or without a scale for it) is held against a usual display: a slip or a fall shows beside any. */
const usualContext = (session: Session, { run, absent }: RunResult): Context | undefined =>
  run.kind === 'greyscale' && absent && UNSCALED.has(absent.why.code) ? usualGreys(session, run) : undefined;

const UNSCALED: ReadonlySet<string> = new Set(['no-target', 'target-incomplete', 'no-white', 'no-black', 'white-ambiguous']);

/** How many powers of ten a slip moves a reading, in the order in which they are tried. */
const SLIPS = [-1, 1, -3, 3, -2, 2];

interface Slips {
  readonly problems: readonly Placed[];
  readonly patches: ReadonlySet<number>;
}

const NO_SLIPS: Slips = { problems: [], patches: new Set() };

/**
 * Luminances a power of ten off. The trend is the median of log10(reading / target), or of log10(reading) in a window run, over the
 * nearest rows: a reading off it that a moved decimal point brings back (to within 0.2, a factor of 1.6) is a slip. Common practice, no
 * source: no curve bends so far between one level and the next.
 */
function decimalSlips(c: Context, order: Int32Array): Slips {
  const column = c.run.table.columns.get('Y');
  if (!column || order.length < 4) return NO_SLIPS;
  const { Y } = c.patches;
  const targets = expectedOf(c, order);
  const shares = new Float64Array(order.length);
  for (let at = 0; at < shares.length; at++) shares[at] = Y[order[at]!]! / (targets ? targets[order[at]!]! : 1);
  const slipOf = new Map<number, number>();
  const last = shares.length - 1;
  for (let at = 0; at <= last; at++) {
    // Nearly every reading lies by its neighbours: only the others are worth a median.
    if (at > 0 && at < last && areNear(shares[at]!, shares[at - 1]!) && areNear(shares[at]!, shares[at + 1]!)) continue;
    const off = Math.log10(shares[at]!) - trendAt(shares, at);
    const slip = SLIPS.find((power) => Math.abs(off + power) < 0.2);
    // Luminance rises with the level, whatever the target: what stands between its neighbours is no slip, and what would not is none
    // either. Near black this keeps a raised or crushed display from being taken for a row of slips.
    if (slip === undefined || (isLevelled(c) && !risesOnlyMended(c, order, at, slip, targets!))) continue;
    slipOf.set(order[at]!, slip);
  }
  if (slipOf.size === 0) return NO_SLIPS;
  const problems: Placed[] = [];
  const { rows } = c.run.table;
  for (let r = 0; r < rows.length; r++) {
    const slip = slipOf.get(c.patches.ofRow[r]!);
    if (slip === undefined) continue;
    const row = rows[r]!;
    const span = cellSpan(row, column.cell);
    const raw = cellText(row, column.cell);
    const mended = pointMoved(raw, slip);
    problems.push(
      placedAt(c, r, problem('decimal-slip', span, { name: 'Y', found: raw, key: labelOf(c, row), mended }, [replacing(span, mended)])),
    );
  }
  return { problems, patches: new Set(slipOf.keys()) };
}

/** Less than 0.35 apart in log10. */
const areNear = (a: number, b: number): boolean => a < NEAR * b && b < NEAR * a;
const NEAR = 10 ** 0.35;

/** The median of the log10 of the five nearest shares but the one in question; NaN with fewer than three. */
function trendAt(shares: Float64Array, at: number): number {
  const from = Math.max(0, Math.min(at - 2, shares.length - 5));
  const near = [...shares.subarray(from, from + 5)].filter((_, k) => from + k !== at);
  return near.length < 3 ? Number.NaN : median(near.map(Math.log10));
}

/**
 * Whether a luminance stands between those of its neighbours once mended, and does not as it is written. Above the highest level nothing
 * is known: there an SDR display follows the trend, and an HDR one rolls off, so that it must be too dark or too bright for that.
 */
function risesOnlyMended(c: Grey | Tracked, order: Int32Array, at: number, slip: number, expected: Float64Array): boolean {
  const { Y } = c.patches;
  const written = Y[order[at]!]!;
  const below = at > 0 ? Y[order[at - 1]!]! : 0;
  const isTop = at === order.length - 1;
  const above = isTop ? Number.POSITIVE_INFINITY : Y[order[at + 1]!]!;
  const isBetween = (luminance: number) => luminance > 0.95 * below && luminance < 1.05 * above;
  const isOff = !isBetween(written) || (isTop && (!isHdr(c.judged.target.curve) || written > 2 * expected[order[at]!]!));
  return isBetween(written * 10 ** slip) && isOff;
}

/**
 * x and y changed about: the swap brings the reading at least three times nearer to its target, and by more than 0.01 in u'v' beyond what
 * chance can do to it in the dark. A grey is also held against the other greys of its run, as a display may be tinted more than a swap moves.
 */
function swaps(c: Context, spread: Spread): Placed[] {
  const x = c.run.table.columns.get('x');
  const y = c.run.table.columns.get('y');
  if (!x || !y || !isColoured(c)) return [];
  const found: Placed[] = [];
  const { rows } = c.run.table;
  const { ofRow, times, X, Y } = c.patches;
  const read = c.patches.raw ?? c.patches;
  let typical: Xy | undefined;
  for (let r = 0; r < rows.length; r++) {
    const patch = ofRow[r]!;
    if (patch < 0 || Number.isNaN(X[patch]!)) continue;
    const side = c.targetX[patch]! - c.targetY[patch]!;
    // Most readings lie on the side of the diagonal that they should be on, x and y as X and Y: only the others can have been swapped.
    if (times[patch] === 1 && (read.X[patch]! - read.Y[patch]!) * side > 0 && !isLevelled(c)) continue;
    const a = rows[r]!.values[x.cell]!;
    const b = rows[r]!.values[y.cell]!;
    const isByTarget = (a - b) * side > 0;
    if (isByTarget && !isLevelled(c)) continue;
    const room = 4 * chromaticitySpread(spread, Y[patch]!);
    let swap = isByTarget ? undefined : swapOf(a, b, xyzToXy(targetAt(c, patch)), room);
    const against = swap ? usedTarget(c) : phrase('the other rows');
    if (isLevelled(c)) {
      typical ??= typicalChromaticity(c);
      swap ??= swapOf(a, b, typical, room);
    }
    if (swap) found.push(placedAt(c, r, swapProblem(rows[r]!, x, y, swap, against)));
  }
  return found;
}

function swapOf(a: number, b: number, expected: Xy, room: number): Swap | undefined {
  if ((a - b) * (expected[0] - expected[1]) > 0) return undefined;
  const before = deltaUv([a, b], expected);
  const after = deltaUv([b, a], expected);
  return after * 3 <= before && before - after > 0.01 + room ? { before, after } : undefined;
}

interface Swap {
  readonly before: number;
  readonly after: number;
}

/** What the colour of a patch is held against. */
const usedTarget = (c: Coloured): Arg => (c.judged.target.id === '' ? 'D65' : phrase('the target'));

function swapProblem(row: RowLine, x: TableColumn, y: TableColumn, { before, after }: Swap, against: Arg): Problem {
  const [sx, sy] = [cellSpan(row, x.cell), cellSpan(row, y.cell)];
  const [tx, ty] = [cellText(row, x.cell), cellText(row, y.cell)];
  const edits = [
    { span: sx, text: ty },
    { span: sy, text: tx },
  ].sort((p, q) => p.span[0] - q.span[0]);
  const args = { x: tx, y: ty, before: before.toFixed(3), after: after.toFixed(3), against };
  return problem('xy-swapped', [Math.min(sx[0], sy[0]), Math.max(sx[1], sy[1])], args, [{ args: {}, edits }]);
}

/**
 * Luminance that falls as the level rises, by more than chance. Readings that are taken for slips do not count, and neither does an HDR
 * display that gets darker towards the top and stays so: that is what it does.
 */
function falls(c: Context, order: Int32Array, spread: Spread, slips: ReadonlySet<number>): Placed[] {
  const column = c.run.table.columns.get('Y');
  if (!isLevelled(c) || !column) return [];
  const hdr = isHdr(c.judged.target.curve);
  const found: Placed[] = [];
  let lower = -1;
  for (const [at, i] of order.entries()) {
    if (slips.has(i)) continue;
    if (lower >= 0 && c.signals[i]! > c.signals[lower]!) {
      const [from, to] = [c.patches.Y[lower]!, c.patches.Y[i]!];
      const row = rowOf(c, i);
      const isLasting = () => hdr && !order.slice(at + 1).some((later) => c.patches.Y[later]! >= from && !slips.has(later));
      if (from > to && from - to > 4 * Math.hypot(luminanceSpread(spread, from), luminanceSpread(spread, to)) && !isLasting()) {
        const asTyped = (luminance: number) => plainNumber(luminance / column.factor);
        const args = { from: asTyped(from), to: asTyped(to), below: labelOf(c, rowOf(c, lower)), key: labelOf(c, row) };
        found.push(placedAt(c, c.patches.first[i]!, problem('luminance-falls', cellSpan(row, column.cell), args)));
      }
    }
    lower = i;
  }
  return found;
}

/** Repeats side by side, and revisits further on, that differ by more than the spread the meter states. */
function disagreements(c: Context, spread: Spread): Placed[] {
  if (!spread.stated) return [];
  const found: Placed[] = [];
  const { rows } = c.run.table;
  const { ofRow, firstOfKey, first } = c.patches;
  const whites = isGrey(c) ? whiteReadings(c.visits) : undefined;
  let previous = -1;
  let groupStart = -1;
  for (let r = 0; r < rows.length; r++) {
    const patch = ofRow[r]!;
    if (patch < 0) continue;
    const isAdjacent = previous >= 0 && ofRow[previous] === patch;
    previous = r;
    if (!isAdjacent) groupStart = r;
    const start = isAdjacent ? groupStart : first[firstOfKey[patch]!]!;
    // A white that is read again later tells of the drift; the fields of a checkerboard are other places.
    if (start === r || isFieldOf(c, rows[r]!) || (!isAdjacent && isGrey(c) && isWhite(c.signals[patch]!))) continue;
    const p = repeatProblem(c, rows[start]!, rows[r]!, spread);
    if (p) found.push(placedAt(c, r, p));
  }
  // A drift that the run takes out is known.
  return whites && isGrey(c) && !driftOf(c.session, c.run)?.factorOf ? [...found, ...whiteDrift(c, whites, spread)] : found;
}

const isFieldOf = ({ run }: Context, row: RowLine): boolean =>
  run.kind === 'contrast' && cellWord(row, run.table.columns.get('patch')!.cell).startsWith(FIELD);

function repeatProblem(c: Context, a: RowLine, b: RowLine, spread: Spread): Problem | undefined {
  const { columns } = c.run.table;
  const pair = (name: string): readonly [TableColumn, number, number] | undefined => {
    const column = columns.get(name);
    if (!column || column.cell >= cellCount(b) || kindAt(a, column) !== CellKind.Number || kindAt(b, column) !== CellKind.Number)
      return undefined;
    return [column, valueAt(a, column), valueAt(b, column)];
  };
  const Y = pair('Y');
  if (Y) {
    const [column, from, to] = Y;
    const allowed = BY_CHANCE * luminanceSpread(spread, (from + to) / 2);
    if (Math.abs(to - from) > allowed) {
      return problem('repeats-disagree', cellSpan(b, column.cell), {
        key: labelOf(c, b),
        found: `${plainNumber(Math.abs(to - from))} cd/m²`,
        expected: `${plainNumber(Number(allowed.toPrecision(2)))} cd/m²`,
      });
    }
  }
  for (const name of ['x', 'y']) {
    const chromaticity = pair(name);
    if (!chromaticity) continue;
    const [column, from, to] = chromaticity;
    const allowed = BY_CHANCE * chromaticitySpread(spread, Y?.[1] ?? 100);
    if (Math.abs(to - from) > allowed) {
      return problem('repeats-disagree', cellSpan(b, column.cell), {
        key: labelOf(c, b),
        found: phrase('{difference} in {column}', { difference: Math.abs(to - from).toFixed(4), column: name }),
        expected: allowed.toFixed(4),
      });
    }
  }
  return undefined;
}

/** White at the end of a run beside white at its start; a drift under 1 % is left alone whatever the meter could see. */
function whiteDrift(c: Grey, [first, last]: readonly [number, number], spread: Spread): Placed[] {
  const column = c.run.table.columns.get('Y');
  const { Y, first: firstRow } = c.visits.patches;
  const [from, to] = [Y[first]!, Y[last]!];
  const share = to / from - 1;
  if (!column || !(Math.abs(share) > Math.max(0.01, BY_CHANCE * spread.Y))) return [];
  const args = { from: plainNumber(from), to: plainNumber(to), change: `${share > 0 ? '+' : ''}${(100 * share).toFixed(1)}` };
  const row = firstRow[last]!;
  return [placedAt(c, row, problem('white-drift', cellSpan(c.run.table.rows[row]!, column.cell), args))];
}

/**
 * The curve fits a wrong range, to within a quarter of a stop and at least three times better than the signal as written, which is off by
 * more than an eighth; and the black agrees. A gamma that is not the target's fits a wrong range in part, but does not raise black.
 */
function rangeMismatch(result: RunResult, c: Context): Placed[] {
  if (!isGrey(c)) return [];
  const written = result.value('chain.written');
  if (!written.ok || written.v < 0.125) return [];
  for (const [id, hypothesis, words] of [
    ['chain.limited-as-full', 'limited-as-full', phrase('limited range shown as full')],
    ['chain.full-as-limited', 'full-as-limited', phrase('full range shown as limited')],
  ] as const) {
    const value = result.value(id);
    if (!value.ok || value.v > 0.25 || value.v * 3 > written.v || isBlackTooDark(c, hypothesis)) continue;
    const args = { hypothesis: words, found: written.v.toFixed(2), expected: value.v.toFixed(2) };
    return [{ block: c.run.block, line: 0, problem: problem('range-mismatch', headSpan(c.run.block.header!), args) }];
  }
  return [];
}

/** Whether black was read far below what the hypothesis makes of it. */
function isBlackTooDark(c: Grey, hypothesis: RangeHypothesis): boolean {
  const { black, white } = c;
  return black !== undefined && white !== undefined && black.Y < 0.5 * white.Y * sharesOfWhite(c, hypothesis)(0);
}

/** The head of a block from its keyword to its id: what is underlined when the whole run is meant. */
export const headSpan = (header: { readonly keyword: { readonly span: Span }; readonly id?: { readonly span: Span } }): Span => [
  header.keyword.span[0],
  (header.id ?? header.keyword).span[1],
];
