import type { RunResult } from '../measure/result';
import type { Analysis } from '../project/analysis';
import type { Checked } from './check';

/** The runs of a session that a review refers to: all, where it shows the session as a whole. */
export function runsReferred(checked: readonly Checked[], analysis: Analysis): readonly RunResult[] {
  const own = checked.filter((each) => each.analysis === analysis);
  const ids = new Set(own.flatMap(({ reference }) => reference?.ids ?? []));
  const isWhole = own.some(
    ({ mention, reference }) => mention.is === 'instruction' && reference?.ids.some((id) => isWholeName(analysis, id)),
  );
  return isWhole ? analysis.results : analysis.results.filter(({ run }) => ids.has(run.id));
}

const isWholeName = ({ session }: Analysis, id: string): boolean => {
  const keyword = session.byName.get(id)?.keyword;
  return keyword === 'session' || keyword === 'display';
};

/** The same for each session: whose intervals are to be known before the review is shown, as verdicts hang on them. */
export const referredRuns = (checked: readonly Checked[]): ReadonlyMap<Analysis, readonly RunResult[]> =>
  new Map([...new Set(checked.flatMap(({ analysis }) => analysis ?? []))].map((analysis) => [analysis, runsReferred(checked, analysis)]));
