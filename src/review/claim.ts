import type { Span } from '../text/span';
import { type Item, itemsOf, numberIn, type WrittenNumber } from './lex';
import { misnamed, type Named, namesIn } from './names';
import { ENGLISH, type Notation } from './notation';
import { ending, phraseOf, starting, type Token, tokensOf } from './tokens';
import { fits, isCurrency } from './units';
import type { Lexicon, Relation, Side } from './words/words';

export type { WrittenNumber } from './lex';
export type { Relation, Side } from './words/words';

/** A word that says to which side a figure is off. */
export interface Sided {
  readonly side: Side;
  readonly span: Span;
}

/** Whether it says so by more than one word, or stands beside the number. */
interface Found extends Sided {
  readonly isExact: boolean;
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
      readonly why:
        | 'several'
        | 'negation'
        | 'condition'
        | 'tolerance'
        | 'reckoning'
        | 'comparison'
        | 'sides'
        | 'unit'
        | 'name'
        | 'language';
      readonly parts: readonly ClaimPart[];
      /** What is named of `name`. */
      readonly named?: string;
    }
  /** Digits that are no number in the language of the folder; `mended` with the other decimal mark. */
  | { readonly is: 'notation'; readonly span: Span; readonly mended?: string }
  | { readonly is: 'none' };

/** One that can be held against a figure. */
export type Clear = Extract<Claim, { is: 'number' | 'range' }>;

type Why = Extract<Claim, { is: 'unclear' }>['why'];

/** What the two sides of a figure are called. */
export type Axis = 'light' | 'chroma' | 'green' | 'plain';

/** What is known of a figure before its number, as far as the words of a claim hang on it. What is left out is not looked at. */
export interface Measured {
  readonly unit?: string;
  /** Of one whose value below 0 means the other side, so that a word for the side is a sign. */
  readonly axis?: Axis;
  /** Whether it tells by how much something differs, so that it can be "off the target". */
  readonly isDifference?: boolean;
  /** Formulas, spaces and diagrams that its name holds. */
  readonly names?: readonly Named[];
}

/** What a text claims of any figure of a kind, contrasts or others, with what has to fit the figure. */
interface Reading {
  readonly claim: Claim;
  readonly parts: () => readonly ClaimPart[];
  readonly sides: readonly Found[];
  /** Whether the number is said to be a difference. */
  readonly isStep: boolean;
  /** Whether it is said to be one of two figures that may themselves be differences: "2.9 lower", "an improvement of 2.9". */
  readonly isChange: boolean;
  /** Whether it is said to lie under what is no target: that may be a rival, or a load. */
  readonly isBeneath: boolean;
  readonly names: readonly Named[];
}

/**
 * Reads what a text claims of a figure. Names with digits are passed over; comparison words count only before the number; what cannot be
 * held against one figure says why.
 */
export const readClaim = (text: string, of: Measured = {}, notation: Notation = ENGLISH): Claim =>
  fitted(reading(text, of.unit === ':1', notation), of);

/** What a text claims of a figure. */
export type ClaimOf = (of: Measured) => Claim;

/** Reads a text once for all figures: of a contrast alone it may claim another thing. */
export function claimsOf(text: string, notation: Notation): ClaimOf {
  const read = new Map<boolean, Reading>();
  return (of) => {
    const isContrast = of.unit === ':1';
    const found = read.get(isContrast) ?? reading(text, isContrast, notation);
    read.set(isContrast, found);
    return fitted(found, of);
  };
}

