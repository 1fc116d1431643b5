import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readConfig } from '../../src/config/readConfig';
import { hoverAt } from '../../src/language/hover';
import { fieldsUri, shownColour } from '../../src/language/patch';
import { MEASURE_IDS } from '../../src/measure/specs';
import { settled } from '../../src/project/analysis';
import { escaped } from '../../src/report/markdown';
import { BLOCKS, type BlockSpec } from '../../src/session/vocabulary';
import { sentence } from '../../src/text/finding';
import { broken } from './broken';
import { HEAD, type Marked, marked } from './marked';

/** A table without the gaps that its cells bring. */
const plain = (part: string): string => part.replaceAll('&emsp; |', ' |');

/** What is underlined, then the parts; addresses of images are cut. */
function hovered(written: string, at: Marked = marked(written)): readonly string[] | undefined {
  const hover = hoverAt(at.analysis, at.offset);
  return hover && [at.text.slice(...hover.span), ...hover.parts.map((part) => plain(part).replace(/\(data:[^)]*\)/, '(…)'))];
}

const grey = (rows: string) => `${HEAD}greyscale grey\n  mode: cinema\n    level   Y         x        y\n${rows}`;
const AGAINST = 'Against dark: BT.709, power 2.4, D65, white 120 cd/m² (stated by dark).';
const BOTH = '![Left the patch as sent, right as read, with the white of the target as the white of this screen](…)';
const SENT = '![The patch as sent, with the white of the target as the white of this screen](…)';

