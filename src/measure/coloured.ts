import type { Vec3 } from '../colour/vector';
import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import { type Coloured, differenceRows, isSdrOnly, partRows, summedDifferences } from './colours';
import { HUES, hueChromaticity } from './hues';
import type { Absent, Kernel, Rows } from './kernel';
import { fromSame } from './lately';
import { type Patches, Seen, signalFormat, signalsOf } from './readings';
import { readPatches } from './readPatches';
import { isBlack, isWhite, judge, type OwnScale, readingWhere } from './scaling';
import {
  type Channels,
  coloursXyz,
  colourXyz,
  curveName,
  isHdr,
  lightOf,
  type Scale,
  saturationSignal,
  sentSignal,
  type Target,
} from './target';
import { without } from './value';

interface Sent {
  /** By patch; NaN in them leaves the patch without a target. */
  readonly signals: (target: Target) => Channels;
  readonly own: OwnScale;
  /** Patches that are there for the scale: white and black of a saturation run, black of any. */
  readonly isScale: (patch: number) => boolean;
}

/** What a run of colours is computed from, once it is known what each patch was sent as. */
function prepareColours(session: Session, run: Run, patches: Patches, keys: readonly string[], sent: Sent): Coloured | Absent {
  const judged = judge(session, run, sent.own);
  if ('ok' in judged) return judged;
  const { target } = judged;
  const counts = (i: number) => !patches.revisit[i] && !sent.isScale(i);
  const signals = sent.signals(target);
  const targetAt = (scale: Scale) => {
    const [R, G, B] = signals;
    const light = lightOf(target, scale, patches.count);
    return (i: number) => colourXyz(target, [R[i]!, G[i]!, B[i]!], scale, light);
  };
  const at = (scale: Scale): Coloured => ({
    session,
    run,
    patches,
    keys,
    judged: { ...judged, scale },
    ...targetColours(target, scale, signals),
    targetAt,
    counts,
  });
  return judged.floorScale ? { ...at(judged.scale), atFloor: at(judged.floorScale) } : at(judged.scale);
}

function targetColours(target: Target, scale: Scale, signals: Channels): Pick<Coloured, 'targetX' | 'targetY' | 'targetZ'> {
  const { space, curve, white } = target;
  return fromSame(`target ${space.id} ${JSON.stringify(curve)} ${white} ${scale.Lw} ${scale.Lb}`, signals, () => {
    const [targetX, targetY, targetZ] = coloursXyz(target, signals, scale);
    return { targetX, targetY, targetZ };
  });
}

const NO_SIGNAL: Vec3 = [Number.NaN, Number.NaN, Number.NaN];

function prepareSaturation(session: Session, run: Run): Coloured | Absent {
  const { columns, rows } = run.table;
  const sat = columns.get('sat')!;
  const patches = readPatches(session, run, ['hue', 'sat']);
  const format = signalFormat(session, run);
  const stimulus = sentSignal(session.number(run.block, 'stimulus') ?? 100, undefined);
  const isScale = (i: number) => hueAt(run, patches, i) === 'white' || hueAt(run, patches, i) === 'black';
  const own = {
    white: readingWhere(patches, (i) => hueAt(run, patches, i) === 'white'),
    black: readingWhere(patches, (i) => hueAt(run, patches, i) === 'black'),
  };
  const sent = (V: number) => sentSignal(100 * V, format);
  const signalOf = (i: number, target: Target): Vec3 => {
    const name = hueAt(run, patches, i);
    // A row of the hue "white" is full-drive white, whatever the stimulus of the others: it gives the run its scale.
    if (name === 'white') return [1, 1, 1];
    if (name === 'black') return [0, 0, 0];
    const xy = hueChromaticity(target, name);
    if (!xy) return NO_SIGNAL;
    const [r, g, b] = saturationSignal(target, xy, rows[patches.first[i]!]!.values[sat.cell]! / 100, stimulus);
    return [sent(r), sent(g), sent(b)];
  };
  const signals = (target: Target): Channels => {
    const all = Array.from(patches.first, (_, i) => signalOf(i, target));
    const channel = (k: 0 | 1 | 2) => Float64Array.from(all, (signal) => signal[k]);
    return [channel(0), channel(1), channel(2)];
  };
  return prepareColours(session, run, patches, ['hue', 'sat'], { signals, own, isScale });
}

