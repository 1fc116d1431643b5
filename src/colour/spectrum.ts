import { xyzToXy } from './chromaticity';
import { hull, type Polygon } from './gamut';
import { OBSERVER_FIRST, OBSERVER_LAST, observerAt } from './observer';
import type { Vec3, Xy } from './vector';

/** lm/W. Source: CIE 15:2018 (K_m; 683.002 before rounding). */
const KM = 683;

const NOT_A_SPECTRUM: Vec3 = [Number.NaN, Number.NaN, Number.NaN];

/**
 * XYZ of a spectrum under the CIE 1931 2° observer: 683 · Σ value · x̄ · Δλ. Source: CIE 15:2018, summation. For spectral radiance in
 * W/(sr·m²·nm) the result is in cd/m²; for a relative spectrum only its proportions mean something.
 *
 * Wavelengths in nm, ascending, regular or not: Δλ of a sample is half the way to either neighbour, and a sample at an end counts
 * as if its one step went on beyond it; for a regular step this is the usual rectangle sum. Between whole nanometres the observer
 * is linear; outside 360 … 830 nm a sample adds nothing. Steps above 5 nm lose narrow peaks. Fewer than two samples, unequal
 * lengths or wavelengths that do not ascend: NaN.
 */
export function integrate(wavelengths: readonly number[], values: readonly number[]): Vec3 {
  const count = wavelengths.length;
  if (count < 2 || values.length !== count) return NOT_A_SPECTRUM;
  let X = 0;
  let Y = 0;
  let Z = 0;
  for (let i = 0; i < count; i++) {
    const here = wavelengths[i]!;
    const before = i === 0 ? 2 * here - wavelengths[1]! : wavelengths[i - 1]!;
    const after = i === count - 1 ? 2 * here - before : wavelengths[i + 1]!;
    if (!(here > before)) return NOT_A_SPECTRUM;
    const weight = values[i]! * 0.5 * (after - before);
    const eye = observerAt(here);
    X += weight * eye[0];
    Y += weight * eye[1];
    Z += weight * eye[2];
  }
  return [KM * X, KM * Y, KM * Z];
}

/** x, y of a spectrum. Arguments as in `integrate`; a dark spectrum has none: NaN. */
export function spectrumXy(wavelengths: readonly number[], values: readonly number[]): Xy {
  return xyzToXy(integrate(wavelengths, values));
}

/** x, y of light of one wavelength in nm. Source: ISO/CIE 11664-1. Undefined outside 360 … 830 nm. */
export function locusXy(wavelength: number): Xy | undefined {
  if (!(wavelength >= OBSERVER_FIRST && wavelength <= OBSERVER_LAST)) return undefined;
  return xyzToXy(observerAt(wavelength));
}

/** The spectrum locus every nanometre from 360 to 830 nm, x, y; the line from the last to the first point is the purple line. */
export const LOCUS: Polygon = Array.from({ length: OBSERVER_LAST - OBSERVER_FIRST + 1 }, (_, i) => locusXy(OBSERVER_FIRST + i)!);

/**
 * All the chromaticities there are: the convex hull of the locus. Below 410 and above 700 nm the rounded table wanders by a few 1e-6
 * around one point, which the hull smooths.
 */
export const LOCUS_HULL: Polygon = hull(LOCUS)!;

/**
 * The hull's two borders, left and right, from the bottom to the top, in flat arrays: at one y the inside is one interval of x, found by
 * bisection, because this is asked for every reading.
 */
interface Border {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

function borders(polygon: Polygon): { left: Border; right: Border } {
  let bottom = 0;
  let top = 0;
  for (let i = 1; i < polygon.length; i++) {
    if (polygon[i]![1] < polygon[bottom]![1]) bottom = i;
    if (polygon[i]![1] > polygon[top]![1]) top = i;
  }
  const walk = (step: number): Border => {
    const points: Xy[] = [polygon[bottom]!];
    for (let i = bottom; i !== top; ) {
      i = (i + step + polygon.length) % polygon.length;
      points.push(polygon[i]!);
    }
    return { x: Float64Array.from(points, (p) => p[0]), y: Float64Array.from(points, (p) => p[1]) };
  };
  // Counter-clockwise from the lowest corner the right side comes first.
  return { left: walk(-1), right: walk(1) };
}

const { left: LEFT, right: RIGHT } = borders(LOCUS_HULL);
const LOWEST = LEFT.y[0]!;
const HIGHEST = LEFT.y[LEFT.y.length - 1]!;

function borderAt(border: Border, y: number): number {
  let low = 0;
  let high = border.y.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (border.y[middle]! <= y) low = middle;
    else high = middle;
  }
  const y0 = border.y[low]!;
  const rise = border.y[high]! - y0;
  const x0 = border.x[low]!;
  return rise === 0 ? x0 : x0 + ((border.x[high]! - x0) * (y - y0)) / rise;
}

/** Room for chromaticities rounded to three decimals: the primaries of BT.2020, spectral colours by intent, lie up to 0.0003 outside. */
const ROUNDING = 5e-4;

/**
 * Whether light can have this chromaticity: inside the spectrum locus and the purple line, or within `tolerance` (a distance in x, y) of
 * them. NaN: false.
 */
export function insideLocus(xy: Xy, tolerance: number = ROUNDING): boolean {
  const x = xy[0];
  const y = xy[1];
  if (y >= LOWEST && y <= HIGHEST && x >= borderAt(LEFT, y) && x <= borderAt(RIGHT, y)) return true;
  return tolerance > 0 && distanceToBorder(x, y) <= tolerance;
}

function distanceToBorder(x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  let from = LOCUS_HULL[LOCUS_HULL.length - 1]!;
  for (const to of LOCUS_HULL) {
    const dx = to[0] - from[0];
    const dy = to[1] - from[1];
    const t = Math.min(1, Math.max(0, ((x - from[0]) * dx + (y - from[1]) * dy) / (dx * dx + dy * dy)));
    least = Math.min(least, (from[0] + t * dx - x) ** 2 + (from[1] + t * dy - y) ** 2);
    from = to;
  }
  return Math.sqrt(least);
}
