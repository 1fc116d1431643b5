import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import { byPatch } from './colours';
import type { Absent, Context, Kernel } from './kernel';
import { readPatches, Seen } from './readings';
import { readingWhere, type SingleReading } from './scaling';
import { figure, type Value, without } from './value';

interface Windows extends Context {
  /** Window sizes, % of the area, by patch. */
  readonly sizes: Float64Array;
}

export const window: Kernel<'window', Windows> = {
  prepare: (session: Session, run: Run): Windows | Absent => {
    const size = run.table.columns.get('window');
    if (!size) return without('no-table');
    const patches = readPatches(run, ['window'], session.text(run.block, 'repeat') === 'all');
    const sizes = Float64Array.from(patches.first, (row) => run.table.rows[row]!.values[size.cell]!);
    return { session, run, patches, keys: ['window'], sizes };
  },
  rows: { peak: (c) => byPatch(c, (i) => c.patches.Y[i]!) },
  run: {
    peak: (_, rows) => {
      const most = largest(rows('peak'));
      return most > 0 ? figure(most) : without('no-rows');
    },
    full,
    'full.share': (c, rows) => {
      const whole = full(c);
      return whole.ok ? figure(whole.v / largest(rows('peak'))) : whole;
    },
  },
};

const largest = (list: Float64Array): number => list.reduce((most, Y) => (Y > most ? Y : most), Number.NEGATIVE_INFINITY);

function full(c: Windows): Value {
  const reading = readingWhere(c.patches, (i) => c.sizes[i] === 100);
  return reading?.seen === Seen.Measured ? figure(reading.Y) : without('no-row', { key: '100', neighbours: '' });
}

interface Contrast extends Context {
  readonly reading: (patch: string) => SingleReading | undefined;
}

const luminanceOf = (c: Contrast, patch: string): Value => {
  const reading = c.reading(patch);
  if (!reading) return without('no-patch', { patch });
  return reading.seen === Seen.Below ? { ok: true, v: reading.Y, bound: 'at-most' } : figure(reading.Y);
};

/** White over black. Over a black that could not be seen, "at least": rounded down, so that what is said is never more than was seen. */
function ratio(c: Contrast, light: string, dark: string): Value {
  const white = c.reading(light);
  const black = c.reading(dark);
  if (!white || white.seen !== Seen.Measured) return without('no-patch', { patch: light });
  if (!black || !(black.Y > 0)) return without('no-patch', { patch: dark });
  const v = white.Y / black.Y;
  return black.seen === Seen.Below ? { ok: true, v: Math.floor(v), bound: 'at-least' } : figure(v);
}

export const contrast: Kernel<'contrast', Contrast> = {
  prepare: (session: Session, run: Run): Contrast | Absent => {
    const patch = run.table.columns.get('patch');
    if (!patch) return without('no-table');
    const patches = readPatches(run, ['patch'], session.text(run.block, 'repeat') === 'all');
    const reading = (name: string) => readingWhere(patches, (i) => cellWord(run.table.rows[patches.first[i]!]!, patch.cell) === name);
    return { session, run, patches, keys: ['patch'], reading };
  },
  rows: {},
  run: {
    white: (c) => luminanceOf(c, 'white'),
    black: (c) => luminanceOf(c, 'black'),
    sequential: (c) => ratio(c, 'white', 'black'),
    checkerboard: (c) => ratio(c, 'checker-white', 'checker-black'),
  },
};
