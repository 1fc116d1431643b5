import { signalToCode } from '../colour/quantise';
import type { Block } from '../session/block';
import { laidOut } from '../session/layout';
import { type ColumnName, type ColumnsLine, cellCount, cellSpan, cellWord, quoted } from '../session/line';
import { readLine } from '../session/readLine';
import { type TableColumn, tableOf } from '../session/table';
import { readValue } from '../session/values';
import { UNITS } from '../session/valueTypes';
import type { ColumnSpec } from '../session/vocabulary';
import { skipBlanks, words } from '../text/blanks';
import { tabled } from '../text/message';
import type { Span } from '../text/span';
import { type Item, type Site, wordEnd, wordStart } from './completion';
import { columnTypeText } from './hover';
import { columnsLine, literal, stop } from './snippets';
import { type Plan, USUAL_PLANS } from './usual';
import { COLUMN_WORDS } from './words';

/** Columns that the run reads and has not yet; behind a bracket, units; in an empty line the usual columns as well. */
export function columnItems(site: Site): readonly Item[] {
  const { block, on, at, from, say } = site;
  const { text } = on;
  const run = block.spec!.table!;
  const start = wordStart(text, at, from);
  const replace: Span = [start, wordEnd(text, at)];
  const typed = text.slice(start, at);
  const bracket = typed.indexOf('[');
  if (bracket >= 0) return unitItems(run.columns, typed.slice(0, bracket), replace);
  const there = new Set(words(text.slice(0, start) + text.slice(replace[1])).map((word) => word.split('[', 1)[0]!));
  const columns = Object.entries(run.columns)
    .filter(([name]) => !there.has(name))
    .map(
      ([name, spec]): Item => ({
        label: name,
        replace,
        kind: 'column',
        detail: Object.hasOwn(COLUMN_WORDS, name) ? say(COLUMN_WORDS[name]!) : '',
        documentation: columnTypeText(spec, say),
      }),
    );
  const controls = controlsOf(site)
    .filter((name) => !text.includes(quoted(name)))
    .map((name): Item => ({ label: quoted(name), replace, kind: 'column', detail: run.free === undefined ? '' : say(run.free) }));
  if (start > from || skipBlanks(text, replace[1]) < text.length) return [...controls, ...columns];
  const whole = columnsLine(block.keyword!);
  const title = words(run.example).join(' ');
  // From the start of the line, so that it is laid out wherever it is asked for.
  const line: Item = {
    label: title,
    insert: whole,
    replace: [0, replace[1]],
    kind: 'column',
    detail: say(block.spec!.about),
  };
  return [...(on.struck ? [] : [line]), ...controls, ...columns];
}

/** The controls that a tuning run names, or one that it is like. */
const controlsOf = ({ analysis: { session }, block }: Site): readonly string[] =>
  session.lineage(block).flatMap((from) =>
    from.propertyLines.flatMap((i) => {
      const { name, value, struck } = from.property(i);
      if (struck || name.text !== 'control' || value.is !== 'text') return [];
      const reading = readValue({ is: 'control' }, value.text);
      return reading.ok && reading.value.is === 'control' ? [reading.value.name] : [];
    }),
  );

function unitItems(columns: Readonly<Record<string, ColumnSpec>>, name: string, replace: Span): readonly Item[] {
  const spec = Object.hasOwn(columns, name) ? columns[name]! : undefined;
  const units =
    spec?.holds === 'drive'
      ? ['%', '8bit', '10bit', '12bit', '16bit']
      : spec?.holds === 'quantity'
        ? Object.keys(UNITS[spec.dimension])
        : [];
  return units.map((unit) => ({ label: `${name}[${unit}]`, replace, kind: 'unit' }));
}

