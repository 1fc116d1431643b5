import { describe, expect, it } from 'vitest';
import { blockProblems, keyLabel, readingsToTake } from '../../src/session/blockProblems';
import { formatEdits } from '../../src/session/layout';
import { CellKind, cellText } from '../../src/session/line';
import { plan } from '../../src/session/plan';
import { MAX_GENERATIONS, sessionOf } from '../../src/session/session';
import { SessionText } from '../../src/session/sessionText';
import { kindAt, tableOf, valueAt } from '../../src/session/table';
import { applyEdits } from '../../src/text/span';
import { mended, said } from './said';
import { CANONICAL } from './sessions';

const read = (text: string) => sessionOf(SessionText.read(text));
const V = 'nitbook 1\n';
const RUN = `${V}greyscale g\n    level   Y         x        y\n`;
const kinds = (text: string): string[] => SessionText.read(text).lines.map((line) => line.kind);

/** A block's properties as they hold: name → text, or what stands in its place. */
function holding(text: string, name: string): Record<string, string> {
  const session = read(text);
  const properties = session.properties(session.byName.get(name)!);
  return Object.fromEntries([...properties].map(([n, { line }]) => [n, 'text' in line.value ? line.value.text : line.value.is]));
}

describe('the canonical session', () => {
  it('has nothing to say but what is still open', () => {
    expect(said(CANONICAL)).toEqual([
      'property-to-note at cinema/property/Motion / Smoothing, 38:23 "?"',
      'readings-to-take at grey/row/3/Y, 71:13 "?"',
    ]);
  });
  it('means what it says', () => {
    const session = read(CANONICAL);
    expect(session.runs.map((run) => [run.kind, run.id, run.mode?.name, run.target?.name, run.meter?.name, run.signal?.name])).toEqual([
      ['greyscale', 'grey', 'cinema', 'dark', 'probe', 'sdr'],
      ['saturation', 'sat', 'cinema-tuned', 'dark', 'probe', 'sdr'],
      ['tracking', 'hdr-1k', 'cinema', 'hdr', 'probe', 'hdr-1000'],
      ['tracking', 'hdr-4k', 'cinema', 'hdr', 'probe', 'hdr-4000'],
    ]);
    expect(session.date).toEqual({ text: '2026-03-14', day: 20526 });
    expect(session.number(session.byName.get('hdr-4000'), 'depth')).toBe(10);
    expect(session.number(session.byName.get('hdr-4000'), 'mastering-peak')).toBe(4000);
    expect(session.number(session.first('display'), 'size')).toBeCloseTo(55 * 0.0254, 12);
    expect(session.quantityOf(session.first('session'), 'room', 'temperature')?.value).toBe(21);
  });
});

describe('property or row', () => {
  it('in a run, what starts as a reading is never a property', () => {
    for (const start of ['30', '<0.003', '>700', '-', '?']) expect(kinds(`${RUN}    ${start} a: b`)[3], start).toBe('row');
    expect(kinds(`${RUN}  red: b`)[3]).toBe('property');
  });
  it('elsewhere, it may be one', () => {
    expect(kinds(`${V}mode m\n  3D mode: off\n  -: x\n  ?: x`).slice(2)).toEqual(['property', 'property', 'property']);
  });
  it('a colon in a remark or comment makes no property of a row', () => {
    expect(
      kinds(`${V}contrast c\n    patch Y\n    white 119 | note: warm\n    black 0.1  # note: dark\n    grey 5 | 注：x`).slice(3),
    ).toEqual(['row', 'row', 'row']);
  });
  it('the first line of names alone is the column line, and there is one', () => {
    const text = `${V}greyscale g\n    level Y\n    30 6.7\n    level Y`;
    expect(kinds(text).slice(2)).toEqual(['columns', 'row', 'other']);
    expect(said(text)).toEqual(['columns-second at g/line/3, 5:5 "level Y"']);
  });
  it('a row of words is a row once there are columns', () => {
    expect(kinds(`${V}contrast c\n    patch Y\n    white black`)[3]).toBe('row');
  });
  it('a run may have a column that is called like a block', () => {
    expect(kinds(`${V}window w\n    window Y\n    10 500`).slice(2)).toEqual(['columns', 'row']);
    expect(kinds(`${V}window w\nwindow Y`)[2]).toBe('columns');
  });
});

