import type { RunResult } from '../../measure/result';
import type { Analysis } from '../../project/analysis';
import { resolveReference } from '../../project/resolve';
import { CHANGE_WORDS, changedText, changesOf, differenceText, type MeasureChange } from '../../report/changes';
import { figureText, NONE, verdictText } from '../../report/format';
import { kindTitle, propertyTitle } from '../../report/said';
import { type Figure, figureName, figureOf, figureTitle, headline } from '../../report/summary';
import type { Block } from '../../session/block';
import { phrase } from '../../text/message';
import { againstLine, isWhole, lookOf, runHeading, runTitle, sessionTitles, written, wrongBlock } from './blocks';
import { type Cell, figureWords, type Group, type Led, type LedGroup, type Making, type Manner, made, mistaken, type Row } from './parts';

/** Runs beside each other, or displays: a line names runs, a figure, or a whole session. */
export function compare(leds: LedGroup, manner: Manner): Making {
  const ofRuns = leds.map((led) => led.reference.measure === '' && !isWhole(led));
  if (ofRuns.every(Boolean)) return runsBeside(leds, manner);
  if (ofRuns.some(Boolean))
    return mistaken(ofRuns.indexOf(true), 'fence-together', {
      reason: phrase('Runs stand beside runs, and figures or sessions beside figures or sessions'),
    });
  const sessions = new Map(leds.map((led) => [led.path, led.analysis]));
  const titles = sessionTitles(leds);
  const columns = [...sessions].map(([path, analysis]): Column => ({ title: titles.get(path)!, path, analysis }));
  return leds.every(isWhole) ? made(displaysBeside(columns, manner)) : figuresBeside(leds, columns, manner);
}

interface Column {
  readonly title: string;
  readonly path: string;
  readonly analysis: Analysis;
}

interface RunColumn extends Column {
  readonly result: RunResult;
}

function runsBeside(leds: LedGroup, manner: Manner): Making {
  const { say } = manner;
  const columns: RunColumn[] = [];
  const titles = sessionTitles(leds);
  for (const [at, { reference, analysis, path }] of leds.entries()) {
    for (const id of reference.ids) {
      const result = analysis.results.find(({ run }) => run.id === id);
      if (!result) {
        const keyword = analysis.session.byName.get(id)!.keyword!;
        return wrongBlock(at, 'compare', id, keyword);
      }
      const first = columns[0]?.result.run;
      if (first && first.kind !== result.run.kind)
        return mistaken(at, 'fence-together', {
          reason: phrase('Runs of one kind stand beside each other: "{first}" is a {firstKind} run, "{other}" a {otherKind} run', {
            first: first.id,
            firstKind: first.kind,
            other: id,
            otherKind: result.run.kind,
          }),
        });
      columns.push({ title: titles.get(path)!, path, analysis, result });
    }
  }
  const named = columns.map((column) => ({ ...column, title: runColumnTitle(column, columns) }));
  const changes = changesBetween(named);
  return made({
    is: 'table',
    caption: kindTitle(columns[0]!.result.run.kind, say),
    head: [say('Measure'), ...named.map(({ title }) => title), ...(changes ? [say('Change')] : [])],
    groups: [{ rows: figureRows(named, manner, true, changes) }],
    notes: [...againstOf(named, manner), ...(changes ? [say(CHANGE_WORDS.about)] : [])],
  });
}

type Changes = ReadonlyMap<string, MeasureChange>;

/** What changed from the first of two runs to the second, as far as that has been compared. */
function changesBetween([first, second, ...others]: readonly RunColumn[]): Changes | undefined {
  if (!first || !second || others.length > 0 || first.analysis !== second.analysis) return undefined;
  const found = changesOf(first.analysis).find(({ before, after }) => before === first.result && after === second.result);
  return found && new Map(found.measures.map((change) => [change.id, change]));
}

/** `−1.04 (−1.85 … −0.21)`, and where it is not shown that anything changed. */
function changeCell(change: MeasureChange | undefined, manner: Manner): Cell {
  if (!change) return ABSENT;
  const isShown = change.change.ok && change.change.changed;
  return {
    text: figureWords(differenceText(change, manner.say), manner),
    ...(isShown ? {} : { look: 'absent' as const, mark: changedText(change, manner.say) }),
  };
}

/** By the session where each has one run, by the run where all are of one session, else by both. */
function runColumnTitle({ title, path, result }: RunColumn, all: readonly RunColumn[]): string {
  const own = all.filter((other) => other.path === path);
  if (own.length === all.length)
    return own.filter((other) => runTitle(other.result) === runTitle(result)).length > 1 ? result.run.id : runTitle(result);
  return own.length === 1 ? title : `${title}: ${runTitle(result)}`;
}

