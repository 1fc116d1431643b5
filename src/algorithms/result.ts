import type { Message } from '../text/message';

export interface Refused {
  readonly ok: false;
  readonly why: Message;
}

/** What an algorithm computed, or why it did not: a key of `REFUSALS` with its arguments. Nothing here throws. */
export type Result<T> = { readonly ok: true; readonly v: T } | Refused;

export const computed = <T>(v: T): Result<T> => ({ ok: true, v });

export const refused = (code: Refusal, args: Message['args'] = {}): Refused => ({ ok: false, why: { code, args } });

/** Why there is no result. Each reads after "not computed:" and says what is needed. */
export const REFUSALS = {
  'lengths-differ': 'its lists have {counts} members, and each should have as many as the first',
  'too-few-rows': 'of rows {which} it needs at least {count}, and there are {found}',
  'not-finite': 'number {at} is none',

  'no-mid-tones': 'no row with a reading has a target from {from} to {to} cd/m², which tell how bright the display is set as a whole',
  'no-roll-off': 'the display keeps to the curve of its mid-tones up to {level} %, the highest level tested',
  'mastering-dim': 'the mastering peak of {peak} cd/m² leaves no highlights above {grey} cd/m²',
  'no-common-rows': 'the runs have no row in common with a reading in each and a target up to {peak} cd/m²',
  'no-uncertainty': 'it needs the uncertainty of the reading at {level} % (state the spread of the meter)',
  'peak-unknown': 'HLG needs the peak luminance of the display, and {peak} cd/m² is none',

  'colour-missing': 'the four-colour method needs white, red, green and blue from both meters; there is no {colour}',
  'colour-dark': 'the reading of {colour} by {meter} has no light to take a chromaticity from',
  'primaries-flat': 'red, green and blue of {meter} lie on one line',
  'white-outside': 'white lies outside the triangle of red, green and blue of {meter}',
  'ill-conditioned': 'red, green and blue of {meter} lie too close together: condition {condition}, at most {most}',

  'wavelengths-unsorted': 'wavelengths rise from row to row, and {nm} nm does not',
  'wavelength-outside': '{nm} nm lies outside {first} to {last} nm',
  'power-negative': 'the power at {nm} nm is below 0',
  'spectrum-dark': 'the spectrum holds no light',
  'half-not-reached': 'on one side the spectrum ends before it falls to half of the peak',
  'peaks-merged': 'on one side the spectrum rises to another peak before it falls to half of this one',

  'grid-hole': 'the grid has no reading in row {row}, column {column}',
  'grid-repeated': 'the grid has two readings in row {row}, column {column}',
  'no-centre': 'a grid of {rows} by {columns} has no cell in the centre',
  'no-light': 'there is no luminance above 0 to compare with',
  'no-colours': 'the reading in row {row}, column {column} has no chromaticity',

  'time-backwards': 'time runs forward from row to row, and {t} s comes after {before} s',
  'not-settled': 'the readings have not settled: fewer than three at the end lie within {percent} % of each other',
  'no-drop': 'the luminance does not fall by more than {percent} %',

  'no-axis': 'it needs a reading at 0°',
  'angle-repeated': 'there are two readings at {angle}°',

  'levels-few': 'the volume needs at least three drive levels from 0 to the highest for each of R, G and B, the same for each',
  'volume-hole': 'the volume has no reading for R {r}, G {g}, B {b} ({count} are missing on the surface of the drive cube)',
  'volume-flat': 'the colours enclose no volume',

  'no-illuminance': 'it needs readings under two different illuminances, or one reading and the reflectance of the other patch',
  'light-lowers': 'the readings fall as the illuminance rises',
  'illuminance-negative': 'an illuminance of {lx} lx does not exist',
} as const;

export type Refusal = keyof typeof REFUSALS;

/** Undefined when all lists are as long as the first. */
export function unequal(...lists: readonly ArrayLike<unknown>[]): Refused | undefined {
  const count = lists[0]?.length;
  return lists.every((list) => list.length === count)
    ? undefined
    : refused('lengths-differ', { counts: lists.map((list) => list.length).join(', ') });
}
