import { describe, expect, it } from 'vitest';
import { svgOf } from '../../src/figure/svg';
import { analysed, type Bench, session, table } from '../measure/tools';
import { figure, pointsIn } from './tools';

// What is said where there is little or nothing to say it of. Readings are constructed.

const shown = (runs: string, ref: string, bench: Bench = {}) => figure(analysed(session(runs, bench)), ref);
const title = (runs: string, ref: string, bench: Bench = {}) => shown(runs, ref, bench).title;
const cells = (runs: string, ref: string, bench: Bench = {}) => shown(runs, ref, bench).table.rows.map((row) => row.cells);

const D65 = [0.3127, 0.329] as const;

/** Neutral greys of 120 · V^2.4 cd/m², with the luminance of some written otherwise. */
const greys = (levels: readonly number[], other: Readonly<Record<number, string | number>> = {}, head = 'greyscale grey') =>
  table(
    head,
    'level Y x y',
    levels.map((level) => [level, other[level] ?? (120 * (level / 100) ** 2.4).toPrecision(6), ...D65]),
  );

/** Code values of 8 bits, full range, by the same curve. */
const codes = (list: readonly number[], xy: readonly [number, number] = D65) =>
  table(
    'greyscale grey',
    'level[8bit] Y x y',
    list.map((code) => [code, (120 * (code / 255) ** 2.4).toPrecision(6), ...xy]),
  );
const FULL: Bench = { signal: 'window: 10 %\nrange: full' };

describe('a run of which nothing is judged', () => {
  const dark = greys([2, 4, 6, 8]);

  it('has no verdict: its title says from where there would be one', () => {
    expect(title(dark, '#grey.balance')).toBe('Balance is judged from 20 % up: no colour was read there');
    expect(title(dark, '#grey.curve')).toBe('Luminance is judged from 10 % up: it was read at no level there');
  });

  it('has no number in what is said of it', () => {
    for (const ref of ['#grey.balance', '#grey.curve', '#grey.nearblack', '#grey.chromaticity', '#grey.de'])
      expect(JSON.stringify(shown(dark, ref)), ref).not.toMatch(/Infinity|NaN/);
    expect(shown(dark, '#grey.balance').summary).toBe('grey: Balance is judged from 20 % up: no colour was read there.');
    expect(shown(dark, '#grey.curve').summary).toBe('grey: Luminance is judged from 10 % up: it was read at no level there.');
  });

  it('is not the best of two, nor the worst of many', () => {
    const two = `${greys([2, 4, 6], {}, 'greyscale a')}\n${greys([50, 100], {}, 'greyscale b')}`;
    expect(title(two, '#a+b.balance')).toBe(
      'a: Balance is judged from 20 % up: no colour was read there; b: Neutral within ±2 % from 50 % up',
    );
    const off = greys([50, 100], { 50: 40 }, 'greyscale c');
    expect(title(`${two}\n${off}`, '#a+b+c.curve')).toMatch(/^The worst of 3 is c: /);
  });
});

describe('levels written as code values', () => {
  const run = codes([64, 128, 255], [0.31, 0.33]);

  it('are said in per cent', () => {
    // 100 · 128 / 255 = 50.2, 100 · 64 / 255 = 25.1.
    expect(title(run, '#grey.de', FULL)).toMatch(/ at 100 %$/);
    expect(cells(run, '#grey.de', FULL).map(([level]) => level)).toEqual(['25.1', '50.2', '100']);
    expect(pointsIn(shown(run, '#grey.de', FULL)).map(({ label }) => label?.replace(/^[\d.]+ /, ''))).toEqual([
      '(25.1)',
      '(50.2)',
      '(100)',
    ]);
    expect(title(run, '#grey.chromaticity', FULL)).toMatch(/^White \d+ K/);
    expect(title(codes([64, 128]), '#grey.chromaticity', FULL)).toMatch(/^50\.2 % grey \d+ K/);
    const chromaticity = shown(run, '#grey.chromaticity', FULL);
    expect(pointsIn(chromaticity).flatMap(({ label }) => label ?? [])).toEqual(['25.1 %', '100 %', 'D65']);
    expect(chromaticity.table.rows.map((row) => row.cells[0])).toEqual(['25.1 %', '50.2 %', '100 %']);
    const raw = pointsIn(shown(run, '#grey.curve', FULL)).filter(({ id }) => id.includes('/luminance/'));
    expect(raw.map(({ name }) => name.replace(/:.*/, ''))).toEqual(['25.1 %', '50.2 %', '100 %']);
  });

  it('are said in per cent near black and over what is asked for', () => {
    const near = codes([0, 5, 10, 20, 255]);
    expect(cells(near, '#grey.nearblack', FULL).map(([level]) => level)).toEqual(['2', '3.9', '7.8']);
    const hdr = table('tracking track', 'level[10bit] Y', [
      [512, 92.5],
      [1023, 1000],
    ]);
    const pq: Bench = { target: 'space: bt2020\ncurve: pq\nwhite: d65', signal: 'range: full' };
    expect(cells(hdr, '#track.eotf', pq).map(([level]) => level)).toEqual(['50', '100']);
    expect(pointsIn(shown(hdr, '#track.eotf', pq)).map(({ name }) => name.replace(/:.*/, ''))).toEqual(['50 %', '100 %']);
  });
});

