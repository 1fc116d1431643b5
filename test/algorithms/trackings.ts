import type { Tracking } from '../../src/algorithms/tracking';
import { eetfLuminance } from '../../src/colour/eetf';
import { pqEotf } from '../../src/colour/pq';

/** A 5 % grid of PQ on a display that maps from Lw to Lmax, brighter as a whole by `offset` stops. */
export function rolledOff(Lw: number, Lmax: number, offset = 0, top = 20): Tracking {
  const signals = Array.from({ length: top + 1 }, (_, i) => i / 20);
  return {
    signals,
    luminance: signals.map((s) => eetfLuminance(pqEotf(s), { Lb: 0, Lw, Lmin: 0, Lmax }) * 2 ** offset),
    u: signals.map(() => 0.005),
  };
}

/** Rows that deviate from PQ by so many stops. */
export function deviating(rows: readonly (readonly [signal: number, d: number])[], u = 0.005): Tracking {
  return {
    signals: rows.map(([s]) => s),
    luminance: rows.map(([s, d]) => pqEotf(s) * 2 ** d),
    u: rows.map(() => u),
  };
}
