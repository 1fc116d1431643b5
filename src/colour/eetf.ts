import { pqEotf, pqInverse } from './pq';

/** From a mastered range to a display's, all in cd/m²: Lb … Lw of the mastering display, Lmin … Lmax of the display. */
export interface ToneRange {
  readonly Lb: number;
  readonly Lw: number;
  readonly Lmin: number;
  readonly Lmax: number;
}

/**
 * Electrical–electrical transfer function: a PQ signal to the PQ signal that fits it into the display's range.
 * Source: Report ITU-R BT.2408 Annex 5 (before 2021: Report ITU-R BT.2390 §5.4.1).
 *
 * The signal counts as inside the mastered range: below Lb as Lb, above Lw as Lw. A display at least as bright as the mastering one
 * leaves the top alone; the black lift b·(1 − E)⁴ of the report remains, and moves a mapped peak by a thousandth as well. A
 * mastered range without extent (Lw ≤ Lb): NaN.
 */
export const eetf = (signal: number, range: ToneRange): number => eetfOf(range)(signal);

/** `eetf` of one range, for many signals. */
export function eetfOf(range: ToneRange): (signal: number) => number {
  const black = pqInverse(range.Lb);
  const extent = pqInverse(range.Lw) - black;
  if (!(extent > 0)) return () => Number.NaN;
  const least = (pqInverse(range.Lmin) - black) / extent;
  const most = (pqInverse(range.Lmax) - black) / extent;
  const knee = 1.5 * most - 0.5;
  return (signal) => {
    const e1 = Math.min(1, Math.max(0, (signal - black) / extent));
    const e2 = e1 > knee && most < 1 ? rollOff(e1, knee, most) : e1;
    return (e2 + least * (1 - e2) ** 4) * extent + black;
  };
}

/** The Hermite spline from the knee, slope 1, to `most` at 1, slope 0. */
function rollOff(e: number, knee: number, most: number): number {
  const t = (e - knee) / (1 - knee);
  const t2 = t * t;
  const t3 = t2 * t;
  return (2 * t3 - 3 * t2 + 1) * knee + (t3 - 2 * t2 + t) * (1 - knee) + (-2 * t3 + 3 * t2) * most;
}

/** `eetf` from luminance to luminance, cd/m². */
export function eetfLuminance(luminance: number, range: ToneRange): number {
  return pqEotf(eetf(pqInverse(luminance), range));
}

/**
 * The PQ signal at which the roll-off starts: KS = 1.5·maxLum − 0.5 of the normalised range. At or above the signal of Lw there is no
 * roll-off. NaN as in `eetf`.
 */
export function eetfKneeStart(range: ToneRange): number {
  const black = pqInverse(range.Lb);
  const extent = pqInverse(range.Lw) - black;
  if (!(extent > 0)) return Number.NaN;
  return (1.5 * ((pqInverse(range.Lmax) - black) / extent) - 0.5) * extent + black;
}
