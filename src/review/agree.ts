import { isDenied } from './claim';
import { ENGLISH, type Notation } from './notation';

/**
 * Whether a text says what a property says: the same words, or these among others, whatever their case, blanks, quotation marks and dashes.
 * `denied`: it says them with words such as "not" and "newer than" that the property does not have.
 */
export function agrees(text: string, property: string, notation: Notation = ENGLISH): 'yes' | 'no' | 'denied' {
  const [said, meant] = [plain(text), plain(property)];
  if (said === meant) return 'yes';
  for (let at = said.indexOf(meant); at >= 0 && meant !== ''; at = said.indexOf(meant, at + 1)) {
    const [before, behind] = [said.slice(0, at), said.slice(at + meant.length)];
    if (goesOn(before.slice(-2), meant[0]!) || goesOn(behind.slice(0, 2), meant.at(-1)!, true)) continue;
    if (/\d\.\d+\.\d/.test(meant) && /^-\p{L}/u.test(behind)) continue;
    return isDenied(before, behind, notation) ? 'denied' : 'yes';
  }
  return 'no';
}

const plain = (text: string): string =>
  text
    .normalize('NFC')
    .toLowerCase()
    .replace(/[“”„«»]/g, '"')
    .replace(/[‘’‚]/g, "'")
    .replace(/[−–—‑]/g, '-')
    .split(/\s/)
    .filter((word) => word !== '')
    .join(' ');

/**
 * Whether a word goes on in what stands beside it: letters and digits do, and before and behind a digit what makes another number of it. "2.14.8" is
 * no part of "2.14.8.1", nor "61" of "61.5" or of "−61".
 */
function goesOn(beside: string, edge: string, isBehind = false): boolean {
  if (/[\p{L}\p{N}]/u.test((isBehind ? beside[0] : beside.at(-1)) ?? '')) return true;
  return /\d/.test(edge) && (isBehind ? /^[.,:/]\d/ : /\d[.,:/]$|^ ?[-+]$/).test(beside);
}
