import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { isRefusal, refusalText } from '../../src/language/answers';
import { MOST_PASTED, type PasteAnswers, type PastePreview, pasteReasonText, previewPaste } from '../../src/language/paste';
import { pastedTable } from '../../src/language/pasteText';
import { CellKind, cellCount, cellKind, cellText, cellWord, type RowLine } from '../../src/session/line';
import { SessionText } from '../../src/session/sessionText';
import { tableOf } from '../../src/session/table';
import { applyEdits } from '../../src/text/span';
import { examples, sessionLike } from '../session/sessions';
import { at, slippedRuns } from './cursor';

const V = 'nitbook 1\n';
const GREY = `${V}greyscale g‸
  mode: m
    level   Y         x        y
         0  ?         ?        ?
        30  ?         ?        ?
       100  119.6     0.3089   0.3248
       100  ?         ?        ?

limits
`;

function preview(marked: string, text: string, answers: PasteAnswers = {}): PastePreview {
  const { source, offset } = at(marked);
  const answer = previewPaste(source, offset, text, answers);
  if (isRefusal(answer)) throw new Error(refusalText(answer));
  return answer;
}
const pasted = (marked: string, text: string, answers: PasteAnswers = {}): string =>
  applyEdits(at(marked).text, preview(marked, text, answers).edits);
/** The lines of the table of the run that is pasted into. */
const table = (marked: string, text: string, answers: PasteAnswers = {}): string[] =>
  pasted(marked, text, answers)
    .split(/\r\n|\r|\n/)
    .filter((line) => /^ {4}|^ {2}~/.test(line));
/** What becomes of each pasted row. */
const does = ({ rows }: PastePreview): string[] =>
  rows.map(({ line, does, why }) => `${line} ${does}${why ? `: ${pasteReasonText(why)}` : ''}`);
const places = ({ columns }: PastePreview): string[] => columns.map(({ title, to, why }) => `${title} → ${to ?? pasteReasonText(why!)}`);

describe('a text is divided into cells', () => {
  const cells = (text: string, decimalComma?: boolean) => {
    const { separator, rows, isUnclear } = pastedTable(text, decimalComma);
    return [separator, ...rows.map(({ line, cells }) => `${line}: ${cells.join('|')}`), ...(isUnclear ? ['unclear'] : [])];
  };
  it.each<[string, boolean | undefined, string[]]>([
    ['30\t6.70\n40\t12\n', undefined, ['tab', '1: 30|6.70', '2: 40|12']],
    ['30\t6,70\r\n\r\n40\t\t1', undefined, ['tab', '1: 30|6,70', '3: 40||1']],
    ['30;6,70;"a;b"\r40;"say ""x""";\n', undefined, ['semicolon', '1: 30|6,70|a;b', '2: 40|say "x"|']],
    ['level,Y\n30,6.7\n', undefined, ['comma', '1: level|Y', '2: 30|6.7']],
    ['30,6.70,0.31', undefined, ['comma', '1: 30|6.70|0.31']],
    ['30, 6.70, 0.31', undefined, ['comma', '1: 30|6.70|0.31']],
    ['30  6.70\n40 12', undefined, ['blanks', '1: 30|6.70', '2: 40|12']],
    ['30 6,70 0,31', undefined, ['blanks', '1: 30|6,70|0,31', 'unclear']],
    ['30 6,70 0,31', true, ['blanks', '1: 30|6,70|0,31']],
    ['30,6\n40,8', undefined, ['blanks', '1: 30,6', '2: 40,8', 'unclear']],
    ['30,6\n40,8', false, ['comma', '1: 30|6', '2: 40|8']],
    ['30,6\n40,8', true, ['blanks', '1: 30,6', '2: 40,8']],
    ['\ufeff"two\nlines";1\n2;3', undefined, ['semicolon', '1: two\nlines|1', '3: 2|3']],
    ['"open;1', undefined, ['semicolon', '1: open;1']],
    [' \n\t\n', undefined, ['tab']],
  ])('%j (%s)', (text, decimalComma, expected) => expect(cells(text, decimalComma)).toEqual(expected));
});

