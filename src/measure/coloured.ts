import type { Vec3 } from '../colour/vector';
import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import { type Coloured, differenceRows, partRows, summedDifferences } from './colours';
import { hueChromaticity } from './hues';
import type { Absent, Kernel, Rows } from './kernel';
import { driveReader, type Patches, readPatches, signalFormat } from './readings';
import { judge, type OwnScale, readingWhere } from './scaling';
import { colourXyz, saturationSignal, sentSignal, type Target } from './target';
import { without } from './value';

/** The signal of a patch; NaN in it leaves the patch without a target. */
type SignalOf = (patch: number, target: Target) => Vec3;

/** What a run of colours is computed from, once it is known what each patch was sent as. */
function prepareColours(
  session: Session,
  run: Run,
  patches: Patches,
  keys: readonly string[],
  own: OwnScale,
  signalOf: SignalOf,
): Coloured | Absent {
  const judged = judge(session, run, own);
  if ('ok' in judged) return judged;
  const at = (scale: Coloured['judged']['scale']): Coloured => {
    const [targetX, targetY, targetZ] = [0, 1, 2].map(() => new Float64Array(patches.count)) as [Float64Array, Float64Array, Float64Array];
    for (let i = 0; i < patches.count; i++) {
      const xyz = colourXyz(judged.target, signalOf(i, judged.target), scale);
      targetX[i] = xyz[0];
      targetY[i] = xyz[1];
      targetZ[i] = xyz[2];
    }
    return { session, run, patches, keys, judged: { ...judged, scale }, targetX, targetY, targetZ, counts: (i) => !patches.revisit[i] };
  };
  return judged.floorScale ? { ...at(judged.scale), atFloor: at(judged.floorScale) } : at(judged.scale);
}

function prepareSaturation(session: Session, run: Run): Coloured | Absent {
  const { columns, rows } = run.table;
  const hue = columns.get('hue');
  const sat = columns.get('sat');
  if (!hue || !sat) return without('no-table');
  const patches = readPatches(run, ['hue', 'sat'], session.text(run.block, 'repeat') === 'all');
  const format = signalFormat(session, run);
  const stimulus = (session.number(run.block, 'stimulus') ?? 100) / 100;
  const hueOf = (i: number) => cellWord(rows[patches.first[i]!]!, hue.cell);
  // A row of the hue "white" is full-drive white, whatever the stimulus of the others: it gives the run its scale.
  const own = { white: readingWhere(patches, (i) => hueOf(i) === 'white'), black: readingWhere(patches, (i) => hueOf(i) === 'black') };
  const sent = (signal: Vec3): Vec3 => (format ? (signal.map((v) => sentSignal(100 * v, format)) as unknown as Vec3) : signal);
  const c = prepareColours(session, run, patches, ['hue', 'sat'], own, (i, target) => {
    const name = hueOf(i);
    if (name === 'white') return [1, 1, 1];
    if (name === 'black') return [0, 0, 0];
    const xy = hueChromaticity(target, name);
    return xy
      ? sent(saturationSignal(target, xy, rows[patches.first[i]!]!.values[sat.cell]! / 100, stimulus))
      : [Number.NaN, Number.NaN, Number.NaN];
  });
  if ('ok' in c) return c;
  const counts = (i: number) => c.counts(i) && hueOf(i) !== 'white' && hueOf(i) !== 'black';
  return { ...c, counts, ...(c.atFloor ? { atFloor: { ...c.atFloor, counts } as Coloured } : {}) };
}

/** The mean of a row figure over the rows of each patch's hue. */
function byHue(c: Coloured, rows: Rows, id: string): Float64Array {
  const list = rows(id);
  const cell = c.run.table.columns.get('hue')!.cell;
  const sums = new Map<string, { sum: number; n: number }>();
  const hues = Array.from(c.patches.first, (row) => cellWord(c.run.table.rows[row]!, cell));
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
};

/** Reads the three drives of a patch as signals. */
function preparePatches(session: Session, run: Run): Coloured | Absent {
  const { columns, rows } = run.table;
  const drives = ['R', 'G', 'B'].map((name) => columns.get(name));
  if (drives.some((column) => !column)) return without('no-table');
  const format = signalFormat(session, run);
  const range = session.text(run.signal, 'range');
  const readers = drives.map((column) => driveReader(column!, format, range));
  if (readers.some((reader) => !reader)) return without('signal-range');
  const named = columns.has('patch');
  const patches = readPatches(run, ['patch', 'R', 'G', 'B'], session.text(run.block, 'repeat') === 'all');
  const signal = (i: number): Vec3 => {
    const row = rows[patches.first[i]!]!;
    return [
      readers[0]!(row.values[drives[0]!.cell]!),
      readers[1]!(row.values[drives[1]!.cell]!),
      readers[2]!(row.values[drives[2]!.cell]!),
    ];
  };
  const all = (i: number, level: number) => signal(i).every((v) => Math.abs(v - level) < 1e-6);
  const own = { white: readingWhere(patches, (i) => all(i, 1)), black: readingWhere(patches, (i) => all(i, 0)) };
  const c = prepareColours(session, run, patches, named ? ['patch'] : ['R', 'G', 'B'], own, signal);
  if ('ok' in c) return c;
  const counts = (i: number) => c.counts(i) && !all(i, 0);
  return { ...c, counts, ...(c.atFloor ? { atFloor: { ...c.atFloor, counts } as Coloured } : {}) };
}

export const patches: Kernel<'patches', Coloured> = {
  prepare: preparePatches,
  rows: { ...differenceRows, ...partRows },
  run: summedDifferences,
};
