import { yToLstar } from './lab';
import type { Vec3 } from './vector';

/**
 * XYZ to L*, u*, v*. Source: ISO/CIE 11664-5, CIE 15:2018. Both in the same unit; `whiteXyz` is the reference white at its luminance.
 * A stimulus with X + 15Y + 3Z = 0 (black) has no chromaticity: u* = v* = 0.
 */
export function xyzToLuv(xyz: Vec3, whiteXyz: Vec3): Vec3 {
  const L = yToLstar(xyz[1] / whiteXyz[1]);
  const divisor = xyz[0] + 15 * xyz[1] + 3 * xyz[2];
  if (divisor === 0) return [L, 0, 0];
  const whiteDivisor = whiteXyz[0] + 15 * whiteXyz[1] + 3 * whiteXyz[2];
  const u = (4 * xyz[0]) / divisor - (4 * whiteXyz[0]) / whiteDivisor;
  const v = (9 * xyz[1]) / divisor - (9 * whiteXyz[1]) / whiteDivisor;
  return [L, 13 * L * u, 13 * L * v];
}