describe('names', () => {
  it('of the user never collide with ours', () => {
    const text = `${V}mode m\n  input: HDMI\n  .input: HDMI 2\n`;
    expect(holding(text, 'm')).toEqual({ input: 'HDMI', '.input': 'HDMI 2' });
    expect(said(text)).toEqual([]);
    expect(said(`${V}mode m\n  .inptu: HDMI`)).toEqual(['property-unknown at m/property/.inptu, 3:3 ".inptu"']);
  });
  it("that start with x- are the user's own anywhere", () => {
    expect(said(`${V}signal s\n  x-cable: short, ?\n`)).toEqual([]);
  });
  it('are the same whichever way their accents are written', () => {
    const text = `${V}mode m\n  Me\u0301thode: a\n  M\u00e9thode: b\n`;
    expect(holding(text, 'm')).toEqual({ 'M\u00e9thode': 'a' });
    expect(said(text)).toEqual(['property-repeated at m/property/M\u00e9thode, 4:3 "M\u00e9thode"']);
    const run = `${V}tuning t\n    "Ge\u0301n" "G\u00e9n" Y x y\n    1 2 3 4 5`;
    expect(said(run)).toEqual(['column-repeated at t/columns, 3:12 ""G\u00e9n""']);
  });
});

describe('taking over', () => {
  const text = `${V}mode a
  One: 1
  Two: 2
  Three: 3
mode b from a
  Two: ~
  Three: ?
  Four: 4
mode c from b
  One: 5
`;
  it('copies, takes out with ~, and leaves ? to be noted', () => {
    expect(holding(text, 'b')).toEqual({ One: '1', Three: 'to-note', Four: '4' });
    expect(holding(text, 'c')).toEqual({ One: '5', Three: 'to-note', Four: '4' });
  });
  it('counts what is still to be noted once, where it is written', () => {
    expect(said(text)).toEqual(['property-to-note at b/property/Three, 8:10 "?"']);
  });
  it('is from the same kind with from, from any run with like, and never of rows', () => {
    const runs = `${V}greyscale a\n  stimulus: 75 %\n    level Y\n    100 119\nsaturation b like a\n`;
    expect(holding(runs, 'b')).toEqual({ stimulus: '75 %' });
    expect(tableOf(read(runs).byName.get('b')!).rows).toEqual([]);
    expect(said(`${V}mode a\ntarget b from a`)).toEqual(['reference-kind at b, 3:15 "a"']);
    expect(said(`${V}mode a\nlag b like a`)).toEqual(['reference-kind at b, 3:12 "a"']);
  });
  it('counts the first of a name written twice, and no struck one', () => {
    expect(holding(`${V}mode a\n  ~ One: 0\n  One: 1\n  One: 2`, 'a')).toEqual({ One: '1' });
    expect(holding(`${V}mode a\n  One: 1\nmode b from a\n  ~ One: ~`, 'b')).toEqual({ One: '1' });
  });
  it('takes nothing over in a circle, or from a voided block', () => {
    const circle = `${V}mode a from b\n  One: 1\nmode b from a\n  Two: 2`;
    expect(holding(circle, 'a')).toEqual({ One: '1' });
    expect(said(circle)).toEqual(['reference-circle at a, 2:13 "b"', 'reference-circle at b, 4:13 "a"']);
    expect(said(`${V}~ mode a\nmode b from a`)).toEqual(['reference-missing at b, 3:13 "a"']);
  });
  it(`ends behind ${MAX_GENERATIONS} blocks`, () => {
    const chain = (n: number): string =>
      `${V}mode m0\n  One: 1\n${Array.from({ length: n - 1 }, (_, i) => `mode m${i + 1} from m${i}\n`).join('')}`;
    expect(holding(chain(MAX_GENERATIONS), `m${MAX_GENERATIONS - 1}`)).toEqual({ One: '1' });
    expect(said(chain(MAX_GENERATIONS))).toEqual([]);
    expect(said(chain(MAX_GENERATIONS + 1))).toEqual([
      `reference-circle at m${MAX_GENERATIONS}, ${MAX_GENERATIONS + 3}:15 "m${MAX_GENERATIONS - 1}"`,
    ]);
  });
});

