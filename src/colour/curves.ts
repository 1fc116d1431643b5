/** What a display with a power-like curve is given: luminances in cd/m² (or both relative), exponent γ > 0. */
export interface PowerCurve {
  readonly gamma: number;
  readonly Lw: number;
}

export interface BlackedCurve extends PowerCurve {
  readonly Lb: number;
}

/** The exponent of ITU-R BT.1886. */
export const BT1886_GAMMA = 2.4;

/**
 * L = Lw · V^γ. V is the signal, 0 black and 1 white; below 0 it counts as 0, above 1 the law goes on. Black is 0.
 */
export function powerEotf(V: number, { gamma, Lw }: PowerCurve): number {
  return Lw * Math.max(V, 0) ** gamma;
}

/** The signal V for a luminance L; L below 0 counts as 0. */
export function powerInverse(L: number, { gamma, Lw }: PowerCurve): number {
  return (L < 0 ? 0 : L / Lw) ** (1 / gamma);
}

/** L = Lb + (Lw − Lb) · V^γ: a power law that stands on the display's black. V as in `powerEotf`. */
export function powerOverBlackEotf(V: number, { gamma, Lw, Lb }: BlackedCurve): number {
  return Lb + (Lw - Lb) * Math.max(V, 0) ** gamma;
}

/** The signal V for a luminance L; L below Lb counts as Lb. */
export function powerOverBlackInverse(L: number, { gamma, Lw, Lb }: BlackedCurve): number {
  return (L < Lb ? 0 : (L - Lb) / (Lw - Lb)) ** (1 / gamma);
}

/** A `BlackedCurve` whose exponent may be left to the recommendation. */
export interface Bt1886Curve {
  readonly Lw: number;
  readonly Lb: number;
  readonly gamma?: number;
}

/**
 * The reference curve of SDR. Source: ITU-R BT.1886 (2011) Annex 1, L = a · max(V + b, 0)^γ, written without a and b:
 * (V·(Lw^(1/γ) − Lb^(1/γ)) + Lb^(1/γ))^γ, the same numbers, but sound when Lb = Lw too.
 *
 * V goes on below 0 until the light is 0, and above 1. Lb is the display's own black, without the room's light.
 */
export function bt1886Eotf(V: number, { Lw, Lb, gamma = BT1886_GAMMA }: Bt1886Curve): number {
  const white = Lw ** (1 / gamma);
  const black = Lb ** (1 / gamma);
  const root = V * (white - black) + black;
  return Math.max(root, 0) ** gamma;
}

/** The signal V for a luminance L; L below 0 counts as 0. Source: ITU-R BT.1886 (2011) Annex 1. Lb = Lw has none: not finite. */
export function bt1886Inverse(L: number, { Lw, Lb, gamma = BT1886_GAMMA }: Bt1886Curve): number {
  const white = Lw ** (1 / gamma);
  const black = Lb ** (1 / gamma);
  return (Math.max(L, 0) ** (1 / gamma) - black) / (white - black);
}

/**
 * Relative light of an sRGB signal. Source: IEC 61966-2-1:1999, threshold 0.04045. Below 0 the straight part goes on (and is negative),
 * above 1 the power law.
 */
export function srgbEotf(V: number): number {
  return V <= 0.04045 ? V / 12.92 : ((V + 0.055) / 1.055) ** 2.4;
}

/** The signal of a relative light, threshold 0.0031308. Source: IEC 61966-2-1:1999. */
export function srgbInverse(L: number): number {
  return L <= 0.0031308 ? L * 12.92 : 1.055 * L ** (1 / 2.4) - 0.055;
}

/**
 * The signal a camera makes of a relative scene light. Source: ITU-R BT.709-6 item 1.2. It is not what a display undoes: that is
 * BT.1886. Below 0 the straight part goes on, above 1 the power law.
 */
export function bt709Oetf(L: number): number {
  return L < 0.018 ? 4.5 * L : 1.099 * L ** 0.45 - 0.099;
}
