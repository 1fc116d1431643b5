import { describe, expect, it } from 'vitest';
import { isMend, textDifference } from '../../src/session/difference';
import { SessionText } from '../../src/session/sessionText';

const between = (before: string, after: string) => textDifference(SessionText.read(before), SessionText.read(after));
const blocks = (before: string, after: string) =>
  between(before, after).blocks.map(({ is, keyword, id, was }) => [is, keyword, id, ...(was === undefined ? [] : [was])].join(' '));
const rows = (before: string, after: string) =>
  between(before, after).blocks.flatMap((block) =>
    block.rows.map(({ is, key, was, cells, struck }) =>
      [
        struck ? '~' : '',
        key.map(({ text, unit }) => text + unit).join(' '),
        ' ',
        is,
        was ? ` ${was.map(({ text }) => text).join(' ')}` : '',
        ...cells.map(({ column, from, to }) => ` ${column} ${from}>${to}`),
      ].join(''),
    ),
  );

const text = `nitbook 1

session 2026-03-14
  room: 0.02 lx
mode cinema "As shipped"
  Picture / Gamma: 2.4
  White / Gain red: ?
mode film from cinema
  Picture / Gamma: 2.2

greyscale grey
  mode: cinema
    level   Y         x        y
         0  <0.003    -        -
        30  6.70      0.3099   0.3279
        40  ?         ?        ?
        50  22.88     0.3110   0.3280
       100  119.6     0.3089   0.3248
`;
const put = (from: string | RegExp, to: string, of = text) => {
  const result = of.replace(from, to);
  expect(result, `${from} is there`).not.toBe(of);
  return result;
};

