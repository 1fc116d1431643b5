import { isInPercent, LEVELS_EXPECTED, readLevels } from '../config/levels';
import type { Block } from '../session/block';
import { keyLabel } from '../session/blockProblems';
import { formatEdits, refusesRewriting } from '../session/layout';
import { CellKind, cellCount, cellSpan, quoted } from '../session/line';
import { type Intent, plan } from '../session/plan';
import { propertyType, sessionOf } from '../session/session';
import type { SessionText } from '../session/sessionText';
import { kindAt, type TableColumn, tableOf } from '../session/table';
import { readDate } from '../session/values';
import type { Message } from '../text/message';
import { type Span, shifted, type TextEdit } from '../text/span';
import { type Edits, isRefusal, refusal } from './answers';
import { clamped, labelOf, lastOwnLine, type Place, placeAt } from './places';
import { columnsText, keyCells, keyColumns, newRow, Order, RunEdits, usualRun } from './rows';

/** A reading still to take, or a property still to be noted. */
export interface OpenPlace {
  readonly is: 'reading' | 'property';
  /** Of the ?; empty at the end of a row whose last cells are left out. */
  readonly span: Span;
  /** What the block is called. */
  readonly block: string;
  /** The column or the property. */
  readonly name: string;
  /** Of the row; empty for a property. */
  readonly key: string;
}

/** All that is open, in the order of the text. */
export function openPlaces(source: SessionText): readonly OpenPlace[] {
  return source.blocks.flatMap((block, index) => {
    if (block.void || !block.spec) return [];
    const lineStart = (line: number) => source.lineStart(source.blockStarts[index]! + line);
    return [...openProperties(block, lineStart), ...openReadings(block, lineStart)].sort((a, b) => a.span[0] - b.span[0]);
  });
}

/** The next open place behind an offset, or the first one of the text; undefined when there is none. */
export function nextOpen(source: SessionText, offset: number, is?: OpenPlace['is']): OpenPlace | undefined {
  const places = openPlaces(source).filter((place) => is === undefined || place.is === is);
  const from = clamped(source, offset);
  return places.find(({ span }) => span[0] > from) ?? places[0];
}

function openProperties(block: Block, lineStart: (line: number) => number): OpenPlace[] {
  return block.propertyLines.flatMap((i): OpenPlace[] => {
    const { struck, value, name } = block.property(i);
    if (struck || value.is !== 'to-note') return [];
    return [{ is: 'property', span: shifted(value.span, lineStart(i)), block: block.name, name: name.text, key: '' }];
  });
}

function openReadings(block: Block, lineStart: (line: number) => number): OpenPlace[] {
  const { columns, rows, lines } = tableOf(block);
  const read = [...columns.values()];
  return rows.flatMap((row, i): OpenPlace[] => {
    const open = row.struck ? [] : read.filter((column) => kindAt(row, column) === CellKind.ToTake);
    if (open.length === 0) return [];
    const start = lineStart(lines[i]!);
    const [written, left] = [open.filter(({ cell }) => cell < cellCount(row)), open.filter(({ cell }) => cell >= cellCount(row))];
    const end = cellSpan(row, cellCount(row) - 1)[1];
    const places = [...written.map((column) => ({ column, span: cellSpan(row, column.cell) }))];
    if (left[0]) places.push({ column: left[0], span: [end, end] });
    const key = keyLabel(block, row);
    return places.map(({ column, span }) => ({ is: 'reading', span: shifted(span, start), block: block.name, name: column.name, key }));
  });
}

/** The layout of a row or column line of the file that is being left; no edits for other lines. */
export function rowLayout(source: SessionText, fileLine: number): readonly TextEdit[] {
  const line = source.lines[fileLine];
  return line?.kind === 'row' || line?.kind === 'columns' ? formatEdits(source, fileLine, fileLine + 1) : [];
}

/** The layout of the row above an offset: what was typed when its line end was. */
export const rowLayoutAbove = (source: SessionText, offset: number): readonly TextEdit[] =>
  rowLayout(source, source.lineAt(clamped(source, offset)) - 1);

/** The lines that a selection touches; one of whole lines ends before the first character of the next. */
function touched(source: SessionText, [start, end]: Span): Place[] {
  const from = source.lineAt(clamped(source, Math.min(start, end)));
  let to = source.lineAt(clamped(source, Math.max(start, end)));
  if (to > from && source.lineStart(to) === clamped(source, Math.max(start, end))) to--;
  return Array.from({ length: to - from + 1 }, (_, i) => placeAt(source, source.lineStart(from + i)));
}

