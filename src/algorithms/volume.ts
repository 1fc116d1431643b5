import { xyzToIctcp } from '../colour/ictcp';
import { xyzToLab } from '../colour/lab';
import type { Vec3 } from '../colour/vector';
import { computed, type Result, refused, unequal } from './result';

/** The space a volume is taken in: it has no meaning without one. */
export type VolumeSpace = 'lab' | 'ictcp';

export interface ColourVolume {
  /** Of the display and of the reference: cubic ΔE*ab in CIELAB, cubic ΔE ITP in IC_TC_P. */
  readonly display: number;
  readonly reference: number;
  /** The share of the reference that the display holds, 0 … 1: intersection ÷ reference. */
  readonly covered: number;
  /** Display ÷ reference: how large, not how much of the reference; may exceed 1. */
  readonly ratio: number;
}

export interface VolumeReadings {
  /** Drive of R, G, B, 0 … 1, one member a patch. */
  readonly drives: readonly Vec3[];
  /** XYZ, cd/m². */
  readonly xyz: readonly Vec3[];
  /** XYZ, cd/m², that the target gives a drive. */
  readonly target: (drive: Vec3) => Vec3;
  /** XYZ, cd/m², of the reference white of Lab; IC_TC_P is absolute and takes no heed of it. */
  readonly white: Vec3;
}

/** Columns across either side of the reference: twice as many move the share by less than 2e-4. */
const COLUMNS = 80;

/**
 * Colour volume of a display against that of its target, from patches on the surface of the drive cube: every combination of the same
 * levels of R, G and B in which at least one channel is at the lowest level (0) or at the highest. Patches inside are not needed.
 *
 * Method: the six faces of the cube, carried to the space in question and cut into triangles (two a cell, along the diagonal from the
 * lower to the higher drive), enclose the solid; its volume is the sum of signed tetrahedra. This is the usual gamut solid of the trade
 * (ICDM IDMS, colour volume; section not verified). The reference is made of the target's colours at the same drives, in the same
 * triangles, so that the flatness of triangles does nearly the same to both, and a display without error has 1 exactly. The
 * intersection is summed over columns along the lightness axis, each the exact length that both solids share. Against 33 levels, the
 * share covered lies within 0.015 for three levels and 0.01 for five (simulated panels: white emitter, lifted black, another exponent).
 *
 * Refused for fewer than three levels (corners alone leave nothing of the bulges), for levels that differ between the channels or do
 * not begin at 0, for a hole (a patch without a finite reading is one), and for solids without volume. Of a patch read twice the first
 * counts.
 */
export function colourVolume(readings: VolumeReadings, space: VolumeSpace): Result<ColourVolume> {
  const wrong = unequal(readings.drives, readings.xyz);
  if (wrong) return wrong;
  const cube = cubeOf(readings);
  if (!cube.ok) return cube;
  const carried = (xyz: Vec3): Vec3 => (space === 'lab' ? xyzToLab(xyz, readings.white) : ictcpInDeltas(xyz));
  const display = solidOf(cube.v, (at) => carried(readings.xyz[at]!));
  const reference = solidOf(cube.v, (at) => carried(readings.target(readings.drives[at]!)));
  const [own, whole] = [solidVolume(display), solidVolume(reference)];
  if (!(own > 0 && whole > 0 && Number.isFinite(own) && Number.isFinite(whole))) return refused('volume-flat');
  return computed({ display: own, reference: whole, covered: sharedBy(display, reference), ratio: own / whole });
}

/** IC_TC_P in steps of ΔE ITP: 720·(I, T, P) with T = C_T/2. Source: ITU-R BT.2124. */
function ictcpInDeltas(xyz: Vec3): Vec3 {
  const [I, T, P] = xyzToIctcp(xyz);
  return [720 * I, 360 * T, 720 * P];
}

/** Where the patches of the surface of the drive cube stand in the list: by level of R, G and B. */
interface Cube {
  readonly side: number;
  readonly at: ReadonlyMap<number, number>;
}

const key = (side: number, levels: readonly number[]): number => (levels[0]! * side + levels[1]!) * side + levels[2]!;

function cubeOf({ drives, xyz }: VolumeReadings): Result<Cube> {
  const levels = ([0, 1, 2] as const).map((c) => [...new Set(drives.map((drive) => drive[c]))].sort((a, b) => a - b));
  const [first, ...others] = levels as [number[], number[], number[]];
  const side = first.length;
  if (side < 3 || first[0] !== 0 || others.some((list) => list.length !== side || list.some((v, i) => v !== first[i])))
    return refused('levels-few');
  const at = new Map<number, number>();
  drives.forEach((drive, i) => {
    const place = key(
      side,
      drive.map((v) => first.indexOf(v)),
    );
    if (!at.has(place) && xyz[i]!.every(Number.isFinite)) at.set(place, i);
  });
  let hole: Vec3 | undefined;
  let count = 0;
  for (let r = 0; r < side; r++)
    for (let g = 0; g < side; g++)
      for (let b = 0; b < side; b++) {
        if (![r, g, b].some((v) => v === 0 || v === side - 1) || at.has(key(side, [r, g, b]))) continue;
        hole ??= [first[r]!, first[g]!, first[b]!];
        count++;
      }
  return hole ? refused('volume-hole', { r: hole[0], g: hole[1], b: hole[2], count }) : computed({ side, at });
}

/** Triangles of a closed surface, all turning the same way seen from outside. */
type Solid = readonly (readonly [Vec3, Vec3, Vec3])[];

