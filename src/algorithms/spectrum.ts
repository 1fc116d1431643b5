import { OBSERVER_FIRST, OBSERVER_LAST } from '../colour/observer';
import { phrase } from '../text/message';
import { computed, type Refused, type Result, refused, unequal } from './result';

export interface Peak {
  /** nm. */
  readonly wavelength: number;
  /** Height above 0, in the unit of the spectrum. */
  readonly height: number;
  /** Full width at half of that height, nm. */
  readonly width: Result<number>;
}

/** A bump lower than this share of the highest value is noise or a shoulder. Common practice, no source. */
const LEAST_PROMINENCE = 0.05;
/** Between equal steps the vertex is at most this share of the sample above it: the other two are not negative, and one is no higher. */
const MOST_RISE = 1 / 8;

/**
 * Undefined for a spectrum: at least three samples, wavelengths in nm that rise from 360 to 830 (the range of the observer, ISO/CIE
 * 11664-1), values that are finite, not negative, and not all 0. Otherwise what is wrong with the first sample that is.
 *
 * Small negative values, the noise of a dark signal taken off, are refused like others: what to make of them is for whoever reads them.
 */
export function checkSpectrum(wavelengths: ArrayLike<number>, values: ArrayLike<number>): Refused | undefined {
  const wrong = unequal(wavelengths, values);
  if (wrong) return wrong;
  const count = wavelengths.length;
  if (count < 3) return refused('too-few-rows', { count: 3, which: phrase('with a wavelength'), found: count });
  let lit = false;
  for (let i = 0; i < count; i++) {
    const nm = wavelengths[i]!;
    if (!Number.isFinite(nm) || !Number.isFinite(values[i]!)) return refused('not-finite', { at: i + 1 });
    if (!(nm >= OBSERVER_FIRST && nm <= OBSERVER_LAST))
      return refused('wavelength-outside', { nm, first: OBSERVER_FIRST, last: OBSERVER_LAST });
    if (i > 0 && !(nm > wavelengths[i - 1]!)) return refused('wavelengths-unsorted', { nm });
    if (values[i]! < 0) return refused('power-negative', { nm });
    if (values[i]! > 0) lit = true;
  }
  return lit ? undefined : refused('spectrum-dark');
}

/**
 * The peaks of a spectrum, by rising wavelength. A peak is a sample that its neighbours do not reach, and that stands out: its prominence
 * (height over the higher of the two valleys that part it from higher ground, or from the ends) is at least 5 % of the highest value.
 * Wavelength and height are those of the parabola through it and its neighbours; or the sample's own where that rises by more than an
 * eighth above it, which it can with unequal steps only, and which three samples do not support. The width is that at half the height above 0,
 * straight lines between samples.
 *
 * Ties: a flat top counts once, its wavelength the middle of the flat part and its height that of the samples; of two peaks of equal
 * height the left one is the higher ground for the right one, so that a notch in a broad top makes one peak, and a real valley two.
 * The first and the last sample are no peaks: the spectrum may go on. A width is refused where the spectrum ends, or rises to another
 * peak of the list, before it has come down to half. Steps wider than a third of a peak's width lose height and width.
 */
export function spectrumPeaks(wavelengths: ArrayLike<number>, values: ArrayLike<number>): Result<readonly Peak[]> {
  const wrong = checkSpectrum(wavelengths, values);
  if (wrong) return wrong;
  const highest = Float64Array.from(values).reduce((most, v) => Math.max(most, v));
  const tops = summits(values).filter((top) => prominence(values, top) >= LEAST_PROMINENCE * highest);
  return computed(
    tops.map((top, t) => {
      const { wavelength, height } = vertex(wavelengths, values, top);
      const left = crossing(wavelengths, values, top.first, -1, height / 2, tops[t - 1]);
      const right = crossing(wavelengths, values, top.last, 1, height / 2, tops[t + 1]);
      const width = !left.ok ? left : !right.ok ? right : computed(right.v - left.v);
      return { wavelength, height, width };
    }),
  );
}

/** The samples of a top: one, or a flat part. */
interface Top {
  readonly first: number;
  readonly last: number;
}

function summits(values: ArrayLike<number>): readonly Top[] {
  const found: Top[] = [];
  for (let first = 1; first < values.length - 1; ) {
    let last = first;
    while (last + 1 < values.length && values[last + 1] === values[first]) last++;
    if (values[first]! > values[first - 1]! && last + 1 < values.length && values[last]! > values[last + 1]!) found.push({ first, last });
    first = last + 1;
  }
  return found;
}

function prominence(values: ArrayLike<number>, { first, last }: Top): number {
  const top = values[first]!;
  let left = top;
  for (let i = first - 1; i >= 0 && values[i]! < top; i--) left = Math.min(left, values[i]!);
  let right = top;
  for (let i = last + 1; i < values.length && values[i]! <= top; i++) right = Math.min(right, values[i]!);
  return top - Math.max(left, right);
}

/** The vertex of the parabola through a sample and its neighbours, whose steps may differ. */
function vertex(wavelengths: ArrayLike<number>, values: ArrayLike<number>, { first, last }: Top): { wavelength: number; height: number } {
  if (last > first) return { wavelength: (wavelengths[first]! + wavelengths[last]!) / 2, height: values[first]! };
  const top = values[first]!;
  const back = wavelengths[first - 1]! - wavelengths[first]!;
  const on = wavelengths[first + 1]! - wavelengths[first]!;
  const [fall, drop] = [(values[first - 1]! - top) / back, (values[first + 1]! - top) / on];
  const curvature = (drop - fall) / (on - back);
  const slope = fall - curvature * back;
  const rise = -(slope * slope) / (4 * curvature);
  if (rise > MOST_RISE * top) return { wavelength: wavelengths[first]!, height: top };
  return { wavelength: wavelengths[first]! - slope / (2 * curvature), height: top + rise };
}

/** Where the spectrum first comes down to `level`, going from a top to one side. */
function crossing(
  wavelengths: ArrayLike<number>,
  values: ArrayLike<number>,
  from: number,
  step: 1 | -1,
  level: number,
  next: Top | undefined,
): Result<number> {
  for (let i = from + step; i >= 0 && i < values.length; i += step) {
    if (next && i >= next.first && i <= next.last) return refused('peaks-merged');
    if (values[i]! > level) continue;
    const t = (values[i - step]! - level) / (values[i - step]! - values[i]!);
    return computed(wavelengths[i - step]! + t * (wavelengths[i]! - wavelengths[i - step]!));
  }
  return refused('half-not-reached');
}
