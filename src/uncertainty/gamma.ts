/**
 * Terms of the Poisson distribution and the incomplete gamma function, for real orders up to a million and more. The usual
 * exp(a·ln x − x − lnΓ) loses nine digits at a = 10⁶, as it takes the difference of numbers near 10⁷; the saddle-point form of
 * C. Loader, "Fast and Accurate Computation of Binomial Probabilities" (2000), has no such difference.
 */

/** lnΓ(a + 1) − [½·ln(2πa) + a·ln a − a]: what Stirling's formula lacks. a > 0; error below 2e-14. Source: Abramowitz & Stegun 6.1.41. */
function stirlingError(a: number): number {
  if (a < 16) {
    // Γ(a + 1) from Γ(a + n + 1), which the series can do.
    let product = 1;
    let shifted = a;
    while (shifted < 16) product *= ++shifted;
    const logGamma =
      0.5 * Math.log(2 * Math.PI * shifted) + shifted * Math.log(shifted) - shifted + stirlingError(shifted) - Math.log(product);
    return logGamma - 0.5 * Math.log(2 * Math.PI * a) - a * Math.log(a) + a;
  }
  const i = 1 / (a * a);
  return (1 / 12 - i * (1 / 360 - i * (1 / 1260 - i * (1 / 1680 - i * (1 / 1188 - (i * 691) / 360360))))) / a;
}

/** a·ln(a/x) + x − a, without cancellation where x is near a. Loader (2000), section 3. */
function deviance(a: number, x: number): number {
  if (!(Math.abs(a - x) < 0.1 * (a + x))) return a * Math.log(a / x) + x - a;
  const v = (a - x) / (a + x);
  let sum = (a - x) * v;
  let power = 2 * a * v;
  for (let j = 3; ; j += 2) {
    power *= v * v;
    const next = sum + power / j;
    if (next === sum) return sum;
    sum = next;
  }
}

/** x^a·e^(−x) / Γ(a + 1): for a whole number, the chance of a at a Poisson mean of x. a ≥ 0, x ≥ 0; relative error below 1e-13. */
export function poissonTerm(a: number, x: number): number {
  if (a === 0) return Math.exp(-x);
  if (x === 0) return 0;
  return Math.exp(-stirlingError(a) - deviance(a, x)) / Math.sqrt(2 * Math.PI * a);
}

/** Σ xⁿ / ((a+1)…(a+n)): the lower function over its Poisson term. Abramowitz & Stegun 6.5.29. Converges fast for x < a + 1. */
function series(a: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let n = a + 1; term > sum * 1e-17; n++) {
    term *= x / n;
    sum += term;
  }
  return sum;
}

/** The upper function over a times its Poisson term: Abramowitz & Stegun 6.5.31 by Lentz's method, for x ≥ a + 1. */
function fraction(a: number, x: number): number {
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let h = d;
  for (let i = 1; ; i++) {
    const numerator = -i * (i - a);
    b += 2;
    d = 1 / (numerator * d + b);
    c = b + numerator / c;
    h *= c * d;
    // Rounding can keep the factor one unit away from 1 for ever; so the count ends it too. NaN ends at once.
    if (!(Math.abs(c * d - 1) > 2.3e-16) || i > 20 + 20 * Math.sqrt(x)) return h;
  }
}

/** The regularised lower incomplete gamma function P(a, x). a > 0; error below 1e-13 for a up to 10⁶. P(a, x) = 0 for x ≤ 0. */
export function gammaP(a: number, x: number): number {
  if (!(x > 0)) return x <= 0 ? 0 : Number.NaN;
  return x < a + 1 ? poissonTerm(a, x) * series(a, x) : 1 - poissonTerm(a, x) * a * fraction(a, x);
}

/** Q(a, x) = 1 − P(a, x), with its own digits in the upper tail. Domain and error as `gammaP`. */
export function gammaQ(a: number, x: number): number {
  if (!(x > 0)) return x <= 0 ? 1 : Number.NaN;
  return x < a + 1 ? 1 - poissonTerm(a, x) * series(a, x) : poissonTerm(a, x) * a * fraction(a, x);
}
