/** Seeded randomness: the same name gives the same numbers on every machine, so a committed session can be compared byte for byte. */

/** A stream of uniform numbers in [0, 1). */
export type Uniform = () => number;

/** FNV-1a, 32 bits (public domain; draft-eastlake-fnv). Only spreads names over seeds, so its weakness does not matter. */
function hash(name: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < name.length; i++) h = Math.imul(h ^ name.charCodeAt(i), 0x01000193);
  return h >>> 0;
}

/**
 * A stream named by `name`. Naming a stream for each run keeps the readings of one run when another run is added before it.
 * Generator: a Weyl sequence with a 32-bit mixer (mulberry32, public domain).
 */
export function stream(name: string): Uniform {
  let state = hash(name);
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** One standard normal deviate (Box and Muller 1958); takes two uniforms, so that every deviate costs the same number of draws. */
export function normal(uniform: Uniform): number {
  const radius = Math.sqrt(-2 * Math.log(1 - uniform()));
  return radius * Math.cos(2 * Math.PI * uniform());
}
