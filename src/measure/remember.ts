/** Slots of a memory: those of codes up to 12 bits do not meet. */
const SLOTS = 4096;

/** Below as many questions a memory costs more than it saves. */
const WORTH_IT = 256;

/**
 * The same function with a memory, for one that is asked `times` times: the drives of many patches are a few hundred codes, and what is
 * made of a code costs more than all the rest of a patch. Numbers that fall into one slot push each other out.
 * @param perUnit slots for a step of 1 of the argument
 */
export function remembering(compute: (n: number) => number, perUnit: number, times: number): (n: number) => number {
  if (times < WORTH_IT) return compute;
  const asked = new Float64Array(SLOTS).fill(Number.NaN);
  const known = new Float64Array(SLOTS);
  return (n) => {
    const slot = (n * perUnit + 0.5) & (SLOTS - 1);
    if (asked[slot] !== n) {
      asked[slot] = n;
      known[slot] = compute(n);
    }
    return known[slot]!;
  };
}

/** The same function, which computes once what figures of one context share. */
export function once<C extends object, T>(compute: (context: C) => T): (context: C) => T {
  const known = new WeakMap<C, { readonly is: T }>();
  return (context) => {
    let found = known.get(context);
    if (!found) {
      found = { is: compute(context) };
      known.set(context, found);
    }
    return found.is;
  };
}
