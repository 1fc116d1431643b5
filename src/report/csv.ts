import type { Analysis } from '../project/analysis';
import { jsonFigure } from './json';
import { type PlainBound, writtenKey } from './plain';
import { type Figure, figureOf, type RunSummary, rowsOf, summarise } from './summary';

/** The columns of the table; the values are as in the JSON form (see `JsonSummary`). Columns are only ever added, at the end. */
export const CSV_COLUMNS = [
  'file',
  'run',
  'kind',
  'measure',
  'key',
  'value',
  'unit',
  'verdict',
  'aim',
  'limit',
  'against',
  'bound',
  'low',
  'high',
  'why',
  'interval-low',
  'interval-high',
] as const;

/** One figure a line, those of rows too, as RFC 4180 has it: lines end in CR LF. A run without figures has one line that says why. */
export function summaryCsv(analysis: Analysis, fileName: string): string {
  const lines = summarise(analysis).runs.flatMap((run) =>
    run.why === undefined ? figuresOf(analysis, run).map((figure) => line(fileName, run, figure)) : [lineWithout(fileName, run, run.why)],
  );
  return [CSV_COLUMNS.join(','), ...lines].map((each) => `${each}\r\n`).join('');
}

function figuresOf(analysis: Analysis, { figures, result }: RunSummary): Figure[] {
  const rows = rowsOf(result).flatMap(({ key, values }) =>
    Object.entries(values).flatMap(([id, v]) => (Number.isFinite(v) ? [figureOf(analysis, result, id, key, { ok: true, v })] : [])),
  );
  return [...figures.filter(({ key }) => key.length === 0), ...rows];
}

function line(fileName: string, run: RunSummary, figure: Figure): string {
  const { value, unit, verdict, aim, limit, bound, ends, why, interval } = jsonFigure(figure, run.result);
  const known = [value, unit, verdict, range(aim), range(limit)].map(plain);
  const end = [bound, ends?.[0] ?? null, ends?.[1] ?? null].map(plain);
  const names = [fileName, run.id, run.kind, figure.id, writtenKey(figure.key)].map(text);
  const lies = [interval?.[0] ?? null, interval?.[1] ?? null].map(plain);
  return [...names, ...known, text(run.against), ...end, text(why ?? ''), ...lies].join(',');
}

/** A run that has no figures still has its line, and says why. */
function lineWithout(fileName: string, { id, kind, against }: RunSummary, why: string): string {
  const cells: { readonly [column in (typeof CSV_COLUMNS)[number]]?: string } = { file: fileName, run: id, kind, against, why };
  return CSV_COLUMNS.map((column) => text(cells[column] ?? '')).join(',');
}

const range = (bound: PlainBound): number | string | null =>
  bound === null || typeof bound === 'number' ? bound : `${bound[0]}..${bound[1]}`;

/** A number or a word of our own. */
const plain = (cell: number | string | null): string => (cell === null ? '' : quotedCell(String(cell)));

const NUMBER = /^[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?$/;

/**
 * A text that others wrote. Spreadsheets run what begins like a formula, in quotes or not: an apostrophe in front makes it text there
 * (OWASP, CSV Injection). A key that is a number stays one.
 */
const text = (cell: string): string => quotedCell(/^[=+\-@\t\r]/.test(cell) && !NUMBER.test(cell) ? `'${cell}` : cell);

const quotedCell = (cell: string): string => (/[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
