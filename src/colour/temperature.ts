import { xyToUv1960 } from './chromaticity';
import { OBSERVER_FIRST, OBSERVER_X, OBSERVER_Y, OBSERVER_Z } from './observer';
import type { Xy } from './vector';

/** Second radiation constant in nm·K, the rounded value of the colour-temperature scale. Source: CIE 15:2018 (c2 = 1.4388e-2 m·K). */
const C2 = 1.4388e7;

/** λ⁻⁵ of Planck's law for every row of the observer, λ in µm. */
const FIFTH_POWER = Float64Array.from(OBSERVER_X, (_, i) => ((OBSERVER_FIRST + i) / 1000) ** -5);

/**
 * u, v (CIE 1960) of a Planckian radiator of T kelvin: Planck's law summed over the CIE 1931 2° observer, 360 … 830 nm by 1 nm.
 * T ≤ 0: NaN. (exp − 1 keeps ten digits to 10⁶ K and beyond, and expm1 doubles the time.)
 */
export function planckianUv(T: number): Xy {
  let X = 0;
  let Y = 0;
  let Z = 0;
  for (let i = 0; i < OBSERVER_X.length; i++) {
    const power = FIFTH_POWER[i]! / (Math.exp(C2 / ((OBSERVER_FIRST + i) * T)) - 1);
    X += power * OBSERVER_X[i]!;
    Y += power * OBSERVER_Y[i]!;
    Z += power * OBSERVER_Z[i]!;
  }
  if (!(T > 0)) return [Number.NaN, Number.NaN];
  const divisor = X + 15 * Y + 3 * Z;
  return [(4 * X) / divisor, (6 * Y) / divisor];
}

export const DAYLIGHT_FIRST = 4000;
export const DAYLIGHT_LAST = 25000;

/**
 * x, y of CIE daylight of T kelvin, 4,000 … 25,000 K. Source: CIE 15:2018. Undefined outside. D65 is at 6504 K, for the temperature
 * scale changed after the illuminants were named (6500 · 1.4388/1.4380); the result differs from the printed white points by up to
 * 1.5e-4.
 */
export function daylightXy(T: number): Xy | undefined {
  if (!(T >= DAYLIGHT_FIRST && T <= DAYLIGHT_LAST)) return undefined;
  const k = 1000 / T;
  const x = T <= 7000 ? ((-4.607 * k + 2.9678) * k + 0.09911) * k + 0.244063 : ((-2.0064 * k + 1.9018) * k + 0.24748) * k + 0.23704;
  return [x, (-3 * x + 2.87) * x - 0.275];
}

/** The ends of the table of Planckian points, kelvin. Ohno's runs to 20,000; a bluish panel white may lie above. */
export const CCT_FIRST = 1000;
export const CCT_LAST = 40000;

/** Beyond this distance from the Planckian locus a correlated colour temperature means nothing. Source: CIE 15:2018. */
export const CCT_FARTHEST = 0.05;

export type CctRefusal = 'not-a-chromaticity' | 'outside-table' | 'far-from-planckian';

export type Cct = { readonly cct: number; readonly duv: number } | { readonly refused: CctRefusal };

/** Ratio of neighbouring temperatures of the table. */
const RATIO = 1.01;

interface PlanckianTable {
  readonly u: Float64Array;
  readonly v: Float64Array;
}

let made: PlanckianTable | undefined;

/** Made on first use: most sessions never ask, and it costs some 7 ms. */
function planckianTable(): PlanckianTable {
  if (made !== undefined) return made;
  const count = Math.ceil(Math.log(CCT_LAST / CCT_FIRST) / Math.log(RATIO)) + 1;
  const u = new Float64Array(count);
  const v = new Float64Array(count);
  for (let i = 0; i < count; i++) [u[i], v[i]] = planckianUv(CCT_FIRST * RATIO ** i) as [number, number];
  made = { u, v };
  return made;
}

/**
 * Correlated colour temperature (kelvin) and Duv, the signed distance from the Planckian locus in CIE 1960 u, v: positive above it
 * (greenish), negative below (pinkish). Source of the definition and of the table by 1 % steps: Ohno (2014), LEUKOS 10, 47–55.
 *
 * Ohno interpolates in two ways, as a triangle near the locus and as a parabola of distances away from it. Here the locus itself is a
 * parabola in log T through the nearest three points, and the foot of the perpendicular on it is the answer: one case, and nearer to
 * the exact point (0.01 K at 6,500 K for |Duv| up to 0.003, below 1 K all over the table; Duv to 1e-8).
 *
 * Refused: beyond |Duv| 0.05, outside 1,000 … 40,000 K, and for anything but finite numbers.
 */
export function cctDuv(xy: Xy): Cct {
  const [pu, pv] = xyToUv1960(xy);
  if (!(Number.isFinite(pu) && Number.isFinite(pv))) return { refused: 'not-a-chromaticity' };
  const { u, v } = planckianTable();
  const nearest = nearestPoint(u, v, pu, pv);
  const last = u.length - 1;
  const m = Math.min(Math.max(nearest, 1), last - 1);

  // q(s) = q(m) + s·slope + s²·bend for the steps s = −1, 0, 1, with q(m) as the origin.
  const slopeU = 0.5 * (u[m + 1]! - u[m - 1]!);
  const slopeV = 0.5 * (v[m + 1]! - v[m - 1]!);
  const bendU = 0.5 * (u[m + 1]! + u[m - 1]!) - u[m]!;
  const bendV = 0.5 * (v[m + 1]! + v[m - 1]!) - v[m]!;
  const du = pu - u[m]!;
  const dv = pv - v[m]!;
  let s = nearest - m;
  let offU = 0;
  let offV = 0;
  let tangentU = slopeU;
  let tangentV = slopeV;
  // Newton's steps on (p − q(s))·q′(s) = 0; the bend is small beside the slope, so the third changes nothing that counts.
  for (let i = 0; i < 3; i++) {
    offU = du - s * (slopeU + s * bendU);
    offV = dv - s * (slopeV + s * bendV);
    tangentU = slopeU + 2 * s * bendU;
    tangentV = slopeV + 2 * s * bendV;
    const rate = tangentU * tangentU + tangentV * tangentV - 2 * (offU * bendU + offV * bendV);
    s += (offU * tangentU + offV * tangentV) / rate;
  }
  const distance = Math.sqrt(offU * offU + offV * offV);
  if (distance > CCT_FARTHEST) return { refused: 'far-from-planckian' };
  const cct = CCT_FIRST * RATIO ** (m + s);
  if (!(cct >= CCT_FIRST && cct <= CCT_LAST)) return { refused: 'outside-table' };
  // The table runs from red to blue, along which "above the locus" is on the right hand.
  const above = tangentV * offU - tangentU * offV;
  return { cct, duv: above < 0 ? -distance : distance };
}

/** Index of the table's nearest point. Bisection: within `CCT_FARTHEST` the distance has one minimum along the table. */
function nearestPoint(u: Float64Array, v: Float64Array, pu: number, pv: number): number {
  let low = 0;
  let high = u.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    const du = u[middle]! - pu;
    const dv = v[middle]! - pv;
    const nextU = u[middle + 1]! - pu;
    const nextV = v[middle + 1]! - pv;
    if (du * du + dv * dv > nextU * nextU + nextV * nextV) low = middle + 1;
    else high = middle;
  }
  return low;
}
