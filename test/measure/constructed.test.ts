import Color from 'colorjs.io';
import { describe, expect, test } from 'vitest';
import { asTaken } from '../../src/measure/greyscale';
import { between, d65, inverse, type Pair, rgbToXyz, spaces, type Triple, times, uvOf, xyOf, xyzOf } from '../display/light';
import { expectValue, number, result, table, valueIn, whyNot } from './tools';

// The worked examples of the definitions, read through sessions as text. They were computed once by independent code and have no
// published source: good numbers to hold on to, and no authority.

const P24 = 'space: bt709\ncurve: power 2.4\nwhite: d65';
const WITH_120 = `${P24}\nluminance: 120 cd/m2`;
const LIMITED_8 = 'range: limited\ndepth: 8';
const LIMITED_10 = 'range: limited\ndepth: 10';
const grey = (...rows: (string | number)[][]) => table('greyscale grey', 'level Y x y', rows);

describe('levels as sent (constructed)', () => {
  test.each([
    [LIMITED_8, 1, 0.8043],
    [LIMITED_10, 1, 1.067],
    [LIMITED_8, 5, 1.011],
    [LIMITED_10, 5, 1.011],
  ])('with "%s" the target of %d %% is ×%d of that of the nominal level', (signal, level, ratio) => {
    const run = grey([level, 1, 0.3127, 0.329]);
    const sent = number(result(run, { signal }), `target@${level}`);
    const nominal = number(result(run), `target@${level}`);
    expect((sent / nominal).toFixed(4)).toBe(ratio.toFixed(4));
  });

  test('1 % in 8 bits limited is 0.91324 %, in 10 bits 1.02740 %', () => {
    const run = table('greyscale grey', 'level Y', [
      [0, 0],
      [1, 0.5],
    ]);
    for (const [signal, sent] of [
      [LIMITED_8, 0.0091324],
      [LIMITED_10, 0.010274],
    ] as const) {
      expect(number(result(run, { signal }), 'target@1') / (120 * sent ** 2.4)).toBeCloseTo(1, 4);
    }
  });
});

describe('BT.1886 at a white of 120 (constructed)', () => {
  const target = 'space: bt709\ncurve: bt1886\nluminance: 120 cd/m2';
  test.each([
    ['0', ['0.001902', '0.090513', '0.477729']],
    ['0.003', ['0.012578', '0.148682', '0.612139']],
    ['0.01', ['0.026074', '0.195868', '0.710307']],
    ['0.05', ['0.084782', '0.342887', '0.984180']],
  ])('with a black of %s the targets of 1, 5 and 10 %% are %s', (black, [one, five, ten]) => {
    const run = result(grey([0, black, '-', '-'], [1, 0.1, '-', '-'], [5, 0.1, '-', '-'], [10, 0.1, '-', '-']), { target });
    expectValue(run, 'target@1', one!);
    expectValue(run, 'target@5', five!);
    expectValue(run, 'target@10', ten!);
  });

  test('with a black below the floor the target carries both ends', () => {
    const run = result(grey([0, '<0.003', '-', '-'], [5, 0.1, '-', '-']), { target });
    const value = valueIn(run, 'target@5');
    if (!value.ok || !value.ends) throw new Error('no ends');
    expect(value.v.toFixed(6)).toBe('0.090513');
    expect(value.ends.map((end) => end.toFixed(6))).toEqual(['0.090513', '0.148682']);
    expect(run.againstText()).toContain('black below 0.003 cd/m² (read in grey)');
  });
});

describe('a grey of 30 % (constructed)', () => {
  const row = [30, '6.70', 0.3099, 0.3279];

  test('has its target at 6.672249, is ΔE 0.6416 away, 0.6390 without luminance and 1.6361 at its own level', () => {
    const run = result(grey(row), { target: WITH_120 });
    expectValue(run, 'target@30', '6.672249');
    expectValue(run, 'de@30', '0.6416');
    expectValue(run, 'dc@30', '0.6390');
    expectValue(run, 'dc.adapted@30', '1.6361');
    expect(run.againstText()).toBe('dark: BT.709, power 2.4, D65, white 120 cd/m² (stated by dark)');
  });

  test('is ΔE 0.6461 away on the scale of its own white of 119.6', () => {
    const run = result(grey(row, [100, 119.6, 0.3089, 0.3248]), { target: P24 });
    expectValue(run, 'de@30', '0.6461');
    expect(run.againstText()).toContain('white 119.6 cd/m² (read in grey)');
  });
});

