import fc from 'fast-check';
import { expect, it, test } from 'vitest';
import { foldings } from '../../src/language/folding';
import { SessionText } from '../../src/session/sessionText';
import { examples, sessionLike } from '../session/sessions';

const TEXT = `nitbook 1
# Two lines
# at the top.

mode cinema
  Gamma: 2.4
  | One note,
  | two lines.
# and a comment of the mode

# About the run below.
greyscale grey
  mode: cinema
    level   Y
        30  6.70
        40  12.5
  note: after the rows

limits
`;

it('folds blocks, tables, and comments or notes of several lines', () => {
  expect(foldings(SessionText.read(TEXT)).map(({ from, to, is }) => `${is} ${from}-${to}`)).toEqual([
    'comment 1-2',
    'block 4-8',
    'comment 6-7',
    'block 11-16',
    'table 13-15',
  ]);
  expect(foldings(SessionText.read(TEXT.replaceAll('\n', '\r')))).toEqual(foldings(SessionText.read(TEXT)));
});

test('folds are in order, inside the text and never start on one line twice, whatever the text', () => {
  fc.assert(
    fc.property(fc.oneof(sessionLike, fc.constantFrom(...examples, '')), (text) => {
      const source = SessionText.read(text);
      let last = -1;
      for (const { from, to } of foldings(source)) {
        expect(from).toBeGreaterThan(last);
        expect(to).toBeGreaterThan(from);
        expect(to).toBeLessThan(source.lines.length);
        last = from;
      }
    }),
    { seed: 20260314, numRuns: 100 },
  );
});
