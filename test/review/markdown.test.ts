import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LONGEST_REVIEW, readReview } from '../../src/review/markdown';
import { OTHER } from '../../src/review/written';

/** Each reference: kind, label as it is read, target, and both as they are written. */
const found = (text: string) =>
  readReview(text).mentions.map(({ is, label, target, span, labelSpan, targetSpan }) => ({
    is,
    label: label.text,
    target,
    whole: text.slice(...span),
    written: text.slice(...labelSpan),
    at: text.slice(...targetSpan),
  }));

const wholes = (text: string) => found(text).map(({ whole }) => whole);

describe('a reference in Markdown', () => {
  it('is a link, with its places', () => {
    expect(found('It peaks at [505 nits](a.nitbook#w.peak).')).toEqual([
      {
        is: 'link',
        label: '505 nits',
        target: 'a.nitbook#w.peak',
        whole: '[505 nits](a.nitbook#w.peak)',
        written: '505 nits',
        at: 'a.nitbook#w.peak',
      },
    ]);
  });

  it.each([
    ['in a heading', '# Peak: [505](a.nitbook#w.peak) #'],
    ['in a heading that is underlined', 'Peak: [505](a.nitbook#w.peak)\n==='],
    ['in a list', '- one\n- two\n\n  and [505](a.nitbook#w.peak)'],
    ['in a list indented by a tab', '-\tone [505](a.nitbook#w.peak)\n\n\ttwo'],
    ['in a quotation', '> said\n> of [505](a.nitbook#w.peak)'],
    ['in a lazy line of a quotation', '> said\nof [505](a.nitbook#w.peak)'],
    ['in a list in a quotation', '> 1. said\n>    of [505](a.nitbook#w.peak)'],
    ['in a cell', '| a | b |\n|---|---|\n| 505 | [505](a.nitbook#w.peak) |'],
    ['in a cell without marks around', 'a | b\n---|---\n505 | [505](a.nitbook#w.peak)'],
    ['in the head of a table', '| [505](a.nitbook#w.peak) |\n|---|\n| a |'],
    ['in emphasis', 'peaks **at [505](a.nitbook#w.peak)**'],
    ['with a title', '[505](a.nitbook#w.peak "Peak")'],
    ['behind a byte order mark', '\uFEFF[505](a.nitbook#w.peak)'],
    ['between Windows line ends', 'a\r\nb\r\n\r\n[505](a.nitbook#w.peak)\r\n'],
    ['between old line ends', 'a\rb\r\r[505](a.nitbook#w.peak)\r'],
    ['behind letters of two units', '\u{1F4CF} [505](a.nitbook#w.peak)'],
    ['behind a zero byte', 'a\0 [505](a.nitbook#w.peak)'],
    ['at the end of a line with blanks', 'a\n[505](a.nitbook#w.peak)   \nb'],
    ['behind what only begins as a link', '[a [505](a.nitbook#w.peak)'],
  ])('is found %s', (_, text) => {
    const { mentions } = readReview(text);
    expect(mentions.map(({ label, labelSpan, targetSpan }) => [label.text, text.slice(...labelSpan), text.slice(...targetSpan)])).toEqual([
      ['505', '505', 'a.nitbook#w.peak'],
    ]);
    expect(text.slice(mentions[0]!.span[0], mentions[0]!.span[0] + 4)).toBe('[505');
    expect(text[mentions[0]!.span[1] - 1]).toBe(')');
  });

  it.each([
    ['in code', 'as `[505](a.nitbook#w.peak)`'],
    ['in a fenced block', '```md\n[505](a.nitbook#w.peak)\n```'],
    ['in an indented block', 'a\n\n    [505](a.nitbook#w.peak)'],
    ['in a comment', '<!-- [505](a.nitbook#w.peak) -->'],
    ['in HTML', '<div>\n[505](a.nitbook#w.peak)\n</div>'],
    ['where it is escaped', '\\[505](a.nitbook#w.peak)'],
    ['where a blank breaks the target', '[505](a.nitbook#w peak)'],
    ['where no definition is', '[505][pk] a.nitbook#w.peak'],
    ['that names a file alone', '[the day](a.nitbook)'],
    ['that is an address', '<https://halden.example/a.nitbook#w.peak>'],
  ])('is not found %s', (_, text) => {
    expect(readReview(text).mentions).toEqual([]);
  });

  it('says what is read: emphasis, escapes, entities, code and line ends', () => {
    expect(found('[**1,043**\\:1 &amp; `2.14.8`\nmore](a.nitbook#c.sequential)')[0]!.label).toBe('1,043:1 & 2.14.8 more');
    expect(found('[5*3* and a_b](a.nitbook#c.x)')[0]!.label).toBe('53 and a_b');
    expect(found('[~~505~~ 815](a.nitbook#c.x)')[0]!.label).toBe('505 815');
  });

  it('has its target in angle brackets, with escapes and entities', () => {
    const text = '[a](<a b.nitbook#c.d>) [b](a\\.nitbook#c.d) [c](a.nitbook&#35;c.d)';
    expect(found(`${text} a.nitbook#`).map(({ target, at }) => [target, at])).toEqual([
      ['a b.nitbook#c.d', 'a b.nitbook#c.d'],
      ['a.nitbook#c.d', 'a\\.nitbook#c.d'],
      ['a.nitbook#c.d', 'a.nitbook&#35;c.d'],
    ]);
    expect(readReview(`${text} a.nitbook#`).mentions.map(({ isPlain }) => isPlain)).toEqual([true, false, false]);
  });

  it('names a definition by its label, whole, empty or alone', () => {
    const text = '[505][Pk], [pk][] and [PK]\n\n> [pk]: a.nitbook#w.peak\n\n[pk]: b.nitbook#w.peak';
    expect(found(text).map(({ label, whole, at }) => [label, whole, at])).toEqual([
      ['505', '[505][Pk]', 'a.nitbook#w.peak'],
      ['pk', '[pk][]', 'a.nitbook#w.peak'],
      ['PK', '[PK]', 'a.nitbook#w.peak'],
    ]);
    // The first one counts.
    expect(readReview(text).mentions[0]!.targetSpan[0]).toBe(text.indexOf('a.nitbook'));
    const twice = '[505][pk]\n\n[pk]: a.nitbook#w.peak\n[pk]: a.nitbook#w.peak';
    expect(readReview(twice).mentions[0]!.targetSpan[0]).toBe(twice.indexOf('a.nitbook'));
  });

  it('is an image, also one in a link', () => {
    expect(found('![Balance](a.nitbook#g+h.balance)')[0]).toMatchObject({ is: 'image', label: 'Balance', written: 'Balance' });
    expect(wholes('[![x](a.nitbook#g.balance) 505](a.nitbook#w.peak)')).toEqual([
      '[![x](a.nitbook#g.balance) 505](a.nitbook#w.peak)',
      '![x](a.nitbook#g.balance)',
    ]);
    expect(wholes('![[505](a.nitbook#w.peak)](a.nitbook#g.balance)')).toEqual(['![[505](a.nitbook#w.peak)](a.nitbook#g.balance)']);
  });

  it('is a word in a line of a fenced block called nitbook', () => {
    const text =
      '- x\n\n  ~~~nitbook wide\n  table a.nitbook#grey\n\tcompare a.nitbook#grey.de b.nitbook#grey.de\n  ~~~\n\n```\nb.nitbook#no\n```';
    expect(found(text).map(({ is, label, at }) => [is, label, at])).toEqual([
      ['instruction', 'table a.nitbook#grey', 'a.nitbook#grey'],
      ['instruction', 'compare a.nitbook#grey.de b.nitbook#grey.de', 'a.nitbook#grey.de'],
      ['instruction', 'compare a.nitbook#grey.de b.nitbook#grey.de', 'b.nitbook#grey.de'],
    ]);
  });

  it('in a cell with an escaped bar is found, though not letter by letter', () => {
    const text = '| a | b |\n|---|---|\n| [5 \\| 6](a.nitbook#w.peak) | [7](a.nitbook#w.full) |';
    const { mentions } = readReview(text);
    expect(mentions.map(({ target, isPlain }) => [target, isPlain])).toEqual([
      ['a.nitbook#w.peak', false],
      ['a.nitbook#w.full', true],
    ]);
    expect(text.slice(...mentions[1]!.span)).toBe('[7](a.nitbook#w.full)');
    expect(mentions[0]!.label.spanOf([0, 1])).toBeUndefined();
  });

  it('in a cell behind one with an escaped bar stands where it is, not in that one', () => {
    const link = '[7](a.nitbook#w.full)';
    const text = `| a | b |\n|---|---|\n| x \\| ${link} | ${link} |`;
    expect(readReview(text).mentions.at(-1)!.span[0]).toBe(text.lastIndexOf(link));
  });

  it('knows where each part of its label stands, and where marks stand in between', () => {
    const text = '[10 % at **505** nits and 1,043\\:1](a.nitbook#w.peak)';
    const { label } = readReview(text).mentions[0]!;
    const placed = (part: string) => {
      const at = label.text.indexOf(part);
      const span = label.spanOf([at, at + part.length]);
      return span && text.slice(...span);
    };
    expect(label.text).toBe('10 % at 505 nits and 1,043:1');
    expect([placed('10 %'), placed('505'), placed('nits'), placed('1,043:1')]).toEqual(['10 %', '505', 'nits', '1,043\\:1']);
    expect([placed('505 nits'), placed('at 505')]).toEqual([undefined, undefined]);
  });
});

