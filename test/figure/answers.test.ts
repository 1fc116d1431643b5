import { describe, expect, it } from 'vitest';
import { SPACES, spaceMatrices } from '../../src/colour/spaces';
import { multiply, type Vec3 } from '../../src/colour/vector';
import { figureFor } from '../../src/figure/figures';
import { settled } from '../../src/project/analysis';
import { sayIn } from '../../src/text/message';
import { analysed, type Bench, session, table } from '../measure/tools';
import { described, figure, pointsIn } from './tools';

// Titles are of constructed readings: what they show is put into them here.

const title = (run: string, ref: string, bench: Bench = {}) => figure(analysed(session(run, bench)), ref).title;

/** A grey of 120 · V^2.4 cd/m² whose channels lie off neutral by these per cents, luminance left as it is. */
function grey(level: number, [r, g, b]: Vec3, luminance = 1): (string | number)[] {
  const { toXyz } = spaceMatrices(SPACES.bt709)!;
  const [X, Y, Z] = multiply(toXyz, [1 + r / 100, 1 + g / 100, 1 + b / 100]);
  const sum = X + Y + Z;
  return [level, (luminance * 120 * (level / 100) ** 2.4).toPrecision(6), (X / sum).toFixed(6), (Y / sum).toFixed(6)];
}

const greys = (of: (level: number) => (string | number)[]) =>
  table('greyscale grey', 'level Y x y', [10, 20, 30, 40, 50, 60, 70, 80, 90, 100].map(of));

describe('an answer once the intervals of its figures are known', () => {
  // Constructed: with a spread of 0.0004 in x and y a channel is known to a few tenths of a per cent, with 0.02 to no per cent at all.
  const said = (size: number, spread: string, ref: string) => {
    const bench = { meter: `floor: 0.003 cd/m2\nspread: ${spread} xy, 0.5 %` };
    const analysis = analysed(
      session(
        greys((level) => grey(level, [0, 0, size])),
        bench,
      ),
    );
    const before = figure(analysis, ref);
    const after = figure(settled(analysis), ref);
    return { before: before.title, after: after.title, whiskers: [before, after].map((one) => pointsIn(one).some(({ ci }) => ci)) };
  };

  it('stays as it is where they leave no doubt', () => {
    for (const [size, ref] of [
      [8, '#grey.balance'],
      [0, '#grey.balance'],
      [0, '#grey.de'],
    ] as const) {
      const { before, after, whiskers } = said(size, '0.0001', ref);
      expect(after).toBe(before);
      expect(whiskers).toEqual([false, true]);
    }
  });

  it('says that it goes by the readings alone where they leave it open', () => {
    expect(said(5, '0.02', '#grey.balance')).toMatchObject({
      before: 'Blue 5 % high at every level',
      after: 'Blue 5 % high at every level as read, undecided',
    });
    expect(said(0, '0.02', '#grey.balance').after).toBe('Neutral within ±2 % from 20 % up as read, undecided');
    const { before, after } = said(0, '0.02', '#grey.de');
    expect(before).toMatch(/^All 10 levels within ΔE 4, the worst 0\.0 /);
    expect(after).toMatch(/^0 of 10 levels within ΔE 4, 10 undecided, the worst 0\.0 /);
  });
});