function reading(text: string, isContrast: boolean, notation: Notation): Reading {
  const { words } = notation;
  const items = itemsOf(text, notation, isContrast);
  const tokens = tokensOf(items);
  const numbers = tokens.flatMap((token, at) => (token.item.is === 'number' ? [{ at, number: token.item.number, token }] : []));
  // Of more than two numbers none is held against a figure, whatever is said of each.
  const contexts = (numbers.length > 2 ? [] : numbers).map(({ at }) => ({
    before: before(tokens, at, words),
    behind: behind(tokens, at, words),
  }));
  const beside = contexts.flatMap(({ before: { sided }, behind: { sided: other } }) => sided ?? other ?? []);
  return {
    claim: claimIn(items, tokens, contexts, isContrast, notation),
    parts: () => numbers.map(({ at, number }) => ({ whole: partAt(tokens, at, words), digits: number.digits })),
    sides: [...sidesIn(tokens, words), ...beside],
    isStep: contexts.some((each, i) => each.before.isStep || each.behind.isStep || numbers[i]!.number.sign === '+'),
    isChange: contexts.some(({ before: { sided }, behind: { isCompared } }) => sided?.side === 'above' || isCompared),
    isBeneath: contexts.some(({ behind: { isBeneath } }) => isBeneath),
    names: namesIn(text),
  };
}

type Context = { readonly before: Before; readonly behind: Behind };

function claimIn(
  items: readonly Item[],
  tokens: readonly Token[],
  contexts: readonly Context[],
  isContrast: boolean,
  notation: Notation,
): Claim {
  const { words } = notation;
  const unread = items.find(({ is }) => is === 'unread');
  if (unread) return { is: 'notation', span: unread.span, ...mended(unread.text, notation) };
  const places = items.flatMap((item, i) => (item.is === 'number' ? [i] : []));
  const numbers = items.flatMap((item) => (item.is === 'number' ? [item.number] : []));
  const [number, second] = numbers;
  if (!number) return { is: 'none' };
  const why = whyUnclear(items, tokens, places, contexts, isContrast, words);
  if (why) return unclear(why);
  if (!second) return { is: 'number', relation: relationOf(contexts[0]!), number };
  if (numbers.length > 2 || !isJoined(items.slice(places[0]! + 1, places[1]), words)) return unclear('several');
  // "1 to 1000" is the contrast the other way round, "1000 to 2" another one.
  if (isContrast && (number.value > second.value || (number.value === 1 && number.unit === ''))) return unclear('reckoning');
  // "from under 2 to 3"
  if (contexts.some((each) => STRICT.has(relationOf(each)))) return unclear('comparison');
  const [from, to] = shared(number, second);
  return { is: 'range', ...(from.value <= to.value ? { from, to } : { from: to, to: from }) };
}

const relationOf = ({ before: { relation }, behind: { bound } }: Context): Relation => bound ?? relation;

const unclear = (why: Why): Claim => ({ is: 'unclear', why, parts: [] });

function whyUnclear(
  items: readonly Item[],
  tokens: readonly Token[],
  places: readonly number[],
  contexts: readonly Context[],
  isContrast: boolean,
  words: Lexicon,
): Why | undefined {
  if (tokens.some((token) => isNegation(token, words))) return 'negation';
  if (tokens.some(({ item, text }) => item.is === 'word' && words.conditions.has(text))) return 'condition';
  if (items.some((item, i) => item.is === 'mark' && (item.text === '±' || (item.text === '+' && items[i + 1]?.text === '/')))) {
    return 'tolerance';
  }
  const said = contexts.flatMap(({ before: { why } }) => why ?? []);
  for (const why of ['negation', 'reckoning', 'comparison'] as const) if (said.includes(why)) return why;
  if (contexts.some((each) => each.behind.isDenied)) return 'negation';
  if (contexts.some(({ before: { relation }, behind: { bound } }) => bound !== undefined && relation !== 'equal' && relation !== bound))
    return 'comparison';
  if (contexts.some((each) => each.behind.isReckoned || (each.behind.isTimes && !isContrast))) return 'reckoning';
  if (places.some((at) => isOfUnknown(items, at))) return 'unit';
  if (words.known && tokens.some((token) => isForeign(token, words.known!))) return 'language';
  return undefined;
}

