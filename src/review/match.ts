import { type Clear, isOfFigure, type Measured, type Relation, SIGNS, type Side, type WrittenNumber } from './claim';
import { scaleBetween } from './units';

/** What is known of a figure that a claim is held against. */
export interface Known extends Measured {
  readonly v: number;
  /** From and to, where it is known how far the figure can be off; infinite on a side where only a bound was seen. */
  readonly interval?: readonly [number, number];
  /** That the figure lies beyond `v`, so that there is no point value. */
  readonly isBound?: boolean;
  readonly unit: string;
  /** What a colour temperature is cool or warm against. */
  readonly centre?: number;
}

export type Held = 'holds' | 'wrong' | 'undecided';

/** Numbers this near to each other are the same: 2.45 is half a digit from 2.4, whatever its binary form. */
const NOISE = 1e-9;

/** Holds a claim against a figure. `undecided` exists for comparisons and ranges only. */
export function held(claim: Clear, of: Known): Held {
  const numbers = numbersOf(claim);
  if (claim.sided && !isOnSide(claim.sided.side, numbers, of)) return 'wrong';
  const known = saidOf(claim, of);
  const [first, second = first] = numbers.map((number) => inUnitOf(known, number)).sort((a, b) => a.value - b.value) as [Scaled, Scaled?];
  const slack = noise(first.value, second.value, first.half, known.v);
  if (claim.is === 'range') return within([first.value - first.half, second.value + second.half], known, slack);
  const [low, high] = between(claim.relation, first.value, first.half);
  const least = isSaid(claim, of) ? 0 : Number.NEGATIVE_INFINITY;
  switch (claim.relation) {
    case 'under':
      return within([least, high - 2 * slack], known, slack);
    case 'over':
      return within([low + 2 * slack, high], known, slack);
    case 'at-most':
      return within([least, high], known, slack);
    case 'at-least':
      return within([low, high], known, slack);
    default:
      return !known.isBound && isWithin(known.v, claim.relation, [low, high], slack) ? 'holds' : 'wrong';
  }
}

/** Whether the interval of a figure decides a claim, not its number alone. */
export const isComparison = (claim: Clear): boolean => claim.is === 'range' || COMPARISONS.has(claim.relation);

const COMPARISONS: ReadonlySet<Relation> = new Set<Relation>(['under', 'over', 'at-most', 'at-least']);

export const numbersOf = (claim: Clear): readonly WrittenNumber[] => (claim.is === 'number' ? [claim.number] : [claim.from, claim.to]);

/** Whether a word says the side, so that the number is a size. */
export const isSaid = (claim: Clear, known: Known): boolean =>
  known.axis !== undefined &&
  claim.sided !== undefined &&
  isOfFigure(claim.sided.side, known) &&
  numbersOf(claim).every(({ sign }) => sign === '');

/** What is known of a figure as the claim says it: what is too dark is a figure below 0, said as a number above it. */
export const saidOf = (claim: Clear, known: Known): Known =>
  isSaid(claim, known) && SIGNS[claim.sided!.side].sign < 0 ? mirrored(known) : known;

const mirrored = (known: Known): Known => ({
  ...known,
  v: -known.v,
  ...(known.interval ? { interval: [-known.interval[1], -known.interval[0]] } : {}),
});

interface Scaled {
  readonly value: number;
  readonly half: number;
}

function inUnitOf(known: Pick<Known, 'unit'>, number: WrittenNumber): Scaled {
  const scale = scaleOf(known, number);
  return { value: number.value * scale, half: number.half * scale };
}

/** What a written number is to be multiplied by to be one of the figure. "Thousand" is part of the unit of some figures. */
export const scaleOf = ({ unit }: Pick<Known, 'unit'>, { times, unit: written }: WrittenNumber): number =>
  unit.startsWith('thousand ') && times !== 1 ? 1e-3 : scaleBetween(written, unit);

const noise = (...of: readonly number[]): number => NOISE * Math.max(...of.filter(Number.isFinite).map(Math.abs));

/** What a relation lets through, from and to. */
function between(relation: Relation, n: number, half: number): readonly [number, number] {
  const tenth = Math.abs(n) / 10;
  // Nearly -3 is a little less than 3 on the other side.
  const inwards = n < 0 ? [n, n + tenth] : [n - tenth, n];
  const outwards = n < 0 ? [n - tenth, n] : [n, n + tenth];
  const about = Math.max(half, Math.abs(n) / 20);
  switch (relation) {
    case 'equal':
      return [n - half, n + half];
    case 'about':
      return [n - about, n + about];
    case 'nearly':
      return inwards as [number, number];
    case 'just-over':
      return outwards as [number, number];
    case 'under':
      return [Number.NEGATIVE_INFINITY, n];
    case 'over':
      return [n, Number.POSITIVE_INFINITY];
    case 'at-most':
      return [Number.NEGATIVE_INFINITY, n + half];
    case 'at-least':
      return [n - half, Number.POSITIVE_INFINITY];
  }
}

/**
 * From and to of the figures that a claim is about, in their unit: for comparisons those within a quarter of the number, as one says "over
 * 400" of 410, hardly of 4000.
 */
export function reach(claim: Clear, known: Pick<Known, 'unit'>): readonly [number, number] {
  const ends = numbersOf(claim).flatMap((number) => {
    const { value, half } = inUnitOf(known, number);
    if (claim.is === 'range') return [value - half, value + half];
    const quarter = Math.abs(value) / 4;
    return between(claim.relation, value, half).map((end) => Math.min(Math.max(end, value - quarter - half), value + quarter + half));
  });
  return [Math.min(...ends), Math.max(...ends)];
}

/** Closed at both ends, but for the number itself of `nearly` and `just-over`. */
function isWithin(v: number, relation: Relation, [low, high]: readonly [number, number], slack: number): boolean {
  const isNumber = (end: number) => (relation === 'nearly' || relation === 'just-over') && Math.abs(v - end) <= slack;
  const open = relation === 'nearly' ? (low < 0 ? low : high) : low < 0 ? high : low;
  return v >= low - slack && v <= high + slack && !isNumber(open);
}

function within([low, high]: readonly [number, number], { v, interval = [v, v] }: Known, slack: number): Held {
  const [from, to] = interval;
  if (from >= low - slack && to <= high + slack) return 'holds';
  return to < low - slack || from > high + slack ? 'wrong' : 'undecided';
}

/** Whether a figure, or the sign that is written of it, is on a side. */
export function isOnSide(side: Side, numbers: readonly WrittenNumber[], known: Known): boolean {
  if (!isOfFigure(side, known)) return true;
  const isBelow = SIGNS[side].sign < 0;
  if (known.axis === undefined) return known.centre === undefined || (isBelow ? known.v < known.centre : known.v > known.centre);
  return numbers.every(({ sign }) => sign === '' || (sign !== '+') === isBelow);
}
