import type { RunResult } from '../measure/result';
import type { Analysis } from '../project/analysis';
import { fill, type Say } from '../text/message';
import { CHANGE_WORDS, changedText, changesOf, crossedText, differenceText, modesOf, type RunChange, shownChanges } from './changes';
import { EXPLAINED, explanation, hasIntervals, silentMeters } from './explained';
import { figureText, judgementText, limitLine, measuredText, NONE, numberText, verdictText, visible, whyText } from './format';
import { findingsText, named, stillToTake, takenWith } from './said';
import { type Figure, figureTitle, headline, type Observations, type RunSummary, type Summary, summarise } from './summary';

/**
 * The bench report for a terminal: of each run what it was taken with and judged against, its headline figures, and whatever else is not
 * within its limit. Ends with a line end.
 */
export function summaryText(analysis: Analysis, fileName: string): string {
  const summary = summarise(analysis);
  const shown = summary.runs.map((run) => ({ run, lines: reasonOf(run) === undefined ? shownFigures(run).map(cells) : [] }));
  const widths = [0, 1, 2].map((cell) => Math.max(0, ...shown.flatMap(({ lines }) => lines.map((line) => line[cell]!.length))));
  const runs = shown.map(({ run, lines }) => [
    `${run.kind} ${run.id}${run.title && `  ${visible(run.title)}`}`,
    ...circumstances(run).map((line) => `  ${line}`),
    ...run.says.map((sentence) => `    ${visible(sentence)}`),
    ...lines.map((line) => `    ${line.map((cell, i) => cell.padEnd(widths[i] ?? 0)).join('   ')}`.trimEnd()),
    ...(run.more === 0 ? [] : [`    and ${run.more} more of its rows`]),
    ...[reasonOf(run)].filter((why) => why !== undefined).map((why) => `    not computed: ${visible(why)}`),
  ]);
  const changes = changesOf(analysis).map(changeLines);
  const parts = [head(summary, fileName), ...runs, ...changes, ...summary.observations.map(observed), foot(summary)];
  return `${parts.map((part) => part.join('\n')).join('\n\n')}\n`;
}

/** Before and after, measure by measure. */
function changeLines(change: RunChange): string[] {
  const [before, after] = modesOf(change);
  const lines = shownChanges(change).map((measure) => [
    visible(measure.spec.title),
    `${numberText(measure.from, measure.spec.decimals)} → ${numberText(measure.to, measure.spec.decimals)}`,
    differenceText(measure),
    [changedText(measure), crossedText(measure)].filter((part) => part !== '').join(', '),
  ]);
  const widths = [0, 1, 2].map((cell) => Math.max(0, ...lines.map((line) => line[cell]!.length)));
  return [
    `change ${change.before.run.id} → ${change.after.run.id}`,
    `  ${fill(CHANGE_WORDS.modes, { before: visible(before), after: visible(after) })}`,
    ...lines.map((line) => `    ${line.map((cell, i) => cell.padEnd(widths[i] ?? 0)).join('   ')}`.trimEnd()),
  ];
}

/** Why the run has no figures, or why none of its headline has a number where that is one and the same. */
function reasonOf({ why, headline: first, figures }: RunSummary): string | undefined {
  if (why !== undefined) return why;
  const reasons = new Set(first.map(({ value }) => (value.ok ? undefined : whyText(value.why))));
  return reasons.size === 1 && !figures.some(({ judgement: { verdict } }) => verdict !== 'no-number') ? [...reasons][0] : undefined;
}

function observed({ mode, signal, distance, seen }: Observations): string[] {
  const circumstances = [
    takenWith({ ...(mode && { mode }), ...(signal && { signal }) }, visible),
    distance === undefined ? '' : `from ${visible(distance)}`,
  ].filter((part) => part !== '');
  const width = Math.max(0, ...seen.map(({ topic }) => topic.length));
  return [
    'observations',
    ...(circumstances.length === 0 ? [] : [`  ${circumstances.join(', ')}`]),
    ...seen.map(({ topic, is }) => `    ${visible(topic).padEnd(width)}   ${is === '?' ? 'still to note' : visible(is)}`),
  ];
}

