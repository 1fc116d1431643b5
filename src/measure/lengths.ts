import { xyzToXy } from '../colour/chromaticity';
import type { Vec3, Xy } from '../colour/vector';
import type { Session } from '../session/session';
import { type ErrorRows, errorRows, type Reading, type ScaleReading, spreadOf } from '../uncertainty/covariance';
import {
  chromaDe2000From,
  de76From,
  de94From,
  de2000From,
  deItpFrom,
  deUvFrom,
  duvFrom,
  duvStarFrom,
  type ErrorOf,
} from '../uncertainty/errorVector';
import type { Coloured } from './colours';
import { statedErrors } from './errors';
import type { Context } from './kernel';
import { readPatches } from './readPatches';
import type { RunResult } from './result';
import type { ScaledBy } from './scaling';
import { type Scale, whiteXyz } from './target';

/** A distance from a target, cd/m², as the error vector of a reading; Lab and Luv on the target's white at the luminance of the scale. */
type From = (c: Coloured, target: Vec3, scale: Scale) => ErrorOf;

const whiteOf = ({ judged }: Coloured, { Lw }: Scale): Vec3 => whiteXyz(judged.target, Lw);

/** The target of a grey is the target white at any level, where it has no light as well. */
const xyOf = ({ judged }: Coloured, target: Vec3): Xy => (target[1] > 0 ? xyzToXy(target) : judged.target.white);

const VECTORS: Readonly<Record<string, From>> = {
  de: (c, target, scale) => de2000From(target, whiteOf(c, scale)),
  'de.ab': (c, target, scale) => de76From(target, whiteOf(c, scale)),
  'de.94': (c, target, scale) => de94From(target, whiteOf(c, scale)),
  'de.uv': (c, target, scale) => deUvFrom(target, whiteOf(c, scale)),
  'de.itp': (_, target) => deItpFrom(target),
  'delta.uv': (c, target) => duvFrom(xyOf(c, target)),
  'delta.uvstar': (c, target, { Lw }) => duvStarFrom(xyOf(c, target), Lw),
  dc: (c, target, scale) => chromaDe2000From(target, whiteOf(c, scale)),
  // White at the row's own luminance.
  'dc.adapted': (_, target) => chromaDe2000From(target, target),
};

/** The context of a run in which a row figure is the distance of a colour from its target; undefined for any other. */
export const colouredIn = (context: Context, id: string): Coloured | undefined =>
  'targetAt' in context && Object.hasOwn(VECTORS, id) ? (context as Coloured) : undefined;

/** The error vector of a patch, of which the row figure is the length. */
export const vectorOf = (c: Coloured, id: string, patch: number): ErrorOf => vectorAt(c, id, patch, c.judged.scale);

const vectorAt = (c: Coloured, id: string, patch: number, scale: Scale, targetOf = c.targetAt(scale)): ErrorOf =>
  VECTORS[id]!(c, targetOf(patch), scale);

/** Whether a distance moves with the luminances that the targets are scaled by. */
const isScaled = ({ judged }: Coloured, id: string): boolean =>
  id !== 'delta.uv' && (judged.target.curve.kind !== 'pq' || id === 'delta.uvstar');

/** Whether the distance hangs on luminance at all. */
export const isOfChromaticityAlone = (id: string): boolean => id === 'delta.uv';

/**
 * The error vectors of a distance from targets, for some patches of a run, in their order; NaN where a patch has no such figure. The meters
 * of the run have to state their spread. Pauses as `errorRows`.
 */
export function* lengthRows(result: RunResult, c: Coloured, id: string, patches: ArrayLike<number>): Generator<number, ErrorRows> {
  const { session, run } = result;
  const { scale, read } = c.judged;
  const list = result.rowsIn(c, id);
  const targetOf = c.targetAt(scale);
  const readings = isScaled(c, id) ? read.map((one) => scaleReading(session, result, one, scale, patches)) : [];
  const moved = readings.map(({ of, step }) =>
    ([1, -1] as const).map((sign) => {
      const other = { ...scale, [of]: scale[of] + sign * step };
      return { scale: other, targetOf: c.targetAt(other) };
    }),
  );
  const readingOf = (k: number): Reading | undefined => {
    const i = patches[k]!;
    if (!Number.isFinite(list[i]!)) return undefined;
    const { X, Y, Z, times } = c.patches;
    const [above, below] = [0, 1].map((side) => moved.map((pair) => vectorAt(c, id, i, pair[side]!.scale, pair[side]!.targetOf)));
    return {
      xyz: [X[i]!, Y[i]!, Z[i]!],
      repeats: times[i]!,
      errorOf: vectorAt(c, id, i, scale, targetOf),
      scaled: above!.map((one, p) => [one, below![p]!] as const),
    };
  };
  const { meter, names } = statedErrors(session, run.meter)!;
  return yield* errorRows(patches.length, readingOf, { meter, names, scale: readings });
}

/** What is uncertain of a reading that the targets are scaled by. */
function scaleReading(
  session: Session,
  { run, context }: RunResult,
  { of, run: other, patch }: ScaledBy,
  scale: Scale,
  patches: ArrayLike<number>,
): ScaleReading & { readonly of: keyof Scale } {
  const stated = statedErrors(session, other.meter)!;
  const Y = scale[of];
  const isOwn = other.block === run.block;
  const { times } = isOwn ? context!.patches : readPatches(session, other, ['level']);
  const spread = Math.sqrt(spreadOf(stated.meter, [Y, Y, Y], times[patch])[3]);
  const accuracy = 0.5 * (stated.meter.accuracy?.Y ?? 0) * Y;
  const row = isOwn ? Array.prototype.indexOf.call(patches, patch) : -1;
  return {
    of,
    name: `${of} ${other.block.name}`,
    spread,
    accuracy,
    commonWith: stated.names[2],
    step: Math.hypot(spread, accuracy) || 1e-6 * Y,
    ...(row >= 0 ? { row } : {}),
  };
}
