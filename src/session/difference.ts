import type { Block } from './block';
import { CellKind, cellCount, cellKind, cellText, cellWord, type PropertyLine, type RowLine } from './line';
import { propertyType } from './session';
import type { SessionText } from './sessionText';
import { type TableColumn, tableOf } from './table';
import { readValue } from './values';

/** How one version of a session became another, as its text says it; blanks, comments, notes and the writing of numbers are no matter. */
export interface TextDifference {
  /** In the order of the version after; blocks that are gone stand last. Those that are as they were are left out. */
  readonly blocks: readonly BlockDifference[];
  /** What each block has become. */
  readonly became: ReadonlyMap<Block, BlockMatch>;
  /** Whether the texts are one and the same, character by character. */
  readonly isIdentical: boolean;
}

export interface BlockMatch {
  readonly block: Block;
  /** Rows of the table before and after that record one and the same reading, struck out or not; with those that were only mended. */
  readonly same: ReadonlyMap<number, number>;
  /** Of these, the rows after that were mended. */
  readonly mended: ReadonlySet<number>;
}

export interface BlockDifference {
  readonly is: 'added' | 'removed' | 'struck' | 'restored' | 'changed';
  readonly keyword: string;
  /** As blocks are called; empty where it is called by its keyword. */
  readonly id: string;
  /** The id before, where it has another now. */
  readonly was?: string;
  /** Whether it is struck out, of a block that was added or removed. */
  readonly void: boolean;
  readonly count: number;
  readonly before?: Block;
  readonly after?: Block;
  readonly properties: readonly PropertyDifference[];
  readonly columns?: readonly [before: string, after: string];
  readonly rows: readonly RowDifference[];
  /** Rows that are there before and after stand in another order. */
  readonly isReordered: boolean;
}

export interface PropertyDifference {
  /** `title`, `date` and `link` stand in the head. */
  readonly of: 'property' | 'title' | 'date' | 'link';
  readonly name: string;
  /** As it is written; undefined where it is not there. */
  readonly from?: string;
  readonly to?: string;
}

export interface RowDifference {
  /**
   * `again`: the row before is struck out, another of its key stands in its place. `mended`: the change reads like a slip put right.
   * `taken`: a reading was still to take. `reopened`: it is again.
   */
  readonly is: 'changed' | 'mended' | 'again' | 'taken' | 'reopened' | 'added' | 'removed' | 'struck' | 'restored' | 'rekeyed';
  readonly key: RowKey;
  /** The key before, of a row that has another now. */
  readonly was?: RowKey;
  readonly struck: boolean;
  readonly cells: readonly CellDifference[];
}

/** The cells that say which row it is, as they are written; empty where no column does. */
export type RowKey = readonly { readonly text: string; readonly unit: string }[];

export interface CellDifference {
  readonly column: string;
  readonly from: string;
  readonly to: string;
}

/** Compares two versions of one session: blocks by keyword and id, properties by name, rows by key and order. */
export function textDifference(before: SessionText, after: SessionText): TextDifference {
  const pairs = matchBlocks(headed(before), headed(after));
  const renames = new Map([...pairs].filter(([a, b]) => a.name !== b.name).map(([a, b]) => [a.name, b.name]));
  const became = new Map<Block, BlockMatch>();
  const found = new Map<Block, BlockDifference>();
  for (const [a, b] of pairs) {
    const { same, mended, rows, isReordered } = compareRows(a, b);
    became.set(a, { block: b, same, mended });
    const properties = [...headDifferences(a, b, renames), ...propertyDifferences(a, b, renames)];
    const columns = columnsText(a) === columnsText(b) ? undefined : ([columnsText(a), columnsText(b)] as const);
    const is = a.void === b.void ? 'changed' : b.void ? 'struck' : 'restored';
    const isAsItWas = rows.length + properties.length === 0 && !isReordered && !columns && a.name === b.name;
    if (isAsItWas && is === 'changed') continue;
    const was = a.name === b.name ? {} : { was: a.name };
    found.set(b, { ...named(b), ...was, is, before: a, after: b, properties, ...(columns && { columns }), rows, isReordered });
  }
  const whole = { properties: [], rows: [], isReordered: false };
  const ofPairs = new Set(pairs.values());
  const blocks = headed(after).flatMap((block): BlockDifference[] => {
    if (!ofPairs.has(block)) return [{ ...named(block), is: 'added', after: block, ...whole }];
    return [found.get(block)].filter((one) => one !== undefined);
  });
  const gone = headed(before).filter((block) => !pairs.has(block));
  return {
    blocks: [...blocks, ...gone.map((block): BlockDifference => ({ ...named(block), is: 'removed', before: block, ...whole }))],
    became,
    isIdentical: before.text === after.text,
  };
}

