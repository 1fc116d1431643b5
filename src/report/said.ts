import { READINGS } from '../session/blockProblems';
import { counted, type Forms, fill, type Say, worded } from '../text/message';
import type { Named, RunSummary, Summary } from './summary';

/** Sentences that several forms of report share. `shown` makes a text of the file fit for the form. */

type Shown = (text: string) => string;

/** What has a name, without a title and with one. */
export const NAMED = {
  display: ['display {id}', 'display {id} "{title}"'],
  meter: ['meter {id}', 'meter {id} "{title}"'],
  mode: ['mode {id}', 'mode {id} "{title}"'],
} as const;

/** `mode cinema "Cinema, as shipped"`. */
export const named = (what: keyof typeof NAMED, { id, title }: Named, shown: Shown, say: Say = fill): string =>
  say(NAMED[what][title === '' ? 0 : 1], { id: shown(id), title: shown(title) });

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** What a kind of block is called in words: its keyword in English, with a capital. */
export const kindTitle = (keyword: string, say: Say = fill): string => say(capital(keyword));

/** The same of a property; a name of the user's own stays as it is. */
export const propertyTitle = (name: string, say: Say = fill): string => say(capital(name.replaceAll('-', ' ')));

/** What a run was taken with; empty when it says nothing. */
export function takenWith({ mode, signal, meter, firmware, taken }: Partial<RunSummary>, shown: Shown, say: Say = fill): string {
  return [
    mode && named('mode', mode, shown, say),
    signal && say('signal {id}', { id: shown(signal.id) }),
    meter && say('meter {id}', { id: shown(meter.id) }),
    firmware !== undefined && say('firmware {version}', { version: shown(firmware) }),
    taken !== undefined && say('taken {date}', { date: taken }),
  ]
    .filter((part) => part)
    .join(', ');
}

/** `2 readings still to take, the first at 40`; empty when there is none. */
export function stillToTake(
  { toTake, firstToTake }: Pick<RunSummary, 'toTake' | 'firstToTake'>,
  shown: Shown = (text) => text,
  say: Say = fill,
): string {
  const readings = counted(toTake, READINGS);
  if (toTake === 0) return '';
  return firstToTake === undefined || firstToTake === ''
    ? say('{readings} still to take', { readings })
    : say('{readings} still to take, the first at {row}', { readings, row: shown(firstToTake) });
}

const ERRORS: Forms = ['1 error', '{count} errors'];
const WARNINGS: Forms = ['1 warning', '{count} warnings'];

/** `2 errors, 1 warning, 4 info`, or `none`. */
export function findingsText({ error, warning, info }: Summary['findings'], say: Say = fill): string {
  const parts = [
    error > 0 && worded(counted(error, ERRORS), say),
    warning > 0 && worded(counted(warning, WARNINGS), say),
    info > 0 && say('{count} info', { count: info }),
  ];
  return parts.filter((part) => part !== false).join(', ') || say('none');
}
