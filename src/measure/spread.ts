import type { Run, Session } from '../session/session';

/** How readings of one meter spread, as one standard deviation. */
export interface Spread {
  /** Of a luminance, as a share of it. */
  readonly Y: number;
  readonly xy: number;
  /** What a luminance spreads by in the dark, cd/m². */
  readonly dark: number;
  /** Whether the meter says its spread; the numbers are usual ones where it does not. */
  readonly stated: boolean;
}

/** A meter that says nothing of itself: a tripod colorimeter of the middle sort (common practice, no source). */
const USUAL = { Y: 0.005, xy: 0.0005, floor: 0.01 };

/** Near the floor a reading spreads by a good part of the floor itself (common practice, no source). */
const SHARE_OF_FLOOR = 0.25;

export function spreadOf(session: Session, { meter }: Pick<Run, 'meter'>): Spread {
  const Y = session.quantityOf(meter, 'spread', 'percent')?.value;
  const xy = session.quantityOf(meter, 'spread', 'chromaticity')?.value;
  const floor = session.number(meter, 'floor') ?? USUAL.floor;
  return {
    Y: Y === undefined ? USUAL.Y : Y / 100,
    xy: xy ?? USUAL.xy,
    dark: SHARE_OF_FLOOR * floor,
    stated: Y !== undefined || xy !== undefined,
  };
}

export const luminanceSpread = ({ Y, dark }: Spread, luminance: number): number => Math.hypot(Y * luminance, dark);

/** In the dark, chromaticities spread as the light is used up: by √(1 + 0.5/Y) for usual meters (common practice, no source). */
export const chromaticitySpread = ({ xy }: Spread, luminance: number): number => xy * Math.sqrt(1 + 0.5 / Math.max(luminance, 1e-3));
