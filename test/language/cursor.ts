import { SessionText } from '../../src/session/sessionText';
import type { Message } from '../../src/text/message';
import { applyEdits, type Span, type TextEdit } from '../../src/text/span';

/** A text with a cursor in it, ‸: the text without it, and where it stood. */
export function at(marked: string): { readonly source: SessionText; readonly text: string; readonly offset: number } {
  const offset = marked.indexOf('‸');
  if (offset < 0) throw new Error(`no cursor in ${marked}`);
  const text = marked.slice(0, offset) + marked.slice(offset + 1);
  return { source: SessionText.read(text), text, offset };
}

export const cut = (text: string, span: Span): string => text.slice(...span);

/** The text after edits; the code of a refusal otherwise. */
export const edited = (text: string, answer: readonly TextEdit[] | Message): string =>
  'code' in answer ? answer.code : applyEdits(text, answer);

/** The lines of the text after edits that it did not have before; the code of a refusal otherwise. */
export function changed(text: string, answer: readonly TextEdit[] | Message): string[] | string {
  if ('code' in answer) return answer.code;
  const before = text.split(/\r\n|\r|\n/);
  return applyEdits(text, answer)
    .split(/\r\n|\r|\n/)
    .filter((line) => !before.includes(line));
}
