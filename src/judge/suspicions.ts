import { deltaUv, xyzToXy } from '../colour/chromaticity';
import type { Xy } from '../colour/vector';
import type { Coloured } from '../measure/colours';
import { whiteReadings } from '../measure/greyscale';
import type { Context } from '../measure/kernel';
import { Seen } from '../measure/readings';
import type { RunResult } from '../measure/result';
import { keyLabel } from '../session/blockProblems';
import type { Placed } from '../session/findings';
import { CellKind, cellCount, cellSpan, cellText, type RowLine } from '../session/line';
import type { Session } from '../session/session';
import { kindAt, type TableColumn, valueAt } from '../session/table';
import { type Problem, problem } from '../text/finding';
import { plainNumber } from '../text/message';
import type { Span } from '../text/span';
import { replacing } from './readings';

/** How far apart two readings of one patch may lie by chance: three standard deviations of their difference. */
const BY_CHANCE = 3 * Math.SQRT2;

/**
 * Readings that light could have, but hardly this patch after its neighbours: slips of the decimal point, swapped chromaticities, falling
 * luminance, repeats that disagree, a white that drifts, a range mismatch. Each says what it was compared with.
 */
export function suspicions(session: Session, result: RunResult): Placed[] {
  const { context } = result;
  if (!context) return [];
  const meter = spreadOf(session, context);
  const slips = decimalSlips(context);
  return [
    ...slips.problems,
    ...swaps(context),
    ...falls(context, meter, slips.patches),
    ...disagreements(context, meter),
    ...rangeMismatch(result, context),
  ];
}

interface Spread {
  /** One standard deviation of a luminance, as a share of it. */
  readonly Y: number;
  readonly xy: number;
  /** Near the floor a reading spreads by a good part of the floor itself (common practice, no source). */
  readonly floor: number;
  readonly stated: boolean;
}

function spreadOf(session: Session, { run }: Context): Spread {
  const Y = session.quantityOf(run.meter, 'spread', 'percent')?.value;
  const xy = session.quantityOf(run.meter, 'spread', 'chromaticity')?.value;
  const floor = session.number(run.meter, 'floor') ?? 0;
  return { Y: (Y ?? 0.5) / 100, xy: xy ?? 0.0005, floor: floor / 4, stated: Y !== undefined || xy !== undefined };
}

const luminanceSpread = (spread: Spread, Y: number): number => Math.hypot(spread.Y * Y, spread.floor);

const rowOf = ({ run, patches }: Context, patch: number): RowLine => run.table.rows[patches.first[patch]!]!;
const placedAt = ({ run }: Context, row: number, p: Problem): Placed => ({ block: run.block, line: run.table.lines[row]!, problem: p });
const labelOf = (c: Context, row: RowLine): string => keyLabel(c.run.block, row);
const isColoured = (c: Context): c is Coloured => 'targetY' in c;
const signalsOf = (c: Context): Float64Array | undefined => ('signals' in c ? (c.signals as Float64Array) : undefined);

/** How many powers of ten a slip moves a reading, in the order in which they are tried. */
const SLIPS = [-1, 1, -3, 3, -2, 2];

/**
 * Luminances a power of ten off. The trend is the median of log10(reading / target), or of log10(reading) in a window run, over the
 * nearest rows: a reading far off it that a moved decimal point brings back is a slip. The thresholds (0.7 off, within 0.2 after) are
 * common practice, no source: no curve bends by 5 between one level and the next.
 */
