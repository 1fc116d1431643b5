import { uvToXy } from '../colour/chromaticity';
import { codeToSignal, type SignalFormat } from '../colour/quantise';
import { CellKind, cellWord, type RowLine } from '../session/line';
import type { Run, Session } from '../session/session';
import { kindAt, type Table, type TableColumn } from '../session/table';
import { type ChangedRows, perRows } from './perBlock';
import { remembering } from './remember';
import { sentSignal } from './target';

/** What is known of a luminance reading. */
export enum Seen {
  Measured,
  /** Written `<n`: below the floor; its luminance is between 0 and n. */
  Below,
  /** Written `>n`: over the range. */
  Above,
  None,
}

/**
 * The patches of a run with their readings in absolute XYZ, cd/m²: live adjacent rows of one key are repeats, of which the mean is taken.
 * Lists run by patch, in the order of the rows. NaN where there is no reading, or none that light can have.
 */
export interface Patches {
  readonly count: number;
  /** The row (of the run's table) a patch begins with. */
  readonly first: Int32Array;
  readonly X: Float64Array;
  readonly Y: Float64Array;
  readonly Z: Float64Array;
  readonly seen: Uint8Array;
  /** How many readings a patch is the mean of. */
  readonly times: Int32Array;
  /** 1 for a patch whose key has been read before: it serves the drift only. */
  readonly revisit: Uint8Array;
  /** The first patch of the same key: the patch itself, unless it is a revisit. */
  readonly firstOfKey: Int32Array;
  /** By row of the table: its patch, −1 for a row that takes no part. */
  readonly ofRow: Int32Array;
  /** The readings as the meter showed them, where they have been corrected since. */
  readonly raw?: Pick<Patches, 'X' | 'Y' | 'Z'>;
}

/** The range and depth a run was sent with; undefined when the signal does not say both. */
export function signalFormat(session: Session, run: Run): SignalFormat | undefined {
  const range = session.text(run.signal, 'range');
  const depth = session.number(run.signal, 'depth');
  const isDepth = depth !== undefined && Number.isInteger(depth) && depth >= 8 && depth <= 16;
  return (range === 'limited' || range === 'full') && isDepth ? { range, depth } : undefined;
}

/** How the numbers of a drive column become signals; undefined for code values without a range. */
export function driveReader(
  column: TableColumn,
  format: SignalFormat | undefined,
  range: string | undefined,
): ((written: number) => number) | undefined {
  if (column.bits === undefined) return (percent) => sentSignal(percent, format);
  if (range !== 'limited' && range !== 'full') return undefined;
  const codes: SignalFormat = { range, depth: column.bits };
  return (code) => codeToSignal(code, codes);
}

/** The signals of a drive column by patch; undefined for code values without a range. */
export function signalsOf(
  session: Session,
  run: Run,
  patches: Pick<Patches, 'count' | 'first'>,
  column: TableColumn,
): Float64Array | undefined {
  const format = signalFormat(session, run);
  const range = session.text(run.signal, 'range');
  const what = `signals ${column.name} ${patches.count} ${range} ${format?.depth}`;
  return perRows<Signals | undefined>(run.block, what, (before) => {
    const { rows } = run.table;
    if (before?.value?.first === patches.first && hasSame(rows, before, column)) return before.value;
    const reader = driveReader(column, format, range);
    if (!reader) return undefined;
    const read = remembering(reader, column.bits === undefined ? 40.95 : 1, patches.count);
    const list = new Float64Array(patches.count);
    for (let i = 0; i < list.length; i++) list[i] = read(rows[patches.first[i]!]!.values[column.cell]!);
    return { first: patches.first, list };
  })?.list;
}

/** Signals by patch, and the rows that the patches begin with. */
interface Signals {
  readonly first: Int32Array;
  readonly list: Float64Array;
}

/** Whether the edited rows have the numbers of a column that they had. */
function hasSame(rows: readonly RowLine[], { from, to, rows: old }: ChangedRows<unknown>, { cell }: TableColumn): boolean {
  for (let i = from; i < to; i++)
    if (!Object.is(rows[i]!.values[cell], old[i]!.values[cell]) || rows[i]!.struck !== old[i]!.struck) return false;
  return true;
}