describe('rows that say their patch', () => {
  it('fill the rows that wait, and come in order where none does; a reading is never written over', () => {
    const text =
      'level\tY\tx\ty\n0\t<0.003\t-\t-\n30\t6.70\t0.3099\t0.3279\n20\t3.1\t0.31\t0.32\n100\t119.6\t0.3089\t0.3248\n100\t119.9\t0.309\t0.325\n100\t120.1\t0.309\t0.325\n';
    const found = preview(GREY, text);
    expect(does(found)).toEqual(['2 fills', '3 fills', '4 adds', '5 same', '6 fills', '7 nothing: there is a reading already']);
    expect(found.questions).toEqual(['repeats']);
    const filled = [
      '    level   Y         x        y',
      '         0  <0.003    -        -',
      '        20  3.1       0.31     0.32',
      '        30  6.70      0.3099   0.3279',
      '       100  119.6     0.3089   0.3248',
      '       100  119.9     0.309    0.325',
    ];
    expect(table(GREY, text)).toEqual(filled);
    expect(preview(GREY, text, { repeats: false }).questions).toEqual([]);
    expect(table(GREY, text, { repeats: false })).toEqual(filled);
    expect(table(GREY, text, { repeats: true })).toEqual([...filled, '       100  120.1     0.309    0.325']);
  });
  it('change only the lines they mean, with the ends of the file', () => {
    const text = GREY.replaceAll('\n', '\r\n').replace('  mode: m', '  mode:   m   # as it was');
    const result = pasted(text, '30\t6.7\t\t\n40\t1\t2\t3');
    const before = at(text).text.split('\r\n');
    const after = result.split('\r\n');
    expect(after.filter((line) => !before.includes(line))).toEqual([
      '        30  6.7       ?        ?',
      '        40  1         2        3',
    ]);
    expect(result).not.toMatch(/[^\r]\n/);
  });
  it('with heads in any order, in other words and with units; what they do not know goes nowhere', () => {
    const text = 'Grey ramp, evening\n\nCIE y;Luminance (cd/m²);Remark;Level [%];CIE x;x\n0.3279;6.70;odd;30 %;0.3099;1\n';
    const found = preview(GREY, text);
    expect(places(found)).toEqual([
      'CIE y → y',
      'Luminance (cd/m²) → Y',
      'Remark → no column of a greyscale run is called so',
      'Level [%] → level',
      'CIE x → x',
      'x → a column before it goes to x',
    ]);
    expect(does(found)).toEqual(['1 nothing: it stands above the heads of the columns', '4 fills']);
    expect(table(GREY, text)[2]).toBe('        30  6.70      0.3099   0.3279');
  });
  it('in another unit go nowhere', () => {
    expect(places(preview(GREY, 'Level\tY [fL]\tt\n30\t2\t5'))).toEqual([
      'Level → level',
      'Y [fL] → it is in fL, and the column Y is not',
      't → the run has no column t',
    ]);
    expect(places(preview(`${V}greyscale g‸\n    level[10bit] Y[fL]\n`, 'Level (10-bit)\tY fL\n64\t2'))).toEqual([
      'Level (10-bit) → level',
      'Y fL → Y',
    ]);
  });
  it.each(['nits', 'Nits', 'cd/m2', 'cd/m²', 'CD/M2'])('that are nothing but a unit say it: %s', (unit) => {
    const refused = preview(`${V}greyscale g‸\n    level Y[fL]\n`, `Level\t${unit}\n50\t22.7`);
    expect(places(refused)).toEqual(['Level → level', `${unit} → it is in ${unit.toLowerCase()}, and the column Y[fL] is not`]);
    expect(refused.rows.map(({ cells }) => cells)).toEqual([{ level: '50' }]);
    for (const column of ['Y', 'Y[nits]', 'Y[cd/m2]'])
      expect(places(preview(`${V}greyscale g‸\n    level ${column}\n`, `Level\t${unit}\n50\t22.7`))[1]).toBe(`${unit} → Y`);
    expect(pasted(`${V}window w‸\n  mode: m\n\nlimits\n`, `Window\t${unit}\n10\t200\n`)).toContain('    window  Y\n        10  200\n');
  });
  it('of two words keep to their group', () => {
    const run = `${V}saturation s‸\n    hue     sat     Y\n    red     50      1\n    red     100     ?\n    blue    50      1\n`;
    expect(table(run, 'Colour;Saturation;Y\nblue;100;5\nred;75;2\nred;100;3\ngreen;50;7\n')).toEqual([
      '    hue     sat     Y',
      '    red     50      1',
      '    red     75      2',
      '    red     100     3',
      '    blue    50      1',
      '    blue    100     5',
      '    green   50      7',
    ]);
  });
  it('with names that need quotation marks', () => {
    const run = `${V}contrast c‸\n    patch   Y\n`;
    expect(table(run, 'light grey\t5\n~\t6\n')).toEqual(['    patch   Y', '    "light grey"  5', '    "~"     6']);
  });
  it('make the columns of a run that has none', () => {
    const run = `${V}window w‸\n  mode: m\n\nlimits\n`;
    expect(pasted(run, 'Y [fL]\twindow\n200\t10\n100\t100\n')).toBe(
      `${V}window w\n  mode: m\n    Y[fL]   window\n       200  10\n       100  100\n\nlimits\n`,
    );
    expect(pasted(run, '10\t200\n')).toBe(`${V}window w\n  mode: m\n    window  Y\n        10  200\n\nlimits\n`);
  });
});

