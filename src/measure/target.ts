import { xyYToXyz } from '../colour/chromaticity';
import { BT1886_GAMMA, bt1886Eotf, powerEotf, powerOverBlackEotf, srgbEotf, srgbInverse } from '../colour/curves';
import { hlgEotf, hlgEotfGrey, hlgInverseOetf, hlgOetf } from '../colour/hlg';
import { pqEotf, pqInverse } from '../colour/pq';
import { asSent, type SignalFormat } from '../colour/quantise';
import { type Space, type SpaceMatrices, spaceMatrices, spaceOf } from '../colour/spaces';
import { multiply, type Vec3, type Xy } from '../colour/vector';
import { whiteOf } from '../colour/whites';
import type { Block } from '../session/block';
import type { Session } from '../session/session';
import type { Curve } from '../session/values';
import { type Arg, phrase } from '../text/message';
import { remembering } from './remember';
import { type Value, without } from './value';

/** What a run is judged against, before its scale is known. */
export interface Target {
  readonly id: string;
  readonly space: Space;
  readonly matrices: SpaceMatrices;
  readonly curve: Curve;
  readonly white: Xy;
  readonly whiteName: Arg;
  /** cd/m²; undefined where the run's own white is to be taken. */
  readonly luminance?: number;
}

/** A target with its scale: luminance of white and, for curves that stand on it, of black, in cd/m². */
export interface Scale {
  readonly Lw: number;
  readonly Lb: number;
}

type Absent = Extract<Value, { ok: false }>;

export const isHdr = (curve: Curve | undefined): boolean => curve?.kind === 'pq' || curve?.kind === 'hlg';

/** Curves whose luminance for a level hangs on the black of the display. */
export const needsBlack = (curve: Curve): boolean => curve.kind === 'bt1886' || (curve.kind === 'power' && curve.overBlack);

export const curveName = (curve: Curve): string =>
  curve.kind === 'power'
    ? `power ${curve.exponent}${curve.overBlack ? ' over black' : ''}`
    : { bt1886: 'BT.1886', srgb: 'sRGB', pq: 'PQ', hlg: 'HLG' }[curve.kind];

/** The target of a block, or what it lacks. */
export function targetOf(session: Session, block: Block | undefined): Target | Absent {
  if (!block) return without('no-target');
  const space = spaceOf(session.text(block, 'space') ?? '');
  const curve = session.value(block, 'curve');
  if (!space) return without('target-incomplete', { target: block.name, lacks: 'space' });
  if (curve?.is !== 'curve') return without('target-incomplete', { target: block.name, lacks: 'curve' });
  const written = session.value(block, 'white');
  const [white, whiteName] =
    written?.is !== 'white'
      ? [space.white, phrase('white of the space')]
      : 'id' in written.white
        ? [whiteOf(written.white.id) ?? space.white, written.white.id.toUpperCase()]
        : [written.white.xy, phrase('white {xy}', { xy: written.white.xy.join(' ') })];
  const matrices = spaceMatrices(space, white);
  if (!matrices) return without('target-incomplete', { target: block.name, lacks: 'white' });
  const luminance = session.number(block, 'luminance');
  return { id: block.name, space, matrices, curve: curve.curve, white, whiteName, ...(luminance === undefined ? {} : { luminance }) };
}

/** Luminance, cd/m², of a grey of this signal (0 black, 1 white; as sent). */
export function greyLuminance({ curve }: Target, signal: number, { Lw, Lb }: Scale): number {
  switch (curve.kind) {
    case 'power':
      return curve.overBlack
        ? powerOverBlackEotf(signal, { gamma: curve.exponent, Lw, Lb })
        : powerEotf(signal, { gamma: curve.exponent, Lw });
    case 'bt1886':
      return bt1886Eotf(signal, { Lw, Lb });
    case 'srgb':
      return Lw * srgbEotf(Math.max(signal, 0));
    case 'pq':
      return pqEotf(signal);
    case 'hlg':
      return hlgEotfGrey(signal, { Lw, Lb });
  }
}

/** `greyLuminance` of one target and scale, for many signals. */
export type Light = (signal: number) => number;