const headed = (source: SessionText): readonly Block[] => source.blocks.filter(({ header }) => header !== undefined);

const keywordOf = (block: Block): string => block.header?.keyword.text ?? '';

const named = (block: Block) => ({
  keyword: keywordOf(block),
  id: block.header?.id?.text ?? '',
  void: block.void,
  count: block.rowLines.length,
});

/** Gives away the things of a list once each, by what they are called, in their order. */
function takers<T>(list: readonly T[], called: (thing: T) => string): (name: string) => T | undefined {
  const queues = new Map<string, T[]>();
  for (const thing of list.toReversed()) {
    const name = called(thing);
    const queue = queues.get(name);
    if (queue) queue.push(thing);
    else queues.set(name, [thing]);
  }
  return (name) => queues.get(name)?.pop();
}

/** Of two files that have next to nothing in common, not every block is held against every other. */
const MOST_LIKENESSES = 4096;

/**
 * Live blocks are matched first, as a run that was taken again may stand beside the one that it replaces, struck out under the same id. What
 * is left is the same under another id where most of its lines are.
 */
function matchBlocks(before: readonly Block[], after: readonly Block[]): ReadonlyMap<Block, Block> {
  const pairs = new Map<Block, Block>();
  const taken = new Set<Block>();
  const pair = (called: (block: Block) => string) => {
    const take = takers(
      after.filter((block) => !taken.has(block)),
      called,
    );
    for (const a of before) {
      const b = pairs.has(a) ? undefined : take(called(a));
      if (!b) continue;
      pairs.set(a, b);
      taken.add(b);
    }
  };
  const nameOf = (block: Block) => `${keywordOf(block)} ${block.name}`;
  pair((block) => `${nameOf(block)} ${block.void}`);
  pair(nameOf);
  const gone = before.filter((block) => !pairs.has(block) && !block.void);
  const come = after.filter((block) => !taken.has(block) && !block.void);
  if (gone.length * come.length > MOST_LIKENESSES) return pairs;
  for (const a of gone) {
    const alike = come.map((b) => (taken.has(b) || keywordOf(b) !== keywordOf(a) ? 0 : likeness(a, b)));
    const most = Math.max(0, ...alike);
    if (most <= 0.5) continue;
    const b = come[alike.indexOf(most)]!;
    pairs.set(a, b);
    taken.add(b);
  }
  return pairs;
}

/** The share of lines that say the same: rows of blocks that have rows, else properties. */
function likeness(a: Block, b: Block): number {
  const said = (block: Block) =>
    block.rowLines.length > 0
      ? rowsIn(block).map(({ key, reading }) => `${key} ${reading}`)
      : namesIn(block).map((name) => `${name}: ${written(block, name)}`);
  const [of, others] = [said(a), said(b)];
  const take = takers(others, (text) => text);
  const shared = of.filter((text) => take(text) !== undefined).length;
  return shared / Math.max(of.length, others.length, 1);
}

function headDifferences(a: Block, b: Block, renames: ReadonlyMap<string, string>): PropertyDifference[] {
  const parts = ({ header }: Block, isBefore: boolean) => ({
    title: header?.title?.text,
    date: header?.date?.text,
    link: header?.link && `${header.link.word} ${(isBefore && renames.get(header.link.id.text)) || header.link.id.text}`,
  });
  const [from, to] = [parts(a, true), parts(b, false)];
  return (['title', 'date', 'link'] as const).flatMap((of) =>
    from[of] === to[of] ? [] : [{ of, name: of, ...some('from', from[of]), ...some('to', to[of]) }],
  );
}