/** The edits of one intent a line, as one gesture: all or the first refusal. */
function eachLine(source: SessionText, places: readonly Place[], intent: (block: string, line: number) => Intent): Edits {
  const found: TextEdit[] = [];
  for (const { index, line } of places) {
    const edits = plan(source, intent(labelOf(source, index), line));
    if (isRefusal(edits)) return edits;
    found.push(...edits);
  }
  return found;
}

/**
 * Strikes out the rows and properties of a selection, or brings them back when all are struck out; a head alone voids its block.
 */
export function toggleStrike(source: SessionText, selection: Span): Edits {
  const refused = refusesRewriting(source);
  if (refused) return refused;
  const all = touched(source, selection);
  const lines = all.filter(({ on }) => on.kind === 'row' || on.kind === 'property');
  const places = lines.length > 0 ? lines : all.filter(({ on }) => on.kind === 'header').slice(0, 1);
  if (places.length === 0) return refusal('no-line');
  const on = places.some((place) => !place.on.struck);
  return eachLine(source, places, (block, line) => ({ do: 'strike', block, line, on }));
}

/** Strikes out the rows of a selection and puts one to take under each. */
export const strikeAndTakeAgain = (source: SessionText, selection: Span): Edits =>
  eachRow(source, selection, (block, line) => ({ do: 'strikeAndTakeAgain', block, line }));

/** Puts a row to take of the same patch under each row of a selection. */
export const addRepeats = (source: SessionText, selection: Span): Edits =>
  eachRow(source, selection, (block, line) => ({ do: 'addRepeat', block, line }));

function eachRow(source: SessionText, selection: Span, intent: (block: string, line: number) => Intent): Edits {
  const refused = refusesRewriting(source);
  if (refused) return refused;
  const rows = touched(source, selection).filter(({ on }) => on.kind === 'row');
  return rows.length === 0 ? refusal('no-row') : eachLine(source, rows, intent);
}

/**
 * Adds rows to take at levels (as `readLevels` reads them, in the unit of the column) to the run at an offset, in the order that its rows
 * have; levels that a live row has are skipped. Where a key has words too (the hue of a saturation), they are those of the row at the
 * offset, else of the last row.
 */
export function addLevels(source: SessionText, offset: number, levels: string): Edits {
  const refused = refusesRewriting(source);
  if (refused) return refused;
  const { block, first, on } = placeAt(source, offset);
  if (!block.isRun || block.void) return refusal('no-run');
  const run = block.columns ? block : usualRun(block.keyword!)!;
  const keys = keyColumns(run);
  const numeric = keys.filter(({ spec }) => spec.holds !== 'word');
  const column = numeric[0];
  if (!column || numeric.length > 1) return refusal('levels-none', { keyword: block.keyword!, run: block.name });
  const wanted = readLevels(levels);
  if (!wanted) return refusal('levels-form', { found: levels, expected: LEVELS_EXPECTED });
  if (isInPercent(levels) && !isPercent(column)) return refusal('levels-percent', { found: levels, column: column.written.text });

  const row = on.kind === 'row' ? on : tableOf(block).rows.findLast(({ struck }) => !struck);
  const words = row ? Object.entries(keyCells(run, row)).filter(([name]) => name !== column.name) : [];
  const lacking = keys.find(({ name }) => name !== column.name && !words.some(([known]) => known === name));
  if (lacking) return refusal('levels-row', { column: lacking.name });

  const order = new Order(block);
  const group = row ? order.keyOf(row).group : '';
  const added = new Set<number>();
  const edits = new RunEdits(source, first);
  if (run !== block) edits.insert(block.propertyLines.at(-1) ?? 0, columnsText(run.columns!), Number.NEGATIVE_INFINITY);
  for (const level of wanted) {
    const value = level * column.factor;
    if (added.has(value) || order.rowsOf({ group, value }).length > 0) continue;
    added.add(value);
    const text = newRow(run, { ...Object.fromEntries(words), [column.name]: String(level) });
    if (typeof text !== 'string') return text;
    const place = run === block ? order.placeOf({ group, value }) : { under: block.propertyLines.at(-1) ?? 0, rank: value };
    edits.insert(place.under, text, place.rank);
  }
  return edits.edits();
}

const isPercent = ({ spec, bits }: TableColumn): boolean =>
  (spec.holds === 'drive' && bits === undefined) || (spec.holds === 'quantity' && spec.dimension === 'percent');

/**
 * Puts a run under the one at an offset that takes its properties over, for another mode, with its patches to take: the live rows, their
 * readings left open. When the other was taken and what was remarked of it is not taken over.
 * @param id of the new run; else made of the run's and the mode's
 */
