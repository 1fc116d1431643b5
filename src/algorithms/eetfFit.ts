import { eetfKneeStart, eetfOf } from '../colour/eetf';
import { pqEotf, pqInverse } from '../colour/pq';
import { phrase } from '../text/message';
import { computed, type Result, refused } from './result';
import { deviationStops, knee, overallGain, rising, type Tracking } from './tracking';

export interface EetfFit {
  /** Peak of the fitted roll-off with the overall gain in it, cd/m². */
  readonly peak: number;
  /** Where the fitted roll-off starts: PQ signal, and luminance of the display there, cd/m². */
  readonly kneeStart: { readonly signal: number; readonly luminance: number };
  /** The mastering peak, cd/m², that the display maps from, if it works as the report does. */
  readonly from: number;
  /** Root mean square of what is left, stops: how far the display is from any roll-off of this kind. */
  readonly rms: number;
  /** Rows above the fitted start. */
  readonly n: number;
}

/** Rows with darker targets tell nothing of a roll-off, and a lifted black is none of it: cd/m². */
const DARKEST = 5;
/** Where the search for the mapped-from peak starts, as shares of the way from the peak to the end of PQ. */
const STARTS = [0, 0.25, 0.5, 0.75, 1];

/**
 * The EETF of Report ITU-R BT.2408 Annex 5 (before: BT.2390) that comes nearest to the readings: peak and start of the roll-off, of
 * which the report makes one the consequence of the other for a known mastering peak; here both are free, since a display may ignore
 * what it is told. A display that clips without any roll-off is the case in which the two meet.
 *
 * Least squares in PQ signal over rows with targets of 5 cd/m² and more, the overall gain of the mid-tones taken off first as for the
 * knee; black 0 on both sides. Damped Gauss–Newton from five starts; of equally good ends the first counts. Refused for a run without
 * a knee, or with fewer than three rows above the start that was found: two numbers are not told from two. The readings should reach
 * the display's peak; where they end below it the two numbers hang on the shape alone.
 */
export function fitEetf(run: Pick<Tracking, 'signals' | 'luminance' | 'u'>): Result<EetfFit> {
  const { signals, luminance, u } = run;
  const pq: Tracking = { signals, luminance, u };
  const end = knee(pq);
  if (!end.ok) return end;
  if (!end.v.found) return refused('no-roll-off', { level: 100 * end.v.upTo });
  const gain = overallGain(pq);
  if (!gain.ok) return gain;
  const g = 2 ** gain.v;
  const rows = rising(signals, deviationStops(pq)).filter((i) => pqEotf(signals[i]!) >= DARKEST);
  const input = rows.map((i) => signals[i]!);
  const output = rows.map((i) => pqInverse(luminance[i]! / g));

  const peak = Math.max(...output);
  let best: Fit | undefined;
  for (const share of STARTS) {
    const fit = descend(input, output, { peak, from: peak + share * (1 - peak) });
    if (!best || fit.squares < best.squares) best = fit;
  }
  const range = rangeOf(best!.at);
  const start = eetfKneeStart(range);
  const n = input.filter((s) => s > start).length;
  if (n < 3) return refused('too-few-rows', { count: 3, which: phrase('above the start of the roll-off'), found: n });
  const mapped = eetfOf(range);
  const left = rows.map((i) => Math.log2(luminance[i]! / g / pqEotf(mapped(signals[i]!))));
  return computed({
    peak: range.Lmax * g,
    kneeStart: { signal: start, luminance: pqEotf(start) * g },
    from: range.Lw,
    rms: Math.sqrt(left.reduce((sum, d) => sum + d * d, 0) / left.length),
    n,
  });
}

/** PQ signals of the display's peak and of the mastering peak it maps from. */
interface Parameters {
  readonly peak: number;
  readonly from: number;
}

interface Fit {
  readonly at: Parameters;
  readonly squares: number;
}

const rangeOf = ({ peak, from }: Parameters) => ({ Lb: 0, Lw: pqEotf(from), Lmin: 0, Lmax: pqEotf(peak) });

/** A display maps from no less than its peak, and PQ ends at 1. The lower end (8 cd/m²) only keeps the search in bounds. */
function bounded({ peak, from }: Parameters): Parameters {
  const most = Math.min(1, Math.max(0.3, peak));
  return { peak: most, from: Math.min(1, Math.max(most, from)) };
}

/** Levenberg–Marquardt (Marquardt 1963) for two parameters, with derivatives by differences. */
function descend(input: readonly number[], output: readonly number[], start: Parameters): Fit {
  const residuals = (at: Parameters): number[] => {
    const mapped = eetfOf(rangeOf(at));
    return input.map((s, i) => output[i]! - mapped(s));
  };
  const squaresOf = (r: readonly number[]) => r.reduce((sum, v) => sum + v * v, 0);
  const STEP = 1e-6;
  let at = bounded(start);
  let r = residuals(at);
  let squares = squaresOf(r);
  let damping = 1e-3;
  for (let round = 0; round < 100 && damping < 1e9; round++) {
    const byPeak = residuals({ ...at, peak: at.peak - STEP }).map((v, i) => (v - r[i]!) / STEP);
    const byFrom = residuals({ ...at, from: at.from + STEP * (at.from < 1 - STEP ? 1 : -1) }).map(
      (v, i) => (r[i]! - v) / (STEP * (at.from < 1 - STEP ? 1 : -1)),
    );
    const dot = (p: readonly number[], q: readonly number[]) => p.reduce((sum, v, i) => sum + v * q[i]!, 0);
    const [pp, pf, ff] = [dot(byPeak, byPeak), dot(byPeak, byFrom), dot(byFrom, byFrom)];
    const [p, f] = [dot(byPeak, r), dot(byFrom, r)];
    const [dp, df] = [pp * (1 + damping) + 1e-12, ff * (1 + damping) + 1e-12];
    const determinant = dp * df - pf * pf;
    const next = bounded({ peak: at.peak + (p * df - f * pf) / determinant, from: at.from + (f * dp - p * pf) / determinant });
    const nextResiduals = residuals(next);
    const nextSquares = squaresOf(nextResiduals);
    if (nextSquares < squares) {
      const gained = squares - nextSquares;
      at = next;
      r = nextResiduals;
      squares = nextSquares;
      damping = Math.max(damping / 10, 1e-9);
      if (gained < 1e-18) break;
    } else damping *= 10;
  }
  return { at, squares };
}