describe('the answer of a balance', () => {
  const blue = (from: number, to: number, size: number) =>
    title(
      greys((level) => grey(level, [0, 0, level >= from && level <= to ? size : 0])),
      '#grey.balance',
    );

  it('is the channel that is farthest off, by how much and where', () => {
    expect(blue(70, 100, 5)).toBe('Blue 5 % high from 70 % up');
    expect(blue(40, 60, 5)).toBe('Blue 5 % high from 40 to 60 %');
    expect(blue(50, 50, 5)).toBe('Blue 5 % high at 50 %');
    expect(blue(10, 100, 5)).toBe('Blue 5 % high at every level');
    expect(blue(70, 100, -5)).toBe('Blue 5 % low from 70 % up');
    expect(
      title(
        greys((level) => grey(level, [level > 50 ? level / 10 + (level - 50) / 5 : 0, 0, 0])),
        '#grey.balance',
      ),
    ).toMatch(/^Red up to \d+ % high from 60 % up$/);
  });

  it('is that it is neutral where every channel is within the aim; levels below 20 % are shown, and not judged', () => {
    expect(blue(70, 100, 1)).toBe('Neutral within ±2 % from 20 % up');
    expect(blue(10, 10, 30)).toBe('Neutral within ±2 % from 20 % up');
    expect(title(table('greyscale grey', 'level Y x y', [grey(5, [0, 0, 0]), grey(100, [0, 0, 0])]), '#grey.balance')).toBe(
      'Neutral within ±2 % at 100 %',
    );
  });

  it('goes by the aim that the session has', () => {
    const limits = '\nlimits\n  greyscale.balance: aim 1, limit 3\n';
    const run = greys((level) => grey(level, [0, 0, level >= 70 ? 2 : 0]));
    expect(title(`${limits}${run}`, '#grey.balance')).toBe('Blue 2 % high from 70 % up');
    expect(title(run, '#grey.balance')).toBe('Neutral within ±2 % from 20 % up');
  });

  it('of two runs is that of each, and of many that of the worst', () => {
    const run = (id: string, size: number, head = '') =>
      table(
        `greyscale ${id}${head}`,
        'level Y x y',
        [20, 60, 100].map((level) => grey(level, [0, 0, size])),
      );
    const of = (runs: readonly string[], ref: string) => figure(analysed(session(runs.join('\n'))), ref).title;
    expect(of([run('a', 5, ' "As shipped"'), run('b', 0, ' "As adjusted"')], '#a+b.balance')).toBe(
      'As shipped: Blue 5 % high at every level; As adjusted: Neutral within ±2 % from 20 % up',
    );
    // Constructed: luminance left as it is, blue is at 1.05 / (1 + 0.0722 · 0.05) = 1.046 of it.
    const both = [run('a', 5, ' "The panel as it came out of its box"'), run('b', 0, ' "The panel after an hour with its controls"')];
    expect(of(both, '#a+b.balance')).toBe(
      'Largest balance error: The panel as it came out of its box 4.6 %, The panel after an hour with its controls 0.0 %',
    );
    const adjusted = [
      run('a', 5, ' "The panel as it came out of its box"\nmode: cinema'),
      run('b', 0, ' "The panel after an hour with its controls"\nmode: game'),
    ];
    expect(of(['mode game\n', ...adjusted], '#a+b.balance')).toBe(
      'Largest balance error from 4.6 % to 0.0 %: Neutral within ±2 % from 20 % up',
    );
    expect(of([run('a', 0), run('b', 0)], '#a+b.balance')).toBe('Both: Neutral within ±2 % from 20 % up');
    expect(of([run('a', 0), run('b', 9), run('c', 5)], '#a+b+c.balance')).toBe('The worst of 3 is b: Blue 8 % high at every level');
  });
});

describe('the answer of a curve', () => {
  const off = (from: number, to: number, share: number) =>
    title(
      greys((level) => grey(level, [0, 0, 0], level >= from && level <= to ? 1 + share : 1)),
      '#grey.curve',
    );

  it('is where luminance leaves its target', () => {
    expect(off(40, 60, 0.08)).toBe('Luminance 8 % high from 40 to 60 %');
    expect(off(10, 30, -0.06)).toBe('Luminance 6 % low from 10 to 30 %');
    expect(off(0, 100, 0.04)).toBe('Luminance within ±5 % of its curve from 10 % up');
  });

  it('is in stops where the target is absolute', () => {
    const pq = { target: 'space: bt2020\ncurve: pq\nwhite: d65' };
    // ITU-R BT.2100: 50 % of PQ is 92.2457 cd/m². A quarter more is 0.32 stop.
    expect(title(table('greyscale grey', 'level Y x y', [[50, 115.307, 0.3127, 0.329]]), '#grey.curve', pq)).toBe(
      'Luminance 0.32 stops high at every level',
    );
  });
});

describe('the answer of differences', () => {
  it('counts the rows above the limit, and names the worst', () => {
    const run = greys((level) => grey(level, [0, 0, level >= 90 ? 40 : 0]));
    expect(title(run, '#grey.de')).toMatch(/^2 of 10 levels above ΔE 4, the worst \d+\.\d at 100 %$/);
    expect(
      title(
        greys((level) => grey(level, [0, 0, 0])),
        '#grey.de',
      ),
    ).toMatch(/^All 10 levels within ΔE 4, the worst 0\.0 at \d+ %$/);
  });

  it('labels the worst three, and draws aim and limit of a single row', () => {
    const run = greys((level) => grey(level, [0, 0, level]));
    const { panels } = figure(analysed(session(run)), '#grey.de');
    const labels = panels[0]!.marks.flatMap((mark) => (mark.is === 'series' ? mark.points.flatMap(({ label }) => label ?? []) : []));
    expect(labels.map((label) => label.replace(/^[\d.]+ /, ''))).toEqual(['(80)', '(90)', '(100)']);
    expect(panels[0]!.marks.flatMap((mark) => (mark.is === 'rule' ? [`${mark.role} ${mark.at} ${mark.label}`] : []))).toEqual([
      'aim 2 aim 2',
      'limit 4 limit 4',
    ]);
  });
});

