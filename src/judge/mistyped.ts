import { deltaUv, xyToUv, xyzToXy } from '../colour/chromaticity';
import { SPACES } from '../colour/spaces';
import { insideLocus } from '../colour/spectrum';
import type { Xy } from '../colour/vector';
import { targetAt } from '../measure/colours';
import { HUE_DRIVES } from '../measure/hues';
import type { Context } from '../measure/kernel';
import { OUTSIDE_LIGHT, Seen } from '../measure/readings';
import type { RunResult } from '../measure/result';
import { chromaticitySpread, luminanceSpread, type Spread } from '../measure/spread';
import { isHdr } from '../measure/target';
import type { Placed } from '../session/findings';
import { CellKind, cellSpan, cellText, cellWord, type RowLine } from '../session/line';
import { kindAt, type TableColumn, valueAt } from '../session/table';
import { problem } from '../text/finding';
import { phrase } from '../text/message';
import type { Span } from '../text/span';
import { replacing } from './readings';
import { expectedOf, isColoured, isLevelled, labelOf, ONE_LEVEL, placedAt, pointMoved, rowOf, typicalChromaticity } from './rows';

// Slips of the pen beside those of a luminance: a chromaticity or a tristimulus value off its neighbours, a reading copied from the row
// above, columns that hold something else than they say, a white darker than its black.

/** The two columns of a run that hold a colour beside Y, by the form in which they are read. */
function colourColumns({ run }: Context): readonly [form: 'xy' | 'uv' | 'XZ', TableColumn, TableColumn] | undefined {
  for (const [form, a, b] of [
    ['xy', 'x', 'y'],
    ['XZ', 'X', 'Z'],
    ['uv', "u'", "v'"],
  ] as const) {
    const [first, second] = [run.table.columns.get(a), run.table.columns.get(b)];
    if (first && second) return [form, first, second];
  }
  return undefined;
}

/** Runs of one colour, be it at many levels: neighbours have nearly the same. */
const isOfOneColour = (c: Context): boolean => isLevelled(c) || ONE_LEVEL.has(c.run.kind) || c.run.kind === 'window';

/**
 * How far a chromaticity may stand out from both of its neighbours, and at the ends from the two before it, which themselves agree to a
 * third of that: one level of a display may be tinted by mistaken controls, but hardly so much. Common practice, no source.
 */
const APART = 0.03;
const APART_AT_END = 0.05;

/** How near to its neighbours a mended chromaticity must come, where they agree. Common practice, no source. */
const LIKE_NEIGHBOURS = 0.003;

/** Powers of ten that a value of XYZ is written off by. */
const POWERS = [-1, 1, -2, 2, -3, 3];

/**
 * Values of one row that no neighbour has: chromaticities by how far they are off, and X or Z by a power of ten of X/Y or Z/Y. Black, and
 * the lowest level, have any colour.
 * @param known rows (of the table) and patches that have been told of already
 */
