import type { Args, Say } from '../text/message';

/** What the sheet shows, in English; the page is told it in the language of the workbench. */
export const SHEET_WORDS = {
  day: 'The day',
  figures: 'Figures',
  'file-start': 'before the first block',
  'struck-out': 'struck out',
  'to-take': '{count} to take',
  'one-to-take': '1 to take',
  'to-note': '{count} to note',
  'to-take-in-all': '{count} readings to take',
  'one-to-take-in-all': '1 reading to take',
  'all-taken-in-all': 'all readings taken',
  'read-only': 'This file cannot be written to.',
  'open-text': 'Open as text here',

  'share-of-white': '{share} % of white',
  patch: 'Patch',
  'target-of': 'Target',
  'as-sent': 'Code {codes} ({depth} bit, {range})',
  'field-of': 'The colour of {patch}, near enough as sRGB',
  'field-clipped': 'this screen cannot show all of it',
  'mean-of': 'mean of {count}',
  repeat: 'repeat',
  revisit: 'read again: for the drift only',
  'still-to-take': 'still to take',
  note: 'note',
  'nth-row': 'row {n}',
  'cell-of': '{column} of {patch}',
  'no-target': 'no target',

  next: 'Next',
  'take-again': 'Strike out {patch} and take it again',
  'add-repeat': 'Repeat {patch}',
  strike: 'Strike out',
  'bring-back': 'Bring back',
  'add-levels': 'Add levels…',
  'add-row': 'Add a row…',
  'duplicate-run': 'Measure again…',
  large: 'Large type',
  'levels-of': 'Levels to add to {run}, such as 2, 7, 20..80 step 20',
  'patch-of': 'The row to add to {run}: {columns}',
  'duplicate-for': 'The same patches for the mode',
  'duplicate-adjusted': '{id}, new: {from} as adjusted',
  add: 'Add',
  cancel: 'Cancel',
  ok: 'Put in',
  'next-run': 'All of {run} is taken. Enter goes on to {next}.',
  'day-done': 'All is taken.',

  'comma-question': '{typed}: is the comma a decimal one? Enter writes {mended}, and so from now on; Esc lets you change it.',
  'yours-theirs': 'Yours {yours}; in the file now {theirs}. Enter writes yours, Esc takes the one in the file.',
  'line-gone': 'The line is gone from the file. Your {yours} is kept here until Esc.',
  refused: 'Not written: {why}',
  'not-in-step': 'The sheet is not in step with the file: what you typed is kept.',
  'in-step-again': 'Read anew',

  paste: 'Paste into {run}',
  'paste-more': 'and {count} more rows',
  'paste-comma': 'What are the commas in these numbers?',
  'paste-comma-yes': 'Decimal commas: 6,70 is 6.70',
  'paste-comma-no': 'They part cells or thousands',
  'paste-repeats': 'Some patches have a reading already.',
  'paste-repeats-yes': 'Put theirs under it as repeats',
  'paste-repeats-no': 'Leave them out',
  'paste-nothing-goes': 'Nothing can be put in.',
  'paste-waiting': 'Looking at it…',
  adds: 'new row',
  fills: 'fills',
  repeats: 'repeat',
  same: 'there already',
  nothing: 'left out',
  line: 'line {line}',
  'column-left-out': 'column {column}',

  'taken-from': 'from {id}',
  'instead-of': 'instead of {value} from {id}',
  'taken-out': 'taken out here; {value} in {id}',
  'still-to-note': 'still to be noted',
  'take-out': 'Take out',
  'own-again': 'As {id} has it',
  'remove-line': 'Remove',
  'add-property': 'Add a property',
  'add-note': 'Add a note',
  name: 'Name',
  value: 'Value',
  'kept-as-is': 'not read; kept as it is',
  properties: 'Properties',
  against: 'Against {against}',
  'no-figures': 'No figures: {why}',
} as const;

export type SheetWord = keyof typeof SHEET_WORDS;
export type Words = Readonly<Record<string, string>>;

/** All words of the page, put into a language by `say`; places in them stay open. */
export const pageWords = (translated: (template: string) => string): Words =>
  Object.fromEntries(Object.entries(SHEET_WORDS).map(([code, template]) => [code, translated(template)]));

/** A word of the sheet for what the host itself words. */
export const worded = (say: Say, word: SheetWord, args: Args = {}): string => say(SHEET_WORDS[word], args);
