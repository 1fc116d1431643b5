import { describe, expect, it } from 'vitest';
import { CellKind, cellCount, cellKind, cellSpan, cellText, cellWord, type Line } from '../../src/session/line';
import { SessionText } from '../../src/session/sessionText';
import { said } from './said';

const RUN = 'nitbook 1\ngreyscale g\n    level Y x y\n';
const NO_COLUMNS = 'nitbook 1\ngreyscale g\n';
const MODE = 'nitbook 1\nmode m\n';

/** The line that stands behind a beginning. */
const lineIn = (before: string, text: string): Line => SessionText.read(before + text).lines[before.split('\n').length - 1]!;
const kindIn = (before: string, text: string): string => lineIn(before, text).kind;

const KINDS = ['number', 'below', 'above', 'none', 'to take', 'string', 'word', 'empty'];
/** The cells of a row: text, kind, number, span. */
function cells(text: string, before = RUN): unknown[] {
  const row = lineIn(before, text);
  if (row.kind !== 'row') throw new Error(`${JSON.stringify(text)} is a ${row.kind}`);
  return Array.from({ length: cellCount(row) }, (_, i) => [cellText(row, i), KINDS[cellKind(row, i)], row.values[i], ...cellSpan(row, i)]);
}
const only = (text: string): unknown => cells(`    ${text}`)[0];

describe('a file', () => {
  it('is lines that end at LF, CRLF or CR', () => {
    expect(SessionText.read('a\nb\r\nc\rd').lines.map((l) => [l.text, l.eol])).toEqual([
      ['a', '\n'],
      ['b', '\r\n'],
      ['c', '\r'],
      ['d', ''],
    ]);
  });
  it('does not end its lines at other separators', () => {
    expect(SessionText.read('a\u2028b\u0085c\vd\fe').lines).toHaveLength(1);
  });
  it('may start with a byte order mark, which belongs to no line part', () => {
    const line = lineIn('', '\ufeffnitbook 1\n');
    expect(line).toMatchObject({ kind: 'version', version: 1, at: [9, 10] });
    expect(lineIn('', '\ufeffmode m')).toMatchObject({ kind: 'header', keyword: { text: 'mode', span: [1, 5] } });
  });
  it('has no byte order mark further down', () => {
    expect(said('nitbook 1\n\ufeffmode m')).toEqual(['before-any-block at file/line/1, 2:1 "\ufeffmode m"']);
  });
});

describe('the version', () => {
  it('is the first significant line', () => {
    expect(lineIn('# remark\n\n', 'nitbook 1  # kept')).toMatchObject({ kind: 'version', version: 1, at: [8, 9] });
    expect(lineIn('', 'nitbook\t\u300012')).toMatchObject({ kind: 'version', version: 12, at: [9, 11] });
  });
  it('is none without digits, glued, indented, or with more behind', () => {
    for (const text of ['nitbook one', 'nitbook1', ' nitbook 1', 'nitbook 1.0', 'nitbook 1 2', 'Nitbook 1']) {
      expect(kindIn('', text), text).not.toBe('version');
      expect(said(text).join('\n'), text).toMatch(/^version-missing /m);
    }
  });
  it('is none further down', () => {
    expect(kindIn('nitbook 1\n', 'nitbook 1')).toBe('other');
  });
});

describe('blanks', () => {
  it.each([' ', '\t', '\u00a0', '\u2007', '\u202f', '\u3000'])('%j parts cells', (b) => {
    expect(cells(`${b}30${b}6.70`)).toHaveLength(2);
    expect(lineIn(MODE, `${b}a:${b}b${b}#${b}c`)).toMatchObject({ kind: 'property', value: { text: 'b', span: [4, 5] } });
  });
  it.each(['\u2009', '\u2028', '\ufeff', '\v'])('%j does not', (c) => {
    expect(cells(`  30${c}6.70`)).toHaveLength(1);
  });
});

describe('a comment', () => {
  it('is a line whose first mark is #', () => {
    expect(kindIn(RUN, '# x')).toBe('comment');
    expect(kindIn(RUN, '   #x')).toBe('comment');
    expect(kindIn(RUN, '  ~ # x')).toBe('comment');
  });
  it('is not a # inside a word', () => {
    expect(kindIn(RUN, '    30 #2')).toBe('row');
  });
});