export function strayColours(
  c: Context,
  order: Int32Array,
  spread: Spread,
  known: { readonly lines: ReadonlySet<number>; readonly patches: ReadonlySet<number> },
): Placed[] {
  const columns = colourColumns(c);
  if (!columns || !isOfOneColour(c)) return [];
  const [form, ...pair] = columns;
  const { X, Y, Z } = c.patches.raw ?? c.patches;
  const { first, times } = c.patches;
  const patches = order.filter((i) => Number.isFinite(X[i]! + Z[i]!));
  const values = [new Float64Array(patches.length), new Float64Array(patches.length)] as const;
  patches.forEach((i, at) => {
    const xy = xyzToXy([X[i]!, Y[i]!, Z[i]!]);
    const [a, b] = form === 'XZ' ? [Math.log10(X[i]! / Y[i]!), Math.log10(Z[i]! / Y[i]!)] : form === 'xy' ? xy : xyToUv(xy);
    values[0][at] = a;
    values[1][at] = b;
  });
  const found: Placed[] = [];
  const last = patches.length - 1;
  for (let at = isLevelled(c) ? 1 : 0; at <= last && last >= 2; at++) {
    const [one, two] = at === 0 ? [1, 2] : at === last ? [at - 1, at - 2] : [at - 1, at + 1];
    // Nearly every colour is that of its neighbours.
    if (values.every((list) => Math.abs(list[at]! - list[one]!) < APART && Math.abs(list[at]! - list[two]!) < APART)) continue;
    const i = patches[at]!;
    const row = c.run.table.rows[first[i]!]!;
    const line = c.run.table.lines[first[i]!]!;
    if (times[i] !== 1 || known.lines.has(line) || known.patches.has(i)) continue;
    const isEnd = at === 0 || at === last;
    const own = values.map((list) => list[at]!) as [number, number];
    const p = values.map((list) => list[one]!);
    const q = values.map((list) => list[two]!);
    if (form === 'XZ') {
      if (luminanceSpread(spread, Y[i]!) > 0.05 * Y[i]!) continue;
      // A luminance off its neighbours is told of already: here it is X, or Z, or both.
      pair.forEach((column, k) => {
        const slip = slipOf(own[k]!, p[k]!, q[k]!);
        if (slip === undefined) return;
        const raw = cellText(row, column.cell);
        const mended = pointMoved(raw, slip);
        const span = cellSpan(row, column.cell);
        const args = { name: column.name, found: raw, key: labelOf(c, row), mended };
        found.push(placedAt(c, first[i]!, problem('decimal-slip', span, args, [replacing(span, mended)])));
      });
      continue;
    }
    const room = (isEnd ? APART_AT_END : APART) + 8 * chromaticitySpread(spread, Y[i]!);
    pair.forEach((column, k) => {
      const expected = (p[k]! + q[k]!) / 2;
      if (!(Math.abs(p[k]! - q[k]!) < room / 3) || Math.min(Math.abs(own[k]! - p[k]!), Math.abs(own[k]! - q[k]!)) < room) return;
      const raw = cellText(row, column.cell);
      const mended = rewritten(raw, expected, Math.max(LIKE_NEIGHBOURS, Math.abs(p[k]! - q[k]!)) + 2 * chromaticitySpread(spread, Y[i]!));
      // A colour that no light has is told of already.
      if (mended === undefined && form === 'xy' && !insideLocus(own, OUTSIDE_LIGHT)) return;
      const span = cellSpan(row, column.cell);
      const args = { name: column.name, found: raw, key: labelOf(c, row), expected: expected.toFixed(4) };
      found.push(placedAt(c, first[i]!, problem('chromaticity-stray', span, args, mended === undefined ? [] : [replacing(span, mended)])));
    });
  }
  return found;
}

/** The power of ten that brings the log10 of a ratio back to its neighbours, which agree. */
function slipOf(own: number, p: number, q: number): number | undefined {
  return Math.abs(p - q) > 0.1 ? undefined : POWERS.find((power) => Math.abs(own + power - (p + q) / 2) < 0.1);
}

/** The same digits with the point moved or two neighbours changed about, where just one such number is near to what was expected. */
function rewritten(raw: string, expected: number, room: number): string | undefined {
  const all = [-2, -1, 1, 2].map((by) => pointMoved(raw, by));
  for (let i = raw.indexOf('.') + 1; i + 1 < raw.length; i++) all.push(`${raw.slice(0, i)}${raw[i + 1]}${raw[i]}${raw.slice(i + 2)}`);
  const near = new Set(all.filter((text) => Math.abs(Number(text) - expected) < room));
  return near.size === 1 ? [...near][0] : undefined;
}

/** Fewer digits than these may agree by chance. */
const FEWEST_DIGITS = 9;

/**
 * Readings that agree with the row above digit for digit where what was shown differs: the spread of no meter allows for that. Where a
 * display may show two levels alike (black, above the peak of HDR) nothing is said.
 */
