import { xyToUv, xyzToXy } from '../colour/chromaticity';
import { deltaE2000, deltaUv, deltaUvStar } from '../colour/difference';
import { xyzToLab, yToLstar } from '../colour/lab';
import { type SignalFormat, signalToCode } from '../colour/quantise';
import { cctDuv } from '../colour/temperature';
import { multiply, type Vec3 } from '../colour/vector';
import type { Run, Session } from '../session/session';
import { average, byPatch, type Coloured, differenceRows, largest, sdrOnly, summedDifferences, targetAt, xyzAt } from './colours';
import type { Absent, Kernel, Rows } from './kernel';
import { type Patches, readPatches, Seen, signalFormat } from './readings';
import { greyScaleOf, greySignals, judge, type SingleReading } from './scaling';
import { greyLuminance, needsBlack, type Scale, whiteXyz } from './target';
import { figure, figureOr, type Value, without } from './value';

interface Grey extends Coloured {
  /** Signals as sent, 0 black and 1 white. */
  readonly signals: Float64Array;
  readonly white: SingleReading | undefined;
  readonly black: SingleReading | undefined;
  readonly format: SignalFormat | undefined;
}

/** Levels are compared in per cent with room for the rounding to codes: 10 % in 8 bits is 10.05 %. */
const HALF_STEP = 0.003;

const whiteRow = (c: Grey): number => {
  for (let i = 0; i < c.patches.count; i++) if (Math.abs(c.signals[i]! - 1) < 1e-6 && !c.patches.revisit[i]) return i;
  return -1;
};

function prepare(session: Session, run: Run): Grey | Absent {
  const patches = readPatches(run, ['level'], session.text(run.block, 'repeat') === 'all');
  const signals = greySignals(session, run, patches);
  if (!signals) return without(run.table.columns.has('level') ? 'signal-range' : 'no-table');
  const own = greyScaleOf(session, run);
  const judged = judge(session, run, own);
  if ('ok' in judged) return judged;
  const { target, scale, floorScale } = judged;
  const format = signalFormat(session, run);
  const at = (s: Scale): Grey => {
    const unit = whiteXyz(target, 1);
    const levels = signals.map((signal) => greyLuminance(target, signal, s));
    return {
      session,
      run,
      patches,
      keys: ['level'],
      judged: { ...judged, scale: s },
      signals,
      white: own.white,
      black: own.black,
      format,
      targetX: levels.map((Y) => unit[0] * Y),
      targetY: levels,
      targetZ: levels.map((Y) => unit[2] * Y),
      counts: (i) => signals[i]! > HALF_STEP && !patches.revisit[i],
    };
  };
  return floorScale ? { ...at(scale), atFloor: at(floorScale) } : at(scale);
}

/** ΔE of black is no colour difference that an eye makes: rows at level 0 are judged by contrast and near-black. */
const aboveBlack = (c: Grey, rows: (c: Grey) => Float64Array): Float64Array =>
  rows(c).map((v, i) => (c.signals[i]! > HALF_STEP ? v : Number.NaN));

/** The reading with the luminance of its target: its chromaticity alone is left to differ. */
function levelled(c: Grey, i: number): Vec3 {
  const [X, Y, Z] = xyzAt(c, i);
  const by = c.targetY[i]! / Y;
  return [X * by, Y * by, Z * by];
}

function balanceRows(c: Grey, channel: 0 | 1 | 2): Float64Array {
  const { toRgb } = c.judged.target.matrices;
  return byPatch(c, (i) => (100 * multiply(toRgb, xyzAt(c, i))[channel]) / c.patches.Y[i]!);
}

function temperatureOf(xyz: Vec3): { cct: number; duv: number } {
  const found = cctDuv(xyzToXy(xyz));
  return 'cct' in found ? found : { cct: Number.NaN, duv: Number.NaN };
}

const targetDuv = (c: Grey): number => {
  const found = cctDuv(c.judged.target.white);
  return 'duv' in found ? found.duv : Number.NaN;
};

function ofWhite(c: Grey, compute: (i: number) => Value): Value {
  const i = whiteRow(c);
  return i < 0 || c.patches.seen[i] !== Seen.Measured ? without('no-patch', { patch: '100 %' }) : compute(i);
}

