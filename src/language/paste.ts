import type { Block } from '../session/block';
import { difference, refusesRewriting } from '../session/layout';
import { CellKind, cellText, cellWord, type RowLine } from '../session/line';
import { isMinusLike, readNumber } from '../session/number';
import { readLine } from '../session/readLine';
import type { SessionText } from '../session/sessionText';
import { columnUnit, kindAt, type TableColumn, tableOf, valueAt } from '../session/table';
import { UNITS } from '../session/valueTypes';
import { trimBlanks } from '../text/blanks';
import { type Args, fill, type Message, phraseOf, type Say, worded } from '../text/message';
import type { TextEdit } from '../text/span';
import { refusal } from './answers';
import { type PastedTable, pastedTable, type Separator } from './pasteText';
import { cellAt, placeAt } from './places';
import { type Cells, columnsText, emptyRun, filledRow, keyColumns, newRow, Order, RunEdits, usualRun } from './rows';

/** What only the one who pastes can know. */
export interface PasteAnswers {
  /** Whether commas in numbers are decimal ones. */
  readonly decimalComma?: boolean;
  /** Whether readings of patches that have theirs already are put under those as repeats. */
  readonly repeats?: boolean;
}

/** What would be pasted where, to be looked at before it is. */
export interface PastePreview {
  /** What the run is called. */
  readonly run: string;
  readonly separator: Separator;
  readonly hasHeads: boolean;
  /** By pasted column: the run's column it goes to, or why it goes nowhere. */
  readonly columns: readonly PastedColumn[];
  /** By pasted row below the heads; none while a question about the cells is open. */
  readonly rows: readonly PastedRow[];
  /** Single cells that are not put in. */
  readonly left: readonly LeftCell[];
  /** What is still to be answered. With `repeats` open, `edits` do all the rest. */
  readonly questions: readonly (keyof PasteAnswers)[];
  /** One gesture; none while `decimalComma` is open. */
  readonly edits: readonly TextEdit[];
}

export interface PastedColumn {
  readonly title: string;
  readonly to?: string;
  readonly why?: Message;
}

export interface PastedRow {
  /** In the pasted text, from 1. */
  readonly line: number;
  readonly does: 'adds' | 'fills' | 'repeats' | 'same' | 'nothing';
  /** What goes in, by column. */
  readonly cells: Cells;
  readonly why?: Message;
}

export interface LeftCell {
  readonly line: number;
  /** The pasted column, from 0. */
  readonly column: number;
  readonly text: string;
  readonly why: Message;
}

/** Why a column, row or cell is not put in. */
export const PASTE_REASONS = {
  'paste-name': 'no column of a {keyword} run is called so',
  'paste-no-column': 'the run has no column {column}',
  'paste-twice': 'a column before it goes to {column}',
  'paste-unit': 'it is in {unit}, and the column {column} is not',
  'paste-surplus': 'the run has no further column',
  'paste-number': 'it is no number',
  'paste-thousands': 'its commas or points may part thousands: write it as one number with a decimal point',
  'paste-cell': 'it does not fit in one cell',
  'paste-key': 'it does not say which patch it is',
  'paste-taken': 'there is a reading already',
  'paste-beyond': 'there is no further row',
  'paste-before': 'it stands above the heads of the columns',
  'paste-nothing': 'it holds nothing for this run',
} as const;

export const pasteReasonText = (why: Message, say: Say = fill): string => worded(phraseOf(PASTE_REASONS, why), say);

const reason = (code: keyof typeof PASTE_REASONS, args: Args = {}): Message => ({ code, args });

/** More lines than this are not looked at. */
export const MOST_PASTED = 20_000;

/**
 * What pasting a text (rows of a spreadsheet, or a CSV file) into the run at an offset would do. Rows that say their patch fill the rows
 * that wait for it, else come in the order of the run; rows that do not fill those from the offset on. A reading that is there is never
 * written over, and nothing is guessed: not commas, not thousands, not units.
 */
export function previewPaste(source: SessionText, offset: number, text: string, answers: PasteAnswers = {}): PastePreview | Message {
  const refused = refusesRewriting(source);
  if (refused) return refused;
  const { block } = placeAt(source, offset);
  if (!block.spec?.table || block.void) return refusal('no-run');
  const table = pastedTable(text, answers.decimalComma);
  if (table.rows.length === 0) return refusal('paste-empty');
  if (table.rows.length > MOST_PASTED) return refusal('paste-much', { most: MOST_PASTED });
  return new Paste(source, offset, block, table, answers).preview();
}

