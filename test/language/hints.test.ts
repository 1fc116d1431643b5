import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { errorParts } from '../../src/language/direction';
import { hints } from '../../src/language/hints';
import { colouredOf, rowFigure } from '../../src/language/rowFigures';
import { analyse, settled } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { HEAD } from './marked';

const analysed = (text: string) => analyse(SessionText.read(text), NO_CONFIG);

/** `line ⟵ hint` for each line that has one. */
function hinted(text: string, from = 0, to = Number.POSITIVE_INFINITY): string[] {
  const analysis = analysed(text);
  return hints(analysis, from, to).map(({ offset, text: said }) => {
    const line = analysis.source.lines[analysis.source.lineAt(offset)]!.text;
    expect(text.slice(offset - line.length, offset)).toBe(line);
    return `${line.trim()} ⟵ ${said}`;
  });
}

const grey = (rows: string, head = HEAD) => `${head}greyscale grey\n    level   Y         x        y\n${rows}`;

describe('the hint of a row', () => {
  // The worked example of the measures: 30 % read 6.70 .3099 .3279 against power 2.4, D65, 120 cd/m² is ΔE 2000 0.6416 (constructed).
  it('gives the difference, and no word for one that a reference display may have', () => {
    expect(hinted(grey('        30  6.70  0.3099  0.3279\n'))).toEqual(['30  6.70  0.3099  0.3279 ⟵ ΔE 0.6']);
  });

  it('says where the true difference lies when one asks, and keeps the line short', () => {
    const analysis = analysed(grey('        30  6.70  0.3099  0.3279\n'));
    const [before] = hints(analysis, 0, 99);
    expect(before!.tooltip).not.toMatch(/…/);
    settled(analysis);
    const [after] = hints(analysis, 0, 99);
    expect(after!.text).toBe(before!.text);
    expect(after!.tooltip).toMatch(/^ΔE 2000 0\.64 (±|\()/);
    expect(after!.tooltip.endsWith(before!.tooltip)).toBe(true);
  });

  it.each([
    // Levels of 100 %, target 120 cd/m² at D65 (.3127 .3290): each reading is off in one way.
    ['above the luminance of the target', '130  0.3127  0.3290', 'too bright'],
    ['below it', '110  0.3127  0.3290', 'too dark'],
    // CIE 15: daylight of 7500 K is .2990 .3149, of 5500 K .3324 .3475; both lie near the direction of the Planckian locus from D65.
    ['bluer along the locus', '120  0.2990  0.3149', 'cool'],
    ['yellower along the locus', '120  0.3324  0.3475', 'warm'],
    // Across the locus: u constant, v of CIE 1960 up and down by 0.006.
    ['above the locus', '120  0.3168  0.3426', 'greenish'],
    ['below the locus', '120  0.3084  0.3153', 'pinkish'],
  ])('says in a word that a grey is %s', (_, reading, word) => {
    expect(hinted(grey(`       100  ${reading}\n`))[0]).toMatch(new RegExp(`⟵ ΔE \\d+\\.\\d ${word}$`));
  });

  it('names the hue that a grey far off the Planckian locus is tinted with', () => {
    expect(hinted(grey('       100  120  0.3000  0.6000\n'))[0]).toMatch(/ towards green$/);
  });

  const saturation = (row: string) => `${HEAD}saturation sat\n    hue  sat  Y  x  y\n    ${row}\n`;

  it.each([
    // Red at full saturation is .640 .330 and 0.2126 · 120 cd/m² = 25.51.
    ['nearer to white', 'red  50  42.16  0.4432  0.3310', 'under-saturated'],
    ['on its way to green', 'red  100  25.51  0.600  0.370', 'towards yellow'],
    ['dark', 'red  100  15.0  0.640  0.330', 'too dark'],
    // Halfway to red the target is .4764 .3295 (constructed); beyond it on the same line lies more saturation.
    ['farther from white', 'red  50  42.16  0.5400  0.3296', 'over-saturated'],
  ])('says of a colour that is %s', (_, row, word) => {
    expect(hinted(saturation(row))[0]).toMatch(new RegExp(`⟵ ΔE \\d+\\.\\d ${word}$`));
  });

  it('speaks of luminance where there is no colour, by the sign and in a word', () => {
    // 50 %: 120 · 0.5^2.4 = 22.736.
    const text = `${HEAD}greyscale grey\n    level  Y\n        50  25.01\n        60  35.21\n        70  48\n`;
    expect(hinted(text)).toEqual(['50  25.01 ⟵ Y +10.0 % too bright', '60  35.21 ⟵ Y 0.0 %', '70  48 ⟵ Y -5.8 % too dark']);
  });

  it('is in ΔE ITP for HDR', () => {
    // PQ 0.5 is 92.25 cd/m², and 100 cd/m² is PQ 0.50808 (ST 2084): 720 times the difference.
    const text = `${HEAD}target hdr\n  space: bt2020\n  curve: pq\ngreyscale grey\n  target: hdr\n    level  Y  x  y\n        50  100  0.3127  0.3290\n`;
    expect(hinted(text)).toEqual(['50  100  0.3127  0.3290 ⟵ ΔE ITP 5.8 too bright']);
  });

  it('stands behind the first of repeats alone, and not behind what takes no part', () => {
    const rows = [
      '         0  <0.003  -  -',
      '  ~     30  67  0.3099  0.3279',
      '        30  6.70  0.3099  0.3279',
      '        30  6.72  0.3099  0.3279',
      '        40  ?  ?  ?',
      '   x  6  0.3  0.3',
      '',
    ].join('\n');
    expect(hinted(grey(rows))).toEqual(['greyscale grey ⟵ 1 reading still to take', '30  6.70  0.3099  0.3279 ⟵ ΔE 0.6']);
  });

  it('says in its tooltip all parts of the error and what it is against', () => {
    const analysis = analysed(grey('       100  130  0.2990  0.3149\n'));
    expect(hints(analysis, 0, 99).map(({ tooltip }) => tooltip)).toEqual([
      // CIEDE2000 by the steps of Sharma, Wu & Dalal (constructed): lightness 1.77, chroma 6.98, 7.20 in all; 0.10 of it pinkish.
      'Cool by ΔE 7.0, too bright by 1.8. Against dark: BT.709, power 2.4, D65, white 120 cd/m² (stated by dark).',
    ]);
  });
});

describe('the parts of an error', () => {
  it.each([
    ['a grey against ΔE 2000', 'de', grey('        30  7.70  0.3009  0.3379\n')],
    // Red lies outside of the region where CIEDE2000 has a rotation (ISO/CIE 11664-6).
    ['a colour against ΔE 2000', 'de', `${HEAD}saturation sat\n    hue  sat  Y  x  y\n    red  50  40.16  0.4632  0.3410\n`],
    [
      'a grey against ΔE ITP',
      'de.itp',
      `${HEAD}target hdr\n  space: bt2020\n  curve: pq\ngreyscale grey\n  target: hdr\n    level  Y  x  y\n    50  100  0.3027  0.3390\n`,
    ],
  ])('add up to it in squares: %s', (_, id, text) => {
    const result = analysed(text).results[0]!;
    const parts = errorParts(colouredOf(result)!, 0);
    expect(parts.length).toBe(3);
    expect(Math.hypot(...parts.map(({ size }) => size))).toBeCloseTo(rowFigure(result, id, 0)!.v, 6);
  });
});

describe('hints', () => {
  it('count a run’s missing readings behind its head', () => {
    expect(hinted(grey('        30  ?\n        40  ?\n'))).toEqual(['greyscale grey ⟵ 2 readings still to take']);
  });

  it('are those of the lines asked for', () => {
    const text = grey('        30  6.70  0.3099  0.3279\n        40  13.3  0.3099  0.3279\n        50  ?\n');
    const first = analysed(text).source.lines.findIndex(({ kind }) => kind === 'row');
    expect(hinted(text, first + 1, first + 2)).toEqual(['40  13.3  0.3099  0.3279 ⟵ ΔE 0.8']);
    expect(hinted(text, first, first)).toEqual([]);
    expect(hinted(text, -5, 2)).toEqual([]);
    expect(hinted(text, Number.NaN, Number.NaN)).toEqual([]);
  });

  it('say nothing of runs without a target, of void runs and of runs that are not computed', () => {
    expect(hinted('nitbook 1\ngreyscale grey\n    level Y\n    50 20\n')).toEqual([]);
    expect(hinted(`${HEAD}~ greyscale grey\n    level Y\n    50 20\n    60 ?\n`)).toEqual([]);
    expect(hinted(`${HEAD}tracking hdr\n    level Y\n    50 20\n`)).toEqual([]);
  });
});

describe('the figure of one row', () => {
  it('is that of the whole run', () => {
    const greys = grey(
      '         0  0.004  0.31  0.32\n         5  0.09  0.30  0.31\n        30  6.70  0.3099  0.3279\n       100  119.6  0.3089  0.3248\n',
    );
    const colours = `${HEAD}saturation sat\n    hue sat Y x y\n    red 50 44.1 .4432 .331\n    cyan 100 90 .22 .33\n`;
    // A black below the floor under a curve that stands on black gives figures with two ends.
    const floor = grey(
      '         0  <0.003  -  -\n        10  0.5  .31  .32\n       100  119.6  0.3089  0.3248\n',
      HEAD.replace('power 2.4', 'bt1886'),
    );
    for (const text of [greys, colours, floor]) {
      const result = analysed(text).results[0]!;
      for (const [id, { scope, by }] of Object.entries(result.specs)) {
        if (scope === 'run' || by !== undefined) continue;
        for (let patch = 0; patch < result.context!.patches.count; patch++) {
          const value = result.value(id, result.keyOf(patch));
          expect(rowFigure(result, id, patch), `${id} of patch ${patch}`).toEqual(value.ok ? value : undefined);
        }
      }
    }
  });
});
