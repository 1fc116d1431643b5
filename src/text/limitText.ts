import { trimBlanks, words } from './blanks';
import { phrase } from './message';

export interface Bound {
  /** A distance or one-sided bound; for a range, its lower end. */
  readonly low?: number;
  readonly high: number;
}

/** What is aimed at, and what is still let through. */
export interface Limits {
  readonly aim?: Bound;
  readonly limit?: Bound;
}

/** What a limit is written like, for sentences that end "takes …". */
export const LIMIT_EXPECTED = phrase('"aim A, limit B", one of them, or ranges such as "limit -5..5"');

/** Reads `aim 1, limit 3`, `limit -5..5`, `aim ±2`: the language of limits in sessions and in nitbook.jsonc. Undefined for anything else. */
export function readLimits(text: string): Limits | undefined {
  const found: { aim?: Bound; limit?: Bound } = {};
  for (const item of trimBlanks(text).split(', ')) {
    const [word, value, ...rest] = words(item);
    const bound = value === undefined ? undefined : readBound(value);
    if ((word !== 'aim' && word !== 'limit') || found[word] || !bound || rest.length > 0) return undefined;
    found[word] = bound;
  }
  return found;
}

/** Reads `1`, `±2` or `-2..2`; undefined for anything else and for a range that runs downwards. */
export function readBound(text: string): Bound | undefined {
  // Split at the dots first: "1..2" would else be read as "1." and ".2".
  const dots = text.indexOf('..');
  if (dots >= 0) {
    const [low, high] = [wholeNumber(text.slice(0, dots)), wholeNumber(text.slice(dots + 2))];
    return low !== undefined && high !== undefined && low <= high ? { low, high } : undefined;
  }
  const high = wholeNumber(text.startsWith('±') ? text.slice(1) : text);
  return high === undefined ? undefined : { high };
}

// The same numbers as in a session's cells (a test holds the two together): the dashes of word processors are read as a minus.
const MINUS_LIKE = /[\u2212\u2013\u2012\u2010\uFE63\uFF0D]/g;
const NUMBER = /^[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?$/;

function wholeNumber(text: string): number | undefined {
  const plain = text.replace(MINUS_LIKE, '-');
  const value = NUMBER.test(plain) ? Number(plain) : Number.NaN;
  return Number.isFinite(value) ? value : undefined;
}
