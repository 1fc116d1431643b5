import type { Block } from '../session/block';
import { laidOut } from '../session/layout';
import { type ColumnsLine, cellCount, cellText, cellWord, type RowLine } from '../session/line';
import { plan } from '../session/plan';
import { SessionText } from '../session/sessionText';
import { type TableColumn, tableOf, valueAt } from '../session/table';
import { blockSpec, type Keyword } from '../session/vocabulary';
import type { Message } from '../text/message';
import type { TextEdit } from '../text/span';
import { isRefusal } from './answers';

/** Cells by the name of their column. */
export type Cells = Readonly<Record<string, string>>;

/**
 * Rows are written by the intents of `session/plan`, in a session that holds nothing but the run's column line: the same rules, and the
 * cost of three lines however long the run is.
 */
const HEAD = 'nitbook 1\n';

const alone = (keyword: string, ...lines: readonly string[]): SessionText => SessionText.read(HEAD + [keyword, ...lines, ''].join('\n'));

/** A run with a column line and no rows. Undefined where the column line is not read as one. */
export function emptyRun(keyword: Keyword, columns: string): Block | undefined {
  const block = alone(keyword, `    ${columns}`).blocks[1];
  return block?.columns && block.columnsLine === 1 ? block : undefined;
}

/** The column line that runs of a kind usually have. */
export const usualRun = (keyword: Keyword): Block | undefined => {
  const example = blockSpec(keyword)?.table?.example;
  return example === undefined ? undefined : emptyRun(keyword, example);
};

/** The column line in its layout. */
export const columnsText = (columns: ColumnsLine): string => laidOut(columns, columns);

/** A row under the columns of a run, in its layout; cells left out are still to take. */
export function newRow(block: Block, cells: Cells): string | Message {
  const source = alone(block.keyword!, block.columns!.text);
  const edits = plan(source, { do: 'addRow', block: block.keyword!, cells });
  return isRefusal(edits) ? edits : edits[0]!.text.slice(1);
}

/** A row with other cells in it. */
export function filledRow(block: Block, row: RowLine, cells: Cells): string | Message {
  let source = alone(block.keyword!, block.columns!.text, row.text);
  for (const [column, text] of Object.entries(cells)) {
    const edits = plan(source, { do: 'setCell', block: block.keyword!, line: 2, column, text });
    if (isRefusal(edits)) return edits;
    source = source.change(edits);
  }
  return source.lines[3]!.text;
}

/** The columns of a run that say which patch a row is, in the order of the format. */
export function keyColumns(block: Block): readonly TableColumn[] {
  const { columns } = tableOf(block);
  const keys = (block.spec?.table?.keys ?? []).flatMap((name) => columns.get(name) ?? []);
  if (block.keyword !== 'tuning') return keys;
  // What was tried is what a tuning row is known by.
  const own = block.spec!.table!.columns;
  return [...keys, ...[...columns.values()].filter(({ name }) => !Object.hasOwn(own, name))];
}

/** The cells of a row that say which patch it is, as they are written. */
export const keyCells = (block: Block, row: RowLine): Cells =>
  Object.fromEntries(keyColumns(block).flatMap(({ name, cell }) => (cell < cellCount(row) ? [[name, cellText(row, cell)] as const] : [])));

/** What rows of the same patch have alike. */
interface Key {
  readonly group: string;
  /** NaN where there is no number to order by. */
  readonly value: number;
}

interface Entry extends Key {
  readonly row: RowLine;
  /** Within the block. */
  readonly line: number;
}

const SEPARATOR = '\u0000';

/**
 * Where rows belong among those that a run has: in the order of the last numeric column of their key, within rows that have the rest of the
 * key alike. A white that stands first, or a level visited again at the end, does not mislead it.
 */
export class Order {
  private readonly numeric: TableColumn | undefined;
  private readonly others: readonly TableColumn[];
  private readonly entries: readonly Entry[];
  private readonly groups = new Map<string, Sorted>();
  private readonly live = new Map<string, Entry[]>();

  constructor(readonly block: Block) {
    const keys = keyColumns(block);
    this.numeric = keys.findLast(({ spec }) => spec.holds !== 'word');
    this.others = keys.filter((column) => column !== this.numeric);
    const { rows, lines } = tableOf(block);
    this.entries = rows.map((row, i) => ({ ...this.keyOf(row), row, line: lines[i]! }));
    for (const entry of this.entries) {
      if (entry.row.struck) continue;
      const name = named(entry);
      const alike = this.live.get(name);
      if (alike) alike.push(entry);
      else this.live.set(name, [entry]);
    }
  }