test('peak-white Lab hides a tint at 5 %: ΔE 0.22, 8.71 at its own level, ΔE ITP 2.89 (constructed)', () => {
  const Y = 1.1 * 120 * 0.05 ** 2.4;
  const run = result(grey([5, Y.toPrecision(12), '0.300', '0.310']), { target: WITH_120 });
  expectValue(run, 'de@5', '0.22');
  expectValue(run, 'dc.adapted@5', '8.71');
  expectValue(run, 'de.itp@5', '2.89');
  expectValue(run, 'nearblack.dc', '8.71');
});

describe('balance (constructed)', () => {
  const run = grey([80, 70, 0.3089, 0.3248]);
  test.each([
    ['bt709', '98.261', '100.104', '104.095'],
    ['bt2020', '99.121', '100.022', '103.648'],
  ])('of .3089/.3248 in %s is %s/%s/%s', (space, r, g, b) => {
    const grey = result(run, { target: `space: ${space}\ncurve: power 2.4\nwhite: d65\nluminance: 120 cd/m2` });
    expectValue(grey, 'balance.r@80', r);
    expectValue(grey, 'balance.g@80', g);
    expectValue(grey, 'balance.b@80', b);
    expectValue(grey, 'balance', b);
    // The simulator's own arithmetic, written apart.
    const rgb = times(inverse(rgbToXyz(spaces[space as 'bt709' | 'bt2020'])), xyzOf([0.3089, 0.3248]));
    expect(number(grey, 'balance.r@80')).toBeCloseTo(100 * rgb[0], 9);
    expect(number(grey, 'balance.g@80')).toBeCloseTo(100 * rgb[1], 9);
    expect(number(grey, 'balance.b@80')).toBeCloseTo(100 * rgb[2], 9);
  });
});

describe('the exponent (constructed)', () => {
  const levels = Array.from({ length: 11 }, (_, i) => 10 * i);
  const root = (n: number) => n ** (1 / 2.4);

  test('of an exact BT.1886 with white 100 and black 0.05 is 2.1382 with and 2.1541 without black, and no other than its target', () => {
    const rows = levels.map((L) => [L, (((L / 100) * (root(100) - root(0.05)) + root(0.05)) ** 2.4).toPrecision(15), '-', '-']);
    const run = result(grey(...rows), { target: 'space: bt709\ncurve: bt1886' });
    expectValue(run, 'exponent.raw', '2.1382');
    expectValue(run, 'exponent', '2.1541');
    expect(number(run, 'curve.exponent')).toBeCloseTo(0, 10);
  });

  test('of power 2.4 on a pedestal of 0.05 is 2.3708 with and 2.4000 without black', () => {
    const rows = levels.map((L) => [L, (0.05 + (100 - 0.05) * (L / 100) ** 2.4).toPrecision(15), '-', '-']);
    const run = result(grey(...rows), { target: P24 });
    expectValue(run, 'exponent.raw', '2.3708');
    expectValue(run, 'exponent', '2.4000');
    expect(number(run, 'curve.exponent')).toBeCloseTo(0, 10);
    expectValue(run, 'exponent@50', '2.4000');
  });
});

