import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { enveloped, MOST_POINTS } from '../../src/figure/envelope';

describe('the envelope of very many rows', () => {
  it('leaves up to 2,000 as they are', () => {
    const rows = Array.from({ length: MOST_POINTS }, (_, i) => i);
    expect(enveloped(rows, (i) => i)).toBe(rows);
  });

  it('keeps the lowest and the highest of each of 500 parts, in their order', () => {
    const rows = Array.from({ length: 5000 }, (_, i) => i);
    const kept = enveloped(rows, (i) => Math.sin(i));
    expect(kept.length).toBe(1000);
    expect(kept).toEqual([...kept].sort((a, b) => a - b));
    // Constructed: sin over 0 … 9 has its highest at 8 and its lowest at 5.
    expect(kept.slice(0, 2)).toEqual([5, 8]);
  });

  it('always holds the extremes of all', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ noNaN: true, noDefaultInfinity: true }), { minLength: 2001, maxLength: 6000 }), (values) => {
        const kept = enveloped(values, (v) => v);
        const [low, high] = [values, kept].map((list) => [list.reduce((p, q) => Math.min(p, q)), list.reduce((p, q) => Math.max(p, q))]);
        expect(high).toEqual(low);
      }),
      { numRuns: 20 },
    );
  });
});
