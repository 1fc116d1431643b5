import type { Pair, Triple } from './light';
import type { Emissions } from './spectra';

/**
 * An invented display, as numbers. Luminance in cd/m², drive and areas as fractions of 1, times in the unit named.
 * The laws that these numbers feed are in screen.ts.
 */
export interface Panel {
  readonly name: string;
  readonly primaries: readonly [Pair, Pair, Pair];
  /** What red, green and blue are mixed from, and the white of the emitter. */
  readonly emissions: { readonly rgb: Emissions; readonly white?: Emissions };
  /** Light of an added white emitter as a share of min(r, g, b); 0 = colours add up to white. */
  readonly emitter: number;
  /** The picture as it leaves the box. Gains are linear, exponents those of each channel. */
  readonly shipped: { readonly gains: Triple; readonly exponents: Triple; readonly white: number; readonly black: number };
  readonly nearBlack: {
    /** Drive below which a channel stays dark. */
    readonly darkBelow: number;
    /** Blue light is raised by `share` while its drive is in from..to; it fades in and out beside that. */
    readonly blue?: { readonly from: number; readonly to: number; readonly share: number };
    /** Light that a bright surround throws on a dark patch: with the faintest and with a full white surround. */
    readonly halo?: Pair;
  };
  /** Largest white by window area w: peak · (1 − e^(−w/rise)) · min(1, (w/knee)^slope). */
  readonly window: { readonly peak: number; readonly rise: number; readonly knee: number; readonly slope: number };
  readonly rollOff: {
    readonly peak: number;
    /** Mastering peak that the display assumes whatever is sent, or 'sent'. */
    readonly mastering: number | 'sent';
    /** Light raised by `stops` between from..to cd/m². */
    readonly lift: { readonly stops: number; readonly from: number; readonly to: number };
  };
  /** Light kept after t seconds of a bright static picture: 1 − drop · (1 − e^(−t/seconds)). */
  readonly endurance: { readonly drop: number; readonly seconds: number };
  /** Light t minutes after power on: 1 + rise · e^(−t/minutes). */
  readonly warmUp: { readonly rise: number; readonly minutes: number };
  readonly uniformity: {
    /** Light lost at the corners (r = 1), as falloff · r². */
    readonly falloff: number;
    /** Vertical bands of this amplitude at 5 % drive and below, weaker above. */
    readonly bands: number;
    /** Light lost besides in the bottom left corner. */
    readonly corner: number;
    /** u' at the right edge; the left edge has the opposite. */
    readonly tint: number;
  };
  /** Light at an angle goes as cos^power; u'v' moves by `shift` at 45° and as the square of the angle. */
  readonly angles: { readonly power: number; readonly shift: number };
  /** From the signal to light at the top of the picture, and how much later the bottom is drawn: ms. */
  readonly lag: { readonly top: number; readonly scan: number };
  /** What the display draws with a black picture, and for every cd/m² of a full field: W. */
  readonly power: { readonly dark: number; readonly perLight: number };
  /** The share of the light of the room that comes back, were the screen matt. */
  readonly reflectance: number;
  /** What the settings of the display do; invented together with it. */
  readonly controls: {
    readonly lightOutput: number;
    readonly gamma: number;
    readonly gainStep: number;
    readonly offsetStep: number;
    /** How far the shipped gamut setting brings BT.709 home from the panel's own primaries: 1 = all the way. */
    readonly shippedGamut: number;
  };
}

/** Self-lit, with a white emitter. Additivity 1 / (1 + 2/3) = 0.60. */
export const aurora: Panel = {
  name: 'Halden Aurora 55',
  primaries: [
    [0.684, 0.314],
    [0.2571, 0.656],
    [0.1476, 0.0589],
  ],
  emissions: {
    rgb: [
      { centre: 626, width: 30 },
      { centre: 531, width: 34 },
      { centre: 459, width: 22 },
    ],
    white: [
      { centre: 602, width: 26 },
      { centre: 548, width: 38 },
      { centre: 461, width: 37 },
    ],
  },
  emitter: 2 / 3,
  shipped: { gains: [0.99, 1, 1.06], exponents: [2.38, 2.4, 2.43], white: 120, black: 0.0004 },
  nearBlack: { darkBelow: 0.015, blue: { from: 0.02, to: 0.04, share: 0.12 } },
  window: { peak: 820, rise: 0, knee: 0.1, slope: -0.7 },
  rollOff: { peak: 800, mastering: 4000, lift: { stops: 0.05, from: 0, to: Number.POSITIVE_INFINITY } },
  endurance: { drop: 0.15, seconds: 90 },
  warmUp: { rise: 0.015, minutes: 12 },
  uniformity: { falloff: 0.04, bands: 0.02, corner: 0, tint: 0.0015 },
  angles: { power: 0.15, shift: 0.006 },
  lag: { top: 5.2, scan: 8.3 },
  power: { dark: 41, perLight: 0.55 },
  reflectance: 0.011,
  controls: { lightOutput: 38, gamma: 2.4, gainStep: 0.005, offsetStep: 0.0004, shippedGamut: 0.92 },
};

/** Backlit, zones dimmed one by one. */
export const meadow: Panel = {
  name: 'Halden Meadow 65',
  primaries: [
    [0.682, 0.31],
    [0.266, 0.678],
    [0.152, 0.058],
  ],
  emissions: {
    rgb: [
      { centre: 632, width: 24 },
      { centre: 536, width: 30 },
      { centre: 457, width: 20 },
    ],
  },
  emitter: 0,
  shipped: { gains: [0.97, 1, 1.09], exponents: [2.22, 2.25, 2.28], white: 150, black: 0.045 },
  nearBlack: { darkBelow: 0, halo: [0.02, 0.3] },
  window: { peak: 1250, rise: 0.035, knee: 0.25, slope: -0.45 },
  rollOff: { peak: 1250, mastering: 'sent', lift: { stops: 0.15, from: 10, to: 100 } },
  endurance: { drop: 0.06, seconds: 600 },
  warmUp: { rise: 0.05, minutes: 15 },
  uniformity: { falloff: 0.16, bands: 0, corner: 0.05, tint: 0.003 },
  // Half the light is left at 38°.
  angles: { power: Math.log(0.5) / Math.log(Math.cos((38 * Math.PI) / 180)), shift: 0.012 },
  lag: { top: 9.6, scan: 14.8 },
  power: { dark: 36, perLight: 0.31 },
  reflectance: 0.016,
  controls: { lightOutput: 24, gamma: 2.2, gainStep: 0.005, offsetStep: 0.0005, shippedGamut: 0.9 },
};