const some = <K extends string, V>(key: K, value: V | undefined): { [k in K]?: V } =>
  (value === undefined ? {} : { [key]: value }) as { [k in K]?: V };

const nameOfLine = (line: PropertyLine): string => line.name.text.normalize('NFC');

const liveLines = (block: Block): readonly PropertyLine[] =>
  block.propertyLines.map((i) => block.property(i)).filter(({ struck }) => !struck);

const namesIn = (block: Block): readonly string[] => [...new Set(liveLines(block).map(nameOfLine))];

function propertyDifferences(a: Block, b: Block, renames: ReadonlyMap<string, string>): PropertyDifference[] {
  return [...new Set([...namesIn(b), ...namesIn(a)])].flatMap((name): PropertyDifference[] => {
    const [from, to] = [written(a, name), written(b, name)];
    if (from === to || meant(a, name, from) === meant(b, name, to)) return [];
    const isOfId = b.spec && Object.hasOwn(b.spec.properties, name) && b.spec.properties[name]!.type.is === 'id';
    if (isOfId && from !== undefined && renames.get(from) === to) return [];
    return [{ of: 'property', name, ...some('from', from), ...some('to', to) }];
  });
}

/** The value of a property as it is written in the block itself: of the one that counts, or of all where there may be several. */
function written(block: Block, name: string): string | undefined {
  const lines = liveLines(block).filter((line) => nameOfLine(line) === name);
  const isMany = block.spec && Object.hasOwn(block.spec.properties, name) && block.spec.properties[name]!.many;
  const texts = (isMany ? lines : lines.slice(0, 1)).map(({ value }) =>
    value.is === 'text' || value.is === 'string' ? value.text : value.is === 'to-note' ? '?' : value.is === 'removed' ? '~' : '',
  );
  return texts.length === 0 ? undefined : texts.join('; ');
}

/** What a value means: `10%` and `10 %` are the same. */
function meant(block: Block, name: string, text: string | undefined): string | undefined {
  const type = text === undefined ? undefined : propertyType(block, name);
  const reading = type && readValue(type, text!);
  return reading?.ok ? JSON.stringify(reading.value) : text;
}

const columnsText = (block: Block): string => (block.columns?.columns ?? []).map(({ text }) => text).join(' ');

interface Row {
  /** Its place in the table. */
  readonly at: number;
  readonly row: RowLine;
  readonly key: string;
  readonly label: RowKey;
  /** All cells that are no key, by what they mean. */
  readonly reading: string;
  readonly cells: ReadonlyMap<string, Cell>;
}

interface Cell {
  readonly text: string;
  /** Of the column, where it says one. */
  readonly unit: string;
  readonly kind: CellKind;
  readonly meaning: string;
}

function rowsIn(block: Block): readonly Row[] {
  const { rows, columns } = tableOf(block);
  const keys = new Set(block.spec?.table?.keys ?? []);
  const places = new Map<string, number>();
  block.columns?.columns.forEach(({ name }, cell) => {
    if (!places.has(name)) places.set(name, cell);
  });
  return rows.map((row, at) => {
    if (places.size === 0) return { at, row, key: '', label: [], reading: row.text.trim(), cells: new Map() };
    const [key, reading]: [string[], string[]] = [[], []];
    const label: RowKey[number][] = [];
    const cells = new Map<string, Cell>();
    for (const [name, place] of places) {
      const cell = cellOf(row, place, columns.get(name));
      if (keys.has(name)) {
        key.push(`${name} ${cell.meaning}`);
        label.push({ text: cell.text, unit: cell.kind === CellKind.Number ? unitOf(columns.get(name)) : '' });
      } else {
        cells.set(name, cell);
        // The order of columns is no matter.
        reading.push(`${name} ${cell.meaning}`);
      }
    }
    return { at, row, key: key.sort().join(' '), label, reading: reading.sort().join(' '), cells };
  });
}

