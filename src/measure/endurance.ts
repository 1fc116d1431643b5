import { type Endurance, halfOfDrop, overFirst, settled } from '../algorithms/endurance';
import { CellKind, cellText } from '../session/line';
import type { Run, Session } from '../session/session';
import { kindAt } from '../session/table';
import type { Absent, Context, Kernel } from './kernel';
import { type Patches, Seen } from './readings';
import { readPatches } from './readPatches';
import { luminanceSpread, spreadOf } from './spread';
import { figureOf, without } from './value';

export interface Held extends Context {
  readonly held: Endurance;
  /** Why nothing can be held against the first reading: it is still to take, or the meter could not see it. */
  readonly noFirst?: Absent;
}

export const isHeld = (context: object): context is Held => 'held' in context;

export const endurance: Kernel<'endurance', Held> = {
  prepare: (session: Session, run: Run): Held => {
    const patches = readPatches(session, run, ['t']);
    const { cell, factor } = run.table.columns.get('t')!;
    const spread = spreadOf(session, run);
    const luminance = patches.Y.map((Y, i) => (patches.seen[i] === Seen.Measured ? Y : Number.NaN));
    const held: Endurance = {
      times: Float64Array.from(patches.first, (row) => run.table.rows[row]!.values[cell]! * factor),
      luminance,
      u: luminance.map((Y, i) => luminanceSpread(spread, Y) / Y / Math.sqrt(patches.times[i]!)),
    };
    const first = luminance.findIndex((Y) => Y > 0);
    const noFirst = firstGap(run, patches, first);
    return { session, run, patches, keys: ['t'], held, pivots: first < 0 ? [] : [first], ...(noFirst && { noFirst }) };
  },
  rows: {
    after: (c) => {
      const shares = c.noFirst ?? overFirst(c.held);
      return shares.ok ? shares.v : new Float64Array(c.patches.count).fill(Number.NaN);
    },
  },
  run: {
    settled: (c) => c.noFirst ?? figureOf(settled(c.held), ({ share }) => share),
    'settled.luminance': (c) => figureOf(settled(c.held), ({ level }) => level),
    'settled.time': (c) => figureOf(settled(c.held), ({ from }) => from),
    half: (c) => c.noFirst ?? figureOf(halfOfDrop(c.held), (seconds) => seconds),
  },
  why: (c) => {
    const shares = c.noFirst ?? overFirst(c.held);
    return shares.ok ? undefined : shares;
  },
};

/**
 * What stands before the first luminance that was measured and will be the first one, or was: a reading still to take, or one below the
 * floor or over the range. Rows that are marked as not measured are none.
 */
function firstGap({ table }: Run, patches: Patches, measured: number): Absent | undefined {
  const [t, Y] = [table.columns.get('t')!, table.columns.get('Y')!];
  const end = measured < 0 ? patches.count : measured;
  for (let i = 0; i < end; i++) {
    const row = table.rows[patches.first[i]!]!;
    const key = cellText(row, t.cell);
    if (patches.seen[i] === Seen.Above || patches.seen[i] === Seen.Below) return without('row-unseen', { key });
    if (kindAt(row, Y) === CellKind.ToTake) return without('row-open', { key });
  }
  return undefined;
}
