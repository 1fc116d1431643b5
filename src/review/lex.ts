import type { Span } from '../text/span';
import type { Notation } from './notation';
import { unitAt, unitBefore } from './units';

/** A number as it is written in a claim. Places are of the text of the claim. */
export interface WrittenNumber {
  /** With its sign, and with what a word such as "million" makes of it. */
  readonly value: number;
  /** Half of what one more in the last written digit is. */
  readonly half: number;
  /** Of the digits, without sign and unit. */
  readonly digits: Span;
  /** From the sign to the end of the unit. */
  readonly whole: Span;
  /** The sign as it is written; empty where there is none. */
  readonly sign: string;
  readonly decimals: number;
  /** What stands between groups of three digits; empty where they are not grouped. */
  readonly group: string;
  /** What the word behind it multiplies by: 1 where there is none. */
  readonly times: number;
  /** Empty where none is written. */
  readonly unit: string;
}

/**
 * A piece of a claim. A name may hold digits, which are no figures: those of a standard, a space, a white, a formula, a format, a depth, a
 * ratio, a date, a version. `unread` are digits that are no number in the notation.
 */
export type Item = { readonly span: Span } & (
  | { readonly is: 'word' | 'name' | 'blank' | 'mark' | 'unread'; readonly text: string }
  | { readonly is: 'number'; readonly text: string; readonly number: WrittenNumber }
);

/** Names that hold digits, each from where a piece starts. */
const NAMES: readonly RegExp[] = [
  // "ΔE 2000", and not "ΔE 2.9".
  /(?:Δ|∆|delta[ -]?|d)E[ \u00a0]?(?:2000|1976|1994|00|76|94)(?![\p{L}\p{N}]|[.,]\p{N})/iuy,
  /(?:HDMI|DisplayPort|USB)[. \u00a0-]\d(?:\.\d)?(?![\p{L}\p{N}]|[.,]\p{N})/uy,
  /(?:BT|Rec|ITU-R|SMPTE|ISO|IEC|ST|RP|Tech|CIE(?:DE|LAB|LUV)?)[. \u00a0-]{1,2}\d(?:[.-]?\d)*(?!\p{L})/uy,
  // HDR10+, D65, P3, m2; a difference may have its figure close behind it.
  /(?!Δ|∆|dE)\p{L}+\d(?:[.,-]?\d)*(?:\+(?!\d))?/uy,
  /(?!Δ|∆)\p{Lu}{2,}[.-]\d(?:[.-]?\d)*/uy,
  /(?:[248]K|\d+(?:[- \u00a0]?(?:[Bb]its?|point|Punkt)|p|st|nd|rd|th))(?![\p{L}\p{N}])/uy,
  /\d{4}-\d\d-\d\d(?!\d)/y,
  // 16:9 and 4:2:0; "1000:1" is a contrast.
  /\d+:(?!1(?![\d:]))\d+(?::\d+)*/y,
];
const VERSION = /\d+\.\d+(?:\.\d+)+/y;

