import type { RunResult } from '../measure/result';
import { REASONS } from '../measure/value';
import type { Analysis } from '../project/analysis';
import type { Reference } from '../session/reference';
import { type Args, fill, type Message, type Phrase, phrase, phraseOf, type Say, worded } from '../text/message';
import { nearest } from '../text/neighbour';
import { angles } from './angles';
import { balance } from './balance';
import { change } from './change';
import { chromaticity, chromaticityXy } from './chromaticity';
import { contrast } from './contrast';
import { curve } from './curve';
import { de } from './de';
import { MOST_POINTS } from './envelope';
import { eotf } from './eotf';
import type { Figure } from './figure';
import { light } from './light';
import { map, tint } from './map';
import { nearblack } from './nearblack';
import { readings } from './readings';
import { residual } from './residual';
import { saturationDrift } from './saturationDrift';
import { spectrum } from './spectrum';
import type { Builder } from './subject';
import { time } from './time';
import { tracking } from './tracking';
import { volume } from './volume';
import { windows } from './windows';

/** All figures, in the order in which those of a run are shown. */
export const BUILDERS: readonly Builder[] = [
  change,
  tracking,
  eotf,
  balance,
  curve,
  de,
  saturationDrift,
  chromaticity,
  chromaticityXy,
  nearblack,
  windows,
  contrast,
  map,
  tint,
  time,
  angles,
  volume,
  spectrum,
  readings,
  light,
  residual,
];

export type FigureReading = { readonly ok: true; readonly figure: Figure } | { readonly ok: false; readonly mistake: FigureMistake };

export interface FigureMistake extends Message {
  readonly code: keyof typeof FIGURE_MISTAKES;
}

/** Why a reference shows no figure, and what is near. */
export const FIGURE_MISTAKES = {
  'no-run': 'There is no run "{id}" in this session.{neighbour}',
  'not-a-run': '"{id}" is a {keyword} block: figures are of runs.{neighbour}',
  'kinds-differ': 'A figure is of runs of one kind: "{first}" is a {firstKind} run, "{other}" a {otherKind} run.',
  'run-twice': 'The run "{id}" is named twice.',
  'figure-needed': 'Name a figure of "{id}"{neighbour}.',
  'no-figure': 'A {kind} run has no figure "{name}".{neighbour}',
  'figures-none': 'There are no figures of {kind} runs.',
  'figure-key': 'A figure shows all rows: it takes no @.',
  'runs-one': 'The figure "{name}" is of one run at a time.',
  'runs-some': 'The figure "{name}" is of {least} to {most} runs.',
  'runs-two': 'The figure "{name}" is of two runs, the earlier first.',
  'not-drawn': 'The figure "{name}" of "{id}" cannot be drawn: {reason}.',
} as const;

export const figureMistakeText = ({ code, args }: FigureMistake, say: Say = fill): string => say(FIGURE_MISTAKES[code], args);

const mistaken = (code: FigureMistake['code'], args: Args = {}): FigureReading => ({ ok: false, mistake: { code, args } });

/**
 * The figures that can be drawn of one run, or of several of a kind together, in the order in which they are shown. Empty where a run is
 * missing, has no figures of its own or is of another kind than the first.
 */
export function figuresOf(analysis: Analysis, runIds: readonly string[]): readonly string[] {
  const results = runIds.map((id) => analysis.results.find(({ run }) => run.id === id));
  const first = results[0];
  if (!first || !results.every((result): result is RunResult => result?.context !== undefined && result.run.kind === first.run.kind))
    return [];
  const known = results.length === 1 ? drawable.get(first) : undefined;
  if (known) return known;
  const found = buildersOf(first).flatMap(({ id, variant, build, runs }) =>
    !variant && fits(runs, results.length) && 'panels' in build({ analysis, results, say: fill }) ? [id] : [],
  );
  if (results.length === 1) drawable.set(first, found);
  return found;
}

/** What can be drawn of a run hangs on its readings alone, as they are: it is found out once. */
const drawable = new WeakMap<RunResult, readonly string[]>();

