import { describe, expect, it } from 'vitest';
import { settled } from '../../src/project/analysis';
import { differenceNow, matters } from '../../src/report/difference';
import { differenceAsMarkdown, differenceAsText } from '../../src/report/differenceForms';
import { differenceAsJson } from '../../src/report/differenceJson';
import { sayIn } from '../../src/text/message';
import { analysed } from './sessions';

const between = (before: string, after: string) => differenceNow(settled(analysed(before)), settled(analysed(after)));
const names = { before: 'a.nitbook', after: 'b.nitbook' };
const inText = (before: string, after: string) => differenceAsText(between(before, after), names);
const put = (of: string, from: string | RegExp, to: string) => {
  const result = of.replace(from, to);
  expect(result, `${from} is there`).not.toBe(of);
  return result;
};

const text = `nitbook 1
session 2026-03-14
  room: 0.02 lx
meter probe
  kind: colorimeter
  spread: 0.0004 xy, 0.5 %
  accuracy: 0.002 xy, 2 %
signal sdr
  range: limited
  depth: 10
mode cinema
  Picture / Gamma: 2.4
target dark
  space: bt709
  curve: power 2.4
  white: d65
greyscale grey
    level   Y         x        y
       100  120       0.3127   0.3290
        10  0.478     0.3127   0.3290
        50  22.7      0.3127   0.3290
        70  51.0      0.3127   0.3290
`;

describe('a difference in words', () => {
  it('is a note for the bench', () => {
    const after = put(put(put(text, '0.02 lx', '0.05 lx'), 'Gamma: 2.4', 'Gamma: 2.2'), '22.7      0.3127', '20.31     0.3300');
    expect(inText(text, after)).toMatch(
      /^a\.nitbook → b\.nitbook\n\nsession 2026-03-14\n {2}room: 0\.02 lx → 0\.05 lx\n\nmode cinema\n {2}Picture \/ Gamma: 2\.4 → 2\.2\n\ngreyscale grey\n {2}50 %: Y 22\.7 → 20\.31, x 0\.3127 → 0\.3300\n/,
    );
    expect(inText(text, after)).toMatch(/\n {2}ΔE 2000 maximum 0\.\d\d → \d+\.\d\d, beyond ▲ \(was within ·\), changed\n/);
  });

  it('says "by the mended reading" of a slip, and claims nothing of the meter', () => {
    const said = inText(put(text, '22.7 ', '227  '), text);
    expect(said).toContain('  50 %: Y 227 → 22.7; mended, unless it is mistyped now\n');
    expect(said).toMatch(/\n {2}ΔE 2000 maximum \d+\.\d\d → \d\.\d\d, within · \(was beyond ▲\), by the mended reading\n/);
    expect(said).not.toMatch(/, changed|not shown/);
  });

  it('says where rows come and go, and counts what the meter cannot show', () => {
    expect(inText(text, put(text, /( +)70 .*\n/, ''))).toContain('70 %: removed: Y 51.0, x 0.3127, y 0.3290');
    expect(inText(text, put(text, '22.7 ', '22.72'))).toMatch(/more figures? moved by no more than the meter can show\./);
  });

  it('gathers readings that were still to take', () => {
    const open = text.replace(/^( {8}(?:10|50|70)).*$/gm, '$1  ?         ?        ?');
    expect(inText(open, text)).toContain('\n  taken: 10 %, 50 %, 70 % (3 rows)\n');
  });

  it('says that nothing matters, or nothing at all', () => {
    expect(inText(text, text)).toBe('a.nitbook → b.nitbook\n\nNo differences.\n');
    const same = between(text, text.replace('0.02 lx', '0.02 lx # dark'));
    expect(matters(same)).toBe(false);
    expect(differenceAsText(same, names)).toBe(
      'a.nitbook → b.nitbook\n\nNo differences that matter: only comments, notes, blanks or the writing of numbers.\n',
    );
  });

  it('follows another target to the runs, whose readings are the same', () => {
    expect(inText(text, put(text, 'power 2.4', 'power 2.0'))).toMatch(
      /target dark\n {2}curve: power 2\.4 → power 2\.0\n\ngreyscale grey\n(?: .*\n)* {2}ΔE 2000 maximum .*, by the same readings\n/,
    );
  });

  it('shows text of the file as text, in a terminal and in Markdown', () => {
    const other = put(text, 'room: 0.02 lx', 'room: <b>\u001b[31m*dark*');
    expect(inText(text, other)).toContain('room: 0.02 lx → <b>\uFFFD[31m*dark*');
    expect(differenceAsMarkdown(between(text, other), names)).toContain('- room: 0.02 lx → \\<b\\>\uFFFD\\[31m\\*dark\\*');
  });

  it('says every word in the language of the reader', () => {
    const say = sayIn((template) => `«${template}»`);
    const other = put(put(text, '22.7 ', '20.31'), 'greyscale grey', 'greyscale grey-before');
    for (const form of [differenceAsText, differenceAsMarkdown]) {
      const plain = form(between(text, other), { before: '', after: '' }, say).replaceAll(/«[^«»]*(?:«[^«»]*»[^«»]*)*»/g, '');
      // The id of the file's own.
      expect(plain.match(/\b(?:called|before|changed|more|Measure|Difference)\b/g), plain).toEqual(['before']);
    }
  });

  it('has a stable shape for programs', () => {
    const json = differenceAsJson(between(text, put(text, '22.7      0.3127', '22.7      0.3300')), names);
    expect(json).toMatchObject({
      before: 'a.nitbook',
      after: 'b.nitbook',
      matters: true,
      blocks: [
        {
          is: 'changed',
          keyword: 'greyscale',
          id: 'grey',
          was: null,
          void: false,
          properties: [],
          columns: null,
          rows: [{ is: 'changed', key: ['50'], was: null, struck: false, cells: [{ column: 'x', from: '0.3127', to: '0.3300' }] }],
          reordered: false,
        },
      ],
      runs: [
        {
          before: 'grey',
          after: 'grey',
          measures: { 'de.max': { by: 'again', changed: true, told: true, verdict: ['within', 'beyond'] } },
        },
      ],
    });
    expect(JSON.parse(JSON.stringify(json))).toEqual(json);
  });
});