describe('the answer of other figures', () => {
  it('of windows: the 10 % value and the full field', () => {
    const run = table('window win', 'window Y', [
      [1, 800],
      [10, 812],
      [100, 160],
    ]);
    expect(title(run, '#win.curve', { signal: 'mastering-peak: 1000 cd/m2' })).toBe('812 cd/m² at 10 %, 160 over the full field');
    expect(
      title(
        table('window win', 'window Y', [
          [1, '>1000'],
          [100, 160],
        ]),
        '#win.curve',
      ),
    ).toBe('Peak at least 1000 cd/m²');
  });

  it('of a grid: how far off the worst field is, and where it lies', () => {
    const cells = (worst: readonly [number, number], Y: number) =>
      table(
        'uniformity field',
        'row col Y',
        [1, 2, 3].flatMap((row) => [1, 2, 3].map((col) => [row, col, row === worst[0] && col === worst[1] ? Y : 100])),
      );
    expect(title(cells([1, 1], 90), '#field.map')).toBe('10.0 % darker than the centre at the top left; non-uniformity 10.0 %');
    expect(title(cells([3, 2], 105), '#field.map')).toBe('5.0 % brighter than the centre at the bottom; non-uniformity 4.8 %');
  });

  it('of contrast: both, with what is only known to be at least', () => {
    const run = table('contrast pair', 'patch Y', [
      ['white', 120],
      ['black', '<0.003'],
      ['checker-white', 100],
      ['checker-black', 0.5],
    ]);
    expect(title(run, '#pair.contrast')).toBe('Contrast at least 40000:1, on a checkerboard 200:1');
  });

  it('of contrast: the mean of all fields of a checkerboard, in its points as in its ratio', () => {
    const run = table('contrast pair', 'patch Y', [
      ['checker-white', 100],
      ['checker-black', 0.4],
      ['checker-white', 120],
      ['checker-black', 0.6],
    ]);
    expect(figure(analysed(session(run)), '#pair.contrast').table?.rows.map(({ cells }) => cells.slice(1))).toEqual([
      ['0.5', '110', '220:1'],
    ]);
  });

  it('of readings of one thing: what they come to and how they scatter', () => {
    const run = table('repeats again', 'patch Y x y', [
      ['grey', 99, 0.31, 0.32],
      ['grey', 101, 0.31, 0.32],
    ]);
    expect(title(run, '#again.readings')).toBe('100.000 cd/m², scattering by 1.41 % over 2 readings');
    const lag = table('lag delay', 'place lag[ms]', [
      ['top', 5],
      ['bottom', 15],
    ]);
    expect(title(lag, '#delay.readings')).toBe('10.0 ms on average, from 5.0 (top) to 15.0 ms (bottom)');
  });

  it('of near-black: crushed, raised or held, with the first level that is told from black', () => {
    const run = (share: number) =>
      table('greyscale grey', 'level Y x y', [
        [0, 0, '-', '-'],
        ...[2, 4, 6, 8, 10, 100].map((level) => grey(level, [0, 0, 0], level < 100 ? share : 1)),
      ]);
    expect(title(run(2), '#grey.nearblack')).toMatch(/^Raised by 1\.00 stops on average; first level above black \d %$/);
    expect(title(run(0.5), '#grey.nearblack')).toMatch(/^Crushed by 1\.00 stops on average; first level above black \d %$/);
    expect(title(run(1.02), '#grey.nearblack')).toMatch(/^Near-black holds within 0\.03 stops on average/);
  });

  it('of a gamut: what it covers, without what it covers whole beside what it does not', () => {
    const rows = (primaries: readonly (readonly [string, number, number])[]) =>
      table(
        'gamut g',
        'patch Y x y',
        primaries.map(([name, x, y]) => [name, 20, x, y]),
      );
    const p3 = rows([
      ['red', 0.68, 0.32],
      ['green', 0.265, 0.69],
      ['blue', 0.15, 0.06],
    ]);
    // P3 covers all of BT.709, 72.85 % of BT.2020 in u'v' (measured by an independent computation: constructed).
    expect(title(p3, '#g.chromaticity', { target: 'space: bt2020\ncurve: power 2.4\nwhite: d65' })).toBe(
      "Covers 72.8 % of BT.2020 in u'v'",
    );
  });
});

describe('the words of a figure', () => {
  it('are in the language of the reader, number and name put into them', () => {
    const german: Readonly<Record<string, string>> = {
      '{channel} {size} % high {where}': '{where} ist {channel} um {size} % zu hoch',
      Blue: 'Blau',
      'from {level} % up': 'Ab {level} %',
      'aim {size}': 'Ziel {size}',
      'level, %': 'Pegel, %',
    };
    const analysis = analysed(session(greys((level) => grey(level, [0, 0, level >= 70 ? 5 : 0]))));
    const say = sayIn((template) => german[template] ?? template);
    const reading = figureFor(analysis, { ids: ['grey'], measure: 'balance', keys: [] }, say);
    if (!reading.ok) throw new Error(reading.mistake.code);
    expect(reading.figure.title).toBe('Ab 70 % ist Blau um 5 % zu hoch');
    expect(reading.figure.panels[0]!.x.title).toBe('Pegel, %');
    expect(described(reading.figure)).toContain('"Ziel ±2 %"');
  });
});