/**
 * How far outside all light a chromaticity may be read, in x and y: the deepest primaries lie on the spectrum locus, where half of all
 * readings would else be impossible (the accuracy of usual meters; common practice, no source).
 */
export const OUTSIDE_LIGHT = 0.003;

/** Reads the colour of a row as XYZ; NaN for what is not there, and for numbers that no light has. Keeps the last reading. */
class ColourReader {
  X = Number.NaN;
  Y = Number.NaN;
  Z = Number.NaN;
  private readonly luminance: TableColumn | undefined;
  private readonly form: 'xy' | 'XZ' | 'uv' | 'none';
  private readonly a: TableColumn | undefined;
  private readonly b: TableColumn | undefined;

  constructor(columns: ReadonlyMap<string, TableColumn>) {
    this.luminance = columns.get('Y');
    const has = (a: string, b: string) => columns.has(a) && columns.has(b);
    const form = has('x', 'y') ? 'xy' : has('X', 'Z') ? 'XZ' : has("u'", "v'") ? 'uv' : 'none';
    const [a, b] = { xy: ['x', 'y'], XZ: ['X', 'Z'], uv: ["u'", "v'"], none: ['', ''] }[form] as [string, string];
    this.form = form;
    this.a = columns.get(a);
    this.b = columns.get(b);
  }

  read(row: RowLine): void {
    this.Y = this.luminance ? atLeast0(row, this.luminance) : 1;
    this.X = this.Z = Number.NaN;
    if (this.form === 'none') return;
    const a = atLeast0(row, this.a!);
    const b = atLeast0(row, this.b!);
    if (this.form === 'xy') this.fromXy(a, b);
    else if (this.form === 'XZ') {
      this.X = a;
      this.Z = b;
    } else {
      const [x, y] = uvToXy([a, b]);
      this.fromXy(x, y);
    }
  }

  private fromXy(x: number, y: number): void {
    if (!(x >= 0 && y > 0 && x + y <= 1 + OUTSIDE_LIGHT)) return;
    this.X = (x / y) * this.Y;
    this.Z = ((1 - x - y) / y) * this.Y;
  }
}

/** A number of a row in its column's base unit; NaN for a negative one too. */
function atLeast0(row: RowLine, { cell, factor }: TableColumn): number {
  const value = row.values[cell];
  return value !== undefined && value >= 0 ? value * factor : Number.NaN;
}

function seenAs(row: RowLine, Y: TableColumn): Seen {
  switch (kindAt(row, Y)) {
    case CellKind.Number:
      return Seen.Measured;
    case CellKind.Below:
      return Seen.Below;
    case CellKind.Above:
      return Seen.Above;
    default:
      return Seen.None;
  }
}

/** A row's key as written, cell by cell: numbers by their value. */
export function keyOf(table: Table, keys: readonly string[], row: RowLine): readonly (string | number)[] {
  return keys.flatMap((name) => {
    const column = table.columns.get(name);
    if (!column) return [];
    const value = row.values[column.cell];
    return [value === undefined || Number.isNaN(value) ? cellWord(row, column.cell) : value];
  });
}

/** Whether two rows have the same key: numbers by value, in the unit in which they are typed. */
function sameKey(cells: readonly number[], a: RowLine, b: RowLine): boolean {
  for (const cell of cells) {
    const p = a.values[cell]!;
    const q = b.values[cell]!;
    if (p === q) continue;
    const areWords = Number.isNaN(p) && Number.isNaN(q);
    if (!areWords || cellWord(a, cell) !== cellWord(b, cell)) return false;
  }
  return true;
}

/** An integer that rows of one key share, and rows of different keys seldom do. */
function hashOfKey(cells: readonly number[], row: RowLine): number {
  let hash = 7;
  for (const cell of cells) {
    const value = row.values[cell]!;
    if (Number.isNaN(value)) for (const unit of cellWord(row, cell)) hash = Math.imul(hash, 31) + unit.codePointAt(0)!;
    else hash = Math.imul(hash, 31) + ((value * 65599) | 0);
  }
  return hash ^ (hash >>> 15);
}

