import type { Xy } from './vector';

/**
 * White points as the standards print them, rounded: a target is the number in the standard. The daylight formula gives values up
 * to 1.5e-4 away in y (`daylightXy`), so the two are never mixed.
 */
export const WHITES = {
  d65: [0.3127, 0.329],
  d50: [0.3457, 0.3585],
  d55: [0.33243, 0.34744],
  d75: [0.29903, 0.31488],
  d93: [0.2831, 0.2971],
  a: [0.44758, 0.40745],
  e: [1 / 3, 1 / 3],
  dci: [0.314, 0.351],
} as const satisfies Readonly<Record<string, Xy>>;

export type WhiteId = keyof typeof WHITES;

export const WHITE_SOURCES: Readonly<Record<WhiteId, string>> = {
  d65: 'ITU-R BT.709-6 item 1.4',
  d50: 'ISO 3664; CIE 15:2018, rounded to four places',
  d55: 'CIE 15:2018',
  d75: 'CIE 15:2018',
  d93: 'CIE 15 daylight formula at 9305 K (9300 K before the 1968 temperature scale), rounded to four places',
  a: 'CIE 15:2018',
  e: 'CIE 15:2018, equal-energy stimulus',
  dci: 'SMPTE RP 431-2:2011',
};

/** The white of this id, or undefined: ids come from text that people write. */
export function whiteOf(id: string): Xy | undefined {
  return Object.hasOwn(WHITES, id) ? WHITES[id as WhiteId] : undefined;
}