/** Of the numbers in a column of keys; none for codes, whose column says its bits. */
function unitOf(column: TableColumn | undefined): string {
  if (column?.spec.holds === 'drive') return column.bits === undefined ? '%' : '';
  const unit = column?.spec.holds === 'quantity' ? (column.written.unit ?? column.spec.unit) : '';
  return unit === 'deg' ? '°' : unit;
}

function cellOf(row: RowLine, place: number, column: TableColumn | undefined): Cell {
  const { factor = 1, written } = column ?? {};
  const unit = written?.unit ?? '';
  if (place >= cellCount(row)) return { text: '?', unit, kind: CellKind.ToTake, meaning: `${CellKind.ToTake}` };
  const kind = cellKind(row, place);
  const value = row.values[place]!;
  const isNumber = !Number.isNaN(value);
  const meaning = isNumber ? Number((value * factor).toPrecision(12)) : hasWord(kind) ? cellWord(row, place) : '';
  return { text: cellText(row, place), unit, kind, meaning: `${kind === CellKind.String ? CellKind.Word : kind}${meaning}` };
}

const hasWord = (kind: CellKind): boolean => kind === CellKind.Word || kind === CellKind.String;

interface ComparedRows {
  readonly rows: readonly RowDifference[];
  readonly same: ReadonlyMap<number, number>;
  readonly mended: ReadonlySet<number>;
  readonly isReordered: boolean;
}

/**
 * Rows that say the same first, then those that were struck out or restored, then those of one key in their order, and last those that have
 * kept their reading under another key.
 */
function compareRows(a: Block, b: Block): ComparedRows {
  const [before, after] = [rowsIn(a), rowsIn(b)];
  const pairs = new Map<Row, Row>();
  const taken = new Set<Row>();
  const pair = (called: (row: Row) => string, isMeant: (row: Row) => boolean = () => true) => {
    const take = takers(
      after.filter((row) => !taken.has(row) && isMeant(row)),
      called,
    );
    for (const row of before) {
      const other = pairs.has(row) || !isMeant(row) ? undefined : take(called(row));
      if (!other) continue;
      pairs.set(row, other);
      taken.add(other);
    }
  };
  const says = ({ key, reading }: Row) => `${key}\n${reading}`;
  pair((row) => `${says(row)}\n${row.row.struck}`);
  pair(says);
  pair(({ key, row }) => `${key}\n${row.struck}`);
  pair(({ reading, row }) => `${reading}\n${row.struck}`, isRead);

  const rows: { readonly order: number; readonly difference: RowDifference }[] = [];
  const same = new Map<number, number>();
  const mended = new Set<number>();
  const added = takers(
    after.filter((row) => !taken.has(row) && !row.row.struck),
    ({ key }) => key,
  );
  const told = new Set<Row>();
  let last = -1;
  let isReordered = false;
  for (const from of before) {
    const to = pairs.get(from);
    const order = to ? to.at : last + 0.5;
    const say = (is: RowDifference['is'], row: Row, cells: readonly CellDifference[] = [], was?: RowKey) =>
      rows.push({ order, difference: { is, key: row.label, struck: row.row.struck, cells, ...some('was', was) } });
    if (!to) {
      say('removed', from, cellsOf(from, 'from'));
      continue;
    }
    if (to.at < last) isReordered = true;
    last = to.at;
    const cells = cellDifferences(from, to);
    const changed = howChanged(from, to, cells);
    if (from.reading === to.reading || changed === 'mended') same.set(from.at, to.at);
    if (changed === 'mended') mended.add(to.at);
    if (from.row.struck !== to.row.struck) {
      const instead = to.row.struck ? added(to.key) : undefined;
      if (instead) {
        told.add(instead);
        say('again', instead, cellDifferences(from, instead));
      } else say(to.row.struck ? 'struck' : 'restored', to, cellsOf(to, 'to'));
    } else if (from.key !== to.key) say('rekeyed', to, cells, from.label);
    else if (cells.length > 0) say(changed, to, withUnits(from, to, cells));
  }
  for (const row of after)
    if (!taken.has(row) && !told.has(row))
      rows.push({
        order: row.at,
        difference: { is: 'added', key: row.label, struck: row.row.struck, cells: cellsOf(row, 'to') },
      });
  return { rows: rows.sort((p, q) => p.order - q.order).map(({ difference }) => difference), same, mended, isReordered };
}