function solidOf({ side, at }: Cube, colour: (index: number) => Vec3): Solid {
  const known = new Map<number, Vec3>();
  const corner = (levels: readonly number[]): Vec3 => {
    const place = key(side, levels);
    let found = known.get(place);
    if (!found) {
      found = colour(at.get(place)!);
      known.set(place, found);
    }
    return found;
  };
  const triangles: [Vec3, Vec3, Vec3][] = [];
  for (const axis of [0, 1, 2])
    for (const end of [0, side - 1])
      for (let i = 0; i < side - 1; i++)
        for (let j = 0; j < side - 1; j++) {
          const place = (di: number, dj: number): Vec3 => {
            const levels = [0, 0, 0];
            levels[axis] = end;
            levels[(axis + 1) % 3] = i + di;
            levels[(axis + 2) % 3] = j + dj;
            return corner(levels);
          };
          const [low, high, one, other] = [place(0, 0), place(1, 1), place(1, 0), place(0, 1)];
          if (end === 0) triangles.push([low, high, one], [low, other, high]);
          else triangles.push([low, one, high], [low, high, other]);
        }
  return triangles;
}

/** Signed tetrahedra from the origin: what they hold outside of the solid cancels. */
function solidVolume(solid: Solid): number {
  let six = 0;
  for (const [p, q, r] of solid)
    six += p[0] * (q[1] * r[2] - q[2] * r[1]) + p[1] * (q[2] * r[0] - q[0] * r[2]) + p[2] * (q[0] * r[1] - q[1] * r[0]);
  return Math.abs(six) / 6;
}

/** The share of `reference` that lies in `display` as well. */
function sharedBy(display: Solid, reference: Solid): number {
  const extent = ([1, 2] as const).map((axis) => {
    const list = reference.flatMap((triangle) => triangle.map((point) => point[axis]));
    return { from: least(list), step: (greatest(list) - least(list)) / COLUMNS };
  }) as unknown as Plane;
  const inReference = columnsOf(reference, extent);
  const inDisplay = columnsOf(display, extent);
  let whole = 0;
  let common = 0;
  inReference.forEach((hits, column) => {
    whole += lengthInBoth(hits, hits);
    const others = inDisplay.get(column);
    if (others) common += lengthInBoth(hits, others);
  });
  return common / whole;
}

const least = (list: readonly number[]): number => list.reduce((a, b) => Math.min(a, b));
const greatest = (list: readonly number[]): number => list.reduce((a, b) => Math.max(a, b));

type Plane = readonly [{ readonly from: number; readonly step: number }, { readonly from: number; readonly step: number }];

/** Where a column passes through a surface: at which height, and whether into or out of it. */
interface Hit {
  readonly height: number;
  readonly turn: 1 | -1;
}

function columnsOf(solid: Solid, [across, along]: Plane): Map<number, Hit[]> {
  const columns = new Map<number, Hit[]>();
  const range = (values: readonly number[], { from, step }: Plane[0]): readonly [number, number] => [
    Math.max(0, Math.ceil((Math.min(...values) - from) / step - 0.5)),
    Math.min(COLUMNS - 1, Math.floor((Math.max(...values) - from) / step - 0.5)),
  ];
  for (const [p, q, r] of solid) {
    const doubled = (q[1] - p[1]) * (r[2] - p[2]) - (q[2] - p[2]) * (r[1] - p[1]);
    if (doubled === 0) continue;
    const [firstX, lastX] = range([p[1], q[1], r[1]], across);
    const [firstY, lastY] = range([p[2], q[2], r[2]], along);
    for (let i = firstX; i <= lastX; i++)
      for (let j = firstY; j <= lastY; j++) {
        const x = across.from + (i + 0.5) * across.step;
        const y = along.from + (j + 0.5) * along.step;
        const [leftOfPq, leftOfQr, leftOfRp] = [isLeft(p, q, x, y), isLeft(q, r, x, y), isLeft(r, p, x, y)];
        if (leftOfPq !== leftOfQr || leftOfQr !== leftOfRp) continue;
        const toQ = ((x - p[1]) * (r[2] - p[2]) - (y - p[2]) * (r[1] - p[1])) / doubled;
        const toR = ((q[1] - p[1]) * (y - p[2]) - (q[2] - p[2]) * (x - p[1])) / doubled;
        const hit: Hit = { height: p[0] + toQ * (q[0] - p[0]) + toR * (r[0] - p[0]), turn: leftOfPq ? 1 : -1 };
        const column = i * COLUMNS + j;
        const hits = columns.get(column);
        if (hits) hits.push(hit);
        else columns.set(column, [hit]);
      }
  }
  for (const hits of columns.values()) hits.sort((a, b) => a.height - b.height);
  return columns;
}

/**
 * On which side of the edge from p to q a column stands. Worked out from the same end whichever triangle asks, so that two triangles on
 * one edge never both claim or both leave a column: one that is missed would leave a solid open along it.
 */
function isLeft(p: Vec3, q: Vec3, x: number, y: number): boolean {
  if (p[1] > q[1] || (p[1] === q[1] && p[2] > q[2])) return !isLeft(q, p, x, y);
  return (q[1] - p[1]) * (y - p[2]) - (q[2] - p[2]) * (x - p[1]) >= 0;
}

/** The length of a column that lies inside both of two solids: where the turns counted so far do not cancel. Of hits from below to above. */
function lengthInBoth(a: readonly Hit[], b: readonly Hit[]): number {
  let [i, j, inA, inB] = [0, 0, 0, 0];
  let sum = 0;
  let before = 0;
  // Above the last hit of either there is nothing of both.
  while (i < a.length && j < b.length) {
    const isA = a[i]!.height <= b[j]!.height;
    const { height, turn } = isA ? a[i++]! : b[j++]!;
    if (inA !== 0 && inB !== 0) sum += height - before;
    if (isA) inA += turn;
    else inB += turn;
    before = height;
  }
  return sum;
}
