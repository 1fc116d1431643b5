import type { Figure } from '../figure/figure';
import { BUILDERS, figureFor, figuresOf } from '../figure/figures';
import { svgOf } from '../figure/svg';
import type { RunResult } from '../measure/result';
import type { Analysis } from '../project/analysis';
import { judgementText, limitLine, valueText, visible, whyText } from '../report/format';
import { stillToTake, takenWith } from '../report/said';
import { figureTitle, type RunSummary, summarise } from '../report/summary';
import type { Say } from '../text/message';
import type { FigureView, Place, RunEntry, View } from './protocol';

/** The width of pictures in files, px. */
export const FILE_WIDTH = 800;

/**
 * What a preview shows of a session: a run, with others of its kind beside it, as figures, in numbers and in words.
 * @param width of a picture at 100 %, px
 */
export function viewOf(
  analysis: Analysis,
  { run, beside, zoom }: Pick<Place, 'run' | 'beside' | 'zoom'>,
  width: number,
  file: string,
  say: Say,
): View {
  const { results } = analysis;
  const runs = results.map(entryOf);
  const shown = results.find((result) => result.run.id === run);
  if (!shown) return { file, runs, others: [], figures: [], measures: { head: [], rows: [] } };
  const others = results.filter((result) => result !== shown && result.run.kind === shown.run.kind);
  const ids = [shown.run.id, ...others.map((other) => other.run.id).filter((id) => beside.includes(id))];
  const summary = summarise(analysis, say).runs.find(({ id }) => id === run)!;
  const drawn = Math.round((width * zoom) / 100);
  return {
    file,
    runs,
    run: {
      id: shown.run.id,
      title: titleOf(shown),
      about: [takenWith(summary, visible, say), stillToTake(summary, visible, say)].filter((part) => part !== ''),
      says: [
        ...summary.says.map(visible),
        ...(shown.absent ? [say('not computed: {why}', { why: visible(whyText(shown.absent.why, say)) })] : []),
      ],
      against: summary.against,
    },
    others: others.map(entryOf),
    figures: drawnFigures(analysis, ids, drawn, say),
    measures: measuresOf(summary, say),
  };
}

const titleOf = ({ run }: RunResult): string => visible(run.title === '' ? `${run.kind} ${run.id}` : `${run.kind} ${run.id}: ${run.title}`);

const entryOf = (result: RunResult): RunEntry => ({ id: result.run.id, label: titleOf(result) });

/** The figures of a run, with others laid over it where a figure takes several, then the other views of them. */
function drawnFigures(analysis: Analysis, ids: readonly string[], width: number, say: Say): FigureView[] {
  const own = figureNames(analysis, ids);
  return own.flatMap(({ name, of, variant }) => {
    const figure = read(analysis, of, name, say);
    return figure ? [{ ...viewOfFigure(figure), svg: svgOf(figure, { width }), variant }] : [];
  });
}

const viewOfFigure = ({ id, title, table }: Figure) => ({
  id,
  title,
  head: table.head,
  rows: table.rows.map(({ row, cells }) => ({ cells, ...(row === undefined ? {} : { row }) })),
});

export interface FigureName {
  readonly name: string;
  /** The runs that it shows. */
  readonly of: readonly string[];
  readonly variant: boolean;
}

/** The figures that there are of some runs together; those that are of fewer runs are of the first alone. */
export function figureNames(analysis: Analysis, ids: readonly string[]): FigureName[] {
  const together = figuresOf(analysis, ids);
  const alone = figuresOf(analysis, ids.slice(0, 1));
  const kind = analysis.results.find(({ run }) => run.id === ids[0])?.run.kind;
  const order = BUILDERS.filter(({ kinds }) => (kinds as readonly string[]).includes(kind ?? ''));
  return order
    .flatMap(({ id, variant = false }): FigureName[] =>
      variant || together.includes(id)
        ? [{ name: id, of: ids, variant }]
        : alone.includes(id)
          ? [{ name: id, of: ids.slice(0, 1), variant }]
          : [],
    )
    .sort((a, b) => Number(a.variant) - Number(b.variant));
}

/** A figure by its name; undefined where it cannot be drawn. */
export function read(analysis: Analysis, ids: readonly string[], name: string, say: Say): Figure | undefined {
  const reading = figureFor(analysis, { ids, measure: name, keys: [] }, say);
  return reading.ok ? reading.figure : undefined;
}

function measuresOf({ figures }: RunSummary, say: Say): View['measures'] {
  const rows = figures
    .filter(({ value }) => value.ok)
    .map((figure) => {
      const { spec, value, judgement } = figure;
      const cells = [figureTitle(figure, say), valueText(value, spec, say), judgementText(judgement, say), limitLine(spec, judgement, say)];
      return { cells: cells.map(visible), verdict: judgement.verdict };
    });
  return { head: [say('Measure'), say('Value'), say('Verdict'), say('Limits')], rows };
}
