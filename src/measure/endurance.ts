import { type Endurance, halfOfDrop, overFirst, settled } from '../algorithms/endurance';
import type { Run, Session } from '../session/session';
import type { Context, Kernel } from './kernel';
import { Seen } from './readings';
import { readPatches } from './readPatches';
import { luminanceSpread, spreadOf } from './spread';
import { figureOf } from './value';

export interface Held extends Context {
  readonly held: Endurance;
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
    return { session, run, patches, keys: ['t'], held, pivots: first < 0 ? [] : [first] };
  },
  rows: {
    after: (c) => {
      const shares = overFirst(c.held);
      return shares.ok ? shares.v : new Float64Array(c.patches.count).fill(Number.NaN);
    },
  },
  run: {
    settled: (c) => figureOf(settled(c.held), ({ share }) => share),
    'settled.luminance': (c) => figureOf(settled(c.held), ({ level }) => level),
    'settled.time': (c) => figureOf(settled(c.held), ({ from }) => from),
    half: (c) => figureOf(halfOfDrop(c.held), (seconds) => seconds),
  },
  why: (c) => {
    const shares = overFirst(c.held);
    return shares.ok ? undefined : shares;
  },
};
