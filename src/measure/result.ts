import type { Vec3 } from '../colour/vector';
import type { Run, Session } from '../session/session';
import type { TableColumn } from '../session/table';
import { UNITS } from '../session/valueTypes';
import { type Arg, anyOf, fill, phrase, type Say } from '../text/message';
import { angles } from './angles';
import { patches, saturation } from './coloured';
import { correctionOf } from './correcting';
import { correction } from './correction';
import { endurance } from './endurance';
import { gamut } from './gamut';
import { greyscale } from './greyscale';
import type { Absent, AnyKernel, Context, Rows } from './kernel';
import { contrast, window } from './luminances';
import { type Move, withReadings } from './moved';
import { keyOf, Seen } from './readings';
import { driftOf } from './readPatches';
import { reflectance } from './reflectance';
import { lag, power, repeats } from './samples';
import { saidText } from './sayings';
import { type Against, boundOf, describeAgainst } from './scaling';
import { isMeasured, MEASURES, type MeasuredKind, type MeasureSpec, measureSpec } from './specs';
import { spectrum } from './spectrum';
import { tracking } from './tracking';
import { uniformity } from './uniformity';
import { between, figure, type Value, without } from './value';
import { volume } from './volume';

const KERNELS: Readonly<Record<MeasuredKind, AnyKernel>> = {
  greyscale,
  saturation,
  patches,
  gamut,
  window,
  contrast,
  tracking,
  uniformity,
  endurance,
  angles,
  volume,
  spectrum,
  lag,
  power,
  repeats,
  reflectance,
  correction,
};

/**
 * The figures of one run: each computed when it is first asked for, and remembered. What it was computed from never changes, as a changed
 * session has new runs.
 */
export class RunResult {
  readonly context: Context | undefined;
  /** Why the whole run has no figures. */
  readonly absent: Absent | undefined;
  private readonly kernel: AnyKernel | undefined;
  private readonly lists = new Map<Context, Map<string, Float64Array>>();
  private readonly values = new Map<string, Value>();
  private readonly indexes = new Map<string, ReadonlyMap<string, number>>();

  constructor(
    readonly session: Session,
    readonly run: Run,
  ) {
    this.kernel = isMeasured(run.kind) ? KERNELS[run.kind] : undefined;
    const prepared = this.kernel ? (tableGap(run) ?? this.kernel.prepare(session, run)) : without('later');
    if ('ok' in prepared) this.absent = prepared;
    else this.context = prepared;
  }

  get against(): Against {
    const { context } = this;
    const against = context?.judged?.against ?? context?.against ?? {};
    const correction = context?.patches.raw && correctionOf(this.session, this.run);
    return correction ? { ...against, corrected: phrase('readings corrected by {id}', { id: correction.id }) } : against;
  }

  againstText(say: Say = fill): string {
    return describeAgainst(this.against, say);
  }

  /** How the readings were treated, and what the run shows beside its figures, in sentences. */
  says(say: Say = fill): readonly string[] {
    const { context, session, run } = this;
    if (!context) return [];
    const correction = correctionOf(session, run);
    return [
      ...(correction && context.patches.raw ? [{ code: 'corrected', args: { id: correction.id } }] : []),
      ...(context.patches.raw && driftOf(session, run)?.factorOf ? [{ code: 'drift-corrected', args: {} }] : []),
      ...(this.kernel?.says?.(context) ?? []),
    ].map((message) => saidText(message, say));
  }

  /** The measures that this kind of run has, by id, in the order of the table. */
  get specs(): Readonly<Record<string, MeasureSpec>> {
    return isMeasured(this.run.kind) ? MEASURES[this.run.kind] : {};
  }

  /** Row figures by patch; NaN where there is none. Undefined for an id that is no row figure of this run. */
  rows(id: string): Float64Array | undefined {
    return this.context && this.kernel && Object.hasOwn(this.kernel.rows, id) ? this.rowsIn(this.context, id) : undefined;
  }

