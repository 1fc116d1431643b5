import { lendIntervals } from '../measure/intervals';
import { RunResult } from '../measure/result';
import type { Analysis } from '../project/analysis';
import type { Reference } from '../session/reference';
import { fill, type Say } from '../text/message';
import { type FigureReading, figureFor } from './figures';

/** What a figure shows of one session, and what that session is called beside others. */
export interface Part {
  readonly analysis: Analysis;
  readonly reference: Pick<Reference, 'ids' | 'measure' | 'keys'>;
  /** Unique among the parts. */
  readonly id: string;
  readonly title: string;
}

/**
 * One figure of runs of several sessions, each run called by its session. What is drawn of one run alone (its limits) is that of the first.
 * @param parts at least one, all with the same figure
 */
export function figureAcross(parts: readonly [Part, ...Part[]], say: Say = fill): FigureReading {
  const [{ analysis, reference }] = parts;
  if (parts.length === 1) return figureFor(analysis, reference, say);
  const results = parts.flatMap((part) =>
    part.reference.ids.flatMap((id) => {
      const result = part.analysis.results.find(({ run }) => run.id === id);
      return result ? [calledBy(part, result)] : [];
    }),
  );
  const ids = parts.flatMap((part) => part.reference.ids.map((id) => idIn(part, id)));
  return figureFor({ ...analysis, results }, { ...reference, ids }, say);
}

const idIn = (part: Part, id: string): string => `${part.id}/${id}`;

const called = new WeakMap<RunResult, Map<string, RunResult>>();

/** The same run under the name of its session, with its own beside it where that session shows several. */
function calledBy(part: Part, result: RunResult): RunResult {
  const { run } = result;
  const own = run.title === '' ? run.id : run.title;
  const title = part.reference.ids.length === 1 ? part.title : `${part.title}, ${own}`;
  const id = idIn(part, run.id);
  const known = called.get(result) ?? new Map<string, RunResult>();
  called.set(result, known);
  const found = known.get(`${id}\n${title}`) ?? new RunResult(result.session, { ...run, id, title });
  known.set(`${id}\n${title}`, found);
  lendIntervals(result, found);
  return found;
}
