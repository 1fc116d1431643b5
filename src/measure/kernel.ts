import type { Vec3 } from '../colour/vector';
import type { Run, Session } from '../session/session';
import type { Message } from '../text/message';
import type { Patches } from './readings';
import type { Against, Judged } from './scaling';
import type { MEASURES, MeasuredKind } from './specs';
import type { Value } from './value';

export type Absent = Extract<Value, { ok: false }>;

/** What the figures of one run are computed from. */
export interface Context {
  readonly session: Session;
  readonly run: Run;
  readonly patches: Patches;
  /** The columns whose cells make a row's key in references. */
  readonly keys: readonly string[];
  /** The keys of the patches by column, for runs whose patches are no rows. */
  readonly names?: readonly Readonly<Record<string, string>>[];
  /** Patches, besides those that give the scale, that figures of other rows hang on: the centre of a grid, the first reading. */
  readonly pivots?: readonly number[];
  /** Undefined for runs that are judged against nothing. */
  readonly judged?: Judged;
  /** What figures of chromaticity alone are against. */
  readonly against?: Against;
  /** The same with the black at the meter's floor instead of 0, where black could not be seen. */
  readonly atFloor?: Context;
}

type Specs<K extends MeasuredKind> = (typeof MEASURES)[K];
type IdsOfScope<K extends MeasuredKind, S extends string> = {
  [I in keyof Specs<K> & string]: Specs<K>[I] extends { scope: infer Scope } ? (Scope extends S ? I : never) : never;
}[keyof Specs<K> & string];

/** Row figures by patch, remembered: a figure of the run asks for the rows it is made of. */
export type Rows = (id: string) => Float64Array;

// Methods, so that a kernel for one context can stand in a list of kernels: what it prepared itself is all it is ever given.
type RowFigure<C> = { compute(context: C, rows: Rows): Float64Array }['compute'];
type Vectors<C> = { compute(context: C): (patch: number) => Vec3 }['compute'];
type RunFigure<C> = { compute(context: C, rows: Rows): Value }['compute'];

/**
 * How the measures of one kind of run are computed. A measure of the table without an entry here does not compile.
 * Row figures are NaN where a row has none; figures of the run say why.
 */
export interface Kernel<K extends MeasuredKind, C extends Context> {
  readonly prepare: (session: Session, run: Run) => C | Absent;
  readonly rows: Readonly<Record<IdsOfScope<K, 'row' | 'both'>, RowFigure<C>>>;
  readonly run: Readonly<Record<IdsOfScope<K, 'run' | 'both'>, RunFigure<C>>>;
  /** Row figures that are the luminance as read: of a row below the floor or over the range they are a bound. */
  readonly luminances?: readonly IdsOfScope<K, 'row' | 'both'>[];
  /** Row figures that are distances of readings from each other, as vectors of that length: see `errorVector.ts`. */
  readonly vectors?: Readonly<Partial<Record<IdsOfScope<K, 'row' | 'both'>, Vectors<C>>>>;
  readonly why?: WhyNot<C>;
  readonly says?: Says<C>;
}

/** What a run shows that is better said in words: keys of `SAYINGS` in sayings.ts. */
type Says<C> = { says(context: C): readonly Message[] }['says'];

/** Why a row that was read has no figure, where there is more to say than that its reading does not hold what is needed. */
type WhyNot<C> = { why(context: C, id: string, patch: number, key: string): Absent | undefined }['why'];

/** A kernel of any kind. */
export interface AnyKernel {
  readonly prepare: (session: Session, run: Run) => Context | Absent;
  readonly rows: Readonly<Record<string, RowFigure<Context>>>;
  readonly run: Readonly<Record<string, RunFigure<Context>>>;
  readonly luminances?: readonly string[];
  readonly vectors?: Readonly<Partial<Record<string, Vectors<Context>>>>;
  readonly why?: WhyNot<Context>;
  readonly says?: Says<Context>;
}