const WORD = /[\p{L}∆][\p{L}\p{M}'’*∆]*/uy;
const BLANK = /\s+/y;
const DIGITS = /\d+(?:[.,'’\u00a0\u202f\u2009]\d+)*/y;
const NARROW_DIGITS = /\d+(?:[.,]\d+)*/y;
const TIMES_WORD =
  /k(?!\p{L})|[ \u00a0](?:hundred|thousand|million|billion|hundert|[Tt]ausend|Millionen|Million|Mio\.?|Milliarden|Milliarde|Mrd\.?)(?!\p{L})/uy;
const TO_ONE = /[ \u00a0](?:to|zu)[ \u00a0](?:1|one|eins)(?![\p{L}\p{N}]|[.,:]\p{N})/uy;

/** Tables of languages are not of one mind which of them it is. */
const APOSTROPHES = "'’";
const THIN = '\u00a0\u202f\u2009';
const TIMES: Readonly<Record<string, number>> = {
  k: 1e3,
  hundred: 100,
  hundert: 100,
  thousand: 1e3,
  tausend: 1e3,
  million: 1e6,
  millionen: 1e6,
  mio: 1e6,
  billion: 1e9,
  milliarde: 1e9,
  milliarden: 1e9,
  mrd: 1e9,
};

const met = (pattern: RegExp, text: string, at: number): string | undefined => {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0];
};

/** The pieces of a text, all of it. `isContrast`: a "to 1" behind a number is what a contrast is over, as ":1" is. */
export function itemsOf(text: string, notation: Notation, isContrast: boolean): readonly Item[] {
  const items: Item[] = [];
  for (let at = 0; at < text.length; ) {
    const item = itemAt(text, at, items, notation, isContrast);
    items.push(item);
    at = item.span[1];
  }
  return items;
}

function itemAt(text: string, at: number, before: readonly Item[], notation: Notation, isContrast: boolean): Item {
  const piece = (is: Exclude<Item['is'], 'number'>, found: string): Item => ({ is, text: found, span: [at, at + found.length] });
  for (const name of NAMES) {
    const found = met(name, text, at);
    if (found !== undefined) return piece('name', found);
  }
  const sign = isSign(text, at, before) ? text[at]! : '';
  const isPoint = text[at + sign.length] === notation.decimal;
  if (/\d/.test(text[at + sign.length + Number(isPoint)] ?? '') && (!isPoint || isFree(before))) {
    const number = numberAt(text, at, sign, notation, isContrast);
    if (number) return { is: 'number', text: text.slice(...number.whole), span: number.whole, number };
    const version = met(VERSION, text, at);
    if (version !== undefined) return piece('name', version);
    if (sign === '') return piece('unread', met(NARROW_DIGITS, text, at) ?? text[at]!);
  }
  const word = met(WORD, text, at);
  if (word !== undefined) return piece('word', word);
  const blank = met(BLANK, text, at);
  return blank !== undefined ? piece('blank', blank) : piece('mark', String.fromCodePoint(text.codePointAt(at)!));
}

const MAY_PRECEDE = /^[([{"'“‘=:<>≤≥~≈,;/]$/;

/** Whether what starts here belongs to nothing before it. */
function isFree(before: readonly Item[]): boolean {
  const last = before.at(-1);
  return last === undefined || last.is === 'blank' || (last.is === 'mark' && MAY_PRECEDE.test(last.text));
}

/** A dash before digits is a sign where nothing that it could join stands before it. */
function isSign(text: string, at: number, before: readonly Item[]): boolean {
  if (!/[-+−–—]/.test(text[at]!) || !isFree(before)) return false;
  const isDash = text[at] === '–' || text[at] === '—';
  return !(isDash && before.findLast(({ is }) => is !== 'blank')?.is === 'number');
}

function numberAt(text: string, at: number, sign: string, notation: Notation, isContrast: boolean): WrittenNumber | undefined {
  const start = at + sign.length;
  const point = text[start] === notation.decimal ? notation.decimal : '';
  // A thin blank may also part two numbers.
  for (const pattern of [DIGITS, NARROW_DIGITS]) {
    const written = point + (met(pattern, text, start + point.length) ?? '');
    const read = numberIn(written, notation);
    if (!read) continue;
    const digits: Span = [start, start + written.length];
    const word = met(TIMES_WORD, text, digits[1]) ?? '';
    const times = word === '' ? 1 : TIMES[word.trim().toLowerCase().replace('.', '')]!;
    const toOne = isContrast ? met(TO_ONE, text, digits[1] + word.length) : undefined;
    const unit = toOne === undefined ? unitAt(text, digits[1] + word.length) : { unit: ':1', end: digits[1] + word.length + toOne.length };
    const { value, decimals, group } = read;
    return {
      value: (sign === '' || sign === '+' ? value : -value) * times,
      half: (times * 10 ** -decimals) / 2,
      digits,
      whole: [at, unit?.end ?? digits[1] + word.length],
      sign,
      decimals,
      group,
      times,
      unit: unit?.unit ?? unitBefore(text, at),
    };
  }
  return undefined;
}

/** Digits as one number of a notation; undefined where they are none. */
export function numberIn(digits: string, { decimal, group }: Notation): Pick<WrittenNumber, 'value' | 'decimals' | 'group'> | undefined {
  const at = digits.indexOf(decimal);
  const [whole, fraction] = at < 0 ? [digits, ''] : [digits.slice(0, at), digits.slice(at + 1)];
  if (/\D/.test(fraction) || (at >= 0 && fraction === '')) return undefined;
  const between = /\D/.exec(whole)?.[0] ?? '';
  if (between !== '') {
    const isGroup = between === group || THIN.includes(between) || (APOSTROPHES.includes(group) && APOSTROPHES.includes(between));
    const groups = whole.split(between);
    if (!isGroup || !/^\d{1,3}$/.test(groups[0]!) || !groups.slice(1).every((each) => /^\d{3}$/.test(each))) return undefined;
  }
  return { value: Number(`${whole.replaceAll(between, '') || '0'}.${fraction || '0'}`), decimals: fraction.length, group: between };
}
