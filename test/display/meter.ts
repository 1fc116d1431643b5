import { type Triple, xyOf } from './light';
import { normal, type Uniform } from './random';
import type { Filters } from './spectra';

/** How a meter errs: repeatability that grows towards the dark, an error common to all readings of a session, and its filters. */
export interface MeterModel {
  /** cd/m²; nothing below it is told. */
  readonly floor: number;
  /** σY/Y = √(share² + (dark / Y)²). */
  readonly share: number;
  readonly dark: number;
  /** σx = σy = xy · √(1 + xyDark / Y). */
  readonly xy: number;
  readonly xyDark: number;
  /** k = 1, of luminance (relative) and of x and y each. */
  readonly commonY: number;
  readonly commonXy: number;
  /** Left out, it sees as the observer does. */
  readonly filters?: Filters;
}

/** Its error in x and y is assumed, whatever the light. */
export const tripodMeter: MeterModel = {
  floor: 0.003,
  share: 0.005,
  dark: 0.0006,
  xy: 0.0004,
  xyDark: 0.5,
  commonY: 0.01,
  commonXy: 0.001,
};

/** The same meter with an error in x and y that arises: its filters are not those of the eye, so it depends on the spectrum. */
export const filterMeter: MeterModel = {
  ...tripodMeter,
  commonXy: 0,
  filters: [
    { stretch: 0.998, shift: -0.8 },
    { stretch: 0.981, shift: 0.3 },
    { stretch: 0.987, shift: 1.3 },
  ],
};

/** A spectroradiometer: slow, blind in the dark, and what the other meters are held against. */
export const spectroMeter: MeterModel = { floor: 0.05, share: 0.002, dark: 0.005, xy: 0.0002, xyDark: 2, commonY: 0, commonXy: 0 };

export interface CommonError {
  readonly Y: number;
  readonly x: number;
  readonly y: number;
}

export const noCommonError: CommonError = { Y: 0, x: 0, y: 0 };

/** The error that a session has throughout. */
export const commonError = (meter: MeterModel, chance: Uniform): CommonError => ({
  Y: meter.commonY * normal(chance),
  x: meter.commonXy * normal(chance),
  y: meter.commonXy * normal(chance),
});

export interface Measured {
  readonly Y: number;
  readonly x: number;
  readonly y: number;
}

/** One reading, before it is written down. Takes the same number of draws whatever the light. */
export function read(meter: MeterModel, xyz: Triple, common: CommonError, chance: Uniform): Measured {
  const Y = xyz[1];
  const [x, y] = xyOf(xyz);
  const sigmaY = Math.hypot(meter.share * Y, meter.dark);
  const sigmaXy = meter.xy * Math.sqrt(1 + meter.xyDark / Y);
  return {
    Y: Y * (1 + common.Y) + sigmaY * normal(chance),
    x: x + common.x + sigmaXy * normal(chance),
    y: y + common.y + sigmaXy * normal(chance),
  };
}

export interface Written {
  readonly Y: string;
  readonly x: string;
  readonly y: string;
}

/** As it is written down: Y to 4 significant figures, x and y to 4 decimals, `<floor` and no chromaticity below the floor. */
export function written(meter: MeterModel, { Y, x, y }: Measured): Written {
  if (Y < meter.floor) return { Y: `<${meter.floor}`, x: '-', y: '-' };
  const digits = Math.max(0, 3 - Math.floor(Math.log10(Number(Y.toPrecision(4)))));
  return { Y: Number(Y.toPrecision(4)).toFixed(digits), x: x.toFixed(4), y: y.toFixed(4) };
}