/** Holds what was read against what is known of a figure before its number. */
function fitted({ claim, parts, sides, isStep, isChange, isBeneath, names }: Reading, of: Measured): Claim {
  const refused = (why: Why, named?: string): Claim => ({ is: 'unclear', why, parts: parts(), ...(named === undefined ? {} : { named }) });
  if (claim.is === 'unclear') return refused(claim.why);
  if (claim.is !== 'number' && claim.is !== 'range') return claim;
  const { unit, isDifference, axis } = of;
  const written = claim.is === 'number' ? [claim.number] : [claim.from, claim.to];
  if (unit !== undefined && written.some((each) => !fits(each.unit, unit))) return refused('unit');
  if ((isStep && isDifference === false) || (isChange && isDifference === true && axis === undefined)) return refused('reckoning');
  if (isBeneath && axis !== undefined) return refused('reckoning');
  const other = of.names && misnamed(names, of.names, unit ?? '');
  if (other) return refused('name', other.text);
  const all = sides.filter(({ side }) => isOfFigure(side, of));
  // "3 % too bright on the darker patches"
  const exact = all.filter(({ isExact }) => isExact);
  const own = exact.length > 0 ? exact : all;
  if (own.some(({ side }) => SIGNS[side].sign !== SIGNS[own[0]!.side].sign)) return refused('sides');
  const sided = own[0] ?? (axis === undefined ? sides[0] : undefined);
  return sided ? { ...claim, sided: { side: sided.side, span: sided.span } } : claim;
}

/** What a side is a sign of, and which. */
export const SIGNS: Readonly<Record<Side, { readonly of: Axis | 'temperature'; readonly sign: 1 | -1 }>> = {
  dark: { of: 'light', sign: -1 },
  bright: { of: 'light', sign: 1 },
  pale: { of: 'chroma', sign: -1 },
  vivid: { of: 'chroma', sign: 1 },
  pink: { of: 'green', sign: -1 },
  green: { of: 'green', sign: 1 },
  warm: { of: 'temperature', sign: -1 },
  cool: { of: 'temperature', sign: 1 },
  below: { of: 'plain', sign: -1 },
  above: { of: 'plain', sign: 1 },
};

/** Whether a word for a side is said of a figure. */
export function isOfFigure(side: Side, { axis, unit }: Measured): boolean {
  const { of } = SIGNS[side];
  return axis === undefined ? unit === 'K' && (of === 'temperature' || of === 'plain') : of === axis || of === 'plain';
}

/** A decimal comma where a point is wanted, or the other way round. */
function mended(digits: string, notation: Notation): { readonly mended?: string } {
  const at = Math.max(digits.lastIndexOf('.'), digits.lastIndexOf(','));
  const text = digits.slice(0, at) + notation.decimal + digits.slice(at + 1);
  return at >= 0 && numberIn(text, notation) ? { mended: text } : {};
}

const isNegation = ({ item, text }: Token, { negations }: Lexicon): boolean =>
  item.is === 'word' && (negations.has(text) || text.endsWith("n't"));

/** Names that are the same in all languages. */
const EVERYWHERE = new Set('hdr sdr hdmi pq hlg oled lcd led dci cie bt iec smpte cielab ictcp u v x y l* a* b*'.split(' '));

/** Whether a word is none that is known, of a language that is not. */
const isForeign = ({ item, text }: Token, known: ReadonlySet<string>): boolean =>
  item.is === 'word' && !known.has(text) && !EVERYWHERE.has(text) && !/^(?:[δ∆]|de$|delta$)/.test(text);

/** Whether nothing but a word or dash of a range stands between two numbers. */
export function isJoined(between: readonly Item[], { joins }: Lexicon): boolean {
  const [join, ...more] = between.filter(({ is }) => is !== 'blank');
  return join !== undefined && more.length === 0 && joins.has(join.text.toLowerCase());
}

/** In "2 to 3 %" and "1 to 2 million" what stands behind the second number is of both; in "2 % to 3" the unit of the first. */
function shared(first: WrittenNumber, second: WrittenNumber): readonly [WrittenNumber, WrittenNumber] {
  if (second.unit === '' && second.times === 1) return [first, { ...second, unit: first.unit }];
  if (first.unit !== '' || first.times !== 1) return [first, second];
  const { times, unit } = second;
  return [{ ...first, value: first.value * times, half: first.half * times, times, unit }, second];
}

const STRICT: ReadonlySet<Relation> = new Set<Relation>(['under', 'over', 'at-most', 'at-least']);