  /** What it is computed from; twice where the black could not be seen, for a black of 0 and of the meter's floor. */
  get contexts(): readonly Context[] {
    const { context } = this;
    return context ? (context.atFloor ? [context, context.atFloor] : [context]) : [];
  }

  /** The row figures in one of the contexts, as `rows`. */
  rowsIn(context: Context, id: string): Float64Array {
    let lists = this.lists.get(context);
    if (!lists) {
      lists = new Map();
      this.lists.set(context, lists);
    }
    let list = lists.get(id);
    if (!list) {
      list = this.kernel!.rows[id]!(context, (other) => this.rowsIn(context, other));
      lists.set(id, list);
    }
    return list;
  }

  /** A figure of the run in one of the contexts, made of row figures that may be others than its own. */
  valueIn(context: Context, id: string, rows: Rows = (other) => this.rowsIn(context, other)): Value {
    return this.kernel!.run[id]!(context, rows);
  }

  /** The same run with other readings. */
  moved(move: Move): RunResult {
    return new RunResult(withReadings(this.session, move), this.run);
  }

  /** The error vectors of a row figure that is a distance of readings from each other; undefined for any other. */
  vectorsIn(context: Context, id: string): ((patch: number) => Vec3) | undefined {
    const vectors = this.kernel?.vectors;
    return vectors && Object.hasOwn(vectors, id) ? vectors[id]!(context) : undefined;
  }

  /** A figure of the run, or of the row of a key. */
  value(id: string, key: readonly string[] = []): Value {
    const name = key.length === 0 ? id : [id, ...key].join(BETWEEN_PARTS);
    let value = this.values.get(name);
    if (!value) {
      value = sound(this.compute(id, key));
      this.values.set(name, value);
    }
    return value;
  }

  private compute(id: string, key: readonly string[]): Value {
    const spec = measureSpec(this.run.kind, id);
    if (!this.context || !this.kernel) return this.absent ?? without('later');
    if (!spec) return without('no-measure', { kind: this.run.kind, id });
    if (key.length === 0) {
      if (spec.scope === 'row') return without('key-needed', { id });
      const [value, other] = this.contexts.map((context) => this.valueIn(context, id));
      return other ? between(value!, other) : value!;
    }
    if (spec.scope === 'run') return without('key-surplus');
    return this.rowValue(id, key, spec);
  }

  private rowValue(id: string, key: readonly string[], spec: MeasureSpec): Value {
    const context = this.context!;
    const keys = spec.by?.split(',') ?? context.keys;
    const patch = this.patchOf(keys, key);
    if (patch === undefined) return without('no-row', { key: key.join(','), neighbours: this.neighbours(keys, key) });
    const { patches } = context;
    const bound = this.kernel!.luminances?.includes(id) ? boundOf(patches.seen[patch]!) : undefined;
    if (bound) return { ok: true, v: patches.Y[patch]!, bound };
    const v = this.rowsIn(context, id)[patch]!;
    if (!Number.isFinite(v)) return this.whyNot(id, patch, key.join(','));
    const value = figure(v);
    if (!context.atFloor) return value;
    const other = this.rowsIn(context.atFloor, id)[patch]!;
    return Number.isFinite(other) ? between(value, figure(other)) : value;
  }

  private whyNot(id: string, patch: number, key: string): Absent {
    const context = this.context!;
    const { patches, keys } = context;
    if (!context.names && patches.seen[patch] === Seen.None) return without('row-open', { key });
    const told = this.kernel!.why?.(context, id, patch, key);
    if (told) return told;
    if (patches.seen[patch] !== Seen.Measured) return without('row-unseen', { key });
    return without(Number.isNaN(patches.X[patch]!) && keys.length > 0 ? 'row-colour' : 'row-open', { key });
  }

  /**
   * The patch that a key of a reference means: numbers by value in the unit in which the row is typed, words by their letters. Of several
   * rows of one key the first.
   */
  patchOf(keys: readonly string[], key: readonly string[]): number | undefined {
    const index = this.indexOf(keys);
    const inUnits = () => key.map((part, k) => inUnitOf(this.run.table.columns.get(keys[k] ?? ''), part));
    return (
      index.get(key.join(BETWEEN_PARTS)) ?? index.get(key.map(plainPart).join(BETWEEN_PARTS)) ?? index.get(inUnits().join(BETWEEN_PARTS))
    );
  }