describe('saturation points of BT.709 at 75 % (constructed)', () => {
  const point = (hue: string, sat: number, Y: number | string, x: number | string, y: number | string) =>
    table('saturation sat\nstimulus: 75 %', 'hue sat Y x y', [[hue, sat, Y, x, y]]);
  /** The reading of a display that shows the point exactly: nothing is left to differ. */
  const exact = (hue: string, sat: number, share: number, x: number, y: number) =>
    number(result(point(hue, sat, 120 * share, x, y), { target: WITH_120 }), `de@${hue},${sat}`);

  test('red 50 % is .47635/.32950 at 0.175655 of white, red 100 % at 0.106608, cyan 50 % .26867/.32887 at 0.441733', () => {
    expect(exact('red', 50, 0.175655, 0.47635, 0.3295)).toBeLessThan(0.002);
    expect(exact('red', 100, 0.106608, 0.64, 0.33)).toBeLessThan(0.002);
    expect(exact('cyan', 50, 0.441733, 0.26867, 0.32887)).toBeLessThan(0.003);
  });

  test('red 50 % is driven 75/36.272/36.272: the same as the patch of that drive', () => {
    const patch = table('patches colours', 'R G B Y x y', [[75, 36.272, 36.272, 20.5, '.4900', '.3330']]);
    const asPatch = number(result(patch, { target: WITH_120 }), 'de@75,36.272,36.272');
    expect(number(result(point('red', 50, 20.5, '.4900', '.3330'), { target: WITH_120 }), 'de@red,50')).toBeCloseTo(asPatch, 3);
  });

  test('cyan 50 % is driven 53.308/75/75: the same as the patch of that drive', () => {
    const patch = table('patches colours', 'R G B Y x y', [[53.308, 75, 75, 50, '.2700', '.3300']]);
    const asPatch = number(result(patch, { target: WITH_120 }), 'de@53.308,75,75');
    expect(number(result(point('cyan', 50, 50, '.2700', '.3300'), { target: WITH_120 }), 'de@cyan,50')).toBeCloseTo(asPatch, 3);
  });

  test('with a signal of 10 bits they are sent in codes, 75 % as 721', () => {
    const [x, y] = ['.47635', '.32950'];
    const nominal = number(result(point('red', 50, 20.5, x, y), { target: WITH_120 }), 'delta.l@red,50');
    const sent = number(result(point('red', 50, 20.5, x, y), { target: WITH_120, signal: LIMITED_10 }), 'delta.l@red,50');
    const codes = table('patches colours', 'R[10bit] G[10bit] B[10bit] Y x y', [[721, 382, 382, 20.5, x, y]]);
    expect(sent).toBeCloseTo(number(result(codes, { target: WITH_120, signal: LIMITED_10 }), 'delta.l@721,382,382'), 9);
    expect(Math.abs(sent - nominal)).toBeGreaterThan(1e-3);
  });

  test('saturation 0 is the grey of the stimulus', () => {
    const Y = 120 * 0.75 ** 2.4;
    expect(exact('red', 0, 0.75 ** 2.4, 0.3127, 0.329)).toBeLessThan(1e-6);
    expect(exact('blue', 0, Y / 120, 0.3127, 0.329)).toBeLessThan(1e-6);
  });

  test('red 50 % read as 20.5/.4900/.3330 has the parts −0.600, +2.647, +2.203°, +1.852, and ΔE 1.542', () => {
    const run = result(point('red', 50, 20.5, '.4900', '.3330'), { target: WITH_120 });
    expectValue(run, 'delta.l@red,50', '-0.600');
    expectValue(run, 'delta.c@red,50', '2.647');
    expectValue(run, 'delta.h.angle@red,50', '2.203');
    expectValue(run, 'delta.h@red,50', '1.852');
    expectValue(run, 'de@red,50', '1.542');
    expectValue(run, 'hue.de@red', '1.542');
  });
});

test('the reference white of Lab is that of full drive: by the white of the stimulus the same pair would be further apart (constructed)', () => {
  const rows = [['red', 100, 20, '.6300', '.3350']];
  const under = (luminance: number, stimulus: number) =>
    number(
      result(table(`saturation sat\nstimulus: ${stimulus} %`, 'hue sat Y x y', rows), {
        target: `${P24}\nluminance: ${luminance} cd/m2`,
      }),
      'de@red,100',
    );
  expect(under(120 * 0.75 ** 2.4, 100)).toBeGreaterThan(under(120, 75));
});