describe('the hover of a row', () => {
  it('shows the patch as sent and as read, the numbers, the error and what they are against', () => {
    // Target 6.672, ΔE 0.6416 and the rest: the worked example of the measures (constructed).
    expect(hovered(grey('        30  6.7‸0      0.3099   0.3279\n       100  120  0.3127  0.3290\n'))).toEqual([
      '30  6.70      0.3099   0.3279',
      '**Row 30 of greyscale grey**',
      BOTH,
      '|  | Y, cd/m² | x | y |\n| --- | --- | --- | --- |\n| as sent | 6.672 | 0.3127 | 0.3290 |\n| as read | 6.7 | 0.3099 | 0.3279 |',
      [
        '- ΔE 2000 **0.64**',
        '- Luminance error **0.4 %** — within ·, aim met; limit ±10 %, aim ±5 %',
        '- Red **97.5 %** — within ·; limit 100 ±5 %, aim 100 ±2 %',
        '- Green **100.6 %** — within ·, aim met; limit 100 ±5 %, aim 100 ±2 %',
        '- Blue **101.6 %** — within ·, aim met; limit 100 ±5 %, aim 100 ±2 %',
        "- Δu'v' **0.0018**",
      ].join('\n'),
      // Chroma 0.640 and lightness 0.046 of 0.642 (constructed): what is small beside the rest is not said.
      'Cool by ΔE 0.5, greenish by 0.3.',
      AGAINST,
    ]);
  });

  it('says where the true numbers lie, once intervals are there', () => {
    const at = marked(
      grey('        30  6.7‸0      0.3099   0.3279\n       100  120  0.3127  0.3290\n').replace(
        '0.5 %',
        '0.5 %\n  accuracy: 0.002 xy, 2 %',
      ),
    );
    settled(at.analysis);
    const figures = hovered('', at)!.find((part) => part.startsWith('- '))!;
    // 0.5 % and half of 2 %, in quadrature, times 1.96 for 95 %, of 6.70 / 6.672: the white is stated by the target. Constructed.
    expect(figures).toContain('- Luminance error **0.4 ± 2.2 %** — within ·');
    expect(figures).toMatch(/^- ΔE 2000 \*\*0\.64 \(0\.\d\d … 1\.\d\d\)\*\*$/m);
  });

  it('says why a verdict is open', () => {
    const at = marked(grey('        30  6.9‸5      0.3127   0.3290\n').replace('0.5 %', '0.5 %\n  accuracy: 0.002 xy, 10 %'));
    expect(hovered('', at)!.join('\n')).toContain('**4.2 %** — within ·');
    settled(at.analysis);
    // Half of 10 % and 0.5 %, in quadrature, times 1.96, of 6.95 / 6.672: constructed.
    const said = hovered('', at)!;
    expect(said.join('\n')).toContain('- Luminance error **4.2 ± 10.3 %** — undecided ≈; limit ±10 %, aim ±5 %');
    expect(said).toContain("4.2 % lies within the meter's uncertainty of the limit ±10 %.");
  });

  it('draws the fields as two touching rectangles of sRGB, and nothing else', () => {
    const { analysis, offset } = marked(grey('       100  1‸20  0.3127  0.3290\n'));
    const image = hoverAt(analysis, offset)!.parts.find((part) => part.startsWith('!['))!;
    const svg = decodeURIComponent(/\(data:image\/svg\+xml,([^)]*)\)$/.exec(image)![1]!);
    expect(svg).toBe(
      '<svg xmlns="http://www.w3.org/2000/svg" width="128" height="32"><rect x="0" width="64" height="32" fill="#ffffff"/><rect x="64" width="64" height="32" fill="#ffffff"/></svg>',
    );
  });

  it('shows only what was sent while the reading is still to take', () => {
    expect(hovered(grey('        40  ?‸         ?        ?\n'))).toEqual([
      '40  ?         ?        ?',
      '**Row 40 of greyscale grey**',
      'Still to take.',
      SENT,
      '|  | Y, cd/m² | x | y |\n| --- | --- | --- | --- |\n| as sent | 13.31 | 0.3127 | 0.3290 |',
      AGAINST,
      '*info*: 1 reading still to take in grey, the first at 40.',
    ]);
  });

  it('says why there is no number, and shows none for a reading below the floor', () => {
    expect(hovered(grey('         0  <0.003    -  ‸      -\n'))).toEqual([
      '0  <0.003    -        -',
      '**Row 0 of greyscale grey**',
      SENT,
      '|  | Y, cd/m² | x | y |\n| --- | --- | --- | --- |\n| as sent | 0 |  |  |\n| as read | \\<0.003 |  |  |',
      '- Not computed: a row at level 0 has no such figure: black is judged apart.',
      AGAINST,
    ]);
  });

  it('tells how a row takes part: struck out, a repeat, a revisit', () => {
    expect(hovered(grey('  ~     3‸0  67  0.3099  0.3279\n'))).toEqual([
      '30  67  0.3099  0.3279',
      '**Row 30 of greyscale grey**',
      'Struck out: kept for the record, left out of every computation.',
    ]);
    expect(hovered(grey('        30  6.70  0.31  0.328\n        3‸0  6.74  0.31  0.328\n'))![2]).toBe(
      'One of 2 readings of this patch; the numbers are of their mean.',
    );
    expect(hovered(grey('       100  120  .31  .328\n        30  6.70  0.31  0.328\n       10‸0  119  0.31  0.328\n'))![2]).toBe(
      'Read before, further up: this reading serves the drift only.',
    );
  });

  it('repeats what was noticed in it', () => {
    const at = marked(grey('        30  6,7‸0  0.3099  0.3279\n'));
    const finding = at.analysis.findings.find(({ code }) => code === 'decimal-comma')!;
    expect(hovered('', at)!.at(-1)).toBe(`*${finding.severity}*: ${escaped(sentence(finding))}`);
  });

  it('has lightness, chroma and hue of a colour, and says when a screen cannot show it', () => {
    const said = hovered(
      `${HEAD}target wide\n  space: bt2020\n  curve: power 2.4\n  luminance: 100 cd/m2\nsaturation sat\n  target: wide\n    hue sat Y x y\n    green 1‸00 60 .2 .75\n`,
    )!;
    expect(said[1]).toBe('**Row green 100 of saturation sat**');
    expect(said[2]).toBe(
      '![Left the patch as sent, right as read, with the white of the target as the white of this screen; this screen cannot show all of it](…)',
    );
    expect(said[4]!.split('\n').map((line) => line.replace(/\*\*.*/, '…'))).toEqual([
      '- ΔE 2000 …',
      '- ΔL\\* …',
      '- ΔC\\*ab …',
      '- ΔH\\* …',
      "- Δu'v' …",
    ]);
  });

  it('scales HDR so that both fields keep their colour, and says by what', () => {
    const hdr = `${HEAD}target hdr\n  space: bt2020\n  curve: pq\ngreyscale grey\n  target: hdr\n    level Y x y\n`;
    expect(hovered(`${hdr}    7‸5 611 .3127 .329\n`)![2]).toBe(
      '![Left the patch as sent, right as read, with 983.4 cd/m² as the white of this screen](…)',
    );
    expect(hovered(`${hdr}    5‸0 100 .3127 .329\n`)![2]).toBe(
      '![Left the patch as sent, right as read, with 203 cd/m² as the white of this screen](…)',
    );
  });

  it('shows a corrected reading beside what the meter showed', () => {
    const rows = (ref: string, own: string) =>
      `    white 100 ${ref} 99 ${own}\n    red 20 .64 .33 20 .64 .33\n    green 70 .3 .6 70 .3 .6\n    blue 8 .15 .06 8 .15 .06\n`;
    const meters = 'meter probe\nmeter spectro\n';
    const fix = `correction fix\n  meter: probe\n  reference: spectro\n    patch ref.Y ref.x ref.y Y x y\n${rows('.3127 .329', '.3100 .326')}`;
    const grey = `greyscale grey\n  meter: probe\n  target: dark\n    level Y x y\n    10‸0 99 .3100 .326\n`;
    const target = 'target dark\n  space: bt709\n  curve: power 2.4\n';
    expect(hovered(`nitbook 1\nsession 2026-01-01\n${meters}${target}${fix}${grey}`)!.find((part) => part.startsWith('|'))).toContain(
      '| as read | 100 | 0.3127 | 0.3290 |\n| as shown by the meter | 99 | 0.3100 | 0.3260 |',
    );
  });

  it('says of runs that are not computed, or not computable, why', () => {
    expect(hovered(`${HEAD}tracking hdr\n    level Y\n    5‸0 100\n`)).toEqual([
      '50 100',
      '**Row 50 of tracking hdr**',
      'Not computed: it holds for PQ and HLG targets only, and the target is power 2.4.',
    ]);
    expect(hovered('nitbook 1\ngreyscale grey\n    level Y\n    5‸0 100\n')![2]).toBe(
      'Not computed: the run has no target (write "target: …" and a target block).',
    );
  });
});

