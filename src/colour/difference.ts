import type { Vec3, Xy } from './vector';

export { deltaUv } from './chromaticity';

const DEGREES = 180 / Math.PI;
const POW25_7 = 25 ** 7;
const COS_30 = Math.cos(30 / DEGREES);
const SIN_30 = Math.sin(30 / DEGREES);
const COS_6 = Math.cos(6 / DEGREES);
const SIN_6 = Math.sin(6 / DEGREES);
const COS_63 = Math.cos(63 / DEGREES);
const SIN_63 = Math.sin(63 / DEGREES);

/** Below this length of the sum of two unit vectors their hues are so nearly opposite that the bisector loses digits. */
const OPPOSITE = 1e-3;

/** Hues this near to 180° apart, in radians, are 180° apart but for rounding. */
const HALF_TURN = Math.PI + 1e-10;

/**
 * CIEDE2000 with k_C = k_H = 1; k_L is 1 in reference conditions (2 for textiles). Source: ISO/CIE 11664-6; checked on the 34 pairs
 * of Sharma, Wu & Dalal (2005). Symmetric. NaN in, NaN out.
 *
 * Hues are kept as unit vectors, which is what makes it fast: the mean hue is the bisector (always on the shorter arc, so the wrap at
 * 360° needs no cases), its multiples follow from the addition theorems, and 2·sin(Δh′/2) is the distance of the vectors.
 * For nearly opposite hues the bisector fails, and the angles are taken as the paper does: up to 180° apart the mean is (h1 + h2)/2
 * and the difference h2 − h1.
 *
 * @param terms takes the three terms, if they are wanted: for each patch of a run they would be as many objects
 */
export function deltaE2000(lab1: Vec3, lab2: Vec3, kL = 1, terms?: Ciede2000Terms): number {
  const L1 = lab1[0];
  const a1 = lab1[1];
  const b1 = lab1[2];
  const L2 = lab2[0];
  const a2 = lab2[1];
  const b2 = lab2[2];

  const meanCab = 0.5 * (Math.sqrt(a1 * a1 + b1 * b1) + Math.sqrt(a2 * a2 + b2 * b2));
  const cab2 = meanCab * meanCab;
  const cab7 = cab2 * cab2 * cab2 * meanCab;
  const stretch = 1.5 - 0.5 * Math.sqrt(cab7 / (cab7 + POW25_7));
  const p1 = stretch * a1;
  const p2 = stretch * a2;
  const C1 = Math.sqrt(p1 * p1 + b1 * b1);
  const C2 = Math.sqrt(p2 * p2 + b2 * b2);

  const x1 = C1 === 0 ? 0 : p1 / C1;
  const y1 = C1 === 0 ? 0 : b1 / C1;
  const x2 = C2 === 0 ? 0 : p2 / C2;
  const y2 = C2 === 0 ? 0 : b2 / C2;
  const sumX = x1 + x2;
  const sumY = y1 + y2;
  const length = Math.sqrt(sumX * sumX + sumY * sumY);

  let cos = 1;
  let sin = 0;
  let turn = x1 * y2 - y1 * x2;
  if (length < OPPOSITE) {
    if (C1 !== 0) {
      const h1 = hueOf(x1, y1);
      const h2 = hueOf(x2, y2);
      const wrapped = Math.abs(h2 - h1) > HALF_TURN;
      const mean = 0.5 * (h1 + h2) + (wrapped ? Math.PI : 0);
      cos = Math.cos(mean);
      sin = Math.sin(mean);
      turn = wrapped ? h1 - h2 : h2 - h1;
    }
  } else {
    cos = sumX / length;
    sin = sumY / length;
  }
  const apartX = x2 - x1;
  const apartY = y2 - y1;
  const apart = Math.sqrt(C1 * C2 * (apartX * apartX + apartY * apartY));
  const dH = turn < 0 ? -apart : apart;

  const cos2 = 2 * cos * cos - 1;
  const sin2 = 2 * sin * cos;
  const cos3 = cos2 * cos - sin2 * sin;
  const sin3 = sin2 * cos + cos2 * sin;
  const cos4 = 2 * cos2 * cos2 - 1;
  const sin4 = 2 * sin2 * cos2;
  const T =
    1 - 0.17 * (cos * COS_30 + sin * SIN_30) + 0.24 * cos2 + 0.32 * (cos3 * COS_6 - sin3 * SIN_6) - 0.2 * (cos4 * COS_63 + sin4 * SIN_63);

  const meanL = 0.5 * (L1 + L2) - 50;
  const l2 = meanL * meanL;
  const SL = 1 + (0.015 * l2) / Math.sqrt(20 + l2);
  const meanC = 0.5 * (C1 + C2);
  const SC = 1 + 0.045 * meanC;
  const SH = 1 + 0.015 * meanC * T;

  const tL = (L2 - L1) / (kL * SL);
  const tC = (C2 - C1) / SC;
  const tH = dH / SH;
  if (terms) {
    terms.lightness = tL;
    terms.chroma = tC;
    terms.hue = tH;
  }

  const hue = Math.atan2(sin, cos) * DEGREES;
  const away = ((hue < 0 ? hue + 360 : hue) - 275) / 25;
  const c2 = meanC * meanC;
  const c7 = c2 * c2 * c2 * meanC;
  const RC = 2 * Math.sqrt(c7 / (c7 + POW25_7));
  const RT = -Math.sin((60 / DEGREES) * Math.exp(-away * away)) * RC;

  return Math.sqrt(tL * tL + tC * tC + tH * tH + RT * tC * tH);
}

