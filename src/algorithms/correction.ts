import { xyzToXy } from '../colour/chromaticity';
import { invert, type Mat3, multiply, multiplyMatrices, type Vec3, type Xy } from '../colour/vector';
import { type Phrase, phrase } from '../text/message';
import { computed, type Refused, type Result, refused } from './result';

/** One colour as both meters read it, XYZ, cd/m². */
export interface Pair {
  readonly reference: Vec3;
  readonly instrument: Vec3;
}

export const METERS: Readonly<Record<keyof Pair, Phrase>> = {
  reference: phrase('the reference meter'),
  instrument: phrase('the meter to correct'),
};

export const CORNERS = ['white', 'red', 'green', 'blue'] as const;
export type Corner = (typeof CORNERS)[number];
export type Corners = Readonly<Record<Corner, Pair>>;

export interface Correction {
  /** What XYZ of the instrument are multiplied by. */
  readonly matrix: Mat3;
  /** Condition numbers of the chromaticities of red, green and blue, of the reference and of the instrument. */
  readonly condition: { readonly reference: number; readonly instrument: number };
}

/** Above this the matrix multiplies the scatter of the readings into the correction. Common practice, no source. */
const MOST_CONDITION = 20;

/**
 * The matrix that corrects a meter for one panel type and mode, from white, red, green and blue read with it and with a reference.
 * Source: Ohno & Hardis, "Four-color matrix method for correction of tristimulus colorimeters" (1997); ASTM E1455.
 *
 * Chromaticities only: N·k = w for either meter, N with the x, y, z of red, green and blue as columns and w that of white;
 * A = s·N_R·diag(k_R)·(N_I·diag(k_I))⁻¹ with s so that white has the luminance of the reference. Luminances of red, green and blue
 * have no part in it, so a display that drifts between the two meters spoils nothing but s. White is met by construction.
 *
 * Refused for a colour that is missing or dark, primaries on one line or too close together (condition of N in the 2-norm above 20),
 * and white that lies on or outside the triangle of the primaries: some k ≤ 0, since the k are its barycentric coordinates there.
 */
export function fourColourCorrection(pairs: Readonly<Partial<Record<Corner, Pair>>>): Result<Correction> {
  for (const colour of CORNERS) if (!pairs[colour]) return refused('colour-missing', { colour });
  const corners = pairs as Corners;
  for (const colour of CORNERS) {
    const unlit = darkSide(colour, corners[colour]);
    if (unlit) return unlit;
  }
  const reference = mixtureOf(corners, 'reference');
  if (!reference.ok) return reference;
  const instrument = mixtureOf(corners, 'instrument');
  if (!instrument.ok) return instrument;
  const back = invert(instrument.v.mixture);
  if (!back) return refused('primaries-flat', { meter: METERS.instrument });
  const shape = multiplyMatrices(reference.v.mixture, back);
  const s = corners.white.reference[1] / multiply(shape, corners.white.instrument)[1];
  return computed({
    matrix: [times(shape[0], s), times(shape[1], s), times(shape[2], s)],
    condition: { reference: reference.v.condition, instrument: instrument.v.condition },
  });
}

/** XYZ as the reference would have read them. */
export const corrected = (correction: Correction, xyz: Vec3): Vec3 => multiply(correction.matrix, xyz);

interface Mixture {
  /** N·diag(k): columns of red, green and blue that add up to the chromaticity of white. */
  readonly mixture: Mat3;
  readonly condition: number;
}

function mixtureOf(corners: Corners, meter: keyof Pair): Result<Mixture> {
  const [w, r, g, b] = CORNERS.map((colour) => shares(corners[colour][meter])) as [Vec3, Vec3, Vec3, Vec3];
  const N: Mat3 = [
    [r[0], g[0], b[0]],
    [r[1], g[1], b[1]],
    [r[2], g[2], b[2]],
  ];
  const inverse = invert(N);
  if (!inverse) return refused('primaries-flat', { meter: METERS[meter] });
  const k = multiply(inverse, w);
  if (!(k[0] > 0 && k[1] > 0 && k[2] > 0)) return refused('white-outside', { meter: METERS[meter] });
  const found = condition(N);
  if (!(found <= MOST_CONDITION)) return refused('ill-conditioned', { meter: METERS[meter], condition: found, most: MOST_CONDITION });
  return computed({
    mixture: [
      [N[0][0] * k[0], N[0][1] * k[1], N[0][2] * k[2]],
      [N[1][0] * k[0], N[1][1] * k[1], N[1][2] * k[2]],
      [N[2][0] * k[0], N[2][1] * k[1], N[2][2] * k[2]],
    ],
    condition: found,
  });
}

function darkSide(colour: string, pair: Pair): Refused | undefined {
  for (const meter of ['reference', 'instrument'] as const)
    if (!(pair[meter].every(Number.isFinite) && pair[meter][1] > 0)) return refused('colour-dark', { colour, meter: METERS[meter] });
  return undefined;
}

const times = (v: Vec3, s: number): Vec3 => [v[0] * s, v[1] * s, v[2] * s];

/** x, y, z: the shares of X, Y and Z. */
function shares(xyz: Vec3): Vec3 {
  const [x, y] = xyzToXy(xyz);
  return [x, y, 1 - x - y];
}

