import Color from 'colorjs.io';
import { type Pair, type Triple, uvOf, xyOf } from '../display/light';

/**
 * Colour differences computed a second time: by colorjs.io where it has them, else from the definitions (CIE 15). `reading` and `target` in
 * the unit of `white`, the reference white of Lab and Luv.
 */
export function deltas(reading: Triple, target: Triple, white: Triple) {
  const [L1, a1, b1] = lab(target, white);
  const [L2, a2, b2] = lab(reading, white);
  const [C1, C2] = [Math.hypot(a1, b1), Math.hypot(a2, b2)];
  const angle = ((((Math.atan2(b2, a2) - Math.atan2(b1, a1)) * 180) / Math.PI + 540) % 360) - 180;
  const H = 2 * Math.sqrt(C1 * C2) * Math.sin((angle * Math.PI) / 360);
  const C = C2 - C1;
  const L = L2 - L1;
  const uv = Math.hypot(...([0, 1] as const).map((i) => uvOf(xyOf(reading))[i] - uvOf(xyOf(target))[i]));
  const absolute = (xyz: Triple) => new Color('xyz-abs-d65', [...xyz]);
  return {
    de2000: new Color('lab', [L1, a1, b1]).deltaE(new Color('lab', [L2, a2, b2]), '2000'),
    ab: Math.hypot(L, a2 - a1, b2 - b1),
    de94: Math.hypot(L, C / (1 + 0.045 * C1), H / (1 + 0.015 * C1)),
    luv: Math.hypot(...([0, 1, 2] as const).map((i) => luv(reading, white)[i] - luv(target, white)[i])),
    itp: absolute(target).deltaE(absolute(reading), 'ITP'),
    uv,
    uvstar: 13 * L2 * uv,
    L,
    C,
    H,
    angle,
  };
}

const f = (t: number): number => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);

function lab(xyz: Triple, white: Triple): Triple {
  const [x, y, z] = [f(xyz[0] / white[0]), f(xyz[1] / white[1]), f(xyz[2] / white[2])];
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

function luv(xyz: Triple, white: Triple): Triple {
  const L = 116 * f(xyz[1] / white[1]) - 16;
  const [u, v] = uvOf(xyOf(xyz));
  const [un, vn] = uvOf(xyOf(white));
  return [L, 13 * L * (u - un), 13 * L * (v - vn)];
}

/** Share of the triangle `reference` inside the triangle `points`, and the ratio of their areas. */
export function coverage(points: readonly Pair[], reference: readonly Pair[], plane: 'xy' | 'uv') {
  const flat = (list: readonly Pair[]) => (plane === 'xy' ? list : list.map(uvOf)) as [Pair, Pair, Pair];
  return {
    share: areaOf(cut(flat(reference), flat(points))) / areaOf(flat(reference)),
    ratio: areaOf(flat(points)) / areaOf(flat(reference)),
  };
}

const side = (a: Pair, b: Pair, p: Pair): number => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
const areaOf = (polygon: readonly Pair[]): number =>
  Math.abs(
    polygon.reduce((sum, [x, y], i) => sum + x * polygon[(i + 1) % polygon.length]![1] - y * polygon[(i + 1) % polygon.length]![0], 0),
  ) / 2;

/** What of a polygon lies inside a triangle (Sutherland and Hodgman 1974). */
function cut(polygon: readonly Pair[], triangle: readonly Pair[]): readonly Pair[] {
  const turn = Math.sign(side(triangle[0]!, triangle[1]!, triangle[2]!));
  return triangle.reduce<readonly Pair[]>((kept, a, i) => {
    const b = triangle[(i + 1) % 3]!;
    return kept.flatMap((p, k) => {
      const q = kept[(k + 1) % kept.length]!;
      const [sp, sq] = [turn * side(a, b, p), turn * side(a, b, q)];
      const t = sp / (sp - sq);
      const crossing: Pair = [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
      return [...(sp >= 0 ? [p] : []), ...(sp * sq < 0 ? [crossing] : [])];
    });
  }, polygon);
}
