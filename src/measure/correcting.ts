import { CORNERS, type Correction, fourColourCorrection, type Pair } from '../algorithms/correction';
import type { Result } from '../algorithms/result';
import { xyYToXyz } from '../colour/chromaticity';
import { spectrumXy } from '../colour/spectrum';
import type { Vec3 } from '../colour/vector';
import type { Block } from '../session/block';
import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import { type Table, type TableColumn, tableOf } from '../session/table';
import { otherReadings } from './moved';
import { gatherPatches, type Patches, Seen } from './readings';
import { readSpectra } from './spectra';
import { without } from './value';

/** The correction that holds for a run. */
export interface Applied {
  readonly id: string;
  readonly correction: Correction;
  /** What a luminance without a chromaticity is multiplied by: it is taken for a white. */
  readonly whiteRatio: number;
  /** Names the numbers of the correction. */
  readonly what: string;
}

/** What a correction block says: colours by name, each as far as both meters read it, and the matrix or why there is none. */
export interface CorrectionReading {
  readonly pairs: ReadonlyMap<string, Pair>;
  readonly correction: Result<Correction>;
}

const known = new WeakMap<Session, Map<Block, CorrectionReading>>();

/** Reads a correction block: its pairs, of which the reference side may be the chromaticities of spectra, and its matrix. */
export function readCorrection(session: Session, block: Block): CorrectionReading {
  let read = known.get(session);
  if (!read) {
    read = new Map();
    known.set(session, read);
  }
  let reading = read.get(block);
  if (!reading) {
    const pairs = pairsOf(session, block);
    const rival = rivalOf(session, block);
    const correction = rival
      ? without('correction-second', { other: rival.name })
      : 'ok' in pairs
        ? pairs
        : fourColourCorrection(Object.fromEntries(CORNERS.flatMap((name) => (pairs.has(name) ? [[name, pairs.get(name)!]] : []))));
    reading = { pairs: 'ok' in pairs ? new Map() : pairs, correction };
    read.set(block, reading);
  }
  return reading;
}

/** Another correction, further up, of the same meter for the same mode: which of the two holds is not for a program to say. */
function rivalOf(session: Session, block: Block): Block | undefined {
  const all = session.all('correction');
  return all
    .slice(0, all.indexOf(block))
    .find((other) => meterOf(session, other) === meterOf(session, block) && modeOf(session, other) === modeOf(session, block));
}

function meterOf(session: Session, block: Block, which: 'meter' | 'reference' = 'meter'): Block | undefined {
  if (which === 'reference') {
    const named = session.byName.get(session.text(block, 'reference') ?? '');
    return named?.keyword === 'meter' ? named : undefined;
  }
  const found = session.resolve(block, 'meter');
  return found.is === 'found' ? found.block : undefined;
}

/** The mode a correction is for: undefined for all of them, null for one that cannot be found. */
function modeOf(session: Session, block: Block): Block | undefined | null {
  if (!session.properties(block).has('mode')) return undefined;
  const found = session.resolve(block, 'mode');
  return found.is === 'found' ? found.block : null;
}

/** The correction of the meter of a run: one for its mode before one for all. Undefined where there is none, or it is refused. */
export function correctionOf(session: Session, run: Run): Applied | undefined {
  if (!run.meter || run.kind === 'correction') return undefined;
  const ofMeter = session.all('correction').filter((block) => meterOf(session, block) === run.meter);
  const block =
    ofMeter.find((one) => run.mode !== undefined && modeOf(session, one) === run.mode) ??
    ofMeter.find((one) => modeOf(session, one) === undefined);
  if (!block) return undefined;
  const { pairs, correction } = readCorrection(session, block);
  if (!correction.ok) return undefined;
  const white = pairs.get('white')!;
  return {
    id: block.name,
    correction: correction.v,
    whiteRatio: white.reference[1] / white.instrument[1],
    what: correction.v.matrix.flat().join(),
  };
}

/** Patches of a correction table by name, as one of the meters read them: adjacent and later rows of a name are repeats. */
export const correctionSide = (table: Table, side: 'reference' | 'instrument') => {
  const prefix = side === 'reference' ? 'ref.' : '';
  const columns = new Map<string, TableColumn>();
  for (const name of ['Y', 'x', 'y']) {
    const column = table.columns.get(prefix + name);
    if (column) columns.set(name, column);
  }
  return gatherPatches(table, { keys: ['patch'], repeatAll: true, columns });
};

/** The readings of a correction, of the meter to correct and of the reference. */
export function correctionReadings(session: Session, block: Block) {
  const table = tableOf(block);
  const others = otherReadings(session);
  return (['instrument', 'reference'] as const).map((side) => {
    const meter = meterOf(session, block, side === 'instrument' ? 'meter' : 'reference');
    const patches = correctionSide(table, side);
    return { block, meter, patches: others ? others.move(block, meter, patches) : patches };
  });
}

function pairsOf(session: Session, block: Block): ReadonlyMap<string, Pair> | ReturnType<typeof without> {
  const table = tableOf(block);
  const name = table.columns.get('patch');
  if (!name) return without('no-columns', { columns: 'patch' });
  const spectra = spectraOf(session, block);
  if (spectra && 'ok' in spectra) return spectra;
  const hasReference = ['ref.x', 'ref.y'].every((column) => table.columns.has(column)) && table.columns.has('ref.Y');
  if (!hasReference && !spectra) return without('no-reference');
  const [own, other] = correctionReadings(session, block).map(({ patches }) => patches) as [Patches, Patches];
  const pairs = new Map<string, Pair>();
  for (let i = 0; i < own.count; i++) {
    const patch = cellWord(table.rows[own.first[i]!]!, name.cell);
    if (own.seen[i] !== Seen.Measured) continue;
    const instrument: Vec3 = [own.X[i]!, own.Y[i]!, own.Z[i]!];
    // Without a luminance of the reference the correction leaves luminance as it was read.
    const luminance = table.columns.has('ref.Y') ? other.Y[i]! : own.Y[i]!;
    const xy = spectra?.get(patch);
    if (spectra && !xy) continue;
    const reference: Vec3 = xy ? xyYToXyz(xy[0], xy[1], luminance) : [other.X[i]!, other.Y[i]!, other.Z[i]!];
    pairs.set(patch, { reference, instrument });
  }
  return pairs;
}

/**
 * Chromaticities by patch of the spectrum run that a correction names; undefined when it names none, and refused for what is wrong with a
 * spectrum that it needs.
 */
function spectraOf(
  session: Session,
  block: Block,
): ReadonlyMap<string, readonly [number, number]> | ReturnType<typeof without> | undefined {
  const id = session.text(block, 'spectra');
  if (id === undefined) return undefined;
  const run = session.runs.find((one) => one.id === id && one.kind === 'spectrum');
  if (!run) return without('no-spectra', { id });
  const found = new Map<string, readonly [number, number]>();
  for (const { name, wavelengths, values, wrong } of readSpectra(run)) {
    if (!wrong) found.set(name, spectrumXy(wavelengths, values));
    else if ((CORNERS as readonly string[]).includes(name)) return wrong;
  }
  return found;
}