/** What the words right before a number say of it. */
interface Before {
  readonly relation: Relation;
  /** The token where the comparison starts; that of the number where there is none. */
  readonly start: number;
  readonly why?: 'negation' | 'reckoning' | 'comparison';
  readonly isStep: boolean;
  readonly sided?: Found;
}

/** What may stand between a comparison and its number: articles, what the figure is called, opening marks, currencies. */
const isFiller = ({ item, text }: Token, { fillers }: Lexicon): boolean =>
  fillers.has(text) ||
  /^\p{Sc}$/u.test(text) ||
  (item.is === 'name' && FORMULA.test(item.text)) ||
  (item.is === 'word' && (FORMULA.test(item.text) || isCurrency(item.text)));

/** Of names only those of formulas may be what the number is of: "over HDMI 2.1 815 nits" compares nothing. */
const FORMULA = /^(?:[Δ∆]|delta|dE|DE\d|CIE)/u;

function before(tokens: readonly Token[], at: number, words: Lexicon): Before {
  const relations: Relation[] = [];
  let start = at;
  let step: { readonly side: Side | 'any'; readonly span: Span } | undefined;
  const found = (why?: Before['why'], isStep = step !== undefined): Before => {
    const compared = new Set(relations.filter((relation) => relation !== 'equal'));
    const isDouble = compared.size > 1;
    const [relation = 'equal'] = compared;
    return {
      relation,
      start,
      ...(why ? { why } : isDouble ? { why: 'comparison' } : {}),
      isStep,
      ...(step && step.side !== 'any' ? { sided: { side: step.side, span: step.span, isExact: true } } : {}),
    };
  };
  let i = at - 1;
  for (; i >= 0; ) {
    const compared = ending(tokens, i, words.comparisons);
    if (ending(tokens, i, words.denials) > compared) return found('negation');
    if (compared > 0 && !(i < at - 1 && words.close.has(tokens[i]!.text))) {
      start = i - compared + 1;
      relations.push(words.comparisons.get(phraseOf(tokens, start, compared))!);
      i -= compared;
      continue;
    }
    if (ending(tokens, i, words.idle) > 0) return found();
    const { text, item } = tokens[i]!;
    const side = words.steps.get(text) ?? (tokens[i + 1]!.text === ':' ? undefined : words.verbs.get(text));
    if (side !== undefined) step ??= { side, span: item.span };
    if (!isFiller(tokens[i]!, words)) break;
    i--;
  }
  const stop = tokens[i];
  if (!stop) return found();
  if (ending(tokens, i, words.multiples) > 0 || words.than.has(stop.text)) return found('reckoning');
  if (words.as.has(stop.text) && tokens.slice(Math.max(0, i - NEAR), i).some(({ text }) => words.multiples.has(text)))
    return found('reckoning');
  if (words.by.has(stop.text)) {
    const near = tokens.slice(Math.max(0, i - NEAR), i);
    const than = near.findLastIndex(({ text }, at) => words.than.has(text) && words.comparatives.has(near[at - 1]?.text ?? ''));
    if (than >= 0 && !isTarget(near, than + 1, words, 'all')) return found('reckoning');
    const verb = near.findLast(({ text }, at) => at >= near.length - 2 && sideOf(text, words) !== undefined);
    if (verb) step ??= { side: sideOf(verb.text, words)!, span: verb.item.span };
    return found(undefined, true);
  }
  const noun = words.copulas.has(stop.text) ? tokens[i - 1] : undefined;
  const told = noun && words.steps.get(noun.text);
  if (told !== undefined) {
    step ??= { side: told, span: noun!.item.span };
    return found();
  }
  if (stop.item.is === 'word' && step === undefined && isCompared(tokens, i - 1, words)) return found('comparison');
  return found();
}

const sideOf = (text: string, { steps, verbs, comparatives }: Lexicon): Side | 'any' | undefined =>
  steps.get(text) ?? verbs.get(text) ?? comparatives.get(text);

/** So many words before a number are looked at. */
const NEAR = 5;

