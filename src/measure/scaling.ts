import type { Run, Session } from '../session/session';
import { type Arg, type Phrase, phrase, type Say, tabled, worded } from '../text/message';
import { type Patches, Seen, signalsOf } from './readings';
import { readPatches } from './readPatches';
import { curveName, needsBlack, type Scale, type Target, targetOf } from './target';
import { type Value, without } from './value';

type Absent = Extract<Value, { ok: false }>;

/** What every figure of a run is computed against, for a reader. */
export interface Against {
  readonly target?: string;
  readonly space?: Arg;
  readonly curve?: string;
  readonly white?: Arg;
  /** cd/m², and where it is from. */
  readonly whiteLuminance?: number;
  readonly whiteFrom?: Phrase;
  readonly black?: Phrase;
  /** The correction that the readings went through. */
  readonly corrected?: Phrase;
}

/** One line: target, space, curve, white and its luminance. Empty when nothing is judged against anything. */
export function describeAgainst(against: Against, say: Say): string {
  const { target, space, curve, white, whiteLuminance, whiteFrom, black, corrected } = against;
  if (target === undefined) return '';
  const scale =
    whiteLuminance === undefined
      ? undefined
      : phrase('white {luminance} cd/m² ({from})', { luminance: Number(whiteLuminance.toPrecision(4)), from: whiteFrom ?? '' });
  const parts = [space, curve, white, scale, black, corrected].filter((part) => part !== undefined);
  return `${target}: ${worded(parts, say)}`;
}

/** A target without a scale, for figures of chromaticity alone. */
export const describeTarget = (target: Target): Against => ({
  target: target.id,
  space: tabled(target.space.title),
  curve: curveName(target.curve),
  white: target.whiteName,
});

/** A target with the scale it has for one run. Two scales where the black was below the floor: for a black of 0 and of the floor. */
export interface Judged {
  readonly target: Target;
  readonly scale: Scale;
  readonly floorScale?: Scale;
  readonly against: Against;
  /** The readings that the scale is made of, where it is not stated: those whose luminance the meter saw. */
  readonly read: readonly ScaledBy[];
}

export interface ScaledBy {
  readonly of: keyof Scale;
  readonly run: Run;
  readonly patch: number;
}

/** One luminance, cd/m², and whether the meter could see it. */
export interface SingleReading {
  readonly Y: number;
  readonly seen: Seen;
  /** Where it stands among the patches of its run. */
  readonly patch: number;
}

/** The first patch with a reading that answers to a test; undefined when there is none. */
export function readingWhere(patches: Patches, is: (patch: number) => boolean): SingleReading | undefined {
  for (let i = 0; i < patches.count; i++) {
    if (patches.seen[i] !== Seen.None && !patches.revisit[i] && is(i)) return { Y: patches.Y[i]!, seen: patches.seen[i]!, patch: i };
  }
  return undefined;
}

/** A luminance as a figure; one that the meter could not see is a bound. */
export function luminanceOf(reading: SingleReading | undefined, patch: string): Value {
  if (!reading) return without('no-patch', { patch });
  const bound = boundOf(reading.seen);
  return { ok: true, v: reading.Y, ...(bound ? { bound } : {}) };
}

/** What `<n` and `>n` say of a luminance of n. */
export const boundOf = (seen: Seen): 'at-most' | 'at-least' | undefined =>
  seen === Seen.Below ? 'at-most' : seen === Seen.Above ? 'at-least' : undefined;

/** The full-drive white and the black of a run, each where it has one. */
export interface OwnScale {
  readonly white?: SingleReading | undefined;
  readonly black?: SingleReading | undefined;
}

/** White and black of a greyscale: its rows at signal 1 and 0. */
export function greyScaleOf(session: Session, run: Run): OwnScale {
  const patches = readPatches(session, run, ['level']);
  const signals = greySignals(session, run, patches);
  return signals ? scaleIn(patches, signals) : {};
}

export const isWhite = (signal: number): boolean => Math.abs(signal - 1) < 1e-6;
export const isBlack = (signal: number): boolean => Math.abs(signal) < 1e-6;

export const scaleIn = (patches: Patches, signals: Float64Array): OwnScale => ({
  white: readingWhere(patches, (i) => isWhite(signals[i]!)),
  black: readingWhere(patches, (i) => isBlack(signals[i]!)),
});

