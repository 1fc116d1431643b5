import { xyToUv } from './chromaticity';
import type { Primaries } from './spaces';
import type { Xy } from './vector';

/** Corners of a plane figure, in order; the last joins the first. */
export type Polygon = readonly Xy[];

/** The diagram an area is taken in: an area has no meaning without it, since the map between them stretches. */
export type Plane = 'xy' | 'uv';

/** Twice the signed area of a, b, c: positive when the turn from a over b to c is counter-clockwise. */
function turn(a: Xy, b: Xy, c: Xy): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/**
 * An area this small beside the square of its extent is rounding: readings carry four decimals. Without it three points of one line
 * would make a sliver whose area is noise.
 */
const FLAT = 1e-12;

/**
 * The convex hull, counter-clockwise, without points that lie on its edges (monotone chain). Undefined for fewer than three points,
 * points of one line, or coordinates that are not finite.
 */
export function hull(points: readonly Xy[]): Polygon | undefined {
  for (const p of points) if (!(Number.isFinite(p[0]) && Number.isFinite(p[1]))) return undefined;
  const sorted = points.slice().sort((p, q) => p[0] - q[0] || p[1] - q[1]);
  const lower = chain(sorted);
  const upper = chain(sorted.reverse());
  const corners = lower.slice(0, -1).concat(upper.slice(0, -1));
  return corners.length >= 3 && !isFlat(corners) ? corners : undefined;
}

function chain(sorted: readonly Xy[]): Xy[] {
  const kept: Xy[] = [];
  for (const p of sorted) {
    while (kept.length >= 2 && turn(kept[kept.length - 2]!, kept[kept.length - 1]!, p) <= 0) kept.pop();
    kept.push(p);
  }
  return kept;
}

function isFlat(corners: Polygon): boolean {
  const origin = corners[0]!;
  let extent = 0;
  for (const p of corners) extent = Math.max(extent, (p[0] - origin[0]) ** 2 + (p[1] - origin[1]) ** 2);
  return !(area(corners) > FLAT * extent);
}

/** The area of a polygon that does not cross itself, in the unit of its plane squared; either direction. Fewer than three corners: 0. */
export function area(polygon: Polygon): number {
  const origin = polygon[0];
  if (origin === undefined) return 0;
  let twice = 0;
  for (let i = 2; i < polygon.length; i++) twice += turn(origin, polygon[i - 1]!, polygon[i]!);
  return Math.abs(twice) / 2;
}

/**
 * The intersection of two convex polygons, counter-clockwise (Sutherland & Hodgman 1974). Empty when they do not meet; corners may
 * repeat where they only touch. The corners of each may come in either direction.
 */
export function clip(convexA: Polygon, convexB: Polygon): Polygon {
  const window = counterClockwise(convexB);
  let rest = counterClockwise(convexA);
  for (let i = 0; i < window.length; i++) {
    rest = clipByEdge(rest, window[i]!, window[(i + 1) % window.length]!);
    if (rest.length === 0) return rest;
  }
  return rest;
}

function counterClockwise(polygon: Polygon): Polygon {
  let twice = 0;
  for (let i = 2; i < polygon.length; i++) twice += turn(polygon[0]!, polygon[i - 1]!, polygon[i]!);
  return twice < 0 ? polygon.slice().reverse() : polygon;
}

function clipByEdge(polygon: Polygon, from: Xy, to: Xy): Polygon {
  const kept: Xy[] = [];
  for (let i = 0; i < polygon.length; i++) {
    const p = polygon[i]!;
    const q = polygon[(i + 1) % polygon.length]!;
    const sideP = turn(from, to, p);
    const sideQ = turn(from, to, q);
    if (sideP >= 0) kept.push(p);
    if (sideP > 0 !== sideQ > 0 && sideP !== 0 && sideQ !== 0) {
      const t = sideP / (sideP - sideQ);
      kept.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
    }
  }
  return kept;
}

/** The triangle of a space's primaries, x, y. */
export function triangleOf(primaries: Primaries): Polygon {
  return [primaries.r, primaries.g, primaries.b];
}

function inPlane(points: readonly Xy[], plane: Plane): readonly Xy[] {
  return plane === 'xy' ? points : points.map(xyToUv);
}

/**
 * The share of a reference that a display covers, 0 … 1: area(hull ∩ reference) ÷ area(reference), in the plane named. `points` are the
 * x, y of the display's corners, three or more in any order (a panel with four emitters has four); `reference` a convex polygon in x, y.
 *
 * Undefined when either has no area. Straight lines stay straight from xy to u′v′, so clipping in either plane gives the same
 * figure; only the areas differ.
 */
export function coverage(points: readonly Xy[], reference: Polygon, plane: Plane): number | undefined {
  const display = hull(inPlane(points, plane));
  const aim = hull(inPlane(reference, plane));
  if (display === undefined || aim === undefined) return undefined;
  return Math.min(1, area(clip(display, aim)) / area(aim));
}

/**
 * area(hull) ÷ area(reference): how large the display's gamut is, not how much of the reference it shows. It can exceed 1 while the
 * coverage is below 1. Arguments and undefined as in `coverage`.
 */
export function areaRatio(points: readonly Xy[], reference: Polygon, plane: Plane): number | undefined {
  const display = hull(inPlane(points, plane));
  const aim = hull(inPlane(reference, plane));
  if (display === undefined || aim === undefined) return undefined;
  return area(display) / area(aim);
}
