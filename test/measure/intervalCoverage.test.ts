import { describe, expect, test } from 'vitest';
import { METERS } from '../uncertainty/coverage';
import { coverageOf, RUNS } from './intervalCoverage';

// A short version of `npm run check:coverage`. Seeds are fixed.
const SESSIONS = 100;
/** 94 in 100, less four standard deviations of a count of so many: more than a hundred are looked at. */
const LEAST = 0.94 - 4 * Math.sqrt((0.05 * 0.95) / SESSIONS);
const ACCURATE = METERS[1]!;

describe('intervals of a session hold what is true', () => {
  const some = ['perfect', 'lifted', 'borrowing', 'gamut-p3', 'windows', 'pair', 'even', 'hold', 'side'];
  const runs = RUNS.filter((list) => some.includes(list[list.length - 1]!.name));

  test.each(runs.map((list) => [list[list.length - 1]!.name, list] as const))('of all figures of %s', (_, list) => {
    const covered = coverageOf(list, ACCURATE, SESSIONS);
    expect(covered.size).toBeGreaterThan(0);
    for (const [id, share] of covered) expect(share, id).toBeGreaterThanOrEqual(LEAST);
  });

  test('and not where the meter is four times worse than it states', () => {
    const worse = { ...ACCURATE, states: { ...ACCURATE.states, accuracy: { xy: 0.0005, Y: 0.005 }, spread: { xy: 0.0001, Y: 0.00125 } } };
    const covered = coverageOf(runs.find((list) => list[0]!.name === 'lifted')!, worse, SESSIONS);
    for (const id of ['white.luminance', 'cct', 'exponent', 'drift']) expect(covered.get(id), id).toBeLessThan(0.6);
  });
});