function decimalSlips(c: Context): { readonly problems: Placed[]; readonly patches: ReadonlySet<number> } {
  const Y = c.run.table.columns.get('Y');
  const found = new Set<number>();
  const problems: Placed[] = [];
  const order = orderBy(c);
  if (!Y || !order || order.length < 4) return { problems, patches: found };
  const logs = order.map((i) => Math.log10(c.patches.Y[i]! / (isColoured(c) ? c.targetY[i]! : 1)));
  // Luminance rises with the level, whatever the target: what stands between its neighbours is no slip, and what would not is none either.
  // Near black this keeps a raised or crushed display from being taken for a row of slips.
  const rises = signalsOf(c) !== undefined;
  const fits = (at: number, slip: number): boolean => {
    if (!rises) return true;
    const written = c.patches.Y[order[at]!]!;
    const [below, above] = [c.patches.Y[order[at - 1]!] ?? 0, c.patches.Y[order[at + 1]!] ?? Number.POSITIVE_INFINITY];
    const between = (Y: number) => Y > 0.95 * below && Y < 1.05 * above;
    const isTop = at === order.length - 1;
    return between(written * 10 ** slip) && (isTop || !between(written));
  };
  order.forEach((i, at) => {
    if (!Number.isFinite(logs[at]!)) return;
    // Nearly every reading lies by its neighbours: only the others are worth a median.
    if (Math.abs(logs[at]! - logs[at - 1]!) < 0.35 && Math.abs(logs[at]! - logs[at + 1]!) < 0.35) return;
    const from = Math.max(0, Math.min(at - 2, logs.length - 5));
    const near = logs.slice(from, from + 5).filter((v, k) => from + k !== at && Number.isFinite(v));
    if (near.length < 3) return;
    const trend = median(near);
    const off = logs[at]! - trend;
    if (Math.abs(off) < 0.7) return;
    const slip = SLIPS.find((power) => Math.abs(off + power) < 0.2);
    if (slip === undefined || !fits(at, slip)) return;
    found.add(i);
    for (let r = c.patches.first[i]!; r < c.patches.end[i]!; r++) {
      const row = c.run.table.rows[r]!;
      if (row.struck || kindAt(row, Y) !== CellKind.Number) continue;
      const span = cellSpan(row, Y.cell);
      const raw = cellText(row, Y.cell);
      const mended = pointMoved(raw, slip);
      problems.push(placedAt(c, r, problem('decimal-slip', span, { found: raw, key: labelOf(c, row), mended }, [replacing(span, mended)])));
    }
  });
  return { problems, patches: found };
}

/** The patches with a luminance in the order of their level, window or file; undefined for runs whose rows have no order of light. */
function orderBy(c: Context): number[] | undefined {
  const along = signalsOf(c) ?? ('sizes' in c ? (c.sizes as Float64Array) : undefined);
  if (!along && !isColoured(c)) return undefined;
  const order: number[] = [];
  for (let i = 0; i < c.patches.count; i++) {
    const dark = isColoured(c) && !(c.targetY[i]! > 0);
    if (c.patches.seen[i] === Seen.Measured && c.patches.Y[i]! > 0 && !c.patches.revisit[i] && !dark) order.push(i);
  }
  return along ? order.sort((a, b) => along[a]! - along[b]!) : order;
}

