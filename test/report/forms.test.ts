import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MEASURE_IDS, MEASURES } from '../../src/measure/specs';
import { CSV_COLUMNS, summaryCsv } from '../../src/report/csv';
import { summaryJson } from '../../src/report/json';
import { escaped, summaryMarkdown } from '../../src/report/markdown';
import { measuresJson, measuresMarkdown, measuresText } from '../../src/report/measures';
import { readReference } from '../../src/session/reference';
import { analysed, small } from './sessions';

const session = analysed(small);

/** A reader of RFC 4180, written for these tests alone. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  for (const { 1: quoted, 2: plain, 3: end } of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/g)) {
    row.push(quoted === undefined ? plain! : quoted.replaceAll('""', '"'));
    if (end !== ',') {
      rows.push(row);
      row = [];
    }
  }
  return rows;
}

describe('as JSON', () => {
  const json = summaryJson(session, 'aurora.nitbook');

  it('has the documented shape', () => {
    expect({ ...json, runs: json.runs.map(({ id }) => id) }).toEqual({
      changes: [],
      file: 'aurora.nitbook',
      title: 'Halden Aurora 55, bench day',
      date: '2026-03-14',
      display: { id: 'aurora', title: 'Halden Aurora 55' },
      firmware: '2.14.8',
      toTake: 1,
      findings: { error: 0, warning: 1, info: 2 },
      runs: ['grey', 'pair', 'peaks', 'lamp'],
    });
    const [grey, pair, peaks, lamp] = json.runs;
    expect({ ...grey, measures: {}, rows: [] }).toEqual({
      id: 'grey',
      kind: 'greyscale',
      title: 'As shipped',
      against: 'dark: BT.709, power 2.4, D65, white 120 cd/m² (stated by dark)',
      mode: 'cinema',
      signal: 'sdr',
      meter: 'probe',
      firmware: null,
      taken: null,
      toTake: 1,
      why: null,
      says: [],
      measures: {},
      rows: [],
    });
    const none = {
      interval: null,
      noInterval: null,
      bound: null,
      ends: null,
      verdict: null,
      aim: null,
      limit: null,
      from: null,
      why: null,
    };
    expect(pair!.measures.white).toEqual({ ...none, value: 120, unit: 'cd/m²' });
    expect(pair!.measures.sequential).toEqual({
      ...none,
      value: 40000,
      unit: ':1',
      bound: 'at-least',
      verdict: 'within',
      aim: 2000,
      limit: 500,
      from: 'default',
    });
    expect(grey!.measures['curve.exponent']).toEqual({
      ...none,
      value: null,
      unit: '',
      aim: [-0.05, 0.05],
      limit: [-0.1, 0.1],
      from: 'default',
      why: 'it needs at least 2 rows from 10 to 90 %',
    });
    expect(peaks!.measures['peak@10']).toEqual({
      ...none,
      value: 800,
      unit: 'cd/m²',
      verdict: 'within',
      aim: 1000,
      limit: 500,
      from: 'default',
    });
    expect(peaks!.rows).toEqual([
      { key: '10', values: { peak: 800 } },
      { key: '100', values: { peak: 600 } },
    ]);
    expect(lamp).toMatchObject({ why: 'the run is kept; its figures are not computed by this version', measures: {}, rows: [] });
  });

  it('gives numbers that are not rounded, null where a row has none, and survives being written', () => {
    const grey = json.runs[0]!;
    expect(grey.measures['de.max']!.value).toBe(grey.rows[0]!.values.de);
    expect(grey.rows.map(({ key, values }) => [key, values.de === null])).toEqual([
      ['30', false],
      ['40', true],
      ['100', false],
    ]);
    expect(JSON.parse(JSON.stringify(json))).toEqual(json);
  });

  it('keeps the two ends of a figure that hangs on a black below the floor', () => {
    const text = small
      .replace('curve: power 2.4', 'curve: bt1886')
      .replace('        30  6.70 ', '         0  <0.05     -        -\n        10  0.50      0.3127   0.3290\n        30  6.70 ');
    const de = summaryJson(analysed(text), 'a').runs[0]!.measures['de.max']!;
    expect(de.ends).not.toBeNull();
    expect(de.ends![0]).toBeLessThan(de.ends![1]);
    expect(de.ends).toContain(de.value);
  });

  it('names rows as references do', () => {
    const text = `nitbook 1
window w
    window  Y
    10      800
patches p
  target: t
    patch            R    G    B    Y    x       y
    "skin, light"    100  100  100  100  0.3127  0.3290
target t
  space: bt709
  curve: power 2.4
`;
    const { key } = summaryJson(analysed(text), 'a').runs[1]!.rows[0]!;
    const reading = readReference(`#p.de@${key}`);
    expect(reading.ok && reading.reference.keys).toEqual(['skin, light']);
  });
});

describe('as CSV', () => {
  it('has one figure a line, with the columns of its head, and lines that end in CR LF', () => {
    const csv = summaryCsv(session, 'aurora.nitbook');
    expect(csv.endsWith('\r\n')).toBe(true);
    const [head, ...lines] = readCsv(csv);
    expect(head).toEqual([...CSV_COLUMNS]);
    expect(new Set(lines.map((line) => line.length))).toEqual(new Set([CSV_COLUMNS.length]));
    const against = 'dark: BT.709, power 2.4, D65, white 120 cd/m² (stated by dark)';
    const of = (run: string, measure: string, key = '') => lines.find((line) => line[1] === run && line[3] === measure && line[4] === key);
    expect(of('grey', 'white.luminance')?.join('|')).toBe(`aurora.nitbook|grey|greyscale|white.luminance||120|cd/m²||||${against}||||||`);
    expect(of('pair', 'sequential')?.join('|')).toBe('aurora.nitbook|pair|contrast|sequential||40000|:1|within|2000|500||at-least|||||');
    expect(of('peaks', 'peak', '10')?.join('|')).toBe('aurora.nitbook|peaks|window|peak|10|800|cd/m²|within|1000|500|||||||');
    expect(of('grey', 'balance.g', '100')?.slice(8, 10)).toEqual(['98..102', '95..105']);
    expect(of('lamp', '')?.join('|')).toBe(
      'aurora.nitbook|lamp|tuning|||||||||||' + '|the run is kept; its figures are not computed by this version||',
    );
  });

  it('quotes, and makes nothing that a spreadsheet would run', () => {
    const written = (name: string) => readCsv(summaryCsv(session, name))[1]![0];
    const formulas = ['=HYPERLINK("http://x")', '+1+2', '-2+3', '@SUM(A1)', '\tx', '\t', '\t5', '\r', '\rx', '-1..2', '-Infinity'];
    for (const name of formulas) expect(written(name)).toBe(`'${name}`);
    for (const name of ['a"b,c\r\nd', 'a\t=1', '-1', '+.5e3']) expect(written(name)).toBe(name);
  });

  it('leaves numbers numbers, below 0 too', () => {
    const text = small.replace('        30  6.70 ', '        30  6.00 ');
    const line = readCsv(summaryCsv(analysed(text), 'a')).find((cells) => cells[3] === 'curve.worst')!;
    expect(Number(line[5])).toBeLessThan(-9);
    expect(line.slice(8, 10)).toEqual(['-5..5', '-10..10']);
  });
});

describe('as Markdown', () => {
  const markdown = summaryMarkdown(session, 'aurora.nitbook');

  it('has the day, each run with all its figures and rows, and the settings', () => {
    expect(markdown.startsWith('# Halden Aurora 55, bench day\n\n- File: aurora.nitbook\n- Date: 2026-03-14\n')).toBe(true);
    expect(markdown).toContain(
      `## pair

Contrast, mode cinema-tuned, signal sdr, meter probe, taken 2026-03-15.

| Measure | Value | Verdict | Limit | Aim |
| --- | --- | --- | --- | --- |
| White | 120.0~cd/m² |  |  |  |
| Black | at~most~0.0030~cd/m² | within~·, aim met | 0.4 cd/m² | 0.05 cd/m² |
| Contrast, sequential | at~least~40000:1 | within~·, aim met | 500:1 | 2000:1 |

Not computed: Contrast, checkerboard (it needs the patch checker-white).
`.replaceAll('~', '\u00a0'),
    );
    expect(markdown).toContain(
      '| level | ΔE 2000 | ΔE ITP | ΔE without luminance | Red (%) | Green (%) | Blue (%) | Luminance error (%) |\n',
    );
    expect(markdown).toContain('\n| 30 | 0.64 ▲ | 1.21 | 0.64 | 97.5 | 100.6 | 101.6 | 0.2 |\n| 40 | — | — | — | — | — | — | — |\n');
    expect(markdown).toContain('| Setting | cinema | cinema-tuned |\n');
    expect(markdown.endsWith('| Picture / Gamma | 2.4 | 2.4 |\n| White / Gain red | ? | -3 |\n')).toBe(true);
  });

  it('lists no more rows than can be read, and says how many there are', () => {
    const rows = Array.from({ length: 250 }, (_, i) => `    ${i + 1}  100\n`).join('');
    const text = summaryMarkdown(analysed(`nitbook 1\nwindow w\n    window  Y\n${rows}`), 'a');
    expect(text).toContain('\n| 200 | 100 |\n\nand 50 more rows.\n');
  });

  it('shows hostile titles and settings as text', () => {
    const hostile = small
      .replace('"As shipped"', '"<img src=x onerror=alert(1)> **b** [a](javascript:x) | `c` $d$ \u001B[0m"')
      .replace('Picture / Gamma: 2.4', 'Picture / <b>|: </table><script>alert(1)</script>');
    const text = summaryMarkdown(analysed(hostile), 'a');
    expect(text).toContain(
      '## grey: \\<img src=x onerror=alert(1)\\> \\*\\*b\\*\\* \\[a\\](javascript:x) \\| \\`c\\` \\$d\\$ \uFFFD\\[0m\n',
    );
    expect(text).toContain('| Picture / \\<b\\>\\| | \\</table\\>\\<script\\>alert(1)\\</script\\> |');
  });

  it('leaves no mark that could begin markup without a backslash', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const marks = escaped(text).replaceAll(/\\[!-/:-@[-`{-~]/g, '');
        expect(marks).not.toMatch(/[\\`*_[\]{}<>#|~&!$\r\n]|:\/\/|www\./i);
      }),
    );
    expect(escaped('see https://x.example, //x.example and WWW.x.example, a@b.example')).toBe(
      'see https\\://x.example, \\//x.example and WWW\\.x.example, a\\@b.example',
    );
  });
});

describe('the table of measures', () => {
  const kinds = Object.keys(MEASURES);

  it('has each measure once, and rows with limits of their own', () => {
    const ids = measuresJson(kinds).map(({ id }) => id);
    expect(ids.filter((id) => !id.includes('@'))).toEqual(MEASURE_IDS);
    expect(ids).toContain('window.peak@10');
  });

  it('says how a reference names it, its limits and what it is', () => {
    const line = (kind: string, name: string) =>
      measuresText([kind])
        .split('\n')
        .find((text) => text.startsWith(`  ${name} `))
        ?.trim()
        .split(/ {2,}/);
    expect(line('greyscale', 'de.max')).toEqual(['de.max', 'ΔE 2000 maximum', 'smaller', 'limit 4, aim 2', 'largest ΔE 2000 of the rows']);
    expect(line('contrast', 'black')?.[4]).toBe('SDR: limit 0.4, aim 0.05; HDR: limit 0.01, aim 0.005');
    expect(line('saturation', 'hue.de@hue')?.[1]).toBe('ΔE 2000 of a hue');
    expect(line('window', 'peak[@window]')?.[1]).toBe('Peak');
    expect(line('greyscale', 'balance.r@level')?.slice(2, 5)).toEqual(['%', 'nearer 100', 'limit ±5, aim ±2']);
    expect(measuresMarkdown(['contrast'])).toContain('| `sequential` | Contrast, sequential | :1 | larger | limit 500, aim 2000 |');
  });
});
