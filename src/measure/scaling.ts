import type { Run, Session } from '../session/session';
import { driveReader, type Patches, readPatches, Seen, signalFormat } from './readings';
import { curveName, needsBlack, type Scale, type Target, targetOf } from './target';
import { type Value, without } from './value';

type Absent = Extract<Value, { ok: false }>;

/** What every figure of a run is computed against, for a reader. */
export interface Against {
  readonly target?: string;
  readonly space?: string;
  readonly curve?: string;
  readonly white?: string;
  /** cd/m², and where it is from. */
  readonly whiteLuminance?: number;
  readonly whiteFrom?: string;
  readonly black?: string;
}

/** One line: target, space, curve, white and its luminance. Empty when nothing is judged against anything. */
export function describeAgainst(against: Against): string {
  if (against.target === undefined) return '';
  const scale =
    against.whiteLuminance === undefined ? [] : [`white ${Number(against.whiteLuminance.toPrecision(4))} cd/m² (${against.whiteFrom})`];
  const parts = [against.space, against.curve, against.white, ...scale, against.black].filter((part) => part !== undefined);
  return `${against.target}: ${parts.join(', ')}`;
}

/** A target without a scale, for figures of chromaticity alone. */
export const describeTarget = (target: Target): Against => ({
  target: target.id,
  space: target.space.title,
  curve: curveName(target.curve),
  white: target.whiteName,
});

/** A target with the scale it has for one run. Two scales where the black was below the floor: for a black of 0 and of the floor. */
export interface Judged {
  readonly target: Target;
  readonly scale: Scale;
  readonly floorScale?: Scale;
  readonly against: Against;
}

/** One luminance, cd/m², and whether the meter could see it. */
export interface SingleReading {
  readonly Y: number;
  readonly seen: Seen;
}

/** The first reading of each patch that answers to a test; undefined when none has one. */
export function readingWhere(patches: Patches, is: (patch: number) => boolean): SingleReading | undefined {
  for (let i = 0; i < patches.count; i++) {
    if (patches.seen[i] !== Seen.None && !patches.revisit[i] && patches.Y[i]! >= 0 && is(i))
      return { Y: patches.Y[i]!, seen: patches.seen[i]! };
  }
  return undefined;
}

/** The full-drive white and the black of a run, each where it has one. */
export interface OwnScale {
  readonly white?: SingleReading | undefined;
  readonly black?: SingleReading | undefined;
}

/** White and black of a greyscale: its rows at signal 1 and 0. */
export function greyScaleOf(session: Session, run: Run): OwnScale {
  const patches = readPatches(run, ['level'], false);
  const signals = greySignals(session, run, patches);
  if (!signals) return {};
  return {
    white: readingWhere(patches, (i) => Math.abs(signals[i]! - 1) < 1e-6),
    black: readingWhere(patches, (i) => Math.abs(signals[i]!) < 1e-6),
  };
}

/** The signal of each patch of a greyscale, as sent; undefined for code values of a signal that says no range. */
export function greySignals(session: Session, run: Run, patches: Patches): Float64Array | undefined {
  const level = run.table.columns.get('level');
  const read = level && driveReader(level, signalFormat(session, run), session.text(run.signal, 'range'));
  if (!level || !read) return undefined;
  return Float64Array.from(patches.first, (row) => read(run.table.rows[row]!.values[level.cell]!));
}

/**
 * Gives a target its scale: white from the target's own luminance, else from the run, else from the one greyscale of the same mode and
 * signal; black from the run, else from that greyscale.
 */
export function judge(session: Session, run: Run, own: OwnScale): Judged | Absent {
  const target = targetOf(session, run.target);
  if ('ok' in target) return target;
  // PQ is absolute: its luminances take no scale.
  if (target.curve.kind === 'pq') {
    return { target, scale: { Lw: target.luminance ?? own.white?.Y ?? 10000, Lb: 0 }, against: describeTarget(target) };
  }
  const wantsWhite = target.luminance === undefined && !own.white;
  const wantsBlack = needsBlack(target.curve) && !own.black;
  const others = wantsWhite || wantsBlack ? greyscalesLike(session, run) : [];
  const borrowed = others.length === 1 ? greyScaleOf(session, others[0]!) : {};
  const from = others[0]?.id ?? '';

  let Lw = target.luminance;
  let whiteFrom = `stated by ${target.id}`;
  if (Lw === undefined && own.white) [Lw, whiteFrom] = [own.white.Y, `read in ${run.id}`];
  if (Lw === undefined && borrowed.white) [Lw, whiteFrom] = [borrowed.white.Y, `read in ${from}`];
  if (Lw === undefined || !(Lw > 0)) {
    return others.length > 1
      ? without('white-ambiguous', { count: others.length })
      : without('no-white', { where: from ? `neither ${run.id} nor ${from}` : run.id });
  }

  const black = own.black ?? borrowed.black;
  const against: Against = { ...describeTarget(target), whiteLuminance: Lw, whiteFrom };
  if (!needsBlack(target.curve)) return { target, scale: { Lw, Lb: 0 }, against };
  if (!black) return without('no-black');
  const below = black.seen === Seen.Below;
  const said = below ? `black below ${black.Y} cd/m²` : `black ${Number(black.Y.toPrecision(3))} cd/m²`;
  const scale = { Lw, Lb: below ? 0 : black.Y };
  const judged = { target, scale, against: { ...against, black: `${said} (read in ${own.black ? run.id : from})` } };
  return below ? { ...judged, floorScale: { Lw, Lb: black.Y } } : judged;
}

/** The other greyscale runs of the same mode and signal. */
const greyscalesLike = (session: Session, run: Run): readonly Run[] =>
  session.runs.filter((other) => other !== run && other.kind === 'greyscale' && other.mode === run.mode && other.signal === run.signal);