  keyOf(row: RowLine): Key {
    return {
      group: this.others.map((column) => partOf(row, column)).join(SEPARATOR),
      value: this.numeric ? valueAt(row, this.numeric) : Number.NaN,
    };
  }

  /** The live rows of a key, with their lines. */
  rowsOf(key: Key): readonly Entry[] {
    return this.live.get(named(key)) ?? [];
  }

  /** The line under which a row of a key goes, and what to sort those by that go under the same line. */
  placeOf({ group, value }: Key): { readonly under: number; readonly rank: number } {
    const end = this.entries.at(-1)?.line ?? this.block.columnsLine ?? 0;
    const sorted = this.sorted(group);
    if (sorted.first.length === 0 || Number.isNaN(value)) return { under: end, rank: Number.POSITIVE_INFINITY };
    const rank = sorted.sign * value;
    let low = 0;
    let high = sorted.first.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted.sign * this.entries[sorted.first[middle]!]!.value <= rank) low = middle + 1;
      else high = middle;
    }
    const before = sorted.first[low - 1];
    if (before !== undefined) {
      let last = before;
      while (this.isAlike(last, last + 1)) last++;
      return { under: this.entries[last]!.line, rank };
    }
    let first = sorted.first[0]!;
    while (this.isAlike(first, first - 1)) first--;
    return { under: this.entries[first]!.line - 1, rank };
  }

  /** Whether rows of a group stand from high to low. */
  isFalling(group: string): boolean {
    return this.sorted(group).sign < 0;
  }

  private isAlike(a: number, b: number): boolean {
    const [one, other] = [this.entries[a], this.entries[b]];
    return one !== undefined && other !== undefined && one.group === other.group && one.value === other.value;
  }

  private sorted(group: string): Sorted {
    let sorted = this.groups.get(group);
    if (!sorted) {
      const first = new Map<number, number>();
      let rises = 0;
      let before = Number.NaN;
      this.entries.forEach(({ row, value, group: own }, i) => {
        if (row.struck || own !== group || Number.isNaN(value)) return;
        if (!first.has(value)) first.set(value, i);
        rises += value > before ? 1 : value < before ? -1 : 0;
        before = value;
      });
      const sign = rises < 0 ? -1 : 1;
      sorted = { sign, first: [...first].sort(([a], [b]) => sign * (a - b)).map(([, index]) => index) };
      this.groups.set(group, sorted);
    }
    return sorted;
  }
}

interface Sorted {
  readonly sign: 1 | -1;
  /** The first live row of each value, in the order that the rows have. */
  readonly first: readonly number[];
}

const named = ({ group, value }: Key): string => `${group}${SEPARATOR}${value}`;

function partOf(row: RowLine, column: TableColumn): string {
  if (column.cell >= cellCount(row)) return '';
  return column.spec.holds === 'word' ? cellWord(row, column.cell) : String(valueAt(row, column));
}

/** Changes of a run's lines, gathered by line so that they are one list of edits in the end. */
export class RunEdits {
  private readonly fills = new Map<number, TextEdit>();
  private readonly inserts = new Map<number, { readonly text: string; readonly rank: number }[]>();

  constructor(
    private readonly source: SessionText,
    private readonly first: number,
  ) {}

  /** Replaces a line (within the block) as a whole; only what differs becomes an edit. */
  fill(line: number, edit: TextEdit | undefined): void {
    if (edit) this.fills.set(line, edit);
  }

  /** Puts a line under another; of several those of lower rank come first. */
  insert(under: number, text: string, rank = Number.POSITIVE_INFINITY): void {
    const known = this.inserts.get(under);
    if (known) known.push({ text, rank });
    else this.inserts.set(under, [{ text, rank }]);
  }

  edits(): readonly TextEdit[] {
    const lines = [...new Set([...this.fills.keys(), ...this.inserts.keys()])].sort((a, b) => a - b);
    return lines.flatMap((line) => {
      const fill = this.fills.get(line);
      const inserts = this.inserts.get(line);
      const found: TextEdit[] = fill ? [fill] : [];
      if (!inserts) return found;
      const above = this.source.lines[this.first + line]!;
      const end = this.source.lineStart(this.first + line) + above.text.length;
      const eol = above.eol || this.source.eol;
      // Infinity - Infinity is no number: those without a rank stay as they came.
      const sorted = inserts.toSorted((a, b) => (a.rank === b.rank ? 0 : a.rank - b.rank));
      found.push({ span: [end, end], text: sorted.map(({ text }) => eol + text).join('') });
      return found;
    });
  }
}
