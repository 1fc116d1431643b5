import { xyToUv, xyzToXy } from '../colour/chromaticity';
import { deltaE2000, deltaUv, deltaUvStar } from '../colour/difference';
import { xyzToLab, yToLstar } from '../colour/lab';
import { type SignalFormat, signalToCode } from '../colour/quantise';
import { SPACES, spaceMatrices } from '../colour/spaces';
import { cctDuv } from '../colour/temperature';
import { multiply, type Vec3 } from '../colour/vector';
import type { Run, Session } from '../session/session';
import { allOf, type Phrase, phrase } from '../text/message';
import {
  average,
  byPatch,
  type Coloured,
  differenceRows,
  isSdrOnly,
  largest,
  sdrOnly,
  summedDifferences,
  targetAt,
  xyzAt,
} from './colours';
import type { Absent, Kernel } from './kernel';
import { type Patches, Seen, signalFormat } from './readings';
import { readPatches } from './readPatches';
import { remembering } from './remember';
import { greySignals, isBlack, isWhite, type Judged, judge, luminanceOf, type OwnScale, type SingleReading, scaleIn } from './scaling';
import { luminanceSpread, spreadOf } from './spread';
import { curveName, greyLuminance, isHdr, lightOf, needsBlack, type Scale, type Target, whiteXyz } from './target';
import { between, figure, figureOr, tooFew, type Value, without } from './value';

/** Patches and their signals. */
export interface Levels {
  readonly patches: Patches;
  /** As sent, 0 black and 1 white. */
  readonly signals: Float64Array;
}

export interface Grey extends Coloured, Levels {
  readonly white: SingleReading | undefined;
  readonly black: SingleReading | undefined;
  readonly format: SignalFormat | undefined;
  /** The patches in reading order, where a level that is read again is a patch of its own. */
  readonly visits: Levels;
}

/** Levels are compared with room for the rounding to codes: 10 % in 8 bits is 10.05 %. */
const ROUNDING = 0.003;

const isFrom = (signal: number, level: number): boolean => signal >= level - ROUNDING;
const isUpTo = (signal: number, level: number): boolean => signal <= level + ROUNDING;
const inExponent = (signal: number): boolean => isFrom(signal, 0.1) && isUpTo(signal, 0.9);
const isLit = (signal: number): boolean => signal > 0 && !isBlack(signal);

const whiteRow = (c: Grey): number => {
  for (let i = 0; i < c.patches.count; i++) if (isWhite(c.signals[i]!) && !c.patches.revisit[i]) return i;
  return -1;
};

const prepare = (session: Session, run: Run): Grey | Absent => greysBy(session, run, (own) => judge(session, run, own));

/**
 * The greys of a run beside those of a usual display (power 2.2, D65, white as read): for what is plausible in a run that is judged by
 * nothing. No figure is computed from it. Undefined where no level can be read.
 */
export function usualGreys(session: Session, run: Run): Grey | undefined {
  const greys = greysBy(session, run, ({ white }) => ({ target: USUAL, scale: { Lw: white?.Y || 100, Lb: 0 }, against: {}, read: [] }));
  return 'ok' in greys ? undefined : greys;
}

const USUAL: Target = {
  id: '',
  space: SPACES.bt709,
  matrices: spaceMatrices(SPACES.bt709)!,
  curve: { kind: 'power', exponent: 2.2, overBlack: false },
  white: SPACES.bt709.white,
  whiteName: 'D65',
};

function greysBy(session: Session, run: Run, judgedBy: (own: OwnScale) => Judged | Absent): Grey | Absent {
  const patches = readPatches(session, run, ['level']);
  const signals = greySignals(session, run, patches);
  if (!signals) return without('signal-range');
  const visited = readPatches(session, run, ['level'], { repeatAll: false, drift: false });
  const visits = { patches: visited, signals: greySignals(session, run, visited)! };
  const own = scaleIn(patches, signals);
  const judged = judgedBy(own);
  if ('ok' in judged) return judged;
  const { target, scale, floorScale } = judged;
  const format = signalFormat(session, run);
  const at = (s: Scale, black: SingleReading | undefined): Grey => {
    const [X, , Z] = whiteXyz(target, 1);
    const levels = signals.map(lightOf(target, s, patches.count));
    return {
      session,
      run,
      patches,
      keys: ['level'],
      judged: { ...judged, scale: s },
      signals,
      visits,
      white: own.white,
      black,
      format,
      targetX: levels.map((Y) => X * Y),
      targetY: levels,
      targetZ: levels.map((Y) => Z * Y),
      targetAt: (other) => {
        const light = lightOf(target, other, patches.count);
        return (i) => whiteXyz(target, light(signals[i]!));
      },
      counts: (i) => isLit(signals[i]!) && !patches.revisit[i],
      // Exponents hang on the white and the black of the display, whatever those of the target are.
      pivots: [own.white, own.black].flatMap((reading) => (reading ? [reading.patch] : [])),
    };
  };
  if (!floorScale) return at(scale, own.black);
  // Where the black may be anything up to the floor, it is that for the target and for the display alike.
  const atFloor = own.black && { ...own.black, seen: Seen.Measured };
  return { ...at(scale, own.black), atFloor: at(floorScale, atFloor) };
}

