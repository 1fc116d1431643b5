import { SAYINGS as HIGHLIGHTS } from '../algorithms/highlights';
import { fill, type Message } from '../text/message';

/** What a run shows, as sentences. */
export const SAYINGS: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries(HIGHLIGHTS).map(([code, words]) => [code, `The display ${words}.`]),
);

export const saidText = ({ code, args }: Message): string => fill(SAYINGS[code] ?? code, args);
