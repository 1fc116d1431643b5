import { pqEotf } from '../colour/pq';
import { phrase } from '../text/message';
import { maximumFactor } from '../uncertainty/normal';
import { computed, type Result, refused, unequal } from './result';
import { stopsOf, type Tracking } from './tracking';

/** A tracking run that differs from the others in the mastering peak that was sent with it. */
export interface MasteredRun extends Pick<Tracking, 'signals' | 'luminance' | 'u'> {
  /** Mastering peak sent, cd/m². */
  readonly mastering: number;
  /**
   * The mean of the repeated readings of the 203 cd/m² patch in this run, cd/m², and its relative standard uncertainty: what warming and
   * fading between the runs is taken out by.
   */
  readonly anchor?: { readonly luminance: number; readonly u: number };
}

export interface MetadataTest {
  readonly says: 'same' | 'follows' | 'not-separable';
  /** The difference that counts, stops, without sign; its signal; and what it was compared with. */
  readonly difference: number;
  readonly signal: number;
  readonly threshold: number;
  /** Mastering peaks, cd/m², of the two runs it lies between, the lower first. */
  readonly between: readonly [number, number];
  /** All that were compared, rising. */
  readonly peaks: readonly number[];
  /** Differences compared, and how many standard deviations the largest of so many errors reaches in one case of twenty. */
  readonly n: number;
  readonly k: number;
  /** Whether the runs were scaled by their 203 cd/m² patches. */
  readonly scaled: boolean;
}

/** Signals of the same code differ by rounding only. */
const SAME_SIGNAL = 1e-9;

/**
 * Whether a display minds the mastering peak that it is told. Rows above black up to the smallest of the peaks (PQ), in every pair of runs, each
 * reading over its run's 203 cd/m² patch where both runs have one; the differences in stops against a maximum test: with
 * u_diff = √(u₁² + u₂²)/ln 2 (√2·u/ln 2 for equal u; the uncertainties of the patches added where they were used) no difference
 * may exceed k·u_diff, k = Φ⁻¹(1 − (1 − 0.95^(1/n))/2) for n differences. The differences of more than two runs, or of runs scaled by a
 * patch, are not independent; by Šidák's inequality chance still exceeds the threshold in at most one case of twenty.
 *
 * A dynamic tone mapping (`dynamic`) changes with the picture, so that what follows from metadata cannot be told from it: whatever the
 * readings, 'not-separable'. Ties: a difference of exactly the threshold is within; of differences equally far beyond their
 * thresholds the one in the earlier pair, at the lower signal, is reported; of two rows with one signal the first counts. Refused for
 * fewer than two runs, where no row is common, and for a row without an uncertainty. The test is this project's own; its parts are textbook statistics.
 */
export function metadataTest(runs: readonly MasteredRun[], dynamic: boolean): Result<MetadataTest> {
  if (runs.length < 2)
    return refused('too-few-rows', { count: 2, which: phrase('with a mastering peak each (one a run)'), found: runs.length });
  for (const run of runs) {
    const wrong = unequal(run.signals, run.luminance, run.u);
    if (wrong) return wrong;
  }
  const ordered = [...runs].sort((a, b) => a.mastering - b.mastering);
  const smallest = ordered[0]!.mastering;
  const found: Compared[] = [];
  for (let a = 0; a < ordered.length; a++)
    for (let b = a + 1; b < ordered.length; b++) found.push(...compare(ordered[a]!, ordered[b]!, smallest));
  if (found.length === 0) return refused('no-common-rows', { peak: smallest });
  const uncertain = found.find(({ u }) => !(u >= 0));
  if (uncertain) return refused('no-uncertainty', { level: 100 * uncertain.signal });
  const k = maximumFactor(found.length);
  const beyond = ({ difference, u }: Compared) => (difference === 0 ? 0 : difference / u);
  const worst = found.reduce((most, one) => (beyond(one) > beyond(most) ? one : most));
  const threshold = k * worst.u;
  const { difference, signal, between, scaled } = worst;
  const peaks = [...new Set(ordered.map(({ mastering }) => mastering))];
  const says = dynamic ? 'not-separable' : difference > threshold ? 'follows' : 'same';
  return computed({ says, difference, signal, threshold, between, peaks, n: found.length, k, scaled });
}

interface Compared extends Pick<MetadataTest, 'difference' | 'signal' | 'between' | 'scaled'> {
  readonly u: number;
}

function compare(a: MasteredRun, b: MasteredRun, smallest: number): Compared[] {
  const anchors = a.anchor && b.anchor ? ([a.anchor, b.anchor] as const) : undefined;
  const apart = anchors ? Math.log2(anchors[0].luminance / anchors[1].luminance) : 0;
  const found: Compared[] = [];
  const others = firstOfEach(b);
  for (const i of firstOfEach(a)) {
    const signal = a.signals[i]!;
    const target = pqEotf(signal);
    // Room for rounding, so that the row at the peak itself counts. Black is no tone to map.
    if (!(target > 0 && target <= smallest * (1 + 1e-6))) continue;
    const j = others.find((other) => Math.abs(b.signals[other]! - signal) <= SAME_SIGNAL);
    if (j === undefined) continue;
    found.push({
      difference: Math.abs(Math.log2(a.luminance[i]! / b.luminance[j]!) - apart),
      u: stopsOf(Math.hypot(a.u[i]!, b.u[j]!, anchors?.[0].u ?? 0, anchors?.[1].u ?? 0)),
      signal,
      between: [a.mastering, b.mastering],
      scaled: anchors !== undefined,
    });
  }
  return found;
}

/** Rows with a reading, one a signal, by rising signal. */
function firstOfEach({ signals, luminance }: MasteredRun): readonly number[] {
  const rows: number[] = [];
  for (let i = 0; i < signals.length; i++) if (luminance[i]! > 0 && Number.isFinite(luminance[i]!)) rows.push(i);
  rows.sort((p, q) => signals[p]! - signals[q]!);
  return rows.filter((row, r) => r === 0 || signals[row]! - signals[rows[r - 1]!]! > SAME_SIGNAL);
}