function head(summary: Summary, fileName: string): string[] {
  const { title, date, display, firmware, room, warmUp, meters } = summary;
  return [
    ...(title === '' ? [] : [visible(title)]),
    [visible(fileName), date].filter((part) => part !== undefined).join(', '),
    ...(display ? [`${named('display', display, visible)}, firmware ${firmware === undefined ? 'not noted' : visible(firmware)}`] : []),
    ...(room === undefined ? [] : [`room ${visible(room)}`]),
    ...(warmUp === undefined ? [] : [`warm-up ${visible(warmUp)}`]),
    ...meters.map((meter) => named('meter', meter, visible)),
    ...silentMeters(summary).map((meter) => fill(EXPLAINED.silent, { meter: visible(meter) })),
  ];
}

const circumstances = (run: RunSummary): string[] =>
  [takenWith(run, visible), run.against && `against ${visible(run.against)}`, stillToTake(run, visible)].filter((line) => line !== '');

/** Headline figures, and those that a reader must not miss. */
const shownFigures = ({ figures, headline: first }: RunSummary): readonly Figure[] => [
  ...first,
  ...figures.filter(
    ({ id, key, judgement: { verdict } }) =>
      (verdict === 'beyond' || verdict === 'undecided') && !first.some((f) => f.id === id && f.key.join() === key.join()),
  ),
];

function cells(figure: Figure): readonly string[] {
  const { spec, value, judgement } = figure;
  const title = visible(figureTitle(figure));
  if (!value.ok) return [title, NONE, '', `not computed: ${visible(whyText(value.why))}`];
  return [title, measuredText(figure), judgementText(judgement), limitLine(spec, judgement)];
}

function foot(summary: Summary): string[] {
  const { toTake, findings, runs } = summary;
  return [
    ...(hasIntervals(summary) ? [fill(EXPLAINED.intervals)] : []),
    ...(runs.length === 0 ? ['No runs.'] : []),
    ...(toTake === 0 ? [] : [`${stillToTake({ toTake }, visible)}.`]),
    `Findings: ${findingsText(findings)}.`,
  ];
}

/** The headline figures of a run in one line, for beside its head; undefined where there is no such run. */
export function lensText(analysis: Analysis, runId: string): string | undefined {
  const result = analysis.results.find(({ run }) => run.id === runId);
  return result && lensTextOf(analysis, result);
}

export function lensTextOf(analysis: Analysis, result: RunResult, say: Say = fill): string {
  if (result.absent) return say('not computed: {why}', { why: visible(whyText(result.absent.why, say)) });
  return headline(analysis, result)
    .map((figure) => {
      const { verdict } = figure.judgement;
      // A line above a run is short: an interval stands where it is what leaves the verdict open.
      const number = verdict === 'undecided' ? measuredText(figure, say) : figureText(figure, say);
      return visible([called(figure, say), number, verdictText(verdict, say)].join(' ').trimEnd());
    })
    .join('; ');
}

/** What a figure is called where its number follows on the line: the number of a key stands apart from it. */
const called = (figure: Figure, say: Say = fill): string => `${figureTitle(figure, say)}${figure.key.length === 0 ? '' : ':'}`;

/** One figure in one line: what it is, its number and verdict, its limits, and what it is against. */
export function figureLine(figure: Figure, result: RunResult): string {
  const { spec, value, judgement } = figure;
  const title = called(figure);
  const against = result.againstText() && `; against ${result.againstText()}`;
  if (!value.ok) return visible(`${title} not computed: ${whyText(value.why)}`);
  const judged = [judgementText(judgement), limitLine(spec, judgement)].filter((part) => part !== '').join('; ');
  const why = explanation(figure, result);
  return visible(`${title} ${measuredText(figure)}${judged && ` — ${judged}`}${against}${why && `. ${why}`}`);
}
