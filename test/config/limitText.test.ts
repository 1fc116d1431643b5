import fc from 'fast-check';
import { expect, test } from 'vitest';
import { leadingNumber } from '../../src/session/number';
import { readValue } from '../../src/session/values';
import { type Limits, readBound, readLimits } from '../../src/text/limitText';
import { limitText } from './limitTexts';

test.each<[string, Limits]>([
  ['aim 1, limit 3', { aim: { high: 1 }, limit: { high: 3 } }],
  ['limit 3, aim 1', { aim: { high: 1 }, limit: { high: 3 } }],
  ['aim 2000', { aim: { high: 2000 } }],
  ['limit -5..5', { limit: { low: -5, high: 5 } }],
  ['limit 1..2', { limit: { low: 1, high: 2 } }],
  ['limit .5..1.', { limit: { low: 0.5, high: 1 } }],
  ['limit 2..2', { limit: { low: 2, high: 2 } }],
  ['aim ±2, limit ±5', { aim: { high: 2 }, limit: { high: 5 } }],
  ['limit \u22125..5', { limit: { low: -5, high: 5 } }],
  ['aim 1e-3', { aim: { high: 0.001 } }],
  [' aim\u00A01 ,  limit 3 ', { aim: { high: 1 }, limit: { high: 3 } }],
])('"%s" is a limit', (text, expected) => {
  expect(readLimits(text)).toEqual(expected);
});

test.each([
  '',
  '3',
  'aim',
  'aim 1 limit 3',
  'aim 1,limit 3',
  'aim 1, aim 2',
  'goal 1',
  'Aim 1',
  'aim one',
  'aim 1,5',
  'limit 5..-5',
  'limit ±1..2',
  'limit 1..',
  'limit 1 .. 2',
  'limit 1...',
  'limit 3 %',
  'aim 1, limit',
  'aim 1e999',
  'aim ٣',
])('"%s" is none', (text) => {
  expect(readLimits(text)).toBeUndefined();
});

test('a bound is a number of the session format', () => {
  const text = fc.oneof(
    fc.string({ unit: fc.constantFrom('1', '0', '.', '-', '+', 'e', '\u2212', '±'), maxLength: 8 }),
    fc.double({ noNaN: true }).map(String),
  );
  fc.assert(
    fc.property(
      text.filter((t) => !t.includes('..')),
      (t) => {
        const number = t.startsWith('±') ? t.slice(1) : t;
        const expected = leadingNumber(number);
        expect(readBound(t)).toEqual(expected?.end === number.length ? { high: expected.value } : undefined);
      },
    ),
    { seed: 20260314, numRuns: 5000 },
  );
});

test('sessions and configuration read a limit alike', () => {
  fc.assert(
    fc.property(limitText, (text) => {
      const limits = readLimits(text);
      const reading = readValue({ is: 'limit' }, text);
      expect(reading.ok).toBe(limits !== undefined);
      if (reading.ok) expect(reading.value).toEqual({ is: 'limit', ...limits });
    }),
    { seed: 20260315, numRuns: 1000 },
  );
});
