const SCALE = 1 / Math.sqrt(2 * Math.PI);
/** Where the series of the middle and the continued fraction of the tail are both good to the last digits. */
const TAIL = 3;

const density = (x: number): number => SCALE * Math.exp(-0.5 * x * x);

/**
 * The probability that a standard normal variable exceeds x. Source: Abramowitz & Stegun 26.2.11 (series, |x| ≤ 3) and 26.2.14
 * (continued fraction beyond), which keeps its relative accuracy in the upper tail. NaN in, NaN out.
 */
export function normalTail(x: number): number {
  if (x < -TAIL) return 1 - normalTail(-x);
  if (x > TAIL) {
    let fraction = x;
    for (let k = 60; k >= 1; k--) fraction = x + k / fraction;
    return density(x) / fraction;
  }
  let term = x;
  let sum = x;
  for (let k = 3; Math.abs(term) > 1e-17; k += 2) {
    term *= (x * x) / k;
    sum += term;
  }
  return 0.5 - density(x) * sum;
}

/**
 * The x that a standard normal variable exceeds with probability `tail`: Φ⁻¹(1 − tail), written with the tail because 1 − tail has no
 * digits left for it. Bisection of `normalTail` to the last bit. 0 gives ∞, 1 gives −∞; outside 0 … 1, or NaN: NaN.
 */
export function normalQuantile(tail: number): number {
  if (!(tail >= 0 && tail <= 1)) return Number.NaN;
  if (tail === 0) return Number.POSITIVE_INFINITY;
  if (tail === 1) return Number.NEGATIVE_INFINITY;
  let low = -40;
  let high = 40;
  for (;;) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) return middle;
    if (normalTail(middle) > tail) low = middle;
    else high = middle;
  }
}

/**
 * How many standard deviations the largest of n independent normal errors stays within with the probability given:
 * k = Φ⁻¹(1 − (1 − p^(1/n))/2), the maximum test for n two-sided comparisons at once (Šidák 1967). n ≥ 1.
 */
export function maximumFactor(n: number, probability = 0.95): number {
  return normalQuantile(-Math.expm1(Math.log(probability) / n) / 2);
}
