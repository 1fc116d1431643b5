import type { Box } from './layout';
import type { At } from './picture';

/** A line as it is drawn in a frame, cut at the edges: the pieces that lie inside. */
export function clippedLine(points: readonly At[], frame: Box): At[][] {
  const pieces: At[][] = [];
  for (let i = 1; i < points.length; i++) {
    const part = clippedPart(points[i - 1]!, points[i]!, frame);
    if (!part) continue;
    const open = pieces.at(-1);
    const last = open?.at(-1);
    if (last && last[0] === part[0][0] && last[1] === part[0][1]) open!.push(part[1]);
    else pieces.push([...part]);
  }
  return pieces;
}

/** The part of a straight line that lies in a box. Source: Liang and Barsky, 1984. */
function clippedPart(a: At, b: At, { x, y, width, height }: Box): readonly [At, At] | undefined {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  if (!Number.isFinite(dx + dy)) return undefined;
  let [from, to] = [0, 1];
  const edges = [
    [-dx, a[0] - x],
    [dx, x + width - a[0]],
    [-dy, a[1] - y],
    [dy, y + height - a[1]],
  ] as const;
  for (const [p, q] of edges) {
    if (p === 0 && q < 0) return undefined;
    if (p < 0) from = Math.max(from, q / p);
    else if (p > 0) to = Math.min(to, q / p);
  }
  if (from > to) return undefined;
  const at = (t: number): At => (t === 0 ? a : t === 1 ? b : [a[0] + t * dx, a[1] + t * dy]);
  return [at(from), at(to)];
}
