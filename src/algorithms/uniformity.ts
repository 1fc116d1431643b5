import { xyToUv } from '../colour/chromaticity';
import { hull } from '../colour/gamut';
import type { Xy } from '../colour/vector';
import { phrase } from '../text/message';
import { computed, type Refused, type Result, refused } from './result';

/** One place of a grid: row and column as they are numbered (any finite numbers, equal for equal places). */
export interface Place {
  readonly row: number;
  readonly column: number;
  /** cd/m². */
  readonly luminance: number;
  /** x, y; undefined where only the luminance was read. */
  readonly xy?: Xy | undefined;
}

/** A full grid, top to bottom and left to right: cell (r, c) stands at r·columns + c. */
export interface Grid {
  readonly rows: number;
  readonly columns: number;
  readonly cells: readonly Place[];
}

/**
 * The grid that places make. Refused for a place without a reading (not finite, or below 0), one read twice, one that is not numbered, and
 * a hole: what is worst may lie in it.
 */
export function gridOf(places: readonly Place[]): Result<Grid> {
  const rows = numbers(places.map(({ row }) => row));
  const columns = numbers(places.map(({ column }) => column));
  const cells = new Map<number, Place>();
  for (const [i, place] of places.entries()) {
    const { row, column, luminance } = place;
    if (!Number.isFinite(row) || !Number.isFinite(column)) return refused('not-finite', { at: i + 1 });
    if (!(Number.isFinite(luminance) && luminance >= 0)) return refused('grid-hole', { row, column });
    const at = rows.indexOf(row) * columns.length + columns.indexOf(column);
    if (cells.has(at)) return refused('grid-repeated', { row, column });
    cells.set(at, place);
  }
  for (let at = 0; at < rows.length * columns.length; at++)
    if (!cells.has(at)) return refused('grid-hole', { row: rows[Math.floor(at / columns.length)]!, column: columns[at % columns.length]! });
  if (cells.size === 0) return refused('too-few-rows', { count: 1, which: phrase('with a reading'), found: 0 });
  return computed({
    rows: rows.length,
    columns: columns.length,
    cells: Array.from({ length: cells.size }, (_, at) => cells.get(at)!),
  });
}

const numbers = (list: readonly number[]): readonly number[] => [...new Set(list)].sort((a, b) => a - b);

/** 1 − min/max of the luminances, 0 … 1. Source: ICDM IDMS, sampled uniformity (section not verified). Refused for a dark grid. */
export function nonuniformity({ cells }: Grid): Result<number> {
  const list = cells.map(({ luminance }) => luminance);
  const most = Math.max(...list);
  return most > 0 ? computed(1 - Math.min(...list) / most) : refused('no-light');
}

/** A figure and the cell that it belongs to. */
export interface AtCell {
  readonly v: number;
  readonly cell: Place;
}

/** The cell in the middle; undefined for a grid with an even number of rows or columns, which has none. */
function centre({ rows, columns, cells }: Grid): Place | undefined {
  return rows % 2 === 1 && columns % 2 === 1 ? cells[(cells.length - 1) / 2] : undefined;
}

const noCentre = ({ rows, columns }: Grid): Refused => refused('no-centre', { rows, columns });

/** Luminance of every cell over that of the centre, in the order of the grid. Source: EBU Tech 3325 (measuring points), IDMS. */
export function overCentre(grid: Grid): Result<Float64Array> {
  const middle = centre(grid);
  if (!middle) return noCentre(grid);
  if (!(middle.luminance > 0)) return refused('no-light');
  return computed(Float64Array.from(grid.cells, ({ luminance }) => luminance / middle.luminance));
}

/**
 * The worst cell: the one whose luminance is farthest from the centre's, with the difference, signed, in shares of the centre (−0.2 is
 * 20 % darker). Of cells equally far the first of the grid counts.
 */
export function worstLuminance(grid: Grid): Result<AtCell> {
  const shares = overCentre(grid);
  if (!shares.ok) return shares;
  return computed(farthest(grid, (i) => shares.v[i]! - 1));
}

/** The largest Δu′v′ from the centre, and its cell; the first of equals. Source of Δu′v′: CIE 15. */
export function worstChromaticity(grid: Grid): Result<AtCell> {
  const middle = centre(grid);
  if (!middle) return noCentre(grid);
  const uv = chromaticities(grid);
  if (!uv.ok) return uv;
  const origin = uv.v[(grid.cells.length - 1) / 2]!;
  return computed(farthest(grid, (i) => distance(uv.v[i]!, origin)));
}

function farthest({ cells }: Grid, difference: (i: number) => number): AtCell {
  let found: AtCell = { v: 0, cell: cells[0]! };
  cells.forEach((cell, i) => {
    const v = difference(i);
    if (Math.abs(v) > Math.abs(found.v)) found = { v, cell };
  });
  return found;
}

/**
 * The largest Δu′v′ of any two cells, and the two. They are corners of the convex hull of all, so the search of pairs is among its few
 * corners: n·log n for the hull. Of pairs equally far apart the first in the order of the hull counts.
 */
export function largestApart(grid: Grid): Result<{ readonly v: number; readonly cells: readonly [Place, Place] }> {
  const uv = chromaticities(grid);
  if (!uv.ok) return uv;
  const corners = hull(uv.v) ?? ends(uv.v);
  let pair: readonly [Xy, Xy] = [uv.v[0]!, uv.v[0]!];
  let v = 0;
  corners.forEach((p, i) => {
    for (const q of corners.slice(i + 1)) {
      const apart = distance(p, q);
      if (apart > v) {
        v = apart;
        pair = [p, q];
      }
    }
  });
  const cellOf = (point: Xy) => grid.cells[uv.v.findIndex((p) => p[0] === point[0] && p[1] === point[1])]!;
  return computed({ v, cells: [cellOf(pair[0]), cellOf(pair[1])] });
}

/** The two ends of points on one line, along the axis on which they spread most: across it their order is rounding. */
function ends(points: readonly Xy[]): readonly Xy[] {
  const spread = (axis: 0 | 1) => Math.max(...points.map((p) => p[axis])) - Math.min(...points.map((p) => p[axis]));
  const axis = spread(0) >= spread(1) ? 0 : 1;
  const sorted = [...points].sort((p, q) => p[axis] - q[axis]);
  return [sorted[0]!, sorted[sorted.length - 1]!];
}

function chromaticities({ cells }: Grid): Result<readonly Xy[]> {
  const uv: Xy[] = [];
  for (const { xy, row, column } of cells) {
    const point = xy && xyToUv(xy);
    if (!point?.every(Number.isFinite)) return refused('no-colours', { row, column });
    uv.push(point);
  }
  return computed(uv);
}

const distance = (p: Xy, q: Xy): number => Math.hypot(p[0] - q[0], p[1] - q[1]);
