/** The constants of the perceptual quantiser. Source: SMPTE ST 2084:2014; ITU-R BT.2100 Table 4. */
export const PQ = {
  m1: 2610 / 16384,
  m2: (2523 / 4096) * 128,
  c1: 3424 / 4096,
  c2: (2413 / 4096) * 32,
  c3: (2392 / 4096) * 32,
  peak: 10000,
} as const;

const M1 = PQ.m1;
const M2 = PQ.m2;
const C1 = PQ.c1;
const C2 = PQ.c2;
const C3 = PQ.c3;
const INVERSE_M1 = 1 / M1;
const INVERSE_M2 = 1 / M2;

/**
 * PQ signal (0 … 1) to luminance in cd/m². Source: SMPTE ST 2084:2014; ITU-R BT.2100 Table 4. The curve ends at 10,000 cd/m²: a signal
 * below 0 gives 0, above 1 gives 10,000. NaN in, NaN out.
 */
export function pqEotf(signal: number): number {
  if (signal <= 0) return 0;
  if (signal >= 1) return PQ.peak;
  const root = signal ** INVERSE_M2;
  const above = root - C1;
  if (above <= 0) return 0;
  return PQ.peak * (above / (C2 - C3 * root)) ** INVERSE_M1;
}

/**
 * Luminance in cd/m² to PQ signal. Source: SMPTE ST 2084:2014; ITU-R BT.2100 Table 4. The signal of 0 cd/m² is 7.3e-7, not 0. Below 0 it
 * counts as 0, above 10,000 the signal is 1. NaN in, NaN out.
 */
export function pqInverse(luminance: number): number {
  if (luminance >= PQ.peak) return 1;
  // x^m as e^(m·ln x), which takes half the time: most of what colours in ICtCp cost.
  const root = luminance <= 0 ? 0 : Math.exp(M1 * Math.log(luminance / PQ.peak));
  return Math.exp(M2 * Math.log((C1 + C2 * root) / (1 + C3 * root)));
}
