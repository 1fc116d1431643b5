import { deltaUv } from '../colour/difference';
import type { Xy } from '../colour/vector';
import { phrase } from '../text/message';
import { computed, type Refused, type Result, refused, unequal } from './result';

/** Readings from the side, in one direction (or along one line, one side of it with negative angles), in any order. */
export interface Angles {
  /** Degrees from the axis. */
  readonly angles: ArrayLike<number>;
  /** cd/m²; NaN where open. */
  readonly luminance: ArrayLike<number>;
}

/** Source of the quantities: ICDM IDMS, viewing angle (section not verified). */
function onAxis({ angles, luminance }: Angles): Result<number> {
  const wrong = unequal(angles, luminance) ?? repeated(angles);
  if (wrong) return wrong;
  for (let i = 0; i < angles.length; i++) if (angles[i] === 0) return luminance[i]! > 0 ? computed(i) : refused('no-axis');
  return refused('no-axis');
}

function repeated(angles: ArrayLike<number>): Refused | undefined {
  const seen = new Set<number>();
  for (let i = 0; i < angles.length; i++) {
    const angle = angles[i]!;
    if (!Number.isFinite(angle)) return refused('not-finite', { at: i + 1 });
    if (seen.has(angle)) return refused('angle-repeated', { angle });
    seen.add(angle);
  }
  return undefined;
}

/** Luminance over that on the axis, row by row; NaN where open. Refused without a reading with light at 0°, or for an angle read twice. */
export function kept(run: Angles): Result<Float64Array> {
  const axis = onAxis(run);
  if (!axis.ok) return axis;
  return computed(Float64Array.from(run.luminance, (Y) => (Y >= 0 ? Y / run.luminance[axis.v]! : Number.NaN)));
}

/** Δu′v′ from the chromaticity on the axis, row by row; NaN where a row has none. Refused as `kept`, and without a chromaticity at 0°. */
export function shifts(run: Angles, xy: readonly (Xy | undefined)[]): Result<Float64Array> {
  const axis = onAxis(run);
  if (!axis.ok) return axis;
  const wrong = unequal(run.angles, xy);
  if (wrong) return wrong;
  const origin = xy[axis.v];
  if (!origin) return refused('no-axis');
  return computed(Float64Array.from(xy, (point) => (point ? deltaUv(point, origin) : Number.NaN)));
}

export interface HalfAngle {
  /** Degrees from the axis, without sign. */
  readonly angle: number;
  /** False when half was not reached on any side: then half is left beyond `angle`, the largest that was read on the side read least far. */
  readonly reached: boolean;
}

/**
 * The angle at which half of the luminance on the axis is left. On each side of the axis, going outwards over the rows with a reading, the
 * first with half or less; a straight line joins it to the row before it (interpolated: the angle is rarely one that was read). The
 * smaller of the two sides counts, as that is where a viewer loses half first; when one side has not fallen to half by an angle
 * below that, it is known no better than that angle. Exactly half is half. Refused as `kept`, and without a row off the axis.
 */
export function halfAngle(run: Angles): Result<HalfAngle> {
  const shares = kept(run);
  if (!shares.ok) return shares;
  const sides = ([1, -1] as const).flatMap((sign) => {
    const rows: { angle: number; share: number }[] = [];
    for (let i = 0; i < run.angles.length; i++) {
      const angle = sign * run.angles[i]!;
      if (angle > 0 && Number.isFinite(shares.v[i]!)) rows.push({ angle, share: shares.v[i]! });
    }
    return rows.length > 0 ? [outwards(rows.sort((a, b) => a.angle - b.angle))] : [];
  });
  const [first, second] = sides;
  if (!first) return refused('too-few-rows', { count: 1, which: phrase('off the axis'), found: 0 });
  return computed(!second || first.angle < second.angle || (first.angle === second.angle && first.reached) ? first : second);
}

function outwards(rows: readonly { readonly angle: number; readonly share: number }[]): HalfAngle {
  let before = { angle: 0, share: 1 };
  for (const row of rows) {
    if (row.share <= 0.5) {
      const along = (before.share - 0.5) / (before.share - row.share);
      return { angle: before.angle + along * (row.angle - before.angle), reached: true };
    }
    before = row;
  }
  return { angle: before.angle, reached: false };
}
