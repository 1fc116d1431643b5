import { xyToUv, xyzToXy } from '../colour/chromaticity';
import { xyzToIctcp } from '../colour/ictcp';
import { xyzToLab, yToLstar } from '../colour/lab';
import { xyzToLuv } from '../colour/luv';
import type { Vec3, Xy } from '../colour/vector';

/**
 * The difference of a reading from its target as a vector whose length is the measure: its distribution is what a distance's
 * uncertainty is computed from.
 */
export type ErrorOf = (xyz: Vec3) => Vec3;

const DEGREES = 180 / Math.PI;
const POW25_7 = 25 ** 7;

const seventh = (v: number): number => {
  const square = v * v;
  return square * square * square * v;
};

const times = (v: Vec3, k: number): Vec3 => [v[0] * k, v[1] * k, v[2] * k];

/**
 * CIEDE2000 as a vector in a lightness and a chroma plane: (t_L, w), |(t_L, w)| = ΔE2000 for any pair.
 *
 * The formula is a quadratic form, t_L² + t_C² + t_H² + R_T·t_C·t_H with t_C = ΔC′/S_C and so on. Its square root is symmetric: with
 * ρ = R_T/2 the pair (t_C, t_H) goes to M·(t_C, t_H), M = [[p, q], [q, p]], p = (√(1+ρ) + √(1−ρ))/2, q = (√(1+ρ) − √(1−ρ))/2, and
 * |M·t|² is the form. |R_T| ≤ √3 < 2, so the roots are real.
 *
 * ΔC′ and ΔH′ themselves are no axes to be normally distributed along: around a grey, a reading's noise turns its hue all the way round,
 * and ΔC′ is then a distance already. So the direction of w is that of the difference in the a′b′ plane, weighted in the frame of the
 * mean hue (along it and across) and turned back; only the length is taken from the formula. For pairs of near hue both agree to second
 * order; around a grey, w is (Δa′, Δb′) but for the weights, and smooth.
 *
 * Source: ISO/CIE 11664-6; Sharma, Wu & Dalal (2005). k_L = k_C = k_H = 1. Not smooth, as the formula itself is not, where hues are 180° apart.
 */
export function errorDe2000(target: Vec3, reading: Vec3): Vec3 {
  const [L1, a1, b1] = target;
  const [L2, a2, b2] = reading;
  const cab = 0.5 * (Math.sqrt(a1 * a1 + b1 * b1) + Math.sqrt(a2 * a2 + b2 * b2));
  const cab7 = seventh(cab);
  const stretch = 1.5 - 0.5 * Math.sqrt(cab7 / (cab7 + POW25_7));
  const p1 = stretch * a1;
  const p2 = stretch * a2;
  const C1 = Math.sqrt(p1 * p1 + b1 * b1);
  const C2 = Math.sqrt(p2 * p2 + b2 * b2);
  const h1 = C1 === 0 ? 0 : Math.atan2(b1, p1);
  const h2 = C2 === 0 ? 0 : Math.atan2(b2, p2);
  let turn = h2 - h1;
  if (turn > Math.PI) turn -= 2 * Math.PI;
  else if (turn < -Math.PI) turn += 2 * Math.PI;
  // Without chroma on one side the mean hue is the other's.
  if (C1 === 0 || C2 === 0) turn = 0;
  const hue = C1 === 0 ? h2 : h1 + 0.5 * turn;

  const T =
    1 -
    0.17 * Math.cos(hue - 30 / DEGREES) +
    0.24 * Math.cos(2 * hue) +
    0.32 * Math.cos(3 * hue + 6 / DEGREES) -
    0.2 * Math.cos(4 * hue - 63 / DEGREES);
  const away = 0.5 * (L1 + L2) - 50;
  const C = 0.5 * (C1 + C2);
  const SL = 1 + (0.015 * away * away) / Math.sqrt(20 + away * away);
  const SC = 1 + 0.045 * C;
  const SH = 1 + 0.015 * C * T;
  const degrees = (hue * DEGREES + 720) % 360;
  const C7 = seventh(C);
  const RT = -2 * Math.sqrt(C7 / (C7 + POW25_7)) * Math.sin((60 / DEGREES) * Math.exp(-(((degrees - 275) / 25) ** 2)));

  const tC = (C2 - C1) / SC;
  const tH = (2 * Math.sqrt(C1 * C2) * Math.sin(0.5 * turn)) / SH;
  const length = Math.sqrt(tC * tC + tH * tH + RT * tC * tH);

  const along = ((C2 - C1) * Math.cos(0.5 * turn)) / SC;
  const across = ((C1 + C2) * Math.sin(0.5 * turn)) / SH;
  const wide = 0.5 * Math.sqrt(1 + 0.5 * RT);
  const narrow = 0.5 * Math.sqrt(1 - 0.5 * RT);
  const u = (wide + narrow) * along + (wide - narrow) * across;
  const v = (wide - narrow) * along + (wide + narrow) * across;
  const size = Math.sqrt(u * u + v * v);
  const fit = size === 0 ? 0 : length / size;
  const cos = Math.cos(hue) * fit;
  const sin = Math.sin(hue) * fit;
  return [(L2 - L1) / SL, cos * u - sin * v, sin * u + cos * v];
}

