import type { RunResult } from '../measure/result';
import { type Analysis, settled } from '../project/analysis';
import type { Read } from '../project/folder';
import { type CheckedReview, checkReview, comparedRuns, type KnownSessions, type ReviewPlace, sessionsOf } from './check';
import type { ReviewText } from './markdown';

export type ReadSession = Read<{ readonly analysis: Analysis }>;

/** Where the sessions are had that reviews refer to. What it gives is never of a file that lies outside the root of the reviews. */
export interface Sources {
  session(path: string): Promise<ReadSession>;
  /** The paths of sessions there are; asked for only where one is missing. */
  list(): Promise<readonly string[]>;
}

/**
 * Reads the sessions that a review names, and holds its claims against them.
 * @param settle computes the intervals of runs, as far as there is time: what is not known by then is held by its number
 */
export async function checkedReview(
  review: ReviewText,
  place: ReviewPlace,
  sources: Sources,
  settle: (results: readonly RunResult[]) => Promise<unknown> | unknown = (results) => settled({ results }),
): Promise<CheckedReview> {
  const paths = sessionsOf(review, place);
  const read = new Map(await Promise.all(paths.map(async (path) => [path, await sources.session(path)] as const)));
  const isMissing = [...read.values()].some((session) => !session.ok && session.problem.code === 'missing');
  const sessions: KnownSessions = { session: (path) => read.get(path), paths: isMissing ? await sources.list() : [] };
  const compared = comparedRuns(review, place, sessions);
  if (compared.length > 0) await settle(compared);
  return checkReview(review, place, sessions);
}
