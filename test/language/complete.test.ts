// biome-ignore-all lint/suspicious/noTemplateCurlyInString: snippets have stops that look like the places of a template string
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Completion, completions } from '../../src/language/complete';
import { folderUse, NO_USE } from '../../src/language/folderUse';
import { blockSnippet } from '../../src/language/snippets';
import { USUAL_PLANS } from '../../src/language/usual';
import { textFindings } from '../../src/session/findings';
import { sessionOf } from '../../src/session/session';
import { SessionText } from '../../src/session/sessionText';
import { BLOCKS, type BlockSpec, KEYWORDS } from '../../src/session/vocabulary';
import { applyEdits } from '../../src/text/span';
import { broken, EXAMPLES } from './broken';
import { HEAD, marked } from './marked';

const offered = (written: string, use = NO_USE): readonly Completion[] => {
  const { analysis, offset } = marked(written);
  return completions(analysis, offset, use);
};

const labels = (written: string, use = NO_USE): string[] => offered(written, use).map(({ label }) => label);

/** A snippet as it stands once every stop is left at its text or first choice. */
const filled = (insert: string): string =>
  insert
    .replace('${1:$CURRENT_YEAR-$CURRENT_MONTH-$CURRENT_DATE}', '2026-03-14')
    .replace(/\$\{\d+\|((?:\\.|[^\\,|])*)[^}]*\|\}/g, '$1')
    .replace(/\$\{\d+:((?:\\.|[^\\}])*)\}/g, '$1')
    .replace(/\$0/g, '')
    .replace(/\\(.)/g, '$1');

/** The text once the completion of a label is taken. */
function taken(written: string, label: string, use = NO_USE): string {
  const { text } = marked(written);
  const found = offered(written, use).find((completion) => completion.label === label);
  if (!found) throw new Error(`no ${label} among ${labels(written, use).join(', ')}`);
  return applyEdits(text, [{ span: found.replace, text: found.snippet ? filled(found.insert) : found.insert }]);
}

describe('at the start of a line', () => {
  it('offers kinds of blocks, and the version where there is none', () => {
    expect(labels('nitbook 1\n‸')).toEqual(KEYWORDS);
    expect(labels('‸')).toEqual(['nitbook 1', ...KEYWORDS]);
    expect(labels('nitbook 1\ntarget dark\n  space: bt709\ngr‸')).toEqual(KEYWORDS);
  });

  it('offers a second session or display to none', () => {
    const others = KEYWORDS.filter((keyword) => keyword !== 'session' && keyword !== 'display');
    expect(labels(`${HEAD}‸`)).toEqual(others);
    expect(labels(HEAD.replace('session 2', 'sess‸ion 2'))).toEqual(KEYWORDS.filter((keyword) => keyword !== 'display'));
  });

  it('writes a whole block, or the keyword alone where the head has more', () => {
    expect(taken('nitbook 1\ngr‸', 'greyscale')).toBe('nitbook 1\ngreyscale grey "As shipped"\n    level   Y         x        y\n    ');
    expect(taken('nitbook 1\ngr‸ey one', 'greyscale')).toBe('nitbook 1\ngreyscale one');
  });

  it('offers nothing before the ~ of a head that is struck out', () => {
    expect(labels('\n‸~ session 2026-03-14')).toEqual([]);
    expect(labels('nitbook 1\n~ sess‸ 2026-03-14')).toEqual(KEYWORDS);
  });

  it('offers nothing in comments, notes and conflicts', () => {
    for (const text of ['# g‸', '| g‸', '<<<<<<< g‸', 'mode one  # g‸', 'greyscale g\n    level Y\n    50 20 | r‸', 'nitbook ‸1'])
      expect(labels(text), text).toEqual([]);
  });
});

