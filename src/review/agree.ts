import { isDenial } from './claim';

/**
 * Whether a text says what a property says: the same words, or these among others, whatever their case, blanks, quotation marks and dashes.
 * `denied`: it says them with a word such as "not" that the property does not have.
 */
export function agrees(text: string, property: string): 'yes' | 'no' | 'denied' {
  const [said, meant] = [plain(text), plain(property)];
  if (said === meant) return 'yes';
  for (let at = said.indexOf(meant); at >= 0 && meant !== ''; at = said.indexOf(meant, at + 1)) {
    if (isPart(said[at - 1]) || isPart(said[at + meant.length])) continue;
    return isDenial(said.slice(0, at)) || isDenial(said.slice(at + meant.length)) ? 'denied' : 'yes';
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

/** Whether a word goes on here. */
const isPart = (letter: string | undefined): boolean => letter !== undefined && /[\p{L}\p{N}]/u.test(letter);