describe('a comment behind content', () => {
  it('is a # between blanks, at the end, or before another #', () => {
    for (const tail of [' # note', ' #', ' ##', ' ## note', '\t#\tx']) {
      expect(cells(`    30 6.70${tail}`), tail).toEqual([
        ['30', 'number', 30, 4, 6],
        ['6.70', 'number', 6.7, 7, 11],
      ]);
      expect(lineIn(MODE, `  a: b${tail}`), tail).toMatchObject({ value: { text: 'b', span: [5, 6] } });
    }
  });
  it('is none when the # is glued to a word', () => {
    expect(lineIn(MODE, '  .input: HDMI #2')).toMatchObject({ value: { text: 'HDMI #2', span: [10, 17] } });
    expect(lineIn(MODE, '  a: b# c')).toMatchObject({ value: { text: 'b# c' } });
    expect(cells('    30 #2')[1]).toEqual(['#2', 'word', Number.NaN, 7, 9]);
  });
  it('leaves nothing of a value that is only a comment', () => {
    expect(lineIn(MODE, '  a: # b')).toMatchObject({ kind: 'property', value: { is: 'absent', span: [4, 4] } });
  });
});

describe('a note', () => {
  it('is a line whose first mark is |', () => {
    expect(kindIn(RUN, '  | long remark: with anything # in it')).toBe('note');
    expect(kindIn(RUN, '|x')).toBe('note');
  });
  it('is not a remark behind cells', () => {
    expect(lineIn(RUN, '    30 6.70 | decimal slip')).toMatchObject({ kind: 'row', remark: { text: 'decimal slip', span: [14, 26] } });
  });
});

describe('the marks of a merge', () => {
  it.each(['<<<<<<<', '=======', '>>>>>>>', '|||||||'])('%s at the start of a line', (mark) => {
    expect(kindIn(RUN, `${mark} branch`)).toBe('conflict');
    expect(said(`${RUN}${mark} branch`)).toEqual([`merge-conflict at g/line/2, 4:1 "${mark}"`]);
  });
  it('are none when shorter, indented or mixed', () => {
    expect(kindIn(RUN, '<<<<<<')).toBe('row');
    expect(kindIn(RUN, ' <<<<<<<')).toBe('row');
    expect(kindIn(MODE, '======')).toBe('other');
    expect(kindIn(MODE, '<<<<<<>')).toBe('other');
  });
});

describe('the head of a block', () => {
  it('is a keyword with id, title, and what it takes over', () => {
    expect(lineIn('nitbook 1\n', 'mode cinema-tuned "As \\"tuned\\"" from cinema  # note')).toMatchObject({
      kind: 'header',
      struck: false,
      keyword: { text: 'mode', span: [0, 4] },
      id: { text: 'cinema-tuned', span: [5, 17] },
      title: { text: 'As "tuned"', span: [18, 32] },
      link: { word: 'from', at: [33, 37], id: { text: 'cinema', span: [38, 44] } },
      problems: [],
    });
    expect(lineIn('nitbook 1\n', 'tracking like grey')).toMatchObject({ link: { word: 'like', at: [9, 13], id: { span: [14, 18] } } });
  });
  it('may have a date, with a time', () => {
    expect(lineIn('nitbook 1\n', 'session 2026-03-14 15:30')).toMatchObject({ date: { text: '2026-03-14 15:30', span: [8, 24] } });
    expect(lineIn('nitbook 1\n', 'session 2026-3-14').problems[0]).toMatchObject({ code: 'header-part', span: [8, 17] });
  });
  it('may be struck out', () => {
    expect(lineIn('nitbook 1\n', '~ mode m')).toMatchObject({ kind: 'header', struck: true, keyword: { span: [2, 6] } });
    expect(lineIn('nitbook 1\n', '~mode m')).toMatchObject({ kind: 'header', struck: true, keyword: { span: [1, 5] } });
  });
  it('is of an unknown kind when its word is none of ours', () => {
    expect(lineIn('nitbook 1\n', 'Greyscale g')).toMatchObject({ kind: 'header', keyword: { text: 'Greyscale' } });
  });
  it('says which part cannot stand there', () => {
    expect(lineIn('nitbook 1\n', 'mode m stray words').problems).toMatchObject([{ code: 'header-part', span: [7, 18] }]);
    expect(lineIn('nitbook 1\n', 'mode 2nd').problems).toMatchObject([{ code: 'header-part', span: [5, 8] }]);
    expect(lineIn('nitbook 1\n', 'mode m from').problems).toMatchObject([{ code: 'header-part', span: [7, 11] }]);
  });
  it('is a property instead when a colon follows its first word', () => {
    expect(kindIn(RUN, 'mode: m')).toBe('property');
    expect(kindIn(RUN, 'mode : m')).toBe('property');
  });
});