describe('the first level above black', () => {
  it.each([
    [0.4, '0.4 %'],
    [1.5, '1.5 %'],
    [2, '2 %'],
  ])('is said as it is written: %d', (first, said) => {
    const run = table('greyscale grey', 'level Y x y', [
      [0, 0.0001, '-', '-'],
      ...[first, 3, 4, 6, 100].map((level) => [level, (120 * (level / 100) ** 1.5).toPrecision(6), ...D65]),
    ]);
    expect(title(run, '#grey.nearblack')).toMatch(new RegExp(`first level above black ${said.replace('.', '\\.')}$`));
  });
});

/** What signals of these per cents ask for, cd/m²: computed from the EOTF of PQ in ITU-R BT.2100. */
const PQ = new Map([
  [20, 2.42926],
  [30, 10.0382],
  [40, 32.4479],
  [50, 92.2457],
  [60, 244.005],
  [70, 620.879],
  [80, 1555.18],
]);
const PQ_TARGET: Bench = { target: 'space: bt2020\ncurve: pq\nwhite: d65', signal: 'window: 10 %' };
const tracking = (most: number, levels: readonly number[] = [...PQ.keys()], head = 'tracking track') =>
  table(
    head,
    'level Y x y',
    levels.map((level) => [level, Math.min(most, PQ.get(level)!), ...D65]),
  );

describe('a tracking run', () => {
  it('says up to where its differences are', () => {
    expect(title(tracking(300), '#track.de', PQ_TARGET)).toMatch(/^ΔE ITP at most \d\.\d at \d0 %, up to the knee at 6\d %$/);
    expect(title(tracking(10000), '#track.de', PQ_TARGET)).toMatch(/^ΔE ITP at most \d\.\d at \d0 %$/);
    const two = [
      tracking(300, undefined, 'tracking a "Mastered for a peak of 1000 cd/m2"'),
      tracking(500, undefined, 'tracking b "Mastered for a peak of 4000 cd/m2"'),
    ];
    expect(title(two.join('\n'), '#a+b.de', PQ_TARGET)).toMatch(/^Worst ΔE ITP up to the knee: /);
  });

  it('says of its end what was found, and what could not be', () => {
    expect(title(tracking(300), '#track.tracking', PQ_TARGET)).toMatch(/, knee at \d+ cd\/m²$/);
    expect(title(tracking(10000), '#track.tracking', PQ_TARGET)).toMatch(/^Follows PQ within ±0\.1 stops, no roll-off$/);
    // Mid-tones are missing, which the knee is told by.
    expect(title(tracking(10000, [70, 80]), '#track.tracking', PQ_TARGET)).toMatch(/, knee not computed$/);
  });

  it('follows nothing where no level can be held against its curve', () => {
    const bench = { ...PQ_TARGET, meter: 'floor: 5 cd/m2' };
    expect(title(tracking(10000, [20, 30]), '#track.tracking', bench)).toBe('No level to hold against PQ, no roll-off');
    expect(title(tracking(10000, [20]), '#track.tracking', bench)).toBe('No level to hold against PQ, knee not computed');
  });

  it('has a peak, or none that is said', () => {
    expect(title(tracking(300), '#track.eotf', PQ_TARGET)).toBe('Up to 300 cd/m²');
    const unseen = table('tracking track', 'level Y', [
      [20, '<0.003'],
      [40, '<0.003'],
    ]);
    expect(title(unseen, '#track.eotf', PQ_TARGET)).toBe('Peak not computed');
  });
});

it('what is said of the chromaticity of greys is said of those that count', () => {
  const run = table('greyscale grey', 'level Y x y', [
    [5, 0.09, 0.25, 0.25],
    [50, 22.7, 0.3127, 0.33],
    [100, 120, 0.3127, 0.331],
  ]);
  expect(shown(run, '#grey.chromaticity').summary).toMatch(/^grey: Up to 0\.00\d\d off in u'v' \(100 %\)/);
});