/** The extreme by a distance, over patches of signals from `from` to `to`. */
function farthest(c: Grey, lists: readonly Float64Array[], from: number, to: number, distance: (v: number) => number): number {
  let found = Number.NaN;
  for (const list of lists) {
    for (let i = 0; i < list.length; i++) {
      if (!c.counts(i) || c.signals[i]! < from - HALF_STEP || c.signals[i]! > to + HALF_STEP || Number.isNaN(list[i]!)) continue;
      if (Number.isNaN(found) || distance(list[i]!) > distance(found)) found = list[i]!;
    }
  }
  return found;
}

const overRows = (v: number, which: string): Value => figureOr(v, 'too-few', { count: 1, which });

/**
 * Exponent of the power law through white: γ = Σxz/Σx² with x = ln V and z = ln((Y − Yk)/(Yw − Yk)), rows from 10 to 90 %.
 * NaN with fewer than two rows.
 */
function fittedExponent(c: Grey, luminance: Float64Array, white: number, black: number): number {
  let xz = 0;
  let xx = 0;
  let n = 0;
  for (let i = 0; i < luminance.length; i++) {
    const V = c.signals[i]!;
    if (!c.counts(i) || V < 0.1 - HALF_STEP || V > 0.9 + HALF_STEP || c.patches.seen[i] !== Seen.Measured) continue;
    const z = Math.log((luminance[i]! - black) / (white - black));
    if (!Number.isFinite(z)) continue;
    const x = Math.log(V);
    xz += x * z;
    xx += x * x;
    n++;
  }
  return n >= 2 ? xz / xx : Number.NaN;
}

const ownBlack = (c: Grey): number => (c.black?.seen === Seen.Measured ? c.black.Y : 0);

function exponent(c: Grey, black: number): Value {
  if (!c.white) return without('no-patch', { patch: '100 %' });
  return figureOr(fittedExponent(c, c.patches.Y, c.white.Y, black), 'too-few', { count: 2, which: 'from 10 to 90 %' });
}

function exponentFromTarget(c: Grey): Value {
  const { target, scale } = c.judged;
  if (target.curve.kind === 'pq' || target.curve.kind === 'hlg')
    return without('wrong-curve', { expected: 'SDR', found: target.curve.kind.toUpperCase() });
  const own = exponent(c, ownBlack(c));
  if (!own.ok) return own;
  const targetBlack = needsBlack(target.curve) ? scale.Lb : 0;
  return figureOr(own.v - fittedExponent(c, c.targetY, scale.Lw, targetBlack), 'too-few', { count: 2, which: 'from 10 to 90 %' });
}

/** The first level told from black by three times the spread of the meter. */
function firstAboveBlack(c: Grey): Value {
  if (!c.black) return without('no-patch', { patch: '0 %' });
  const spread = c.session.quantityOf(c.run.meter, 'spread', 'percent')?.value;
  if (spread === undefined) return without('no-spread');
  const black = ownBlack(c);
  let first = Number.NaN;
  for (let i = 0; i < c.patches.count; i++) {
    if (!c.counts(i) || c.patches.seen[i] !== Seen.Measured) continue;
    const Y = c.patches.Y[i]!;
    const apart = 3 * (spread / 100) * Math.hypot(Y, black);
    if (Y - black > apart && !(c.signals[i]! * 100 >= first)) first = c.signals[i]! * 100;
  }
  return figureOr(first, 'no-rows');
}

function nearBlackStops(c: Grey, rows: Rows): Value {
  const stops = rows('curve.stops');
  let sum = 0;
  let n = 0;
  for (let i = 0; i < stops.length; i++) {
    if (!c.counts(i) || c.signals[i]! > 0.1 + HALF_STEP || !Number.isFinite(stops[i]!)) continue;
    sum += stops[i]!;
    n++;
  }
  return figureOr(sum / n, 'too-few', { count: 1, which: 'above 0 up to 10 %' });
}

/** Last against first reading of a white that was read more than once, row by row and in reading order. */
function drift(c: Grey): Value {
  const whites = whiteReadings(c.patches, c.signals);
  return whites
    ? figure(100 * (c.patches.Y[whites[1]]! / c.patches.Y[whites[0]]! - 1))
    : without('too-few', { count: 2, which: 'of 100 % white, apart' });
}

