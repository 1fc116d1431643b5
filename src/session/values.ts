import { skipBlanks, trimBlanks, words } from '../text/blanks';
import { LIMIT_EXPECTED, type Limits, readBound, readLimits } from '../text/limitText';
import { type Arg, allOf, type Phrase, phrase } from '../text/message';
import { stringEnd, unquoted } from './line';
import { leadingNumber, readNumber } from './number';
import { type Dimension, UNITS, type ValueType } from './valueTypes';
import { AUTOMATIC, RATINGS } from './vocabulary';

/** Days since 1970-01-01 in the proleptic Gregorian calendar, with the text. The core has no clock: ages are differences of these. */
export interface DateValue {
  readonly text: string;
  readonly day: number;
}

export interface Quantity {
  readonly dimension: Dimension;
  /** In the dimension's base unit (cd/m², s, m, °C, %, …). */
  readonly value: number;
  readonly unit: string;
  /** Free words behind it. */
  readonly note: string;
}

export type Curve =
  | { readonly kind: 'power'; readonly exponent: number; readonly overBlack: boolean }
  | { readonly kind: 'bt1886' | 'srgb' | 'pq' | 'hlg' };

export type TypedValue =
  | { readonly is: 'text'; readonly text: string }
  | { readonly is: 'date'; readonly date: DateValue }
  | { readonly is: 'quantity'; readonly quantity: Quantity }
  | { readonly is: 'quantities'; readonly list: readonly Quantity[] }
  | { readonly is: 'switches'; readonly list: readonly { readonly name: string; readonly on: boolean }[] }
  | { readonly is: 'list'; readonly list: readonly string[] }
  | { readonly is: 'curve'; readonly curve: Curve }
  | { readonly is: 'white'; readonly white: { readonly id: string } | { readonly xy: readonly [number, number] } }
  | ({ readonly is: 'limit' } & Limits)
  | { readonly is: 'rating'; readonly rating: string; readonly note: string }
  | { readonly is: 'control'; readonly name: string; readonly low: number; readonly high: number; readonly step: number };

export type Reading =
  | { readonly ok: true; readonly value: TypedValue }
  | { readonly ok: false; readonly expected: Arg; readonly mended?: string };

const refuse = (expected: Arg, mended?: string): Reading =>
  mended === undefined ? { ok: false, expected } : { ok: false, expected, mended };
const accept = (value: TypedValue): Reading => ({ ok: true, value });

/** Reads a property's value as its type; refused with what was expected, in words that end "takes …". */
export function readValue(type: ValueType, raw: string): Reading {
  const text = trimBlanks(raw);
  const reading = read(type, text);
  if (reading.ok || reading.mended !== undefined) return reading;
  // A decimal comma: mended where the value reads once it is a point.
  const mended = text.replace(/(\d),(?=\d)/g, '$1.');
  return mended !== text && read(type, mended).ok ? refuse(reading.expected, mended) : reading;
}

function read(type: ValueType, text: string): Reading {
  switch (type.is) {
    case 'text':
    case 'id':
      return accept({ is: 'text', text });
    case 'path':
      return text.includes('\\') ? refuse(phrase('a path with /'), text.replaceAll('\\', '/')) : accept({ is: 'text', text });
    case 'choice':
      return choice(text, type.of);
    case 'date':
      return date(text);
    case 'quantity':
      return quantity(text, type.dimension, type.bare);
    case 'quantities':
      return quantities(text, type.dimensions);
    case 'switches':
      return switches(text);
    case 'scope':
      return accept({ is: 'list', list: items(text) });
    case 'curve':
      return curve(text);
    case 'white':
      return white(text);
    case 'limit':
      return limit(text);
    case 'rating':
      return rating(text);
    case 'control':
      return control(text);
  }
}

const items = (text: string): string[] => text.split(', ').map(trimBlanks);

