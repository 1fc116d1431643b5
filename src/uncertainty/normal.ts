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
    2509.0809287301226727, 33430.575583588128105, 67265.770927008700853, 45921.953931549871457, 13731.693765509461125,
    1971.5909503065514427, 133.14166789178437745, 3.387132872796366608,
  ],
  [
    5226.495278852854561, 28729.085735721942674, 39307.89580009271061, 21213.794301586595867, 5394.1960214247511077, 687.1870074920579083,
    42.313330701600911252, 1,
  ],
] as const;
const TAIL = [
  [
    7.7454501427834140764e-4, 0.0227238449892691845833, 0.24178072517745061177, 1.27045825245236838258, 3.64784832476320460504,
    5.7694972214606914055, 4.6303378461565452959, 1.42343711074968357734,
  ],
  [
    1.05075007164441684324e-9, 5.475938084995344946e-4, 0.0151986665636164571966, 0.14810397642748007459, 0.68976733498510000455,
    1.6763848301838038494, 2.05319162663775882187, 1,
  ],
] as const;
const FAR_TAIL = [
  [
    2.01033439929228813265e-7, 2.71155556874348757815e-5, 0.0012426609473880784386, 0.026532189526576123093, 0.29656057182850489123,
    1.7848265399172913358, 5.4637849111641143699, 6.6579046435011037772,
  ],
  [
    2.04426310338993978564e-15, 1.4215117583164458887e-7, 1.8463183175100546818e-5, 7.868691311456132591e-4, 0.0148753612908506148525,
    0.13692988092273580531, 0.59983220655588793769, 1,
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