/** The first and last patch that are white, when there are two or more. */
export function whiteReadings(patches: Patches, signals: Float64Array): readonly [number, number] | undefined {
  let first = -1;
  let last = -1;
  for (let i = 0; i < patches.count; i++) {
    if (!(Math.abs(signals[i]! - 1) < 1e-6) || patches.seen[i] !== Seen.Measured) continue;
    if (first < 0) first = i;
    last = i;
  }
  return last > first ? [first, last] : undefined;
}

export type RangeHypothesis = 'written' | 'limited-as-full' | 'full-as-limited';

/**
 * The signal that a display makes of what was sent, if it takes the code range for the other one. Codes beyond white are cut to white.
 * Source: the quantisation of ITU-R BT.709 and BT.2100, read with the wrong range.
 */
export function asTaken(signal: number, format: SignalFormat, hypothesis: RangeHypothesis): number {
  if (hypothesis === 'written') return signal;
  const other: SignalFormat = { ...format, range: hypothesis === 'limited-as-full' ? 'limited' : 'full' };
  const code = signalToCode(signal, other);
  const top = 2 ** format.depth - 1;
  const taken = hypothesis === 'limited-as-full' ? code / top : (code / 2 ** (format.depth - 8) - 16) / 219;
  return Math.min(Math.max(taken, 0), 1);
}

/** Root mean square error in stops of rows from 5 % up, through the 100 % row, were the hypothesis true. */
function chainError(c: Grey, hypothesis: RangeHypothesis): Value {
  if (!c.white) return without('no-patch', { patch: '100 %' });
  const { target, scale } = c.judged;
  const format = c.format ?? { range: 'limited', depth: 10 };
  const shape = (signal: number) => greyLuminance(target, asTaken(signal, format, hypothesis), scale);
  const white = shape(1);
  let sum = 0;
  let n = 0;
  for (let i = 0; i < c.patches.count; i++) {
    if (!c.counts(i) || c.signals[i]! < 0.05 - HALF_STEP || c.patches.seen[i] !== Seen.Measured || !(c.patches.Y[i]! > 0)) continue;
    // A level that the hypothesis shows as black cannot be compared in stops: it is as far off as the floor lets it seem.
    const expected = Math.max(shape(c.signals[i]!), white * 1e-5);
    const error = Math.log2(c.patches.Y[i]! / c.white.Y / (expected / white));
    sum += error * error;
    n++;
  }
  return figureOr(n >= 3 ? Math.sqrt(sum / n) : Number.NaN, 'too-few', { count: 3, which: 'from 5 % up' });
}

