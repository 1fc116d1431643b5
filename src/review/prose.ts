import type { Span } from '../text/span';
import { isJoined, partAt } from './claim';
import { type Item, itemsOf } from './lex';
import type { Notation } from './notation';
import { tokensOf } from './tokens';
import { DISPLAY_UNITS } from './units';
import { OTHER } from './written';

/** A figure in the prose of a review. */
export interface ProseFigure {
  /** With its comparison and its unit. */
  readonly part: Span;
  readonly unit: string;
  /** Whether it is a colour difference, which has no unit. */
  readonly isDifference: boolean;
}

/**
 * The figures of a text with a unit in which displays are measured, colour differences, and shares of a hundred with decimals: whole ones
 * are sizes of windows and levels more often than not.
 */
export function unlinkedFigures(text: string, notation: Notation): readonly ProseFigure[] {
  if (!/\d/.test(text)) return [];
  const items = itemsOf(text, notation, false);
  const tokens = tokensOf(items);
  const tokenAt = new Map(tokens.map(({ at }, i) => [at, i]));
  const found: ProseFigure[] = [];
  let before: number | undefined;
  for (const [i, item] of items.entries()) {
    if (item.is !== 'number') continue;
    const { unit, decimals } = item.number;
    const isDifference = unit === '' && isOfDifference(items, i);
    if (isDifference || DISPLAY_UNITS.has(unit) || (unit === '%' && decimals > 0)) {
      const isRange = before !== undefined && isJoined(items.slice(before + 1, i), notation.words);
      const start = isRange ? items[before!]!.span[0] : partAt(tokens, tokenAt.get(i)!, notation.words)[0];
      found.push({ part: [start, item.span[1]], unit, isDifference });
    }
    before = i;
  }
  return found;
}

/** Whether ΔE stands before a number, with nothing but "of" and the like between them. */
function isOfDifference(items: readonly Item[], at: number): boolean {
  for (let i = at - 1; i >= 0; i--) {
    const { is, text } = items[i]!;
    if ((is === 'word' || is === 'name') && /^[Δ∆]E/.test(text)) return true;
    if (is === 'mark' && text === OTHER) return false;
    if (is !== 'blank' && !/^(?:of|a|an|is|was|average|maximum|ITP|averages|at|most|under|below|over|above|about)$/.test(text))
      return false;
  }
  return false;
}