describe('rows that do not', () => {
  it('fill those from the cursor on, from its cell on', () => {
    const run = GREY.replace('‸', '').replace('30  ?', '30  ‸?');
    expect(table(run, '6.70\t0.3099\n119\t0.31\n5\t6\n7\t8\n')).toEqual([
      '    level   Y         x        y',
      '         0  ?         ?        ?',
      '        30  6.70      0.3099   ?',
      '       100  119.6     0.3089   0.3248',
      '       100  5         6        ?',
    ]);
    expect(does(preview(run, '6.70\t0.3099\n119\t0.31\n5\t6\n7\t8\n'))).toEqual([
      '1 fills',
      '2 nothing: there is a reading already',
      '3 fills',
      '4 nothing: there is no further row',
    ]);
  });
  it('fill by their heads, or by all readings of a row', () => {
    expect(table(GREY, 'x\ty\n0.31\t0.32\n')[1]).toBe('         0  ?         0.31     0.32');
    expect(table(GREY, '1 0.31 0.32\n')[1]).toBe('         0  1         0.31     0.32');
  });
  it('are not guessed', () => {
    const { source, offset } = at(GREY);
    const answer = previewPaste(source, offset, '1\t2\n');
    expect(isRefusal(answer) && refusalText(answer)).toBe(
      'Which columns are meant? There are 2, and g has 4: paste the heads with them, or put the cursor on the cell where they start.',
    );
  });
});

