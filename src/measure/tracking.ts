import { clip, highlight, REFERENCE_WHITE } from '../algorithms/clip';
import { type EetfFit, fitEetf } from '../algorithms/eetfFit';
import { describeHighlights, describeMetadata } from '../algorithms/highlights';
import { type MasteredRun, type MetadataTest, metadataTest } from '../algorithms/metadata';
import type { Result } from '../algorithms/result';
import { deviationStops, followed, knee, overallGain, type Tracking } from '../algorithms/tracking';
import { xyzToXy } from '../colour/chromaticity';
import { deltaUv } from '../colour/difference';
import { pqEotf, pqInverse } from '../colour/pq';
import type { Run, Session } from '../session/session';
import { allOf } from '../text/message';
import { average, byPatch, type Coloured, differenceRows, largest, xyzAt } from './colours';
import type { Levels } from './greyscale';
import type { Absent, Kernel } from './kernel';
import { peak } from './luminances';
import { type Patches, Seen } from './readings';
import { readPatches } from './readPatches';
import { once } from './remember';
import { describeTarget, greySignals, judge, scaleIn } from './scaling';
import { luminanceSpread, type Spread, spreadOf } from './spread';
import { curveName, isHdr, lightOf, targetOf, whiteXyz } from './target';
import { figure, figureOf, type Value, without } from './value';

/** A tracking run. Its targets stop at the knee: above it a roll-off is no error, and there is nothing to be held against. */
export interface Tracked extends Coloured, Levels {
  /** What the curve asks for at every level, above the knee too, cd/m². */
  readonly asked: Float64Array;
  readonly readings: Tracking;
  /** The other runs that differ in nothing but the mastering peak, this one among them. */
  readonly siblings: readonly Run[];
}

export const isTracked = (context: object): context is Tracked => 'asked' in context;

/** Relative standard uncertainty of the mean of a patch's readings. */
const uncertaintyOf = (spread: Spread, { Y, times }: Patches, i: number): number =>
  luminanceSpread(spread, Y[i]!) / Y[i]! / Math.sqrt(Math.max(times[i]!, 1));

function prepare(session: Session, run: Run): Tracked | Absent {
  const target = targetOf(session, run.target);
  if ('ok' in target) return target;
  if (!isHdr(target.curve)) return without('wrong-curve', { expected: allOf(['PQ', 'HLG']), found: curveName(target.curve) });
  const patches = readPatches(session, run, ['level']);
  const signals = greySignals(session, run, patches);
  if (!signals) return without('signal-range');
  const scaled = judge(session, run, scaleIn(patches, signals));
  if ('ok' in scaled) return scaled;
  // PQ is absolute: no figure of these hangs on a white.
  const judged = target.curve.kind === 'pq' ? { ...scaled, against: describeTarget(target) } : scaled;
  const light = lightOf(judged.target, judged.scale, patches.count);
  const asked = signals.map(light);
  const readings: Tracking = { ...readingsOf(session, run, patches, signals), curve: light };
  const end = knee(readings);
  const top = end.ok && end.v.found ? end.v.signal : Number.POSITIVE_INFINITY;
  const upToKnee = asked.map((Y, i) => (signals[i]! > top ? Number.NaN : Y));
  const darkest = 10 * floorOf(session, run);
  const [X, , Z] = whiteXyz(judged.target, 1);
  return {
    session,
    run,
    patches,
    keys: ['level'],
    judged,
    signals,
    asked,
    readings,
    siblings: siblingsOf(session, run),
    targetX: upToKnee.map((Y) => X * Y),
    targetY: upToKnee,
    targetZ: upToKnee.map((Y) => Z * Y),
    targetAt: (scale) => {
      const other = lightOf(judged.target, scale, patches.count);
      return (i) => whiteXyz(judged.target, signals[i]! > top ? Number.NaN : other(signals[i]!));
    },
    counts: (i) => !patches.revisit[i] && asked[i]! > 0 && asked[i]! >= darkest && signals[i]! <= top,
  };
}

const floorOf = (session: Session, { meter }: Run): number => session.number(meter, 'floor') ?? 0;

/** What takes part: the first reading of each level that the meter could see the whole of. */
function readingsOf(session: Session, run: Run, patches: Patches, signals: Float64Array): Omit<Tracking, 'curve'> {
  const spread = spreadOf(session, run);
  const luminance = patches.Y.map((Y, i) => (patches.seen[i] === Seen.Measured && !patches.revisit[i] ? Y : Number.NaN));
  return { signals, luminance, u: luminance.map((_, i) => uncertaintyOf(spread, patches, i)) };
}

