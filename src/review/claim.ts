import type { Span } from '../text/span';
import { type Item, itemsOf, numberIn, type WrittenNumber } from './lex';
import { ENGLISH, type Notation } from './notation';

export type { WrittenNumber } from './lex';

/** How a claim compares: `equal` to the written digits, `nearly` from below, `just-over` from above. */
export type Relation = 'equal' | 'about' | 'nearly' | 'just-over' | 'under' | 'over' | 'at-most' | 'at-least';

/** A word that says to which side a figure is off. */
export interface Sided {
  readonly side: 'dark' | 'bright' | 'cool' | 'warm';
  readonly span: Span;
}

/** A number among others: with the words that belong to it, and by itself. */
export interface ClaimPart {
  readonly whole: Span;
  readonly digits: Span;
}

export type Claim =
  | { readonly is: 'number'; readonly relation: Relation; readonly number: WrittenNumber; readonly sided?: Sided }
  | { readonly is: 'range'; readonly from: WrittenNumber; readonly to: WrittenNumber; readonly sided?: Sided }
  /** Not to be held against one figure. */
  | {
      readonly is: 'unclear';
      readonly why: 'several' | 'negation' | 'condition' | 'tolerance' | 'reckoning' | 'unit';
      readonly parts: readonly ClaimPart[];
    }
  /** Digits that are no number in the language of the folder; `mended` with the other decimal mark. */
  | { readonly is: 'notation'; readonly span: Span; readonly mended?: string }
  | { readonly is: 'none' };

/** One that can be held against a figure. */
export type Clear = Extract<Claim, { is: 'number' | 'range' }>;

/**
 * Reads what a text claims of a figure. Names with digits are passed over; comparison words count only before the number; what cannot be
 * held against one figure says why.
 * @param unit that of the figure
 */
export function readClaim(text: string, unit = '', notation: Notation = ENGLISH): Claim {
  const items = itemsOf(text, notation, unit === ':1');
  const unread = items.find(({ is }) => is === 'unread');
  if (unread) return { is: 'notation', span: unread.span, ...mended(unread.text, notation) };
  const places = items.flatMap((item, i) => (item.is === 'number' ? [i] : []));
  const numbers = items.flatMap((item) => (item.is === 'number' ? [item.number] : []));
  const [number, second] = numbers;
  if (!number) return { is: 'none' };
  const words = wordsIn(items);
  const unclear = (why: Extract<Claim, { is: 'unclear' }>['why']): Claim => ({
    is: 'unclear',
    why,
    parts: places.map((at, i) => ({ whole: partAt(items, at), digits: numbers[i]!.digits })),
  });
  if (words.some(isNegation)) return unclear('negation');
  if (words.some((word) => CONDITIONS.has(word))) return unclear('condition');
  if (items.some((item, i) => item.is === 'mark' && (item.text === '±' || (item.text === '+' && items[i + 1]?.text === '/')))) {
    return unclear('tolerance');
  }
  if (places.some((at) => isDenied(items, at))) return unclear('negation');
  if (places.some((at) => isReckoned(items, at, unit))) return unclear('reckoning');
  if (places.some((at) => isOfUnknown(items, at))) return unclear('unit');
  const sided = sideIn(items);
  const side = sided ? { sided } : {};
  if (!second) return { is: 'number', relation: relationBefore(items, places[0]!).relation, number, ...side };
  if (numbers.length > 2 || !isJoined(items.slice(places[0]! + 1, places[1]))) return unclear('several');
  const [from, to] = shared(number, second);
  return { is: 'range', ...(from.value <= to.value ? { from, to } : { from: to, to: from }), ...side };
}

/** What a text claims of a figure, by the unit of that. */
export type ClaimOf = (unit: string) => Claim;

/** Reads a text once for the figures of all units: of a contrast alone it may claim another thing. */
export function claimsOf(text: string, notation: Notation): ClaimOf {
  const read = new Map<boolean, Claim>();
  return (unit) => {
    const isContrast = unit === ':1';
    const claim = read.get(isContrast) ?? readClaim(text, unit, notation);
    read.set(isContrast, claim);
    return claim;
  };
}

