import type { Verdict } from '../judge/limits';
import { type Analysis, isSettled } from '../project/analysis';
import { type Summary, summarise } from '../report/summary';
import type { Block } from '../session/block';

/** How a run stands: the gravest verdict of its figures, and how many of them have it. */
export interface RunStanding {
  readonly verdict: Verdict;
  readonly beyond: number;
  readonly undecided: number;
  readonly toTake: number;
}

/** What a status bar says of a session. */
export interface Standing {
  readonly toTake: number;
  /** Properties that are still to be noted. */
  readonly toNote: number;
  /** Measures beyond their limit, in all runs. */
  readonly beyond: number;
  readonly undecided: number;
  readonly findings: Summary['findings'];
  readonly runs: ReadonlyMap<Block, RunStanding>;
}

const known = new WeakMap<Analysis, { readonly standing: Standing; readonly settled: boolean }>();

export function standing(analysis: Analysis): Standing {
  const settled = isSettled(analysis);
  const before = known.get(analysis);
  let found = before?.settled === settled ? before.standing : undefined;
  if (!found) {
    const summary = summarise(analysis);
    const runs = new Map(
      summary.runs.map(({ result, figures, toTake }) => {
        const count = (verdict: Verdict) => figures.filter(({ judgement }) => judgement.verdict === verdict).length;
        const [beyond, undecided] = [count('beyond'), count('undecided')];
        const verdict = beyond > 0 ? 'beyond' : undecided > 0 ? 'undecided' : count('within') > 0 ? 'within' : 'no-number';
        return [result.run.block, { verdict, beyond, undecided, toTake } satisfies RunStanding] as const;
      }),
    );
    const sum = (of: 'beyond' | 'undecided') => [...runs.values()].reduce((total, run) => total + run[of], 0);
    found = {
      toTake: summary.toTake,
      toNote: analysis.findings.filter(({ code }) => code === 'property-to-note').length,
      beyond: sum('beyond'),
      undecided: sum('undecided'),
      findings: summary.findings,
      runs,
    };
    known.set(analysis, { standing: found, settled });
  }
  return found;
}