/** ΔE of black is no colour difference that an eye makes: rows at level 0 are judged by contrast and near-black. */
const aboveBlack = (c: Grey, rows: (c: Grey) => Float64Array): Float64Array =>
  rows(c).map((v, i) => (isLit(c.signals[i]!) ? v : Number.NaN));

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
      if (!c.counts(i) || !isFrom(c.signals[i]!, from) || !isUpTo(c.signals[i]!, to) || !Number.isFinite(list[i]!)) continue;
      if (Number.isNaN(found) || distance(list[i]!) > distance(found)) found = list[i]!;
    }
  }
  return found;
}

const overRows = (v: number, which: Phrase): Value => (Number.isFinite(v) ? figure(v) : tooFew(1, which));

/**
 * Exponent of the power law through white: γ = Σxz/Σx² with x = ln V and z = ln((Y − Yk)/(Yw − Yk)), rows from 10 to 90 % that were
 * read and lie above black. Twice, over the same rows: of the readings, and of the target with its own white and black.
 */
function fittedExponents(c: Grey, white: number, black: number): { readonly own: number; readonly target: number } | undefined {
  const { target, scale } = c.judged;
  const targetBlack = needsBlack(target.curve) ? scale.Lb : 0;
  let own = 0;
  let aimed = 0;
  let xx = 0;
  let n = 0;
  for (let i = 0; i < c.patches.count; i++) {
    const V = c.signals[i]!;
    if (!c.counts(i) || !inExponent(V) || c.patches.seen[i] !== Seen.Measured) continue;
    const z = Math.log((c.patches.Y[i]! - black) / (white - black));
    if (!Number.isFinite(z)) continue;
    const x = Math.log(V);
    own += x * z;
    aimed += x * Math.log((c.targetY[i]! - targetBlack) / (scale.Lw - targetBlack));
    xx += x * x;
    n++;
  }
  return n >= 2 ? { own: own / xx, target: aimed / xx } : undefined;
}

type Fit = NonNullable<ReturnType<typeof fittedExponents>>;

/** A figure of the fit with the display's own black taken off: for a black of 0 and of the floor where it could not be seen. */
function exponentOf(c: Grey, of: (fit: Fit) => number, blacks = ownBlacks(c)): Value {
  const { white } = c;
  if (white?.seen !== Seen.Measured) return without('no-patch', { patch: '100 %' });
  const [value, other] = blacks.map((black) => {
    const fit = fittedExponents(c, white.Y, black);
    return fit ? figure(of(fit)) : tooFew(2, phrase('from 10 to 90 %'));
  });
  return other ? between(value!, other) : value!;
}

/** The black of the display; two where it is below the floor, unless a target that stands on it makes two of everything anyway. */
const ownBlacks = ({ black, atFloor }: Grey): readonly number[] =>
  black?.seen === Seen.Measured ? [black.Y] : black?.seen === Seen.Below && !atFloor ? [0, black.Y] : [0];

function exponentFromTarget(c: Grey): Value {
  const { curve } = c.judged.target;
  return isHdr(curve) ? without('wrong-curve', { expected: 'SDR', found: curveName(curve) }) : exponentOf(c, (fit) => fit.own - fit.target);
}

/** The first level told from black by three times the spread of the meter, as it is written in a column of per cent. */
function firstAboveBlack(c: Grey): Value {
  if (!c.black) return without('no-patch', { patch: '0 %' });
  const spread = spreadOf(c.session, c.run);
  if (!spread.stated) return without('no-spread');
  const black = ownBlacks(c)[0]!;
  let first = -1;
  for (let i = 0; i < c.patches.count; i++) {
    if (!c.counts(i) || c.patches.seen[i] !== Seen.Measured) continue;
    const Y = c.patches.Y[i]!;
    const apart = 3 * Math.hypot(luminanceSpread(spread, Y), luminanceSpread(spread, black));
    if (Y - black > apart && !(first >= 0 && c.signals[i]! >= c.signals[first]!)) first = i;
  }
  if (first < 0) return without('no-rows');
  const { columns, rows } = c.run.table;
  const level = columns.get('level')!;
  return figure(level.bits === undefined ? rows[c.patches.first[first]!]!.values[level.cell]! : 100 * c.signals[first]!);
}