/** Whether a row holds a reading at all. */
const isRead = ({ cells }: Row): boolean => [...cells.values()].some(({ kind }) => isNumber(kind));

const isNumber = (kind: CellKind): boolean => kind === CellKind.Number || kind === CellKind.Below || kind === CellKind.Above;

const cellsOf = ({ cells }: Row, side: 'from' | 'to'): CellDifference[] =>
  [...cells].map(([column, { text }]) => (side === 'from' ? { column, from: text, to: '' } : { column, from: '', to: text }));

/** Cells of the columns that both have; what comes and goes with a column is said of the column. */
const cellDifferences = (from: Row, to: Row): CellDifference[] =>
  [...to.cells].flatMap(([column, cell]) => {
    const was = from.cells.get(column);
    return !was || was.meaning === cell.meaning ? [] : [{ column, from: was.text, to: cell.text }];
  });

/** With the units where a column has another than before: its numbers may be the same. */
const withUnits = (from: Row, to: Row, cells: readonly CellDifference[]): CellDifference[] =>
  cells.map((cell) => {
    const [was, is] = [from.cells.get(cell.column)!.unit, to.cells.get(cell.column)!.unit];
    const put = (text: string, unit: string) => (unit === '' ? text : `${text} ${unit}`);
    return was === is ? cell : { ...cell, from: put(cell.from, was), to: put(cell.to, is) };
  });

function howChanged(from: Row, to: Row, cells: readonly CellDifference[]): 'changed' | 'mended' | 'taken' | 'reopened' {
  if (cells.length === 0) return 'changed';
  const kinds = (row: Row) => cells.map(({ column }) => row.cells.get(column)!.kind);
  const isOpen = (kind: CellKind) => kind === CellKind.ToTake || kind === CellKind.Empty;
  if (kinds(from).every(isOpen)) return 'taken';
  if (kinds(to).every(isOpen)) return 'reopened';
  const areNumbers = [...kinds(from), ...kinds(to)].every((kind) => kind === CellKind.Number);
  return areNumbers && isMend(cells) ? 'mended' : 'changed';
}

/**
 * Whether the change of a row reads like a slip put right, and not like a reading taken again: cells in each other's place, a decimal point or
 * sign elsewhere, a digit too many or too few before the point, neighbouring digits in each other's place. Not the last two digits, where
 * readings differ by chance.
 */
export function isMend(cells: readonly CellDifference[]): boolean {
  const [a, b] = cells;
  if (cells.length === 2 && a!.from === b!.to && a!.to === b!.from) return true;
  return cells.every(({ from, to }) => isMendedNumber(from, to));
}

/** The digits of a number without zeros at either end, wherever its point is. */
function significant(text: string): string {
  const digits = text.replace(/\D/g, '');
  let [start, end] = [0, digits.length];
  while (digits[start] === '0') start++;
  while (end > start && digits[end - 1] === '0') end--;
  return digits.slice(start, end);
}

function isMendedNumber(from: string, to: string): boolean {
  if (/e/i.test(from + to)) return false;
  if (significant(from) === significant(to)) return true;
  const [a, b] = [from, to].map((text) => text.replace(/[^\d.]/g, '').split('.')) as [[string, string?], [string, string?]];
  if (Math.abs(a[0].length - b[0].length) === 1 && (a[1] ?? '') === (b[1] ?? '')) {
    const [long, short] = a[0].length > b[0].length ? [a[0], b[0]] : [b[0], a[0]];
    return [...long].some((_, i) => long.slice(0, i) + long.slice(i + 1) === short);
  }
  if (a[0].length !== b[0].length || a[1]?.length !== b[1]?.length) return false;
  const [p, q] = [a.join(''), b.join('')];
  const i = [...p].findIndex((digit, k) => digit !== q[k]);
  const isSwapped = p[i] === q[i + 1] && p[i + 1] === q[i] && p.slice(i + 2) === q.slice(i + 2);
  return isSwapped && i + 2 < p.length;
}