/** Rows that a usual plan has and the run has not yet: key by key, and all that are left at once. */
export function rowItems(site: Site): readonly Item[] {
  const { block, on, at, line, say } = site;
  const plans = USUAL_PLANS[block.keyword!];
  const columns = block.columns;
  if (!plans || !columns || on.struck || (on.kind !== 'row' && on.kind !== 'blank')) return [];
  const table = tableOf(block);
  // A plan may leave the last key out: the direction of an angle.
  const names = block.spec!.table!.keys.slice(0, plans[0]!.keys[0]!.length);
  const keys = names.flatMap((name) => table.columns.get(name) ?? []);
  if (keys.length < names.length) return [];
  // The cell that is being written, and how many the row has.
  const count = on.kind === 'row' ? cellCount(on) : 0;
  let cell = 0;
  while (on.kind === 'row' && cell < count && cellSpan(on, cell)[1] < at) cell++;
  const written = on.kind === 'row' && cell < count && cellSpan(on, cell)[0] <= at ? cellSpan(on, cell) : undefined;
  const part = keys.findIndex((column) => column.cell === cell);
  if (part < 0) return [];
  const replace: Span = written ?? [at, at];
  const wordAt = (n: number): string => (on.kind === 'row' && n < count ? cellWord(on, n) : '');
  const had = keysThere(block, keys, line);
  const left = remaining(
    plans.map((plan) => inUnits(site, plan, keys)).filter((plan) => plan !== undefined),
    had,
  );
  // Key columns that stand before this one say which of them are meant.
  const fits = (key: readonly string[]): boolean => keys.every(({ cell: n }, i) => n >= cell || joined([key[i]!]) === joined([wordAt(n)]));
  const isOnly = count <= (written ? 1 : 0);
  const isAlone = isOnly && keys.length === 1;
  const seen = new Set<string>();
  const single = left.flatMap(({ title, keys: list }) =>
    list.filter(fits).flatMap((key): Item[] => {
      const label = key[part]!;
      if (seen.has(label)) return [];
      seen.add(label);
      const detail = say(title);
      // A row of its own, with what is still to take; else the cell alone.
      return isAlone
        ? [{ label, insert: rowSnippet(columns, keys, key), snippet: true, replace: [0, replace[1]], kind: 'row', detail }]
        : [{ label, replace, kind: 'row', detail }];
    }),
  );
  if (!isOnly) return single;
  const rest = left
    .filter((plan) => plan.keys.length > 1)
    .map(({ title, keys: list }): Item => {
      const count = list.length;
      return {
        label: say('Rest of {plan}', { plan: tabled(title) }),
        insert: list.map((key) => rowText(columns, keys, key)).join('\n'),
        replace: [0, replace[1]],
        kind: 'row',
        detail: say('all {count} rows of {plan} that are not there', { count, plan: tabled(title) }),
      };
    });
  return [...single, ...rest];
}

const joined = (key: readonly string[]): string =>
  key.map((part) => (Number.isNaN(Number(part)) || part === '' ? part : String(Number(part)))).join('\n');

/** The keys of the live rows but the one that is being written. */
function keysThere(block: Block, keys: readonly TableColumn[], except: number): ReadonlySet<string> {
  const { rows, lines } = tableOf(block);
  const found = new Set<string>();
  rows.forEach((row, i) => {
    if (row.struck || lines[i] === except) return;
    found.add(joined(keys.map(({ cell }) => (cell < row.values.length ? cellWord(row, cell) : ''))));
  });
  return found;
}

/** What is left of the plans that a run follows: those that hold all its rows, else all; each without the rows that are there. */
function remaining(plans: readonly Plan[], had: ReadonlySet<string>): readonly Plan[] {
  const followed = plans.filter((plan) => {
    const all = new Set(plan.keys.map(joined));
    return [...had].every((key) => all.has(key));
  });
  return (followed.length > 0 ? followed : plans)
    .map(({ title, keys }) => ({ title, keys: keys.filter((key) => !had.has(joined(key))) }))
    .filter(({ keys }) => keys.length > 0);
}

/** A plan of levels in the code values of its column; undefined where the signal does not say how levels become codes. */
function inUnits({ analysis: { session, results }, block }: Site, plan: Plan, keys: readonly TableColumn[]): Plan | undefined {
  const depth = keys[0]!.bits;
  if (depth === undefined || keys.length > 1) return plan;
  const run = results.find((result) => result.run.block === block)?.run;
  const range = session.text(run?.signal, 'range');
  if (range !== 'limited' && range !== 'full') return undefined;
  return { title: plan.title, keys: plan.keys.map(([level]) => [String(signalToCode(Number(level) / 100, { range, depth }))]) };
}

/** The cells of a row: its key, and `?` for what is still to take. */
const cellsOf = ({ columns }: ColumnsLine, keys: readonly TableColumn[], key: readonly string[]): readonly string[] =>
  columns.map((_: ColumnName, cell) => key[keys.findIndex((column) => column.cell === cell)] ?? '?');

function rowText(columns: ColumnsLine, keys: readonly TableColumn[], key: readonly string[]): string {
  const line = readLine(`    ${cellsOf(columns, keys, key).join('  ')}`, '\n', columns.after);
  return laidOut(line, columns);
}

/** The row with a stop at each reading that is still to take. */
function rowSnippet(columns: ColumnsLine, keys: readonly TableColumn[], key: readonly string[]): string {
  let n = 0;
  return literal(rowText(columns, keys, key)).replace(/\?/g, () => stop(++n, '?'));
}