describe('what a run means', () => {
  const two = `${V}mode a\nmode b\n`;
  it('is the only block of a kind when it says nothing', () => {
    expect(read(`${V}mode a\ngreyscale g`).runs[0]!.mode?.name).toBe('a');
    expect(read(`${V}mode a\n~ mode b\ngreyscale g`).runs[0]!.mode?.name).toBe('a');
    expect(read(`${two}greyscale g`).runs[0]!.mode).toBeUndefined();
  });
  it('is none while it is still to be noted, and that is said once', () => {
    const text = `${two}greyscale g\n  mode: ?`;
    expect(read(text).runs[0]!.mode).toBeUndefined();
    expect(said(text)).toEqual(['property-to-note at g/property/mode, 5:9 "?"']);
    expect(read(`${V}mode a\ngreyscale g\n  mode: ?`).runs[0]!.mode).toBeUndefined();
  });
  it('is asked for again when an inherited one is taken out', () => {
    expect(said(`${two}greyscale g\n  mode: a\ngreyscale h like g\n  mode: ~`)).toEqual(['reference-unsaid at h, 6:1 "greyscale"']);
  });
});

describe('ids', () => {
  it('are unique in a file whatever the keyword; the first one counts', () => {
    const text = `${V}mode a\ntarget a\n`;
    expect(said(text)).toEqual(['id-repeated at a~2, 3:8 "a"']);
    expect(read(text).byName.get('a')?.keyword).toBe('mode');
  });
  it('are the keyword for a block without one, once', () => {
    expect(said(`${V}limits\nlimits`)).toEqual(['id-repeated at limits~2, 3:1 "limits"']);
    expect(said(`${V}~ limits\nlimits`)).toEqual([]);
  });
  it('do not clash with the lines before the first block', () => {
    expect(said(`${V}mode file\n  a: ?\n`)).toEqual(['property-to-note at file~2/property/a, 3:6 "?"']);
  });
});

describe('~', () => {
  it('strikes out a row, and moves nothing', () => {
    const text = `${RUN}  ~     30  67        0.3099   0.3279\n        30  6.70      0.3099   0.3279\n`;
    const { rows } = tableOf(read(text).runs[0]!.block);
    expect(rows.map((row) => [row.struck, cellText(row, 1), row.cells[3]])).toEqual([
      [true, '67', 12],
      [false, '6.70', 12],
    ]);
    expect(formatEdits(SessionText.read(text))).toEqual([]);
  });
  it('keeps what is struck out for the record, without a word on it', () => {
    expect(said(`${RUN}  ~ 30 6,7 < 3 "open\n  ~ 40 ?\n  ~ level Y\n  ~ nonsense: ?\n`)).toEqual([]);
    expect(said(`${V}mode m\n  ~ a: ?\n  ~ a: "open\n  ~ b：c`)).toEqual([]);
  });
  it('voids a block', () => {
    const text = `${V}~ greyscale g\n    level Q\n    30 6,7 < 3 "open\n  a: b\n`;
    expect(said(text)).toEqual([]);
    expect(read(text).runs).toEqual([]);
    expect(blockProblems(SessionText.read(text).blocks[1]!)).toEqual([]);
    expect(readingsToTake(SessionText.read(text).blocks[1]!)).toEqual({ count: 0 });
  });
  it('hides nothing that bears on the lines around', () => {
    expect(said(`${V}~ mode m\n  mode n\n  ~ mode o\n<<<<<<< a\n`)).toEqual([
      'header-indented at m/line/1, 3:3 "mode"',
      'header-indented at m/line/2, 4:5 "mode"',
      'merge-conflict at m/line/3, 5:1 "<<<<<<<"',
    ]);
  });
  it('takes a column line out of the way for the next one', () => {
    const text = `${V}greyscale g\n  ~ level x\n    level Y\n    30 6.7`;
    expect(kinds(text).slice(2)).toEqual(['columns', 'columns', 'row']);
    expect([...tableOf(read(text).runs[0]!.block).columns.keys()]).toEqual(['level', 'Y']);
    expect(said(text)).toEqual([]);
  });
});

