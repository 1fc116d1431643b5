import { type Arg, anyOf, phrase } from '../text/message';
import type { Block } from './block';
import { CellKind, type ColumnName, type RowLine } from './line';
import { UNITS } from './valueTypes';
import type { ColumnSpec } from './vocabulary';

export interface TableColumn {
  readonly name: string;
  /** Which cell of a row. */
  readonly cell: number;
  readonly written: ColumnName;
  readonly spec: ColumnSpec;
  /** What a written number is multiplied by to stand in the base unit of its column; 1 for drives, which are decoded by the signal. */
  readonly factor: number;
  /** Bits of the code values of a drive column; undefined when it is in per cent. */
  readonly bits?: number;
}

/** The rows of a run under its columns: only those columns that the run reads, each name once. */
export interface Table {
  /** All rows, struck ones too, in the file's order; with their line within the block. */
  readonly rows: readonly RowLine[];
  readonly lines: readonly number[];
  readonly columns: ReadonlyMap<string, TableColumn>;
  /** Cells a full row has. */
  readonly width: number;
}

const tables = new WeakMap<Block, Table>();

/** The table of a block; without columns when it has no column line or is no run. */
export function tableOf(block: Block): Table {
  let table = tables.get(block);
  if (!table) {
    table = {
      rows: block.rowLines.map((line) => block.row(line)),
      lines: block.rowLines,
      columns: readColumns(block),
      width: block.columns?.columns.length ?? 0,
    };
    tables.set(block, table);
  }
  return table;
}

function readColumns(block: Block): Map<string, TableColumn> {
  const columns = new Map<string, TableColumn>();
  block.columns?.columns.forEach((written, cell) => {
    if (columns.has(written.name)) return;
    const column = columnSpec(block, written);
    if (!column) return;
    const unit = columnUnit(column, written.unit);
    if (unit) columns.set(written.name, { name: written.name, cell, written, spec: column, ...unit });
  });
  return columns;
}

/** `level [10bit]`: the reader keeps a unit that stands apart with the name before it. */
export const hasUnitApart = ({ text, unit }: ColumnName): boolean => unit === undefined && text.endsWith(']');

/** What a column of a run holds, by its name: the run's own columns, and free ones where it takes them. */
export function columnSpec(block: Block, column: ColumnName): ColumnSpec | undefined {
  const spec = block.spec?.table;
  if (!spec || hasUnitApart(column)) return undefined;
  const { name, quoted } = column;
  if (!quoted && Object.hasOwn(spec.columns, name)) return spec.columns[name];
  return spec.free && (quoted || block.keyword === 'spectrum') ? { holds: 'number' } : undefined;
}

/** What a unit in brackets means for a column; undefined when the column cannot have it. */
export function columnUnit(spec: ColumnSpec, unit: string | undefined): { factor: number; bits?: number } | undefined {
  switch (spec.holds) {
    case 'word':
    case 'number':
      return unit === undefined ? { factor: 1 } : undefined;
    case 'drive': {
      if (unit === undefined || unit === '%') return { factor: 1 };
      const bits = /^(8|10|12|16)bit$/.exec(unit);
      return bits ? { factor: 1, bits: Number(bits[1]) } : undefined;
    }
    case 'quantity': {
      const units = UNITS[spec.dimension];
      const factor = units[unit ?? spec.unit];
      return factor === undefined || !Object.hasOwn(units, unit ?? spec.unit) ? undefined : { factor: factor / units[spec.unit]! };
    }
  }
}

/** What may stand in brackets behind a column, in words. */
export const unitsExpected = (spec: ColumnSpec): Arg =>
  spec.holds === 'drive'
    ? anyOf(['[%]', '[8bit]', '[10bit]', '[12bit]', '[16bit]'])
    : spec.holds === 'quantity'
      ? anyOf(Object.keys(UNITS[spec.dimension]).map((unit) => `[${unit}]`))
      : phrase('no unit');

/** A number of a row in its column's base unit; NaN for `-`, `?`, words and missing cells. `<n` and `>n` give n: ask `kindAt`. */
export const valueAt = (row: RowLine, column: TableColumn): number => {
  const value = row.values[column.cell];
  return value === undefined ? Number.NaN : value * column.factor;
};

/** The kind of a cell; a cell left out at the end of a row is one still to take. */
export const kindAt = (row: RowLine, column: TableColumn): CellKind => row.cells[column.cell * 3 + 2] ?? CellKind.ToTake;
