import { pqInverse } from './pq';
import { SPACES, xyzToRgbMatrix } from './spaces';
import type { Mat3, Vec3 } from './vector';
import { multiply, multiplyMatrices } from './vector';

/** BT.2020 RGB to cone-like LMS. Source: ITU-R BT.2100 Table 7. */
const RGB_TO_LMS: Mat3 = [
  [1688 / 4096, 2146 / 4096, 262 / 4096],
  [683 / 4096, 2951 / 4096, 462 / 4096],
  [99 / 4096, 309 / 4096, 3688 / 4096],
];

const BT2020 = SPACES.bt2020;
const XYZ_TO_LMS: Mat3 = multiplyMatrices(RGB_TO_LMS, xyzToRgbMatrix(BT2020.primaries, BT2020.white)!);

/**
 * A cone response can come out slightly negative: the reading of a dark saturated colour, or a colour outside BT.2020. PQ knows no
 * such light, so it counts as none (signal 7.3e-7), and the result is always finite for finite input.
 */
function fromLms(lms: Vec3): Vec3 {
  const l = pqInverse(lms[0]);
  const m = pqInverse(lms[1]);
  const s = pqInverse(lms[2]);
  return [0.5 * l + 0.5 * m, (6610 * l - 13613 * m + 7003 * s) / 4096, (17933 * l - 17390 * m - 543 * s) / 4096];
}

/**
 * Absolute XYZ in cd/m² (white D65) to I, C_T, C_P in the PQ form. Source: ITU-R BT.2100 Table 7, BT.2124 Annex 1. Negative cone
 * responses count as 0, those above 10,000 cd/m² as 10,000.
 */
export function xyzToIctcp(xyz: Vec3): Vec3 {
  return fromLms(multiply(XYZ_TO_LMS, xyz));
}

/** Linear BT.2020 RGB in cd/m² (a white has its luminance in each channel) to I, C_T, C_P. Source and limits as `xyzToIctcp`. */
export function rgb2020ToIctcp(rgb: Vec3): Vec3 {
  return fromLms(multiply(RGB_TO_LMS, rgb));
}
