import { type Args, type Message, type Phrase, phraseOf } from '../text/message';
import type { Interval } from '../uncertainty/interval';
import { NO_METHOD } from './methods';

/** Why a figure has no interval: each reads after "no interval:". */
export const NO_INTERVAL = {
  ...NO_METHOD,
  'no-meter': 'the run names no meter',
  'no-spread': 'the meter {meter} states no spread',
  'no-spread-of': 'the meter {meter} states no spread of its {what}',
  stated: 'it does not hang on what the readings are uncertain by',
  folded: 'the colour is so near to grey that the readings cannot tell to which side of it',
  lost: 'with readings that err by their uncertainty there is no such figure',
  few: 'there are too few readings for their scatter to tell',
  long: 'in a run of so many rows it takes too long',
} as const;

/** The interval of a figure at 0.95, 0.025 at either end, or why there is none. */
export type Told = { readonly ok: true; readonly ci: Interval } | { readonly ok: false; readonly why: Message };

export const told = (ci: Interval): Told => (ci[0] <= ci[1] ? { ok: true, ci } : untold('lost'));

export const untold = (code: keyof typeof NO_INTERVAL, args: Args = {}): Told => ({ ok: false, why: { code, args } });

/** Of a figure that the errors may leave as it is: then it hangs on nothing that is uncertain. */
export const definite = (ci: Interval): Told => (ci[0] === ci[1] ? untold('stated') : told(ci));

/** Why there is no interval, to read after "no interval:". */
export const untoldPhrase = (why: Message): Phrase => phraseOf(NO_INTERVAL, why);

/** What holds all of some intervals: of a figure for a black of 0 and of the floor. */
export const joined = (list: readonly Interval[]): Interval => [Math.min(...list.map(([lo]) => lo)), Math.max(...list.map(([, hi]) => hi))];
