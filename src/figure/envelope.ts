/** More rows than this are not told apart in a picture a few hundred pixels wide. */
export const MOST_POINTS = 2000;

const PARTS = 500;

/**
 * Of very many rows in the order of a line, those that its picture is made of: the lowest and the highest of each of 500 parts, in their
 * order. All of them up to 2,000. The row where something worst was read is always among them.
 */
export function enveloped<T>(rows: readonly T[], yOf: (row: T) => number): readonly T[] {
  if (rows.length <= MOST_POINTS) return rows;
  const kept: T[] = [];
  for (let part = 0; part < PARTS; part++) {
    const from = Math.floor((part * rows.length) / PARTS);
    const to = Math.floor(((part + 1) * rows.length) / PARTS);
    let [low, high] = [from, from];
    for (let i = from; i < to; i++) {
      if (yOf(rows[i]!) < yOf(rows[low]!)) low = i;
      if (yOf(rows[i]!) > yOf(rows[high]!)) high = i;
    }
    for (const i of low === high ? [low] : low < high ? [low, high] : [high, low]) kept.push(rows[i]!);
  }
  return kept;
}
