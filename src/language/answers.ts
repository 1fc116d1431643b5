import { REFUSALS } from '../session/plan';
import { CODES } from '../text/codes';
import { fill, type Message } from '../text/message';
import type { TextEdit } from '../text/span';

/** What a gesture amounts to: the edits of one undo step, or why it cannot be done. */
export type Edits = readonly TextEdit[] | Message;

/** Why something asked for in an editor is refused, besides what `session/plan` and a version that is too new refuse. */
export const LANGUAGE_REFUSALS = {
  'no-id': 'There is no id here: ids stand in the heads of blocks, after from and like, and in properties such as "mode".',
  'no-own-id': 'A {keyword} block takes no id.',
  'id-form': '"{id}" is no id: a letter, then letters of a to z, digits and hyphens.',
  'id-taken': 'The id {id} is taken by the block in line {line}.',
  'id-unread': '"{id}" would not be read as an id here.',
} as const;

export const isRefusal = <T extends object>(answer: T | Message): answer is Message => 'code' in answer && 'args' in answer;

export const refusal = (code: keyof typeof LANGUAGE_REFUSALS, args: Message['args'] = {}): Message => ({ code, args });

/** The sentence of whatever refusal of an editor's gestures. */
export function refusalText({ code, args }: Message): string {
  const tables: Readonly<Record<string, string>> = { ...REFUSALS, ...LANGUAGE_REFUSALS, 'version-newer': CODES['version-newer'].sentence };
  return fill(tables[code] ?? code, args);
}
