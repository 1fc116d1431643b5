import type { Box } from './layout';

/** What a label may hide, px², before it takes the next of its places, which is less near to what it names. */
const FARTHER = 3;

/** Of a line with more points those are left out that lie nearer to the one before than so many px. */
const DENSE = 150;
const NEAR = 3;

/** Labels that keep clear of each other and of the marks: each takes the first of its places that is free, else the one that hides least. */
export class Placing {
  private readonly texts: Box[] = [];
  private readonly marks: Box[] = [];

  /** @param best where labels had better be; @param most where they must be */
  constructor(
    private readonly best: Box,
    private readonly most: Box,
  ) {}

  /** Something that labels had better not lie on. */
  keepClear(box: Box): void {
    this.marks.push(box);
  }

  /** A text that stands already. */
  occupy(box: Box): void {
    this.texts.push(box);
  }

  /** A line to keep clear of: boxes along it. */
  keepLineClear(points: readonly (readonly [number, number])[]): void {
    let a = points[0]!;
    for (let i = 1; i < points.length; i++) {
      const b = points[i]!;
      // Of a dense line not every piece has to be known.
      if (points.length > DENSE && i < points.length - 1 && Math.hypot(b[0] - a[0], b[1] - a[1]) < NEAR) continue;
      const steps = Math.min(200, Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / 6)));
      for (let k = 0; k <= steps; k++) {
        const [x, y] = [a[0] + ((b[0] - a[0]) * k) / steps, a[1] + ((b[1] - a[1]) * k) / steps];
        this.marks.push({ x: x - 1, y: y - 1, width: 2, height: 2 });
      }
      a = b;
    }
  }

  /** The place taken, of lists with the nearest places first; undefined where every place would lie on another label. */
  take(...lists: readonly (readonly Box[])[]): Box | undefined {
    let best: Box | undefined;
    let least = Number.POSITIVE_INFINITY;
    for (const [order, place] of lists.flatMap((places) => [...places.entries()])) {
      const area = place.width * place.height;
      if (overlap(this.most, place) < area - 1e-6 || this.texts.some((text) => overlap(text, place) > 0)) continue;
      const outside = area - overlap(this.best, place);
      const hidden = this.marks.reduce((sum, mark) => sum + overlap(mark, place), 0);
      const cost = 0.5 * outside + hidden + FARTHER * order;
      if (cost < least) {
        best = place;
        least = cost;
      }
    }
    if (best) this.texts.push(best);
    return best;
  }
}

const overlap = (a: Box, b: Box): number =>
  Math.max(0, Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x)) *
  Math.max(0, Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y));

/**
 * Heights for labels of one column, each as near to its own as the others let it: those that touch are moved apart together.
 * In the order given.
 */
export function spreadOut(wanted: readonly number[], step: number, low: number, high: number): number[] {
  const groups = wanted
    .map((at, i) => ({ at, members: [i] }))
    .sort((p, q) => p.at - q.at)
    .reduce<{ at: number; members: number[] }[]>((list, one) => {
      let group = one;
      for (
        let before = list.at(-1);
        before && group.at - before.at < ((group.members.length + before.members.length) * step) / 2;
        before = list.at(-1)
      ) {
        list.pop();
        const n = before.members.length + group.members.length;
        group = {
          at: (before.at * before.members.length + group.at * group.members.length) / n,
          members: [...before.members, ...group.members],
        };
      }
      list.push(group);
      return list;
    }, []);
  const found = new Array<number>(wanted.length);
  for (const { at, members } of groups) {
    const half = ((members.length - 1) * step) / 2;
    const middle = Math.max(low + half, Math.min(high - half, at));
    members.forEach((member, k) => {
      found[member] = middle - half + k * step;
    });
  }
  return found;
}
