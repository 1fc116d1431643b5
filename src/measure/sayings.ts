import { SAYINGS as HIGHLIGHTS } from '../algorithms/highlights';
import { type Message, phraseOf, type Say, worded } from '../text/message';

/** What a run shows and how its readings were treated, as sentences. */
export const SAYINGS: Readonly<Record<string, string>> = {
  ...Object.fromEntries(Object.entries(HIGHLIGHTS).map(([code, words]) => [code, `The display ${words}.`])),
  corrected: 'The readings are corrected by {id}.',
  'drift-corrected': 'The drift of white is taken out of the readings.',
  'darkest-cell': 'The worst cell is row {row}, column {column}: {percent} % darker than the centre.',
  'brightest-cell': 'The worst cell is row {row}, column {column}: {percent} % brighter than the centre.',
  'spectrum-peaks': 'Peaks of {patch}: {peaks}.',
};

export const saidText = (message: Message, say: Say): string => worded(phraseOf(SAYINGS, message), say);