describe('the prose of a review', () => {
  it('is its paragraphs, headings and cells, without links, images and code', () => {
    const text =
      '# Peak\n\nIt has [505](a.nitbook#w.peak) and [more](https://x.example), `code` and ![x](y.png)\nhere.\n\n| a |\n|---|\n| 5 nits |\n\n    code\n';
    expect(readReview(text).prose.map((words) => words.text.replaceAll(OTHER, '◦'))).toEqual([
      'Peak',
      'It has ◦ and ◦, ◦ and ◦ here.',
      'a',
      '5 nits',
    ]);
  });

  it('is none where nothing refers to a session', () => {
    expect(readReview('It peaks at 505 nits.').prose).toEqual([]);
    expect(readReview('`a.nitbook#w.peak` is 505 nits.').prose).toEqual([]);
  });
});

describe('any text', () => {
  const PIECES = [
    '[505 nits](a.nitbook#w.peak)',
    '![x](a.nitbook#g.balance)',
    '[a][b]',
    '[b]: a.nitbook#c.d',
    '```nitbook',
    'table a.nitbook#g',
  ];
  const MARKS = [
    '\n',
    '\n\n',
    '> ',
    '- ',
    '1. ',
    '\t',
    '    ',
    '*',
    '**',
    '_',
    '`',
    '|',
    '|-|-|',
    '[',
    ']',
    '(',
    ')',
    '<',
    '>',
    '\\',
    '&amp;',
    '\r\n',
    '#',
    '~~',
    '\uFEFF',
    '<!--',
    '\u{1F4CF}',
  ];

  it('is read, with places within it that hold what is said of them', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...PIECES, ...MARKS, 'a', '505', ' ', ' '), { maxLength: 60 }), (pieces) => {
        const text = pieces.join('');
        const { mentions, prose } = readReview(text);
        let before = -1;
        for (const { span, labelSpan, targetSpan, target, isPlain, label } of mentions) {
          for (const [start, end] of [span, labelSpan, targetSpan]) {
            expect(start).toBeGreaterThanOrEqual(0);
            expect(end).toBeGreaterThanOrEqual(start);
            expect(end).toBeLessThanOrEqual(text.length);
          }
          expect(span[0]).toBeGreaterThanOrEqual(before);
          before = span[0];
          if (isPlain) expect(text.slice(...targetSpan)).toBe(target);
          for (const part of ['505', 'a']) {
            const at = label.text.indexOf(part);
            const place = at < 0 ? undefined : label.spanOf([at, at + part.length]);
            if (place) expect(text.slice(...place)).toBe(part);
          }
        }
        for (const words of prose) {
          const at = words.text.indexOf('505');
          const place = at < 0 ? undefined : words.spanOf([at, at + 3]);
          if (place) expect(text.slice(...place)).toBe('505');
        }
      }),
      { seed: 20260314, numRuns: 3000 },
    );
  });

  it('that is longer than a book is left alone', () => {
    expect(readReview(`[505](a.nitbook#w.peak)${' '.repeat(LONGEST_REVIEW)}`).mentions).toEqual([]);
  });
});