describe('spectra', () => {
  const run = (red: string) =>
    table('spectrum spd', 'nm white red', [
      [400, 0.1, 0.1],
      [410, 0.8, red],
      [420, 0.3, 0.2],
      [430, 0.1, 0.1],
    ]);

  it('that cannot be shown are named, with the reason', () => {
    const found = shown(run('?'), '#spd.spectrum');
    expect(found.table.head).toEqual(['nm', 'white']);
    expect(found.notes).toEqual(['red is not shown: number 2 is none.']);
    expect(shown(run('-0.2'), '#spd.spectrum').notes).toEqual(['red is not shown: the power at 410 nm is below 0.']);
    expect(shown(run('0.4'), '#spd.spectrum').notes).toEqual([]);
  });
});

describe('one row', () => {
  const one = (x: number) => table('greyscale grey', 'level Y x y', [[100, 120, x, 0.329]]);

  it('is not counted', () => {
    expect(title(one(0.3127), '#grey.de')).toBe('Within ΔE 4: 0.0 at 100 %');
    expect(title(one(0.2927), '#grey.de')).toMatch(/^Above ΔE 4: \d+\.\d at 100 %$/);
    expect(shown(one(0.3127), '#grey.de').summary).toMatch(/^grey: ΔE 2000 of 1 row, 0\.0\d\.$/);
  });
});

it('windows that are dim keep two digits of their luminance', () => {
  const run = table('window win', 'window Y', [
    [10, 0.4],
    [100, 0.0123],
  ]);
  expect(title(run, '#win.curve')).toBe('0.40 cd/m² at 10 %, 0.012 over the full field');
  expect(cells(run, '#win.curve')).toEqual([
    ['10', '0.40 cd/m²'],
    ['100', '0.012 cd/m²'],
  ]);
  expect(pointsIn(shown(run, '#win.curve')).map(({ label }) => label)).toEqual(['0.40 at 10 %', '0.012']);
});

it('colours that are exact have no direction', () => {
  const red = (Y: number, x: number) => table('saturation sat', 'hue sat Y x y', [['red', 100, Y, x, 0.33]]);
  // BT.709: red is at 0.64, 0.33 with 0.2126 of the luminance of white.
  expect(title(red(25.512, 0.64), '#sat.drift')).toBe('Saturation within ΔC* 0.1, hue within ΔH* 0.1');
  expect(title(red(25.512, 0.6), '#sat.drift')).toMatch(/^Under-saturated by up to ΔC\* /);
});

describe('what lies outside of an axis', () => {
  it('a limit above all readings is on it', () => {
    const lag = table('lag delay', 'place lag[ms]', [['top', 5]]);
    const { panels } = shown(lag, '#delay.readings');
    const limits = panels[0]!.marks.flatMap((mark) => (mark.is === 'rule' && mark.role === 'limit' ? [mark.at] : []));
    expect(limits).toEqual([40]);
    expect(panels[0]!.x.domain[1]).toBeGreaterThan(40);
  });

  it('a measure with a limit of 0 is among those that have one', () => {
    const limits = '\nlimits\n  greyscale.de.avg: aim 0, limit 0\n';
    const run = (id: string, x: number) =>
      table(`greyscale ${id}`, 'level Y x y', [
        [50, 22.7, x, 0.329],
        [100, 120, x, 0.329],
      ]);
    const runs = `${run('a', 0.3)}\n${run('b', 0.305)}`;
    const count = (text: string) => cells(text, '#a+b.change').length;
    expect(count(`${limits}${runs}`)).toBe(count(runs));
    const [, ...others] = pointsIn(shown(`${limits}${runs}`, '#a+b.change'));
    for (const point of others) expect(Number.isFinite(point.x)).toBe(true);
  });
});

it('what a mark is led to from stays in the frame with the mark', () => {
  const point = { id: 'p', x: 0.5, y: 0.5, from: [3, 0.5] as const, run: 'r', key: [], name: 'p' };
  const axis = { title: '', scale: 'linear', domain: [0, 1] } as const;
  const series = { is: 'series', id: 's', ink: 'text', dash: 'solid', joined: false, shape: 'dot', points: [point] } as const;
  const panels = [{ id: 'panel', x: axis, y: axis, marks: [series] }];
  const table = { head: [], rows: [] };
  const svg = svgOf({ id: 'f', runs: [], title: 'f', against: '', summary: '', notes: [], panels, flow: 'column', table }, { width: 400 });
  const [, from] = /<path d="M([\d.]+) [\d.]+L[^"]*" fill="none" stroke-width="1\.4"/.exec(svg)!;
  expect(Number(from)).toBeLessThanOrEqual(400);
});
