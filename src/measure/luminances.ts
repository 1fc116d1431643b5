import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import { byPatch } from './colours';
import type { Context, Kernel } from './kernel';
import { Seen } from './readings';
import { readPatches } from './readPatches';
import { boundOf, luminanceOf, readingWhere } from './scaling';
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

/** The largest luminance, of readings that are not there for the drift; "at least" where the meter could not see the whole of one. */
export function peak({ patches }: Pick<Context, 'patches'>): Value {
  let most = 0;
  let isOver = false;
  for (let i = 0; i < patches.count; i++) {
    if (patches.seen[i] === Seen.Below || patches.revisit[i] || !(patches.Y[i]! > 0)) continue;
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
  readonly nameOf: (patch: number) => string;
}

const readingOf = (c: Contrast, name: string): Value =>
  luminanceOf(
    readingWhere(c.patches, (i) => c.nameOf(i) === name),
    name,
  );

/**
 * The mean of the fields of a checkerboard: rows of one name are other places of one picture, wherever they stand. Where the meter could
 * not see the whole of one, the mean is a bound; where fields are bounds either way, it is nothing.
 */
function fieldsOf({ patches, nameOf }: Contrast, name: string): Value {
  let [sum, times] = [0, 0];
  const bounds = new Set<'at-most' | 'at-least'>();
  for (let i = 0; i < patches.count; i++) {
    if (patches.seen[i] === Seen.None || nameOf(i) !== name) continue;
    sum += patches.times[i]! * patches.Y[i]!;
    times += patches.times[i]!;
    const bound = boundOf(patches.seen[i]!);
    if (bound) bounds.add(bound);
  }
  if (times === 0) return without('no-patch', { patch: name });
  if (bounds.size > 1) return without('no-rows');
  const [bound] = bounds;
  return { ok: true, v: sum / times, ...(bound && { bound }) };
}

/** What a contrast run says of a white or black: the mean of the fields of a checkerboard, else the reading. */
export const contrastLuminance = (c: Context, name: string): Value =>
  name.startsWith(FIELD) ? fieldsOf(c as Contrast, name) : readingOf(c as Contrast, name);

/** How the names of the fields of a checkerboard start. */
export const FIELD = 'checker-';

/** White over black. Over a black that could not be seen, "at least": rounded down, so that what is said is never more than was seen. */
function contrastOf(white: Value, black: Value): Value {
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
    const nameOf = (i: number) => cellWord(run.table.rows[patches.first[i]!]!, cell);
    return { session, run, patches, keys: ['patch'], nameOf };
  },
  rows: {},
  run: {
    white: (c) => contrastLuminance(c, 'white'),
    black: (c) => contrastLuminance(c, 'black'),
    sequential: (c) => contrastOf(contrastLuminance(c, 'white'), contrastLuminance(c, 'black')),
    checkerboard: (c) => contrastOf(contrastLuminance(c, 'checker-white'), contrastLuminance(c, 'checker-black')),
  },
};
