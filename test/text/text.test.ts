import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { endBeforeBlanks, isBlank, skipBlanks, trimBlanks, words } from '../../src/text/blanks';
import { mendTitle, problem, sentence } from '../../src/text/finding';
import { fill, plainNumber } from '../../src/text/message';
import { nearest } from '../../src/text/neighbour';
import { applyEdits, type TextEdit } from '../../src/text/span';

const BLANKS = '\t \u00a0\u2007\u202f\u3000';

describe('blanks', () => {
  it('are six characters of all that there are', () => {
    const found = Array.from({ length: 0x10000 }, (_, code) => code).filter(isBlank);
    expect(String.fromCharCode(...found)).toBe(BLANKS);
  });
  it('are skipped and taken off within the part that is meant', () => {
    expect(skipBlanks('  a ', 0)).toBe(2);
    expect(skipBlanks('    ', 1, 3)).toBe(3);
    expect(endBeforeBlanks(' a\u3000 ', 0)).toBe(2);
    expect(endBeforeBlanks('    ', 2)).toBe(2);
    expect(trimBlanks('\u00a0a b\t')).toBe('a b');
    expect(trimBlanks(' \v ')).toBe('\v');
    expect(trimBlanks('   ')).toBe('');
  });
  it('part words', () => {
    expect(words('\ta\u3000b  c ')).toEqual(['a', 'b', 'c']);
    expect(words(' ')).toEqual([]);
  });
});

describe('edits', () => {
  it('are applied where the text before them says', () => {
    expect(
      applyEdits('abcdef', [
        { span: [0, 1], text: 'XY' },
        { span: [1, 1], text: '-' },
        { span: [3, 5], text: '' },
      ]),
    ).toBe('XY-bcf');
  });
  it('are refused when they overlap, run backwards or leave the text', () => {
    const bad: readonly (readonly TextEdit[])[] = [
      [
        { span: [0, 2], text: '' },
        { span: [1, 3], text: '' },
      ],
      [
        { span: [2, 2], text: '' },
        { span: [1, 1], text: '' },
      ],
      [{ span: [2, 1], text: '' }],
      [{ span: [0, 4], text: '' }],
      [{ span: [-1, 0], text: '' }],
    ];
    for (const edits of bad) expect(() => applyEdits('abc', edits)).toThrow(RangeError);
  });
});

describe('sentences', () => {
  it('are filled from their arguments, and show a missing one', () => {
    expect(fill('{a} and {b} of {c}', { a: 'x', b: 0.1 + 0.2 })).toBe('x and 0.3 of {c}');
    expect(fill('{a}', { a: '{b}', b: 'no' })).toBe('{b}');
  });
  it('show numbers with six digits at most', () => {
    expect([1 / 3, 1234567, 1e-9, Number.NaN, -0].map(plainNumber)).toEqual(['0.333333', '1234570', '1e-9', 'NaN', '0']);
  });
  it('of a problem and its mend are those of its code', () => {
    expect(sentence(problem('cell-surplus', [0, 1], { found: 5, expected: 4 }))).toBe(
      '5 cells under 4 columns: a column is missing, or a blank too many.',
    );
    expect(mendTitle('not-indented', {})).toBe('Indent');
    expect(mendTitle('header-part', { mended: 'like' })).toBe('Write like');
  });
});

describe('the nearest word', () => {
  const names = ['range', 'depth', 'refresh', 'window', 'mode'];
  it('is at most two slips away, one for a short word', () => {
    expect(nearest('rnage', names)).toBe('range');
    expect(nearest('refrsh', names)).toBe('refresh');
    expect(nearest('WINDOW', names)).toBe('window');
    expect(nearest('wndw', names)).toBeUndefined();
    expect(nearest('moed', names)).toBe('mode');
    expect(nearest('node', names)).toBe('mode');
    expect(nearest('nods', names)).toBeUndefined();
  });
  it('is none for the word itself, or for a text', () => {
    expect(nearest('range', ['range'])).toBeUndefined();
    expect(nearest('x'.repeat(41), ['x'.repeat(41)])).toBeUndefined();
  });
  it('is found after any one slip in a word of five letters or more', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('range', 'refresh', 'mastering-peak'),
        fc.nat(),
        fc.nat(2),
        fc.constantFrom(...'abcxyz-'),
        (word, n, kind, letter) => {
          const at = n % word.length;
          const slip = word.slice(0, at) + (kind === 0 ? '' : letter) + word.slice(at + (kind === 2 ? 0 : 1));
          if (slip !== word && slip.length > 4) expect(nearest(slip, [word])).toBe(word);
        },
      ),
      { seed: 20260314 },
    );
  });
});
