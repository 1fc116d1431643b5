import { xyToUv, xyzToXy } from '../colour/chromaticity';
import { deltaE76, deltaE94, deltaE2000, deltaEitp, deltaEuv, deltaLch, deltaUv, deltaUvStar } from '../colour/difference';
import { xyzToIctcp } from '../colour/ictcp';
import { putLab, yToLstar } from '../colour/lab';
import { xyzToLuv } from '../colour/luv';
import type { Vec3 } from '../colour/vector';
import type { Context, Rows } from './kernel';
import { rowByRow } from './lately';
import { Seen } from './readings';
import type { Judged } from './scaling';
import { curveName, isHdr, type Scale, whiteXyz } from './target';
import { figure, type Value, without } from './value';

/** Readings beside what they should have been: absolute XYZ in cd/m², by patch. */
export interface Coloured extends Context {
  readonly judged: Judged;
  readonly targetX: Float64Array;
  readonly targetY: Float64Array;
  readonly targetZ: Float64Array;
  /** The target of each patch were the scale another, cd/m². */
  readonly targetAt: (scale: Scale) => (patch: number) => Vec3;
  /** Whether a patch takes part in averages and maxima; its row figures are there all the same. */
  readonly counts: (patch: number) => boolean;
}

const xyzAt = ({ patches }: Context, i: number): Vec3 => [patches.X[i]!, patches.Y[i]!, patches.Z[i]!];
const targetAt = (c: Coloured, i: number): Vec3 => [c.targetX[i]!, c.targetY[i]!, c.targetZ[i]!];

/** One figure a patch; NaN where the reading is not a measured colour. */
export function byPatch(c: Context, compute: (i: number) => number): Float64Array {
  const list = new Float64Array(c.patches.count);
  for (let i = 0; i < list.length; i++) list[i] = c.patches.seen[i] === Seen.Measured ? compute(i) : Number.NaN;
  return list;
}

/** A difference from the target by patch; what is the same as lately is taken over. `what` names it and all else that it hangs on. */
function differences(c: Coloured, what: string, difference: (patch: number) => number): Float64Array {
  const { X, Y, Z, seen } = c.patches;
  return rowByRow(what, [X, Y, Z, seen, c.targetX, c.targetY, c.targetZ], (i) => (seen[i] === Seen.Measured ? difference(i) : Number.NaN));
}

/** A difference in Lab, reading first, with the target white at the scale of the target as reference white. */
function labRows(c: Coloured, name: string, difference: (reading: Vec3, target: Vec3) => number): Float64Array {
  const white = whiteXyz(c.judged.target, c.judged.scale.Lw);
  const { X, Y, Z } = c.patches;
  const { targetX, targetY, targetZ } = c;
  const reading: [number, number, number] = [0, 0, 0];
  const target: [number, number, number] = [0, 0, 0];
  return differences(c, `${name} ${white}`, (i) =>
    difference(putLab(reading, X[i]!, Y[i]!, Z[i]!, white), putLab(target, targetX[i]!, targetY[i]!, targetZ[i]!, white)),
  );
}

/** CIELAB is made for a white that the eye is adapted to: on an absolute HDR scale it says nothing, so there are no rows then. */
export const sdrOnly = (c: Coloured, compute: () => Float64Array): Float64Array =>
  isHdr(c.judged.target.curve) ? new Float64Array(c.patches.count).fill(Number.NaN) : compute();

const SDR_ONLY = new Set(['de', 'de.ab', 'de.94', 'de.uv', 'delta.l', 'delta.c', 'delta.h', 'delta.h.angle']);

/** Whether a row figure of colours is one of CIELAB or CIELUV. */
export const isSdrOnly = (id: string): boolean => SDR_ONLY.has(id.replace(/^hue\./, ''));