export const lightOf = (target: Target, scale: Scale, patches: number): Light =>
  remembering((signal) => greyLuminance(target, signal, scale), 4095, patches);

/** XYZ, cd/m², of a colour of these signals. `light` is that of the same target and scale. */
export function colourXyz(target: Target, signal: Vec3, scale: Scale, light: Light): Vec3 {
  if (target.curve.kind === 'hlg') return multiply(target.matrices.toXyz, hlgEotf(signal, scale));
  return multiply(target.matrices.toXyz, [light(signal[0]), light(signal[1]), light(signal[2])]);
}

/** Three numbers each of many colours: R, G and B, or X, Y and Z. */
export type Channels = readonly [Float64Array, Float64Array, Float64Array];

/** `colourXyz` of many colours. Channel by channel, as loops over plain numbers leave nothing to collect. */
export function coloursXyz(target: Target, signals: Channels, scale: Scale): Channels {
  const [x, y, z] = target.matrices.toXyz;
  const light = lightOf(target, scale, signals[0].length);
  const lights: Channels =
    target.curve.kind === 'hlg' ? hlgLights(signals, scale) : [lit(signals[0], light), lit(signals[1], light), lit(signals[2], light)];
  return [mixed(lights, x), mixed(lights, y), mixed(lights, z)];
}

function lit(signals: Float64Array, light: Light): Float64Array {
  const lights = new Float64Array(signals.length);
  for (let i = 0; i < lights.length; i++) lights[i] = light(signals[i]!);
  return lights;
}

function hlgLights([R, G, B]: Channels, scale: Scale): Channels {
  const lights: Channels = [new Float64Array(R.length), new Float64Array(R.length), new Float64Array(R.length)];
  for (let i = 0; i < R.length; i++) {
    const light = hlgEotf([R[i]!, G[i]!, B[i]!], scale);
    lights[0][i] = light[0];
    lights[1][i] = light[1];
    lights[2][i] = light[2];
  }
  return lights;
}

function mixed([a, b, c]: Channels, [p, q, r]: Vec3): Float64Array {
  const sums = new Float64Array(a.length);
  for (let i = 0; i < sums.length; i++) sums[i] = p * a[i]! + q * b[i]! + r * c[i]!;
  return sums;
}

/** XYZ, cd/m², of the target white at a luminance. */
export const whiteXyz = (target: Target, luminance: number): Vec3 => xyYToXyz(target.white[0], target.white[1], luminance);

/**
 * The signals that a saturation point is sent with: steps go in xy from white to the full-drive primary or secondary, and the largest
 * channel has the signal of the stimulus.
 * @param hue chromaticity of the full-drive hue
 * @param saturation 0 … 1
 * @param stimulus signal of the largest channel, 0 … 1
 */
export function saturationSignal(target: Target, hue: Xy, saturation: number, stimulus: number): Vec3 {
  const [wx, wy] = target.white;
  const xyz = xyYToXyz(wx + saturation * (hue[0] - wx), wy + saturation * (hue[1] - wy), 1);
  const rgb = multiply(target.matrices.toRgb, xyz);
  const largest = Math.max(...rgb);
  return [0, 1, 2].map((i) => encoded(target.curve, Math.max(rgb[i]! / largest, 0), stimulus)) as unknown as Vec3;
}

/** The signal whose light is `share` of that of the signal `stimulus`. Content is encoded for a black of 0. */
function encoded(curve: Curve, share: number, stimulus: number): number {
  switch (curve.kind) {
    case 'power':
      return stimulus * share ** (1 / curve.exponent);
    case 'bt1886':
      return stimulus * share ** (1 / BT1886_GAMMA);
    case 'srgb':
      return srgbInverse(share * srgbEotf(stimulus));
    case 'pq':
      return pqInverse(share * pqEotf(stimulus));
    case 'hlg':
      // Of scene light: the system gamma acts on luminance, so the ratio of the channels is set before it.
      return hlgOetf(share * hlgInverseOetf(stimulus));
  }
}

/** A level as it is sent: rounded to the code of the signal, and decoded again; as it stands where the signal says no range or depth. */
export const sentSignal = (percent: number, format: SignalFormat | undefined): number =>
  format ? asSent(percent, format).signal : percent / 100;
