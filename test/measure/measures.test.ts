import { describe, expect, test } from 'vitest';
import { MEASURE_IDS } from '../../src/measure/specs';
import { BENCH } from './benchCases';
import type { Case } from './cases';
import { COLOUR } from './colourCases';
import { number, valueIn, whyNot } from './tools';
import { TRACKING } from './trackingCases';

/** Every measure of the table: one value with what it rests on, and one refusal with its reason. */
const CASES: Readonly<Record<string, Case>> = { ...COLOUR, ...TRACKING, ...BENCH };

test('every measure of the table has its case, which says what its value rests on', () => {
  expect(Object.keys(CASES).sort()).toEqual([...MEASURE_IDS].sort());
  for (const [name, [, , basis]] of Object.entries(CASES)) expect(basis, name).toMatch(/^(published|constructed|independent): .{10,}/);
});

describe.each(Object.entries(CASES))('%s', (name, [make, expected, basis, refused, reason, { key, refusedKey, within = 1e-9 } = {}]) => {
  const id = name.slice(name.indexOf('.') + 1);
  const withKey = (k: string | undefined) => (k === undefined ? id : `${id}@${k}`);

  test(`has its value, ${basis}`, () => {
    expect(Math.abs(number(make(), withKey(key)) - expected)).toBeLessThanOrEqual(within);
  });

  test(`is refused as "${reason}"`, () => {
    expect(whyNot(valueIn(refused(), withKey(refusedKey)))).toBe(reason);
  });
});