describe('an id', () => {
  it('is a letter, then letters, digits and hyphens', () => {
    for (const id of ['a', 'HDR-1000', 'x-', 'from']) expect(lineIn('nitbook 1\n', `mode ${id}`), id).toMatchObject({ id: { text: id } });
  });
  it('takes nothing else', () => {
    for (const id of ['1a', '-a', 'a.b', 'ä', 'a_b', 'a#']) {
      expect(lineIn('nitbook 1\n', `mode ${id}`), id).toMatchObject({ problems: [{ code: 'header-part' }] });
      expect(lineIn('nitbook 1\n', `mode ${id}`), id).not.toHaveProperty('id');
    }
  });
});

describe('a property', () => {
  it('is a name up to the first colon before a blank or the end', () => {
    expect(lineIn(MODE, '  Picture / Aspect 16:9: Full')).toMatchObject({
      kind: 'property',
      name: { text: 'Picture / Aspect 16:9', span: [2, 23] },
      value: { is: 'text', text: 'Full', span: [25, 29] },
    });
    expect(lineIn(MODE, '  a :b : c: d')).toMatchObject({ name: { text: 'a :b', span: [2, 6] }, value: { text: 'c: d', span: [9, 13] } });
  });
  it('may have nothing behind the colon', () => {
    expect(lineIn(MODE, '  a:')).toMatchObject({ kind: 'property', value: { is: 'absent', span: [4, 4] } });
    expect(lineIn(MODE, '  a:   ')).toMatchObject({ kind: 'property', value: { is: 'absent', span: [4, 4] } });
  });
  it('is none without a blank behind the colon, without a name, or with a mark before the colon', () => {
    for (const text of ['  a:b', '  : b', '  55" panel: b', '  a | b: c', '  a # b: c']) expect(kindIn(MODE, text), text).toBe('other');
  });
  it('may be struck out', () => {
    expect(lineIn(MODE, '  ~ a: b')).toMatchObject({ kind: 'property', struck: true, name: { span: [4, 5] } });
  });
  it('has a quoted name where the name holds the mark of one', () => {
    expect(lineIn(MODE, '  "Screen: Overscan": off')).toMatchObject({ quoted: true, name: { text: 'Screen: Overscan', span: [2, 20] } });
    expect(kindIn(MODE, '  "Screen: Overscan" off')).toBe('other');
  });
});

describe('a value', () => {
  const value = (text: string): unknown => (lineIn(MODE, `  a: ${text}`) as { value?: unknown }).value;
  it('is text as it stands', () => {
    expect(value('55" wide, "quoted" inside')).toEqual({ is: 'text', text: '55" wide, "quoted" inside', span: [5, 30] });
  });
  it('is a string when it is quoted as a whole', () => {
    expect(value('"HDMI # 2 \\"x\\" \\\\"')).toEqual({ is: 'string', text: 'HDMI # 2 "x" \\', span: [5, 24] });
    expect(value('"a" b')).toEqual({ is: 'text', text: '"a" b', span: [5, 10] });
  });
  it('is ? while still to be noted, ~ when taken out', () => {
    expect(value('?')).toEqual({ is: 'to-note', span: [5, 6] });
    expect(value('~  # gone')).toEqual({ is: 'removed', span: [5, 6] });
    expect(value('? ')).toEqual({ is: 'to-note', span: [5, 6] });
    expect(value('?!')).toEqual({ is: 'text', text: '?!', span: [5, 7] });
    expect(value('"?"')).toEqual({ is: 'string', text: '?', span: [5, 8] });
  });
});

describe('a string', () => {
  it('is closed by the first quotation mark without a backslash before it', () => {
    expect(cells('    "a\\"b" 5')).toEqual([
      ['"a\\"b"', 'string', Number.NaN, 4, 10],
      ['5', 'number', 5, 11, 12],
    ]);
  });
  it('is open to the end of its content otherwise', () => {
    expect(cells('    5 "a b  # c')[1]).toEqual(['"a b', 'word', Number.NaN, 6, 10]);
    expect(lineIn(MODE, '  a: "b  # c')).toMatchObject({
      value: { is: 'text', text: '"b', span: [5, 7] },
      problems: [{ code: 'string-open', span: [5, 7] }],
    });
  });
  it('is no string when something is glued to it, or when it starts inside a word', () => {
    expect(only('"a"b')).toEqual(['"a"b', 'word', Number.NaN, 4, 8]);
    expect(only('55"')).toEqual(['55"', 'word', Number.NaN, 4, 7]);
  });
});

