import type { Block } from '../session/block';
import type { Session } from '../session/session';
import type { Patches } from './readings';

/** What stands in place of the readings of a block that were taken with a meter (a correction has readings of two). */
export type Move = (block: Block, meter: Block | undefined, patches: Patches) => Patches;

interface Moved {
  readonly session: Session;
  readonly move: Move;
}

const moved = new WeakMap<Session, Moved>();

/**
 * The same session, seen with other readings: whatever is computed from it, by the code that computes the figures, is what it would have been
 * had the meter shown those. Nothing else of it differs, and nothing of the session itself changes.
 */
export function withReadings(session: Session, move: Move): Session {
  const seen = Object.create(session) as Session;
  moved.set(seen, { session, move });
  return seen;
}

/** What a session is seen with, and the session as it stands; undefined for one that is seen as it stands. */
export const otherReadings = (session: Session): Moved | undefined => moved.get(session);