interface Mapped extends PastedColumn {
  readonly column?: TableColumn;
}

class Paste {
  private readonly left: LeftCell[] = [];
  private readonly questions = new Set<keyof PasteAnswers>();
  private readonly edits: RunEdits;
  private readonly order: Order;
  private readonly used = new Set<number>();

  constructor(
    private readonly source: SessionText,
    private readonly offset: number,
    private readonly block: Block,
    private readonly table: PastedTable,
    private readonly answers: PasteAnswers,
  ) {
    this.edits = new RunEdits(source, placeAt(source, offset).first);
    this.order = new Order(block);
  }

  preview(): PastePreview | Message {
    const { block, table } = this;
    const unclear = { hasHeads: false, columns: [], rows: [], left: [], questions: ['decimalComma'], edits: [] } as const;
    if (table.isUnclear) return this.result(unclear);
    const headsAt = headsRow(table, block);
    const heads = headsAt === undefined ? undefined : table.rows[headsAt]!.cells;
    const run = block.columns ? block : heads ? this.runOf(heads) : usualRun(block.keyword!);
    const width = Math.max(...table.rows.slice(headsAt ?? 0).map(({ cells }) => cells.length));
    const mapped = run && (heads ? byHeads(run, heads, width) : this.byPlace(run, width));
    if (!run || !mapped) return refusal('paste-columns', { run: block.name, found: width, expected: tableOf(run ?? block).width });
    const columns = mapped.map(({ column, ...shown }) => shown);

    const data = table.rows.slice(headsAt === undefined ? 0 : headsAt + 1);
    const read = this.readRows(data, mapped);
    if (!read) return this.result({ ...unclear, columns, hasHeads: heads !== undefined });

    const keys = keyColumns(run);
    const to = new Set(mapped.flatMap(({ column }) => column?.name ?? []));
    const byKey = keys.length > 0 ? keys.every(({ name }) => to.has(name)) : run.keyword !== 'tuning';
    const rows = byKey ? read.map((row, i) => this.placed(run, row, i)) : this.filled(run, read);
    if (run !== block && rows.some(({ does }) => does === 'adds')) {
      this.edits.insert(block.propertyLines.at(-1) ?? 0, columnsText(run.columns!), Number.NEGATIVE_INFINITY);
    }
    const before = table.rows
      .slice(0, headsAt ?? 0)
      .map(({ line }): PastedRow => ({ line, does: 'nothing', cells: {}, why: reason('paste-before') }));
    return this.result({
      columns,
      hasHeads: heads !== undefined,
      rows: [...before, ...rows],
      left: this.left,
      questions: [...this.questions],
      edits: this.edits.edits(),
    });
  }

  private result(rest: Omit<PastePreview, 'run' | 'separator'>): PastePreview {
    return { run: this.block.name, separator: this.table.separator, ...rest };
  }

  /** A column line for a run that has none, of the heads that its kind knows. */
  private runOf(heads: readonly string[]): Block | undefined {
    const known = new Map<string, string>();
    for (const head of heads) {
      const { name, unit } = headOf(this.block, head);
      const spec = name === undefined ? undefined : this.block.spec!.table!.columns[name];
      if (name === undefined || !spec || known.has(name)) continue;
      const meant = columnUnit(spec, unit);
      known.set(name, unit === undefined || !meant || (meant.factor === 1 && !meant.bits) ? name : `${name}[${unit}]`);
    }
    return known.size === 0 ? undefined : emptyRun(this.block.keyword!, [...known.values()].join(' '));
  }

  /** Columns without heads: all of the run's, those from the cell at the offset on, or just its readings. */
  private byPlace(run: Block, width: number): readonly Mapped[] | undefined {
    const table = tableOf(run);
    const { on, at } = placeAt(this.source, this.offset);
    const cell = on.kind === 'row' && run === this.block ? cellAt(on, at) : undefined;
    const keys = keyColumns(run);
    const from = width >= table.width ? 0 : (cell ?? (keys.length > 0 && width === table.width - keys.length ? keys.length : undefined));
    if (from === undefined) return undefined;
    // Readings that do not stand behind their keys are not to be told by their number.
    if (cell === undefined && from > 0 && keys.some((key) => key.cell >= from)) return undefined;
    const columns = [...table.columns.values()];
    return Array.from({ length: width }, (_, i): Mapped => {
      const column = columns.find((each) => each.cell === from + i);
      return column ? { title: '', to: column.name, column } : { title: '', why: reason('paste-surplus') };
    });
  }