/** How the rows of a table are gathered. */
export interface Gathering {
  readonly keys: readonly string[];
  /** Whether rows of one key are repeats wherever they stand. */
  readonly repeatAll: boolean;
  /** The columns that hold the reading, by the name they have in any run: `Y`, and `x` and `y` or others where it is a colour. */
  readonly columns: ReadonlyMap<string, TableColumn>;
  /** What the reading in a row is multiplied by, where the meter saw the whole of it. */
  readonly factorOf?: ((row: number) => number) | undefined;
}

type Groups = Pick<Patches, 'count' | 'first' | 'revisit' | 'firstOfKey' | 'ofRow'>;

/**
 * Gathers the patches of a table as they were read. Rows without a readable key, and struck ones, take no part.
 * @param before the patches of the table before some of its rows were edited: what these have not touched is taken over
 */
export function gatherPatches(table: Table, gathering: Gathering, before?: ChangedRows<Patches>): Patches {
  const keyColumns = gathering.keys.flatMap((name) => table.columns.get(name) ?? []);
  if (before && !gathering.repeatAll && isGroupedAlike(table.rows, keyColumns, before)) return readAgain(table, gathering, before);
  const groups = groupRows(table.rows, keyColumns, gathering.repeatAll);
  const sums = new Sums(table, groups, gathering);
  for (let row = 0; row < table.rows.length; row++) sums.add(row);
  for (let patch = 0; patch < groups.count; patch++) sums.finish(patch);
  return { ...groups, ...sums.readings };
}

/** Whether the edited rows say the same of their patch as before. */
function isGroupedAlike(
  rows: readonly RowLine[],
  keyColumns: readonly TableColumn[],
  { from, to, rows: old }: ChangedRows<Patches>,
): boolean {
  const cells = keyColumns.map((column) => column.cell);
  for (let i = from; i < to; i++) {
    const [a, b] = [old[i]!, rows[i]!];
    if (a.struck !== b.struck || isOpen(a, keyColumns) || isOpen(b, keyColumns) || !sameKey(cells, a, b)) return false;
  }
  return true;
}

/** The patches of the edited rows read anew, the others as they were. */
function readAgain(table: Table, gathering: Gathering, { value, from, to }: ChangedRows<Patches>): Patches {
  const { count, first, revisit, firstOfKey, ofRow } = value;
  const groups = { count, first, revisit, firstOfKey, ofRow };
  const sums = new Sums(table, groups, gathering, value);
  const touched = new Set(ofRow.subarray(from, to));
  for (const patch of touched) {
    if (patch < 0) continue;
    sums.clear(patch);
    for (let row = first[patch]!; row < ofRow.length && (ofRow[row] === patch || ofRow[row] === -1); row++)
      if (ofRow[row] === patch) sums.add(row);
    sums.finish(patch);
  }
  return { ...groups, ...sums.readings };
}

function groupRows(rows: readonly RowLine[], keyColumns: readonly TableColumn[], repeatAll: boolean): Groups {
  const cells = keyColumns.map((column) => column.cell);
  const size = rows.length;
  const first = new Int32Array(size);
  const revisit = new Uint8Array(size);
  const firstOfKey = new Int32Array(size);
  const ofRow = new Int32Array(size).fill(-1);
  // A hash table of patches (from 1) by key: joined texts as keys of a Map cost more than all the rest.
  const slots = new Int32Array(2 ** Math.ceil(Math.log2(2 * size + 2)));
  const mask = slots.length - 1;
  let count = 0;
  let previous: RowLine | undefined;
  let at = -1;
  for (let i = 0; i < size; i++) {
    const row = rows[i]!;
    if (row.struck || isOpen(row, keyColumns)) continue;
    if (!previous || !sameKey(cells, previous, row)) {
      let slot = hashOfKey(cells, row) & mask;
      while (slots[slot] !== 0 && !sameKey(cells, rows[first[slots[slot]! - 1]!]!, row)) slot = (slot + 1) & mask;
      const before = slots[slot]! - 1;
      if (before >= 0 && repeatAll) at = before;
      else {
        at = count++;
        first[at] = i;
        firstOfKey[at] = before >= 0 ? before : at;
        if (before >= 0) revisit[at] = 1;
        else slots[slot] = at + 1;
      }
    }
    ofRow[i] = at;
    previous = row;
  }
  const cut = <T extends Int32Array | Uint8Array>(list: T): T => list.subarray(0, count) as T;
  return { count, first: cut(first), revisit: cut(revisit), firstOfKey: cut(firstOfKey), ofRow };
}