/**
 * Condition number in the 2-norm: the ratio of the largest to the smallest singular value. The singular values are the roots of the
 * eigenvalues of mᵀm, which a symmetric 3 × 3 matrix has in closed form (Smith 1961). Infinite for a singular matrix. Squaring costs
 * half the digits: good to about a millionth for conditions up to 1,000.
 */
export function condition(m: Mat3): number {
  const column = (c: 0 | 1 | 2): Vec3 => [m[0][c], m[1][c], m[2][c]];
  const dot = (p: Vec3, q: Vec3) => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
  const [p, q, r] = [column(0), column(1), column(2)];
  const [a, b, c, d, e, f] = [dot(p, p), dot(q, q), dot(r, r), dot(p, q), dot(q, r), dot(p, r)];
  const mean = (a + b + c) / 3;
  const size = Math.sqrt(((a - mean) ** 2 + (b - mean) ** 2 + (c - mean) ** 2 + 2 * (d * d + e * e + f * f)) / 6);
  if (size === 0) return mean > 0 ? 1 : Number.POSITIVE_INFINITY;
  const [u, v, w] = [(a - mean) / size, (b - mean) / size, (c - mean) / size];
  const [x, y, z] = [d / size, e / size, f / size];
  const half = (u * v * w + 2 * x * y * z - u * y * y - v * z * z - w * x * x) / 2;
  const angle = Math.acos(Math.min(1, Math.max(-1, half))) / 3;
  const largest = mean + 2 * size * Math.cos(angle);
  const smallest = mean + 2 * size * Math.cos(angle + (2 * Math.PI) / 3);
  return smallest > 0 ? Math.sqrt(largest / smallest) : Number.POSITIVE_INFINITY;
}

/** How a colour comes out of the correction. */
export interface Residual {
  readonly name: string;
  /** Corrected less reference, x and y, and their distance. */
  readonly dx: number;
  readonly dy: number;
  readonly xy: number;
  /** Corrected luminance over that of the reference. */
  readonly luminance: number;
  /** Of the reference reading, from white (0) to the edge of the triangle of the primaries (1; above 1 outside). */
  readonly saturation: number;
}

export interface CorrectionCheck {
  /** Luminance ratios of red, green and blue: 1 for a display that held still and a filter that suits its spectrum. */
  readonly luminance: Readonly<Record<'red' | 'green' | 'blue', number>>;
  readonly further: readonly Residual[];
  /** Largest xy distance of the further colours, the first of equals; undefined without any, when nothing has been proved. */
  readonly largest?: Residual;
  /** A further colour about half saturated: what a panel with a white emitter mixes from other light than its primaries. */
  readonly midSaturation: boolean;
}

/** About half saturated. Common practice, no source. */
const MID_SATURATION = [0.25, 0.75] as const;

/**
 * What tells whether a correction is good: residuals of colours that had no part in it (yellow, cyan, magenta, a mid grey …), and
 * luminance ratios. White proves nothing, as it is met by construction, and neither do the chromaticities of red, green and blue.
 * Refused for a further colour that is dark.
 */
export function checkCorrection(
  correction: Correction,
  corners: Corners,
  further: readonly (Pair & { readonly name: string })[],
): Result<CorrectionCheck> {
  const ratio = ({ reference, instrument }: Pair) => corrected(correction, instrument)[1] / reference[1];
  const residuals: Residual[] = [];
  for (const { name, reference, instrument } of further) {
    const unlit = darkSide(name, { reference, instrument });
    if (unlit) return unlit;
    const [x, y] = xyzToXy(reference);
    const [cx, cy] = xyzToXy(corrected(correction, instrument));
    residuals.push({
      name,
      dx: cx - x,
      dy: cy - y,
      xy: Math.hypot(cx - x, cy - y),
      luminance: ratio({ reference, instrument }),
      saturation: saturationIn([x, y], corners),
    });
  }
  const largest = residuals.reduce<Residual | undefined>((most, one) => (most && most.xy >= one.xy ? most : one), undefined);
  return computed({
    luminance: { red: ratio(corners.red), green: ratio(corners.green), blue: ratio(corners.blue) },
    further: residuals,
    ...(largest && { largest }),
    midSaturation: residuals.some(({ saturation }) => saturation >= MID_SATURATION[0] && saturation <= MID_SATURATION[1]),
  });
}

/** How far a chromaticity is from white towards the edge: in barycentric coordinates the edge is where one of them is 0. */
function saturationIn([x, y]: Xy, corners: Corners): number {
  const [w, r, g, b] = CORNERS.map((colour) => shares(corners[colour].reference)) as [Vec3, Vec3, Vec3, Vec3];
  const inverse = invert([
    [r[0], g[0], b[0]],
    [r[1], g[1], b[1]],
    [r[2], g[2], b[2]],
  ]);
  if (!inverse) return Number.NaN;
  const ofWhite = multiply(inverse, w);
  const here = multiply(inverse, [x, y, 1 - x - y]);
  return 1 - Math.min(here[0] / ofWhite[0], here[1] / ofWhite[1], here[2] / ofWhite[2]);
}
