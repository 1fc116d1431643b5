import { judgeValue } from '../judge/limits';
import type { Levels } from '../measure/greyscale';
import { withRowInterval } from '../measure/intervals';
import type { RunResult } from '../measure/result';
import type { Value } from '../measure/value';
import { verdictText } from '../report/format';
import { plainNumber } from '../text/message';
import type { Interval } from '../uncertainty/interval';
import { enveloped, MOST_POINTS } from './envelope';
import type { Point, Series, Table } from './figure';
import { type Rooms, roomEnds } from './rooms';
import { deviationDomain } from './scale';
import type { Deviation } from './stretch';
import { rowsOfBlock, runCell, type Subject } from './subject';

/** The levels of a run of greys that were read, from dark to bright. A level that was read again later is left out. */
export interface LevelsOf {
  readonly patches: readonly number[];
  /** Per cent: as written, else as sent. */
  readonly level: (patch: number) => number;
  /** As a title names it. */
  readonly written: (patch: number) => string;
  /** The levels that are struck out, with no reading in their place. */
  readonly struck: readonly number[];
}

export function levelsOf({ run, context }: RunResult): LevelsOf {
  const { patches, signals } = context as unknown as Levels;
  const column = run.table.columns.get('level')!;
  const inPercent = column.bits === undefined;
  const level = (i: number) => (inPercent ? run.table.rows[patches.first[i]!]!.values[column.cell]! : 100 * signals[i]!);
  const found: number[] = [];
  for (let i = 0; i < patches.count; i++) if (!patches.revisit[i] && Number.isFinite(signals[i]!)) found.push(i);
  found.sort((a, b) => signals[a]! - signals[b]!);
  const cellOf = (row: number) => run.table.rows[row]!.values[column.cell]!;
  const [low, high] = [found[0]!, found.at(-1)!].map((i) => ({ cell: cellOf(patches.first[i]!), level: level(i) }));
  const struck = struckAlone(run.table, column.cell).map((cell) =>
    low && high && high.cell > low.cell ? low.level + ((high.level - low.level) * (cell - low.cell)) / (high.cell - low.cell) : Number.NaN,
  );
  return { patches: found, level, written: (i) => plainNumber(Number(level(i).toFixed(inPercent ? 3 : 1))), struck };
}

/** What struck rows have in a cell, where no live row has the same. */
export function struckAlone({ rows }: RunResult['run']['table'], cell: number): number[] {
  const struck = rows.filter((row) => row.struck).flatMap(({ values }) => (Number.isFinite(values[cell]!) ? [values[cell]!] : []));
  if (struck.length === 0) return struck;
  const live = new Set(rows.filter((row) => !row.struck).map(({ values }) => values[cell]!));
  return struck.filter((v) => !live.has(v));
}

/** Marks along a line, without a line over what is missing between them. */
export function gapped<T extends { readonly x: number }>(points: readonly T[], missing: readonly number[]): readonly T[] {
  if (missing.length === 0) return points;
  const sorted = Float64Array.from(missing).sort();
  return points.map((point, i) => {
    if (i === 0) return point;
    const [low, high] = [points[i - 1]!.x, point.x].sort((p, q) => p - q) as [number, number];
    return sorted[firstAbove(sorted, low)]! < high ? { ...point, gap: true } : point;
  });
}

/** The index of the first of rising numbers above another. */
function firstAbove(sorted: Float64Array, v: number): number {
  let [from, to] = [0, sorted.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (sorted[middle]! > v) to = middle;
    else from = middle + 1;
  }
  return from;
}

/** How the points of a series are made from the rows of a run. */
export interface Plotted {
  readonly result: RunResult;
  /** The measure shown. */
  readonly id: string;
  /** Unique within the figure: `grey/blue`. */
  readonly series: string;
  /** Along the line. */
  readonly patches: readonly number[];
  readonly x: (patch: number) => number;
  /** Where else along the line there could be a reading, beside the patches without one. */
  readonly struck?: readonly number[];
  /** From the measure's value to what the axis shows; the value itself when left out. */
  readonly y?: (v: number) => number;
  /** What a point says: the place, what was found, and its verdict. */
  readonly name: (patch: number, value: Value & { readonly ok: true }, verdict: string) => string;
  readonly faint?: (patch: number) => boolean;
}

/** A row as its axes have it. */
export interface Row {
  readonly patch: number;
  readonly x: number;
  readonly y: number;
  /** As the axes have it, once it is known. */
  readonly ci?: Interval;
  readonly faint: boolean;
}

/** Of more rows no intervals are shown: whiskers would lie over each other. */
const MOST_WHISKERS = 150;
/** More rows are not judged one by one: they are not told apart, and the interval of each has to be asked for. */
const MOST_JUDGED = 500;