/** What may differ between signals that differ in their mastering metadata alone. */
const METADATA = new Set(['mastering-peak', 'max-cll', 'max-fall', 'note']);

/** Tracking runs of one mode, target and meter whose signals differ in metadata alone, each with a mastering peak; of equal peaks the first. */
function siblingsOf(session: Session, run: Run): readonly Run[] {
  const masteringOf = (of: Run) => session.number(of.signal, 'mastering-peak');
  const settingsOf = ({ signal }: Run): string =>
    signal
      ? [...session.properties(signal)]
          .filter(([name]) => !METADATA.has(name))
          .map(([name, { line }]) => `${name}\n${'text' in line.value ? line.value.text : line.value.is}`)
          .sort()
          .join('\n')
      : '';
  const own = settingsOf(run);
  const peaks = new Set([masteringOf(run)]);
  const others = session.runs.filter((other) => {
    const isAlike =
      other !== run &&
      other.kind === 'tracking' &&
      other.mode === run.mode &&
      other.target === run.target &&
      other.meter === run.meter &&
      !peaks.has(masteringOf(other)) &&
      settingsOf(other) === own;
    if (isAlike) peaks.add(masteringOf(other));
    return isAlike && masteringOf(other) !== undefined;
  });
  return masteringOf(run) === undefined || others.length === 0 ? [] : [run, ...others];
}

/** How near to 203 cd/m² the level is that was sent for it: half a per cent of signal. */
const NEAR_WHITE = 0.005;

/** The repeated patch of HDR reference white, all its readings together: what warming and fading between runs is taken out by. */
function anchorOf(session: Session, run: Run, { signals }: Tracking): MasteredRun['anchor'] {
  const patches = readPatches(session, run, ['level']);
  const near = (i: number) => Math.abs(signals[i]! - pqInverse(REFERENCE_WHITE)) <= NEAR_WHITE;
  let first = -1;
  let [sum, n] = [0, 0];
  for (let i = 0; i < patches.count; i++) {
    if (!near(i) || patches.seen[i] !== Seen.Measured || (first >= 0 && patches.firstOfKey[i] !== first)) continue;
    if (first < 0) first = patches.firstOfKey[i]!;
    sum += patches.Y[i]! * patches.times[i]!;
    n += patches.times[i]!;
  }
  if (n < 2) return undefined;
  const luminance = sum / n;
  return { luminance, u: luminanceSpread(spreadOf(session, run), luminance) / luminance / Math.sqrt(n) };
}

const metadataOf = once(({ session, run, siblings, judged }: Tracked): Result<MetadataTest> => {
  const notPq = needsPq(judged.target.curve);
  if (notPq) return notPq;
  if (session.number(run.signal, 'mastering-peak') === undefined) return without('no-mastering');
  if (siblings.length === 0) return without('no-sibling');
  if (!spreadOf(session, run).stated) return without('no-spread');
  const mastered: MasteredRun[] = [];
  for (const sibling of siblings) {
    if (!sibling.block.columns || !sibling.table.columns.has('level')) continue;
    const patches = readPatches(session, sibling, ['level']);
    const signals = greySignals(session, sibling, patches);
    if (!signals) continue;
    const readings = readingsOf(session, sibling, patches, signals);
    const anchor = anchorOf(session, sibling, readings);
    mastered.push({ ...readings, mastering: session.number(sibling.signal, 'mastering-peak')!, ...(anchor && { anchor }) });
  }
  const switches = session.value(run.mode, '.automatic');
  const isDynamic = switches?.is === 'switches' && switches.list.some(({ name, on }) => on && name === 'dynamic tone mapping');
  return mastered.length < 2 ? without('no-sibling') : metadataTest(mastered, isDynamic);
});

type CurveOf = Tracked['judged']['target']['curve'];

const needsPq = (curve: CurveOf): Absent | undefined =>
  curve.kind === 'pq' ? undefined : without('wrong-curve', { expected: 'PQ', found: curveName(curve) });

const masteringOf = ({ session, run }: Tracked): number | undefined => session.number(run.signal, 'mastering-peak');

/** A level as it is written in a column of per cent, else the signal as sent. */
function levelOf({ run, patches, signals }: Tracked, patch: number): number {
  const level = run.table.columns.get('level')!;
  return level.bits === undefined ? run.table.rows[patches.first[patch]!]!.values[level.cell]! : 100 * signals[patch]!;
}

const clipOf = once((c: Tracked) => clip(c.readings, c.patches.times));

function clipLevel(c: Tracked): Value {
  const found = clipOf(c);
  if (!found.ok) return found;
  if (found.v.found) return figure(levelOf(c, found.v.row));
  return without(found.v.falls ? 'clip-falls' : 'clip-none', { level: 100 * found.v.upTo });
}