describe('a snippet of a block', () => {
  const several = `${HEAD}mode film\ntarget dim from dark\nmeter spectro\nsignal hdr\ngreyscale grey\n    level Y\n`;

  it.each(KEYWORDS.map((keyword) => [keyword]))('for %s reads without a mistake', (keyword) => {
    for (const before of ['nitbook 1\n', several]) {
      const written = filled(blockSnippet(sessionOf(SessionText.read(before)), keyword));
      expect(written.split('\n')[0]!.split(' ')[0]).toBe(keyword);
      const own = textFindings(SessionText.read(`${before}${written}\n`)).filter(({ span }) => span[0] >= before.length);
      // One session and one display a file; and what a block names is not there in a session that has nothing yet.
      const isSecond = before === several && (keyword === 'session' || keyword === 'display');
      const expected = isSecond ? ['id-repeated', 'display-second'] : before === several ? [] : ['reference-missing'];
      expect(own.filter(({ code }) => code !== 'property-to-note' && !expected.includes(code)).map(({ code }) => code)).toEqual([]);
    }
  });

  it('has an id that is free', () => {
    expect(blockSnippet(sessionOf(SessionText.read(several)), 'greyscale').split(' "')[0]).toBe('greyscale ${1:grey-2}');
    expect(blockSnippet(sessionOf(SessionText.read(`${several}greyscale grey-2\n`)), 'greyscale').split(' "')[0]).toBe(
      'greyscale ${1:grey-3}',
    );
  });

  it('names those blocks of which there are several, to be chosen', () => {
    const text = blockSnippet(sessionOf(SessionText.read(several)), 'greyscale');
    expect(text.split('\n').slice(1, 5)).toEqual([
      '  mode: ${3|cinema,film|}',
      '  target: ${4|dark,dim|}',
      '  meter: ${5|probe,spectro|}',
      '  signal: ${6|sdr,hdr|}',
    ]);
    expect(blockSnippet(sessionOf(SessionText.read(several)), 'correction')).toContain(
      '  meter: ${2|probe,spectro|}\n  reference: ${3|spectro,probe|}',
    );
  });
});

describe('in a head', () => {
  const runs = `${HEAD}greyscale grey "As shipped"\n    level Y\nwindow peak\n    window Y\n`;

  it('offers from or like, then the blocks that can be taken over', () => {
    expect(labels(`${HEAD}mode two ‸`)).toEqual(['from']);
    expect(labels(`${HEAD}mode two f‸`)).toEqual(['from']);
    expect(labels(`${HEAD}mode two from ‸`)).toEqual(['cinema']);
    expect(labels(`${runs}saturation sat like ‸`)).toEqual(['grey', 'peak']);
    expect(labels(`${runs}saturation sat like gr‸`)).toEqual(['grey', 'peak']);
    expect(offered(`${runs}saturation sat like ‸`)[0]!.detail).toBe('greyscale · As shipped');
    expect(labels(`${HEAD}display two ‸`)).toEqual([]);
    expect(labels(`${HEAD}mode two from cinema ‸`)).toEqual([]);
  });
});

describe('the name of a property', () => {
  it('is one that the block has not, with what it takes and what holds without it', () => {
    const found = offered(`${HEAD}target two\n  space: bt709\n  ‸\n`);
    expect(found.map(({ insert }) => insert)).toEqual(['curve: ', 'white: ', 'luminance: ', 'roll-off: ', 'note: ']);
    expect(found[1]).toMatchObject({
      kind: 'property',
      snippet: false,
      detail: "white point: d65 and its like, or x and y; else the space's own",
      documentation: 'Takes `d65` and its like, or x and y such as `0.3127 0.3290`.\n\nWhen it is left out: the white of the space.',
    });
    expect(labels(`${HEAD}tuning t\n  control: "Gain red" -5..5 step 1\n  con‸`)).toContain('control');
  });

  it('keeps the value when it is changed', () => {
    expect(taken(`${HEAD}target two\n  spa‸x: bt709\n`, 'space')).toBe(`${HEAD}target two\n  space: bt709\n`);
  });

  it('is in a mode a setting that the maker’s displays have, the most frequent first', () => {
    const others = [
      'display "Halden Meadow"\nmode a\n  Picture / Gamma: 2.2\n  Picture / Light output: 40\n  "Screen: Overscan": off\nmode b\n  Picture / Gamma: 2.4\n',
      'display\n  maker: HALDEN\nmode a\n  Picture / Gamma: 2.4\n  .input: HDMI\n  x-mine: 1\n~ mode c\n  Hidden: 1\n',
      'display "Other One"\nmode a\n  Sharpness: 3\n',
    ].map((text) => sessionOf(SessionText.read(text)));
    const use = folderUse(others);
    const text = `${HEAD}mode tuned\n  Picture / Light output: 30\nmode third\n  ‸\n`;
    const settings = offered(text, use).filter(({ kind }) => kind === 'setting');
    expect(settings.map(({ insert, detail }) => [insert, detail])).toEqual([
      ['Picture / Gamma: ', 'used 3 times'],
      ['Picture / Light output: ', 'used twice'],
      ['"Screen: Overscan": ', 'used once'],
    ]);
    expect(labels(text, use).slice(3)).toEqual(['.input', '.scope', '.preset', '.automatic', '.note']);
    expect(labels(`${HEAD}mode third\n  Picture / Gamma: ‸\n`, use)).toEqual(['2.4', '2.2', '?']);
    expect(taken(`${HEAD}mode third\n  Picture / Li‸\n`, 'Picture / Light output', use)).toBe(
      `${HEAD}mode third\n  Picture / Light output: \n`,
    );
  });

  it('is in observations a topic that was seen before', () => {
    const use = folderUse([
      sessionOf(SessionText.read('observations\n  Banding: none\n  Flicker: none\nobservations two\n  Flicker: clear\n')),
    ]);
    expect(labels(`${HEAD}observations\n  ‸\n`, use).slice(0, 2)).toEqual(['Flicker', 'Banding']);
  });
});

