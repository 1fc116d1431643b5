import type { Finding } from '../../text/finding';
import type { Checked, CheckedReview } from '../check';

/** Whether a claim rests on nothing that its session says. */
export const isStale = ({ status }: Checked): boolean => status === 'wrong' || status === 'broken';

/** What has to be said before a review is published: what does not hold, and what is open. */
export interface Standing {
  /** Claims that do not hold or lead nowhere, and lines of fenced blocks that show nothing. */
  readonly stale: number;
  /** On those, and on claims that are open; hints are left out. */
  readonly findings: readonly Finding[];
}

export function standingOf({ checked, findings }: CheckedReview): Standing {
  const unshown = findings.filter(({ code, severity }) => code.startsWith('fence-') && severity === 'error');
  return { stale: checked.filter(isStale).length + unshown.length, findings: findings.filter(({ severity }) => severity !== 'info') };
}
