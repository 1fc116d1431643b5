import { uvToXy } from '../colour/chromaticity';
import { codeToSignal, type SignalFormat } from '../colour/quantise';
import { CellKind, cellWord, type RowLine } from '../session/line';
import type { Run, Session } from '../session/session';
import { kindAt, type Table, type TableColumn, valueAt } from '../session/table';
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
  /** The row (of the run's table) a patch begins with, and the one behind its last. */
  readonly first: Int32Array;
  readonly end: Int32Array;
  readonly X: Float64Array;
  readonly Y: Float64Array;
  readonly Z: Float64Array;
  readonly seen: Uint8Array;
  /** 1 for a patch whose key has been read before: it serves the drift only. */
  readonly revisit: Uint8Array;
  /** The first patch of the same key: the patch itself, unless it is a revisit. */
  readonly firstOfKey: Int32Array;
}

/** The range and depth a run was sent with; undefined when the signal does not say both. */
export function signalFormat(session: Session, run: Run): SignalFormat | undefined {
  const range = session.text(run.signal, 'range');
  const depth = session.number(run.signal, 'depth');
  return (range === 'limited' || range === 'full') && depth !== undefined && depth >= 8 && depth <= 16 ? { range, depth } : undefined;
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

const isLight = (x: number, y: number): boolean => x >= 0 && y > 0 && x + y <= 1;

/** Reads the colour of a row as XYZ into `into`; NaN for what is not there, and for numbers that no light has. */
function colourReader(columns: ReadonlyMap<string, TableColumn>): (row: RowLine, into: Float64Array) => void {
  const [Y, x, y, X, Z, u, v] = ['Y', 'x', 'y', 'X', 'Z', "u'", "v'"].map((name) => columns.get(name));
  const fromXy = (cx: number, cy: number, luminance: number, into: Float64Array): void => {
    const light = isLight(cx, cy);
    into[0] = light ? (cx / cy) * luminance : Number.NaN;
    into[2] = light ? ((1 - cx - cy) / cy) * luminance : Number.NaN;
  };
  return (row, into) => {
    const luminance = Y ? valueAt(row, Y) : 1;
    into[1] = luminance >= 0 ? luminance : Number.NaN;
    into[0] = into[2] = Number.NaN;
    if (x && y) fromXy(valueAt(row, x), valueAt(row, y), luminance, into);
    else if (X && Z) {
      const [cx, cz] = [valueAt(row, X), valueAt(row, Z)];
      into[0] = cx >= 0 ? cx : Number.NaN;
      into[2] = cz >= 0 ? cz : Number.NaN;
    } else if (u && v) {
      const [cu, cv] = [valueAt(row, u), valueAt(row, v)];
      if (cv > 0) fromXy(...uvToXy([cu, cv]), luminance, into);
    }
  };
}

const seenAs = (row: RowLine, Y: TableColumn | undefined): Seen => {
  if (!Y) return Seen.Measured;
  const kind = kindAt(row, Y);
  return kind === CellKind.Number ? Seen.Measured : kind === CellKind.Below ? Seen.Below : kind === CellKind.Above ? Seen.Above : Seen.None;
};

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
function sameKey(keys: readonly TableColumn[], a: RowLine, b: RowLine): boolean {
  for (const { cell } of keys) {
    const value = a.values[cell];
    if (value === b.values[cell] && value !== undefined) continue;
    if (cellWord(a, cell) !== cellWord(b, cell)) return false;
  }
  return true;
}

/** A number that rows of one key share, and rows of different keys seldom do. */
function mixedKey(keys: readonly TableColumn[], row: RowLine): number {
  let mixed = 7;
  for (const { cell } of keys) {
    const value = row.values[cell];
    if (value !== undefined && !Number.isNaN(value)) mixed = (mixed * 31 + value * 64) % 0x1fffffffffff;
    else for (const unit of cellWord(row, cell)) mixed = (mixed * 31 + unit.codePointAt(0)!) % 0x1fffffffffff;
  }
  return mixed;
}

/** Gathers the patches of a run. Rows without a readable key, and struck ones, take no part. */
export function readPatches(run: Run, keys: readonly string[], repeatAll: boolean): Patches {
  const { table } = run;
  const { rows } = table;
  const keyColumns = keys.flatMap((name) => table.columns.get(name) ?? []);
  const read = colourReader(table.columns);
  const luminance = table.columns.get('Y');
  const size = rows.length;
  const first = new Int32Array(size);
  const end = new Int32Array(size);
  const [X, Y, Z] = [new Float64Array(size), new Float64Array(size), new Float64Array(size)];
  const times = new Int32Array(size);
  const seen = new Uint8Array(size);
  const revisit = new Uint8Array(size);
  const firstOfKey = new Int32Array(size);
  const known = new Map<number, number>();
  const xyz = new Float64Array(3);
  let count = 0;
  let previous: RowLine | undefined;
  let at = -1;
  for (let i = 0; i < size; i++) {
    const row = rows[i]!;
    if (row.struck || keyColumns.some((column) => isOpen(row, column))) continue;
    if (!previous || !sameKey(keyColumns, previous, row)) {
      // A map by a mixed number, checked against the row itself: joined texts as keys cost more than all the rest.
      let mixed = mixedKey(keyColumns, row);
      while (known.has(mixed) && !sameKey(keyColumns, rows[first[known.get(mixed)!]!]!, row)) mixed++;
      const before = known.get(mixed);
      if (before !== undefined && repeatAll) at = before;
      else {
        at = count++;
        first[at] = i;
        seen[at] = Seen.None;
        firstOfKey[at] = before ?? at;
        if (before === undefined) known.set(mixed, at);
        else revisit[at] = 1;
      }
    }
    end[at] = i + 1;
    previous = row;
    const kind = seenAs(row, luminance);
    if (kind === Seen.None) continue;
    read(row, xyz);
    const n = times[at]!;
    X[at] = (X[at]! * n + xyz[0]!) / (n + 1);
    Y[at] = (Y[at]! * n + xyz[1]!) / (n + 1);
    Z[at] = (Z[at]! * n + xyz[2]!) / (n + 1);
    times[at] = n + 1;
    seen[at] = seen[at] === Seen.None ? kind : Math.max(seen[at]!, kind);
  }
  for (let i = 0; i < count; i++) if (times[i] === 0) X[i] = Y[i] = Z[i] = Number.NaN;
  const cut = <T extends Int32Array | Uint8Array | Float64Array>(list: T): T => list.subarray(0, count) as T;
  return {
    count,
    first: cut(first),
    end: cut(end),
    X: cut(X),
    Y: cut(Y),
    Z: cut(Z),
    seen: cut(seen),
    revisit: cut(revisit),
    firstOfKey: cut(firstOfKey),
  };
}

const isOpen = (row: RowLine, column: TableColumn): boolean => {
  const kind = kindAt(row, column);
  return kind === CellKind.ToTake || kind === CellKind.None || kind === CellKind.Empty;
};