/**
 * ΔL′/S_L, ΔC′/S_C and ΔH′/S_H of the second colour against the first: positive is lighter, more chromatic, turned counter-clockwise.
 * ΔE² = lightness² + chroma² + hue² + R_T · chroma · hue, with R_T = 0 but for blues (ISO/CIE 11664-6).
 */
export interface Ciede2000Terms {
  lightness: number;
  chroma: number;
  hue: number;
}

/** Hue of a unit vector in radians, 0 … 2π. */
function hueOf(x: number, y: number): number {
  const hue = Math.atan2(y, x);
  return hue < 0 ? hue + 2 * Math.PI : hue;
}

function distance(a: Vec3, b: Vec3): number {
  const p = a[0] - b[0];
  const q = a[1] - b[1];
  const r = a[2] - b[2];
  return Math.sqrt(p * p + q * q + r * r);
}

/** ΔE*ab: the distance in L*a*b*. Source: ISO/CIE 11664-4. */
export function deltaE76(lab1: Vec3, lab2: Vec3): number {
  return distance(lab1, lab2);
}

export type De94Application = 'graphic-arts' | 'textiles';

/**
 * ΔE94. Source: CIE 116-1995; graphic arts k_L = 1, K1 = 0.045, K2 = 0.015; textiles k_L = 2, K1 = 0.048, K2 = 0.014.
 * Not symmetric: `reference` gives the chroma of the weights.
 */
export function deltaE94(reference: Vec3, sample: Vec3, application: De94Application = 'graphic-arts'): number {
  const textiles = application === 'textiles';
  const C1 = Math.sqrt(reference[1] * reference[1] + reference[2] * reference[2]);
  const C2 = Math.sqrt(sample[1] * sample[1] + sample[2] * sample[2]);
  const dL = reference[0] - sample[0];
  const dC = C1 - C2;
  const da = reference[1] - sample[1];
  const db = reference[2] - sample[2];
  // Rounding can take the square of ΔH below 0 when the colours differ in chroma alone.
  const dH2 = Math.max(0, da * da + db * db - dC * dC);
  const tL = textiles ? dL / 2 : dL;
  const tC = dC / (1 + (textiles ? 0.048 : 0.045) * C1);
  const SH = 1 + (textiles ? 0.014 : 0.015) * C1;
  return Math.sqrt(tL * tL + tC * tC + dH2 / (SH * SH));
}

/** ΔE*uv: the distance in L*u*v*. Source: ISO/CIE 11664-5. */
export function deltaEuv(luv1: Vec3, luv2: Vec3): number {
  return distance(luv1, luv2);
}

/**
 * Δu*v* of two chromaticities u′, v′ at one lightness L*: 13·L*·Δu′v′. Source: CIE 15:2018, the quantity of EBU Tech 3320.
 * It is not Δu′v′: at L* = 100, 1.3 of it is 0.001.
 */
export function deltaUvStar(lstar: number, uvA: Xy, uvB: Xy): number {
  const du = uvA[0] - uvB[0];
  const dv = uvA[1] - uvB[1];
  return 13 * lstar * Math.sqrt(du * du + dv * dv);
}

/**
 * ΔE ITP of two I, C_T, C_P: 720·√(ΔI² + ΔT² + ΔP²), T = C_T/2. Source: ITU-R BT.2124-0 Annex 1. 1 is about a threshold under the most
 * critical adaptation; its numbers are not those of ΔE2000.
 */
export function deltaEitp(ictcp1: Vec3, ictcp2: Vec3): number {
  const dI = ictcp1[0] - ictcp2[0];
  const dT = 0.5 * (ictcp1[1] - ictcp2[1]);
  const dP = ictcp1[2] - ictcp2[2];
  return 720 * Math.sqrt(dI * dI + dT * dT + dP * dP);
}

/** The signed parts of a difference: positive is lighter, more chromatic, turned counter-clockwise in the a*b* plane. */
export interface LchDifference {
  readonly dL: number;
  readonly dC: number;
  /** Hue angle in degrees, −180 … 180; 0 when one of the colours has no chroma. */
  readonly dh: number;
  /** ΔH* = 2·√(C1·C2)·sin(Δh/2). */
  readonly dH: number;
}

/** ΔL*, ΔC*ab, Δh_ab and ΔH*ab of `sample` against `reference`. Source: ISO/CIE 11664-4. ΔE*ab² = ΔL² + ΔC² + ΔH². */
export function deltaLch(reference: Vec3, sample: Vec3): LchDifference {
  const C1 = Math.sqrt(reference[1] * reference[1] + reference[2] * reference[2]);
  const C2 = Math.sqrt(sample[1] * sample[1] + sample[2] * sample[2]);
  const cross = reference[1] * sample[2] - reference[2] * sample[1];
  const dot = reference[1] * sample[1] + reference[2] * sample[2];
  const angle = Math.atan2(cross, dot);
  return {
    dL: sample[0] - reference[0],
    dC: C2 - C1,
    dh: angle * DEGREES,
    dH: 2 * Math.sqrt(C1 * C2) * Math.sin(angle / 2),
  };
}
