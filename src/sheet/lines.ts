import { ascending } from '../text/ascending';

/** One version's lines. `kin` is what a line is about however it is written: a row's patch, a property's name. */
export interface Lines {
  readonly lines: readonly { readonly text: string; readonly eol: string }[];
  kin(line: number): string;
}

/**
 * In place of the `remove` lines from `at` on stand `put` others: as many, each the successor of one; or none, or in place of none. `at` counts
 * in the version before; ascending and apart.
 */
export interface Change {
  readonly at: number;
  readonly remove: number;
  readonly put: number;
}

type Pair = readonly [before: number, after: number];

/** A part of the version before, and the one that stands in its place; ends are exclusive. */
interface Gap {
  readonly from: Pair;
  readonly to: Pair;
}

/**
 * How one version became another. A line that was written anew, and is about what it was about, is a change of one line to one: so what
 * hangs on it is found again however much of the file changed with it.
 */
export function changes(before: Lines, after: Lines): readonly Change[] {
  const [old, now] = [before.lines, after.lines];
  const most = Math.min(old.length, now.length);
  let head = 0;
  while (head < most && old[head] === now[head]) head++;
  let tail = 0;
  while (tail < most - head && old[old.length - 1 - tail] === now[now.length - 1 - tail]) tail++;
  const whole: Gap = { from: [head, head], to: [old.length - tail, now.length - tail] };
  const isAlike = (b: number, a: number) => old[b] === now[a] || (old[b]!.text === now[a]!.text && old[b]!.eol === now[a]!.eol);
  const pairs: Pair[] = [];
  const pair = (found: Pair) => pairs.push(found);
  inGaps(whole, alikePairs(before, after, whole, isAlike), (gap) => pairs.push(...kinPairs(before, after, gap)), pair);

  const found: Change[] = [];
  inGaps(
    whole,
    pairs,
    ({ from, to }) => {
      if (to[0] > from[0]) found.push({ at: from[0], remove: to[0] - from[0], put: 0 });
      if (to[1] > from[1]) found.push({ at: to[0], remove: 0, put: to[1] - from[1] });
    },
    ([b, a]) => {
      // One of the same text that was yet read anew may mean something else now.
      if (old[b] === now[a]) return;
      const last = found.at(-1);
      if (last && last.remove === last.put && last.at + last.remove === b)
        found.splice(-1, 1, { ...last, remove: last.remove + 1, put: last.put + 1 });
      else found.push({ at: b, remove: 1, put: 1 });
    },
  );
  return found;
}

/** Goes through a gap from pair to pair, with what lies between them. */
function inGaps({ from, to }: Gap, pairs: readonly Pair[], gap: (gap: Gap) => void, pair: (pair: Pair) => void): void {
  let at = from;
  for (const next of pairs) {
    gap({ from: at, to: next });
    pair(next);
    at = [next[0] + 1, next[1] + 1];
  }
  gap({ from: at, to });
}

/** Lines of the same text: those that stand once in each version, and those that touch these or the ends. */
function alikePairs(before: Lines, after: Lines, whole: Gap, isAlike: (b: number, a: number) => boolean): Pair[] {
  const pairs: Pair[] = [];
  let [from, to] = whole.from;
  const until = ([nextB, nextA]: Pair) => {
    while (from < nextB && to < nextA && isAlike(from, to)) pairs.push([from++, to++]);
    let same = 0;
    while (nextB - same > from && nextA - same > to && isAlike(nextB - same - 1, nextA - same - 1)) same++;
    for (let i = same; i > 0; i--) pairs.push([nextB - i, nextA - i]);
  };
  for (const pair of oncePairs(before, after, whole)) {
    until(pair);
    pairs.push(pair);
    [from, to] = [pair[0] + 1, pair[1] + 1];
  }
  until(whole.to);
  return pairs;
}

/** Lines whose text stands once in each version, as many as go in one order (patience). */
function oncePairs(before: Lines, after: Lines, { from, to }: Gap): Pair[] {
  const once = ({ lines }: Lines, start: number, end: number) => {
    const places = new Map<string, number>();
    for (let i = start; i < end; i++) {
      const key = lines[i]!.text + lines[i]!.eol;
      places.set(key, places.has(key) ? -1 : i);
    }
    return places;
  };
  const there = once(after, from[1], to[1]);
  const pairs: Pair[] = [];
  for (const [text, b] of once(before, from[0], to[0])) {
    const a = there.get(text) ?? -1;
    if (b >= 0 && a >= 0) pairs.push([b, a]);
  }
  return longestRising(pairs.sort(([b], [other]) => b - other));
}

function longestRising(pairs: readonly Pair[]): Pair[] {
  const ends: number[] = [];
  const previous: number[] = [];
  pairs.forEach(([, a], n) => {
    const low = ascending(ends.length, (i) => pairs[ends[i]!]![1] < a);
    previous[n] = low > 0 ? ends[low - 1]! : -1;
    ends[low] = n;
  });
  const row: Pair[] = [];
  for (let n = ends.at(-1) ?? -1; n >= 0; n = previous[n]!) row.push(pairs[n]!);
  return row.reverse();
}

/** More lines than this are not compared each with each. */
const MOST_COMPARED = 400;

/** Lines about the same thing, as many as go in one order, the first of each; and one line that stands in place of one between them. */
function kinPairs(before: Lines, after: Lines, { from, to }: Gap): Pair[] {
  const [n, m] = [to[0] - from[0], to[1] - from[1]];
  const pairs = n === 0 || m === 0 || n * m > MOST_COMPARED ** 2 ? [] : longestCommon(before, after, { from, to });
  const all: Pair[] = [];
  inGaps(
    { from, to },
    pairs,
    (gap) => {
      const [b, a] = gap.from;
      const count = gap.to[0] - b;
      if (count !== gap.to[1] - a) return;
      for (let i = 0; i < count; i++) if (count === 1 || before.kin(b + i) === after.kin(a + i)) all.push([b + i, a + i]);
    },
    (pair) => all.push(pair),
  );
  return all;
}

function longestCommon(before: Lines, after: Lines, { from, to }: Gap): Pair[] {
  const [n, m] = [to[0] - from[0], to[1] - from[1]];
  const old = Array.from({ length: n }, (_, i) => before.kin(from[0] + i));
  const now = Array.from({ length: m }, (_, j) => after.kin(from[1] + j));
  /** The longest from a place on, row by row. */
  const best = new Uint16Array((n + 1) * (m + 1));
  const of = (i: number, j: number) => best[i * (m + 1) + j]!;
  for (let i = n - 1; i >= 0; i--) {
    for (let j = m - 1; j >= 0; j--) {
      best[i * (m + 1) + j] = old[i] === now[j] ? of(i + 1, j + 1) + 1 : Math.max(of(i + 1, j), of(i, j + 1));
    }
  }
  const pairs: Pair[] = [];
  for (let i = 0, j = 0; i < n && j < m; ) {
    if (old[i] === now[j]) pairs.push([from[0] + i++, from[1] + j++]);
    else if (of(i + 1, j) >= of(i, j + 1)) i++;
    else j++;
  }
  return pairs;
}

/** Where a line of the version before stands after the changes; undefined for one without a successor. */
export function moved(line: number, made: readonly Change[]): { readonly line: number; readonly changed: boolean } | undefined {
  let shift = 0;
  for (const { at, remove, put } of made) {
    if (line < at) break;
    if (line < at + remove) return remove === put ? { line: line + shift, changed: true } : undefined;
    shift += put - remove;
  }
  return { line: line + shift, changed: false };
}
