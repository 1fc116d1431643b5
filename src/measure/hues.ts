import { xyzToXy } from '../colour/chromaticity';
import { multiply, type Vec3, type Xy } from '../colour/vector';
import type { Target } from './target';

/** Full-drive primaries and secondaries. */
export const HUE_DRIVES: Readonly<Record<string, Vec3>> = {
  red: [1, 0, 0],
  green: [0, 1, 0],
  blue: [0, 0, 1],
  cyan: [0, 1, 1],
  magenta: [1, 0, 1],
  yellow: [1, 1, 0],
};

/**
 * The chromaticity of a full-drive hue of the target space: a primary, or the sum of two with the target's white.
 * Undefined for a name that is none of the six.
 */
export function hueChromaticity(target: Target, name: string): Xy | undefined {
  if (!Object.hasOwn(HUE_DRIVES, name)) return undefined;
  return xyzToXy(multiply(target.matrices.toXyz, HUE_DRIVES[name]!));
}

export const HUES = Object.keys(HUE_DRIVES);
