import { readFileSync } from 'node:fs';
import Color from 'colorjs.io';
import { d65, type Pair, rgbToXyz, type Triple, times, uvOf, xyOf, xyzOf } from '../display/light';

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

/**
 * Share of the triangle `reference` inside the triangle `points`, and the ratio of their areas, by 40,000 scan lines: the length that both
 * have in common on each.
 */
export function coverage(points: readonly Pair[], reference: readonly Pair[], plane: 'xy' | 'uv') {
  const flat = (list: readonly Pair[]) => (plane === 'xy' ? list : list.map(uvOf));
  const [display, aim] = [flat(points), flat(reference)];
  const lines = 40_000;
  const [low, high] = [Math.min(...[...display, ...aim].map(([, y]) => y)), Math.max(...[...display, ...aim].map(([, y]) => y))];
  const sums = { display: 0, aim: 0, both: 0 };
  for (let i = 0; i < lines; i++) {
    const y = low + ((i + 0.5) / lines) * (high - low);
    const [own, other] = [spanAt(display, y), spanAt(aim, y)];
    sums.display += own[1] - own[0];
    sums.aim += other[1] - other[0];
    sums.both += Math.max(0, Math.min(own[1], other[1]) - Math.max(own[0], other[0]));
  }
  return { share: sums.both / sums.aim, ratio: sums.display / sums.aim };
}

/** From where to where a triangle reaches on one scan line. */
function spanAt(corners: readonly Pair[], y: number): Pair {
  const hits = corners.flatMap(([x1, y1], i) => {
    const [x2, y2] = corners[(i + 1) % corners.length]!;
    return y1 <= y !== y2 <= y ? [x1 + ((y - y1) / (y2 - y1)) * (x2 - x1)] : [];
  });
  return hits.length < 2 ? [0, 0] : [Math.min(...hits), Math.max(...hits)];
}

/** The observer every 5 nm, from another transcription than that of the colour room. */
export const OBSERVER_5NM: readonly (readonly [nm: number, eye: Triple])[] = readFileSync(
  new URL('../published/data/observer_5nm.csv', import.meta.url),
  'utf8',
)
  .split('\n')
  .filter((line) => /^\d/.test(line))
  .map((line) => {
    const [nm, x, y, z] = line.split(',').map(Number);
    return [nm!, [x!, y!, z!]];
  });

/** XYZ of a spectrum by 683 · 5 nm · the sum over its samples. */
export const sumBy5nm = (power: (nm: number) => number): Triple =>
  OBSERVER_5NM.reduce<Triple>(
    ([X, Y, Z], [nm, [x, y, z]]) => {
      const w = 683 * 5 * power(nm);
      return [X + w * x, Y + w * y, Z + w * z];
    },
    [0, 0, 0],
  );

/** XYZ of Lab by a white (CIE 15). */
export function fromLab([L, a, b]: Triple, white: Triple): Triple {
  const g = (t: number) => (t ** 3 > 216 / 24389 ? t ** 3 : (27 * (116 * t - 16)) / 24389);
  const fy = (L + 16) / 116;
  return [white[0] * g(fy + a / 500), white[1] * g(fy), white[2] * g(fy - b / 200)];
}

/** In steps of ΔE ITP (ITU-R BT.2124), by colorjs.io. */
const itp = (xyz: Triple): Triple => {
  const [I, ct, cp] = new Color('xyz-abs-d65', [...xyz]).to('ictcp').coords as [number, number, number];
  return [720 * I, 360 * ct, 720 * cp];
};

/**
 * Volume of all that a display of these primaries shows, power 2.4 and a white of D65 at `Lw` cd/m²: the sum of the tetrahedra that a grid
 * of 16 steps cuts its cube into, inside as well as at the surface.
 */
export function volumeOf(primaries: readonly [Pair, Pair, Pair], Lw: number, space: 'lab' | 'ictcp'): number {
  const steps = 16;
  const toXyz = rgbToXyz(primaries);
  const light = (level: number) => Lw * (level / steps) ** 2.4;
  const side = Array.from({ length: steps + 1 }, (_, i) => i);
  const points = side.map((r) =>
    side.map((g) =>
      side.map((b) => {
        const xyz = times(toXyz, [light(r), light(g), light(b)]);
        return space === 'lab' ? lab(xyz, xyzOf(d65, Lw)) : itp(xyz);
      }),
    ),
  );
  const orders = [
    [0, 1, 2],
    [0, 2, 1],
    [1, 0, 2],
    [1, 2, 0],
    [2, 0, 1],
    [2, 1, 0],
  ];
  let sum = 0;
  for (let r = 0; r < steps; r++)
    for (let g = 0; g < steps; g++)
      for (let b = 0; b < steps; b++)
        for (const order of orders) {
          // From the darkest corner of a cell to its brightest, one channel after the other (Kuhn 1960).
          const at = [r, g, b];
          const corners = [points[r]![g]![b]!];
          for (const axis of order) {
            at[axis]!++;
            corners.push(points[at[0]!]![at[1]!]![at[2]!]!);
          }
          const [p, q, s] = corners.slice(1).map((c) => c.map((n, i) => n - corners[0]![i]!)) as [number[], number[], number[]];
          const det =
            p[0]! * (q[1]! * s[2]! - q[2]! * s[1]!) - p[1]! * (q[0]! * s[2]! - q[2]! * s[0]!) + p[2]! * (q[0]! * s[1]! - q[1]! * s[0]!);
          sum += Math.abs(det) / 6;
        }
  return sum;
}
