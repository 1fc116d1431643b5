import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import { byPatch } from './colours';
import type { Context, Kernel } from './kernel';
import { Seen } from './readings';
import { readPatches } from './readPatches';
import { luminanceOf, readingWhere, type SingleReading } from './scaling';
import { figure, ratio, type Value, without } from './value';

interface Windows extends Context {
  /** Window sizes, % of the area, by patch. */
  readonly sizes: Float64Array;
}

export const window: Kernel<'window', Windows> = {
  prepare: (session: Session, run: Run): Windows => {
    const { cell } = run.table.columns.get('window')!;
    const patches = readPatches(session, run, ['window']);
    const sizes = Float64Array.from(patches.first, (row) => run.table.rows[row]!.values[cell]!);
    return { session, run, patches, keys: ['window'], sizes };
  },
  rows: { peak: (c) => byPatch(c, (i) => c.patches.Y[i]!) },
  luminances: ['peak'],
  run: {
    peak,
    full,
    'full.share': (c) => {
      const whole = full(c);
      const most = peak(c);
      if (!whole.ok) return whole;
      return (most.ok && ratio(whole, most)) || without('no-rows');
    },
  },
};

/** The largest luminance; "at least" where the meter could not see the whole of one. */
export function peak({ patches }: Pick<Context, 'patches'>): Value {
  let most = 0;
  let isOver = false;
  for (let i = 0; i < patches.count; i++) {
    if (patches.seen[i] === Seen.Below || !(patches.Y[i]! > 0)) continue;
    most = Math.max(most, patches.Y[i]!);
    isOver ||= patches.seen[i] === Seen.Above;
  }
  if (most === 0) return without('no-rows');
  return isOver ? { ok: true, v: most, bound: 'at-least' } : figure(most);
}

function full(c: Windows): Value {
  const reading = readingWhere(c.patches, (i) => c.sizes[i] === 100);
  return reading ? luminanceOf(reading, '100 %') : without('no-row', { key: '100', neighbours: '' });
}

interface Contrast extends Context {
  readonly reading: (patch: string) => SingleReading | undefined;
}

/** White over black. Over a black that could not be seen, "at least": rounded down, so that what is said is never more than was seen. */
function contrastOf(c: Contrast, light: string, dark: string): Value {
  const white = luminanceOf(c.reading(light), light);
  const black = luminanceOf(c.reading(dark), dark);
  if (!white.ok) return white;
  if (!black.ok) return black;
  if (!(black.v > 0)) return without('black-zero');
  const value = ratio(white, black);
  if (!value?.ok) return without('no-rows');
  return value.bound === 'at-least' ? { ...value, v: Math.floor(value.v) } : value;
}

export const contrast: Kernel<'contrast', Contrast> = {
  prepare: (session: Session, run: Run): Contrast => {
    const { cell } = run.table.columns.get('patch')!;
    const patches = readPatches(session, run, ['patch']);
    const reading = (name: string) => readingWhere(patches, (i) => cellWord(run.table.rows[patches.first[i]!]!, cell) === name);
    return { session, run, patches, keys: ['patch'], reading };
  },
  rows: {},
  run: {
    white: (c) => luminanceOf(c.reading('white'), 'white'),
    black: (c) => luminanceOf(c.reading('black'), 'black'),
    sequential: (c) => contrastOf(c, 'white', 'black'),
    checkerboard: (c) => contrastOf(c, 'checker-white', 'checker-black'),
  },
};
