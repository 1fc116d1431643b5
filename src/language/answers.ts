import { REFUSALS } from '../session/plan';
import { CODES } from '../text/codes';
import { type Args, fill, type Message, phraseOf, type Say, worded } from '../text/message';
import type { TextEdit } from '../text/span';

/** What a gesture amounts to: the edits of one undo step, or why it cannot be done. */
export type Edits = readonly TextEdit[] | Message;

/** Why something asked for in an editor is refused, besides what `session/plan` and a version that is too new refuse. */
export const LANGUAGE_REFUSALS = {
  'no-id': 'There is no id here: ids stand in the heads of blocks, after from and like, and in properties such as "mode".',
  'no-block': 'There is no "{id}" in this session.',
  'no-own-id': 'A {keyword} block takes no id.',
  'id-form': '"{id}" is no id: a letter, then letters of a to z, digits and hyphens.',
  'id-taken': 'The id {id} is taken by the block in line {line}.',
  'id-unread': '"{id}" would not be read as an id here.',
  'no-line': 'There is nothing to strike out here: put the cursor on a row, a property or a head.',
  'no-row': 'There is no row here: put the cursor on a reading.',
  'no-run': 'There is no run here that is not struck out: put the cursor in one.',
  'no-mode': 'There is no mode {mode} in this file.',
  'run-second': 'There are two runs {run}: rename one first, so that it is clear which is meant.',
  'levels-none': 'The rows of {run} are not told apart by one level: a {keyword} run takes none here.',
  'levels-form': 'Expected {expected}, found "{found}".',
  'levels-percent': '"{found}" is in per cent, and the column {column} is not: write its numbers.',
  'levels-row': 'Put the cursor on a row: which {column} is meant?',
  'paste-empty': 'There is nothing to paste.',
  'paste-much': 'There are more than {most} rows: paste them in parts.',
  'paste-columns':
    'Which columns are meant? There are {found}, and {run} has {expected}: paste the heads with them, or put the cursor on the cell where they start.',
  'date-form': 'Expected a date such as 2026-03-14, found "{found}".',
  'title-form': 'The title "{title}" would not be read in a head: write it in one line, and without a # between blanks.',
  'path-form': 'Expected the path of the earlier session, with /, found "{path}".',
  'plan-run': 'The plan\'s run {run} has columns that do not hold its rows: "{columns}".',
  'time-form': 'Expected a date with a time such as 2026-03-14 15:30, found "{found}".',
  'time-place': 'A time has no place here: put the cursor in a run, a row, a date or a note.',
} as const;

export const isRefusal = <T extends object>(answer: T | Message): answer is Message => 'code' in answer && 'args' in answer;

export const refusal = (code: keyof typeof LANGUAGE_REFUSALS, args: Args = {}): Message => ({ code, args });

/** The sentence of whatever refusal of an editor's gestures. */
export function refusalText(message: Message, say: Say = fill): string {
  const tables: Readonly<Record<string, string>> = { ...REFUSALS, ...LANGUAGE_REFUSALS, 'version-newer': CODES['version-newer'].sentence };
  return worded(phraseOf(tables, message), say);
}
