import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { semanticMarks, struckSpans } from '../../src/language/marks';
import { SessionText } from '../../src/session/sessionText';
import { examples, sessionLike } from '../session/sessions';
import { cut } from './cursor';

const TEXT = `nitbook 1
mode cinema
  .input: HDMI 1
  Gamma: 2.4
  .nonsense: 1
mode tuned from cinema
  Gamma: ~
  .input: HDMI 2
  Sharpness: 0
  ~ Sharpness: 5
greyscale grey
  mode: tuned
  target: nowhere
  modes: 1
  x-run: 7
    level   Y         foo     Y[%]
        30  6.70
  ~     40  5  | slip  # c
~ tuning t like grey
  mode: cinema

  # a comment
    "Red"   Y
         1  5
# about the next

tuning u
    "Red"   x
`;

describe('what is struck out', () => {
  it('is the contents of its lines, and of all lines of a voided block but comments', () => {
    expect(struckSpans(SessionText.read(TEXT)).map((span) => cut(TEXT, span))).toEqual([
      '~ Sharpness: 5',
      '~     40  5  | slip  # c',
      '~ tuning t like grey',
      'mode: cinema',
      '"Red"   Y',
      '1  5',
    ]);
  });
});

describe('marks', () => {
  it('tell names of the format from own and unknown ones, what stands in place of what is taken over, and where ids lead', () => {
    const marks = semanticMarks(SessionText.read(TEXT)).map(
      ({ span, is, instead }) => `${cut(TEXT, span)}: ${is}${instead ? ` ${instead}` : ''}`,
    );
    expect(marks).toEqual([
      '.input: format',
      'Gamma: own',
      '.nonsense: unknown',
      'cinema: reference',
      'Gamma: own removes',
      '.input: format overrides',
      'Sharpness: own',
      'mode: format',
      'tuned: reference',
      'target: format',
      'modes: unknown',
      'x-run: own',
      'level: key',
      'Y: reading',
      'foo: unread',
      'Y[%]: unread',
      '"Red": key',
      'x: reading',
    ]);
  });

  test('and struck spans are in order and apart, whatever the text', () => {
    fc.assert(
      fc.property(fc.oneof(sessionLike, fc.constantFrom(...examples)), (text) => {
        const source = SessionText.read(text);
        for (const spans of [struckSpans(source), semanticMarks(source).map(({ span }) => span)]) {
          let last = 0;
          for (const [start, end] of spans) {
            expect(start).toBeGreaterThanOrEqual(last);
            expect(end).toBeGreaterThan(start);
            expect(cut(text, [start, end])).not.toMatch(/[\r\n]/);
            last = end;
          }
          expect(last).toBeLessThanOrEqual(text.length);
        }
      }),
      { seed: 20260314, numRuns: 100 },
    );
  });
});
