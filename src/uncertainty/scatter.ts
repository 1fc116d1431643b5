import { chiSquareQuantile } from './chiSquare';
import { type Interval, LEVEL } from './interval';
import { normalQuantile } from './normal';

// Intervals of what readings of one quantity scatter about, from the readings alone: they hold nothing of what all of them share.

/** Terms of a continued fraction: enough for 15 digits at any argument asked here. */
const MOST_TERMS = 400;

/** The continued fraction of the incomplete beta function. Source: DLMF 8.17.22; evaluated by Lentz's method. */
function betaFraction(a: number, b: number, x: number): number {
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1));
  let h = d;
  for (let m = 1; m <= MOST_TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d);
    c = 1 + even / c;
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d);
    c = 1 + odd / c;
    h *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) break;
  }
  return h;
}

/** The normalising constant Γ((ν+1)/2)/(√(νπ)·Γ(ν/2)) of Student's density, by the recurrence of Γ from ν = 1 (1/π) and ν = 2 (1/(2√2)). */
function studentDensityAt0(nu: number): number {
  let density = nu % 2 === 1 ? 1 / Math.PI : 1 / (2 * Math.SQRT2);
  for (let k = nu % 2 === 1 ? 1 : 2; k < nu; k += 2) density *= ((k + 1) / k) * Math.sqrt(k / (k + 2));
  return density;
}

/**
 * The t that a Student variable with ν degrees of freedom (whole, ≥ 1) exceeds with probability `tail` (above 0, up to ½). Newton's steps on
 * the upper tail, which is half of the incomplete beta function I_x(ν/2, ½), x = ν/(ν + t²) (DLMF 8.17, Abramowitz & Stegun 26.7.1).
 */
export function studentQuantile(tail: number, nu: number): number {
  const at0 = studentDensityAt0(nu);
  const density = (t: number): number => at0 * (1 + (t * t) / nu) ** (-0.5 * (nu + 1));
  // I_x(a, ½) = x^a·(1 − x)^½/(a·B(a, ½))·fraction, and 1/B(ν/2, ½) is √ν·density(0); from x near 1 the other side converges.
  const upper = (t: number): number => {
    const x = nu / (nu + t * t);
    const front = Math.sqrt(nu) * at0 * x ** (0.5 * nu) * Math.sqrt(1 - x);
    const half = 0.5 * nu;
    return x < (half + 1) / (half + 2.5) ? (0.5 * front * betaFraction(half, 0.5, x)) / half : 0.5 - front * betaFraction(0.5, half, 1 - x);
  };
  // In ln t, from a start below: the tail is convex there, so the steps never pass the root.
  let t = 1e-8;
  let [low, high] = [0, Number.POSITIVE_INFINITY];
  for (let i = 0; i < 200; i++) {
    const over = upper(t) - tail;
    if (over > 0) low = t;
    else high = t;
    let next = t + over / density(t);
    if (!(next > low && next < high)) next = high < Number.POSITIVE_INFINITY ? 0.5 * (low + high) : 2 * t;
    if (Math.abs(next - t) <= 1e-14 * t) return next;
    t = next;
  }
  return t;
}

/** The interval of the mean that n readings with a sample standard deviation `sd` scatter about. Source: JCGM 100:2008, 4.2.3 and G.3. */
export function meanInterval(mean: number, sd: number, n: number, level = LEVEL): Interval {
  const half = (studentQuantile(0.5 * (1 - level), n - 1) * sd) / Math.sqrt(n);
  return [mean - half, mean + half];
}

/** The interval of the standard deviation: √((n − 1)/χ²) times what was seen. JCGM 100:2008, E.4.3 speaks of it. For normal scatter. */
export function deviationInterval(sd: number, n: number, level = LEVEL): Interval {
  const at = (p: number): number => sd * Math.sqrt((n - 1) / chiSquareQuantile(p, n - 1));
  const tail = 0.5 * (1 - level);
  return [at(1 - tail), at(tail)];
}

/**
 * The interval of the median, by ranks: as many readings from either end as a fair coin leaves out with probability `tail` at most (the
 * sign test; exact for any scatter, cautious as counts are whole). Undefined where even the extremes do not reach the level: below 6
 * readings at 0.95.
 */
export function medianInterval(values: ArrayLike<number>, level = LEVEL): Interval | undefined {
  const sorted = Float64Array.from(values).sort();
  const rank = coinRank(sorted.length, 0.5 * (1 - level));
  return rank === 0 ? undefined : [sorted[rank - 1]!, sorted[sorted.length - rank]!];
}

/** From here on the binomial terms begin too small for a number, and the normal approximation is good to a rank. */
const MANY = 500;

/** How many counts, from 0 up, n tosses of a fair coin fall into with probability `tail` at most. */
function coinRank(n: number, tail: number): number {
  if (n > MANY) return Math.floor(0.5 * (n + normalQuantile(tail) * Math.sqrt(n)));
  let rank = 0;
  let term = 0.5 ** n;
  for (let sum = term; sum <= tail; sum += term) term *= (n - rank) / ++rank;
  return rank;
}