/** The main figures of runs of a kind, and with `limited` all that has a limit. */
function figureRows(columns: readonly RunColumn[], manner: Manner, limited: boolean, changes?: Changes): readonly Row[] {
  const wanted = new Map<string, Pick<Figure, 'id' | 'key'>>();
  for (const { analysis, result } of columns) for (const figure of headline(analysis, result)) wanted.set(figureName(figure), figure);
  if (limited)
    for (const { analysis, result } of columns)
      for (const [id, { scope }] of Object.entries(result.specs))
        if (scope !== 'row' && !wanted.has(id) && figureOf(analysis, result, id).judgement.limits?.limit) wanted.set(id, { id, key: [] });
  return [...wanted.values()].flatMap(({ id, key }) => {
    const figures = columns.map(({ analysis, result }) => figureOf(analysis, result, id, key));
    if (!figures.some(({ value }) => value.ok)) return [];
    const change = changes && [changeCell(key.length === 0 ? changes.get(id) : undefined, manner)];
    return [{ name: figureTitle(figures[0]!, manner.say), cells: [...figures.map((figure) => cellOf(figure, manner)), ...(change ?? [])] }];
  });
}

function cellOf(figure: Figure, manner: Manner): Cell {
  if (!figure.value.ok) return { text: NONE, look: 'absent' };
  const look = lookOf(figure);
  const mark = look.look && { mark: verdictText(figure.judgement.verdict, manner.say) };
  return { text: figureWords(figureText(figure, manner.say), manner), ...look, ...mark };
}

/** What the runs are against: once where it is the same for all. */
function againstOf(columns: readonly RunColumn[], { say }: Manner): readonly string[] {
  const lines = columns.map(({ result }) => againstLine(result, say));
  const [first] = lines;
  if (lines.every((line) => line === first)) return lines.slice(0, 1).filter((line) => line !== '');
  return columns.flatMap(({ title, result }) => {
    const against = result.againstText(say);
    return against === '' ? [] : [say('{what}: against {against}.', { what: title, against })];
  });
}

/** Runs that say something of the meter, not of the display. */
const OF_METERS: ReadonlySet<string> = new Set(['correction', 'repeats']);

/** Whole displays: what they are, and the main figures of the runs that at least two of them have. */
function displaysBeside(columns: readonly Column[], manner: Manner) {
  const { say } = manner;
  const runs = new Map<string, RunColumn[]>();
  for (const column of columns)
    for (const result of column.analysis.results) {
      if (OF_METERS.has(result.run.kind)) continue;
      const name = `${result.run.kind} ${result.run.id}`;
      runs.set(name, [...(runs.get(name) ?? []), { ...column, result }]);
    }
  const least = Math.min(2, columns.length);
  const groups = [...runs.values()].flatMap((found): Group[] => {
    const rows = found.length < least ? [] : figureRows(found, manner, false).map((row) => spread(row, found, columns));
    const [first] = found as [RunColumn];
    return rows.length === 0
      ? []
      : [{ title: runHeading(first.result, first.analysis, say), about: againstOf(found, manner).join(' '), rows }];
  });
  return {
    is: 'table' as const,
    caption: columns.map(({ title }) => title).join(' / '),
    head: [say('Measure'), ...columns.map(({ title }) => title)],
    groups: [{ title: say('Display'), rows: displayRows(columns, manner) }, ...groups],
    notes: [],
  };
}

/** Puts the cells of some columns into their places among all. */
const spread = (row: Row, found: readonly Column[], all: readonly Column[]): Row => ({
  ...row,
  cells: all.map(({ path }) => row.cells[found.findIndex((column) => column.path === path)] ?? ABSENT),
});

const ABSENT: Cell = { text: NONE, look: 'absent' };

function displayRows(columns: readonly Column[], { say }: Manner): readonly Row[] {
  const shown = [
    [say('Size'), 'size'],
    [say('Panel'), 'panel'],
    [say('Price'), 'price'],
    [say('Firmware'), 'firmware'],
  ] as const;
  const rows = shown.map(
    ([name, property]): Row => ({
      name,
      cells: columns.map(({ analysis: { session } }) => textCell(written(session, session.first('display'), property))),
    }),
  );
  const dates = { name: say('Measured'), cells: columns.map(({ analysis: { session } }) => textCell(session.date?.text)) };
  return [...rows, dates].filter(({ cells }) => cells.some(({ look }) => look !== 'absent'));
}

const textCell = (text: string | undefined): Cell => (text === undefined ? ABSENT : { text });

/** A row of figures that are named one by one. */
interface NamedRow {
  /** What it is of in each session, by the path. */
  readonly of: Map<string, Source>;
}