describe('numbers', () => {
  it('with a comma are asked about', () => {
    const text = '30\t6,70\t0,3099\t0,3279\n';
    const asked = preview(GREY, text);
    expect([asked.questions, asked.edits, asked.rows]).toEqual([['decimalComma'], [], []]);
    expect(places(asked)).toEqual([' → level', ' → Y', ' → x', ' → y']);
    expect(table(GREY, text, { decimalComma: true })[2]).toBe('        30  6.70      0.3099   0.3279');
    const not = preview(GREY, text, { decimalComma: false });
    expect(not.left.map(({ line, column, text, why }) => `${line}:${column} ${text} ${pasteReasonText(why)}`)[0]).toBe(
      '1:1 6,70 its commas or points may part thousands: write it as one number with a decimal point',
    );
    expect(does(not)).toEqual(['1 same']);
    expect(preview(GREY, '30,6\n40,8').questions).toEqual(['decimalComma']);
  });
  it.each<[string, string | undefined, PasteAnswers]>([
    ['1,234.5', undefined, {}],
    ['1.234,5', undefined, { decimalComma: true }],
    ['1.234', '1.234', {}],
    ['1.234', undefined, { decimalComma: true }],
    ['0.312', '0.312', { decimalComma: true }],
    ["1'234", undefined, {}],
    ['1\u00a0234', undefined, {}],
    ['1 234', undefined, {}],
    ['< 0,003', '<0.003', { decimalComma: true }],
    ['>700', '>700', {}],
    ['−3', '-3', {}],
    ['+3', '3', {}],
    [',5', '.5', { decimalComma: true }],
    ['6.7E-2', '6.7E-2', {}],
    ['—', '-', {}],
    ['?', '?', {}],
    ['n/a', undefined, {}],
    ['6.7 cd/m²', undefined, {}],
    ['5 %', undefined, {}],
    ['"6\n7"', undefined, {}],
  ])('%j is written %s (%o)', (text, written, answers) => {
    const found = preview(GREY, `20\t${text}\t0.5\t0.5\n`, answers);
    expect(found.rows[0]!.cells.Y).toBe(written);
    expect(found.left).toHaveLength(written === undefined ? 1 : 0);
  });
});

describe('a paste is refused', () => {
  it.each<[string, string, string]>([
    [`${V}mode m‸`, '1', 'There is no run here that is not struck out: put the cursor in one.'],
    [`${V}~ lag l‸`, '1', 'There is no run here that is not struck out: put the cursor in one.'],
    [`${V}lag l‸`, ' \n', 'There is nothing to paste.'],
    [`${V}lag l‸`, '1\n'.repeat(MOST_PASTED + 1), 'There are more than 20000 rows: paste them in parts.'],
    ['nitbook 2\nlag l‸', '1', 'Version 2 of the format is newer than 1: what is known is read, and nothing here is rewritten.'],
  ])('%j', (marked, text, sentence) => {
    const { source, offset } = at(marked);
    const answer = previewPaste(source, offset, text);
    expect(isRefusal(answer) && refusalText(answer)).toBe(sentence);
  });
});

test('10,000 rows are pasted into a long run in a second', () => {
  const rows = Array.from({ length: 10_000 }, (_, i) => `${((i * 7919) % 10_000) / 100}\t${i + 1}\t0.31\t0.32`).join('\n');
  const result = SessionText.read(pasted(GREY, rows));
  const levels = result.blocks[1]!.rowLines.map((line) => result.blocks[1]!.row(line).values[0]!);
  expect(levels).toHaveLength(10_002);
  expect(levels.slice(0, -2).every((level, i) => i === 0 || level >= levels[i - 1]!)).toBe(true);
});