/** The readings of patches, added up row by row and then divided. */
class Sums {
  readonly readings: Pick<Patches, 'X' | 'Y' | 'Z' | 'seen' | 'times'>;
  // Readings of a patch that have a colour, and their luminance.
  private readonly coloured: Int32Array;
  private readonly colouredY: Float64Array;
  private readonly reader: ColourReader;
  private readonly luminance: TableColumn | undefined;

  constructor(
    private readonly table: Table,
    private readonly groups: Groups,
    private readonly gathering: Gathering,
    known?: Patches,
  ) {
    const { count } = groups;
    const list = () => new Float64Array(count);
    this.readings = known
      ? { X: known.X.slice(), Y: known.Y.slice(), Z: known.Z.slice(), seen: known.seen.slice(), times: known.times.slice() }
      : { X: list(), Y: list(), Z: list(), seen: new Uint8Array(count).fill(Seen.None), times: new Int32Array(count) };
    this.coloured = new Int32Array(count);
    this.colouredY = list();
    this.reader = new ColourReader(gathering.columns);
    this.luminance = gathering.columns.get('Y');
  }

  clear(patch: number): void {
    const { X, Y, Z, seen, times } = this.readings;
    X[patch] = Y[patch] = Z[patch] = times[patch] = 0;
    seen[patch] = Seen.None;
  }

  add(i: number): void {
    const at = this.groups.ofRow[i]!;
    if (at < 0) return;
    const { reader, luminance, coloured, colouredY } = this;
    const { X, Y, Z, seen, times } = this.readings;
    const { factorOf } = this.gathering;
    const row = this.table.rows[i]!;
    const kind = luminance ? seenAs(row, luminance) : Seen.Measured;
    if (kind === Seen.None) return;
    reader.read(row);
    if (Number.isNaN(reader.Y) || (!luminance && Number.isNaN(reader.X))) return;
    const factor = factorOf && kind === Seen.Measured ? factorOf(i) : 1;
    Y[at] = Y[at]! + factor * reader.Y;
    times[at] = times[at]! + 1;
    seen[at] = seen[at] === Seen.None ? kind : Math.max(seen[at]!, kind);
    if (Number.isNaN(reader.X + reader.Z)) return;
    X[at] = X[at]! + factor * reader.X;
    Z[at] = Z[at]! + factor * reader.Z;
    coloured[at] = coloured[at]! + 1;
    colouredY[at] = colouredY[at]! + factor * reader.Y;
  }

  finish(i: number): void {
    const { X, Y, Z, times } = this.readings;
    const n = times[i]!;
    Y[i] = n === 0 ? Number.NaN : Y[i]! / n;
    // The colour of the repeats that have one, at the luminance of all.
    const share = this.coloured[i] === n ? 1 / n : Y[i]! / this.colouredY[i]!;
    X[i] = this.coloured[i] === 0 ? Number.NaN : X[i]! * share;
    Z[i] = this.coloured[i] === 0 ? Number.NaN : Z[i]! * share;
  }
}

/** Whether a row does not say which patch it is. A drive is never below or above something: that has a finding of its own. */
function isOpen(row: RowLine, keyColumns: readonly TableColumn[]): boolean {
  for (const column of keyColumns) {
    const kind = kindAt(row, column);
    if (kind === CellKind.Number || kind === CellKind.Word || kind === CellKind.String) continue;
    return true;
  }
  return false;
}
