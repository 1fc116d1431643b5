import { trimBlanks } from '../text/blanks';
import { phrase } from '../text/message';

/** Lists of levels as they are typed: in `nitbook.jsonc` and where levels are added to a run. */

/** What a list of levels is written like, for sentences that end "takes …". */
export const LEVELS_EXPECTED = phrase(
  '"0..100 step 5", "21 steps", "near-black", or a list of them and of numbers such as "100, 0..100 step 10"',
);

/** More levels than this in one list are a slip of the keyboard. */
export const MOST_LEVELS = 1001;

/** Levels that have a name. Per cent. Common practice, no source: half steps up to 5 %, where displays crush or raise black. */
const NAMED: Readonly<Record<string, string>> = { 'near-black': '0..5 step 0.5' };

const NUMBER = /^-?\d{1,6}(?:\.\d{1,6})?$/;
const RANGE = /^(-?\d{1,6}(?:\.\d{1,6})?) *\.\. *(-?\d{1,6}(?:\.\d{1,6})?) +step +(\d{1,6}(?:\.\d{1,6})?)$/;
const STEPS = /^(\d{1,4}) +steps$/;

/**
 * Reads a list of levels: numbers, `from..to step s` (also downwards), `N steps` (N levels from 0 to 100, both included), `near-black`,
 * separated by commas. In the order written, a level twice where it is written twice (the white that shows drift).
 * @returns undefined for anything else, and for more than `MOST_LEVELS`
 */
export function readLevels(text: string): readonly number[] | undefined {
  const found: number[] = [];
  for (const part of text.split(',')) {
    const item = trimBlanks(part);
    const levels = itemLevels(Object.hasOwn(NAMED, item) ? NAMED[item]! : item);
    if (!levels || found.length + levels.length > MOST_LEVELS) return undefined;
    found.push(...levels);
  }
  return found;
}

/** Whether a list of levels says per cent by its words: its numbers are then no code values. */
export const isInPercent = (text: string): boolean => /[a-z]/.test(text.replace(/\bstep\b/g, ''));

function itemLevels(item: string): readonly number[] | undefined {
  if (NUMBER.test(item)) return [Number(item)];
  const steps = STEPS.exec(item);
  if (steps) {
    const count = Number(steps[1]);
    return count < 2 || count > MOST_LEVELS ? undefined : Array.from({ length: count }, (_, i) => rounded((100 * i) / (count - 1), 4));
  }
  const range = RANGE.exec(item);
  if (!range) return undefined;
  const [from, to, step] = range.slice(1).map(Number) as [number, number, number];
  if (step === 0) return undefined;
  // 0.1 is not exact in binary: 3 of them are a little over 0.3, which must count as reached.
  const last = Math.floor(Math.abs(to - from) / step + 1e-9);
  if (last >= MOST_LEVELS) return undefined;
  const decimals = Math.max(...range.slice(1).map((number) => number.split('.')[1]?.length ?? 0));
  return Array.from({ length: last + 1 }, (_, i) => rounded(from + (to < from ? -i : i) * step, decimals));
}

/** `+ 0` makes -0 a 0. */
const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals)) + 0;