test('what a preview says is what is read after it, whatever the text, offset and paste', () => {
  const mark = fc.constantFrom(
    '30',
    '100',
    '6.70',
    '6,70',
    '?',
    '-',
    'red',
    'white',
    '"',
    '\t',
    '\t',
    ';',
    ',',
    '\n',
    '\r\n',
    ' ',
    'level',
    'Y',
    'x',
    '<',
    '1.234',
    '%',
    '#',
    '~',
    '|',
    ':',
  );
  const paste = fc.array(mark, { maxLength: 30 }).map((parts) => parts.join(''));
  const answers = fc.record({ decimalComma: fc.boolean(), repeats: fc.boolean() }, { requiredKeys: [] });
  fc.assert(
    fc.property(
      fc.oneof({ weight: 9, arbitrary: sessionLike }, { weight: 1, arbitrary: fc.constantFrom(...examples) }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      paste,
      answers,
      (text, where, put, said) => {
        const source = SessionText.read(text);
        const offset = Math.trunc(where * text.length);
        const found = previewPaste(source, offset, put, said as PasteAnswers);
        if (isRefusal(found)) {
          expect(refusalText(found)).not.toMatch(/\{[a-z]+\}/);
          return;
        }
        const after = SessionText.read(applyEdits(text, found.edits));
        const block = source.blockAt(source.lineAt(offset));
        expect(after.blocks.length).toBe(source.blocks.length);
        const added = found.rows.filter(({ does }) => does === 'adds' || does === 'repeats').length;
        expect(after.blocks[block]!.rowLines.length - source.blocks[block]!.rowLines.length).toBeGreaterThanOrEqual(added);
        if (source.blocks[block]!.columns) expect(after.blocks[block]!.rowLines.length - source.blocks[block]!.rowLines.length).toBe(added);
        source.blocks.forEach((other, i) => {
          if (i !== block)
            expect(after.blocks[i]!.lines.map((line) => line.text + line.eol).join('')).toBe(
              other.lines.map((line) => line.text + line.eol).join(''),
            );
        });
      },
    ),
    { seed: 20260314, numRuns: 300 },
  );
});

test('into runs with slips, each row is found again as its preview said, and the other blocks byte for byte', () => {
  const made = { adds: 0, fills: 0, repeats: 0, same: 0, nothing: 0 };
  const value = fc.constantFrom(
    '0',
    '10',
    '30',
    '40',
    '100',
    '50',
    '6.70',
    '0,31',
    '<0.003',
    '?',
    '-',
    '',
    'red',
    'white',
    'my blue',
    '"a;b"',
    'n/a',
    '~',
  );
  const heads = fc.constantFrom('', 'level;Y;x;y', 'Y;level', 'hue;sat;Y', 'patch;Y', 'window;Y', 'Gain red;Y;x;y', 'x;y');
  const row = fc.array(value, { minLength: 1, maxLength: 4 }).map((cells) => cells.join(';'));
  const paste = fc.tuple(heads, fc.array(row, { minLength: 1, maxLength: 6 })).map(([head, rows]) => [head, ...rows].join('\n'));
  const answers = fc.record({ decimalComma: fc.constant(true), repeats: fc.boolean() });
  fc.assert(
    fc.property(slippedRuns, paste, answers, ({ text, offset }, put, said) => {
      const source = SessionText.read(text);
      const found = previewPaste(source, offset, put, said);
      if (isRefusal(found)) return;
      const after = SessionText.read(applyEdits(text, found.edits));
      const index = source.blockAt(source.lineAt(offset));
      const written = (of: SessionText) => of.blocks.map((block) => block.lines.map((line) => line.text + line.eol).join(''));
      expect(written(after).toSpliced(index, 1)).toEqual(written(source).toSpliced(index, 1));
      const [before, run] = [source.blocks[index]!, after.blocks[index]!];
      const { rows, columns } = tableOf(run);
      for (const { does, cells } of found.rows) {
        made[does]++;
        if (does !== 'adds' && does !== 'fills' && does !== 'repeats') continue;
        const holds = (row: (typeof rows)[number]) =>
          Object.entries(cells).every(([name, text]) => {
            const { cell, spec } = columns.get(name)!;
            return spec.holds === 'word' ? cellWord(row, cell) === text || cellText(row, cell) === text : cellText(row, cell) === text;
          });
        expect(
          rows.some((row) => !row.struck && holds(row)),
          JSON.stringify(cells),
        ).toBe(true);
      }
      // Readings that were there are there still, in the order they were.
      const width = before.columns?.columns.length ?? 0;
      const isFull = (row: RowLine) => cellCount(row) >= width && row.values.every((_, cell) => cellKind(row, cell) !== CellKind.ToTake);
      let at = 0;
      for (const i of before.rowLines) {
        if (!isFull(before.row(i))) continue;
        at = run.lines.findIndex((line, n) => n >= at && line.text === before.row(i).text) + 1;
        expect(at, before.row(i).text).toBeGreaterThan(0);
      }
    }),
    { seed: 20260314, numRuns: 600 },
  );
  for (const [kind, times] of Object.entries(made)) expect(times, kind).toBeGreaterThan(10);
});