describe('limits', () => {
  const run = 'greyscale grey\n    level Y x y\n    50 22.7 .3127 .329\n    100 120 .3089 .3248\n';

  it('offer measures with their current values, those of the session’s runs first', () => {
    const found = offered(`${HEAD}${run}limits\n  ‸\n`);
    expect(found.slice(0, 4).map(({ label, detail }) => `${label} | ${detail}`)).toEqual([
      'greyscale.de.avg | ΔE 2000 average · grey 1.13',
      'greyscale.de.max | ΔE 2000 maximum · grey 2.23',
      'greyscale.balance | Balance · grey 104.1 %',
      'greyscale.curve.exponent | Exponent from target',
    ]);
    expect(found[4]!.label).toBe('greyscale.white.luminance');
    expect(found[1]).toMatchObject({
      insert: 'greyscale.de.max: aim ${1:2}, limit ${2:4}',
      snippet: true,
      kind: 'measure',
      documentation: 'largest ΔE 2000 of the rows.\n\nDefault: limit 4, aim 2 (common practice, no source).',
    });
    expect(found.map(({ label }) => label)).toContain('window.peak@10');
    expect(labels(`${HEAD}${run}limits\n  greyscale.de.avg: limit 3\n  ‸\n`)[0]).toBe('greyscale.de.max');
  });

  it('offer aim and limit, each once', () => {
    const at = (value: string) => `${HEAD}${run}limits\n  greyscale.de.max: ${value}\n`;
    expect(labels(at('‸'))).toEqual(['aim, limit', 'limit', 'aim', '?']);
    expect(offered(at('‸'))[0]!.detail).toBe('grey 2.23');
    expect(taken(at('‸'), 'aim, limit')).toBe(at('aim 2, limit 4'));
    expect(labels(at('aim 2, ‸'))).toEqual(['limit']);
    expect(taken(at('aim 2, li‸'), 'limit')).toBe(at('aim 2, limit 4'));
  });

  it('do not compute all measures of a run that is very long', () => {
    const rows = Array.from({ length: 600 }, (_, i) => `    ${(i / 6).toFixed(2)} 20 .31 .33\n`).join('');
    const found = offered(`${HEAD}greyscale grey\n    level Y x y\n${rows}limits\n  ‸\n`);
    expect(found.find(({ label }) => label === 'greyscale.cct.avg')!.detail).toBe('Colour temperature, average');
    expect(found.find(({ label }) => label === 'greyscale.de.max')!.detail).toContain('grey ');
  });
});