function choice(text: string, of: readonly string[]): Reading {
  if (of.includes(text)) return accept({ is: 'text', text });
  const near = of.find((option) => option.toLowerCase() === text.toLowerCase());
  return refuse(phrase('one of {words}', { words: of }), near);
}

const DATE = /^(\d{4})-(\d{2})-(\d{2})(?: (\d{2}):(\d{2}))?$/;

/** Reads `YYYY-MM-DD` with an optional `hh:mm`; undefined for anything else and for days that no calendar has. */
export function readDate(text: string): DateValue | undefined {
  const found = DATE.exec(text);
  if (!found) return undefined;
  const [year, month, day] = found.slice(1, 4).map(Number) as [number, number, number];
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const lengths = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  if (month < 1 || month > 12 || day < 1 || day > lengths[month - 1]!) return undefined;
  if (found[4] !== undefined && (Number(found[4]) > 23 || Number(found[5]) > 59)) return undefined;
  // Days from civil (Hinnant, "chrono-Compatible Low-Level Date Algorithms"): years start in March, so that leap days come last.
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return { text, day: era * 146097 + dayOfEra - 719468 };
}

function date(text: string): Reading {
  const value = readDate(text);
  return value
    ? accept({ is: 'date', date: value })
    : refuse(phrase('a date such as 2026-03-14, with a time such as 2026-03-14 15:30 where it matters'));
}

const DIMENSION_EXAMPLES: Readonly<Record<Dimension, Phrase>> = {
  luminance: phrase('a luminance such as 120 cd/m2'),
  illuminance: phrase('an illuminance such as 0.02 lx'),
  temperature: phrase('a temperature such as 21 °C'),
  duration: phrase('a time such as 45 min'),
  length: phrase('a length such as 55 in'),
  angle: phrase('an angle such as 2 °'),
  frequency: phrase('a rate such as 50 Hz'),
  percent: phrase('a share such as 10 %'),
  chromaticity: phrase('a chromaticity difference such as 0.0004 xy'),
  bits: phrase('bits such as 10'),
  hours: phrase('hours such as 120 h'),
  money: phrase('an amount such as 1899 GBP'),
  power: phrase('a power such as 120 W'),
};

/** Reads one quantity of one of these dimensions, with free words behind where they are allowed. */
function readQuantity(text: string, dimensions: readonly Dimension[], bare: string | undefined): Quantity | undefined {
  const number = leadingNumber(text);
  if (!number) return undefined;
  const unitAt = skipBlanks(text, number.end);
  const rest = text.slice(unitAt);
  if (rest === '' && bare !== undefined) return { dimension: dimensions[0]!, value: number.value, unit: bare, note: '' };
  const unit = words(rest)[0] ?? '';
  const note = trimBlanks(rest.slice(unit.length));
  for (const dimension of dimensions) {
    if (dimension === 'money' && /^[A-Z]{3}$|^\p{Sc}$/u.test(unit)) return { dimension, value: number.value, unit, note };
    if (Object.hasOwn(UNITS[dimension], unit)) return { dimension, value: number.value * UNITS[dimension][unit]!, unit, note };
  }
  return undefined;
}

function quantity(text: string, dimension: Dimension, bare: string | undefined): Reading {
  const value = readQuantity(text, [dimension], bare);
  return value?.note === '' ? accept({ is: 'quantity', quantity: value }) : refuse(DIMENSION_EXAMPLES[dimension]);
}

function quantities(text: string, dimensions: readonly Dimension[]): Reading {
  const numbered = items(text).filter((item) => leadingNumber(item));
  const list = numbered.flatMap((item) => readQuantity(item, dimensions, undefined) ?? []);
  if (list.length > 0 && list.length === numbered.length) return accept({ is: 'quantities', list });
  return refuse(phrase('{examples}, separated by ", "', { examples: allOf(dimensions.map((d) => DIMENSION_EXAMPLES[d])) }));
}

