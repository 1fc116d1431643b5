import { CORNERS } from '../algorithms/correction';
import type { Keyword } from '../session/vocabulary';
import { nearest } from '../text/neighbour';
import { HUES } from './hues';

/** The words of a key column that figures ask for by name. */
export interface PatchWords {
  readonly column: string;
  readonly words: readonly string[];
  /** Whether rows may have names of their own beside them: those are read as whatever was shown. */
  readonly free: boolean;
}

const BY_KIND: Readonly<Partial<Record<Keyword, PatchWords>>> = {
  saturation: { column: 'hue', words: [...HUES, 'white', 'black'], free: false },
  gamut: { column: 'patch', words: [...HUES, 'white', 'black'], free: true },
  contrast: { column: 'patch', words: ['white', 'black', 'checker-white', 'checker-black'], free: false },
  reflectance: { column: 'patch', words: ['white', 'black'], free: false },
  correction: { column: 'patch', words: CORNERS, free: true },
};

export const patchWordsOf = (kind: string | undefined): PatchWords | undefined =>
  kind !== undefined && Object.hasOwn(BY_KIND, kind) ? BY_KIND[kind as Keyword] : undefined;

/**
 * The word of a column that another was most likely meant as; undefined for the words themselves, and where none is near. Where names are
 * free, only capitals part it from the word (`blank` is no black), or one letter where no row has the word itself; a number behind it
 * (`red2`) makes it another patch.
 */
export function meantWord(word: string, { words, free }: PatchWords, rows?: ReadonlySet<string>): string | undefined {
  if (words.includes(word) || (free && !/^\p{L}+$/u.test(word))) return undefined;
  if (!free) return nearest(word, words);
  const missing = rows ? words.filter((each) => !rows.has(each)) : [];
  return nearest(word, words, 0) ?? nearest(word, missing, 1);
}