describe('coverage (constructed)', () => {
  const gamut = (points: readonly (readonly number[])[], container = 'bt2020') =>
    result(
      table(
        'gamut full',
        'patch x y',
        points.map(([x, y], i) => [`p${i}`, x!, y!]),
      ),
      { target: '', signal: `container: ${container}` },
    );

  test('of BT.2020 over P3 is 99.9801 % in xy and 99.9775 % in u′v′', () => {
    const run = gamut(spaces.bt2020);
    expectValue(run, 'coverage.p3.xy', '99.9801');
    expectValue(run, 'coverage.p3.uv', '99.9775');
  });

  test('of P3 over BT.2020 is 71.7290 / 72.8492 %, with an area of 71.7433 / 72.8656 %', () => {
    const run = gamut(spaces.p3);
    expectValue(run, 'coverage.bt2020.xy', '71.7290');
    expectValue(run, 'coverage.bt2020.uv', '72.8492');
    expectValue(run, 'area.bt2020.xy', '71.7433');
    expectValue(run, 'area.bt2020.uv', '72.8656');
  });

  test('of BT.709 over BT.2020 is 52.89 / 58.03 %, over P3 73.72 / 79.64 %', () => {
    const run = gamut(spaces.bt709);
    expectValue(run, 'coverage.bt2020.xy', '52.89');
    expectValue(run, 'coverage.bt2020.uv', '58.03');
    expectValue(run, 'coverage.p3.xy', '73.72');
    expectValue(run, 'coverage.p3.uv', '79.64');
    expectValue(run, 'coverage.bt709.xy', '100.00');
    expectValue(run, 'area.bt709.uv', '100.00');
  });

  test('is no area: a panel with 101.5 % of the area of P3 in u′v′ covers 97.90 % of it', () => {
    const panel = [
      [0.684, 0.314],
      [0.2571, 0.656],
      [0.1476, 0.0589],
    ] as const;
    const run = gamut(panel);
    expectValue(run, 'coverage.p3.xy', '94.03');
    expectValue(run, 'coverage.p3.uv', '97.90');
    expectValue(run, 'coverage.bt2020.xy', '68.99');
    expectValue(run, 'coverage.bt2020.uv', '73.99');
    expect(number(run, 'area.p3.uv')).toBeCloseTo((100 * areaInUv(panel)) / areaInUv(spaces.p3), 9);
    expectValue(run, 'area.p3.uv', '101.5');
  });

  test('of a fourth, cyan vertex rises from 69.095 to 69.969 % in xy and from 74.195 to 74.977 % in u′v′', () => {
    const three = [
      [0.68, 0.32],
      [0.252, 0.657],
      [0.149, 0.054],
    ];
    const four = [...three, [0.19, 0.33]];
    expectValue(gamut(three), 'coverage.bt2020.xy', '69.095');
    expectValue(gamut(four), 'coverage.bt2020.xy', '69.969');
    expectValue(gamut(three), 'coverage.bt2020.uv', '74.195');
    expectValue(gamut(four), 'coverage.bt2020.uv', '74.977');
  });

  test('never uses the luminance', () => {
    const withY = table('gamut full', 'patch Y x y', [
      ['red', 3, 0.68, 0.32],
      ['green', 900, 0.265, 0.69],
      ['blue', 0.5, 0.15, 0.06],
      ['white', 100, 0.3127, 0.329],
      ['black', 0.2, 0.1, 0.5],
    ]);
    const run = result(withY, { target: '', signal: 'container: bt2020' });
    expectValue(run, 'coverage.p3.xy', '100.0000');
    expectValue(run, 'area.p3.uv', '100.0000');
  });
});

test('additivity is the light of red, green and blue over that of white: 0.60 with a white emitter of ⅔ (constructed)', () => {
  const rows = [
    ['red', 21.26 / (5 / 3), 0.64, 0.33],
    ['green', 71.52 / (5 / 3), 0.3, 0.6],
    ['blue', 7.22 / (5 / 3), 0.15, 0.06],
    ['white', 100, 0.3127, 0.329],
  ];
  expectValue(result(table('gamut full', 'patch Y x y', rows)), 'additivity', '0.6000');
});

describe('contrast (constructed)', () => {
  const contrast = (white: string, black: string) =>
    result(
      table('contrast dark-room', 'patch Y', [
        ['white', white],
        ['black', black],
      ]),
    );

  test('over a black that could not be seen is at least so much, rounded down', () => {
    expect(valueIn(contrast('120.6', '<0.003'), 'sequential')).toEqual({ ok: true, v: 40200, bound: 'at-least' });
    expect(valueIn(contrast('120.5', '<0.0037'), 'sequential')).toEqual({ ok: true, v: 32567, bound: 'at-least' });
    expect(valueIn(contrast('120.5', '<0.0037'), 'black')).toEqual({ ok: true, v: 0.0037, bound: 'at-most' });
  });

  test('over a black that was read is the plain ratio', () => {
    expect(valueIn(contrast('150.5', '0.044'), 'sequential')).toEqual({ ok: true, v: 150.5 / 0.044 });
  });

  test('under a white over the range is at least so much too', () => {
    expect(valueIn(contrast('>1000', '0.3'), 'sequential')).toEqual({ ok: true, v: 3333, bound: 'at-least' });
  });
});