function switches(text: string): Reading {
  const list: { name: string; on: boolean }[] = [];
  for (const item of items(text)) {
    const parts = words(item);
    const state = parts.pop();
    if (parts.length === 0 || (state !== 'on' && state !== 'off'))
      return refuse(phrase('functions with on or off, such as "{example}"', { example: `${AUTOMATIC[0]} off, ${AUTOMATIC[1]} off` }));
    list.push({ name: parts.join(' '), on: state === 'on' });
  }
  return accept({ is: 'switches', list });
}

function curve(text: string): Reading {
  if (text === 'bt1886' || text === 'srgb' || text === 'pq' || text === 'hlg') return accept({ is: 'curve', curve: { kind: text } });
  const expected = phrase('one of {words}', { words: ['power N', 'power N over black', 'bt1886', 'srgb', 'pq', 'hlg'] });
  const [word, power = '', ...behind] = words(text);
  const exponent = readNumber(power, 0, power.length);
  const tail = behind.join(' ');
  if (word === 'power' && !Number.isNaN(exponent) && (tail === '' || tail === 'over black')) {
    if (exponent < 1 || exponent > 4) return refuse(phrase('{curves}; N between 1 and 4', { curves: expected }));
    return accept({ is: 'curve', curve: { kind: 'power', exponent, overBlack: tail !== '' } });
  }
  const bare = leadingNumber(text);
  const lower = text.toLowerCase().replace(/[ .-]/g, '');
  const near =
    bare?.end === text.length && bare.value >= 1 && bare.value <= 4
      ? `power ${text}`
      : ['bt1886', 'srgb', 'pq', 'hlg'].find((c) => c === lower);
  return refuse(expected, near);
}

const WHITE_IDS = ['d50', 'd55', 'd65', 'd75', 'd93', 'dci', 'a', 'e'];

function white(text: string): Reading {
  if (WHITE_IDS.includes(text)) return accept({ is: 'white', white: { id: text } });
  const expected = phrase('one of {words}, or x and y such as 0.3127 0.3290', { words: WHITE_IDS });
  const parts = words(text);
  const [x, y] = parts.map((part) => readNumber(part, 0, part.length));
  if (parts.length === 2 && x !== undefined && y !== undefined && x > 0 && y > 0 && x + y < 1)
    return accept({ is: 'white', white: { xy: [x, y] } });
  return refuse(expected, WHITE_IDS.includes(text.toLowerCase()) ? text.toLowerCase() : undefined);
}

function limit(text: string): Reading {
  const limits = readLimits(text);
  return limits ? accept({ is: 'limit', ...limits }) : refuse(LIMIT_EXPECTED);
}

function rating(text: string): Reading {
  const comma = text.indexOf(',');
  const rate = trimBlanks(comma < 0 ? text : text.slice(0, comma));
  const found = RATINGS.find((r) => r === rate);
  if (found) return accept({ is: 'rating', rating: found, note: comma < 0 ? '' : trimBlanks(text.slice(comma + 1)) });
  return refuse(phrase('one of {words}, then a comma and free text', { words: RATINGS }));
}

function control(text: string): Reading {
  const close = text.startsWith('"') ? stringEnd(text, 0, text.length) : -1;
  const [range, word, size, ...rest] = words(text.slice(Math.max(close, 0)));
  const span = range === undefined ? undefined : readBound(range);
  const step = size === undefined ? undefined : readBound(size);
  if (
    close < 3 ||
    span?.low === undefined ||
    span.low === span.high ||
    word !== 'step' ||
    !step ||
    step.low !== undefined ||
    step.high <= 0 ||
    rest.length > 0
  ) {
    return refuse(phrase('a control such as "Gain red" -50..50 step 1'));
  }
  return accept({ is: 'control', name: unquoted(text.slice(0, close)).normalize('NFC'), low: span.low, high: span.high, step: step.high });
}
