import { type Angles, type HalfAngle, halfAngle, kept, shifts } from '../algorithms/angles';
import { type Refused, type Result, refused } from '../algorithms/result';
import { xyToUv, xyzToXy } from '../colour/chromaticity';
import type { Xy } from '../colour/vector';
import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import type { Context, Kernel } from './kernel';
import { Seen } from './readings';
import { readPatches } from './readPatches';
import { figure, type Value } from './value';

/** The readings of one direction, with a reading on the axis that they are held against. */
interface Direction {
  readonly patches: readonly number[];
  readonly angles: Angles;
  readonly xy: readonly (Xy | undefined)[];
}

export interface FromTheSide extends Context {
  /** Degrees from the axis, by patch. */
  readonly angles: Float64Array;
  readonly directions: readonly Direction[];
}

function prepare(session: Session, run: Run): FromTheSide {
  const { columns, rows } = run.table;
  const keys = ['angle', ...(columns.has('direction') ? ['direction'] : [])];
  const patches = readPatches(session, run, keys);
  const { cell } = columns.get('angle')!;
  const angles = Float64Array.from(patches.first, (row) => rows[row]!.values[cell]!);
  const word = columns.get('direction');
  const directionOf = (i: number) => (word ? cellWord(rows[patches.first[i]!]!, word.cell) : '');
  const counting = Array.from(angles, (_, i) => i).filter((i) => !patches.revisit[i]);
  const onAxis = counting.find((i) => angles[i] === 0);
  const directions = [...new Set(counting.map(directionOf))].flatMap((direction) => {
    const own = counting.filter((i) => directionOf(i) === direction);
    // One reading on the axis serves all directions that have none of their own.
    const all = own.some((i) => angles[i] === 0) || onAxis === undefined ? own : [onAxis, ...own];
    if (own.every((i) => angles[i] === 0) && counting.length > own.length) return [];
    return [
      {
        patches: all,
        angles: {
          angles: all.map((i) => angles[i]!),
          luminance: all.map((i) => (patches.seen[i] === Seen.Measured ? patches.Y[i]! : Number.NaN)),
        },
        xy: all.map((i) =>
          Number.isNaN(patches.X[i]! + patches.Z[i]!) ? undefined : xyzToXy([patches.X[i]!, patches.Y[i]!, patches.Z[i]!]),
        ),
      },
    ];
  });
  const pivots = counting.filter((i) => angles[i] === 0);
  return { session, run, patches, keys, angles, directions, pivots };
}

/** A figure of every row of every direction, by patch; where a direction is refused it has none. */
function byRow(c: FromTheSide, compute: (direction: Direction) => Result<Float64Array>): Float64Array {
  const list = new Float64Array(c.patches.count).fill(Number.NaN);
  for (const direction of c.directions) {
    const found = compute(direction);
    if (!found.ok) continue;
    for (const [at, patch] of direction.patches.entries()) list[patch] = found.v[at]!;
  }
  return list;
}

const shiftsOf = ({ angles, xy }: Direction) => shifts(angles, xy);

/** The smallest of all directions, as that is where a viewer loses half first. */
function half(c: FromTheSide): Value {
  let least: HalfAngle | undefined;
  let wrong: Refused = refused('no-axis');
  for (const direction of c.directions) {
    const found = halfAngle(direction.angles);
    if (!found.ok) wrong = found;
    else if (!least || found.v.angle < least.angle || (found.v.angle === least.angle && found.v.reached)) least = found.v;
  }
  if (!least) return wrong;
  return least.reached ? figure(least.angle) : { ok: true, v: least.angle, bound: 'at-least' };
}

export const angles: Kernel<'angles', FromTheSide> = {
  prepare,
  rows: {
    kept: (c) => byRow(c, (direction) => kept(direction.angles)),
    shift: (c) => byRow(c, shiftsOf),
    duv: (c, rows) => {
      const list = rows('shift');
      return list.map((_, i) =>
        list.reduce(
          (most, v, k) => (Math.abs(c.angles[k]!) === Math.abs(c.angles[i]!) && !(v <= most) && !Number.isNaN(v) ? v : most),
          Number.NaN,
        ),
      );
    },
  },
  vectors: {
    shift: (c) => {
      const uv = new Map<number, readonly [Xy, Xy]>();
      for (const { patches, angles, xy } of c.directions) {
        const origin = xy[Array.from(angles.angles).indexOf(0)];
        patches.forEach((patch, at) => {
          if (origin && xy[at]) uv.set(patch, [xyToUv(xy[at]), xyToUv(origin)]);
        });
      }
      return (i) => {
        const [from, to] = [uv.get(i)?.[1], uv.get(i)?.[0]];
        return from && to ? [to[0] - from[0], to[1] - from[1], 0] : [Number.NaN, Number.NaN, Number.NaN];
      };
    },
  },
  run: { half },
  why: (c, id, patch) => {
    const direction = c.directions.find(({ patches }) => patches.includes(patch));
    const found = direction && (id === 'kept' ? kept(direction.angles) : shiftsOf(direction));
    return found?.ok === false ? found : undefined;
  },
};