describe('a chain that takes one range for the other (constructed)', () => {
  const light = (signal: number) => 120 * signal ** 2.4;

  test('limited shown as full gives 0.1561 for black and 98.64 for white', () => {
    const eight = { range: 'limited', depth: 8 } as const;
    expect(light(asTaken(0, eight, 'limited-as-full')).toFixed(4)).toBe('0.1561');
    expect(light(asTaken(1, eight, 'limited-as-full')).toFixed(2)).toBe('98.64');
  });

  test('full shown as limited gives nothing at 5 % and 0.0644 at 10 %', () => {
    const eight = { range: 'full', depth: 8 } as const;
    expect(light(asTaken(0.05, eight, 'full-as-limited'))).toBe(0);
    // The number is that of 25.5, between two codes.
    const halfway = (asTaken(25 / 255, eight, 'full-as-limited') + asTaken(26 / 255, eight, 'full-as-limited')) / 2;
    expect(light(halfway).toFixed(4)).toBe('0.0644');
  });

  test('a display that does it fits its hypothesis exactly, and the signal as written badly', () => {
    const rows = Array.from({ length: 11 }, (_, i) => {
      const code = Math.round(64 + 876 * (i / 10));
      return [10 * i, (120 * (code / 1023) ** 2.4).toPrecision(12), 0.3127, 0.329];
    });
    const run = result(grey(...rows), { target: P24, signal: LIMITED_10 });
    expect(number(run, 'chain.limited-as-full')).toBeLessThan(1e-9);
    expect(number(run, 'chain.written')).toBeGreaterThan(0.5);
    expect(number(run, 'chain.full-as-limited')).toBeGreaterThan(1);
  });
});

describe('colour temperature', () => {
  test('of D65 is 6504 K with Duv 0.0032 (CIE 15, Ohno 2013); from its own target Duv is 0', () => {
    const run = result(grey([100, 120, 0.3127, 0.329]));
    expect(Math.abs(number(run, 'cct') - 6504)).toBeLessThan(2);
    expect(number(run, 'duv')).toBeCloseTo(0, 12);
    const plain = result(grey([100, 120, 0.3127, 0.329]), { target: 'space: bt709\ncurve: srgb\nwhite: 0.3135 0.3237' });
    expect(Math.abs(number(plain, 'duv') - 0.0032)).toBeLessThan(2e-4);
  });

  test('is refused where Duv is beyond 0.05', () => {
    const run = result(grey([100, 120, 0.3, 0.6]));
    expect(whyNot(valueIn(run, 'cct'))).toBe('far-from-planckian');
    expect(whyNot(valueIn(run, 'duv'))).toBe('far-from-planckian');
    expect(whyNot(valueIn(run, 'cct@100'))).toBe('far-from-planckian');
  });
});

test('Δu*v* is 13·L*·Δu′v′: a white 0.001 off in u′ is 1.3, the aim of EBU Tech 3320 (constructed)', () => {
  const run = result(
    table('greyscale grey', "level Y u' v'", [
      [100, 100, (0.1978300066 + 0.001).toFixed(10), 0.4683199494],
      [50, 100 * 0.5 ** 2.4, (0.1978300066 + 0.001).toFixed(10), 0.4683199494],
    ]),
    { target: P24 },
  );
  expectValue(run, 'white.duvstar', '1.300');
  expectValue(run, 'delta.uv@100', '0.0010000');
  const lightness = 116 * Math.cbrt(0.5 ** 2.4) - 16;
  expect(number(run, 'delta.uvstar@50')).toBeCloseTo(13 * lightness * 0.001, 6);
  expectValue(run, 'duvstar.max', '1.300');
});

