import { computed, type Refused, type Result, refused, unequal } from './result';

/** A patch read under light from the room. */
export interface Ambient {
  /** Illuminance on the screen, lx. */
  readonly illuminance: ArrayLike<number>;
  /** cd/m²; NaN where open. */
  readonly luminance: ArrayLike<number>;
}

/** What a patch looks like under any illuminance E: dark + perLux·E. */
export interface Reflection {
  /** cd/m² in the dark. */
  readonly dark: number;
  /** cd/m² for every lx. */
  readonly perLux: number;
  /** ρ = π·perLux: the share of the light that comes back, were the screen matt all over. */
  readonly reflectance: number;
}

const reflection = (dark: number, perLux: number): Reflection => ({ dark, perLux, reflectance: Math.PI * perLux });

interface Row {
  readonly E: number;
  readonly Y: number;
}

function readRows({ illuminance, luminance }: Ambient): readonly Row[] | Refused {
  const wrong = unequal(illuminance, luminance);
  if (wrong) return wrong;
  const rows: Row[] = [];
  for (let i = 0; i < illuminance.length; i++) {
    const [E, Y] = [illuminance[i]!, luminance[i]!];
    if (E < 0) return refused('illuminance-negative', { lx: E });
    if (Number.isFinite(E) && Number.isFinite(Y)) rows.push({ E, Y });
  }
  return rows;
}

const isRefused = (rows: readonly Row[] | Refused): rows is Refused => 'ok' in rows;

/**
 * The straight line of luminance over illuminance (least squares) through the readings of a patch: reflected light adds to the light
 * of the display. L = ρ·E/π for a matt surface is textbook photometry (Lambert); a glossy screen has one such line for the room it was
 * read in, and another in the next. Refused without two different illuminances, and for a line that falls.
 */
export function reflectionOf(run: Ambient): Result<Reflection> {
  const rows = readRows(run);
  return isRefused(rows) ? rows : line(rows);
}

function line(rows: readonly Row[]): Result<Reflection> {
  const mean = (of: (row: Row) => number) => rows.reduce((sum, row) => sum + of(row), 0) / rows.length;
  const [E, Y] = [mean((row) => row.E), mean((row) => row.Y)];
  const spread = rows.reduce((sum, row) => sum + (row.E - E) ** 2, 0);
  if (!(spread > 0)) return refused('no-illuminance');
  const perLux = rows.reduce((sum, row) => sum + (row.E - E) * (row.Y - Y), 0) / spread;
  return perLux >= 0 ? computed(reflection(Y - perLux * E, perLux)) : refused('light-lowers');
}

export interface UnderLight {
  /** cd/m² under the illuminance asked for. */
  readonly white: number;
  readonly black: number;
  readonly contrast: number;
}

/**
 * White, black and contrast under an illuminance of E lx: either patch by its own line, or, when it was read under one illuminance only,
 * by the reflectance of the other. An interpolation, or beyond the illuminances that were read an extrapolation, on that line.
 * Refused where neither patch has a line, for E < 0, and when black comes out at 0 or below, which leaves no contrast.
 *
 * A black that could not be seen in the dark goes in once as 0 and once as the floor; the contrast for the floor is the "at least".
 */
export function underLight(E: number, white: Ambient, black: Ambient): Result<UnderLight> {
  if (!(E >= 0)) return refused('illuminance-negative', { lx: E });
  const light = readRows(white);
  if (isRefused(light)) return light;
  const dark = readRows(black);
  if (isRefused(dark)) return dark;
  const ofWhite = lineOrBorrowed(light, dark);
  if (!ofWhite.ok) return ofWhite;
  const ofBlack = lineOrBorrowed(dark, light);
  if (!ofBlack.ok) return ofBlack;
  const at = ({ v: { dark: Y, perLux } }: { readonly v: Reflection }) => Y + perLux * E;
  const [Yw, Yb] = [at(ofWhite), at(ofBlack)];
  return Yb > 0 && Yw > 0 ? computed({ white: Yw, black: Yb, contrast: Yw / Yb }) : refused('no-light');
}

function lineOrBorrowed(rows: readonly Row[], others: readonly Row[]): Result<Reflection> {
  const own = line(rows);
  if (own.ok || own.why.code !== 'no-illuminance' || rows.length === 0) return own;
  const borrowed = line(others);
  if (!borrowed.ok) return borrowed;
  const { perLux } = borrowed.v;
  return computed(reflection(rows.reduce((sum, { E, Y }) => sum + Y - perLux * E, 0) / rows.length, perLux));
}
