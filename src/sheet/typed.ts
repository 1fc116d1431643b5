import { trimBlanks } from '../text/blanks';

/** What a text that was typed into a cell is, before anything of it is written. */
export type Typed =
  | { readonly is: 'cell'; readonly text: string }
  /** A number whose comma may be a decimal one: that is asked, and not guessed. */
  | { readonly is: 'comma'; readonly mended: string }
  /** More cells than one, to be looked at first. */
  | { readonly is: 'rows' };

/**
 * @param column what the cell's column holds
 * @param decimalComma whether it was said that commas are decimal ones
 */
export function readTyped(typed: string, column: 'words' | 'numbers', decimalComma: boolean): Typed {
  if (/[\t\r\n]/.test(trimBlanks(typed))) return { is: 'rows' };
  const text = trimBlanks(typed);
  if (column === 'words') return { is: 'cell', text };
  const close = text.replace(/^([<>]) +(?=[\d.,])/, '$1');
  if (/[ ;]/.test(close)) return { is: 'rows' };
  if (!/^[<>]?[+-]?\d*,\d+$/.test(close)) return { is: 'cell', text: close };
  const mended = close.replace(',', '.');
  return decimalComma ? { is: 'cell', text: mended } : { is: 'comma', mended };
}
