import { type Ambient, reflectionOf, type UnderLight, underLight } from '../algorithms/reflectance';
import type { Result } from '../algorithms/result';
import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import type { Context, Kernel } from './kernel';
import { Seen } from './readings';
import { readPatches } from './readPatches';
import { figureOf, without } from './value';

/** White and black under light from the room. */
export interface Lit extends Context {
  readonly white: Ambient;
  readonly black: Ambient;
  /** lx, by patch. */
  readonly illuminance: Float64Array;
}

function prepare(session: Session, run: Run): Lit {
  const { columns, rows } = run.table;
  const patches = readPatches(session, run, ['patch', 'illuminance']);
  const [patch, lux] = [columns.get('patch')!, columns.get('illuminance')!];
  const illuminance = Float64Array.from(patches.first, (row) => rows[row]!.values[lux.cell]! * lux.factor);
  const at = (below: (floor: number) => number): Lit => {
    const of = (name: string): Ambient => {
      const own = Array.from(illuminance, (_, i) => i).filter(
        (i) => !patches.revisit[i] && cellWord(rows[patches.first[i]!]!, patch.cell) === name,
      );
      const luminanceOf = (i: number): number =>
        patches.seen[i] === Seen.Measured ? patches.Y[i]! : patches.seen[i] === Seen.Below ? below(patches.Y[i]!) : Number.NaN;
      return { illuminance: own.map((i) => illuminance[i]!), luminance: own.map(luminanceOf) };
    };
    return { session, run, patches, keys: ['patch', 'illuminance'], white: of('white'), black: of('black'), illuminance };
  };
  // A black that could not be seen is anything from 0 to the floor.
  return patches.seen.includes(Seen.Below) ? { ...at(() => 0), atFloor: at((floor) => floor) } : at(() => 0);
}

const under = (c: Lit, patch: number): Result<UnderLight> => underLight(c.illuminance[patch]!, c.white, c.black);

/** Whether what was read at the illuminance of a row lies below the floor: a straight line tells nothing of it. */
const isUnseen = ({ illuminance, patches }: Lit, patch: number): boolean =>
  illuminance.some((lux, i) => lux === illuminance[patch] && patches.seen[i] === Seen.Below);

const rowsOf = (c: Lit, of: (found: UnderLight) => number, hangsOnAll = true): Float64Array =>
  Float64Array.from(c.illuminance, (_, i) => {
    const found = under(c, i);
    return found.ok && !(hangsOnAll && isUnseen(c, i)) ? of(found.v) : Number.NaN;
  });

export const reflectance: Kernel<'reflectance', Lit> = {
  prepare,
  rows: {
    contrast: (c) => rowsOf(c, ({ contrast }) => contrast),
    white: (c) => rowsOf(c, ({ white }) => white, false),
    black: (c) => rowsOf(c, ({ black }) => black),
  },
  run: {
    reflectance: (c) => figureOf(reflectionOf(c.black), ({ reflectance }) => 100 * reflectance),
    'reflectance.white': (c) => figureOf(reflectionOf(c.white), ({ reflectance }) => 100 * reflectance),
    'black.dark': (c) => figureOf(reflectionOf(c.black), ({ dark }) => dark),
  },
  why: (c, _, patch, key) => {
    if (Number.isNaN(c.illuminance[patch]!)) return without('row-open', { key });
    const found = under(c, patch);
    if (!found.ok) return found;
    return isUnseen(c, patch) ? without('row-unseen', { key: String(c.illuminance[patch]!) }) : undefined;
  },
};