type Source =
  | { readonly is: 'figure'; readonly result: RunResult; readonly figure: Figure }
  | { readonly is: 'text'; readonly block: Block; readonly name: string; readonly text: string };

/** Figures by name: a row for each kind, the nth of a session beside the nth of the others. */
function figuresBeside(leds: LedGroup, columns: readonly Column[], manner: Manner): Making {
  const { say } = manner;
  const rows = new Map<string, NamedRow>();
  const counts = new Map<string, number>();
  for (const [at, led] of leds.entries()) {
    if (isWhole(led)) continue;
    const source = sourceOf(led);
    if (!source) return wrongBlock(at, 'compare', `${led.reference.ids.join('+')}.${led.reference.measure}`);
    const kind = kindOf(source);
    const count = counts.get(`${led.path} ${kind}`) ?? 0;
    counts.set(`${led.path} ${kind}`, count + 1);
    const row = rows.get(`${count} ${kind}`) ?? { of: new Map() };
    rows.set(`${count} ${kind}`, row);
    row.of.set(led.path, source);
  }
  for (const { path, analysis } of leds.filter(isWhole)) for (const { of } of rows.values()) if (!of.has(path)) fillIn(of, path, analysis);
  const sources = [...rows.values()].map(({ of }) => of);
  return made({
    is: 'table',
    caption: columns.map(({ title }) => title).join(' / '),
    head: [say('Measure'), ...columns.map(({ title }) => title)],
    groups: [
      {
        rows: sources.map((of) => ({
          name: nameOf([...of.values()][0]!, sources, manner),
          cells: columns.map(({ path }) => sourceCell(of.get(path), manner)),
        })),
      },
    ],
    notes: columns.flatMap(({ title, path }) =>
      namedAgainst(
        title,
        sources.flatMap((of) => of.get(path) ?? []),
        manner,
      ),
    ),
  });
}

function sourceOf({ analysis, reference }: Led): Source | undefined {
  const resolution = resolveReference(analysis, reference);
  if (!resolution.ok) return undefined;
  if (resolution.is === 'text') return resolution;
  const { result, id, value } = resolution;
  return { is: 'figure', result, figure: figureOf(analysis, result, id, reference.keys, value) };
}

const kindOf = (source: Source): string =>
  source.is === 'figure' ? `${source.result.run.kind}.${figureName(source.figure)}` : `${source.block.keyword}.${source.name}`;

/** In a session that is named as a whole: the same of the run or block of the same name. */
function fillIn(of: Map<string, Source>, path: string, analysis: Analysis): void {
  const [like] = of.values();
  if (like?.is === 'figure') {
    const { run } = like.result;
    const result = analysis.results.find((other) => other.run.id === run.id && other.run.kind === run.kind);
    if (result) of.set(path, { is: 'figure', result, figure: figureOf(analysis, result, like.figure.id, like.figure.key) });
  } else if (like) {
    const block = analysis.session.first(like.block.keyword!);
    const text = written(analysis.session, block, like.name);
    if (block && text !== undefined) of.set(path, { ...like, block, text });
  }
}

/** Runs whose figures are called by what is done with their readings, not by what was read. */
const OF_SAMPLES: ReadonlySet<string> = new Set(['lag', 'power', 'repeats']);

/** By the measure, and by the run where the same measure is shown of several. */
function nameOf(source: Source, all: readonly ReadonlyMap<string, Source>[], { say }: Manner): string {
  if (source.is === 'text') return propertyTitle(source.name, say);
  const { kind } = source.result.run;
  const own = figureTitle(source.figure, say);
  const title = OF_SAMPLES.has(kind) ? say('{kind}: {title}', { kind: kindTitle(kind, say), title: own }) : own;
  const alike = all.filter((of) => kindOf([...of.values()][0]!) === kindOf(source));
  return alike.length > 1 ? `${title}, ${runTitle(source.result)}` : title;
}

function sourceCell(source: Source | undefined, manner: Manner): Cell {
  if (!source) return ABSENT;
  return source.is === 'figure' ? cellOf(source.figure, manner) : { text: source.text };
}

/** What the figures of a display are against, run by run. */
function namedAgainst(title: string, sources: readonly Source[], { say }: Manner): readonly string[] {
  const runs = new Map<string, Set<string>>();
  for (const source of sources) {
    if (source.is !== 'figure') continue;
    const against = source.result.againstText(say);
    if (against !== '') runs.set(against, (runs.get(against) ?? new Set()).add(source.result.run.id));
  }
  const parts = [...runs].map(([against, ids]) => phrase('{runs} against {against}', { runs: [...ids].join(', '), against }));
  return parts.length === 0
    ? []
    : [say('{what}: {list}.', { what: title, list: parts.map((part) => say(part.template, part.args)).join('; ') })];
}