describe('the value of a property', () => {
  it.each<[string, string, readonly string[]]>([
    ['a choice', 'signal s\n  range: ‸', ['limited', 'full', '?']],
    ['a space', 'target t\n  space: b‸', ['bt709', 'srgb', 'p3-d65', 'p3-dci', 'bt2020', 'bt601-525', 'bt601-625', '?']],
    ['a curve', 'target t\n  curve: ‸', ['power 2.4', 'power 2.2', 'power 2.4 over black', 'bt1886', 'srgb', 'pq', 'hlg', '?']],
    ['a white', 'target t\n  white: ‸', ['d65', 'd50', 'd55', 'd75', 'd93', 'a', 'e', 'dci', '?']],
    ['an id', 'greyscale g\n  mode: ‸', ['cinema', '?']],
    ['a date', 'greyscale g\n  taken: ‸', ['2026-03-14', '?']],
    ['a rating', 'observations\n  Banding: ‸', ['none', 'slight', 'clear', 'strong', 'pass', 'fail', 'not applicable', '?']],
    ['a unit behind a number', 'meter m\n  floor: 0.003‸', ['0.003 cd/m2', '0.003 cd/m²', '0.003 nit', '0.003 nits', '0.003 fL', '?']],
    ['units of a second item', 'meter m\n  spread: 0.0004 xy, 0.5 ‸', ['0.5 xy', "0.5 u'v'", '0.5 %']],
    ['a usual quantity', 'signal s\n  depth: ‸', ['8', '10', '12', '?']],
    ['what another block says, before what is usual', 'signal s\n  window: ‸', ['10 %', '18 %', '100 %', '?']],
    [
      'the switches left',
      'mode m\n  .automatic: ambient sensor off, energy saving off, dynamic contrast on, ‸',
      ['dynamic tone mapping off', 'dynamic tone mapping on'],
    ],
    ['no more than a mark for free text', 'session 2026-03-14\n  title: ‸', ['?']],
    ['nothing inside a string', 'session 2026-03-14\n  title: "a‸b"', []],
  ])('offers %s', (_, text, expected) => {
    expect(labels(HEAD + text)).toEqual(expected);
  });

  it('is put behind a blank, and takes the place of what is there', () => {
    expect(taken(`${HEAD}signal s\n  range:‸`, 'full')).toBe(`${HEAD}signal s\n  range: full`);
    expect(taken(`${HEAD}signal s\n  range: li‸mit  # why`, 'limited')).toBe(`${HEAD}signal s\n  range: limited  # why`);
    expect(taken(`${HEAD}mode m\n  .automatic: ambient sensor off, ene‸rgy, dynamic contrast on`, 'energy saving off')).toBe(
      `${HEAD}mode m\n  .automatic: ambient sensor off, energy saving off, dynamic contrast on`,
    );
  });

  it('can take out what is taken over', () => {
    const item = offered(`${HEAD}target two from dark\n  white: ‸`).at(-1)!;
    expect([item.label, item.detail]).toEqual(['~', 'takes out what is taken over from dark']);
  });

  it('knows the firmware of the maker’s displays, the most frequent first', () => {
    const texts = [
      'display "Halden A"\n  firmware: 1.0\n',
      'display "Halden B"\n  firmware: 2.0\ngreyscale g\n  firmware: 2.0\n',
      'display "Other"\n  firmware: 9\n',
    ];
    const use = folderUse(texts.map((text) => sessionOf(SessionText.read(text))));
    expect(labels('nitbook 1\ndisplay x "Halden C"\n  firmware: ‸\n', use)).toEqual(['2.0', '1.0', '?']);
    expect(labels('nitbook 1\ndisplay x\n  firmware: ‸\n', use)).toEqual(['?']);
  });

  it('is quoted where it would be read as something other', () => {
    const use = folderUse([sessionOf(SessionText.read('display "Halden A"\nmode a\n  Mark: "?"\n'))]);
    expect(taken(`${HEAD}mode m\n  Mark: ‸\n`, '?', use)).toBe(`${HEAD}mode m\n  Mark: "?"\n`);
  });
});

describe('columns', () => {
  it('are those that the run reads and has not, the usual line among them where the line is empty', () => {
    expect(labels(`${HEAD}greyscale g\n    level Y ‸`)).toEqual(['x', 'y', 'X', 'Z', "u'", "v'", 't']);
    expect(taken(`${HEAD}greyscale g\n  ‸`, 'level Y x y')).toBe(`${HEAD}greyscale g\n    level   Y         x        y`);
    expect(labels(`${HEAD}greyscale g\n  ‸`).slice(0, 2)).toEqual(['mode', 'target']);
  });

  it('have units in brackets', () => {
    expect(labels(`${HEAD}greyscale g\n    level[‸`)).toEqual(['level[%]', 'level[8bit]', 'level[10bit]', 'level[12bit]', 'level[16bit]']);
    expect(labels(`${HEAD}greyscale g\n    level Y[‸`)).toEqual(['Y[cd/m2]', 'Y[cd/m²]', 'Y[nit]', 'Y[nits]', 'Y[fL]']);
  });

  it('of a tuning run are its controls, its own and those it takes over', () => {
    const tuning = `${HEAD}tuning t\n  control: "Gain red" -5..5 step 1\n`;
    expect(labels(`${tuning}    Y ‸`)[0]).toBe('"Gain red"');
    expect(labels(`${tuning}    "Gain red" Y\n\ntuning u like t\n  control: "Gain blue" -5..5 step 1\n    Y ‸`).slice(0, 2)).toEqual([
      '"Gain blue"',
      '"Gain red"',
    ]);
  });
});

