import type { Verdict } from '../judge/limits';
import { knownInterval } from '../measure/intervals';
import type { RunResult } from '../measure/result';
import { untoldPhrase } from '../measure/told';
import type { Analysis } from '../project/analysis';
import { fill, worded } from '../text/message';
import { changesOf, type MeasureChange } from './changes';
import { whyText } from './format';
import { type PlainBound, plainBound, writtenKey } from './plain';
import { type Figure, figureName, type Named, type RunSummary, rowsOf, summarise } from './summary';

/**
 * The summary of a session for programs. This shape is stable: keys are only ever added. Absent things are null, so that every object of a
 * kind has the same keys.
 *
 * - `measures`: the figures of the run by id, and figures of rows that have a limit of their own by `id@key`. Empty when `why` says why
 *   the run has none.
 * - `value`: not rounded; null with `why` where it cannot be computed. `bound` "at-least" or "at-most": the true figure lies on that side.
 *   `ends`: the figures for a black of 0 and of the floor of the meter, where the black could not be seen and they differ.
 * - `interval`: `[low, high]`, where the true figure lies, 0.95 with 0.025 at either end; null with `noInterval` where that is not known, and
 *   null for the open end of a bound. It holds both `ends`.
 * - `verdict`: "within", "undecided" or "beyond" the limit; null where there is no limit or no number. Where there is an interval, it is
 *   "undecided" unless the interval lies inside the limit or outside.
 * - `aim`, `limit`: a number to stay at or below (measures whose direction is `larger`: at or above), or `[low, high]` to stay in.
 *   `from`: "default", "folder" or "session".
 * - `rows`: in the order of the file, `key` as it stands behind the @ of a reference; `values` null where a row has none. `intervals` are
 *   there when they are asked for.
 * - `changes`: pairs of runs of one kind, meter, signal and target in two modes. `changed` is true where the interval of the difference leaves
 *   out 0; null where nothing is known of the errors. `crossed`: which edge the number lies on another side of than before.
 */
export interface JsonSummary {
  readonly file: string;
  readonly title: string;
  readonly date: string | null;
  readonly display: Named | null;
  readonly firmware: string | null;
  readonly toTake: number;
  readonly findings: { readonly error: number; readonly warning: number; readonly info: number };
  readonly runs: readonly JsonRun[];
  readonly changes: readonly JsonChange[];
}

export interface JsonChange {
  readonly before: string;
  readonly after: string;
  readonly measures: Readonly<Record<string, JsonMeasureChange>>;
}

export interface JsonMeasureChange {
  readonly from: number;
  readonly to: number;
  readonly unit: string;
  readonly difference: number;
  readonly interval: readonly [low: number, high: number] | null;
  readonly changed: boolean | null;
  readonly crossed: 'limit' | 'aim' | null;
  /** Whether the edge that was crossed is met now. */
  readonly met: boolean | null;
}

export interface JsonRun {
  readonly id: string;
  readonly kind: string;
  readonly title: string;
  readonly against: string;
  readonly mode: string | null;
  readonly signal: string | null;
  readonly meter: string | null;
  readonly firmware: string | null;
  readonly taken: string | null;
  readonly toTake: number;
  readonly why: string | null;
  /** Sentences on what the run shows, beside its figures; in English. */
  readonly says: readonly string[];
  readonly measures: Readonly<Record<string, JsonFigure>>;
  readonly rows: readonly JsonRow[];
}

export interface JsonRow {
  readonly key: string;
  readonly values: Readonly<Record<string, number | null>>;
  readonly intervals?: Readonly<Record<string, JsonInterval | null>>;
}

/** An open end is null. */
export type JsonInterval = readonly [low: number | null, high: number | null];

export interface JsonFigure {
  readonly value: number | null;
  readonly unit: string;
  readonly bound: 'at-least' | 'at-most' | null;
  readonly ends: readonly [number, number] | null;
  readonly verdict: Exclude<Verdict, 'no-number'> | null;
  readonly aim: PlainBound;
  readonly limit: PlainBound;
  readonly from: 'default' | 'folder' | 'session' | null;
  readonly why: string | null;
  readonly interval: JsonInterval | null;
  readonly noInterval: string | null;
}

/** @param rowIntervals whether rows have their intervals too: each takes some time */
export function summaryJson(analysis: Analysis, fileName: string, { rowIntervals = false } = {}): JsonSummary {
  const { title, date, display, firmware, toTake, findings, runs } = summarise(analysis);
  return {
    file: fileName,
    title,
    date: date ?? null,
    display: display ?? null,
    firmware: firmware ?? null,
    toTake,
    findings,
    runs: runs.map((run) => jsonRun(run, rowIntervals)),
    changes: changesOf(analysis).map(({ before, after, measures }) => ({
      before: before.run.id,
      after: after.run.id,
      measures: Object.fromEntries(measures.map((measure) => [measure.id, jsonChange(measure)])),
    })),
  };
}

const jsonChange = ({ from, to, spec, change, crossed }: MeasureChange): JsonMeasureChange => ({
  from,
  to,
  unit: spec.unit,
  difference: change.difference,
  interval: change.ok ? change.interval : null,
  changed: change.ok ? change.changed : null,
  crossed: crossed?.edge ?? null,
  met: crossed?.met ?? null,
});

const jsonRun = (run: RunSummary, rowIntervals: boolean): JsonRun => ({
  id: run.id,
  kind: run.kind,
  title: run.title,
  against: run.against,
  mode: run.mode?.id ?? null,
  signal: run.signal?.id ?? null,
  meter: run.meter?.id ?? null,
  firmware: run.firmware ?? null,
  taken: run.taken ?? null,
  toTake: run.toTake,
  why: run.why ?? null,
  says: run.says,
  measures: Object.fromEntries(run.figures.map((figure) => [figureName(figure), jsonFigure(figure, run.result)])),
  rows: rowsOf(run.result).map(({ key, values }) => ({
    key: writtenKey(key),
    values: Object.fromEntries(Object.entries(values).map(([id, v]) => [id, Number.isFinite(v) ? v : null])),
    ...(rowIntervals ? { intervals: rowIntervalsOf(run.result, key, values) } : {}),
  })),
});

function rowIntervalsOf(result: RunResult, key: readonly string[], values: Readonly<Record<string, number>>) {
  const intervalOf = (id: string): JsonInterval | null => {
    const known = knownInterval(result, id, key);
    return known?.ok ? written(known.ci) : null;
  };
  return Object.fromEntries(Object.entries(values).map(([id, v]) => [id, Number.isFinite(v) ? intervalOf(id) : null]));
}

const written = (ci: readonly [number, number]): JsonInterval => [openEnd(ci[0]), openEnd(ci[1])];
const openEnd = (end: number): number | null => (Number.isFinite(end) ? end : null);

export function jsonFigure({ id, key, spec, value, judgement }: Figure, result: RunResult): JsonFigure {
  const { verdict, limits } = judgement;
  const known = value.ok && !value.ci ? knownInterval(result, id, key) : undefined;
  return {
    value: value.ok ? value.v : null,
    unit: spec.unit,
    bound: (value.ok && value.bound) || null,
    ends: (value.ok && value.ends) || null,
    verdict: verdict === 'no-number' ? null : verdict,
    aim: plainBound(limits?.aim, spec, judgement),
    limit: plainBound(limits?.limit, spec, judgement),
    from: limits?.from ?? null,
    why: value.ok ? null : whyText(value.why),
    interval: value.ok && value.ci ? written(value.ci) : null,
    noInterval: known?.ok === false ? worded(untoldPhrase(known.why), fill) : null,
  };
}