describe('two versions of a session', () => {
  it('are alike where only blanks, comments, notes and the writing of numbers and values differ', () => {
    const other = put('    100  119.6   ', '  100 119.60 ')
      .replace('0.02 lx', '0.02  lx # dark')
      .replace('mode film', '| a note\n# a comment\n\nmode film');
    expect(between(text, other)).toMatchObject({ blocks: [], isIdentical: false });
    expect(between(text, text)).toMatchObject({ blocks: [], isIdentical: true });
    expect(between(text, text.replaceAll('\n', '\r\n')).blocks).toEqual([]);
  });

  it('tell settings by name: changed, noted, new, and taken out', () => {
    const other = put('Gamma: 2.4', 'Gamma: 2.3', put('Gain red: ?', 'Gain red: -3', put('  Picture / Gamma: 2.2', '  Motion: off')));
    expect(between(text, other).blocks.map(({ id, properties }) => [id, properties])).toEqual([
      [
        'cinema',
        [
          { of: 'property', name: 'Picture / Gamma', from: '2.4', to: '2.3' },
          { of: 'property', name: 'White / Gain red', from: '?', to: '-3' },
        ],
      ],
      [
        'film',
        [
          { of: 'property', name: 'Motion', to: 'off' },
          { of: 'property', name: 'Picture / Gamma', from: '2.2' },
        ],
      ],
    ]);
  });

  it('tell what the head says', () => {
    const other = put('2026-03-14', '2026-03-15', put('"As shipped"', '"Out of the box"', put(' from cinema', '')));
    expect(between(text, other).blocks.flatMap(({ properties }) => properties)).toEqual([
      { of: 'date', name: 'date', from: '2026-03-14', to: '2026-03-15' },
      { of: 'title', name: 'title', from: 'As shipped', to: 'Out of the box' },
      { of: 'link', name: 'link', from: 'from cinema' },
    ]);
  });

  it.each<[string, string, string[]]>([
    ['typed over', put('22.88     0.3110', '20.31     0.3108'), ['50% changed Y 22.88>20.31 x 0.3110>0.3108']],
    ['a decimal slip', put('6.70 ', '67.0 '), ['30% mended Y 6.70>67.0']],
    ['x and y in each other’s place', put('0.3099   0.3279', '0.3279   0.3099'), ['30% mended x 0.3099>0.3279 y 0.3279>0.3099']],
    ['still to take before', put('?         ?        ?', '13.3      0.3100   0.3270'), ['40% taken Y ?>13.3 x ?>0.3100 y ?>0.3270']],
    ['to take again', put('6.70      0.3099   0.3279', '?         ?        ?'), ['30% reopened Y 6.70>? x 0.3099>? y 0.3279>?']],
    ['struck out', put('        50', '  ~     50'), ['~50% struck Y >22.88 x >0.3110 y >0.3280']],
    [
      'taken again',
      put(/ {8}50 .*\n/, '  ~     50  22.88     0.3110   0.3280\n        50  20.31     0.3110   0.3280\n'),
      ['50% again Y 22.88>20.31'],
    ],
    ['a repeat', put(/( {8}50 .*\n)/, '$1        50  22.90     0.3110   0.3281\n'), ['50% added Y >22.90 x >0.3110 y >0.3281']],
    ['taken out', put(/ {8}50 .*\n/, ''), ['50% removed Y 22.88> x 0.3110> y 0.3280>']],
    ['of another level', put('        30', '        35'), ['35% rekeyed 30']],
    ['below the floor', put('22.88 ', '<22.88'), ['50% changed Y 22.88><22.88']],
  ])('tell a reading %s', (_, other, expected) => expect(rows(text, other)).toEqual(expected));

  it('tell rows in another order, and columns', () => {
    const lines = text.split('\n');
    const last = lines.length - 2;
    [lines[last], lines[last - 1]] = [lines[last - 1]!, lines[last]!];
    expect(between(text, lines.join('\n')).blocks).toMatchObject([{ id: 'grey', rows: [], isReordered: true }]);
    const swapped = put('Y         x        y', 'Y         y        x')
      .replace('0.3099   0.3279', '0.3279   0.3099')
      .replace('0.3110   0.3280', '0.3280   0.3110')
      .replace('0.3089   0.3248', '0.3248   0.3089');
    expect(between(text, swapped).blocks).toMatchObject([{ columns: ['level Y x y', 'level Y y x'], rows: [], isReordered: false }]);
  });

  it('tell that numbers stand for others where their column has another unit: it was put right', () => {
    const other = put('level   Y', 'level   Y[fL]');
    expect(between(text, other).blocks).toMatchObject([{ columns: ['level Y x y', 'level Y[fL] x y'] }]);
    expect(rows(text, other)).toContain('50% mended Y 22.88>22.88 fL');
  });

  it('tell runs: added, removed, struck out, restored', () => {
    const run = '\ncontrast pair\n    patch   Y\n    white   120\n';
    expect(blocks(text, text + run)).toEqual(['added contrast pair']);
    expect(blocks(text + run, text)).toEqual(['removed contrast pair']);
    const struck = put('greyscale grey', '~ greyscale grey');
    expect(blocks(text, struck)).toEqual(['struck greyscale grey']);
    expect(blocks(struck, text)).toEqual(['restored greyscale grey']);
  });

  it('know a run that was taken again beside the one that it replaces', () => {
    const [head, run] = [text.slice(0, text.indexOf('greyscale')), text.slice(text.indexOf('greyscale'))];
    const again = `${head}~ ${run}\n${put('22.88', '20.31', run)}`;
    expect(blocks(text, again)).toEqual(['added greyscale grey', 'changed greyscale grey']);
    expect(rows(text, again)).toEqual(['50% changed Y 22.88>20.31']);
  });

  it('know what has another id now by what it says, and no reference to it as a change', () => {
    const other = text.replaceAll('cinema', 'shipped').replace('greyscale grey', 'greyscale grey-before');
    expect(blocks(text, other)).toEqual(['changed mode shipped cinema', 'changed greyscale grey-before grey']);
    expect(between(text, other).blocks.flatMap(({ properties }) => properties)).toEqual([]);
    const unlike = put('greyscale grey', 'greyscale other').replace(/ {8}(0|30|50|100) .*\n/g, '');
    expect(blocks(text, unlike)).toEqual(['added greyscale other', 'removed greyscale grey']);
  });
});

describe('a slip put right', () => {
  const mended = (from: string, to: string) => isMend([{ column: 'Y', from, to }]);

  it.each([
    ['67', '6.70'],
    ['0.0312', '0.312'],
    ['-0.5', '0.5'],
    ['1196', '119.6'],
    ['19.6', '119.6'],
    ['45.35', '54.35'],
    ['0.3927', '0.3297'],
  ])('%s was meant to be %s', (from, to) => {
    expect(mended(from, to)).toBe(true);
    expect(mended(to, from)).toBe(true);
  });

  it.each([
    ['22.88', '20.31'],
    ['22.12', '22.21'],
    ['6.7', '6.71'],
    ['0.3110', '0.3108'],
    ['1e2', '1e3'],
  ])('%s and %s are two readings', (from, to) => {
    expect(mended(from, to)).toBe(false);
    expect(mended(to, from)).toBe(false);
  });

  it('is none where one of the cells reads like another reading', () => {
    const cell = (column: string, from: string, to: string) => ({ column, from, to });
    expect(isMend([cell('Y', '67', '6.70'), cell('x', '0.3110', '0.3108')])).toBe(false);
  });
});
