import { type Lexicon, wordsOf } from './words/words';

/** How numbers are written in a language, `1,043.5` or `1.043,5`, and how they are spoken of. */
export interface Notation {
  readonly decimal: string;
  /** Between groups of three digits; besides it no-break and thin blanks are read in every language (ISO 80000-1, 7.3.1). */
  readonly group: string;
  readonly words: Lexicon;
}

export const ENGLISH: Notation = { decimal: '.', group: ',', words: wordsOf('en') };

const known = new Map<string, Notation>();

/** The notation of a language that a configuration names. */
export function notationOf(language: string): Notation {
  let notation = known.get(language);
  if (!notation) {
    const parts = new Intl.NumberFormat(language, { numberingSystem: 'latn' }).formatToParts(1_234_567.8);
    const part = (type: string, otherwise: string) => parts.find((each) => each.type === type)?.value ?? otherwise;
    notation = { decimal: part('decimal', ENGLISH.decimal), group: part('group', ENGLISH.group), words: wordsOf(language) };
    known.set(language, notation);
  }
  return notation;
}