/** A decimal comma where a point is wanted, or the other way round. */
function mended(digits: string, notation: Notation): { readonly mended?: string } {
  const at = Math.max(digits.lastIndexOf('.'), digits.lastIndexOf(','));
  const text = digits.slice(0, at) + notation.decimal + digits.slice(at + 1);
  return at >= 0 && numberIn(text, notation) ? { mended: text } : {};
}

const wordsIn = (items: readonly Item[]): readonly string[] =>
  items.flatMap((item) => (item.is === 'word' ? [item.text.toLowerCase()] : []));

const isNegation = (word: string): boolean => NEGATIONS.has(word) || word.endsWith("n't") || word.endsWith('n’t');

/** Whether a text has a word such as "not". */
export const isDenial = (text: string): boolean => wordsIn(itemsOf(text, ENGLISH, false)).some(isNegation);

const NEGATIONS = new Set(['not', 'no', 'never', 'neither', 'nor', 'none', 'without', 'cannot', 'hardly']);
const CONDITIONS = new Set(['if', 'unless', 'when', 'whenever', 'while', 'except', 'provided', 'once', 'until']);
const JOINS = new Set(['and', 'to', '-', '−', '–', '—']);

/** Whether nothing but a word or dash of a range stands between two numbers. */
export function isJoined(between: readonly Item[]): boolean {
  const [join, ...more] = between.filter(({ is }) => is !== 'blank');
  return join !== undefined && more.length === 0 && JOINS.has(join.text.toLowerCase());
}

/** In "2 to 3 %" and "1 to 2 million" what stands behind the second number is of both; in "2 % to 3" the unit of the first. */
function shared(first: WrittenNumber, second: WrittenNumber): readonly [WrittenNumber, WrittenNumber] {
  if (second.unit === '' && second.times === 1) return [first, { ...second, unit: first.unit }];
  if (first.unit !== '' || first.times !== 1) return [first, second];
  const { times, unit } = second;
  return [{ ...first, value: first.value * times, half: first.half * times, times, unit }, second];
}

/** By the last words before the number, the longest first. */
const COMPARISONS: ReadonlyMap<string, Relation> = new Map<string, Relation>(
  Object.entries({
    'just under': 'nearly',
    'just below': 'nearly',
    nearly: 'nearly',
    almost: 'nearly',
    'just over': 'just-over',
    'just above': 'just-over',
    'at most': 'at-most',
    '≤': 'at-most',
    'at least': 'at-least',
    '≥': 'at-least',
    'up to': 'equal',
    'less than': 'under',
    'fewer than': 'under',
    'lower than': 'under',
    under: 'under',
    below: 'under',
    '<': 'under',
    'more than': 'over',
    'greater than': 'over',
    'higher than': 'over',
    over: 'over',
    above: 'over',
    '>': 'over',
    about: 'about',
    around: 'about',
    roughly: 'about',
    approximately: 'about',
    '~': 'about',
    '≈': 'about',
  } as const),
);

/** What may stand between a comparison and its number: articles, what the figure is called, opening marks. */
const FILLERS = new Set([
  'a',
  'an',
  'the',
  'its',
  'of',
  'mere',
  'only',
  'just',
  'delta',
  'duv',
  'itp',
  '(',
  '[',
  '"',
  '“',
  '=',
  ':',
  '£',
  '$',
  '€',
  '¥',
]);

const isFiller = (item: Item): boolean =>
  item.is === 'name' || FILLERS.has(item.text.toLowerCase()) || (item.is === 'word' && /^(?:[Δ∆]|dE)/.test(item.text));

const DENIALS = new Set(['far from', 'short of', 'shy of', 'other than', 'instead of']);
const MULTIPLES = new Set(
  'twice thrice double doubled doubles triple tripled triples treble quadruple half third thirds quarter quarters fifth tenth fraction'.split(
    ' ',
  ),
);
const COMPARATIVES = new Set('less more fewer higher lower better worse greater larger smaller'.split(' '));