/** Whether a comparison with an article ends at a token, as in "under the hoped-for 505". */
function isCompared(tokens: readonly Token[], end: number, words: Lexicon): boolean {
  let i = end;
  while (i >= 0 && tokens[i + 1]!.isJoined) i--;
  const article = i;
  while (i >= 0 && words.articles.has(tokens[i]!.text)) i--;
  const count = i < article && i >= 0 ? ending(tokens, i, words.comparisons) : 0;
  return count > 0 && STRICT.has(words.comparisons.get(phraseOf(tokens, i - count + 1, count))!);
}

/** What the words behind a number say of it. */
interface Behind {
  /** What it is bounded by: "or more". */
  readonly bound?: Relation;
  readonly isTimes: boolean;
  readonly isReckoned: boolean;
  readonly isDenied: boolean;
  readonly isStep: boolean;
  /** Whether by "lower" and the like. */
  readonly isCompared: boolean;
  readonly isBeneath: boolean;
  readonly sided?: Found;
}

function behind(tokens: readonly Token[], at: number, words: Lexicon): Behind {
  const next = tokens[at + 1];
  const nothing: Behind = { isTimes: false, isReckoned: false, isDenied: false, isStep: false, isCompared: false, isBeneath: false };
  if (!next) return nothing;
  if (starting(tokens, at + 1, words.refusals) > 0) return { ...nothing, isDenied: true };
  const bounded = starting(tokens, at + 1, words.bounds);
  if (bounded > 0) return { ...nothing, bound: words.bounds.get(phraseOf(tokens, at + 1, bounded))! };
  const isTimes = words.times.has(next.text);
  if (starting(tokens, at + 1, words.idle) > 0) return { ...nothing, isTimes };
  const than = thanBehind(tokens, at, words);
  if (than !== undefined && !isTarget(tokens, than + 1, words, 'all')) return { ...nothing, isTimes, isReckoned: true };
  const side = stepBehind(tokens, next.text === 'of' && tokens[at + 2] ? at + 2 : at + 1, words);
  if (side === undefined)
    return {
      ...nothing,
      isTimes,
      isReckoned: starting(tokens, at + 1, words.apart) > 0,
      isBeneath: words.places.get(next.text) === 'below',
    };
  // "2.9 less" tells neither of what nor to which side.
  if (side === 'any' && words.comparatives.has(next.text)) return { ...nothing, isTimes, isReckoned: true };
  const compared = words.comparatives.get(next.text);
  return {
    ...nothing,
    isTimes,
    isStep: true,
    isCompared: compared === 'below' || compared === 'above',
    ...(side === 'any' ? {} : { sided: { side, span: next.item.span, isExact: true } }),
  };
}

/** The side that the words from a token on say of the number before them; undefined where they say no difference. */
function stepBehind(tokens: readonly Token[], at: number, words: Lexicon): Side | 'any' | undefined {
  const { text } = tokens[at]!;
  const place = words.places.get(text);
  if (
    place !== undefined &&
    (isTarget(tokens, at + 1, words, place === 'any' ? undefined : 'standards') || (place !== 'any' && tokens.length === at + 1))
  )
    return place;
  const behind = words.behind.get(text);
  if (behind !== undefined) {
    const isLinked = words.links.has(tokens[at + 1]?.text ?? '') && behind !== 'any';
    if (isEnd(tokens[at + 1]) || isLinked || isTarget(tokens, at + 1, words)) return behind;
  }
  const count = starting(tokens, at, words.sides);
  if (count > 1) return words.sides.get(phraseOf(tokens, at, count));
  // "a 9.4 ms rise time", "505 nits boost mode"
  const isName = /^(?:time|zeit|mode|modus)/.test(tokens[at + 1]?.text ?? '');
  return words.comparatives.get(text) ?? (isName ? undefined : words.steps.get(text));
}

/** The "than" of a comparative behind a number, in the same part of the sentence. */
function thanBehind(tokens: readonly Token[], at: number, words: Lexicon): number | undefined {
  for (let i = at + 1; i < tokens.length && tokens[i]!.item.is !== 'number' && !isEnd(tokens[i]); i++)
    if (words.than.has(tokens[i]!.text) && words.comparatives.has(tokens[i - 1]!.text)) return i;
  return undefined;
}

