import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ContentChange, editsOf, linesWritten } from '../../src/editor/contentChanges';
import { applyEdits } from '../../src/text/span';

/** A change as an editor reports it, of the text that it meets. */
function change(met: string, start: number, end: number, text: string): ContentChange {
  const line = (offset: number) => met.slice(0, offset).split('\n').length - 1;
  return { rangeOffset: start, rangeLength: end - start, text, range: { start: { line: line(start) }, end: { line: line(end) } } };
}

const replaced = (text: string, { rangeOffset, rangeLength, text: put }: ContentChange) =>
  text.slice(0, rangeOffset) + put + text.slice(rangeOffset + rangeLength);

describe('Changes of an editor as edits', () => {
  it('are one list when they come from the bottom up, also where they touch', () => {
    const changes = [change('ab\ncd', 3, 5, 'X'), change('ab\nX', 3, 3, 'Y'), change('ab\nYX', 0, 3, '')];
    expect(editsOf(changes)).toEqual([
      [
        { span: [0, 3], text: '' },
        { span: [3, 3], text: 'Y' },
        { span: [3, 5], text: 'X' },
      ],
    ]);
    expect(applyEdits('ab\ncd', editsOf(changes)[0]!)).toBe('YX');
  });

  it('are a list each when a later one lies further down', () => {
    const changes = [change('ab', 0, 0, 'XX'), change('XXab', 3, 4, '')];
    expect(editsOf(changes)).toEqual([[{ span: [0, 0], text: 'XX' }], [{ span: [3, 4], text: '' }]]);
  });

  it('give the text that the changes give one by one, whatever their order', () => {
    const step = fc.record({ at: fc.nat(), length: fc.nat(3), text: fc.constantFrom('', '7', '\n', 'ab\n') });
    fc.assert(
      fc.property(fc.constantFrom<string>('', 'one\ntwo\nthree', '\n\n'), fc.array(step, { maxLength: 6 }), (start, steps) => {
        let text: string = start;
        const changes = steps.map(({ at, length, text: put }) => {
          const from = at % (text.length + 1);
          const made = change(text, from, Math.min(text.length, from + length), put);
          text = replaced(text, made);
          return made;
        });
        expect(editsOf(changes).reduce(applyEdits, start)).toBe(text);
      }),
    );
  });
});

describe('Lines written on', () => {
  it('are where the change ends: the new line after Enter', () => {
    expect(linesWritten([change('a\nb\n', 1, 1, '\n  ')])).toEqual(new Set([1]));
  });

  it('are counted as they stand after the changes above', () => {
    const text = 'a\nb\nc\n';
    const below = change(text, 5, 5, '7');
    expect(linesWritten([below, change(replaced(text, below), 1, 1, '\nx\n')])).toEqual(new Set([2, 4]));
    const joined = [below, change(replaced(text, below), 1, 2, '')];
    expect(linesWritten(joined)).toEqual(new Set([0, 1]));
  });
});
