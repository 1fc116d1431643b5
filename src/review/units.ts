import { type Dimension, UNITS } from '../session/valueTypes';

/** Words for units that the format does not write so, and what it writes. */
const WORDS: Readonly<Record<string, string>> = {
  Nit: 'nit',
  Nits: 'nits',
  candela: 'cd',
  candelas: 'cd',
  'candelas per square metre': 'cd/m²',
  'candela per square metre': 'cd/m²',
  'Candela pro Quadratmeter': 'cd/m²',
  footlamberts: 'fL',
  'foot-lamberts': 'fL',
  Lux: 'lx',
  Prozent: '%',
  Kelvin: 'K',
  kelvins: 'K',
  Blende: 'stops',
  Blenden: 'stops',
  Blendenstufe: 'stops',
  Blendenstufen: 'stops',
  Sekunden: 's',
  Sekunde: 's',
  Millisekunden: 'ms',
  Minuten: 'min',
  Minute: 'min',
  Stunden: 'h',
  Stunde: 'h',
  Grad: '°',
  Zoll: 'in',
  Zentimeter: 'cm',
  Watt: 'W',
  watt: 'W',
  Nanometer: 'nm',
  nanometres: 'nm',
  nanometers: 'nm',
  millisecond: 'ms',
  degree: '°',
  inch: 'in',
  metres: 'm',
  centimetres: 'cm',
  hertz: 'Hz',
  Hertz: 'Hz',
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

/** Those of other kinds, so that a number with one of them is not taken for one without. */
const OTHERS =
  `cd lm lumen lumens Lumen mnits knits kilonits millinits Millinits frames Bilder fps px pixels Pixel ppi dpi kg g lb lbs dB kHz MHz
  GHz kB MB GB kW kWh mW Wh VA mA volts Volt Ampere ft µm km mired mireds days weeks years Tage Tagen Wochen Jahre Jahren`.split(/\s+/);

const DIMENSIONS = Object.keys(UNITS) as Dimension[];

const MARK = /^\p{Sc}$/u;
const CURRENCY_WORDS: Readonly<Record<string, string>> = {
  euro: '€',
  euros: '€',
  Euro: '€',
  pounds: '£',
  Pfund: '£',
  dollars: '$',
  Dollar: '$',
  yen: '¥',
  Yen: '¥',
};
const CODES = new Set(Intl.supportedValuesOf('currency'));

/** Whether a word is the code of a currency (ISO 4217). */
export const isCurrency = (word: string): boolean => CODES.has(word);

/** The longest first, so that "min" is not read as "m". */
const NAMES = [
  ...new Set([
    ...DIMENSIONS.flatMap((dimension) => Object.keys(UNITS[dimension])),
    ...['K', 'stops', 'nm', ':1'],
    ...OTHERS,
    ...Object.keys({ ...WORDS, ...CURRENCY_WORDS }),
  ]),
].sort((a, b) => b.length - a.length);

/** The unit that stands behind a number, in the words of the format, and where it ends. */
export function unitAt(text: string, at: number): { readonly unit: string; readonly end: number } | undefined {
  const start = /[ \u00a0\u202f\u2009]/.test(text[at] ?? '') || /^[-‑]\p{L}/u.test(text.slice(at, at + 2)) ? at + 1 : at;
  const code = text.slice(start, start + 3);
  if (isCurrency(code) && isEnd(text, start + 3)) return { unit: code, end: start + 3 };
  if (MARK.test(text[start] ?? '')) return { unit: text[start]!, end: start + 1 };
  const name = NAMES.find((each) => text.startsWith(each, start) && isEnd(text, start + each.length));
  if (name === undefined || (name === 'in' && /^[ \u00a0][\p{L}\p{N}]/u.test(text.slice(start + 2, start + 4)))) return undefined;
  return { unit: WORD_UNITS.get(name) ?? name, end: start + name.length };
}

const WORD_UNITS = new Map(Object.entries({ ...WORDS, ...CURRENCY_WORDS }));

/** The unit that stands before a number: the mark or the code of a currency. */
export function unitBefore(text: string, at: number): string {
  const before = text.slice(Math.max(0, at - 6), at).trimEnd();
  const mark = before.slice(-1);
  if (MARK.test(mark)) return mark;
  const code = before.slice(-3);
  return isCurrency(code) && !/\p{L}/u.test(before.slice(-4, -3)) ? code : '';
}

/** A unit ends where its word does, and where no more digits follow. */
const isEnd = (text: string, at: number): boolean =>
  !/[\p{L}\p{N}]/u.test(text[at] ?? '') && !(/[.,:]/.test(text[at] ?? '') && /\d/.test(text[at + 1] ?? ''));

/**
 * What a number written with a unit is to be multiplied by to be one of another: 0.01 for per cent of a share, 60 for minutes in seconds.
 * 1 where one of them has no unit; no number where they are of different kinds.
 */
export function scaleBetween(written: string, own: string): number {
  if (written === '%' && own === '') return 0.01;
  const units = dimensionOf(written, own);
  return units ? units[written]! / units[own]! : fits(written, own) || own === '' ? 1 : Number.NaN;
}

const dimensionOf = (written: string, own: string): Readonly<Record<string, number>> | undefined =>
  DIMENSIONS.map((dimension) => UNITS[dimension]).find((each) => Object.hasOwn(each, written) && Object.hasOwn(each, own));

/** Units in which displays are measured: a figure with one of them stands for a reading, or should. */
export const DISPLAY_UNITS: ReadonlySet<string> = new Set(['cd/m2', 'cd/m²', 'nit', 'nits', 'fL', 'K', ':1', 'stops', 'ms', 'nm', 'W']);

/** Whether a figure of one unit can be meant by a number with another. */
export const isAlike = (written: string, own: string): boolean =>
  written === own || dimensionOf(written, own) !== undefined || isMoney(written, own) || isMoney(own, written);

/** Whether a mark is that of a currency: "$" is of several. */
const isMoney = (mark: string, code: string): boolean => MARK.test(mark) && isCurrency(code) && markOf(code) === mark;

const markOf = (currency: string): string | undefined =>
  new Intl.NumberFormat('en', { style: 'currency', currency, currencyDisplay: 'narrowSymbol' })
    .formatToParts(0)
    .find(({ type }) => type === 'currency')?.value;

/** Whether a number, with its unit or without one, can be held against a figure. What has no unit may be a share, or a chromaticity. */
export const fits = (written: string, own: string): boolean =>
  written === '' || isAlike(written, own) || (own === '' && (written === '%' || Object.hasOwn(UNITS.chromaticity, written)));
