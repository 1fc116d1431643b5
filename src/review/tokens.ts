import type { Item } from './lex';

/** A piece of a claim that is no blank, and no hyphen between words. */
export interface Token {
  /** In lower case, with straight apostrophes. */
  readonly text: string;
  readonly item: Item;
  /** Which of the items it is. */
  readonly at: number;
  /** Whether a hyphen joins it to the one before. */
  readonly isJoined: boolean;
}

export const tokensOf = (items: readonly Item[]): readonly Token[] =>
  items.flatMap((item, at) =>
    item.is === 'blank' || isHyphen(items, at)
      ? []
      : [{ text: item.text.toLowerCase().replaceAll('’', "'"), item, at, isJoined: at > 0 && isHyphen(items, at - 1) }],
  );

function isHyphen(items: readonly Item[], at: number): boolean {
  const [before, { text }, behind] = [items[at - 1], items[at]!, items[at + 1]];
  return /^[-‐‑]$/.test(text) && before !== undefined && before.is !== 'blank' && behind?.is === 'word';
}

const LONGEST = 5;

interface Phrases {
  has(phrase: string): boolean;
}

/** How many tokens the longest phrase of a list has that ends with a token; 0 where none does. */
export function ending(tokens: readonly Token[], end: number, list: Phrases): number {
  let longest = 0;
  for (let count = 1, phrase = ''; count <= LONGEST && count <= end + 1; count++) {
    const { text } = tokens[end - count + 1]!;
    phrase = count === 1 ? text : `${text} ${phrase}`;
    if (list.has(phrase)) longest = count;
  }
  return longest;
}

/** The same of one that starts with a token. */
export function starting(tokens: readonly Token[], start: number, list: Phrases): number {
  let longest = 0;
  for (let count = 1, phrase = ''; count <= LONGEST && start + count <= tokens.length; count++) {
    const { text } = tokens[start + count - 1]!;
    phrase = count === 1 ? text : `${phrase} ${text}`;
    if (list.has(phrase)) longest = count;
  }
  return longest;
}

export const phraseOf = (tokens: readonly Token[], start: number, count: number): string =>
  tokens
    .slice(start, start + count)
    .map(({ text }) => text)
    .join(' ');
