import type { Config } from '../config/config';
import { outOfPlace } from '../judge/outOfPlace';
import { unknownPatches } from '../judge/patches';
import { type Floor, impossibleReadings } from '../judge/readings';
import { suspicions } from '../judge/suspicions';
import { unsaid } from '../judge/unsaid';
import { compareRuns, knownComparison, pairsOf } from '../measure/comparison';
import { intervalsOf, knownIntervals } from '../measure/intervals';
import { RunResult } from '../measure/result';
import type { Block } from '../session/block';
import { readingsToTake } from '../session/blockProblems';
import { located, type Placed, textFindings } from '../session/findings';
import { type Run, type Session, sessionOf } from '../session/session';
import type { SessionText } from '../session/sessionText';
import { tableOf } from '../session/table';
import type { Code } from '../text/codes';
import type { Finding } from '../text/finding';
import { Dependencies, type HangsOn } from './dependencies';

/** All that is known of one version of a session: what editor, command line and reports speak from. */
export interface Analysis {
  readonly source: SessionText;
  readonly session: Session;
  readonly config: Config;
  readonly results: readonly RunResult[];
  /** In the order of the text, with the severities that the folder gives them. */
  readonly findings: readonly Finding[];
  /** Live rows with a reading still to take. */
  readonly toTake: number;
}

/** Analyses a version of a session. What hangs on blocks that have not changed since an earlier version is taken from there. */
export function analyse(source: SessionText, config: Config): Analysis {
  const session = sessionOf(source);
  const dependencies = new Dependencies(session);
  const judged = [...correctionsOf(session), ...session.runs].map((run) => judgedRun(session, run, dependencies));
  const results = judged.map(({ result }) => result);
  const placed = [...judged.flatMap((run) => run.placed), ...unsaid(session, results)];
  const findings = mergeSorted(textFindings(source), located(source, placed)).flatMap((finding) => withSeverity(finding, config));
  const toTake = session.runs.reduce((sum, run) => sum + readingsToTake(run.block).count, 0);
  return { source, session, config, results, findings, toTake };
}

/**
 * The second phase: the intervals of all runs, and what changed between those that are before and after, once point values and findings are
 * there. Pauses between small pieces of work: whoever drives it looks at the clock, goes on with `next()`, or drops it, which leaves the
 * runs done so far as they are and nothing of the one under way. What was computed for an earlier version stands with its results. Until it
 * is done verdicts are those of the numbers alone.
 * @param among the runs that are wanted, where it is not all of them
 */
export function* intervals({ results }: Pick<Analysis, 'results'>, among = results): Generator<unknown, void> {
  for (const result of among) yield* intervalsOf(result);
  for (const [before, after] of pairsOf(results))
    if (among === results || (among.includes(before) && among.includes(after))) yield* compareRuns(before, after);
}

/** The second phase at once, for whom it is no matter how long it takes. */
export function settled<T extends Pick<Analysis, 'results'>>(analysis: T, among = analysis.results): T {
  for (const _ of intervals(analysis, among));
  return analysis;
}

/** Whether the second phase is done. */
export const isSettled = ({ results }: Pick<Analysis, 'results'>): boolean =>
  results.every((result) => knownIntervals(result) !== undefined) &&
  pairsOf(results).every(([before, after]) => knownComparison(before, after) !== undefined);

/** Corrections have figures too: how well they meet colours that had no part in them. */
const correctionsOf = (session: Session): readonly Run[] =>
  session.all('correction').map((block) => {
    const meter = session.resolve(block, 'meter');
    const mode = session.properties(block).has('mode') ? session.resolve(block, 'mode') : undefined;
    return {
      block,
      kind: 'correction',
      id: block.name,
      title: block.header?.title?.text ?? '',
      table: tableOf(block),
      ...(meter.is === 'found' && { meter: meter.block }),
      ...(mode?.is === 'found' && { mode: mode.block }),
    };
  });

interface JudgedRun {
  readonly hangsOn: HangsOn;
  readonly result: RunResult;
  readonly placed: readonly Placed[];
}

const known = new WeakMap<Block, JudgedRun>();

/** A run's results and findings, from an earlier version while none of the blocks that they hang on has changed. */
function judgedRun(session: Session, run: Run, dependencies: Dependencies): JudgedRun {
  const hangsOn = dependencies.of(run);
  let judged = known.get(run.block);
  if (!judged || !dependencies.areAs(judged.hangsOn, hangsOn)) {
    const result = new RunResult(session, run);
    const placed = [
      ...impossibleReadings(run.block, floorOf(session, run)),
      ...unknownPatches(run.block),
      ...suspicions(session, result),
      ...outOfPlace(session, result),
    ];
    judged = { hangsOn, result, placed };
    known.set(run.block, judged);
  }
  return judged;
}

function floorOf(session: Session, run: Run): Floor | undefined {
  const value = session.number(run.meter, 'floor');
  return run.meter && value !== undefined && value > 0 ? { meter: run.meter.name, value } : undefined;
}

/** A finding with the severity that a folder gives it; none where it is switched off. */
export function withSeverity(finding: Finding, { severities }: Config): Finding[] {
  const severity = severities.get(finding.code as Code);
  if (severity === undefined) return [finding];
  return severity === 'off' ? [] : [{ ...finding, severity }];
}

function mergeSorted(a: readonly Finding[], b: readonly Finding[]): Finding[] {
  if (b.length === 0) return [...a];
  return [...a, ...b].sort((p, q) => p.span[0] - q.span[0] || p.span[1] - q.span[1] || (p.code < q.code ? -1 : p.code > q.code ? 1 : 0));
}
