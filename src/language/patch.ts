import { srgbInverse } from '../colour/curves';
import { SPACES, spaceMatrices } from '../colour/spaces';
import { multiply, type Vec3, type Xy } from '../colour/vector';

/** A colour as a screen can show it beside others. */
export interface ShownColour {
  /** `#rrggbb`, sRGB. */
  readonly hex: string;
  /** Whether sRGB does not hold the colour: it is then shown as near as each channel goes. */
  readonly clipped: boolean;
}

/** The rounding of a reading is no reason to call a colour outside. */
const HAIR = 0.005;

/**
 * A light as an sRGB colour, with a white that becomes the white of sRGB: the reader's eye is adapted to the screen that shows it, as it
 * was to the display. The adaptation scales the channels of sRGB's primaries (von Kries' rule in those primaries, IEC 61966-2-1:1999).
 * @param xyz cd/m²
 * @param white chromaticity and luminance, cd/m², of what is shown as white
 * @returns undefined for what is no light, and for a white that no screen has
 */
export function shownColour(xyz: Vec3, white: Xy, luminance: number): ShownColour | undefined {
  const matrices = spaceMatrices(SPACES.srgb, white);
  if (!matrices || !(luminance > 0)) return undefined;
  const rgb = multiply(matrices.toRgb, xyz).map((channel) => channel / luminance);
  if (!rgb.every(Number.isFinite)) return undefined;
  const codes = rgb.map((channel) => Math.round(255 * srgbInverse(Math.min(Math.max(channel, 0), 1))));
  return {
    hex: `#${codes.map((code) => code.toString(16).padStart(2, '0')).join('')}`,
    clipped: rgb.some((channel) => channel < -HAIR || channel > 1 + HAIR),
  };
}

const WIDTH = 64;
const HEIGHT = 32;

/** Fields of colour that touch, from left to right, as the address of an image: an SVG without text, style or script. */
export function fieldsUri(hexes: readonly string[]): string {
  const fields = hexes.map((hex, i) => `<rect x="${i * WIDTH}" width="${WIDTH}" height="${HEIGHT}" fill="${hex}"/>`).join('');
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${hexes.length * WIDTH}" height="${HEIGHT}">${fields}</svg>`;
  return `data:image/svg+xml,${encodeURIComponent(svg)}`;
}
