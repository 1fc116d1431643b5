import { type Statistics, statistics } from '../algorithms/statistics';
import { CellKind } from '../session/line';
import type { Run, Session } from '../session/session';
import { kindAt, valueAt } from '../session/table';
import type { Context, Kernel } from './kernel';
import { readPatches } from './readPatches';
import { figure, type Value, without } from './value';

/** Runs of one quantity read again and again. */
export interface Samples extends Context {
  /** The readings of each patch, one by one. */
  readonly values: readonly (readonly number[])[];
  readonly x: readonly (readonly number[])[];
  readonly y: readonly (readonly number[])[];
}

/** @param quantity the column that is read */
function prepare(session: Session, run: Run, quantity: string): Samples {
  const keys = (run.block.spec?.table?.keys ?? []).filter((name) => run.table.columns.has(name));
  const patches = readPatches(session, run, keys, { repeatAll: true, quantity });
  const valuesOf = (name: string): number[][] => {
    const column = run.table.columns.get(name);
    const lists: number[][] = Array.from({ length: patches.count }, () => []);
    if (!column) return lists;
    run.table.rows.forEach((row, r) => {
      const value = valueAt(row, column);
      if (patches.ofRow[r]! >= 0 && kindAt(row, column) === CellKind.Number && value >= 0) lists[patches.ofRow[r]!]!.push(value);
    });
    return lists;
  };
  const values = valuesOf(quantity);
  // A correction, and what takes the drift out, are the same factor for all luminances of a patch or near enough to it.
  const factors = patches.raw ? patches.Y.map((Y, i) => Y / patches.raw!.Y[i]!) : undefined;
  return {
    session,
    run,
    patches,
    keys,
    values: factors ? values.map((list, i) => list.map((value) => value * factors[i]!)) : values,
    x: valuesOf('x'),
    y: valuesOf('y'),
  };
}

type Pick = (found: Statistics) => number | undefined;
const PICKS = {
  mean: ({ mean }) => mean,
  median: ({ median }) => median,
  sd: ({ spread }) => spread?.sd,
  se: ({ spread }) => spread?.se,
  n: ({ n }) => n,
} as const satisfies Record<string, Pick>;
const percent: Pick = ({ spread, mean }) => (spread && mean > 0 ? (100 * spread.sd) / mean : undefined);

function statisticOf(list: readonly number[], pick: Pick): Value {
  const found = statistics(list);
  if (!found.ok) return found;
  const v = pick(found.v);
  return v === undefined ? without('one-reading') : figure(v);
}

const rowsOf = (lists: readonly (readonly number[])[], pick: Pick): Float64Array =>
  Float64Array.from(lists, (list) => {
    const value = statisticOf(list, pick);
    return value.ok ? value.v : Number.NaN;
  });

const ROWS = {
  mean: (c: Samples) => rowsOf(c.values, PICKS.mean),
  median: (c: Samples) => rowsOf(c.values, PICKS.median),
  sd: (c: Samples) => rowsOf(c.values, PICKS.sd),
  se: (c: Samples) => rowsOf(c.values, PICKS.se),
  n: (c: Samples) => rowsOf(c.values, PICKS.n),
} as const;

/** A figure of the whole run: of all its readings where they are of one thing. */
const whole =
  (
    id: string,
    pick: Pick,
    of: (c: Samples) => readonly (readonly number[])[] = (c) => c.values,
    isOne = (c: Samples) => c.patches.count <= 1,
  ) =>
  (c: Samples): Value =>
    isOne(c) ? statisticOf(of(c).flat(), pick) : without('key-needed', { id });

const runs = (isOne?: (c: Samples) => boolean) => ({
  mean: whole('mean', PICKS.mean, undefined, isOne),
  median: whole('median', PICKS.median, undefined, isOne),
  sd: whole('sd', PICKS.sd, undefined, isOne),
  se: whole('se', PICKS.se, undefined, isOne),
  n: whole('n', PICKS.n, undefined, isOne),
});

const why: NonNullable<Kernel<'lag', Samples>['why']> = (c, id, patch) =>
  ['sd', 'se', 'sd.percent', 'sd.x', 'sd.y'].includes(id) && (id === 'sd.x' ? c.x : id === 'sd.y' ? c.y : c.values)[patch]!.length === 1
    ? without('one-reading')
    : undefined;

export const lag: Kernel<'lag', Samples> = {
  prepare: (session, run) => prepare(session, run, 'lag'),
  rows: ROWS,
  // The lag of a display is that of all places together; each place has its own with @.
  run: runs(() => true),
  why,
};

export const power: Kernel<'power', Samples> = {
  prepare: (session, run) => prepare(session, run, 'power'),
  rows: ROWS,
  run: runs(),
  why,
};

export const repeats: Kernel<'repeats', Samples> = {
  prepare: (session, run) => prepare(session, run, 'Y'),
  rows: {
    ...ROWS,
    'sd.percent': (c) => rowsOf(c.values, percent),
    'sd.x': (c) => rowsOf(c.x, PICKS.sd),
    'sd.y': (c) => rowsOf(c.y, PICKS.sd),
  },
  run: {
    ...runs(),
    'sd.percent': whole('sd.percent', percent),
    'sd.x': whole('sd.x', PICKS.sd, (c) => c.x),
    'sd.y': whole('sd.y', PICKS.sd, (c) => c.y),
  },
  why,
};
