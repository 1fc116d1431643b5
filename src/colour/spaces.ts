import { xyYToXyz } from './chromaticity';
import type { Mat3, Vec3, Xy } from './vector';
import { invert, multiply } from './vector';
import { WHITES } from './whites';

/** Chromaticities x, y of the three primaries. */
export interface Primaries {
  readonly r: Xy;
  readonly g: Xy;
  readonly b: Xy;
}

export interface Space {
  readonly id: SpaceId;
  readonly title: string;
  readonly primaries: Primaries;
  readonly white: Xy;
  readonly source: string;
}

export type SpaceId = 'bt709' | 'srgb' | 'bt2020' | 'p3-d65' | 'p3-dci' | 'bt601-525' | 'bt601-625' | 'oprgb';

const BT709: Primaries = { r: [0.64, 0.33], g: [0.3, 0.6], b: [0.15, 0.06] };
const P3: Primaries = { r: [0.68, 0.32], g: [0.265, 0.69], b: [0.15, 0.06] };

export const SPACES: Readonly<Record<SpaceId, Space>> = {
  bt709: { id: 'bt709', title: 'BT.709', primaries: BT709, white: WHITES.d65, source: 'ITU-R BT.709-6 items 1.3, 1.4' },
  srgb: { id: 'srgb', title: 'sRGB', primaries: BT709, white: WHITES.d65, source: 'IEC 61966-2-1:1999' },
  bt2020: {
    id: 'bt2020',
    title: 'BT.2020',
    primaries: { r: [0.708, 0.292], g: [0.17, 0.797], b: [0.131, 0.046] },
    white: WHITES.d65,
    source: 'ITU-R BT.2020-2 Table 3; ITU-R BT.2100 Table 2',
  },
  'p3-d65': { id: 'p3-d65', title: 'P3, D65 white', primaries: P3, white: WHITES.d65, source: 'SMPTE EG 432-1:2010' },
  'p3-dci': { id: 'p3-dci', title: 'P3, DCI white', primaries: P3, white: WHITES.dci, source: 'SMPTE RP 431-2:2011' },
  'bt601-525': {
    id: 'bt601-525',
    title: 'BT.601, 525 lines',
    primaries: { r: [0.63, 0.34], g: [0.31, 0.595], b: [0.155, 0.07] },
    white: WHITES.d65,
    source: 'ITU-R BT.601-7',
  },
  'bt601-625': {
    id: 'bt601-625',
    title: 'BT.601, 625 lines',
    primaries: { r: [0.64, 0.33], g: [0.29, 0.6], b: [0.15, 0.06] },
    white: WHITES.d65,
    source: 'ITU-R BT.601-7',
  },
  oprgb: {
    id: 'oprgb',
    title: 'opRGB',
    primaries: { r: [0.64, 0.33], g: [0.21, 0.71], b: [0.15, 0.06] },
    white: WHITES.d65,
    source: 'IEC 61966-2-5:2007',
  },
};

/** The space of this id, or undefined: ids come from text that people write. */
export function spaceOf(id: string): Space | undefined {
  return Object.hasOwn(SPACES, id) ? SPACES[id as SpaceId] : undefined;
}

/**
 * Linear RGB to XYZ, both relative: [1, 1, 1] gives the white at Y = 1, so the middle row (the luminance weights) sums to 1.
 * Source: SMPTE RP 177:1993. Undefined for primaries on one line, a primary or a white at y ≤ 0, or numbers that are not finite.
 */
export function rgbToXyzMatrix(primaries: Primaries, white: Xy): Mat3 | undefined {
  const { r, g, b } = primaries;
  if (!(r[1] > 0 && g[1] > 0 && b[1] > 0 && white[1] > 0)) return undefined;
  const chromaticities: Mat3 = [
    [r[0], g[0], b[0]],
    [r[1], g[1], b[1]],
    [1 - r[0] - r[1], 1 - g[0] - g[1], 1 - b[0] - b[1]],
  ];
  const inverse = invert(chromaticities);
  if (inverse === undefined) return undefined;
  const k = multiply(inverse, xyYToXyz(white[0], white[1], 1));
  return [scaled(chromaticities[0], k), scaled(chromaticities[1], k), scaled(chromaticities[2], k)];
}

function scaled(row: Vec3, k: Vec3): Vec3 {
  return [row[0] * k[0], row[1] * k[1], row[2] * k[2]];
}

/** XYZ to linear RGB, both relative: the inverse of `rgbToXyzMatrix`, undefined where that is or where it has no inverse. */
export function xyzToRgbMatrix(primaries: Primaries, white: Xy): Mat3 | undefined {
  const matrix = rgbToXyzMatrix(primaries, white);
  return matrix && invert(matrix);
}

export interface SpaceMatrices {
  /** Linear RGB to XYZ, white at Y = 1. */
  readonly toXyz: Mat3;
  /** XYZ to linear RGB, white at Y = 1. */
  readonly toRgb: Mat3;
}

interface Remembered {
  readonly white: Xy;
  readonly matrices: SpaceMatrices | undefined;
}

const remembered = new WeakMap<Primaries, Remembered[]>();

/** Enough for the targets of one project; a white read off a display may be new with every keystroke, so the oldest go. */
const REMEMBERED_WHITES = 16;

/**
 * Both matrices of a space with its own white or another one, made once and remembered. Undefined as in `rgbToXyzMatrix`; the spaces
 * of `SPACES` with their own white always have them.
 */
export function spaceMatrices(space: Pick<Space, 'primaries' | 'white'>, white: Xy = space.white): SpaceMatrices | undefined {
  let whites = remembered.get(space.primaries);
  if (whites === undefined) {
    whites = [];
    remembered.set(space.primaries, whites);
  }
  for (const one of whites) if (one.white[0] === white[0] && one.white[1] === white[1]) return one.matrices;
  const toXyz = rgbToXyzMatrix(space.primaries, white);
  const toRgb = toXyz && invert(toXyz);
  const matrices = toXyz && toRgb && { toXyz, toRgb };
  if (whites.length === REMEMBERED_WHITES) whites.shift();
  whites.push({ white: [white[0], white[1]], matrices });
  return matrices;
}