/** A series, and all the rows that it stands for: of very many only some are drawn, and what is said is said of all. */
export interface Drawn {
  readonly result: RunResult;
  readonly series: Series;
  readonly all: readonly Row[];
}

/** A measure as a series: every row that has it, or the envelope of very many. */
export function drawn(subject: Subject, look: Omit<Series, 'is' | 'id' | 'points' | 'envelope'>, plotted: Plotted): Drawn {
  const { result, id, series, patches, x, struck = [], y = (v) => v, name, faint = () => false } = plotted;
  const list = result.rows(id)!;
  const shown = patches.filter((i) => Number.isFinite(list[i]!));
  const isJudged = shown.length <= MOST_JUDGED;
  const all = shown.map((patch): Row => {
    const ci = isJudged ? intervalOf(result, id, patch, y) : undefined;
    return { patch, x: x(patch), y: y(list[patch]!), ...(ci && { ci }), faint: faint(patch) };
  });
  const nodeOf = rowsOfBlock(subject, result);
  const points = enveloped(all, (row) => row.y).map((row): Point => {
    const key = result.keyOf(row.patch);
    const verdict = isJudged
      ? judgeValue(result.session, subject.analysis.config, result, id, key, result.value(id, key)).verdict
      : 'no-number';
    return {
      id: `${series}/${key.join(',')}`,
      x: row.x,
      y: row.y,
      ...(row.ci && shown.length <= MOST_WHISKERS && { ci: row.ci }),
      row: nodeOf(row.patch),
      run: result.run.id,
      key,
      name: name(row.patch, { ok: true, v: list[row.patch]! }, verdictText(verdict, subject.say)),
      ...(row.faint && { faint: true }),
    };
  });
  if (all.length > MOST_POINTS) return { result, series: { is: 'series', id: series, ...look, points, envelope: { of: all.length } }, all };
  const missing = look.joined ? [...patches.filter((i) => !Number.isFinite(list[i]!)).map(x), ...struck] : [];
  return { result, series: { is: 'series', id: series, ...look, points: gapped(points, missing) }, all };
}

/** The interval of the figure of a patch, once it is known. */
export function intervalOf(result: RunResult, id: string, patch: number, y: (v: number) => number = (v) => v): Interval | undefined {
  const value = withRowInterval(result, id, patch, result.value(id, result.keyOf(patch)));
  if (!value.ok || !value.ci) return undefined;
  return [y(value.ci[0]), y(value.ci[1])];
}

/** Rows for the table of a figure, each behind the run where there are several. */
export function tableRows(
  subject: Subject,
  drawn: readonly Drawn[],
  cells: (row: Row, result: RunResult) => readonly string[],
): Table['rows'] {
  return drawn.flatMap(({ result, all }) => {
    const nodeOf = rowsOfBlock(subject, result);
    const before = runCell(subject, result);
    return all
      .slice(0, MOST_POINTS)
      .map((row) => ({ run: result.run.id, row: nodeOf(row.patch), cells: [...before, ...cells(row, result)] }));
  });
}

/** The domain of deviations: all of those that are judged, and the room they have. */
export function domainOf(drawn: readonly Drawn[], rooms: Rooms): readonly [number, number] {
  const judged: number[] = [];
  const others: number[] = [];
  for (const { all, series } of drawn) {
    for (const { y, faint } of all) (faint ? others : judged).push(y);
    for (const { ci, faint } of series.points) if (ci && !faint) judged.push(...ci);
  }
  return deviationDomain(judged, others, roomEnds(rooms));
}

/** More levels than this are spoken of in groups, by their median: between any two of so many lies one that is off by chance. */
const MOST_LEVELS = 60;

/** The judged rows as deviations along levels in per cent. */
export function deviationsOf({ all }: Pick<Drawn, 'all'>): Deviation[] {
  const judged = all.filter(({ faint }) => !faint);
  if (judged.length <= MOST_LEVELS) return judged.map(({ x, y, ci }) => ({ v: y, at: levelText(x), ...(ci && { ci }) }));
  return Array.from({ length: MOST_LEVELS }, (_, part) => {
    const [from, to] = [part, part + 1].map((k) => Math.floor((k * judged.length) / MOST_LEVELS)) as [number, number];
    const sorted = judged.slice(from, to).sort((p, q) => p.y - q.y);
    const middle = sorted[sorted.length >> 1]!;
    return { v: middle.y, at: levelText(judged[part === MOST_LEVELS - 1 ? to - 1 : from]!.x) };
  });
}

export const levelText = (level: number): string => plainNumber(Number(level.toFixed(1)));
