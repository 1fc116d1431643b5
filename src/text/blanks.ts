/**
 * The blanks of the format, one definition for all rooms: tab, space, no-break space, figure space, narrow no-break space, ideographic
 * space. Not `\s` and not `trim()`: those also take line separators and marks that must stay part of a value.
 */
export const isBlank = (code: number): boolean =>
  code <= 0x20 ? code === 0x20 || code === 0x09 : code >= 0xa0 && (code === 0xa0 || code === 0x2007 || code === 0x202f || code === 0x3000);

/** First offset at or after `from`, before `end`, that is not a blank; `end` when there is none. */
export function skipBlanks(text: string, from: number, end = text.length): number {
  let at = from;
  while (at < end && isBlank(text.charCodeAt(at))) at++;
  return at;
}

/** The end of the text between `from` and `end` once the blanks behind it are taken off; at least `from`. */
export function endBeforeBlanks(text: string, from: number, end = text.length): number {
  let at = end;
  while (at > from && isBlank(text.charCodeAt(at - 1))) at--;
  return at;
}

/** The words of a text, separated by blanks. */
export function words(text: string): string[] {
  const found: string[] = [];
  for (let at = skipBlanks(text, 0); at < text.length; ) {
    let end = at;
    while (end < text.length && !isBlank(text.charCodeAt(end))) end++;
    found.push(text.slice(at, end));
    at = skipBlanks(text, end);
  }
  return found;
}

export const trimBlanks = (text: string): string => text.slice(skipBlanks(text, 0), endBeforeBlanks(text, skipBlanks(text, 0)));