function hueAt({ table }: Run, patches: Patches, patch: number): string {
  return cellWord(table.rows[patches.first[patch]!]!, table.columns.get('hue')!.cell);
}

/** The mean of a row figure over the rows of each patch's hue. */
function byHue(c: Coloured, rows: Rows, id: string): Float64Array {
  const list = rows(id);
  const hues = Array.from(list, (_, i) => hueAt(c.run, c.patches, i));
  const sums = new Map<string, { sum: number; n: number }>();
  hues.forEach((hue, i) => {
    if (!c.counts(i) || Number.isNaN(list[i]!)) return;
    const found = sums.get(hue) ?? { sum: 0, n: 0 };
    sums.set(hue, { sum: found.sum + list[i]!, n: found.n + 1 });
  });
  return Float64Array.from(hues, (hue) => {
    const found = sums.get(hue);
    return found ? found.sum / found.n : Number.NaN;
  });
}

/** CIELAB and CIELUV are not used on an absolute scale; a patch whose drive could not be read has no target. */
function whyColour(c: Coloured, id: string, patch: number, key: string): Absent | undefined {
  const { curve } = c.judged.target;
  if (isHdr(curve) && isSdrOnly(id)) return without('wrong-curve', { expected: 'SDR', found: curveName(curve) });
  if (Number.isNaN(c.targetY[patch]!)) return without('row-open', { key });
  const isColour = c.patches.seen[patch] === Seen.Measured && !Number.isNaN(c.patches.X[patch]!);
  return id === 'delta.h.angle' && isColour ? without('row-neutral') : undefined;
}

export const saturation: Kernel<'saturation', Coloured> = {
  prepare: prepareSaturation,
  rows: {
    ...differenceRows,
    ...partRows,
    'hue.de': (c, rows) => byHue(c, rows, 'de'),
    'hue.delta.l': (c, rows) => byHue(c, rows, 'delta.l'),
    'hue.delta.c': (c, rows) => byHue(c, rows, 'delta.c'),
    'hue.delta.h': (c, rows) => byHue(c, rows, 'delta.h'),
  },
  run: summedDifferences,
  why: (c, id, patch, key) => {
    const hue = hueAt(c.run, c.patches, patch);
    if (hue !== 'white' && hue !== 'black' && !HUES.includes(hue)) return without('row-hue', { hue, hues: HUES.join(', ') });
    return whyColour(c, id, patch, key);
  },
};

/** Reads the three drives of a patch as signals. */
function preparePatches(session: Session, run: Run): Coloured | Absent {
  const { columns } = run.table;
  const patches = readPatches(session, run, ['patch', 'R', 'G', 'B']);
  const [R, G, B] = ['R', 'G', 'B'].map((name) => signalsOf(session, run, patches, columns.get(name)!));
  if (!R || !G || !B) return without('signal-range');
  const signals = [R, G, B] as const;
  const end = fromSame('ends of the scale', signals, () => {
    const list = new Uint8Array(patches.count);
    for (let i = 0; i < list.length; i++) list[i] = endOfScale(R[i]!, G[i]!, B[i]!);
    return list;
  });
  const isScale = (i: number) => end[i] === End.Black;
  const own = { white: readingWhere(patches, (i) => end[i] === End.White), black: readingWhere(patches, isScale) };
  return prepareColours(session, run, patches, columns.has('patch') ? ['patch'] : ['R', 'G', 'B'], {
    signals: () => signals,
    own,
    isScale,
  });
}

/** Whether a patch is full-drive white, black, or a colour between them. */
enum End {
  Neither,
  White,
  Black,
}

const endOfScale = (r: number, g: number, b: number): End =>
  isWhite(r) && isWhite(g) && isWhite(b) ? End.White : isBlack(r) && isBlack(g) && isBlack(b) ? End.Black : End.Neither;

export const patches: Kernel<'patches', Coloured> = {
  prepare: preparePatches,
  rows: { ...differenceRows, ...partRows },
  run: summedDifferences,
  why: whyColour,
};
