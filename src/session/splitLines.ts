import type { LineBase } from './line';

export interface RawLine {
  readonly text: string;
  readonly eol: LineBase['eol'];
}

/**
 * The lines of a text, each with its end (LF, CRLF or CR). The last one has no end, and is empty when the text ends with one: joined they
 * are the text again.
 */
export function splitLines(text: string): RawLine[] {
  const lines: RawLine[] = [];
  eachLine(text, (line, eol) => lines.push({ text: line, eol }));
  return lines;
}

/** The same lines one after the other, for a text that is read whole. */
export function eachLine(text: string, take: (line: string, eol: LineBase['eol']) => void): void {
  let start = 0;
  // One pass over the characters: looking for the next \r anew on each line of a file without any would read the rest of it every time.
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code !== 10 && code !== 13) continue;
    const eol = code === 10 ? '\n' : text.charCodeAt(at + 1) === 10 ? '\r\n' : '\r';
    take(text.slice(start, at), eol);
    at += eol.length - 1;
    start = at + 1;
  }
  take(text.slice(start), '');
}
