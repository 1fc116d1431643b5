import { pqInverse } from '../colour/pq';
import { phrase } from '../text/message';
import { computed, type Result, refused, unequal } from './result';
import { median } from './statistics';
import { rising, type Tracking } from './tracking';

/** Luminance of HDR reference white, cd/m². Source: Report ITU-R BT.2408. */
export const REFERENCE_WHITE = 203;

/** Readings this near are one plateau, whatever the meter: relative. Common practice, no source. */
const LEAST_ROOM = 0.01;

/** No reading of less than half the peak is on its plateau, however uncertain the meter is there. Common practice, no source. */
const MOST_ROOM = 0.5;

export type Clip =
  /** From this signal, of the row given, the display shows the same luminance. */
  | { readonly found: true; readonly signal: number; readonly row: number; readonly peak: number }
  /**
   * No plateau up to the highest signal with a reading. `falls`: the luminance at the top is below the plateau again (or the meter
   * slipped), so that "from here on" holds for no level; otherwise it still rises, or too few rows tell.
   */
  | { readonly found: false; readonly upTo: number; readonly falls: boolean; readonly peak: number };

/**
 * The level from which the display clips. P, `peak`, is the largest running median of three readings by rising signal, so that one
 * stray reading makes no plateau; t = max(1 %, 3u) of a row, at most a half. The clip is the lowest signal from which every reading is at least
 * (1 − t)·P. It is a level that was tested: nothing is interpolated.
 *
 * Ties: the first and the last row have no running median of their own; a reading of exactly (1 − t)·P is on the plateau; rows of one
 * signal stand in the order of the run. A plateau needs three rows, of which the highest does not exceed (1 + t)·P (else the display rises
 * again); two rows are enough when they hold three readings together
 * (`repeats`, readings per row, 1 when left out) and neither exceeds (1 + t)·P, since two rows of a display that still rises
 * would pass too. One row is never a plateau. Refused with fewer than three rows. The definition is this project's own.
 */
export function clip(run: Tracking, repeats?: ArrayLike<number>): Result<Clip> {
  const { signals, luminance, u } = run;
  const wrong = unequal(signals, luminance, u, repeats ?? signals);
  if (wrong) return wrong;
  const rows = rising(signals, luminance).filter((i) => luminance[i]! > 0);
  if (rows.length < 3) return refused('too-few-rows', { count: 3, which: phrase('with a reading'), found: rows.length });
  const Y = rows.map((i) => luminance[i]!);
  let peak = 0;
  for (let r = 1; r < rows.length - 1; r++) peak = Math.max(peak, median(Y.slice(r - 1, r + 2)));
  const room = (i: number) => Math.min(MOST_ROOM, Math.max(LEAST_ROOM, 3 * u[i]! || 0));
  const plateau = rows.slice(rows.findLastIndex((i) => luminance[i]! < (1 - room(i)) * peak) + 1);
  const readings = plateau.reduce((sum, i) => sum + (repeats?.[i] ?? 1), 0);
  const isNoHigher = (i: number | undefined) => i !== undefined && luminance[i]! <= (1 + room(i)) * peak;
  const first = plateau[0];
  if (
    first !== undefined &&
    (plateau.length >= 3 ? isNoHigher(plateau.at(-1)) : plateau.length === 2 && readings >= 3 && plateau.every(isNoHigher))
  )
    return computed({ found: true, signal: signals[first]!, row: first, peak });
  return computed({ found: false, upTo: signals[rows[rows.length - 1]!]!, falls: plateau.length === 0, peak });
}

/**
 * The share of the mastered highlights that stays apart instead of ending at the display's peak: (E_clip − E_203)/(E_mastering − E_203)
 * in PQ signal, 0 … 1. `signal` is that of the clip, or the highest that was tested when there is none: then the share is at least
 * that. A clip at or above the mastering peak keeps all of it, one at or below reference white nothing.
 * @param mastering peak of the mastering display, cd/m²; refused when not above 203
 */
export function highlight(signal: number, mastering: number): Result<number> {
  if (!(mastering > REFERENCE_WHITE)) return refused('mastering-dim', { peak: mastering, grey: REFERENCE_WHITE });
  const grey = pqInverse(REFERENCE_WHITE);
  return computed(Math.min(1, Math.max(0, (signal - grey) / (pqInverse(mastering) - grey))));
}
