type Numbers = Float64Array | Uint8Array;

/** What was computed lately, with what it was computed from. */
interface Computed<T> {
  readonly what: string;
  readonly from: readonly Numbers[];
  readonly value: T;
}

const lists: Computed<Float64Array>[] = [];
const wholes: Computed<unknown>[] = [];

/** Enough for the runs that one is typing in; each list of a long run holds half a megabyte. */
const KEPT = 6;

/** Below as many rows a comparison is not worth the while. */
const WORTH_IT = 256;

/**
 * One figure a row, taken from a list computed lately where all numbers of the row are the same: typing changes one row of a run, and the
 * figures of all others stand. The result is that of computing every row.
 * @param what names the computation and everything it hangs on besides `from`
 * @param from what a row is computed from, list by list; not changed afterwards, and neither is the result
 */
export function rowByRow(what: string, from: readonly Numbers[], compute: (row: number) => number): Float64Array {
  const count = from[0]!.length;
  const known = count < WORTH_IT ? undefined : lists.find((one) => one.what === what && one.value.length === count);
  const changed = known && changedRows(known.from, from);
  const list = known ? known.value.slice() : new Float64Array(count);
  for (let i = 0; i < count; i++) if (!changed || changed[i] === 1) list[i] = compute(i);
  if (count >= WORTH_IT) keep(lists, { what, from, value: list }, known);
  return list;
}

/**
 * What is computed from whole lists, taken from what was computed lately from the same ones: lists that typing does not touch are the same
 * objects from one version to the next. `what` and `from` as in `rowByRow`.
 */
export function fromSame<T>(what: string, from: readonly Numbers[], compute: () => T): T {
  if (from[0]!.length < WORTH_IT) return compute();
  const known = wholes.find((one) => one.what === what && one.from.every((list, k) => list === from[k]));
  const value = known ? (known.value as T) : compute();
  keep(wholes, { what, from, value }, known);
  return value;
}

function keep<T>(newestFirst: Computed<T>[], computed: Computed<T>, instead: Computed<T> | undefined): void {
  if (instead) newestFirst.splice(newestFirst.indexOf(instead), 1);
  newestFirst.unshift(computed);
  newestFirst.length = Math.min(newestFirst.length, KEPT);
}

/** 1 for each row of which a number is another. */
function changedRows(a: readonly Numbers[], b: readonly Numbers[]): Uint8Array {
  const changed = new Uint8Array(a[0]!.length);
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) markChanged(a[k]!, b[k]!, changed);
  return changed;
}

function markChanged(a: Numbers, b: Numbers, changed: Uint8Array): void {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) changed[i] = 1;
}
