import type { Result } from '../algorithms/result';
import {
  type Grid,
  gridOf,
  largestApart,
  nonuniformity,
  overCentre,
  type Place,
  worstChromaticity,
  worstLuminance,
} from '../algorithms/uniformity';
import { xyToUv, xyzToXy } from '../colour/chromaticity';
import { deltaUv } from '../colour/difference';
import type { Xy } from '../colour/vector';
import type { Run, Session } from '../session/session';
import type { Context, Kernel } from './kernel';
import { Seen } from './readings';
import { readPatches } from './readPatches';
import { figureOf, without } from './value';

export interface Uniform extends Context {
  readonly grid: Result<Grid>;
  /** The patch of each cell of the grid, and the other way round. */
  readonly cellOf: ReadonlyMap<number, number>;
}

export const isUniform = (context: object): context is Uniform => 'grid' in context;

function prepare(session: Session, run: Run): Uniform {
  const patches = readPatches(session, run, ['row', 'col']);
  const [row, column] = ['row', 'col'].map((name) => run.table.columns.get(name)!.cell);
  const places: (Place & { readonly patch: number })[] = [];
  for (let i = 0; i < patches.count; i++) {
    if (patches.revisit[i]) continue;
    const { values } = run.table.rows[patches.first[i]!]!;
    const place = { row: values[row!]!, column: values[column!]! };
    // A word is no place: where the grid lacks one for it, that is a hole.
    if (Number.isNaN(place.row + place.column)) continue;
    const hasColour = !Number.isNaN(patches.X[i]! + patches.Z[i]!);
    places.push({
      patch: i,
      ...place,
      luminance: patches.seen[i] === Seen.Measured ? patches.Y[i]! : Number.NaN,
      ...(hasColour && { xy: xyzToXy([patches.X[i]!, patches.Y[i]!, patches.Z[i]!]) }),
    });
  }
  const grid = gridOf(places);
  const cellOf = new Map<number, number>();
  if (grid.ok) for (const [at, cell] of grid.v.cells.entries()) cellOf.set((cell as (typeof places)[number]).patch, at);
  const middle = grid.ok ? (grid.v.cells[(grid.v.cells.length - 1) / 2] as (typeof places)[number] | undefined) : undefined;
  return { session, run, patches, keys: ['row', 'col'], grid, cellOf, ...(middle && { pivots: [middle.patch] }) };
}

/** A figure of each cell, by patch. */
function byCell(c: Uniform, list: (grid: Grid) => Result<ArrayLike<number>>): Float64Array {
  const found = c.grid.ok ? list(c.grid.v) : c.grid;
  return Float64Array.from({ length: c.patches.count }, (_, i) => (found.ok ? (found.v[c.cellOf.get(i) ?? -1] ?? Number.NaN) : Number.NaN));
}

const of = <T>(c: Uniform, compute: (grid: Grid) => Result<T>): Result<T> => (c.grid.ok ? compute(c.grid.v) : c.grid);

function fromCentre(grid: Grid): Result<readonly number[]> {
  const worst = worstChromaticity(grid);
  if (!worst.ok) return worst;
  const middle = grid.cells[(grid.cells.length - 1) / 2]!.xy!;
  return { ok: true, v: grid.cells.map(({ xy }) => deltaUv(xy!, middle)) };
}

export const uniformity: Kernel<'uniformity', Uniform> = {
  prepare,
  rows: {
    share: (c) => byCell(c, overCentre).map((share) => 100 * share),
    duv: (c) => byCell(c, fromCentre),
  },
  vectors: {
    duv: (c) => {
      const at = (i: number): Xy => xyToUv(xyzToXy([c.patches.X[i]!, c.patches.Y[i]!, c.patches.Z[i]!]));
      const [u, v] = at(c.pivots?.[0] ?? -1);
      return (i) => [at(i)[0] - u, at(i)[1] - v, 0];
    },
  },
  run: {
    nonuniformity: (c) => figureOf(of(c, nonuniformity), (share) => 100 * share),
    duv: (c) => figureOf(of(c, worstChromaticity), ({ v }) => v),
    'duv.any': (c) => figureOf(of(c, largestApart), ({ v }) => v),
    worst: (c) => figureOf(of(c, worstLuminance), ({ v }) => 100 * v),
    'worst.row': (c) => figureOf(of(c, worstLuminance), ({ cell }) => cell.row),
    'worst.col': (c) => figureOf(of(c, worstLuminance), ({ cell }) => cell.column),
  },
  why: (c, id, patch, key) => {
    if (c.patches.revisit[patch] || (c.grid.ok && !c.cellOf.has(patch))) return without('row-open', { key });
    const found = of<unknown>(c, id === 'share' ? overCentre : fromCentre);
    return found.ok ? undefined : found;
  },
  says: (c) => {
    const worst = of(c, worstLuminance);
    if (!worst.ok || worst.v.v === 0) return [];
    const { v, cell } = worst.v;
    const args = { row: cell.row, column: cell.column, percent: Math.abs(100 * v).toFixed(1) };
    return [{ code: v < 0 ? 'darkest-cell' : 'brightest-cell', args }];
  },
};
