import fc from 'fast-check';
import { expect, it, test } from 'vitest';
import { isInPercent, MOST_LEVELS, readLevels } from '../../src/config/levels';

it.each<[string, number[]]>([
  ['5', [5]],
  ['0, 5,10 ,\t15', [0, 5, 10, 15]],
  ['0..100 step 25', [0, 25, 50, 75, 100]],
  ['100 .. 0  step 25', [100, 75, 50, 25, 0]],
  ['0..1 step 0.1', [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1]],
  ['0..0.3 step 0.1', [0, 0.1, 0.2, 0.3]],
  ['0..100 step 30', [0, 30, 60, 90]],
  ['-30..30 step 15', [-30, -15, 0, 15, 30]],
  ['5..5 step 1', [5]],
  ['11 steps', [0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100]],
  ['4 steps', [0, 33.3333, 66.6667, 100]],
  ['near-black', [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5]],
  ['100, 0..20 step 10, 100', [100, 0, 10, 20, 100]],
])('%s', (text, levels) => expect(readLevels(text)).toEqual(levels));

it.each([
  '',
  ' ',
  ',',
  '5,',
  '1e3',
  '5 %',
  '0,,5',
  '0..100',
  '0..100 step 0',
  '0..100 step -5',
  '1 steps',
  '2000 steps',
  '0..100000 step 1',
  'black',
  '1.',
  '.5',
  'steps',
  '__proto__',
  '0…5 step 1',
])('is not read: %j', (text) => expect(readLevels(text)).toBeUndefined());

it('says per cent by its words', () => {
  expect(['21 steps', 'near-black', '0, near-black'].map(isInPercent)).toEqual([true, true, true]);
  expect(['16..235 step 1', '64, 940'].map(isInPercent)).toEqual([false, false]);
});

test('a range holds its ends apart by the step, as many decimals as were written', () => {
  const number = fc.tuple(fc.integer({ min: -500, max: 500 }), fc.integer({ min: 0, max: 99 })).map(([a, b]) => `${a}.${b}`);
  fc.assert(
    fc.property(number, number, fc.integer({ min: 1, max: 400 }), (from, to, hundredths) => {
      const step = hundredths / 100;
      const levels = readLevels(`${from}..${to} step ${step}`);
      const count = Math.abs(Number(to) - Number(from)) / step;
      if (!levels) expect(count).toBeGreaterThan(MOST_LEVELS - 2);
      else {
        expect(count).toBeLessThan(MOST_LEVELS);
        expect(levels[0]).toBe(Number(from));
        for (const level of levels) expect(String(level)).toMatch(/^-?\d+(\.\d{1,2})?$/);
        expect(Math.abs(Number(to) - levels.at(-1)!)).toBeLessThan(step);
      }
    }),
    { seed: 20260314, numRuns: 300 },
  );
});
