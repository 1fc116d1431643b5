/**
 * Numbers of the format: `[sign] (digits ["." {digit}] | "." digits) [("e"|"E") [sign] digits]`, where a sign is + or - and the minus and
 * dashes of word processors are read as - (and mended). Decimal point only.
 */

const MINUS_LIKE = '\u2212\u2013\u2012\u2010\uFE63\uFF0D';
export const isMinusLike = (code: number): boolean => code > 0x7f && MINUS_LIKE.includes(String.fromCharCode(code));
const isSign = (code: number): boolean => code === 43 || code === 45 || isMinusLike(code);
export const isDigit = (code: number): boolean => code >= 48 && code <= 57;

function digitsEnd(text: string, from: number, end: number): number {
  let at = from;
  while (at < end && isDigit(text.charCodeAt(at))) at++;
  return at;
}

/** Where the longest number that starts at `start` ends; `start` itself when none does. */
export function numberEnd(text: string, start: number, end = text.length): number {
  const from = start < end && isSign(text.charCodeAt(start)) ? start + 1 : start;
  let at = digitsEnd(text, from, end);
  if (at > from) {
    if (at < end && text.charCodeAt(at) === 46) at = digitsEnd(text, at + 1, end);
  } else {
    if (at >= end || text.charCodeAt(at) !== 46) return start;
    at = digitsEnd(text, from + 1, end);
    if (at === from + 1) return start;
  }
  if (at < end && (text.charCodeAt(at) | 32) === 101) {
    const power = at + 1 < end && isSign(text.charCodeAt(at + 1)) ? at + 2 : at + 1;
    const powerEnd = digitsEnd(text, power, end);
    if (powerEnd > power) at = powerEnd;
  }
  return at;
}

// 10^0 … 10^22 are exact in binary64: the quotient of two exact numbers is rounded once, as correct as the language's own reader.
const POWERS = Array.from({ length: 23 }, (_, n) => 10 ** n);

/** Where the last `scanPlain` stopped. */
export let scannedTo = 0;

/**
 * The plain number (at most 15 digits, one point, a leading -) at `start`, in one pass; NaN when there is none. `scannedTo` is then the
 * first offset that does not belong to it: the caller decides whether the number may end there.
 */
export function scanPlain(text: string, start: number, end: number): number {
  const negative = text.charCodeAt(start) === 45;
  let at = negative ? start + 1 : start;
  let mantissa = 0;
  let digits = 0;
  let pointAt = -1;
  for (; at < end; at++) {
    const code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      mantissa = mantissa * 10 + (code - 48);
      digits++;
    } else if (code === 46 && pointAt < 0) pointAt = at;
    else break;
  }
  scannedTo = at;
  if (digits === 0 || digits > 15) return Number.NaN;
  const value = pointAt < 0 ? mantissa : mantissa / POWERS[at - pointAt - 1]!;
  return negative ? -value : value;
}

/**
 * Reads the number that fills `text` from `start` to `end`.
 * @returns its value (binary64, correctly rounded), or NaN when the characters are not a number of the format or it is not finite.
 */
export function readNumber(text: string, start: number, end: number): number {
  const plainValue = scanPlain(text, start, end);
  if (scannedTo === end && !Number.isNaN(plainValue)) return plainValue;
  if (end === start || numberEnd(text, start, end) !== end) return Number.NaN;
  let plain = '';
  for (let i = start; i < end; i++) plain += isMinusLike(text.charCodeAt(i)) ? '-' : text[i];
  const value = Number(plain);
  return Number.isFinite(value) ? value : Number.NaN;
}

/** The number that `text` has at `start`, and where it ends; undefined when there is none. */
export function leadingNumber(text: string, start = 0): { readonly value: number; readonly end: number } | undefined {
  const end = numberEnd(text, start);
  if (end === start) return undefined;
  const value = readNumber(text, start, end);
  return Number.isNaN(value) ? undefined : { value, end };
}