const median = (list: readonly number[]): number => {
  const sorted = [...list].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

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

/**
 * x and y changed about: the swap brings the reading at least three times nearer to its target, and by more than 0.01 in u'v'. Without a
 * target, the typical colour of the run's other rows is taken for runs of one colour.
 */
function swaps(c: Context): Placed[] {
  const x = c.run.table.columns.get('x');
  const y = c.run.table.columns.get('y');
  if (!x || !y) return [];
  const found: Placed[] = [];
  const { rows } = c.run.table;
  for (let i = 0; i < c.patches.count; i++) {
    const expected = expectedChromaticity(c, i);
    if (!expected) continue;
    for (let r = c.patches.first[i]!; r < c.patches.end[i]!; r++) {
      const row = rows[r]!;
      const [a, b] = [row.values[x.cell]!, row.values[y.cell]!];
      // Most readings lie on the side of the diagonal that their target is on: only the others can have been swapped.
      if (row.struck || !(a > 0 && b > 0) || (a - b) * (expected[0] - expected[1]) > 0) continue;
      const before = deltaUv([a, b], expected);
      const after = deltaUv([b, a], expected);
      if (!(after * 3 <= before && before - after > 0.01)) continue;
      const [sx, sy] = [cellSpan(row, x.cell), cellSpan(row, y.cell)];
      const [tx, ty] = [cellText(row, x.cell), cellText(row, y.cell)];
      const edits = [
        { span: sx, text: ty },
        { span: sy, text: tx },
      ].sort((p, q) => p.span[0] - q.span[0]);
      const args = {
        x: tx,
        y: ty,
        before: before.toFixed(3),
        after: after.toFixed(3),
        against: isColoured(c) ? 'the target' : 'what is expected',
      };
      found.push(placedAt(c, r, problem('xy-swapped', [Math.min(sx[0], sy[0]), Math.max(sx[1], sy[1])], args, [{ args: {}, edits }])));
    }
  }
  return found;
}

function expectedChromaticity(c: Context, i: number): Xy | undefined {
  if (!isColoured(c)) return undefined;
  if (signalsOf(c)) return c.judged.target.white;
  const xy = xyzToXy([c.targetX[i]!, c.targetY[i]!, c.targetZ[i]!]);
  return Number.isFinite(xy[0]) && Number.isFinite(xy[1]) ? xy : undefined;
}

/** Luminance that falls as the level rises, by more than chance. Readings that are taken for slips do not count. */
function falls(c: Context, spread: Spread, slips: ReadonlySet<number>): Placed[] {
  const signals = signalsOf(c);
  const Y = c.run.table.columns.get('Y');
  const order = orderBy(c);
  if (!signals || !Y || !order) return [];
  const found: Placed[] = [];
  let lower = -1;
  for (const i of order) {
    if (slips.has(i)) continue;
    if (lower >= 0 && signals[i]! > signals[lower]!) {
      const [from, to] = [c.patches.Y[lower]!, c.patches.Y[i]!];
      if (from - to > 3 * Math.hypot(luminanceSpread(spread, from), luminanceSpread(spread, to))) {
        const row = rowOf(c, i);
        const args = { from: plainNumber(from), to: plainNumber(to), below: labelOf(c, rowOf(c, lower)), key: labelOf(c, row) };
        found.push(placedAt(c, c.patches.first[i]!, problem('luminance-falls', cellSpan(row, Y.cell), args)));
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
  const compare = (from: number, to: number, i: number): void => {
    const p = repeatProblem(c, rows[from]!, rows[to]!, spread, i);
    if (p) found.push(placedAt(c, to, p));
  };
  for (let i = 0; i < c.patches.count; i++) {
    let first = -1;
    for (let r = c.patches.first[i]!; r < c.patches.end[i]!; r++) {
      if (rows[r]!.struck) continue;
      if (first < 0) first = r;
      else compare(first, r, i);
    }
  }
  const signals = signalsOf(c);
  const whites = signals && whiteReadings(c.patches, signals);
  for (let i = 0; i < c.patches.count; i++) {
    if (!c.patches.revisit[i] || (signals && Math.abs(signals[i]! - 1) < 1e-6)) continue;
    compare(c.patches.first[c.patches.firstOfKey[i]!]!, c.patches.first[i]!, i);
  }
  return whites ? [...found, ...whiteDrift(c, whites, spread)] : found;
}

function repeatProblem(c: Context, a: RowLine, b: RowLine, spread: Spread, patch: number): Problem | undefined {
  const { columns } = c.run.table;
  const key = labelOf(c, rowOf(c, patch));
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
        key,
        found: `${plainNumber(Math.abs(to - from))} cd/m²`,
        expected: `${plainNumber(Number(allowed.toPrecision(2)))} cd/m²`,
      });
    }
  }
  for (const name of ['x', 'y']) {
    const chromaticity = pair(name);
    if (!chromaticity) continue;
    const [column, from, to] = chromaticity;
    // In the dark, chromaticities spread as the light is used up: by √(1 + 0.5/Y) for the meters known here (common practice, no source).
    const allowed = BY_CHANCE * spread.xy * Math.sqrt(1 + 0.5 / Math.max(Y?.[1] ?? 100, 1e-3));
    if (Math.abs(to - from) > allowed) {
      return problem('repeats-disagree', cellSpan(b, column.cell), {
        key,
        found: `${Math.abs(to - from).toFixed(4)} in ${name}`,
        expected: allowed.toFixed(4),
      });
    }
  }
  return undefined;
}

/** White at the end of a run beside white at its start; a drift under 1 % is left alone whatever the meter could see. */
function whiteDrift(c: Context, [first, last]: readonly [number, number], spread: Spread): Placed[] {
  const [from, to] = [c.patches.Y[first]!, c.patches.Y[last]!];
  const share = to / from - 1;
  if (Math.abs(share) <= Math.max(0.01, BY_CHANCE * spread.Y)) return [];
  const row = rowOf(c, last);
  const args = { from: plainNumber(from), to: plainNumber(to), change: `${share > 0 ? '+' : ''}${(100 * share).toFixed(1)}` };
  return [placedAt(c, c.patches.first[last]!, problem('white-drift', cellSpan(row, c.run.table.columns.get('Y')!.cell), args))];
}

/** The curve fits a wrong range at least three times better than the signal as written, which is off by more than an eighth of a stop. */
function rangeMismatch(result: RunResult, c: Context): Placed[] {
  if (result.run.kind !== 'greyscale') return [];
  const written = result.value('chain.written');
  if (!written.ok || written.v < 0.125) return [];
  for (const [id, hypothesis] of [
    ['chain.limited-as-full', 'limited range shown as full'],
    ['chain.full-as-limited', 'full range shown as limited'],
  ] as const) {
    const value = result.value(id);
    if (!value.ok || value.v * 3 > written.v) continue;
    const args = { hypothesis, found: written.v.toFixed(2), expected: value.v.toFixed(2) };
    return [{ block: c.run.block, line: 0, problem: problem('range-mismatch', headSpan(c.run.block.header!), args) }];
  }
  return [];
}

/** The head of a block from its keyword to its id: what is underlined when the whole run is meant. */
export const headSpan = (header: { readonly keyword: { readonly span: Span }; readonly id?: { readonly span: Span } }): Span => [
  header.keyword.span[0],
  (header.id ?? header.keyword).span[1],
];
