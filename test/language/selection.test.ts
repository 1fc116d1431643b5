import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { selectionAt } from '../../src/language/selection';
import { SessionText } from '../../src/session/sessionText';
import { examples, sessionLike } from '../session/sessions';
import { at, cut } from './cursor';

const grown = (marked: string): string[] => {
  const { source, text, offset } = at(marked);
  return selectionAt(source, offset).map((span) => cut(text, span));
};

describe('a selection grows', () => {
  it('from a cell to its row, table, run and file', () => {
    expect(grown('nitbook 1\n\ngreyscale g\n  mode: m\n    level   Y\n        30  6.‸70  | r # c\n        40  ?\n\nmode m')).toEqual([
      '6.70',
      '30  6.70',
      '30  6.70  | r # c',
      '        30  6.70  | r # c',
      'level   Y\n        30  6.70  | r # c\n        40  ?'.replace(/^/, '    '),
      'greyscale g\n  mode: m\n    level   Y\n        30  6.70  | r # c\n        40  ?',
      'nitbook 1\n\ngreyscale g\n  mode: m\n    level   Y\n        30  6.70  | r # c\n        40  ?\n\nmode m',
    ]);
  });
  it.each<[string, string[]]>([
    ['nitbook 1\nmode m\n  Picture / Ga‸mma: 2.4', ['Gamma', 'Picture / Gamma', 'Picture / Gamma: 2.4', '  Picture / Gamma: 2.4']],
    [
      'nitbook 1\nmode m\n  .automatic: a off, b o‸n # c',
      ['b on', 'a off, b on', '.automatic: a off, b on', '.automatic: a off, b on # c', '  .automatic: a off, b on # c'],
    ],
    [
      'nitbook 1\nmode m\n  "Screen: Over‸scan": off',
      ['Screen: Overscan', '"Screen: Overscan"', '"Screen: Overscan": off', '  "Screen: Overscan": off'],
    ],
    ['nitbook 1\nmode m\n  a:‸', ['a:', '  a:']],
  ])('in a property: %j', (marked, expected) => {
    const text = marked.replace('‸', '');
    expect(grown(marked)).toEqual([...expected, text.slice(10), text]);
  });
  it('in a head, a column line, a remark, a note, and in quotation marks', () => {
    expect(grown('nitbook 1\nmode m "Two wo‸rds"').slice(0, 3)).toEqual(['Two words', '"Two words"', 'mode m "Two words"']);
    expect(grown('nitbook 1\nlag l\n    place  lag[m‸s]').slice(0, 2)).toEqual(['lag[ms]', 'place  lag[ms]']);
    expect(grown('nitbook 1\nlag l\n    place  lag\n    a  1  | as ‸read # c').slice(0, 2)).toEqual(['as read', 'a  1  | as read # c']);
    expect(grown('nitbook 1\nlag l\n    place  lag\n    "a ‸b"  1').slice(0, 3)).toEqual(['a b', '"a b"', '"a b"  1']);
    expect(grown('nitbook 1\n  | a ‸note ').slice(0, 2)).toEqual(['| a note', '  | a note ']);
  });
  it('from nothing on a blank line', () => {
    expect(grown('nitbook 1\n\n‸\nmode m')).toEqual(['', 'nitbook 1\n\n\nmode m']);
  });

  test('each holds the one before and the offset, whatever the text and offset', () => {
    fc.assert(
      fc.property(fc.oneof(sessionLike, fc.constantFrom(...examples, '')), fc.double({ min: -0.1, max: 1.1 }), (text, where) => {
        const source = SessionText.read(text);
        const offset = where * text.length;
        const spans = selectionAt(source, offset);
        expect(spans.at(-1)).toEqual([0, text.length]);
        const within = Number.isNaN(offset) ? 0 : Math.min(Math.max(Math.trunc(offset), 0), text.length);
        for (const [i, [start, end]] of spans.entries()) {
          expect(start).toBeLessThanOrEqual(within);
          expect(end).toBeGreaterThanOrEqual(within);
          const inner = spans[i - 1];
          if (!inner) continue;
          expect(start).toBeLessThanOrEqual(inner[0]);
          expect(end).toBeGreaterThanOrEqual(inner[1]);
          expect(end - start).toBeGreaterThan(inner[1] - inner[0]);
        }
      }),
      { seed: 20260314, numRuns: 150 },
    );
  });
});
