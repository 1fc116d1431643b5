import type { Vec3, Xy } from './vector';

export type { Xy } from './vector';

/**
 * Chromaticity and luminance (cd/m²) to XYZ (cd/m²). Source: CIE 15.
 *
 * At y = 0 no luminance goes with the chromaticity (the formula would divide by zero): the answer is black, [0, 0, 0]. A reading
 * with y = 0 is a slip of the pen, and naming it is the business of whoever read it. NaN in, NaN out.
 */
export function xyYToXyz(x: number, y: number, Y: number): Vec3 {
  if (y === 0) return [0, 0, 0];
  const k = Y / y;
  return [x * k, Y, (1 - x - y) * k];
}

/** XYZ in any one unit to x, y. Source: CIE 15. Black has no chromaticity: a sum of 0 gives [NaN, NaN]. */
export function xyzToXy(xyz: Vec3): Xy {
  const sum = xyz[0] + xyz[1] + xyz[2];
  if (sum === 0) return [Number.NaN, Number.NaN];
  return [xyz[0] / sum, xyz[1] / sum];
}

/** x, y to u′, v′ of the CIE 1976 diagram. Source: CIE 15. On the line −2x + 12y + 3 = 0, far from any light, not finite. */
export function xyToUv(xy: Xy): Xy {
  const divisor = -2 * xy[0] + 12 * xy[1] + 3;
  return [(4 * xy[0]) / divisor, (9 * xy[1]) / divisor];
}

/** u′, v′ of the CIE 1976 diagram to x, y: the inverse of `xyToUv`. Source: CIE 15. */
export function uvToXy(uv: Xy): Xy {
  const divisor = 6 * uv[0] - 16 * uv[1] + 12;
  return [(9 * uv[0]) / divisor, (4 * uv[1]) / divisor];
}

/** x, y to u, v of the CIE 1960 diagram, where correlated colour temperature is defined: v is two thirds of v′. Source: CIE 15. */
export function xyToUv1960(xy: Xy): Xy {
  const divisor = -2 * xy[0] + 12 * xy[1] + 3;
  return [(4 * xy[0]) / divisor, (6 * xy[1]) / divisor];
}

/** u, v of the CIE 1960 diagram to x, y. Source: CIE 15. */
export function uv1960ToXy(uv: Xy): Xy {
  return uvToXy([uv[0], 1.5 * uv[1]]);
}

/** Δu′v′: the distance of two chromaticities x, y in the CIE 1976 diagram. Source: CIE 15. */
export function deltaUv(xyA: Xy, xyB: Xy): number {
  const a = -2 * xyA[0] + 12 * xyA[1] + 3;
  const b = -2 * xyB[0] + 12 * xyB[1] + 3;
  const du = (4 * xyA[0]) / a - (4 * xyB[0]) / b;
  const dv = (9 * xyA[1]) / a - (9 * xyB[1]) / b;
  return Math.sqrt(du * du + dv * dv);
}