export function copies(c: Context, order: Int32Array | undefined): Placed[] {
  const colour = colourColumns(c);
  const Y = c.run.table.columns.get('Y');
  if (!colour || !Y || !(isColoured(c) || c.run.kind === 'gamut')) return [];
  const columns = [Y, colour[1], colour[2]];
  const { rows } = c.run.table;
  const { ofRow, firstOfKey } = c.patches;
  const found: Placed[] = [];
  let above = -1;
  let apart: ReturnType<typeof apartIn> | undefined;
  for (let r = 0; r < rows.length; r++) {
    if (ofRow[r]! < 0) continue;
    const [before, patch] = [above < 0 ? -1 : ofRow[above]!, ofRow[r]!];
    const [row, other] = [rows[r]!, rows[above]];
    above = r;
    if (!other || firstOfKey[before] === firstOfKey[patch] || !areAlike(row, other, columns)) continue;
    apart ??= apartIn(c, order);
    if (!apart(before, patch)) continue;
    const spans = columns.map(({ cell }) => cellSpan(row, cell));
    const span: Span = [Math.min(...spans.map(([from]) => from)), Math.max(...spans.map(([, to]) => to))];
    found.push(placedAt(c, r, problem('reading-copied', span, { key: labelOf(c, row), other: labelOf(c, other) })));
  }
  return found;
}

function areAlike(a: RowLine, b: RowLine, columns: readonly TableColumn[]): boolean {
  let digits = 0;
  for (const column of columns) {
    if (a.values[column.cell] !== b.values[column.cell]) return false;
    if (kindAt(a, column) !== CellKind.Number || kindAt(b, column) !== CellKind.Number) return false;
    const text = cellText(a, column.cell);
    if (text !== cellText(b, column.cell)) return false;
    digits += text.replace(/^[-+0.]+|\D/g, '').length;
  }
  return digits >= FEWEST_DIGITS;
}

/** Below so much of white a display may show levels alike: crushed black. Common practice, no source. */
const CRUSHED = 0.001;

/** From so much of the brightest reading on, levels may look alike as the display has no more: its peak, a clipped white. Common practice, no source. */
const CLIPPED = 0.95;
/** From this saturation on, per cent, a display that is narrower than its target may show a hue alike. Common practice, no source. */
const NARROW = 70;

/** Whether two patches were shown so far apart that they cannot look alike. */
function apartIn(c: Context, order: Int32Array | undefined): (a: number, b: number) => boolean {
  // In a gamut names of one's own may be of one colour.
  if (!isColoured(c)) return (a, b) => [a, b].every((i) => Object.hasOwn(HUE_DRIVES, keyOf(c, i)));
  const luminance = (order && expectedOf(c, order)) ?? c.targetY;
  const { target, scale } = c.judged;
  const { Y } = c.patches;
  const isLevel = isLevelled(c);
  if (isHdr(target.curve) && !isLevel) return () => false;
  const least = CRUSHED * (isHdr(target.curve) ? luminance.reduce((most, T) => Math.max(most, T || 0), 0) : scale.Lw);
  const brightest = Y.reduce((most, v) => Math.max(most, v || 0), 0);
  const sat = c.run.table.columns.get('sat');
  const isSaturated = (i: number) => sat !== undefined && valueAt(rowOf(c, i), sat) >= NARROW;
  return (a, b) => {
    const [p, q] = [luminance[a]!, luminance[b]!];
    if (!(Math.min(p, q) > least) || (isLevel && Y[b]! > CLIPPED * brightest)) return false;
    if (isSaturated(a) && isSaturated(b) && keyOf(c, a) === keyOf(c, b)) return false;
    return Math.abs(Math.log(p / q)) > 0.1 || (!isLevel && deltaUv(xyzToXy(targetAt(c, a)), xyzToXy(targetAt(c, b))) > 0.02);
  };
}

/** The first word that a patch is known by: its hue or its name. */
function keyOf(c: Context, patch: number): string {
  const column = c.run.table.columns.get(c.keys[0]!);
  return column ? cellWord(rowOf(c, patch), column.cell) : '';
}

/** How near all greys lie to the white in the other form of chromaticity, and how far from it in the one that is written. */
const NEAR_WHITE = 0.03;
const FAR_FROM_WHITE = 0.05;

