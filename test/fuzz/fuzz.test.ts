import fc from 'fast-check';
import { describe, it } from 'vitest';
import { TARGETS } from './targets';

const CASES = 2000;
/** Fixed, so that what passes once passes always; `npm run fuzz` tries others. */
const SEED = 20260314;

describe('hostile input', () => {
  it.each(Object.entries(TARGETS))('%s', async (_, { share, property }) => {
    await fc.assert(
      property((run) => run((_name, step) => step())),
      { seed: SEED, numRuns: Math.ceil(CASES * share) },
    );
  });
});