/**
 * Whether what a token and those after it name is what a figure is aimed at: of `standards` by its name too, of `all` by any name, or what the same
 * figure is elsewhere on the screen.
 */
function isTarget(tokens: readonly Token[], start: number, words: Lexicon, also?: 'standards' | 'all'): boolean {
  const isLink = ({ text }: Token) => !words.targets.has(text) && (words.fillers.has(text) || words.links.has(text));
  let i = start;
  while (i < tokens.length && isLink(tokens[i]!)) i++;
  const token = tokens[i];
  if (token === undefined) return false;
  if (words.targets.has(token.text)) return true;
  return also === 'all' ? words.centres.has(token.text) || token.item.is === 'name' : also !== undefined && STANDARD.test(token.item.text);
}

const STANDARD = /^(?:BT|Rec|ST|SMPTE|ITU|D\d)[^\p{L}]*\d/u;

/** Whether a part of a sentence ends here. */
const isEnd = (token: Token | undefined): boolean =>
  token === undefined || (token.item.is === 'mark' && /^[,;:.!?()[\]–—]$/.test(token.text));

/** Whether something that looks like a unit or an exponent stands behind a number, and is none that is known: "1.5e3", "8 mcd/m²", "8²". */
function isOfUnknown(items: readonly Item[], at: number): boolean {
  const [next, word, slash, below] = items.slice(at + 1, at + 5);
  if (next?.is === 'word' || next?.is === 'name' || (next?.is === 'mark' && /^[\u00b2\u00b3\u00b9\u2070-\u207f]$/.test(next.text)))
    return true;
  return next?.is === 'blank' && word?.is === 'word' && slash?.text === '/' && (below?.is === 'word' || below?.is === 'name');
}

/** A number, by its token, with its comparison and the word for its side. */
export function partAt(tokens: readonly Token[], at: number, words: Lexicon): Span {
  const { span } = tokens[at]!.item;
  const count = starting(tokens, at + 1, words.sides);
  const end = count > 0 && tokens[at + 1]!.at === tokens[at]!.at + 2 ? tokens[at + count]!.item.span[1] : span[1];
  return [tokens[before(tokens, at, words).start]!.item.span[0], end];
}

function sidesIn(tokens: readonly Token[], words: Lexicon): readonly Found[] {
  const found: Found[] = [];
  for (let i = 0; i < tokens.length; i++) {
    const idle = starting(tokens, i, words.idle);
    const count = idle > 0 ? 0 : starting(tokens, i, words.sides);
    const place = idle > 0 ? undefined : words.places.get(tokens[i]!.text);
    if (count > 0) {
      const side = words.sides.get(phraseOf(tokens, i, count))!;
      found.push({ side, span: [tokens[i]!.item.span[0], tokens[i + count - 1]!.item.span[1]], isExact: count > 1 });
    } else if (place !== undefined && place !== 'any' && isTarget(tokens, i + 1, words, 'standards')) {
      found.push({ side: place, span: tokens[i]!.item.span, isExact: true });
    }
    i += Math.max(idle, count, 1) - 1;
  }
  return found;
}

/**
 * Whether words say that what stands between them is not so: they deny it wherever they stand, or compare with it or put it off right before
 * it, as in "newer than 2.14.8".
 */
export function isDenied(before: string, behind: string, notation: Notation): boolean {
  const { words } = notation;
  const [front, back] = [before, behind].map((text) => tokensOf(itemsOf(text, notation, false))) as [readonly Token[], readonly Token[]];
  if ([...front, ...back].some((token) => isNegation(token, words))) return true;
  if (starting(back, 0, words.refusals) > 0) return true;
  for (let i = front.length - 1; i >= 0; i--) {
    const compared = ending(front, i, words.comparisons);
    if (ending(front, i, words.denials) > compared) return true;
    if (compared > 0) return STRICT.has(words.comparisons.get(phraseOf(front, i - compared + 1, compared))!);
    if (words.than.has(front[i]!.text)) return true;
    if (!isFiller(front[i]!, words)) return false;
  }
  return false;
}