/** u' and v' typed under x and y, or the other way round: the greys of a run lie where white has its numbers in the other form. */
export function otherChromaticity(c: Context): Placed[] {
  const columns = colourColumns(c);
  // A window is of white. What a grid or a test of endurance shows is not known: in u'v' magenta lies where white does in xy.
  if (!columns || columns[0] === 'XZ' || !(isLevelled(c) || c.run.kind === 'window')) return [];
  const [form, first, second] = columns;
  const { run } = c;
  const typical = typicalChromaticity(c);
  const [a, b] = form === 'xy' ? typical : xyToUv(typical);
  const white = isLevelled(c) ? c.judged.target.white : SPACES.bt709.white;
  const uv = xyToUv(white);
  const [own, other] = form === 'xy' ? [white, uv] : [uv, white];
  const distance = (to: Xy) => Math.hypot(a - to[0], b - to[1]);
  if (!(distance(other) < NEAR_WHITE) || !(distance(own) > FAR_FROM_WHITE)) return [];
  const names = form === 'xy' ? ["u'", "v'"] : ['x', 'y'];
  const edits = [first, second].map(({ written }, k) => ({ span: written.span, text: names[k]! })).sort((p, q) => p.span[0] - q.span[0]);
  const span: Span = [edits[0]!.span[0], edits[1]!.span[1]];
  const args = { first: first.name, second: second.name, a: a.toFixed(3), b: b.toFixed(3), x: own[0].toFixed(3), y: own[1].toFixed(3) };
  const mended = names.join(' ');
  const p = problem('chromaticity-form', span, { ...args, mended }, [{ args: { mended }, edits }]);
  return [{ block: run.block, line: run.block.columnsLine!, problem: p }];
}

/** Fewer levels than these may be anything. */
const FEWEST_LEVELS = 5;

/** Code values where they end, in limited and in full range (BT.709, BT.2100). */
const CODE_ENDS: Readonly<Record<number, number>> = { 235: 8, 255: 8, 940: 10, 1023: 10, 3760: 12, 4095: 12 };

/** A white is hardly dimmer, cd/m²; code 100 of 8 bit is at most 30 in PQ (BT.2100 Table 4, computed). Common practice, no source. */
const DIMMEST_WHITE = 40;

/**
 * Levels in per cent under a column of codes, or codes under one of per cent: steps of 5 that end at 100, and whole numbers that end where a
 * range of codes does.
 */
export function otherLevels({ session, run }: RunResult): Placed[] {
  const column = run.table.columns.get('level');
  const Y = run.table.columns.get('Y');
  if (!column || !Y || (run.kind !== 'greyscale' && run.kind !== 'tracking')) return [];
  const live = run.table.rows.filter((row) => !row.struck && kindAt(row, column) === CellKind.Number);
  const levels = [...new Set(live.map((row) => row.values[column.cell]!))];
  const [least, most] = levels.reduce(([low, high], level) => [Math.min(low, level), Math.max(high, level)], [Infinity, -Infinity]);
  if (levels.length < FEWEST_LEVELS || least! < 0) return [];
  const isWhole = levels.every(Number.isInteger);
  const bits = CODE_ENDS[most!];
  const isPercent = column.bits !== undefined && most === 100 && (!isWhole || levels.every((level) => level % 5 === 0));
  const isCode = column.bits === undefined && isWhole && bits !== undefined;
  if (!isPercent && !isCode) return [];
  // A dark part of the scale in codes ends far below white.
  const white = session.number(run.target, 'luminance');
  const dimmest = white === undefined ? DIMMEST_WHITE : 0.5 * white;
  const top = live.filter((row) => row.values[column.cell] === most && kindAt(row, Y) === CellKind.Number).map((row) => valueAt(row, Y));
  if (isPercent && !top.every((luminance) => luminance >= dimmest)) return [];
  const mended = isPercent ? 'level' : `level[${bits}bit]`;
  const like = isPercent ? phrase('per cent') : phrase('codes of {bits} bit', { bits: bits! });
  const { span } = column.written;
  const args = { name: column.written.text, low: least!, high: most!, like, mended };
  const p = problem('level-unit', span, args, [replacing(span, mended)]);
  return [{ block: run.block, line: run.block.columnsLine!, problem: p }];
}

