import { textFindings } from '../../src/session/findings';
import { SessionText } from '../../src/session/sessionText';
import { CODES } from '../../src/text/codes';
import type { Finding } from '../../src/text/finding';
import { applyEdits } from '../../src/text/span';

export const findingsIn = (text: string): readonly Finding[] => textFindings(SessionText.read(text));

/** Line and column of an offset, both from 1. */
export function position(text: string, offset: number): string {
  const before = text.slice(0, offset).split(/\r\n|\r|\n/);
  return `${before.length}:${before[before.length - 1]!.length + 1}`;
}

/** `code at node, line:column "what is underlined"` */
export const said = (text: string): string[] =>
  findingsIn(text).map((f) => `${f.code} at ${f.at}, ${position(text, f.span[0])} "${text.slice(...f.span)}"`);

/** The text once the mend of that number of the first finding of a code is applied. */
export function mended(text: string, code: Finding['code'], which = 0): string {
  const finding = findingsIn(text).find((f) => f.code === code);
  const mend = finding?.mends[which];
  if (!mend) throw new Error(`no mend ${which} for ${code}; found ${said(text).join('; ')}`);
  return applyEdits(text, mend.edits);
}

export const severityOf = (code: Finding['code']) => CODES[code].severity;
