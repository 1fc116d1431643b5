type Numbers = ArrayLike<number>;

/** Lists computed lately, newest first, each with the numbers that it was computed from. */
const lately: { readonly what: string; readonly from: readonly Numbers[]; readonly list: Float64Array }[] = [];

/** Enough for the runs that one is typing in; each list of a long run holds half a megabyte. */
const KEPT = 6;

/** Below as many rows a comparison is not worth the while. */
const WORTH_IT = 256;

/**
 * One figure a row, taken from a list computed lately where all numbers of the row are the same: typing changes one row of a run, and the
 * figures of all others stand. The result is that of computing every row.
 * @param what names the computation and everything it hangs on besides `from`
 * @param from what a row is computed from, list by list; not changed afterwards
 */
export function rowByRow(what: string, from: readonly Numbers[], compute: (row: number) => number): Float64Array {
  const count = from[0]!.length;
  const list = new Float64Array(count);
  const known = count < WORTH_IT ? undefined : lately.find((one) => one.what === what && one.list.length === count);
  for (let i = 0; i < count; i++) list[i] = known && isSame(known.from, from, i) ? known.list[i]! : compute(i);
  if (count >= WORTH_IT) {
    if (known) lately.splice(lately.indexOf(known), 1);
    lately.unshift({ what, from, list });
    lately.length = Math.min(lately.length, KEPT);
  }
  return list;
}

function isSame(a: readonly Numbers[], b: readonly Numbers[], i: number): boolean {
  for (let k = 0; k < a.length; k++) if (a[k]![i] !== b[k]![i]) return false;
  return true;
}
