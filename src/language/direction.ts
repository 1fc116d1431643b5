import { xyToUv1960, xyzToXy } from '../colour/chromaticity';
import { deltaE2000, deltaLch, deltaUv } from '../colour/difference';
import { xyzToIctcp } from '../colour/ictcp';
import { xyzToLab } from '../colour/lab';
import { cctDuv } from '../colour/temperature';
import { multiply, type Vec3, type Xy } from '../colour/vector';
import type { Coloured } from '../measure/colours';
import { isHdr, type Target, whiteXyz } from '../measure/target';

/** Which way a reading is off its target. */
export type Direction =
  | 'too-bright'
  | 'too-dark'
  | 'cool'
  | 'warm'
  | 'greenish'
  | 'pinkish'
  | 'over-saturated'
  | 'under-saturated'
  | `towards-${Hue}`;

export type Hue = 'red' | 'yellow' | 'green' | 'cyan' | 'blue' | 'magenta';

/** One part of an error, as it goes into the difference that the target is judged by (ΔE 2000 or ΔE ITP); larger than 0. */
export interface ErrorPart {
  readonly direction: Direction;
  readonly size: number;
}

/** Nearer to the white than this in u'v', a target is a grey: its error has a tint, no saturation (common practice, no source). */
const NEUTRAL = 0.004;

/**
 * The parts of a patch's error, the largest first: luminance; then, of a grey, its tint along the Planckian locus (cool, warm) and across
 * it (greenish, pinkish), of a colour its saturation and its hue. SDR targets: the terms of CIEDE2000 (ISO/CIE 11664-6); HDR: I, and the
 * plane of C_T/2 and C_P, times 720 (ITU-R BT.2124). So their squares add up to that of the difference, but for a blue in CIEDE2000.
 * Empty where target or reading has no colour.
 */
export function errorParts(c: Coloured, patch: number): readonly ErrorPart[] {
  const target: Vec3 = [c.targetX[patch]!, c.targetY[patch]!, c.targetZ[patch]!];
  const reading: Vec3 = [c.patches.X[patch]!, c.patches.Y[patch]!, c.patches.Z[patch]!];
  if (![...target, ...reading].every(Number.isFinite) || !(target[1] > 0) || !(reading[1] > 0)) return [];
  const aim = c.judged.target;
  const [from, to] = [xyzToXy(target), xyzToXy(reading)];
  const isGrey = deltaUv(from, aim.white) < NEUTRAL;
  const { light, chroma, hue, turn, tint } = isHdr(aim.curve)
    ? itpParts(aim, target, reading)
    : labParts(target, reading, whiteXyz(aim, c.judged.scale.Lw));
  const parts: ErrorPart[] = [part(light, 'too-bright', 'too-dark')];
  if (isGrey) parts.push(...tintParts(aim, from, to, tint));
  else parts.push(part(chroma, 'over-saturated', 'under-saturated'), { direction: towards(aim, target, turn), size: Math.abs(hue) });
  return parts.filter(({ size }) => size > 0).sort((a, b) => b.size - a.size);
}

const part = (signed: number, above: Direction, below: Direction): ErrorPart => ({
  direction: signed > 0 ? above : below,
  size: Math.abs(signed),
});

interface Parts {
  readonly light: number;
  readonly chroma: number;
  readonly hue: number;
  /** Above 0 where the hue turns from red to yellow. */
  readonly turn: number;
  /** Chroma and hue together. */
  readonly tint: number;
}

function labParts(target: Vec3, reading: Vec3, white: Vec3): Parts {
  const [p, q] = [xyzToLab(target, white), xyzToLab(reading, white)];
  const terms = { lightness: 0, chroma: 0, hue: 0 };
  const difference = deltaE2000(p, q, 1, terms);
  const { lightness, chroma, hue } = terms;
  return {
    light: lightness,
    chroma,
    hue,
    turn: deltaLch(p, q).dh,
    tint: Math.sqrt(Math.max(difference * difference - lightness * lightness, 0)),
  };
}

function itpParts(aim: Target, target: Vec3, reading: Vec3): Parts {
  const [p, q] = [xyzToIctcp(target), xyzToIctcp(reading)].map(([I, T, P]) => [720 * I, 360 * T, 720 * P] as const) as [Vec3, Vec3];
  const tint = Math.hypot(q[1] - p[1], q[2] - p[2]);
  const chroma = Math.hypot(q[1], q[2]) - Math.hypot(p[1], p[2]);
  // The hue angle of Lab does not hang on the luminance of its white, so any will do.
  const white = whiteXyz(aim, Math.max(target[1], reading[1]));
  const { dh } = deltaLch(xyzToLab(target, white), xyzToLab(reading, white));
  return { light: q[0] - p[0], chroma, hue: Math.sqrt(Math.max(tint * tint - chroma * chroma, 0)), turn: dh, tint };
}

/** The tint of a grey, parted as its way in u, v (CIE 1960) is: across the Planckian locus as far as Duv goes, the rest along it. */
function tintParts(aim: Target, from: Xy, to: Xy, tint: number): readonly ErrorPart[] {
  const [p, q] = [cctDuv(from), cctDuv(to)];
  const [u, v] = [xyToUv1960(from), xyToUv1960(to)];
  const way = Math.hypot(v[0] - u[0], v[1] - u[1]);
  if (way === 0) return [];
  if (!('cct' in p && 'cct' in q)) return [{ direction: `towards-${hueOf(aim, to)}`, size: tint }];
  const across = q.duv - p.duv;
  const along = Math.sqrt(Math.max(way * way - across * across, 0));
  const scale = tint / way;
  return [part(across * scale, 'greenish', 'pinkish'), { direction: q.cct > p.cct ? 'cool' : 'warm', size: along * scale }];
}

/** The six hues in the order in which the angle of a*b* rises, with their drives. */
const DRIVES: readonly (readonly [Hue, Vec3])[] = [
  ['red', [1, 0, 0]],
  ['yellow', [1, 1, 0]],
  ['green', [0, 1, 0]],
  ['cyan', [0, 1, 1]],
  ['blue', [0, 0, 1]],
  ['magenta', [1, 0, 1]],
];

const angleOf = (xyz: Vec3, white: Vec3): number => {
  const [, a, b] = xyzToLab(xyz, white);
  return ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360;
};

/** A hue is not off towards itself: one nearer than this is passed over, degrees. */
const ITSELF = 10;

/** The hue of the target space that a colour's hue is turned towards. */
function towards(aim: Target, colour: Vec3, turn: number): Direction {
  const white = whiteXyz(aim, 1);
  const own = angleOf(colour, whiteXyz(aim, colour[1]));
  const sign = turn < 0 ? -1 : 1;
  let best: Hue = 'red';
  let nearest = 360;
  for (const [hue, drive] of DRIVES) {
    const apart = (sign * (angleOf(multiply(aim.matrices.toXyz, drive), white) - own) + 720) % 360;
    if (apart < ITSELF || apart >= nearest) continue;
    best = hue;
    nearest = apart;
  }
  return `towards-${best}`;
}

/** The hue of the target space that a chromaticity is nearest to in angle. */
function hueOf(aim: Target, [x, y]: Xy): Hue {
  const white = whiteXyz(aim, 1);
  const own = angleOf([x / y, 1, (1 - x - y) / y], white);
  const apart = (drive: Vec3) => {
    const turn = Math.abs(angleOf(multiply(aim.matrices.toXyz, drive), white) - own);
    return Math.min(turn, 360 - turn);
  };
  return DRIVES.reduce((best, next) => (apart(next[1]) < apart(best[1]) ? next : best))[0];
}