/** The figure that a reference names, or why there is none. */
export function figureFor(
  analysis: Analysis,
  { ids, measure: name, keys }: Pick<Reference, 'ids' | 'measure' | 'keys'>,
  say: Say = fill,
): FigureReading {
  const results: RunResult[] = [];
  for (const id of ids) {
    const result = analysis.results.find(({ run }) => run.id === id);
    if (!result) return noRun(analysis, id);
    if (results.includes(result)) return mistaken('run-twice', { id });
    results.push(result);
  }
  const first = results[0]!;
  const { kind, id } = first.run;
  const other = results.find(({ run }) => run.kind !== kind);
  if (other) return mistaken('kinds-differ', { first: id, firstKind: kind, other: other.run.id, otherKind: other.run.kind });
  const builders = buildersOf(first);
  if (builders.length === 0) return mistaken('figures-none', { kind });
  const fitting = builders.filter((one) => fits(one.runs, results.length)).map((one) => one.id);
  if (name === '')
    return mistaken('figure-needed', {
      id,
      neighbour: phrase(', such as #{id}.{name}', { id: ids.join('+'), name: fitting[0] ?? builders[0]!.id }),
    });
  const builder = builders.find((one) => one.id === name);
  if (!builder)
    return mistaken('no-figure', {
      kind,
      name,
      neighbour: near(
        name,
        builders.map((one) => one.id),
        fitting,
      ),
    });
  if (keys.length > 0) return mistaken('figure-key');
  if (builder.runs && !fits(builder.runs, results.length)) return wrongCount(name, builder.runs);
  const absent = results.find((result) => result.absent);
  const why = absent ? absent.absent!.why : undefined;
  const built = why ?? builder.build({ analysis, results, say });
  if ('panels' in built) return { ok: true, figure: withNotes(built, say) };
  const reason = 'ok' in built ? built.why : built;
  return mistaken('not-drawn', { name, id: (absent ?? first).run.id, reason: phraseOf(REASONS, reason) });
}

/** Says what whiskers are, and what is drawn of very many rows. */
function withNotes(figure: Figure, say: Say): Figure {
  const series = figure.panels
    .flatMap((panel) => [panel, ...(panel.aside ? [panel.aside] : [])])
    .flatMap(({ marks }) => marks.filter((mark) => mark.is === 'series'));
  const notes: Phrase[] = [];
  if (series.some(({ points }) => points.some(({ ci }) => ci)))
    notes.push(phrase('Whiskers: where the true figure lies in 95 of 100 cases.'));
  const of = Math.max(0, ...series.map(({ envelope }) => envelope?.of ?? 0));
  if (of > 0)
    notes.push(
      phrase('Of {count} rows the lowest and the highest of each part are drawn, and the first {listed} are listed.', {
        count: of,
        listed: MOST_POINTS,
      }),
    );
  return notes.length === 0 ? figure : { ...figure, notes: [...figure.notes, ...notes.map((note) => worded(note, say))] };
}

const buildersOf = ({ run }: RunResult): readonly Builder[] =>
  BUILDERS.filter(({ kinds }) => (kinds as readonly string[]).includes(run.kind));

function wrongCount(name: string, [least, most]: NonNullable<Builder['runs']>): FigureReading {
  if (least === most) return mistaken(most === 1 ? 'runs-one' : 'runs-two', { name });
  return mistaken('runs-some', { name, least, most });
}

const fits = (runs: Builder['runs'], count: number): boolean => runs === undefined || (count >= runs[0] && count <= runs[1]);

function noRun({ session, results }: Analysis, id: string): FigureReading {
  const ids = results.map(({ run }) => run.id);
  const block = session.byName.get(id);
  return block
    ? mistaken('not-a-run', { id, keyword: block.keyword!, neighbour: near('', ids) })
    : mistaken('no-run', { id, neighbour: near(id, ids) });
}

const MOST_NAMED = 8;

function near(word: string, candidates: readonly string[], known = candidates) {
  const found = nearest(word, candidates);
  if (found !== undefined) return phrase(' Perhaps {name}?', { name: found });
  return known.length === 0
    ? ''
    : phrase(' There is {names}.', { names: known.slice(0, MOST_NAMED).join(', ') + (known.length > MOST_NAMED ? ' …' : '') });
}