  /** The cells of each row by column; undefined when it must first be said what commas are. */
  private readRows(data: PastedTable['rows'], mapped: readonly Mapped[]): { line: number; cells: Cells }[] | undefined {
    let isUnclear = false;
    const rows = data.map(({ line, cells: pasted }) => {
      const cells: Record<string, string> = Object.create(null);
      pasted.forEach((text, i) => {
        const column = mapped[i]?.column;
        if (!column || text === '') return;
        const read = cellOf(text, column, this.answers.decimalComma);
        if (read === 'unclear') isUnclear = true;
        else if (typeof read === 'string') cells[column.name] = read;
        else this.left.push({ line, column: i, text, why: read });
      });
      return { line, cells: { ...cells } };
    });
    return isUnclear ? undefined : rows;
  }

  /** Puts a row where its patch is. */
  private placed(run: Block, { line, cells }: { line: number; cells: Cells }, nth: number): PastedRow {
    const nothing = (why: Message): PastedRow => ({ line, does: 'nothing', cells: {}, why });
    if (Object.keys(cells).length === 0) return nothing(reason('paste-nothing'));
    if (keyColumns(run).some(({ name }) => !Object.hasOwn(cells, name))) return nothing(reason('paste-key'));
    const text = newRow(run, cells);
    const row = typeof text === 'string' ? readLine(text, '\n', run.columns!.after) : undefined;
    if (typeof text !== 'string' || row?.kind !== 'row') return nothing(reason('paste-cell'));
    if (run !== this.block) {
      this.edits.insert(this.block.propertyLines.at(-1) ?? 0, text, nth);
      return { line, does: 'adds', cells };
    }
    const key = this.order.keyOf(row);
    const keys = new Set(keyColumns(run).map(({ name }) => name));
    const readings = Object.fromEntries(Object.entries(cells).filter(([name]) => !keys.has(name)));
    const known = keys.size === 0 ? [] : this.order.rowsOf(key);
    for (const { row: old, line: at } of known) {
      if (this.used.has(at)) continue;
      const open = openCells(run, old, row, readings);
      if (!open) continue;
      this.used.add(at);
      return Object.keys(open).length === 0 ? { line, does: 'same', cells: {} } : this.fill(run, at, old, open, line);
    }
    if (known.length === 0) {
      const { under, rank } = this.order.placeOf(key);
      this.edits.insert(under, text, rank);
      return { line, does: 'adds', cells };
    }
    if (this.answers.repeats === undefined) this.questions.add('repeats');
    if (!this.answers.repeats) return nothing(reason('paste-taken'));
    this.edits.insert(known.at(-1)!.line, text, Number.NEGATIVE_INFINITY);
    return { line, does: 'repeats', cells };
  }

  private fill(run: Block, at: number, row: RowLine, cells: Cells, line: number): PastedRow {
    const text = filledRow(run, row, cells);
    if (typeof text !== 'string') return { line, does: 'nothing', cells: {}, why: reason('paste-cell') };
    const { first } = placeAt(this.source, this.offset);
    this.edits.fill(at, difference(row.text, text, this.source.lineStart(first + at)));
    return { line, does: 'fills', cells };
  }

  /** Fills the live rows from the offset on, one after another. */
  private filled(run: Block, pasted: readonly { line: number; cells: Cells }[]): PastedRow[] {
    const { rows, lines } = tableOf(run === this.block ? run : this.block);
    const here = placeAt(this.source, this.offset);
    const from = here.on.kind === 'row' ? here.line : 0;
    const live = rows.flatMap((row, i) => (row.struck || lines[i]! < from ? [] : [{ row, at: lines[i]! }]));
    return pasted.map(({ line, cells }, i) => {
      const target = live[i];
      if (Object.keys(cells).length === 0) return { line, does: 'nothing', cells: {}, why: reason('paste-nothing') };
      if (!target) return { line, does: 'nothing', cells: {}, why: reason('paste-beyond') };
      const text = newRow(run, cells);
      const row = typeof text === 'string' ? readLine(text, '\n', run.columns!.after) : undefined;
      if (row?.kind !== 'row') return { line, does: 'nothing', cells: {}, why: reason('paste-cell') };
      const open = openCells(run, target.row, row, cells);
      if (!open) return { line, does: 'nothing', cells: {}, why: reason('paste-taken') };
      return Object.keys(open).length === 0 ? { line, does: 'same', cells: {} } : this.fill(run, target.at, target.row, open, line);
    });
  }
}