/**
 * Mean error of the levels above 0 up to 10 %. One below the floor is crushed at least as far as the floor lies below its target: with
 * such levels the mean is "at most"; where the target is below the floor as well, they say nothing.
 */
function nearBlackStops(c: Grey): Value {
  let sum = 0;
  let n = 0;
  let crushed = false;
  for (let i = 0; i < c.patches.count; i++) {
    if (!c.counts(i) || !isUpTo(c.signals[i]!, 0.1)) continue;
    const stops = Math.log2(c.patches.Y[i]! / c.targetY[i]!);
    const isBelow = c.patches.seen[i] === Seen.Below;
    if (!Number.isFinite(stops) || (isBelow ? stops >= 0 : c.patches.seen[i] !== Seen.Measured)) continue;
    crushed ||= isBelow;
    sum += stops;
    n++;
  }
  if (n === 0) return tooFew(1, phrase('above 0 up to 10 %'));
  return crushed ? { ok: true, v: sum / n, bound: 'at-most' } : figure(sum / n);
}

/** Last against first reading of a white that was read more than once, row by row and in reading order. */
function drift(c: Grey): Value {
  const whites = whiteReadings(c.visits);
  if (!whites) return tooFew(2, phrase('of 100 % white, apart'));
  const { Y } = c.visits.patches;
  return figureOr(100 * (Y[whites[1]]! / Y[whites[0]]! - 1), 'no-rows');
}