/**
 * Code values that limited range keeps for timing: 0 and 255 of 8 bit, 0 to 3 and 1020 to 1023 of 10 bit (video data is 1 to 254, 4 to 1019:
 * BT.709 and BT.2100, from memory; the range of 10 bit is also that of BT.2111-3). Whoever typed them had most likely set the signal to full
 * range. Said once a run.
 */
export function reservedCodes({ session, run }: RunResult): Placed[] {
  if (session.text(run.signal, 'range') !== 'limited') return [];
  const drives = [...run.table.columns.values()].filter(({ spec, bits }) => spec.holds === 'drive' && bits !== undefined);
  if (drives.length === 0) return [];
  for (const [r, row] of run.table.rows.entries()) {
    if (row.struck) continue;
    for (const column of drives) {
      const least = 2 ** (column.bits! - 8);
      const most = 255 * least - 1;
      const code = row.values[column.cell]!;
      // Codes that no depth has are told of already.
      if (!(code >= 0 && code < least) && !(code > most && code < 256 * least)) continue;
      const args = { name: column.name, found: cellText(row, column.cell), least, most, signal: run.signal!.name };
      return [{ block: run.block, line: run.table.lines[r]!, problem: problem('code-reserved', cellSpan(row, column.cell), args) }];
    }
  }
  return [];
}

const PAIRS = [
  ['white', 'black'],
  ['checker-white', 'checker-black'],
] as const;

/** A white that is darker than its black. Where each was read once, the two readings have most likely changed places. */
export function darkWhites(c: Context): Placed[] {
  const [name, Y] = [c.run.table.columns.get('patch'), c.run.table.columns.get('Y')];
  if (c.run.kind !== 'contrast' || !name || !Y) return [];
  const { rows, lines } = c.run.table;
  const { ofRow, seen, times } = c.patches;
  return PAIRS.flatMap(([light, dark]) => {
    const [whites, blacks] = [light, dark].map((word) =>
      [...rows.keys()].filter((r) => ofRow[r]! >= 0 && seen[ofRow[r]!] !== Seen.None && cellWord(rows[r]!, name.cell) === word),
    ) as [number[], number[]];
    const [w, b] = [whites[0], blacks[0]];
    if (w === undefined || b === undefined) return [];
    const mean = (list: readonly number[]) => list.reduce((sum, r) => sum + valueAt(rows[r]!, Y), 0) / list.length;
    if (!(mean(whites) < mean(blacks)) || seen[ofRow[w]!] === Seen.Above || seen[ofRow[b]!] === Seen.Below) return [];
    const [from, to] = [rows[w]!, rows[b]!];
    const span = cellSpan(from, Y.cell);
    const isOnce = whites.length === 1 && blacks.length === 1 && times[ofRow[w]!] === 1;
    const texts = { white: cellText(from, Y.cell), black: cellText(to, Y.cell) };
    const onAverage = (list: readonly number[]) => phrase('{value} on average', { value: mean(list).toPrecision(4) });
    const args = { light, dark, ...(isOnce ? texts : { white: onAverage(whites), black: onAverage(blacks) }) };
    const away = isOnce ? distance(c, lines[w]!, lines[b]!) : 0;
    const [p, q] = cellSpan(to, Y.cell);
    const edits = [
      { span, text: texts.black },
      { span: [p + away, q + away] as const, text: texts.white },
    ].sort((one, other) => one.span[0] - other.span[0]);
    return [placedAt(c, w, problem('white-dark', span, args, isOnce ? [{ args: {}, edits }] : []))];
  });
}

/** How far the start of one line of a block is from that of another. */
function distance({ run: { block } }: Context, from: number, to: number): number {
  const between = block.lines.slice(Math.min(from, to), Math.max(from, to));
  const length = between.reduce((sum, { text, eol }) => sum + text.length + eol.length, 0);
  return from < to ? length : -length;
}