/** The signal of each patch of a greyscale, as sent; undefined for code values of a signal that says no range. */
export function greySignals(session: Session, run: Run, patches: Patches): Float64Array | undefined {
  const level = run.table.columns.get('level');
  return level && signalsOf(session, run, patches, level);
}

/** A white that figures can be scaled by: one that the meter could see the whole of. */
const measuredWhite = ({ white }: OwnScale): number | undefined => (white?.seen === Seen.Measured && white.Y > 0 ? white.Y : undefined);

/**
 * Gives a target its scale: white from the target's own luminance, else from the run, else from the one greyscale of the same mode and
 * signal that has one; black from the run, else likewise from a greyscale.
 */
export function judge(session: Session, run: Run, own: OwnScale): Judged | Absent {
  const target = targetOf(session, run.target);
  if ('ok' in target) return target;
  const ownWhite = measuredWhite(own);
  const stated = { from: phrase('stated by {id}', { id: target.id }), Y: target.luminance };
  const read = { from: readIn(run), Y: ownWhite };
  const known = [stated, read].find(({ Y }) => Y !== undefined && Y > 0);
  const described = (white: typeof known): Against => ({
    ...describeTarget(target),
    ...(white?.Y === undefined ? {} : { whiteLuminance: white.Y, whiteFrom: white.from }),
  });
  const ownRead = known === read ? scaledBy('Lw', run, own.white) : [];
  // PQ is absolute: its luminances take no scale. What hangs on a white all the same (lightness) has none where none is known.
  if (target.curve.kind === 'pq') return { target, scale: { Lw: known?.Y ?? Number.NaN, Lb: 0 }, against: described(known), read: ownRead };

  const onBlack = needsBlack(target.curve);
  const others =
    !known || (onBlack && !own.black) ? greyscalesLike(session, run).map((other) => ({ other, scale: greyScaleOf(session, other) })) : [];
  const withWhite = others.filter(({ scale }) => measuredWhite(scale) !== undefined);
  const lender = withWhite.length === 1 ? withWhite[0]! : undefined;
  const white = known ?? (lender && { from: readIn(lender.other), Y: measuredWhite(lender.scale) });
  if (white?.Y === undefined) {
    if (withWhite.length > 1) return without('white-ambiguous', { count: withWhite.length });
    return without('no-white', { where: [run, ...others.map(({ other }) => other)].map(({ id }) => id).join(', ') });
  }
  const against = described(white);
  const whiteRead = known || !lender ? ownRead : scaledBy('Lw', lender.other, lender.scale.white);
  if (!onBlack) return { target, scale: { Lw: white.Y, Lb: 0 }, against, read: whiteRead };

  const withBlack = others.filter(({ scale }) => scale.black);
  const blackLender = lender?.scale.black ? lender : withBlack.length === 1 ? withBlack[0]! : undefined;
  const black = own.black ?? blackLender?.scale.black;
  if (!black) return withBlack.length > 1 ? without('black-ambiguous', { count: withBlack.length }) : without('no-black');
  const isBelow = black.seen === Seen.Below;
  const blackRun = own.black ? run : blackLender!.other;
  const from = readIn(blackRun);
  const said = isBelow
    ? phrase('black below {luminance} cd/m² ({from})', { luminance: black.Y, from })
    : phrase('black {luminance} cd/m² ({from})', { luminance: Number(black.Y.toPrecision(3)), from });
  const scale = { Lw: white.Y, Lb: isBelow ? 0 : black.Y };
  const readings = [...whiteRead, ...scaledBy('Lb', blackRun, black)];
  const judged = { target, scale, against: { ...against, black: said }, read: readings };
  return isBelow ? { ...judged, floorScale: { Lw: white.Y, Lb: black.Y } } : judged;
}

const scaledBy = (of: keyof Scale, run: Run, reading: SingleReading | undefined): readonly ScaledBy[] =>
  reading?.seen === Seen.Measured ? [{ of, run, patch: reading.patch }] : [];

const readIn = ({ id }: Run): Phrase => phrase('read in {id}', { id });

/** The other greyscale runs of the same mode and signal. */
const greyscalesLike = (session: Session, run: Run): readonly Run[] =>
  session.runs.filter((other) => other !== run && other.kind === 'greyscale' && other.mode === run.mode && other.signal === run.signal);