test('a common error of +0.002 x and +2 % Y makes a perfect 80 % grey read ΔE 1.408 (constructed)', () => {
  const Y = 1.02 * 120 * 0.8 ** 2.4;
  expectValue(result(grey([80, Y.toPrecision(12), 0.3147, 0.329])), 'de@80', '1.408');
});

describe('an independent way to the same numbers', () => {
  const readings = [
    [20, 2.6, 0.3141, 0.3301],
    [55, 29.1, 0.309, 0.3262],
    [90, 91, 0.3152, 0.3329],
  ] as const;

  test('colorjs.io gives the ΔE ITP of greys', () => {
    const run = result(grey(...readings.map((row) => [...row])));
    for (const [level, Y, x, y] of readings) {
      const target = xyzOf(d65, 120 * (level / 100) ** 2.4);
      const absolute = (xyz: Triple) => new Color('xyz-abs-d65', [...xyz]);
      const expected = absolute(target).deltaE(absolute(xyzOf([x, y], Y)), 'ITP');
      expect(number(run, `de.itp@${level}`)).toBeCloseTo(expected, 2);
    }
  });

  test('colorjs.io gives the ΔE 2000 of greys in Lab by the target white', () => {
    const run = result(grey(...readings.map((row) => [...row])));
    for (const [level, Y, x, y] of readings) {
      const expected = lab(xyzOf(d65, 120 * (level / 100) ** 2.4), 120).deltaE(lab(xyzOf([x, y], Y), 120), '2000');
      expect(number(run, `de@${level}`)).toBeCloseTo(expected, 6);
    }
  });

  test('the arithmetic of the simulator gives the chromaticity and luminance of every saturation target', () => {
    const toXyz = rgbToXyz(spaces.bt709);
    for (const [hue, rgb] of [
      ['magenta', [1, 0, 1]],
      ['yellow', [1, 1, 0]],
      ['blue', [0, 0, 1]],
    ] as const) {
      const pure = xyOf(times(toXyz, rgb));
      const xy = [d65[0] + 0.4 * (pure[0] - d65[0]), d65[1] + 0.4 * (pure[1] - d65[1])] as const;
      const linear = times(inverse(toXyz), xyzOf(xy));
      const Y = (120 * 0.75 ** 2.4) / Math.max(...linear);
      const rows = [[hue, 40, Y.toPrecision(14), xy[0].toPrecision(14), xy[1].toPrecision(14)]];
      const run = result(table('saturation sat\nstimulus: 75 %', 'hue sat Y x y', rows));
      expect(number(run, `de@${hue},40`)).toBeLessThan(1e-7);
    }
  });

  test('the arithmetic of the simulator gives the targets of P3 patches in a target of BT.2020', () => {
    const rgb = times(between(spaces.p3, spaces.bt2020), [0.5, 0.2, 0.3]);
    const xyz = times(rgbToXyz(spaces.p3), [50, 20, 30]);
    const drive = rgb.map((n) => (100 * n ** (1 / 2.2)).toPrecision(14));
    const [x, y] = xyOf(xyz).map((n) => n.toPrecision(14)) as [string, string];
    const run = result(table('patches colours', 'R G B Y x y', [[...drive, xyz[1].toPrecision(14), x, y]]), {
      target: 'space: bt2020\ncurve: power 2.2\nluminance: 100 cd/m2',
    });
    expect(number(run, 'de.max')).toBeLessThan(1e-6);
    expect(number(run, 'de.itp.max')).toBeLessThan(1e-6);
  });
});

/** Lab of absolute XYZ by a white of D65 (CIE 15), as a colour of the library with its Lab numbers. */
function lab(xyz: Triple, Lw: number): Color {
  const white = xyzOf(d65, Lw);
  const f = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
  const [x, y, z] = xyz.map((n, i) => f(n / white[i]!)) as [number, number, number];
  return new Color('lab', [116 * y - 16, 500 * (x - y), 200 * (y - z)]);
}

/** Area of a triangle in u′v′, by the shoelace formula. */
function areaInUv(points: readonly (readonly [number, number])[]): number {
  const [[a, b], [c, d], [e, f]] = points.map(uvOf) as [Pair, Pair, Pair];
  return Math.abs(a * (d - f) + c * (f - b) + e * (b - d)) / 2;
}