describe('cells of a row', () => {
  it('may be left out at its end, and are then still to take', () => {
    const { rows, columns } = tableOf(read(`${RUN}        30  6.70\n`).runs[0]!.block);
    expect(kindAt(rows[0]!, columns.get('y')!)).toBe(CellKind.ToTake);
    expect(valueAt(rows[0]!, columns.get('y')!)).toBe(Number.NaN);
    expect(said(`${RUN}        30  6.70\n`)).toEqual(['readings-to-take at g/row/0, 4:9 "30  6.70"']);
  });
  it('are too many when there are more than columns', () => {
    expect(said(`${RUN}    30 6.7 0.31 0.33 0.5 7  | x`)).toEqual(['cell-surplus at g/row/0, 4:22 "0.5 7"']);
  });
  it('count as rows to take by row, not by cell', () => {
    const block = read(`${RUN}    0 ? ? ?\n    10 1 ? 0.3\n  ~ 20 ?\n    30 - - -\n`).runs[0]!.block;
    expect(readingsToTake(block)).toEqual({ count: 2, first: { line: 2, cell: 1 } });
    expect(keyLabel(block, block.row(3))).toBe('10');
  });
  it('stand in the units of their columns', () => {
    const { rows, columns } = tableOf(read(`${V}greyscale g\n    level[10bit] Y[fL] t[min] x\n    64 1 2 0.3`).runs[0]!.block);
    expect(columns.get('level')).toMatchObject({ bits: 10, factor: 1 });
    // 1 fL = 1/π cd/ft², 1 ft = 0.3048 m.
    expect(valueAt(rows[0]!, columns.get('Y')!)).toBeCloseTo(3.4262591, 7);
    expect(valueAt(rows[0]!, columns.get('t')!)).toBe(120);
  });
  it('are told apart by the case of their columns', () => {
    const { rows, columns } = tableOf(read(`${V}greyscale g\n    y level Y x\n    1 2 3 4`).runs[0]!.block);
    expect(['level', 'Y', 'x', 'y'].map((name) => valueAt(rows[0]!, columns.get(name)!))).toEqual([2, 3, 4, 1]);
  });
  it('before the column line are kept as text', () => {
    const text = `${V}greyscale g\n    30 6.7\n    40 13\n    level Y\n    50 22`;
    expect(kinds(text).slice(2)).toEqual(['other', 'other', 'columns', 'row']);
    expect(said(text)).toEqual(['columns-missing at g/line/1, 3:5 "30 6.7"']);
  });
});

describe('slips of the hand, each with a mend', () => {
  it.each([
    ['a decimal comma', '    30 6,70 0.31 0.33', 'decimal-comma', '    30 6.70 0.31 0.33'],
    ['a decimal comma behind <', '    0 <0,003', 'decimal-comma', '    0 <0.003'],
    ['a minus of a word processor, apart', '    30 − 3 0.31 0.33', 'sign-apart', '    30 -3 0.31 0.33'],
    ['a minus of a word processor', '    30 −3 0.31 0.33', 'minus-sign', '    30 -3 0.31 0.33'],
    ['a minus of a word processor in a value', '  note: −3  # x', 'minus-sign', '  note: -3  # x'],
    ['a dash for not measured', '    30 5 0.31 –', 'minus-sign', '    30 5 0.31 -'],
    ['< apart', '    0 < 0.003 - -', 'sign-apart', '    0 <0.003 - -'],
    ['+ apart', '    0 + 3 - -', 'sign-apart', '    0 3 - -'],
    ['a per cent sign', '    10% 0.5', 'percent-in-cell', '    10 0.5'],
    ['two tabs', '\t30\t\t0.31', 'cell-empty', '\t30\t?\t0.31'],
    ['a row at the start of the line', '30 6.7', 'not-indented', '    30 6.7'],
    ['a struck row at the start of the line', '~ 30 6.7', 'not-indented', '  ~ 30 6.7'],
    ['a property at the start of the line', 'note: x', 'not-indented', '  note: x'],
    ['a block that is indented', '  mode m', 'header-indented', 'mode m'],
    ['a full-width colon', '  note：x', 'colon-wide', '  note: x'],
    ['a full-width colon and a blank', '  note： x', 'colon-wide', '  note: x'],
    ['an open quotation', '  note: "x  # y', 'string-open', '  note: "x"  # y'],
    ['an open quotation behind a backslash', '  note: "x\\', 'string-open', '  note: "x\\\\"'],
  ] as const)('%s', (_, line, code, after) => {
    expect(mended(RUN + line, code)).toBe(RUN + after);
  });
  it.each([
    ['round brackets', 'level Y(fL)', 'column-spelling', 'level Y[fL]'],
    ['a unit apart', 'level [10bit] Y', 'column-spelling', 'level[10bit] Y'],
    ['a prime', "level Y u′ v'", 'column-spelling', "level Y u' v'"],
    ['y for Y', 'level y x y', 'column-repeated', 'level Y x y'],
    ['a near name', 'levle Y', 'column-unknown', 'level Y'],
  ] as const)('%s in a column line', (_, line, code, after) => {
    expect(mended(`${V}greyscale g\n    ${line}`, code)).toBe(`${V}greyscale g\n    ${after}`);
  });
  it('a unit apart from a quoted column too', () => {
    expect(mended(`${V}tuning t\n    "Gain’s red" [x] Y x y`, 'column-spelling')).toBe(`${V}tuning t\n    "Gain’s red"[x] Y x y`);
    expect(said(`${V}tuning t\n    "Gain’s red"[x] Y x y`)).toEqual(['column-unit at t/columns, 3:17 "[x]"']);
  });
  it('mends take the line ends of the file', () => {
    const text = 'mode a\r\nmode b\r\ngreyscale g';
    expect(mended(text, 'version-missing')).toBe(`nitbook 1\r\n${text}`);
    expect(mended(text, 'reference-unsaid')).toBe(`${text}\r\n  mode: a`);
    expect(mended(`nitbook 1\r\n${text}\r\n    30 5`, 'columns-missing')).toBe(`nitbook 1\r\n${text}\r\n    level Y x y\r\n    30 5`);
  });
  it('mends of the first line leave the byte order mark where it is', () => {
    expect(mended('\ufeffmode a', 'version-missing')).toBe('\ufeffnitbook 1\nmode a');
    expect(mended('\ufeff  mode a', 'header-indented')).toBe('\ufeffmode a');
  });
  it('one slip is one finding, besides what it stands in', () => {
    expect(said(`${RUN}30 < 5 0,3 "a`)).toEqual([
      'not-indented at g/row/0/level, 4:1 "30"',
      'sign-apart at g/row/0/Y, 4:4 "< 5"',
      'decimal-comma at g/row/0/x, 4:8 "0,3"',
      'string-open at g/row/0/y, 4:12 ""a"',
    ]);
  });
  it('the version is missed whatever comes first', () => {
    for (const first of ['30 5', 'a: b', '  a: b', 'mode m', '~ mode m', '  mode m', '"x"', '~']) {
      expect(
        said(first).filter((s) => s.startsWith('version-missing')),
        first,
      ).toHaveLength(1);
    }
  });
});

