/**
 * The colour arithmetic of the simulator. It is written a second time on purpose: the simulator is an outside check on src/colour,
 * and a shared mistake would hide itself.
 */

export type Triple = readonly [number, number, number];
export type Matrix = readonly [Triple, Triple, Triple];
export type Pair = readonly [number, number];

/** D65 as ITU-R BT.709, BT.2020 and SMPTE RP 431-2 (P3 D65: EG 432-1) write it. */
export const d65: Pair = [0.3127, 0.329];

/** Chromaticities of red, green, blue: ITU-R BT.709-6 table 1, BT.2020-2 table 3, SMPTE EG 432-1 (P3). */
export const spaces = {
  bt709: [
    [0.64, 0.33],
    [0.3, 0.6],
    [0.15, 0.06],
  ],
  p3: [
    [0.68, 0.32],
    [0.265, 0.69],
    [0.15, 0.06],
  ],
  bt2020: [
    [0.708, 0.292],
    [0.17, 0.797],
    [0.131, 0.046],
  ],
} as const satisfies Record<string, readonly [Pair, Pair, Pair]>;

export const times = (m: Matrix, v: Triple): Triple => [dot(m[0], v), dot(m[1], v), dot(m[2], v)];
export const map = (v: Triple, f: (value: number, channel: 0 | 1 | 2) => number): Triple => [f(v[0], 0), f(v[1], 1), f(v[2], 2)];
const dot = (a: Triple, b: Triple): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Triple, b: Triple): Triple => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const transpose = (m: Matrix): Matrix => [
  [m[0][0], m[1][0], m[2][0]],
  [m[0][1], m[1][1], m[2][1]],
  [m[0][2], m[1][2], m[2][2]],
];

/** Rows of the inverse are the cross products of the columns, over the determinant. */
export function inverse(m: Matrix): Matrix {
  const [a, b, c] = transpose(m);
  const det = dot(a, cross(b, c));
  const over = (v: Triple): Triple => map(v, (n) => n / det);
  return [over(cross(b, c)), over(cross(c, a)), over(cross(a, b))];
}

export function product(a: Matrix, b: Matrix): Matrix {
  const columns = transpose(b);
  return transpose([times(a, columns[0]), times(a, columns[1]), times(a, columns[2])]);
}

export const xyzOf = ([x, y]: Pair, Y = 1): Triple => [(x / y) * Y, Y, ((1 - x - y) / y) * Y];
export const xyOf = ([X, Y, Z]: Triple): Pair => [X / (X + Y + Z), Y / (X + Y + Z)];

/** u', v' (CIE 15:2018 eq. 8.3) and back. */
export const uvOf = ([x, y]: Pair): Pair => [(4 * x) / (-2 * x + 12 * y + 3), (9 * y) / (-2 * x + 12 * y + 3)];
export const xyOfUv = ([u, v]: Pair): Pair => [(9 * u) / (6 * u - 16 * v + 12), (4 * v) / (6 * u - 16 * v + 12)];

/** Linear RGB (1, 1, 1 = white at Y 1) to XYZ, from chromaticities (SMPTE RP 177-1993). */
export function rgbToXyz(primaries: readonly [Pair, Pair, Pair], white: Pair = d65): Matrix {
  const chromaticities = transpose([xyzOf(primaries[0]), xyzOf(primaries[1]), xyzOf(primaries[2])]);
  const amounts = times(inverse(chromaticities), xyzOf(white));
  return [
    map(chromaticities[0], (n, i) => n * amounts[i]),
    map(chromaticities[1], (n, i) => n * amounts[i]),
    map(chromaticities[2], (n, i) => n * amounts[i]),
  ];
}

/** Linear RGB of one set of primaries to linear RGB of another, both with white D65. */
export const between = (from: readonly [Pair, Pair, Pair], to: readonly [Pair, Pair, Pair]): Matrix =>
  product(inverse(rgbToXyz(to)), rgbToXyz(from));

// SMPTE ST 2084:2014, 5.3.
const m1 = 2610 / 16384;
const m2 = (2523 / 4096) * 128;
const c1 = 3424 / 4096;
const c2 = (2413 / 4096) * 32;
const c3 = (2392 / 4096) * 32;

/** PQ signal 0..1 to cd/m² 0..10 000. */
export function pqLight(signal: number): number {
  const e = Math.max(0, signal) ** (1 / m2);
  return 10_000 * (Math.max(0, e - c1) / (c2 - c3 * e)) ** (1 / m1);
}

/** cd/m² to PQ signal. */
export function pqSignal(light: number): number {
  const y = (Math.max(0, light) / 10_000) ** m1;
  return ((c1 + c2 * y) / (1 + c3 * y)) ** m2;
}

/** HLG signal 0..1 to scene light 0..1 (ITU-R BT.2100-2 table 5, inverse OETF). */
export function hlgScene(signal: number): number {
  const a = 0.17883277;
  const b = 1 - 4 * a;
  const c = 0.5 - a * Math.log(4 * a);
  return signal <= 0.5 ? signal ** 2 / 3 : (Math.exp((signal - c) / a) + b) / 12;
}

/** Light in cd/m² that a display of this peak makes of an HLG signal: the OOTF acts on luminance (table 5, system gamma of note 5f). */
export function hlgLight(signal: Triple, peak: number): Triple {
  const scene = map(signal, hlgScene);
  const luminance = dot([0.2627, 0.678, 0.0593], scene);
  const gamma = 1.2 + 0.42 * Math.log10(peak / 1000);
  return luminance === 0 ? [0, 0, 0] : map(scene, (light) => peak * luminance ** (gamma - 1) * light);
}

/**
 * The electrical-electrical transfer function of ITU-R BT.2390 5.4.1 (and BT.2408 Annex 5), black levels at 0: light as mastered up to
 * `mastering` cd/m² in, light shown by a display of `peak` cd/m² out. A display brighter than the mastering peak changes nothing.
 */
export function eetf(light: number, mastering: number, peak: number): number {
  const top = pqSignal(Math.max(mastering, peak));
  const max = pqSignal(peak) / top;
  const knee = 1.5 * max - 0.5;
  const e = Math.min(1, pqSignal(light) / top);
  if (e < knee || knee >= 1) return pqLight(e * top);
  const t = (e - knee) / (1 - knee);
  const bent = (2 * t ** 3 - 3 * t ** 2 + 1) * knee + (t ** 3 - 2 * t ** 2 + t) * (1 - knee) + (-2 * t ** 3 + 3 * t ** 2) * max;
  return pqLight(bent * top);
}
