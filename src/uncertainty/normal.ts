import { gammaP, gammaQ } from './gamma';

/** The density φ(z) of the standard normal distribution. */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
}

/** The distribution function Φ(z), by the incomplete gamma function of order ½. Relative error below 1e-13 in both tails. */
export function normalCdf(z: number): number {
  const half = 0.5 * z * z;
  return z < 0 ? 0.5 * gammaQ(0.5, half) : 0.5 + 0.5 * gammaP(0.5, half);
}

const CENTRAL = [
  [
    2509.0809287301227, 33430.57558358813, 67265.7709270087, 45921.95393154987, 13731.69376550946, 1971.5909503065513, 133.14166789178438,
    3.3871328727963665,
  ],
  [
    5226.495278852854, 28729.085735721943, 39307.89580009271, 21213.794301586597, 5394.196021424751, 687.1870074920579, 42.31333070160091,
    1,
  ],
] as const;
const TAIL = [
  [
    0.0007745450142783414, 0.022723844989269184, 0.2417807251774506, 1.2704582524523684, 3.6478483247632045, 5.769497221460691,
    4.630337846156546, 1.4234371107496835,
  ],
  [
    1.0507500716444169e-9, 0.0005475938084995345, 0.015198666563616457, 0.14810397642748008, 0.6897673349851, 1.6763848301838038,
    2.053191626637759, 1,
  ],
] as const;
const FAR_TAIL = [
  [
    2.0103343992922881e-7, 2.7115555687434876e-5, 0.0012426609473880784, 0.026532189526576124, 0.29656057182850487, 1.7848265399172913,
    5.463784911164114, 6.657904643501103,
  ],
  [
    2.0442631033899397e-15, 1.421511758316446e-7, 1.8463183175100548e-5, 0.0007868691311456133, 0.014875361290850615, 0.1369298809227358,
    0.599832206555888, 1,
  ],
] as const;

function ratio([above, below]: readonly [readonly number[], readonly number[]], r: number): number {
  let a = 0;
  let b = 0;
  for (let i = 0; i < 8; i++) {
    a = a * r + above[i]!;
    b = b * r + below[i]!;
  }
  return a / b;
}

/**
 * Φ⁻¹(p): −∞ at 0, ∞ at 1, NaN outside. Source: M. J. Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37 (1988); relative error
 * about 1e-15. For p near 1 the digits are those that 1 − p still has.
 */
export function normalQuantile(p: number): number {
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) return q * ratio(CENTRAL, 0.180625 - q * q);
  if (!(p > 0 && p < 1)) return p === 0 ? Number.NEGATIVE_INFINITY : p === 1 ? Number.POSITIVE_INFINITY : Number.NaN;
  const r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
  const z = r <= 5 ? ratio(TAIL, r - 1.6) : ratio(FAR_TAIL, r - 5);
  return q < 0 ? -z : z;
}

/**
 * How many standard deviations the largest of n independent normal errors stays within with the probability given:
 * k = Φ⁻¹(1 − (1 − p^(1/n))/2), the maximum test for n two-sided comparisons at once (Z. Šidák, JASA 62 (1967)). n ≥ 1.
 */
export function maximumFactor(n: number, probability = 0.95): number {
  return -normalQuantile(-Math.expm1(Math.log(probability) / n) / 2);
}