/** Those cells that a row waits for; undefined when one of them is taken by something else. */
function openCells(run: Block, old: RowLine, row: RowLine, cells: Cells): Cells | undefined {
  const { columns } = tableOf(run);
  const open: Record<string, string> = {};
  for (const [name, text] of Object.entries(cells)) {
    const column = columns.get(name)!;
    if (kindAt(old, column) === CellKind.ToTake) {
      if (text !== '?') open[name] = text;
    } else if (!isSame(old, row, column)) return undefined;
  }
  return open;
}

function isSame(a: RowLine, b: RowLine, column: TableColumn): boolean {
  if (column.spec.holds === 'word') return cellWord(a, column.cell) === cellWord(b, column.cell);
  const [kind, other] = [kindAt(a, column), kindAt(b, column)];
  if (kind !== other) return false;
  return kind === CellKind.None || valueAt(a, column) === valueAt(b, column) || cellText(a, column.cell) === cellText(b, column.cell);
}

/** How a pasted cell is written in a column; why it is not; or that it must first be said what its comma is. */
function cellOf(text: string, column: TableColumn, decimalComma: boolean | undefined): string | Message | 'unclear' {
  if (/[\r\n]/.test(text)) return reason('paste-cell');
  if (column.spec.holds === 'word') return text;
  if (text === '?') return text;
  if (/^[-–—\u2212]$/.test(text)) return '-';
  const isPercent =
    (column.spec.holds === 'drive' && column.bits === undefined) ||
    (column.spec.holds === 'quantity' && column.spec.dimension === 'percent');
  let plain = isPercent && text.endsWith('%') ? trimBlanks(text.slice(0, -1)) : text;
  plain = plain.replace(/^([<>]) +/, '$1').replace(/^\+(?=[\d.,])/, '');
  if (isMinusLike(plain.charCodeAt(0))) plain = `-${plain.slice(1)}`;
  const bare = plain.replace(/^[<>]/, '');
  if (!Number.isNaN(readNumber(bare, 0, bare.length))) {
    return decimalComma && /^-?[1-9]\d{0,2}(?:\.\d{3})+$/.test(bare) ? reason('paste-thousands') : plain;
  }
  if (/^-?\d*,\d+(?:[eE][+-]?\d+)?$/.test(bare)) {
    return decimalComma === undefined ? 'unclear' : decimalComma ? plain.replace(',', '.') : reason('paste-thousands');
  }
  return /^-?\d[\d.,'’\u00a0\u2007\u202f ]*$/.test(bare) ? reason('paste-thousands') : reason('paste-number');
}

/** In how many of the first rows heads are looked for: above them spreadsheets have titles. */
const HEADS_WITHIN = 6;

/** The row that holds the heads of the columns: no numbers, and a name that the run knows. */
function headsRow({ rows }: PastedTable, block: Block): number | undefined {
  const found = rows
    .slice(0, HEADS_WITHIN)
    .findIndex(
      ({ cells }) =>
        cells.every((cell) => !/^(?:[<>+\u2212-]? *[\d.,]|[?-]$)/.test(cell)) &&
        cells.some((cell) => headOf(block, cell).name !== undefined),
    );
  return found < 0 ? undefined : found;
}

function byHeads(run: Block, heads: readonly string[], width: number): readonly Mapped[] {
  const { columns } = tableOf(run);
  const seen = new Set<string>();
  return Array.from({ length: Math.max(width, heads.length) }, (_, i): Mapped => {
    const title = heads[i] ?? '';
    const { name, unit } = headOf(run, title);
    if (name === undefined) return { title, why: reason('paste-name', { keyword: run.keyword! }) };
    const column = columns.get(name);
    if (!column) return { title, why: reason('paste-no-column', { column: name }) };
    if (seen.has(name)) return { title, why: reason('paste-twice', { column: name }) };
    const meant = unit === undefined ? undefined : columnUnit(column.spec, unit);
    if (unit !== undefined && !(meant && isUnitOf(column, meant))) {
      return { title, why: reason('paste-unit', { unit, column: column.written.text }) };
    }
    seen.add(name);
    return { title, to: name, column };
  });
}

const isUnitOf = (column: TableColumn, { factor, bits }: { factor: number; bits?: number }): boolean =>
  column.factor === factor && column.bits === bits;

/** A longer cell is no head, and not worth the search. */
const LONGEST_HEAD = 60;

/** What a head names, with its unit; case counts where it tells Y from y. */
function headOf(block: Block, head: string): { readonly name?: string; readonly unit?: string } {
  const own = block.spec!.table!.columns;
  const knows = (name: string): boolean => Object.hasOwn(own, name) || tableOf(block).columns.has(name);
  const find = (title: string): string | undefined => {
    const name = title
      .normalize('NFC')
      .replace(/[′’‘`´]/g, "'")
      .replace(/^CIE[ -]?(?=[A-Za-z])/, '');
    if (knows(name)) return name;
    const word = name.toLowerCase().replace(/[ _-]+/g, ' ');
    return Object.hasOwn(HEADS, word) ? HEADS[word]!.find(knows) : undefined;
  };
  if (head.length > LONGEST_HEAD) return {};
  const whole = find(head);
  // A unit by itself is what it measures, in that unit.
  if (whole !== undefined) return knows(head) || !isUnit(head.toLowerCase()) ? { name: whole } : { name: whole, unit: head.toLowerCase() };
  const parted = partedHead(head);
  if (!parted) return {};
  const unit = parted.unit.replace(/^(\d+)[ -]bits?$/, '$1bit');
  if (!parted.isBracketed && !isUnit(unit)) return {};
  const name = find(parted.title);
  return name === undefined ? {} : unit === '' ? { name } : { name, unit };
}

/** Title and unit of a head such as `Y [cd/m2]`, `Y (cd/m2)` or `Y cd/m2`. */
function partedHead(head: string): { readonly title: string; readonly unit: string; readonly isBracketed: boolean } | undefined {
  for (const [opening, closing] of BRACKETS) {
    const at = head.endsWith(closing) ? head.indexOf(opening, head.lastIndexOf(closing, head.length - 2) + 1) : -1;
    if (at >= 0) return { title: trimBlanks(head.slice(0, at)), unit: trimBlanks(head.slice(at + 1, -1)), isBracketed: true };
  }
  const at = head.lastIndexOf(' ');
  return at < 0 ? undefined : { title: trimBlanks(head.slice(0, at)), unit: head.slice(at + 1), isBracketed: false };
}

const BRACKETS = [
  ['[', ']'],
  ['(', ')'],
] as const;

const isUnit = (text: string): boolean =>
  text === '%' || /^\d+bit$/.test(text) || Object.values(UNITS).some((units) => Object.hasOwn(units, text));

/** Words that spreadsheets head columns with, in small letters, and the columns they may mean: plain words of the trade. */
const HEADS: Readonly<Record<string, readonly string[]>> = {
  stimulus: ['level'],
  signal: ['level'],
  'signal level': ['level'],
  grey: ['level'],
  gray: ['level'],
  'grey level': ['level'],
  'gray level': ['level'],
  level: ['level'],
  luminance: ['Y'],
  'cd/m2': ['Y'],
  'cd/m²': ['Y'],
  nits: ['Y'],
  hue: ['hue'],
  colour: ['hue', 'patch'],
  color: ['hue', 'patch'],
  saturation: ['sat'],
  sat: ['sat'],
  name: ['patch', 'place'],
  patch: ['patch'],
  red: ['R'],
  green: ['G'],
  blue: ['B'],
  window: ['window'],
  'window size': ['window'],
  area: ['window'],
  row: ['row'],
  column: ['col'],
  col: ['col'],
  time: ['t'],
  angle: ['angle'],
  direction: ['direction'],
  illuminance: ['illuminance'],
  wavelength: ['nm'],
  lag: ['lag'],
  'input lag': ['lag'],
  place: ['place'],
  position: ['place'],
  power: ['power'],
};