export const differenceRows = {
  de: (c: Coloured) => sdrOnly(c, () => labRows(c, 'de', deltaE2000)),
  'de.ab': (c: Coloured) => sdrOnly(c, () => labRows(c, 'de.ab', deltaE76)),
  'de.94': (c: Coloured) => sdrOnly(c, () => labRows(c, 'de.94', (reading, target) => deltaE94(target, reading))),
  'de.uv': (c: Coloured) =>
    sdrOnly(c, () => {
      const white = whiteXyz(c.judged.target, c.judged.scale.Lw);
      return byPatch(c, (i) => deltaEuv(xyzToLuv(xyzAt(c, i), white), xyzToLuv(targetAt(c, i), white)));
    }),
  'de.itp': (c: Coloured) => differences(c, 'de.itp', (i) => deltaEitp(xyzToIctcp(xyzAt(c, i)), xyzToIctcp(targetAt(c, i)))),
  'delta.uv': (c: Coloured) => byPatch(c, (i) => deltaUv(xyzToXy(xyzAt(c, i)), xyzToXy(targetAt(c, i)))),
  'delta.uvstar': (c: Coloured) =>
    byPatch(c, (i) => {
      const lightness = yToLstar(c.patches.Y[i]! / c.judged.scale.Lw);
      return deltaUvStar(lightness, xyToUv(xyzToXy(xyzAt(c, i))), xyToUv(xyzToXy(targetAt(c, i))));
    }),
} as const;

/** The hue angle of a neutral is that of the last digits of a rounding. */
const hasHue = (lab: Vec3): boolean => Math.hypot(lab[1], lab[2]) > 1e-3;

export const partRows = {
  'delta.l': (c: Coloured) => sdrOnly(c, () => labRows(c, 'delta.l', (reading, target) => deltaLch(target, reading).dL)),
  'delta.c': (c: Coloured) => sdrOnly(c, () => labRows(c, 'delta.c', (reading, target) => deltaLch(target, reading).dC)),
  'delta.h': (c: Coloured) => sdrOnly(c, () => labRows(c, 'delta.h', (reading, target) => deltaLch(target, reading).dH)),
  'delta.h.angle': (c: Coloured) =>
    sdrOnly(c, () =>
      labRows(c, 'delta.h.angle', (reading, target) => (hasHue(reading) && hasHue(target) ? deltaLch(target, reading).dh : Number.NaN)),
    ),
} as const;

/** Why a run of colours has no figure made of ΔE: no colour readings, or a target that ΔE 2000 does not suit. */
function noDifference(c: Coloured, id: string): Value {
  if (!id.startsWith('de.itp') && isHdr(c.judged.target.curve))
    return without('wrong-curve', { expected: 'SDR', found: curveName(c.judged.target.curve) });
  return without(c.patches.X.some((x) => !Number.isNaN(x)) ? 'no-rows' : 'no-colour');
}

/** Mean over the counting patches that have the figure. */
export function average(c: Coloured, rows: Rows, id: string): Value {
  const list = rows(id);
  let sum = 0;
  let n = 0;
  for (let i = 0; i < list.length; i++) {
    if (!c.counts(i) || Number.isNaN(list[i]!)) continue;
    sum += list[i]!;
    n++;
  }
  return n > 0 ? figure(sum / n) : noDifference(c, id);
}

/** Largest figure of the counting patches. */
export function largest(c: Coloured, rows: Rows, id: string): Value {
  const list = rows(id);
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < list.length; i++) if (c.counts(i) && list[i]! > most) most = list[i]!;
  return most > Number.NEGATIVE_INFINITY ? figure(most) : noDifference(c, id);
}

export const summedDifferences = {
  'de.avg': (c: Coloured, rows: Rows) => average(c, rows, 'de'),
  'de.max': (c: Coloured, rows: Rows) => largest(c, rows, 'de'),
  'de.itp.avg': (c: Coloured, rows: Rows) => average(c, rows, 'de.itp'),
  'de.itp.max': (c: Coloured, rows: Rows) => largest(c, rows, 'de.itp'),
} as const;

export { targetAt, xyzAt };