describe('rows', () => {
  const grey = `${HEAD}greyscale grey\n    level   Y         x        y\n`;

  it('are those of a usual plan that are not there, with what is still to take', () => {
    const text = `${grey}         0  <0.003    -        -\n        50  22.7      ?        ?\n    ‸\n`;
    expect(labels(text).slice(0, 9)).toEqual(['10', '20', '30', '40', '60', '70', '80', '90', '100']);
    expect(taken(text, '20')).toBe(text.replace('    ‸', '        20  ?         ?        ?'));
    expect(offered(text)[1]!.insert).toBe('        20  ${1:?}         ${2:?}        ${3:?}');
  });

  it('follow the plan whose rows are there', () => {
    const text = `${grey}         5  ?  ?  ?\n    ‸\n`;
    expect(
      labels(text)
        .filter((label) => !label.startsWith('Rest'))
        .slice(0, 4),
    ).toEqual(['0', '10', '15', '20']);
    expect(labels(text).filter((label) => label.startsWith('Rest'))).toEqual(['Rest of 21 steps', 'Rest of near-black']);
    // A level of no plan is no reason to offer none; one struck out is still to take.
    expect(labels(`${grey}        33  ?  ?  ?\n  ~     10  ?  ?  ?\n    ‸\n`)[1]).toBe('10');
  });

  it('come all at once', () => {
    const text = `${HEAD}contrast c\n    patch  Y\n    white  120\n    ‸\n`;
    expect(taken(text, 'Rest of with a checkerboard')).toBe(
      `${HEAD}contrast c\n    patch  Y\n    white  120\n    black   ?\n    checker-white  ?\n    checker-black  ?\n`,
    );
  });

  it('are codes where the column is', () => {
    // BT.709-6 item 5.3, 10 bits limited: 0 % 64, 10 % 151.6, 100 % 940.
    const run = 'greyscale grey\n    level[10bit] Y\n    ‸\n';
    expect(labels(`${HEAD.replace('window: 10 %', 'range: limited')}${run}`).slice(0, 3)).toEqual(['64', '152', '239']);
    expect(labels(HEAD + run)).toEqual([]);
  });

  it('have their keys one after the other: of a hue the saturations that are left', () => {
    const text = `${HEAD}saturation sat\n    hue sat Y x y\n    red 25 ? ? ?\n    red ‸\n`;
    expect(labels(text)).toEqual(['50', '75', '100']);
    expect(labels(text.replace('    red ‸', '    ‸')).slice(0, 3)).toEqual(['red', 'green', 'blue']);
    expect(taken(text.replace('red ‸', 're‸'), 'red')).toBe(text.replace('red ‸', 'red'));
    expect(labels(text.replace('red ‸', 'red 50 ‸'))).toEqual([]);
  });

  it('take the cell alone where the row has more', () => {
    expect(taken(`${grey}        2‸  6.7  .31  .33\n`, '20')).toBe(`${grey}        20  6.7  .31  .33\n`);
  });

  it('are of plans whose keys the run has', () => {
    for (const [keyword, plans] of Object.entries(USUAL_PLANS)) {
      const { keys, columns } = (BLOCKS[keyword as keyof typeof BLOCKS] as BlockSpec).table!;
      for (const { title, keys: list } of plans) {
        expect(new Set(list.map((key) => key.join())).size, title).toBe(list.length);
        for (const key of list) {
          expect(key.length).toBeLessThanOrEqual(keys.length);
          key.forEach((part, i) => {
            expect(Number.isNaN(Number(part)), `${keyword} ${part}`).toBe(columns[keys[i]!]!.holds === 'word');
          });
        }
      }
    }
  });
});

describe('any offset of any text', () => {
  it('gives completions that replace a part of its line which holds it', () => {
    const use = folderUse(EXAMPLES.map((text) => sessionOf(SessionText.read(text))));
    fc.assert(
      fc.property(broken, ({ text, offsets }) => {
        const { analysis } = marked(`${text}‸`);
        for (const at of offsets) {
          const within = Number.isNaN(at) ? 0 : Math.min(Math.max(at, 0), text.length);
          const found = completions(analysis, at, use);
          for (const {
            replace: [start, end],
            label,
            sortText,
          } of found) {
            expect(label).not.toBe('');
            expect(start <= within && start <= end).toBe(true);
            // An offset within a line's end counts as the end of its text.
            expect(text.slice(end, within)).toMatch(/^[\r\n]?$/);
            expect(text.slice(start, end)).not.toMatch(/[\r\n]/);
            expect(sortText).toMatch(/^\d{4}$/);
          }
        }
      }),
      { numRuns: 40 },
    );
  });
});