describe('the hover of a property', () => {
  it('says what it means, what it takes and what holds without it', () => {
    expect(hovered(`${HEAD}saturation sat\n  stim‸ulus: 75 %\n`)).toEqual([
      'stimulus',
      '**stimulus** — signal level of the largest channel.',
      'Takes a number with its unit (`%`); `%` may be left out.',
      'When it is left out: 100 %.',
    ]);
    expect(hovered(`${HEAD}signal two from sdr\n  window‸: 18 %\n`)![0]).toBe('window');
  });

  it('says which block is meant when there is just one, and that it has to be said when there are several', () => {
    expect(hovered(`${HEAD}greyscale grey\n  tar‸get: dark\n`)![3]).toBe('When it is left out: there is just dark, which is meant.');
    expect(hovered(`${HEAD}target two from dark\ngreyscale grey\n  tar‸get: dark\n`)![3]).toBe(
      'When it is left out: several are there (dark, two), so it has to be said.',
    );
  });

  it('shows the block that a value names', () => {
    expect(hovered(`${HEAD}greyscale grey\n  target: da‸rk\n`)!.slice(0, 2)).toEqual([
      'dark',
      '**target dark** — what readings are judged against: space, curve, white, luminance.',
    ]);
  });

  it('shows a setting in all modes that have it', () => {
    const modes = 'mode a\n  Picture / Gamma: 2.4\nmode b from a\nmode c from a\n  Picture / Gam‸ma: 2.2\n';
    expect(hovered(HEAD + modes)).toEqual([
      'Picture / Gamma',
      "**Picture / Gamma** — A name of the display's own.",
      'Takes text.',
      '| Mode | Value | From |\n| --- | --- | --- |\n| `a` | 2.4 | here |\n| `b` | 2.4 | `a` |\n| `c` | 2.2 | here |',
    ]);
  });

  it('speaks of every property that the format has', () => {
    for (const [keyword, spec] of Object.entries(BLOCKS as Readonly<Record<string, BlockSpec>>)) {
      for (const [name, { about }] of Object.entries(spec.properties)) {
        const said = hovered(`nitbook 1\n${keyword} ${spec.id === 'date' ? '2026-03-14' : 'one'}\n  ${name}‸: ?\n`);
        expect(said?.[0], `${keyword}.${name}`).toBe(name);
        expect(said?.[1], `${keyword}.${name}`).toContain(about.replace(/[~*|[\]#]/g, '\\$&').slice(0, 10));
      }
    }
  });

  it('has nothing to say of a name that nobody knows, nor outside of names and values', () => {
    expect(hovered(`${HEAD}target two\n  spa‸ces: bt709\n`)).toBeUndefined();
    expect(hovered(`${HEAD}target two\n ‸ space: bt709\n`)).toBeUndefined();
    expect(hovered(`${HEAD}target two\n  space: bt709  # com‸ment\n`)).toBeUndefined();
    expect(hovered('‸')).toBeUndefined();
  });
});

describe('the hover of a measure', () => {
  const run = 'greyscale grey\n    level Y x y\n    50 22.7 .3127 .329\n    100 120 .3089 .3248\n';

  it('gives definition, direction, source, default limits and the figures of the session', () => {
    expect(hovered(`${HEAD}${run}limits\n  greyscale.de.m‸ax: aim 1, limit 2\n`)).toEqual([
      'greyscale.de.max',
      '**ΔE 2000 maximum** `greyscale.de.max` — largest ΔE 2000 of the rows.',
      'Smaller is better.',
      'Default: limit 4, aim 2 (common practice, no source).',
      '| Run | Value | Verdict | Limits |\n| --- | --- | --- | --- |\n| grey | 2.23 | beyond ▲ | limit 2 (session), aim 1 |',
    ]);
  });

  it('tells limits of SDR and HDR apart, and those of one row', () => {
    expect(hovered(`${HEAD}limits\n  contrast.bl‸ack: limit 1\n`)![3]).toBe(
      'Default for SDR: limit 0.4 cd/m², aim 0.05 cd/m² (aim common practice, limit EBU Tech 3320 v4.1 G2 §1.5.2; HDR EBU G1, G2 §2.4.2 (through a secondary source)). ' +
        'Default for HDR: limit 0.01 cd/m², aim 0.005 cd/m² (aim common practice, limit EBU Tech 3320 v4.1 G2 §1.5.2; HDR EBU G1, G2 §2.4.2 (through a secondary source)).',
    );
    expect(hovered(`${HEAD}limits\n  window.peak@1‸0: limit 1\n`)!.slice(2, 4)).toEqual([
      'Larger is better. Of a row: peak@ and the key of the row (window).',
      'Default for HDR: limit 500 cd/m², aim 1000 cd/m² (common practice, no source (EBU Tech 3320 §2.4.1.1 asks 1000/600/500 at 1 %)).',
    ]);
    expect(hovered(`${HEAD}limits\n  greyscale.b‸alance: limit 1\n`)![2]).toBe('Nearer to 100 is better.');
  });

  it('names the folder where its limits hold', () => {
    const { config } = readConfig('{ "limits": { "greyscale.de.max": "limit 9" } }', { measures: new Set(MEASURE_IDS) });
    const said = hovered('', marked(`${HEAD}${run}limits\n  greyscale.de.m‸ax:\n`, config));
    expect(said!.at(-1)).toContain('| grey | 2.23 | within · | limit 9 (folder) |');
  });

  it('speaks of every measure', () => {
    for (const name of MEASURE_IDS) expect(hovered(`${HEAD}limits\n  ${name}‸: limit 1\n`)![1], name).toContain(`\`${name}\``);
  });
});

describe('the hover of a head', () => {
  it('shows the effective settings of a mode, its own and those taken over told apart', () => {
    const tuned = 'mode tuned from cinema\n  White / Gain red: -3\n  .automatic: ~\n  "Odd | *name*": "<a|b>"\n';
    expect(hovered(`${HEAD.replace('  .automatic', '  Picture / Gamma: 2.4\n  .automatic')}${tuned.replace('tuned', 'tun‸ed')}`)).toEqual([
      'tuned',
      '**mode tuned** — a picture mode with its settings; the names are those of the display.',
      [
        '| name | value | from |',
        '| --- | --- | --- |',
        '| White / Gain red | -3 | here |',
        '| Odd \\| \\*name\\* | \\<a\\|b\\> | here |',
        '| Picture / Gamma | 2.4 | `cinema` |',
        '| .automatic | ~ | taken out here |',
      ].join('\n'),
    ]);
  });

  it('gives the main figures of a run, and what it was taken with', () => {
    expect(
      hovered(`${HEAD}greyscale gr‸ey "As *shipped*"\n    level Y x y\n    50 22.7 .3127 .329\n    100 120 .3127 .329\n    70 ?\n`),
    ).toEqual([
      'grey',
      '**greyscale grey** “As \\*shipped\\*” — neutral levels: balance, curve and ΔE.',
      'Mode cinema "As shipped", signal sdr, meter probe.',
      AGAINST,
      [
        '- ΔE 2000 average **0.02** — within ·, aim met; limit 3, aim 1',
        '- ΔE 2000 maximum **0.03** — within ·, aim met; limit 4, aim 2',
        '- Balance **100.0 %** — within ·, aim met; limit 100 ±5 %, aim 100 ±2 %',
        '- Exponent from target: it needs at least 2 rows from 10 to 90 %',
      ].join('\n'),
      '1 reading still to take.',
    ]);
  });

  it('shows the parent on its id, and what from and like do', () => {
    expect(hovered(`${HEAD}signal two from s‸dr\n`)!.slice(0, 2)).toEqual(['sdr', '**signal sdr** — what was sent to the display.']);
    expect(hovered(`${HEAD}signal two fr‸om sdr\n`)).toEqual([
      'from',
      'Takes over the properties of another block of its kind. "Name: ~" takes one out.',
    ]);
  });

  it('keeps the columns of its tables apart', () => {
    const { analysis, offset } = marked(`${HEAD}mode m‸any\n  Gamma: 2.2\n`);
    expect(hoverAt(analysis, offset)!.parts.at(-1)).toBe('| name | value |\n| --- | --- |\n| Gamma&emsp; | 2.2 |');
  });

  it('cuts long lists and long texts', () => {
    const many = Array.from({ length: 60 }, (_, i) => `  Setting ${i}: ${'x'.repeat(300)}`).join('\n');
    const said = hovered(`${HEAD}mode m‸any\n${many}\n`)!;
    expect(said[2]!.split('\n').length).toBe(44);
    expect(said[2]!.endsWith('and 20 more')).toBe(true);
    expect(said[2]!.split('\n')[2]).toBe(`| Setting 0 | ${'x'.repeat(160)}… |`);
  });
});

describe('the hover of a column', () => {
  it('says what it holds and in which unit', () => {
    expect(hovered(`${HEAD}greyscale grey\n    lev‸el  Y[fL]  x  y\n`)).toEqual([
      'level',
      '**level** — level of a grey',
      'The drive: per cent, or code values with [8bit], [10bit], [12bit] or [16bit].',
      'Says which patch a row is: rows with the same key are readings of the same patch.',
    ]);
    expect(hovered(`${HEAD}greyscale grey\n    level  Y‸[fL]  x  y\n`)).toEqual([
      'Y[fL]',
      '**Y** — luminance',
      'In cd/m2; other units in brackets: `[cd/m²]`, `[nit]`, `[nits]`, `[fL]`.',
    ]);
    expect(hovered(`${HEAD}tuning t\n    "Gain ‸red"  Y  x  y\n`)!.at(-1)).toBe('Here: a control, by its quoted name.');
  });
});

describe('a field of colour', () => {
  it('is sRGB with the white of the target as its white', () => {
    expect(shownColour([95.047, 100, 108.883], [0.3127, 0.329], 100)?.hex).toBe('#ffffff');
    // IEC 61966-2-1: red of sRGB at D65 is .640 .330, 21.26 % of the luminance of white.
    expect(shownColour([41.24, 21.26, 1.93], [0.3127, 0.329], 100)).toEqual({ hex: '#ff0000', clipped: false });
    // A white of D50 (.3457 .3585) is shown as white all the same.
    expect(shownColour([96.43, 100, 82.51], [0.3457, 0.3585], 100)?.hex).toBe('#ffffff');
    // A grey of 18 %: code 118 (0.18 encoded by IEC 61966-2-1 is 0.4614).
    expect(shownColour([17.1, 18, 19.6], [0.3127, 0.329], 100)?.hex).toBe('#767676');
  });

  it('says when it is outside sRGB, and is none where there is no light or no white', () => {
    expect(shownColour([30, 70, 10], [0.3127, 0.329], 100)?.clipped).toBe(true);
    expect(shownColour([190, 200, 218], [0.3127, 0.329], 100)?.clipped).toBe(true);
    expect(shownColour([Number.NaN, 1, 1], [0.3127, 0.329], 100)).toBeUndefined();
    expect(shownColour([1, 1, 1], [0.3127, 0.329], 0)).toBeUndefined();
    expect(shownColour([1, 1, 1], [0.3127, 0], 100)).toBeUndefined();
  });

  it('has an address without a character that Markdown would end at', () => {
    expect(fieldsUri(['#102030', '#ffffff'])).toMatch(/^data:image\/svg\+xml,[A-Za-z0-9%._-]+$/);
  });
});

describe('any offset of any text', () => {
  it('gives a hover within its line that has no open markup, or none', () => {
    fc.assert(
      fc.property(broken, ({ text, offsets }) => {
        const { analysis } = marked(`${text}‸`);
        for (const at of offsets) {
          const hover = hoverAt(analysis, at);
          if (!hover) continue;
          const [start, end] = hover.span;
          expect(0 <= start && start <= end && end <= text.length).toBe(true);
          expect(text.slice(start, end)).not.toMatch(/[\r\n]/);
          expect(hover.parts.join('\n')).not.toMatch(/(?<!\\)<|\u202e/);
        }
      }),
      { numRuns: 40 },
    );
  });
});
