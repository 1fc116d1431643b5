import { counted } from './format';
import type { Named, RunSummary, Summary } from './summary';

/** Sentences that several forms of report share. `shown` makes a text of the file fit for the form. */

type Shown = (text: string) => string;

/** `mode cinema "Cinema, as shipped"`. */
export const named = (word: string, { id, title }: Named, shown: Shown): string =>
  `${word} ${shown(id)}${title === '' ? '' : ` "${shown(title)}"`}`;

/** What a run was taken with; empty when it says nothing. */
export function takenWith({ mode, signal, meter, firmware, taken }: RunSummary, shown: Shown): string {
  return [
    mode && named('mode', mode, shown),
    signal && `signal ${shown(signal.id)}`,
    meter && `meter ${shown(meter.id)}`,
    firmware !== undefined && `firmware ${shown(firmware)}`,
    taken !== undefined && `taken ${taken}`,
  ]
    .filter((part) => part)
    .join(', ');
}

/** `2 readings still to take, the first at 40`; empty when there is none. */
export const stillToTake = ({ toTake, firstToTake }: Pick<RunSummary, 'toTake' | 'firstToTake'>, shown: Shown): string =>
  toTake === 0 ? '' : `${counted(toTake, 'reading')} still to take${firstToTake ? `, the first at ${shown(firstToTake)}` : ''}`;

/** `2 errors, 1 warning, 4 info`, or `none`. */
export function findingsText({ error, warning, info }: Summary['findings']): string {
  const parts = [error > 0 && counted(error, 'error'), warning > 0 && counted(warning, 'warning'), info > 0 && `${info} info`];
  return parts.filter((part) => part !== false).join(', ') || 'none';
}