/** The words before a number, back to the first that is none between a word and its number; in lower case, the nearest first. */
function wordsBefore(items: readonly Item[], at: number): readonly string[] {
  const words = items
    .slice(0, at)
    .filter(({ is }) => is !== 'blank')
    .toReversed();
  const end = words.findIndex((item) => !isFiller(item));
  return words.slice(0, end < 0 ? words.length : end + 2).map(({ text }) => text.toLowerCase());
}

/** Whether words right before a number say that it is another one. */
function isDenied(items: readonly Item[], at: number): boolean {
  const words = wordsBefore(items, at);
  return words.some((word, i) => DENIALS.has(`${words[i + 1]} ${word}`));
}

/** Whether what is said is a multiple, a part or a difference of the number; "times" is what a contrast is in. */
function isReckoned(items: readonly Item[], at: number, unit: string): boolean {
  const [first] = wordsBefore(items, at).filter((word) => !FILLERS.has(word));
  if (first !== undefined && MULTIPLES.has(first)) return true;
  const behind = items
    .slice(at + 1)
    .filter(({ is }) => is !== 'blank')
    .map(({ text }) => text.toLowerCase());
  if (behind[0] === 'times' && unit !== ':1') return true;
  return behind.some((word, i) => word === 'than' && COMPARATIVES.has(behind[i - 1] ?? ''));
}

/** Whether something that looks like a unit or an exponent stands behind a number, and is none that is known: "1.5e3", "8 mcd/m²", "8²". */
function isOfUnknown(items: readonly Item[], at: number): boolean {
  const [next, word, slash, below] = items.slice(at + 1);
  if (next?.is === 'word' || next?.is === 'name' || (next?.is === 'mark' && /^[\u00b2\u00b3\u00b9\u2070-\u207f]$/.test(next.text)))
    return true;
  return next?.is === 'blank' && word?.is === 'word' && slash?.text === '/' && (below?.is === 'word' || below?.is === 'name');
}

function relationBefore(items: readonly Item[], at: number): { readonly relation: Relation; readonly start: number } {
  const before = (i: number): number => (items[i - 1]?.is === 'blank' ? i - 2 : i - 1);
  for (let i = before(at); i >= 0; i = before(i)) {
    const word = items[i]!.text.toLowerCase();
    const first = items[before(i)];
    const pair = first && COMPARISONS.get(`${first.text.toLowerCase()} ${word}`);
    if (pair) return { relation: pair, start: first.span[0] };
    const relation = COMPARISONS.get(word);
    if (relation) return { relation, start: items[i]!.span[0] };
    if (!isFiller(items[i]!)) break;
  }
  return { relation: 'equal', start: items[at]!.span[0] };
}

/** A number with its comparison and the word for its side. */
export function partAt(items: readonly Item[], at: number): Span {
  const behind = items.slice(at + 1, at + 5);
  const side = sideIn(behind);
  const isClose = side && items[at + 1]?.is === 'blank' && side.span[0] === items[at + 2]?.span[0];
  return [relationBefore(items, at).start, isClose ? side.span[1] : items[at]!.span[1]];
}

/** Words that say a side by themselves, or behind "too". */
const SIDES: ReadonlyMap<string, Sided['side']> = new Map<string, Sided['side']>(
  Object.entries({
    darker: 'dark',
    dimmer: 'dark',
    'too dark': 'dark',
    'too dim': 'dark',
    'too low': 'dark',
    brighter: 'bright',
    'too bright': 'bright',
    'too high': 'bright',
    cool: 'cool',
    cooler: 'cool',
    'too cool': 'cool',
    warm: 'warm',
    warmer: 'warm',
    'too warm': 'warm',
  } as const),
);

function sideIn(items: readonly Item[]): Sided | undefined {
  const words = items.filter(({ is }) => is !== 'blank');
  for (const [i, word] of words.entries()) {
    const before = words[i - 1];
    const both = before && SIDES.get(`${before.text.toLowerCase()} ${word.text.toLowerCase()}`);
    if (both) return { side: both, span: [before.span[0], word.span[1]] };
    const side = SIDES.get(word.text.toLowerCase());
    if (side) return { side, span: word.span };
  }
  return undefined;
}