function kept(c: Tracked): Value {
  const notPq = needsPq(c.judged.target.curve);
  if (notPq) return notPq;
  const mastering = masteringOf(c);
  if (mastering === undefined) return without('no-mastering');
  const found = clipOf(c);
  if (!found.ok) return found;
  const { v } = found;
  if (!v.found && v.falls) return without('clip-falls', { level: 100 * v.upTo });
  const share = highlight(v.found ? v.signal : v.upTo, mastering);
  if (!share.ok) return share;
  const isWhole = v.found || pqEotf(v.upTo) >= mastering;
  return isWhole ? figure(share.v) : { ok: true, v: share.v, bound: 'at-least' };
}

const fitOf = once((c: Tracked) => fitEetf(c.readings));

const fitted = (c: Tracked, of: (fit: EetfFit) => number): Value => needsPq(c.judged.target.curve) ?? figureOf(fitOf(c), of);

function kneeAt(c: Tracked, of: (found: { readonly signal: number; readonly luminance: number }) => number): Value {
  const found = knee(c.readings);
  if (!found.ok) return found;
  return found.v.found ? figure(of(found.v)) : without('no-roll-off', { level: 100 * found.v.upTo });
}

export const tracking: Kernel<'tracking', Tracked> = {
  prepare,
  rows: {
    stops: (c) => deviationStops(c.readings),
    'de.itp': differenceRows['de.itp'],
    // The target of a grey is the target white at any level, above the knee too.
    'delta.uv': (c) => byPatch(c, (i) => deltaUv(xyzToXy(xyzAt(c, i)), c.judged.target.white)),
    target: (c) => c.asked.slice(),
  },
  run: {
    'stops.avg': (c) => figureOf(followed(c.readings, floorOf(c.session, c.run)), ({ average }) => average),
    bias: (c) => figureOf(followed(c.readings, floorOf(c.session, c.run)), ({ bias }) => bias),
    gain: (c) => figureOf(overallGain(c.readings), (stops) => stops),
    'de.itp.avg': (c, rows) => average(c, rows, 'de.itp'),
    'de.itp.max': (c, rows) => largest(c, rows, 'de.itp'),
    peak,
    knee: (c) => kneeAt(c, ({ luminance }) => luminance),
    'knee.level': (c) => kneeAt(c, ({ signal }) => 100 * signal),
    clip: clipLevel,
    'clip.peak': (c) => {
      const found = clipOf(c);
      return found.ok && !found.v.found ? clipLevel(c) : figureOf(found, (v) => v.peak);
    },
    highlight: kept,
    'eetf.knee': (c) => fitted(c, ({ kneeStart }) => kneeStart.luminance),
    'eetf.knee.level': (c) => fitted(c, ({ kneeStart }) => 100 * kneeStart.signal),
    'eetf.peak': (c) => fitted(c, ({ peak }) => peak),
    'eetf.from': (c) => fitted(c, ({ from }) => from),
    'eetf.rms': (c) => fitted(c, ({ rms }) => rms),
    metadata: (c) => figureOf(metadataOf(c), ({ difference }) => difference),
    'metadata.threshold': (c) => figureOf(metadataOf(c), ({ threshold }) => threshold),
  },
  why: (c, id, patch, key) => {
    if (Number.isNaN(c.signals[patch]!)) return without('row-open', { key });
    if (c.patches.seen[patch] !== Seen.Measured) return undefined;
    if (id === 'stops') return c.asked[patch]! > 0 ? without('row-open', { key }) : without('row-zero');
    return id !== 'delta.uv' && Number.isNaN(c.targetY[patch]!) ? without('above-knee', { key }) : undefined;
  },
  says: (c) => {
    const end = knee(c.readings);
    if (!end.ok) return [];
    const isPq = c.judged.target.curve.kind === 'pq';
    const fit = isPq ? fitOf(c) : undefined;
    const plateau = clipOf(c);
    const mastering = isPq ? masteringOf(c) : undefined;
    const highlights = describeHighlights({
      knee: end.v,
      ...(fit?.ok && { fit: fit.v }),
      ...(plateau.ok && { clip: plateau.v }),
      ...(mastering !== undefined && { mastering }),
    });
    // Of runs that are compared with each other the first speaks for all.
    const first = c.session.runs.find((run) => c.siblings.includes(run) && run.table.columns.has('level'));
    const test = first === c.run ? metadataOf(c) : undefined;
    return test?.ok ? [...highlights, describeMetadata(test.v)] : highlights;
  },
};
