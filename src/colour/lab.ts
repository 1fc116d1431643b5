import type { Vec3 } from './vector';

const EPSILON = 216 / 24389;
const KAPPA = 24389 / 27;

function forward(t: number): number {
  return t > EPSILON ? Math.cbrt(t) : (KAPPA * t + 16) / 116;
}

function backward(f: number): number {
  const cube = f * f * f;
  return cube > EPSILON ? cube : (116 * f - 16) / KAPPA;
}

/**
 * XYZ to L*, a*, b*. Source: ISO/CIE 11664-4, CIE 15:2018 (ε = 216/24389, κ = 24389/27). Both in the same unit; `whiteXyz` is the
 * reference white at its luminance. Negative values follow the straight part; a white with a 0 is not finite.
 *
 * The white is the display's target white itself: going through a D50-adapted Lab gives other differences.
 */
export function xyzToLab(xyz: Vec3, whiteXyz: Vec3): Vec3 {
  return putLab([0, 0, 0], xyz[0], xyz[1], xyz[2], whiteXyz);
}

/** `xyzToLab` into numbers that are there already: of ten thousand colours, those made one by one are a megabyte to collect. */
export function putLab(lab: [number, number, number], X: number, Y: number, Z: number, whiteXyz: Vec3): Vec3 {
  const fx = forward(X / whiteXyz[0]);
  const fy = forward(Y / whiteXyz[1]);
  const fz = forward(Z / whiteXyz[2]);
  lab[0] = 116 * fy - 16;
  lab[1] = 500 * (fx - fy);
  lab[2] = 200 * (fy - fz);
  return lab;
}

/** L*, a*, b* to XYZ in the unit of `whiteXyz`: the inverse of `xyzToLab`. Source: ISO/CIE 11664-4. */
export function labToXyz(lab: Vec3, whiteXyz: Vec3): Vec3 {
  const fy = (lab[0] + 16) / 116;
  return [whiteXyz[0] * backward(fy + lab[1] / 500), whiteXyz[1] * backward(fy), whiteXyz[2] * backward(fy - lab[2] / 200)];
}

/** L* of a luminance relative to white (0 … 1; above and below it goes on). Source: CIE 15:2018 §8.2.1. */
export function yToLstar(relativeLuminance: number): number {
  return 116 * forward(relativeLuminance) - 16;
}