export const greyscale: Kernel<'greyscale', Grey> = {
  prepare,
  rows: {
    de: (c) => aboveBlack(c, differenceRows.de),
    'de.ab': (c) => aboveBlack(c, differenceRows['de.ab']),
    'de.94': (c) => aboveBlack(c, differenceRows['de.94']),
    'de.uv': (c) => aboveBlack(c, differenceRows['de.uv']),
    'de.itp': (c) => aboveBlack(c, differenceRows['de.itp']),
    // The target of a grey is the target white at any level, so these hold at black too where it has a colour.
    'delta.uv': (c) => byPatch(c, (i) => deltaUv(xyzToXy(xyzAt(c, i)), c.judged.target.white)),
    'delta.uvstar': (c) =>
      byPatch(c, (i) =>
        deltaUvStar(yToLstar(c.patches.Y[i]! / c.judged.scale.Lw), xyToUv(xyzToXy(xyzAt(c, i))), xyToUv(c.judged.target.white)),
      ),
    dc: (c) => {
      const white = whiteXyz(c.judged.target, c.judged.scale.Lw);
      return aboveBlack(c, () =>
        sdrOnly(c, () => byPatch(c, (i) => deltaE2000(xyzToLab(levelled(c, i), white), xyzToLab(targetAt(c, i), white)))),
      );
    },
    'dc.adapted': (c) => aboveBlack(c, () => byPatch(c, (i) => deltaE2000(xyzToLab(levelled(c, i), targetAt(c, i)), [100, 0, 0]))),
    'balance.r': (c) => balanceRows(c, 0),
    'balance.g': (c) => balanceRows(c, 1),
    'balance.b': (c) => balanceRows(c, 2),
    cct: (c) => byPatch(c, (i) => temperatureOf(xyzAt(c, i)).cct),
    duv: (c) => byPatch(c, (i) => temperatureOf(xyzAt(c, i)).duv - targetDuv(c)),
    exponent: (c) => {
      const black = ownBlack(c);
      const white = c.white?.Y ?? Number.NaN;
      return byPatch(c, (i) => {
        const V = c.signals[i]!;
        const inside = V >= 0.1 - HALF_STEP && V <= 0.9 + HALF_STEP;
        return inside ? Math.log((c.patches.Y[i]! - black) / (white - black)) / Math.log(V) : Number.NaN;
      });
    },
    curve: (c) => aboveBlack(c, () => byPatch(c, (i) => 100 * (c.patches.Y[i]! / c.targetY[i]! - 1))),
    'curve.stops': (c) => aboveBlack(c, () => byPatch(c, (i) => Math.log2(c.patches.Y[i]! / c.targetY[i]!))),
    target: (c) => c.targetY.slice(),
  },
  run: {
    ...summedDifferences,
    'white.luminance': (c) => (c.white ? figure(c.white.Y) : without('no-patch', { patch: '100 %' })),
    'white.duvstar': (c, rows) => ofWhite(c, (i) => figureOr(rows('delta.uvstar')[i]!, 'no-colour')),
    black: (c) => {
      if (!c.black) return without('no-patch', { patch: '0 %' });
      return c.black.seen === Seen.Below ? { ok: true, v: c.black.Y, bound: 'at-most' } : figure(c.black.Y);
    },
    'dc.avg': (c, rows) => average(c, rows, 'dc'),
    'dc.max': (c, rows) => largest(c, rows, 'dc'),
    balance: (c, rows) =>
      overRows(
        farthest(c, [rows('balance.r'), rows('balance.g'), rows('balance.b')], 0.2, 1.1, (v) => Math.abs(v - 100)),
        'with a colour from 20 % up',
      ),
    cct: (c, rows) => ofWhite(c, (i) => figureOr(rows('cct')[i]!, 'far-from-planckian')),
    'cct.avg': (c, rows) => {
      const list = rows('cct').filter((v, i) => c.counts(i) && c.signals[i]! >= 0.2 - HALF_STEP && !Number.isNaN(v));
      return overRows(list.reduce((sum, v) => sum + v, 0) / list.length, 'with a colour from 20 % up');
    },
    duv: (c, rows) => ofWhite(c, (i) => figureOr(rows('duv')[i]!, 'far-from-planckian')),
    'duvstar.max': (c, rows) => {
      const list = rows('delta.uvstar').map((v, i) => (c.patches.Y[i]! >= 1 && c.patches.Y[i]! <= 100 ? v : Number.NaN));
      return overRows(farthest(c, [list], 0, 1.1, Math.abs), 'between 1 and 100 cd/m²');
    },
    exponent: (c) => exponent(c, ownBlack(c)),
    'exponent.raw': (c) => exponent(c, 0),
    'curve.exponent': exponentFromTarget,
    'curve.worst': (c, rows) => overRows(farthest(c, [rows('curve')], 0.1, 1.1, Math.abs), 'from 10 % up'),
    'curve.worst.stops': (c, rows) => overRows(farthest(c, [rows('curve.stops')], 0.1, 1.1, Math.abs), 'from 10 % up'),
    'nearblack.first': firstAboveBlack,
    'nearblack.stops': nearBlackStops,
    'nearblack.dc': (c, rows) => overRows(farthest(c, [rows('dc.adapted')], 0, 0.2, Math.abs), 'with a colour up to 20 %'),
    'nearblack.duv': (c, rows) => overRows(farthest(c, [rows('delta.uv')], 0, 0.2, Math.abs), 'with a colour up to 20 %'),
    drift,
    'chain.written': (c) => chainError(c, 'written'),
    'chain.limited-as-full': (c) => chainError(c, 'limited-as-full'),
    'chain.full-as-limited': (c) => chainError(c, 'full-as-limited'),
  },
};