describe('a merge under way', () => {
  const text = `${RUN}<<<<<<< ours\n    30 6.7 0.31 0.33\nmode m\n=======\n    30 6,8\n>>>>>>> theirs\n    40 13 0.31 0.33\n`;
  it('keeps what is between the marks as text, heads too', () => {
    expect(kinds(text).slice(3)).toEqual(['conflict', 'held', 'held', 'conflict', 'held', 'conflict', 'row', 'blank']);
    expect(SessionText.read(text).blocks).toHaveLength(2);
    expect(SessionText.read(text).blocks[1]!.conflicted).toBe(true);
    expect(tableOf(read(text).runs[0]!.block).rows).toHaveLength(1);
  });
  it('is an error at each mark, and nothing else', () => {
    expect(said(text)).toEqual([
      'merge-conflict at g/line/2, 4:1 "<<<<<<<"',
      'merge-conflict at g/line/5, 7:1 "======="',
      'merge-conflict at g/line/7, 9:1 ">>>>>>>"',
    ]);
  });
  it('is not opened by an inner mark that was left behind', () => {
    expect(kinds(`${RUN}=======\n    30 6.7\n|||||||\n    40 13`).slice(3)).toEqual(['conflict', 'row', 'conflict', 'row']);
  });
});

describe('a newer version', () => {
  const text = 'nitbook 2\nmode m\n a:b\n a: b\n';
  it('is read as far as it is known, and said', () => {
    expect(said(text)).toEqual(['version-newer at file/line/0, 1:9 "2"', 'line-unread at m/line/1, 3:2 "a:b"']);
    expect(holding(text, 'm')).toEqual({ a: 'b' });
  });
  it('is not rewritten', () => {
    const source = SessionText.read(text);
    expect(formatEdits(source)).toEqual([]);
    expect(plan(source, { do: 'setProperty', block: 'm', name: 'a', value: 'c' })).toEqual({ code: 'version-newer', args: { version: 2 } });
  });
});

describe('what is not known', () => {
  it('is kept, with information', () => {
    const text = `${V}Kitchen k\n  a: b\ngreyscale g\n  stuff: x\n    level Y foo\n    30 6.7 bar`;
    expect(said(text)).toEqual([
      'block-unknown at k, 2:1 "Kitchen"',
      'property-unknown at g/property/stuff, 5:3 "stuff"',
      'column-unknown at g/columns, 6:13 "foo"',
    ]);
    expect(applyEdits(text, formatEdits(SessionText.read(text)))).toBe(
      `${V}Kitchen k\n  a: b\ngreyscale g\n  stuff: x\n    level   Y         foo\n        30  6.7       bar`,
    );
  });
});