export function duplicateRun(
  source: SessionText,
  offset: number,
  mode: string,
  id?: string,
): { readonly edits: readonly TextEdit[]; readonly id: string } | Message {
  const refused = refusesRewriting(source);
  if (refused) return refused;
  const { block, first } = placeAt(source, offset);
  if (!block.isRun || block.void) return refusal('no-run');
  const session = sessionOf(source);
  if (session.byName.get(block.name) !== block) return refusal('run-second', { run: block.name });
  const modeBlock = session.byName.get(mode);
  if (modeBlock?.keyword !== 'mode') return refusal('no-mode', { mode });
  const isTaken = (name: string) => source.blocks.some((other) => other.header && other.name === name);
  const own = id ?? freeId(`${block.name}-${mode}`, isTaken);
  if (!/^[A-Za-z][A-Za-z0-9-]*$/.test(own)) return refusal('id-form', { id: own });
  if (isTaken(own)) {
    return refusal('id-taken', {
      id: own,
      line: source.blockStarts[source.blocks.findIndex((other) => other.header && other.name === own)]! + 1,
    });
  }

  const properties = session.properties(block);
  const title = modeBlock.header?.title ? ` ${quoted(modeBlock.header.title.text)}` : '';
  const lines = [`${block.keyword} ${own}${title} like ${block.name}`, `  mode: ${mode}`];
  if (properties.has('taken')) lines.push('  taken: ?');
  if (properties.has('note')) lines.push('  note: ~');
  const rows = openRows(block);
  if (isRefusal(rows)) return rows;
  lines.push(...rows);

  const last = lastOwnLine(block);
  const above = block.lines[last]!;
  const end = source.lineStart(first + last) + above.text.length;
  const eol = above.eol || source.eol;
  const edits = [{ span: [end, end] as const, text: eol + lines.map((line) => eol + line).join('') }];
  const made = sessionOf(source.change(edits)).byName.get(own);
  return made?.keyword === block.keyword ? { edits, id: own } : refusal('id-unread', { id: own });
}

/** A name that is not taken: itself, or with a number behind it. */
export function freeId(name: string, isTaken: (name: string) => boolean): string {
  for (let i = 1; ; i++) {
    const tried = i === 1 ? name : `${name}-${i}`;
    if (!isTaken(tried)) return tried;
  }
}

/** The column line and live rows of a run with their readings left open, in their layout; nothing where it has no table. */
export function openRows(block: Block): readonly string[] | Message {
  if (!block.columns) return [];
  const lines = [columnsText(block.columns)];
  for (const row of tableOf(block).rows) {
    if (row.struck) continue;
    const text = newRow(block, keyCells(block, row));
    if (typeof text !== 'string') return text;
    lines.push(text);
  }
  return lines;
}

/**
 * Writes when something was done, at the place that the format has for it: `taken` of a run, a date property, the head of the session, the
 * remark of a row; in a note or comment at the offset itself.
 * @param time `2026-03-14 15:30`: the core has no clock
 */
export function insertTime(source: SessionText, offset: number, time: string): Edits {
  const refused = refusesRewriting(source);
  if (refused) return refused;
  const [day, clock] = readDate(time) ? time.split(' ') : [];
  if (day === undefined || clock === undefined) return refusal('time-form', { found: time });
  const place = placeAt(source, offset);
  const { block, index, first, line, on, at } = place;
  const start = source.lineStart(first + line);
  if (on.kind === 'comment' || on.kind === 'note') {
    // Before the mark there is no text yet.
    const where = Math.max(at, on.text.search(/[#|]/) + 1);
    const gap = (text: string | undefined) => (text === undefined || text === ' ' || text === '\t' ? '' : ' ');
    const text = `${gap(on.text[where - 1])}${clock}${gap(on.text[where])}`;
    return [{ span: [start + where, start + where], text }];
  }
  if (on.kind === 'row') {
    const end = start + (on.remark ? on.remark.span[1] : on.cells.at(-2)!);
    const behind = !on.remark ? '  | ' : on.remark.text === '' ? ' ' : ', ';
    return [{ span: [end, end], text: behind + clock }];
  }
  const dated = on.kind === 'property' && !on.struck && propertyType(block, on.name.text)?.is === 'date' ? on.name.text : undefined;
  if (block.keyword === 'session' && on.kind === 'header') {
    const { date, keyword } = on;
    if (date?.text === day) return [];
    return date
      ? [{ span: shifted(date.span, start), text: day }]
      : [{ span: [start + keyword.span[1], start + keyword.span[1]], text: ` ${day}` }];
  }
  if (dated === undefined && (!block.isRun || block.void)) return refusal('time-place');
  return plan(source, { do: 'setProperty', block: labelOf(source, index), name: dated ?? 'taken', value: time });
}