/** The first and last visit to white, when there are two or more. */
export function whiteReadings({ patches, signals }: Levels): readonly [number, number] | undefined {
  let first = -1;
  let last = -1;
  for (let i = 0; i < patches.count; i++) {
    if (!isWhite(signals[i]!) || patches.seen[i] !== Seen.Measured) continue;
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

/** The luminance of a signal over that of white, for a display of the target's curve were the hypothesis true. */
export function sharesOfWhite(c: Grey, hypothesis: RangeHypothesis): (signal: number) => number {
  const { target, scale } = c.judged;
  const format = c.format ?? { range: 'limited', depth: 10 };
  const shape = (V: number) => greyLuminance(target, asTaken(V, format, hypothesis), scale);
  const white = shape(1);
  return remembering((signal) => shape(signal) / white, 4095, c.patches.count);
}

/** Root mean square error in stops of rows from 5 % up, through the 100 % row, were the hypothesis true. */
function chainError(c: Grey, hypothesis: RangeHypothesis): Value {
  const { target } = c.judged;
  // PQ is absolute: taken through the 100 % row of a display that rolls off, it fits nothing.
  if (target.curve.kind === 'pq') return without('wrong-curve', { expected: allOf(['SDR', 'HLG']), found: 'PQ' });
  if (c.white?.seen !== Seen.Measured) return without('no-patch', { patch: '100 %' });
  const shareOf = sharesOfWhite(c, hypothesis);
  let sum = 0;
  let n = 0;
  for (let i = 0; i < c.patches.count; i++) {
    if (!c.counts(i) || !isFrom(c.signals[i]!, 0.05) || c.patches.seen[i] !== Seen.Measured || !(c.patches.Y[i]! > 0)) continue;
    // A level that the hypothesis shows as black cannot be compared in stops: it is as far off as the floor lets it seem.
    const expected = Math.max(shareOf(c.signals[i]!), 1e-5);
    const error = Math.log2(c.patches.Y[i]! / c.white.Y / expected);
    sum += error * error;
    n++;
  }
  return n >= 3 ? figure(Math.sqrt(sum / n)) : tooFew(3, phrase('from 5 % up'));
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
      const black = ownBlacks(c)[0]!;
      const white = c.white?.seen === Seen.Measured ? c.white.Y : Number.NaN;
      return byPatch(c, (i) => {
        const V = c.signals[i]!;
        return inExponent(V) ? Math.log((c.patches.Y[i]! - black) / (white - black)) / Math.log(V) : Number.NaN;
      });
    },
    curve: (c) => aboveBlack(c, () => byPatch(c, (i) => 100 * (c.patches.Y[i]! / c.targetY[i]! - 1))),
    'curve.stops': (c) => aboveBlack(c, () => byPatch(c, (i) => Math.log2(c.patches.Y[i]! / c.targetY[i]!))),
    target: (c) => c.targetY.slice(),
  },
  run: {
    ...summedDifferences,
    'white.luminance': (c) => luminanceOf(c.white, '100 %'),
    'white.duvstar': (c, rows) => ofWhite(c, (i) => figureOr(rows('delta.uvstar')[i]!, 'no-colour')),
    black: (c) => luminanceOf(c.black, '0 %'),
    'dc.avg': (c, rows) => average(c, rows, 'dc'),
    'dc.max': (c, rows) => largest(c, rows, 'dc'),
    balance: (c, rows) =>
      overRows(
        farthest(c, [rows('balance.r'), rows('balance.g'), rows('balance.b')], 0.2, 1.1, (v) => Math.abs(v - 100)),
        phrase('with a colour from 20 % up'),
      ),
    cct: (c, rows) => ofWhite(c, (i) => figureOr(rows('cct')[i]!, 'far-from-planckian')),
    'cct.avg': (c, rows) => {
      const list = rows('cct');
      let sum = 0;
      let n = 0;
      for (let i = 0; i < list.length; i++) {
        if (!c.counts(i) || !isFrom(c.signals[i]!, 0.2) || Number.isNaN(list[i]!)) continue;
        sum += list[i]!;
        n++;
      }
      return overRows(sum / n, phrase('with a colour temperature from 20 % up'));
    },
    duv: (c, rows) => ofWhite(c, (i) => figureOr(rows('duv')[i]!, 'far-from-planckian')),
    'duvstar.max': (c, rows) => {
      const list = rows('delta.uvstar').map((v, i) => (c.patches.Y[i]! >= 1 && c.patches.Y[i]! <= 100 ? v : Number.NaN));
      return overRows(farthest(c, [list], 0, 1.1, Math.abs), phrase('between 1 and 100 cd/m²'));
    },
    exponent: (c) => exponentOf(c, (fit) => fit.own),
    'exponent.raw': (c) => exponentOf(c, (fit) => fit.own, [0]),
    'curve.exponent': exponentFromTarget,
    'curve.worst': (c, rows) => overRows(farthest(c, [rows('curve')], 0.1, 1.1, Math.abs), phrase('from 10 % up')),
    'curve.worst.stops': (c, rows) => overRows(farthest(c, [rows('curve.stops')], 0.1, 1.1, Math.abs), phrase('from 10 % up')),
    'nearblack.first': firstAboveBlack,
    'nearblack.stops': nearBlackStops,
    'nearblack.dc': (c, rows) => overRows(farthest(c, [rows('dc.adapted')], 0, 0.2, Math.abs), phrase('with a colour up to 20 %')),
    'nearblack.duv': (c, rows) => overRows(farthest(c, [rows('delta.uv')], 0, 0.2, Math.abs), phrase('with a colour up to 20 %')),
    drift,
    'chain.written': (c) => chainError(c, 'written'),
    'chain.limited-as-full': (c) => chainError(c, 'limited-as-full'),
    'chain.full-as-limited': (c) => chainError(c, 'full-as-limited'),
  },
  why,
};

const ALSO_AT_BLACK = new Set(['delta.uv', 'delta.uvstar', 'balance.r', 'balance.g', 'balance.b', 'cct', 'duv', 'target']);
const OF_LUMINANCE = new Set(['exponent', 'curve', 'curve.stops', 'target']);

function why(c: Grey, id: string, patch: number, key: string): Absent | undefined {
  const { curve } = c.judged.target;
  const signal = c.signals[patch]!;
  if (Number.isNaN(signal)) return without('row-open', { key });
  if (isHdr(curve) && (isSdrOnly(id) || id === 'dc')) return without('wrong-curve', { expected: 'SDR', found: curveName(curve) });
  if (!ALSO_AT_BLACK.has(id) && !isLit(signal)) return without('row-zero');
  if (c.patches.seen[patch] !== Seen.Measured) return undefined;
  if (id === 'exponent' && c.white?.seen !== Seen.Measured) return without('no-patch', { patch: '100 %' });
  if (id === 'exponent') return without('row-outside', { which: phrase('from 10 to 90 % that lie above black') });
  if (OF_LUMINANCE.has(id)) return without('row-open', { key });
  const isTemperature = id === 'cct' || id === 'duv';
  return isTemperature && !Number.isNaN(c.patches.X[patch]!) ? without('far-from-planckian') : undefined;
}
