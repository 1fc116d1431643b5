import type { Verdict } from '../judge/limits';
import type { RunResult } from '../measure/result';
import { type ChangedBy, compareVersions, type VersionChange } from '../measure/versions';
import type { Analysis } from '../project/analysis';
import type { Block } from '../session/block';
import { type BlockDifference, textDifference } from '../session/difference';
import { finish } from '../uncertainty/covariance';
import type { Interval } from '../uncertainty/interval';
import { figureText } from './format';
import { type Figure, figureName, figureOf, type RunSummary, summarise } from './summary';

/** A figure that is another in the version after, or is judged otherwise. */
export interface FigureChange {
  readonly before: Figure;
  readonly after: Figure;
  readonly by: ChangedBy;
  /** After less before; undefined where one of both has no number. */
  readonly difference?: number;
  /** Where the true difference lies, where readings were taken again and enough is known of their errors. */
  readonly interval?: Interval;
  /** Whether the interval leaves out 0. */
  readonly isShown?: boolean;
  /** Whether a reader is to be told: it is held to something or says most of its run, and is judged otherwise or shown to have changed. */
  readonly isTold: boolean;
}

/** A run that both versions have, and what of its figures is not as it was. */
export interface RunDifference {
  readonly before: RunResult;
  readonly after: RunResult;
  readonly figures: readonly FigureChange[];
}

export interface Difference {
  /** What the text says otherwise, with the run where it is one. Runs that are as they were, but come out otherwise, follow. */
  readonly sections: readonly { readonly block?: BlockDifference; readonly run?: RunDifference }[];
  readonly isIdentical: boolean;
}

/** What is between two versions of one session, of which the intervals are known. Pauses between pieces of work. */
export function* differenceOf(before: Analysis, after: Analysis): Generator<unknown, Difference> {
  const { blocks, became, isIdentical } = textDifference(before.source, after.source);
  const runs = new Map<Block, RunDifference>();
  const summaries = [before, after].map((analysis) => new Map(summarise(analysis).runs.map((run) => [run.result.run.block, run])));
  for (const [block, run] of summaries[0]!) {
    const other = summaries[1]!.get(became.get(block)?.block as Block);
    if (!other) continue;
    const pairs = pairsOf(before, run, after, other).filter(isOtherwise);
    if (pairs.length === 0) continue;
    const asked = pairs.map(([, { id, key }]) => ({ id, key }));
    const changes = yield* compareVersions(run.result, other.result, became, asked);
    const headline = new Set([...run.headline, ...other.headline].map(figureName));
    const figures = pairs.map((pair, i) => changed(pair, changes[i]!, headline.has(figureName(pair[1]))));
    runs.set(other.result.run.block, { before: run.result, after: other.result, figures });
  }
  const sections = blocks.map((block) => {
    const run = block.after && runs.get(block.after);
    if (run) runs.delete(block.after!);
    return { block, ...(run && { run }) };
  });
  return { sections: [...sections, ...[...runs.values()].map((run) => ({ run }))], isIdentical };
}

/** The same at once, for whom it is no matter how long it takes. */
export const differenceNow = (before: Analysis, after: Analysis): Difference => finish(differenceOf(before, after));

type Pair = readonly [before: Figure, after: Figure];

/** The figures of a run in both versions: of each measure, and of rows that have a limit of their own in either. */
function pairsOf(before: Analysis, was: RunSummary, after: Analysis, is: RunSummary): Pair[] {
  const figures = new Map([...is.figures, ...was.figures].map((figure) => [figureName(figure), figure]));
  const among = ({ figures: list }: RunSummary) => new Map(list.map((figure) => [figureName(figure), figure]));
  const [old, now] = [among(was), among(is)];
  return [...figures].map(([name, { id, key }]) => [
    old.get(name) ?? figureOf(before, was.result, id, key),
    now.get(name) ?? figureOf(after, is.result, id, key),
  ]);
}

function isOtherwise([before, after]: Pair): boolean {
  const [a, b] = [before.value, after.value];
  const isJudgedAlike = before.judgement.verdict === after.judgement.verdict && before.judgement.aim === after.judgement.aim;
  if (!isJudgedAlike || a.ok !== b.ok) return true;
  return a.ok && b.ok && (a.bound !== b.bound || Math.abs(a.v - b.v) > 1e-9 * Math.max(Math.abs(a.v), Math.abs(b.v)));
}

function changed([before, after]: Pair, { by, interval }: VersionChange, isHeadline: boolean): FigureChange {
  const [from, to] = [before.value, after.value];
  const difference = from.ok && to.ok ? to.v - from.v : undefined;
  const isShown = interval && (interval[0] > 0 || interval[1] < 0);
  const isHeld = isHeadline || before.judgement.limits !== undefined || after.judgement.limits !== undefined;
  const isSeen = figureText(before) !== figureText(after);
  const isTold = verdictOf(before) !== verdictOf(after) || (isHeld && isSeen && isShown !== false);
  return {
    before,
    after,
    by,
    ...(difference !== undefined && { difference }),
    ...(interval && { interval, isShown: isShown! }),
    isTold,
  };
}

const verdictOf = ({ judgement }: Figure): Verdict => judgement.verdict;

/** Whether there is anything that is more than another wording, layout or comment. */
export const matters = ({ sections }: Difference): boolean => sections.length > 0;
