import type { MeasureSpec } from '../measure/specs';
import type { Analysis } from '../project/analysis';
import type { Block } from '../session/block';
import { READINGS } from '../session/blockProblems';
import { counted, type Forms, fill, phrase, type Say, worded } from '../text/message';
import { CHANGE_WORDS, changedText, changesOf, crossedText, differenceText, modesOf, shownChanges } from './changes';
import { EXPLAINED, hasIntervals, silentMeters } from './explained';
import { judgementText, limitTexts, measuredText, NONE, numberText, visible, whyText } from './format';
import { capital, findingsText, kindTitle, stillToTake, takenWith } from './said';
import {
  type Figure,
  figureOf,
  figureTitle,
  type Named,
  type Observations,
  type RunSummary,
  rowsOf,
  type Summary,
  summarise,
  writtenValue,
} from './summary';

/** The most rows of a run that are listed: a document of tens of thousands of lines is read by nobody, and some previews hang on it. */
const MOST_ROWS = 200;

/** The bench report as a Markdown document: the day, each run with all its figures and rows, the settings of the modes. */
export function summaryMarkdown(analysis: Analysis, fileName: string, say: Say = fill): string {
  const summary = summarise(analysis, say);
  const parts = [
    `# ${escaped(summary.title === '' ? fileName : summary.title)}`,
    facts(summary, fileName, say),
    ...summary.runs.flatMap((run) => runPart(analysis, run, say)),
    ...changes(analysis, say),
    ...summary.observations.flatMap((observations) => observed(observations, say)),
    ...settings(analysis, say),
  ];
  return `${parts.filter((part) => part !== '').join('\n\n')}\n`;
}

function facts(summary: Summary, fileName: string, say: Say): string {
  const { date, display, firmware, room, warmUp, meters, toTake, findings, runs } = summary;
  return [
    say('File: {file}', { file: escaped(fileName) }),
    ...(date === undefined ? [] : [say('Date: {date}', { date })]),
    ...(display
      ? [
          say('Display: {display}', { display: titled(display) }),
          say('Firmware: {version}', { version: firmware === undefined ? phrase('not noted') : escaped(firmware) }),
        ]
      : []),
    ...(room === undefined ? [] : [say('Room: {room}', { room: escaped(room) })]),
    ...(warmUp === undefined ? [] : [say('Warm-up: {time}', { time: escaped(warmUp) })]),
    ...meters.map((meter) => say('Meter: {meter}', { meter: titled(meter) })),
    ...silentMeters(summary).map((meter) => say(EXPLAINED.silent, { meter: escaped(meter) })),
    ...(runs.length === 0 ? [say('No runs')] : []),
    ...(toTake === 0 ? [] : [say('Still to take: {readings}', { readings: counted(toTake, READINGS) })]),
    say('Findings: {findings}', { findings: findingsText(findings, say) }),
  ]
    .map((fact) => `- ${fact}`)
    .join('\n')
    .concat(hasIntervals(summary) ? `\n\n${say(EXPLAINED.intervals)}` : '');
}

const titled = ({ id, title }: Named): string => (title === '' ? escaped(id) : `${escaped(title)} (${escaped(id)})`);

function runPart(analysis: Analysis, run: RunSummary, say: Say): string[] {
  const toTake = stillToTake(run, escaped, say);
  const said = [
    `${[kindTitle(run.kind, say), takenWith(run, escaped, say)].filter((part) => part !== '').join(', ')}.`,
    ...(run.against === '' ? [] : [say('Against {against}.', { against: escaped(run.against) })]),
    ...(toTake === '' ? [] : [`${toTake}.`]),
    ...(run.why === undefined ? [] : [say('Not computed: {why}.', { why: escaped(run.why) })]),
  ];
  return [
    `## ${escaped(run.id)}${run.title === '' ? '' : `: ${escaped(run.title)}`}`,
    said.map(capital).join('  \n'),
    escaped(run.says.join(' ')),
    figureTable(run.figures, say),
    missing(run.figures, say),
    rowTable(analysis, run, say),
  ];
}

/** In a narrow column a figure stays with its interval, and a verdict with its sign. */
const NO_BREAK = '\u00a0';
const BEFORE_SIGN = / (?=[·≈▲])/;

function figureTable(figures: readonly Figure[], say: Say): string {
  const rows = figures
    .filter(({ value }) => value.ok)
    .map((figure) => {
      const { limit, aim } = limitTexts(figure.spec, figure.judgement, say);
      const verdict = judgementText(figure.judgement, say).replace(BEFORE_SIGN, NO_BREAK);
      return [escaped(figureTitle(figure, say)), measuredText(figure, say).replaceAll(' ', NO_BREAK), verdict, limit, aim];
    });
  return rows.length === 0 ? '' : table([say('Measure'), say('Value'), say('Verdict'), say('Limit'), say('Aim')], rows);
}

/** What changed between runs before and after. */
function changes(analysis: Analysis, say: Say): string[] {
  const all = changesOf(analysis);
  return all.flatMap((change, i) => {
    const [before, after] = modesOf(change);
    const rows = shownChanges(change).map((measure) => [
      escaped(say(measure.spec.title)),
      ...[measure.from, measure.to].map((v) => numberText(v, measure.spec.decimals)),
      escaped(differenceText(measure, say)),
      [changedText(measure, say), crossedText(measure, say)].filter((part) => part !== '').join(', '),
    ]);
    return [
      `## ${escaped(change.before.run.id)} → ${escaped(change.after.run.id)}`,
      capital(
        `${say(CHANGE_WORDS.modes, { before: escaped(before), after: escaped(after) })}.${i === 0 ? ` ${say(CHANGE_WORDS.about)}` : ''}`,
      ),
      rows.length === 0 ? '' : table([say('Measure'), say('Before'), say('After'), say('Difference'), say('Change')], rows),
    ];
  });
}

