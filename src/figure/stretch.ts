import { type Phrase, phrase } from '../text/message';
import { verdictOfInterval } from '../uncertainty/conformity';
import type { Interval } from '../uncertainty/interval';

/** A reading at a place of a scale: how far it is off, signed, and what the scale says there. */
export interface Deviation {
  readonly v: number;
  /** As it is written: `70`. */
  readonly at: string;
  /** Where the true deviation lies, once that is known. */
  readonly ci?: Interval;
}

/** The worst of some deviations, and the stretch around it where they are off in the same direction by more than there is room for. */
export interface Stretch {
  readonly worst: Deviation;
  readonly from: string;
  readonly to: string;
  /** Whether the stretch begins with the first, or ends with the last of all. */
  readonly fromFirst: boolean;
  readonly toLast: boolean;
  /** One number that says it all along the stretch, where there is one: the middle of those that are much alike. */
  readonly alike: number | undefined;
}

/** A stretch is spoken of with one number where no deviation of it is farther from the middle one than this share. */
const ALIKE = 0.25;

/**
 * Finds where a line lies off. Undefined when every deviation is within `room` (closed), or there is none.
 * @param deviations along the scale
 */
export function stretchOf(deviations: readonly Deviation[], room: number): Stretch | undefined {
  let at = -1;
  deviations.forEach(({ v }, i) => {
    if (Math.abs(v) > room && (at < 0 || Math.abs(v) > Math.abs(deviations[at]!.v))) at = i;
  });
  if (at < 0) return undefined;
  const worst = deviations[at]!;
  const isOff = (i: number): boolean => {
    const v = deviations[i]?.v;
    return v !== undefined && Math.abs(v) > room && v > 0 === worst.v > 0;
  };
  let [from, to] = [at, at];
  while (isOff(from - 1)) from--;
  while (isOff(to + 1)) to++;
  const sizes = deviations
    .slice(from, to + 1)
    .map(({ v }) => Math.abs(v))
    .sort((p, q) => p - q);
  const middle = sizes[Math.floor(sizes.length / 2)]!;
  const isAlike = sizes.every((size) => Math.abs(size - middle) <= ALIKE * middle);
  return {
    worst,
    from: deviations[from]!.at,
    to: deviations[to]!.at,
    fromFirst: from === 0,
    toLast: to === deviations.length - 1,
    alike: isAlike ? Math.sign(worst.v) * middle : undefined,
  };
}

/** Whether what is said of the deviations may be otherwise: that the worst of a stretch is off, or that all are within `room`. */
export function isOpen(stretch: Pick<Stretch, 'worst'> | undefined, deviations: readonly Deviation[], room: number): boolean {
  return (stretch ? [stretch.worst] : deviations).some(
    ({ v, ci }) => verdictOfInterval(ci ?? [v, v], { low: -room, high: room }) === 'undecided',
  );
}

/** How far off the farthest is; NaN where none is judged. */
export const largestOf = (deviations: readonly Deviation[]): number =>
  deviations.length === 0 ? Number.NaN : deviations.reduce((most, { v }) => Math.max(most, Math.abs(v)), 0);

/** An answer that goes by the readings, while their intervals leave it open. */
export const asRead = (answer: Phrase, open: boolean): Phrase => (open ? phrase('{answer} as read, undecided', { answer }) : answer);

/** `at every level`, `from 70 % up`, `from 40 to 60 %`, `at 50 %`: where along levels in per cent. */
export function whereOf({ from, to, fromFirst, toLast }: Stretch): Phrase {
  if (fromFirst && toLast) return phrase('at every level');
  if (from === to) return phrase('at {level} %', { level: from });
  if (toLast) return phrase('from {level} % up', { level: from });
  return phrase('from {from} to {to} %', { from, to });
}
