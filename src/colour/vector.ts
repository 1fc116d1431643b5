/** Three numbers that belong together: XYZ, linear RGB, L*a*b*, cone responses. */
export type Vec3 = readonly [number, number, number];

/** A point of a plane: CIE 1931 x, y, or u′, v′ where the name says so. */
export type Xy = readonly [number, number];

/** Three rows. */
export type Mat3 = readonly [Vec3, Vec3, Vec3];

/** m · v. Any numbers; NaN in, NaN out. */
export function multiply(m: Mat3, v: Vec3): Vec3 {
  // By index: taken apart as a pattern they are walked by an iterator, which takes twice as long.
  const a = v[0];
  const b = v[1];
  const c = v[2];
  const p = m[0];
  const q = m[1];
  const r = m[2];
  return [p[0] * a + p[1] * b + p[2] * c, q[0] * a + q[1] * b + q[2] * c, r[0] * a + r[1] * b + r[2] * c];
}

/** a · b: what `b` does first and `a` after it. */
export function multiplyMatrices(a: Mat3, b: Mat3): Mat3 {
  return [rowTimes(a[0], b), rowTimes(a[1], b), rowTimes(a[2], b)];
}

function rowTimes(row: Vec3, m: Mat3): Vec3 {
  const [a, b, c] = row;
  return [a * m[0][0] + b * m[1][0] + c * m[2][0], a * m[0][1] + b * m[1][1] + c * m[2][1], a * m[0][2] + b * m[1][2] + c * m[2][2]];
}

/**
 * A determinant this small beside the product of the rows' lengths (its largest possible value) leaves no digits worth having.
 * A ratio, so that the answer does not depend on the unit the matrix is written in.
 */
const SINGULAR = 1e-13;

/** The inverse, or undefined where there is none: rows that lie in a plane, or numbers that are not finite. */
export function invert(m: Mat3): Mat3 | undefined {
  const [[a, b, c], [d, e, f], [g, h, i]] = m;
  const A = e * i - f * h;
  const B = f * g - d * i;
  const C = d * h - e * g;
  const determinant = a * A + b * B + c * C;
  const largest = Math.hypot(a, b, c) * Math.hypot(d, e, f) * Math.hypot(g, h, i);
  if (!(Math.abs(determinant) > SINGULAR * largest) || !Number.isFinite(largest)) return undefined;
  const k = 1 / determinant;
  return [
    [A * k, (c * h - b * i) * k, (b * f - c * e) * k],
    [B * k, (a * i - c * g) * k, (c * d - a * f) * k],
    [C * k, (b * g - a * h) * k, (a * e - b * d) * k],
  ];
}