/** What could not be computed, gathered by why. */
function missing(figures: readonly Figure[], say: Say): string {
  const reasons = new Map<string, string[]>();
  for (const figure of figures) {
    if (figure.value.ok) continue;
    const why = whyText(figure.value.why, say);
    reasons.set(why, [...(reasons.get(why) ?? []), figureTitle(figure, say)]);
  }
  return [...reasons]
    .map(([why, titles]) => say('Not computed: {figures} ({why}).', { figures: escaped(titles.join('; ')), why: escaped(why) }))
    .join('  \n');
}

/** The row figures that a reader looks at first, by kind of run; those of a kind that are without numbers are left out. */
const ROW_COLUMNS: Readonly<Record<string, readonly string[]>> = {
  greyscale: ['de', 'de.itp', 'dc', 'balance.r', 'balance.g', 'balance.b', 'curve'],
  saturation: ['de', 'de.itp', 'delta.l', 'delta.c', 'delta.h'],
  patches: ['de', 'de.itp', 'delta.l', 'delta.c', 'delta.h'],
  gamut: ['delta.uv'],
  window: ['peak'],
  tracking: ['stops', 'de.itp', 'delta.uv'],
  uniformity: ['share', 'duv'],
  endurance: ['after'],
  angles: ['kept', 'shift'],
  spectrum: ['x', 'y', 'peak', 'width'],
  lag: ['mean', 'sd', 'n'],
  power: ['mean', 'sd', 'n'],
  repeats: ['mean', 'sd', 'n'],
  reflectance: ['white', 'black', 'contrast'],
  correction: ['check', 'luminance'],
};

function rowTable(analysis: Analysis, { kind, result }: RunSummary, say: Say): string {
  const all = rowsOf(result).filter(({ values }) => (ROW_COLUMNS[kind] ?? []).some((id) => values[id] !== undefined));
  const rows = all.slice(0, MOST_ROWS);
  const ids = (ROW_COLUMNS[kind] ?? []).filter((id) => rows.some(({ values }) => Number.isFinite(values[id])));
  if (ids.length === 0) return '';
  const specs: readonly MeasureSpec[] = ids.map((id) => result.specs[id]!);
  const cells = rows.map(({ key, values }) => [
    escaped(key.join(' ')),
    ...ids.map((id, i) => {
      const v = values[id];
      if (v === undefined || Number.isNaN(v)) return NONE;
      const { judgement } = figureOf(analysis, result, id, key, { ok: true, v });
      return `${numberText(v, specs[i]!.decimals)}${judgement.verdict === 'beyond' ? ' ▲' : ''}`;
    }),
  ]);
  const heads = [
    escaped(result.context!.keys.join(' ')),
    ...specs.map(({ title, unit }) => `${escaped(say(title))}${unit && ` (${escaped(say(unit))})`}`),
  ];
  const rest = all.length - rows.length;
  return table(heads, cells) + (rest === 0 ? '' : `\n\n${worded(counted(rest, MORE_ROWS), say)}`);
}

const MORE_ROWS: Forms = ['and 1 more row.', 'and {count} more rows.'];

function observed({ mode, signal, distance, seen }: Observations, say: Say): string[] {
  const circumstances = [
    takenWith({ ...(mode && { mode }), ...(signal && { signal }) }, escaped, say),
    ...(distance === undefined ? [] : [say('from {distance}', { distance: escaped(distance) })]),
  ].filter((part) => part !== '');
  const line = circumstances.length === 0 ? '' : `${circumstances.join(', ')}.`;
  return [
    `## ${say('Observations')}`,
    capital(line),
    seen.length === 0
      ? ''
      : table(
          [say('Topic'), say('Seen')],
          seen.map(({ topic, is }) => [escaped(topic), is === '?' ? say('still to note') : escaped(is)]),
        ),
  ];
}

/** The settings of the modes that were measured, a column a mode, as they hold once what is taken over is taken over. */
function settings({ session }: Analysis, say: Say): string[] {
  const modes = [...new Set(session.runs.flatMap(({ mode }) => mode ?? []))];
  const names = new Set(modes.flatMap((mode) => [...session.properties(mode).keys()]));
  if (names.size === 0) return [];
  const settingOf = (mode: Block, name: string): string => {
    const property = session.properties(mode).get(name);
    return property ? escaped(writtenValue(property.line)) : '';
  };
  const rows = [...names].map((name) => [escaped(name.replace(/^\./, '')), ...modes.map((mode) => settingOf(mode, name))]);
  return [`## ${say('Settings')}`, table([say('Setting'), ...modes.map((mode) => escaped(mode.name))], rows)];
}

/** A table of cells that are Markdown already. */
export const table = (heads: readonly string[], rows: readonly (readonly string[])[]): string =>
  [heads, heads.map(() => '---'), ...rows].map((cells) => `| ${cells.join(' | ')} |`).join('\n');

/**
 * Text as Markdown that shows just that text: every mark that could begin markup (CommonMark 0.31, tables and strikethrough of GFM, maths of
 * previews) stands behind a backslash; addresses do not become links. For use within a line, not at its start.
 */
export const escaped = (text: string): string =>
  visible(text)
    .replace(/[\\`*_[\]{}<>#|~&!$]/g, '\\$&')
    .replace(/:(?=\/\/)|(?<!:)\/(?=\/)|(?<=www)\.|@(?=[\w-]+\.)/gi, '\\$&');