describe('the column line', () => {
  const columns = (text: string): unknown => (lineIn(NO_COLUMNS, text) as { columns?: unknown }).columns;
  it('is names, with units in brackets', () => {
    expect(columns('    level[10bit]  ref.Y "Gain red"  # note')).toEqual([
      { text: 'level[10bit]', span: [4, 16], name: 'level', unit: '10bit', quoted: false },
      { text: 'ref.Y', span: [18, 23], name: 'ref.Y', quoted: false },
      { text: '"Gain red"', span: [24, 34], name: 'Gain red', quoted: true },
    ]);
    expect(columns('    level Y[cd/m2 or so]')).toMatchObject([{ name: 'level' }, { name: 'Y', unit: 'cd/m2 or so', span: [10, 24] }]);
  });
  it('is none when a number, a mark or an open bracket is among them', () => {
    for (const text of [
      '    level Y 5',
      '    level Y -',
      '    level Y[fL',
      '    level Y[fL]x',
      '    level "open',
      '    level Y | remark',
    ]) {
      expect(kindIn(NO_COLUMNS, text), text).toBe('other');
    }
  });
});

describe('a row', () => {
  it('is cells between blanks, with a remark and a comment behind', () => {
    const text = '  ~     30  67   0.3099  | decimal slip  # seen';
    expect(lineIn(RUN, text)).toMatchObject({ kind: 'row', struck: true, remark: { text: 'decimal slip', span: [27, 39] } });
    expect(cells(text)).toEqual([
      ['30', 'number', 30, 8, 10],
      ['67', 'number', 67, 12, 14],
      ['0.3099', 'number', 0.3099, 17, 23],
    ]);
  });
  it('has a remark only where blanks stand around the |', () => {
    expect(cells('    30 a|b |c')).toHaveLength(3);
    expect(lineIn(RUN, '    30 |')).toMatchObject({ remark: { text: '', span: [8, 8] } });
  });
});

describe('a cell', () => {
  it('is a number, with < or > beyond what the meter shows', () => {
    expect(only('6.70')).toEqual(['6.70', 'number', 6.7, 4, 8]);
    expect(only('<0.003')).toEqual(['<0.003', 'below', 0.003, 4, 10]);
    expect(only('>700')).toEqual(['>700', 'above', 700, 4, 8]);
  });
  it('is - when not measured, ? when still to take', () => {
    expect(only('-')).toEqual(['-', 'none', Number.NaN, 4, 5]);
    expect(only('?')).toEqual(['?', 'to take', Number.NaN, 4, 5]);
    expect(only('--')).toEqual(['--', 'word', Number.NaN, 4, 6]);
    expect(only('??')).toEqual(['??', 'word', Number.NaN, 4, 6]);
  });
  it('is a string or a word otherwise', () => {
    const row = lineIn(RUN, '    "light \\"grey\\"" red');
    if (row.kind !== 'row') throw new Error(row.kind);
    expect([cellWord(row, 0), cellWord(row, 1)]).toEqual(['light "grey"', 'red']);
    expect([cellKind(row, 0), cellKind(row, 1)]).toEqual([CellKind.String, CellKind.Word]);
  });
  it('is empty between two tabs', () => {
    expect(cells('\t30\t\t0.31\t')).toEqual([
      ['30', 'number', 30, 1, 3],
      ['', 'empty', Number.NaN, 4, 4],
      ['0.31', 'number', 0.31, 5, 9],
    ]);
    expect(cells('\t30\t \t0.31')).toHaveLength(2);
  });
});

describe('a number', () => {
  it.each([
    ['0', 0],
    ['007', 7],
    ['6.', 6],
    ['.5', 0.5],
    ['+5', 5],
    ['-0.0004', -0.0004],
    ['1e3', 1000],
    ['1.5E-3', 0.0015],
    ['2e+2', 200],
    ['−3', -3],
    ['–3', -3],
    ['5e−1', 0.5],
    ['0.1', 0.1],
    ['123456789012345678', 123456789012345680],
  ])('%s', (text, value) => {
    expect(only(text)).toEqual([text, 'number', value, 4, 4 + text.length]);
  });
  it.each(['1,5', '1.2.3', '.', '1e', '1e+', '0x10', '5%', '½', '٣', '1_000', '1e999', '<', '<x', '+-3', 'Infinity', 'NaN'])(
    '%s is none',
    (text) => {
      expect(only(text)).toEqual([text, 'word', Number.NaN, 4, 4 + text.length]);
    },
  );
});

describe('anything else', () => {
  it('is kept and said once', () => {
    expect(said(`${MODE}  prose of no kind  # x`)).toEqual(['line-unread at m/line/1, 3:3 "prose of no kind"']);
    expect(said(`${MODE}  ~`)).toEqual(['line-unread at m/line/1, 3:3 "~"']);
  });
  it('is kept without a word in a block of a kind that is not ours', () => {
    expect(said('nitbook 1\nKitchen k\n  prose\n    1 2 3')).toEqual(['block-unknown at k, 2:1 "Kitchen"']);
  });
});
