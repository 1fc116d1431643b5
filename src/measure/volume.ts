import type { Result } from '../algorithms/result';
import { type ColourVolume, colourVolume, type VolumeSpace } from '../algorithms/volume';
import type { Vec3 } from '../colour/vector';
import type { Run, Session } from '../session/session';
import { xyzAt } from './colours';
import type { Absent, Context, Kernel } from './kernel';
import { Seen, signalsOf } from './readings';
import { readPatches } from './readPatches';
import { once } from './remember';
import { isBlack, isWhite, judge, readingWhere } from './scaling';
import { colourXyz, lightOf, whiteXyz } from './target';
import { figureOf, type Value, without } from './value';

export interface Solid extends Context {
  readonly drives: readonly Vec3[];
  readonly xyz: readonly Vec3[];
}

function prepare(session: Session, run: Run): Solid | Absent {
  const { columns } = run.table;
  const patches = readPatches(session, run, ['patch', 'R', 'G', 'B']);
  const [R, G, B] = ['R', 'G', 'B'].map((name) => signalsOf(session, run, patches, columns.get(name)!));
  if (!R || !G || !B) return without('signal-range');
  const all = (is: (signal: number) => boolean) => (i: number) => is(R[i]!) && is(G[i]!) && is(B[i]!);
  const judged = judge(session, run, { white: readingWhere(patches, all(isWhite)), black: readingWhere(patches, all(isBlack)) });
  if ('ok' in judged) return judged;
  const context = { session, run, patches, keys: columns.has('patch') ? ['patch'] : ['R', 'G', 'B'], judged };
  const counting = Array.from(R, (_, i) => i).filter((i) => !patches.revisit[i]);
  // Black below the floor has no chromaticity, and no part in the volume that could be seen: it is taken as no light.
  const xyzOf = (i: number): Vec3 =>
    patches.seen[i] === Seen.Below
      ? [0, 0, 0]
      : patches.seen[i] === Seen.Measured
        ? xyzAt(context, i)
        : [Number.NaN, Number.NaN, Number.NaN];
  return { ...context, drives: counting.map((i): Vec3 => [R[i]!, G[i]!, B[i]!]), xyz: counting.map(xyzOf) };
}

const volumeIn = (space: VolumeSpace) =>
  once((c: Solid): Result<ColourVolume> => {
    const { target, scale } = c.judged!;
    if (space === 'lab' && !(scale.Lw > 0)) return without('no-white', { where: c.run.id });
    const light = lightOf(target, scale, c.patches.count);
    return colourVolume(
      { drives: c.drives, xyz: c.xyz, target: (drive) => colourXyz(target, drive, scale, light), white: whiteXyz(target, scale.Lw) },
      space,
    );
  });

const VOLUMES = { lab: volumeIn('lab'), ictcp: volumeIn('ictcp') };

const of =
  (space: VolumeSpace, compute: (volume: ColourVolume) => number) =>
  (c: Solid): Value =>
    figureOf(VOLUMES[space](c), compute);

export const volume: Kernel<'volume', Solid> = {
  prepare,
  rows: {},
  run: {
    lab: of('lab', ({ covered }) => 100 * covered),
    'lab.ratio': of('lab', ({ ratio }) => 100 * ratio),
    'lab.size': of('lab', ({ display }) => display / 1000),
    ictcp: of('ictcp', ({ covered }) => 100 * covered),
    'ictcp.ratio': of('ictcp', ({ ratio }) => 100 * ratio),
    'ictcp.size': of('ictcp', ({ display }) => display / 1000),
  },
};