/** ΔE2000 against a target in cd/m², Lab on `whiteXyz`. */
export function de2000From(target: Vec3, whiteXyz: Vec3): ErrorOf {
  const lab = xyzToLab(target, whiteXyz);
  return (xyz) => errorDe2000(lab, xyzToLab(xyz, whiteXyz));
}

/** ΔE2000 with the luminance taken out: the reading is given the luminance of its target. NaN for a target without light. */
export function chromaDe2000From(target: Vec3, whiteXyz: Vec3): ErrorOf {
  const lab = xyzToLab(target, whiteXyz);
  return (xyz) => errorDe2000(lab, xyzToLab(times(xyz, target[1] / xyz[1]), whiteXyz));
}

/** ΔE*ab: the difference in L*a*b*. */
export function de76From(target: Vec3, whiteXyz: Vec3): ErrorOf {
  const lab = xyzToLab(target, whiteXyz);
  return (xyz) => minus(xyzToLab(xyz, whiteXyz), lab);
}

/**
 * ΔE94 (CIE 116-1995, graphic arts) as a vector: the weights are the target's, so its own hue is the frame; along and across it as in
 * `errorDe2000`, with the length of the formula. A grey target has no weights, and the vector is ΔE*ab's.
 */
export function de94From(target: Vec3, whiteXyz: Vec3): ErrorOf {
  const [L1, a1, b1] = xyzToLab(target, whiteXyz);
  const C1 = Math.hypot(a1, b1);
  const [cos, sin] = C1 === 0 ? [1, 0] : [a1 / C1, b1 / C1];
  const [SC, SH] = [1 + 0.045 * C1, 1 + 0.015 * C1];
  return (xyz) => {
    const [L2, a2, b2] = xyzToLab(xyz, whiteXyz);
    const along = cos * (a2 - a1) + sin * (b2 - b1);
    const across = cos * (b2 - b1) - sin * (a2 - a1);
    const dC = Math.hypot(a2, b2) - C1;
    const dH2 = Math.max(0, along * along + across * across - dC * dC);
    const [u, v] = [along / SC, across / SH];
    const size = Math.hypot(u, v);
    const fit = size === 0 ? 0 : Math.sqrt((dC / SC) ** 2 + dH2 / (SH * SH)) / size;
    return [L2 - L1, fit * (cos * u - sin * v), fit * (sin * u + cos * v)];
  };
}

/** ΔE*uv: the difference in L*u*v*. */
export function deUvFrom(target: Vec3, whiteXyz: Vec3): ErrorOf {
  const luv = xyzToLuv(target, whiteXyz);
  return (xyz) => minus(xyzToLuv(xyz, whiteXyz), luv);
}

/** ΔE ITP: 720·(ΔI, ΔC_T/2, ΔC_P) (ITU-R BT.2124-0). Absolute. */
export function deItpFrom(target: Vec3): ErrorOf {
  const from = xyzToIctcp(target);
  return (xyz) => {
    const to = xyzToIctcp(xyz);
    return [720 * (to[0] - from[0]), 360 * (to[1] - from[1]), 720 * (to[2] - from[2])];
  };
}

/** Δu′v′: a plane, the third component is 0. */
export function duvFrom(targetXy: Xy): ErrorOf {
  const from = xyToUv(targetXy);
  return (xyz) => {
    const to = xyToUv(xyzToXy(xyz));
    return [to[0] - from[0], to[1] - from[1], 0];
  };
}

/** Δu*v* at the lightness of the reading (CIE 15, EBU Tech 3320): 13·L*·Δu′v′, a plane. `whiteY`: luminance of L* = 100. */
export function duvStarFrom(targetXy: Xy, whiteY: number): ErrorOf {
  const from = xyToUv(targetXy);
  return (xyz) => {
    const to = xyToUv(xyzToXy(xyz));
    const by = 13 * yToLstar(xyz[1] / whiteY);
    return [by * (to[0] - from[0]), by * (to[1] - from[1]), 0];
  };
}

function minus(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}