  /** The patch that a key means for a measure: one and the same for 600, 600s and 10min. */
  rowOf(id: string, key: readonly string[]): number | undefined {
    const spec = this.specs[id];
    return spec && this.context && this.patchOf(spec.by?.split(',') ?? this.context.keys, key);
  }

  private indexOf(keys: readonly string[]): ReadonlyMap<string, number> {
    const name = keys.join();
    const known = this.indexes.get(name);
    if (known) return known;
    const index = new Map<string, number>();
    const { patches } = this.context!;
    for (let i = 0; i < patches.count; i++) {
      const key = this.keyOf(i, keys).join(BETWEEN_PARTS);
      if (!index.has(key)) index.set(key, i);
    }
    this.indexes.set(name, index);
    return index;
  }

  /** The key of a patch, part by part, as a reference writes it. */
  keyOf(patch: number, keys: readonly string[] = this.context!.keys): readonly string[] {
    const { patches, run, names } = this.context!;
    if (names) return keys.map((name) => names[patch]![name] ?? '');
    return keyOf(run.table, keys, run.table.rows[patches.first[patch]!]!).map(String);
  }

  /** Which rows there are near a missing one, in words. */
  private neighbours(keys: readonly string[], key: readonly string[]): Arg {
    const all = [...new Set(Array.from(this.context!.patches.first, (_, i) => this.keyOf(i, keys).join(',')))];
    const wanted = Number(key[0]);
    const near = Number.isNaN(wanted) ? all.filter((k) => k.startsWith(`${key[0]},`)) : [];
    const firstOf = (k: string) => Number(k.split(',')[0]);
    const shown = Number.isNaN(wanted)
      ? near.length > 0
        ? near
        : all
      : all
          .filter((k) => !Number.isNaN(firstOf(k)))
          .sort((a, b) => Math.abs(firstOf(a) - wanted) - Math.abs(firstOf(b) - wanted))
          .slice(0, 2)
          .sort((a, b) => firstOf(a) - firstOf(b))
          .map(plainPart);
    return shown.length > 0 ? phrase(' (there is {rows})', { rows: shown.slice(0, 6).join('; ') + (shown.length > 6 ? ' …' : '') }) : '';
  }
}

/** Readings of hardly any light, or beyond all, can make a figure too large for a number: then there is none. */
function sound(value: Value): Value {
  if (!value.ok) return value;
  const { v, ends = [v, v] } = value;
  return Number.isFinite(v) && ends.every(Number.isFinite) ? value : without('no-rows');
}

/** What the table of a run lacks for anything to be computed from it. */
function tableGap({ block, table }: Run): Absent | undefined {
  if (!block.columns) return without('no-table');
  const lacking = block.spec!.table!.needs.find((any) => !any.some((name) => table.columns.has(name)));
  return lacking && without('no-columns', { columns: anyOf(lacking) });
}

/** Stands in no key: cells end at blanks and lines. */
const BETWEEN_PARTS = '\n';

/** A part of a key that says its unit, such as 10min, in the unit of its column. */
function inUnitOf(column: TableColumn | undefined, part: string): string {
  const written = /^([-+]?(?:\d+(?:\.\d+)?|\.\d+))([^\d.]+)$/.exec(part);
  if (column?.spec.holds !== 'quantity' || !written) return part;
  const units = UNITS[column.spec.dimension];
  const unit = written[2]!;
  if (!Object.hasOwn(units, unit)) return part;
  const base = (Number(written[1]) * units[unit]!) / units[column.spec.unit]!;
  return String(Number((base / column.factor).toPrecision(12)));
}

/** A number of a key as its value is written here: 30.0 and 30 are one row. */
export const plainPart = (part: string): string => (part === '' || Number.isNaN(Number(part)) ? part : String(Number(part)));
