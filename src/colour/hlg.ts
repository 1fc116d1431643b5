import type { Vec3 } from './vector';

const A = 0.17883277;

/** Hybrid log-gamma: b = 1 − 4a (0.28466892), c = 0.5 − a·ln(4a) (0.55991073). Source: ITU-R BT.2100 Table 5. */
export const HLG = { a: A, b: 1 - 4 * A, c: 0.5 - A * Math.log(4 * A) } as const;

/** Luminance weights of BT.2100 RGB as the recommendation prints them; the OOTF acts on this sum, not on each channel. */
const WEIGHTS: Vec3 = [0.2627, 0.678, 0.0593];

export interface HlgDisplay {
  /** Nominal peak luminance, cd/m². */
  readonly Lw: number;
  /** Black, cd/m²; 0 when left out. */
  readonly Lb?: number;
  /** System gamma; that of `hlgSystemGamma(Lw)` when left out. */
  readonly gamma?: number;
}

/**
 * Relative scene light (0 … 1) to HLG signal. Source: ITU-R BT.2100 Table 5. Below 0 it counts as 0; above 1 the logarithm goes on
 * (signals to 109 % are in use).
 */
export function hlgOetf(E: number): number {
  if (E <= 0) return 0;
  return E <= 1 / 12 ? Math.sqrt(3 * E) : HLG.a * Math.log(12 * E - HLG.b) + HLG.c;
}

/** HLG signal to relative scene light. Source: ITU-R BT.2100 Table 5. A signal below 0 gives 0; above 1 the exponential goes on. */
export function hlgInverseOetf(signal: number): number {
  if (signal <= 0) return 0;
  return signal <= 0.5 ? (signal * signal) / 3 : (Math.exp((signal - HLG.c) / HLG.a) + HLG.b) / 12;
}

/** γ = 1.2 + 0.42·log10(Lw/1000), meant for 400 … 2,000 cd/m². Source: ITU-R BT.2100 Note 5f. */
export function hlgSystemGammaLog10(Lw: number): number {
  return 1.2 + 0.42 * Math.log10(Lw / 1000);
}

/**
 * The system gamma for a display of nominal peak Lw, cd/m²: the log10 form from 400 to 2,000, else 1.2 · 1.111^log2(Lw/1000).
 * Source: ITU-R BT.2100 Note 5f; Report ITU-R BT.2390. The two forms do not meet: γ steps by 0.011 at 400 and by 0.007 at 2,000.
 * Lw ≤ 0 gives 0 or NaN.
 */
export function hlgSystemGamma(Lw: number): number {
  return Lw >= 400 && Lw <= 2000 ? hlgSystemGammaLog10(Lw) : 1.2 * 1.111 ** Math.log2(Lw / 1000);
}

/** β of the black lift: signal 0 gives Lb. Source: ITU-R BT.2100-2 Table 5. */
function blackLift(Lb: number, Lw: number, gamma: number): number {
  return Lb > 0 ? Math.sqrt(3 * (Lb / Lw) ** (1 / gamma)) : 0;
}

/** Scene light of one channel, with the black lift. */
function sceneLight(signal: number, lift: number): number {
  return hlgInverseOetf((1 - lift) * signal + lift);
}

/**
 * Luminance, cd/m², of a grey of this signal. Source: ITU-R BT.2100-2 Table 5. The signal may exceed 1 (10-bit code 1019 at
 * narrow range, 109.018 %, is 1,810.9 cd/m² on a 1,000 cd/m² display); below 0 it goes on down to no light.
 */
export function hlgEotfGrey(signal: number, display: HlgDisplay): number {
  const { Lw, Lb = 0, gamma = hlgSystemGamma(Lw) } = display;
  return Lw * sceneLight(signal, blackLift(Lb, Lw, gamma)) ** gamma;
}

/** The signal of a grey of this luminance, cd/m²: the inverse of `hlgEotfGrey`. Below the black it goes on towards the end of the lift. */
export function hlgInverseGrey(luminance: number, display: HlgDisplay): number {
  const { Lw, Lb = 0, gamma = hlgSystemGamma(Lw) } = display;
  const lift = blackLift(Lb, Lw, gamma);
  return (hlgOetf((luminance <= 0 ? 0 : luminance / Lw) ** (1 / gamma)) - lift) / (1 - lift);
}

/**
 * HLG signals R′, G′, B′ to the display's linear BT.2020 RGB, cd/m² (a white has the luminance in each channel).
 * Source: ITU-R BT.2100-2 Table 5 and Note 5e: the OOTF multiplies all channels by Ys^(γ − 1), Ys the scene luminance, so a saturated
 * colour is not each channel's own grey. A black scene stays black.
 */
export function hlgEotf(rgb: Vec3, display: HlgDisplay): Vec3 {
  const { Lw, Lb = 0, gamma = hlgSystemGamma(Lw) } = display;
  const lift = blackLift(Lb, Lw, gamma);
  const r = sceneLight(rgb[0], lift);
  const g = sceneLight(rgb[1], lift);
  const b = sceneLight(rgb[2], lift);
  const luminance = WEIGHTS[0] * r + WEIGHTS[1] * g + WEIGHTS[2] * b;
  if (luminance === 0) return [0, 0, 0];
  const k = Lw * luminance ** (gamma - 1);
  return [k * r, k * g, k * b];
}
