import { type Dimension, UNITS } from '../session/valueTypes';

/** Words for units that the format does not write so, and what it writes. */
const WORDS: Readonly<Record<string, string>> = {
  percent: '%',
  'per cent': '%',
  'cd/m^2': 'cd/m²',
  kelvin: 'K',
  stop: 'stops',
  seconds: 's',
  second: 's',
  milliseconds: 'ms',
  minutes: 'min',
  minute: 'min',
  hours: 'h',
  hour: 'h',
  degrees: '°',
  inches: 'in',
  watts: 'W',
  ': 1': ':1',
};

const DIMENSIONS = Object.keys(UNITS) as Dimension[];

/** The longest first, so that "min" is not read as "m". */
const NAMES = [
  ...new Set([...DIMENSIONS.flatMap((dimension) => Object.keys(UNITS[dimension])), ...['K', 'stops', 'nm', ':1'], ...Object.keys(WORDS)]),
].sort((a, b) => b.length - a.length);

/** The unit that stands behind a number, in the words of the format, and where it ends. */
export function unitAt(text: string, at: number): { readonly unit: string; readonly end: number } | undefined {
  const start = /[ \u00a0\u202f\u2009]/.test(text[at] ?? '') ? at + 1 : at;
  const name = NAMES.find((each) => text.startsWith(each, start) && isEnd(text, start + each.length));
  if (name === undefined) return undefined;
  return { unit: Object.hasOwn(WORDS, name) ? WORDS[name]! : name, end: start + name.length };
}

/** A unit ends where its word does, and where no more digits follow. */
const isEnd = (text: string, at: number): boolean =>
  !/[\p{L}\p{N}]/u.test(text[at] ?? '') && !(/[.,:]/.test(text[at] ?? '') && /\d/.test(text[at + 1] ?? ''));

/**
 * What a number written with a unit is to be multiplied by to be one of another: 0.01 for per cent of a share, 60 for minutes in seconds.
 * 1 where one of them has no unit, or they are of different kinds: then the numbers are compared as they stand.
 */
export function scaleBetween(written: string, own: string): number {
  if (written === '%' && own === '') return 0.01;
  const units = DIMENSIONS.map((dimension) => UNITS[dimension]).find((each) => Object.hasOwn(each, written) && Object.hasOwn(each, own));
  return units ? units[written]! / units[own]! : 1;
}

/** Units in which displays are measured: a figure with one of them stands for a reading, or should. */
export const DISPLAY_UNITS: ReadonlySet<string> = new Set(['cd/m2', 'cd/m²', 'nit', 'nits', 'fL', 'K', ':1', 'stops', 'ms', 'nm', 'W']);

/** Whether a figure of one unit can be meant by a number with another. */
export const isAlike = (written: string, own: string): boolean =>
  written === own || DIMENSIONS.some((dimension) => Object.hasOwn(UNITS[dimension], written) && Object.hasOwn(UNITS[dimension], own));
