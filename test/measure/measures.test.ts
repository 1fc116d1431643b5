import { describe, expect, test } from 'vitest';
import { MEASURE_IDS } from '../../src/measure/specs';
import { d65, inverse, rgbToXyz, spaces, times, uvOf, xyzOf } from '../display/light';
import { codeOf, type Link, signalOf } from '../display/signal';
import { BENCH } from './benchCases';
import { at, type Case, type Make } from './cases';
import { coverage, deltas } from './reference';
import { type Bench, number, result, table, valueIn, whyNot } from './tools';
import { TRACKING } from './trackingCases';

// Every measure of the table: one value, from numbers simple enough to be worked out beside it, and one refusal with its reason.

const SDR = 'space: bt709\ncurve: power 2.4\nwhite: d65';
const PQ = 'space: bt2020\ncurve: pq\nwhite: d65';
const power = (level: number) => 100 * (level / 100) ** 2.4;
const written = (n: number) => n.toPrecision(15);

/** A display of 100 cd/m² that follows power 2.4 but for known errors: +1 stop at 5 %, +10 % at 10 %, a tint at 20 %, −5 % at 50 %. */
const ROWS = [
  [100, 100, 0.3127, 0.329],
  [0, 0.05, 0.3127, 0.329],
  [5, written(2 * power(5)), 0.3127, 0.329],
  [10, written(1.1 * power(10)), 0.3127, 0.329],
  [20, written(power(20)), 0.31, 0.329],
  [50, written(0.95 * power(50)), 0.3127, 0.329],
  [80, written(power(80)), 0.3127, 0.329],
  [100, 99, 0.3127, 0.329],
];
const grey = (rows: readonly (readonly (string | number)[])[], columns = 'level Y x y') => table('greyscale grey', columns, rows);
const GREY = () => result(grey(ROWS), { target: SDR });
const LUMINANCES = () => result(grey([...ROWS.map(([level, Y]) => [level!, Y!])], 'level Y'), { target: SDR });
const only = (...rows: (string | number)[][]) => result(grey(rows), { target: SDR });
const hdr = () => result(grey([[100, 700, 0.3127, 0.329]]), { target: PQ });

const tint = Math.hypot(...([0, 1] as const).map((i) => uvOf([0.31, 0.329])[i] - uvOf(d65)[i]));
const lightness = (share: number) => 116 * Math.cbrt(share) - 16;
const balanceAt20 = times(inverse(rgbToXyz(spaces.bt709)), xyzOf([0.31, 0.329])).map((n) => 100 * n);

/** γ = Σxz/Σx² over the rows 10, 20, 50 and 80 %. */
function exponent(black: number): number {
  let [xz, xx] = [0, 0];
  for (const [level, Y] of [
    [10, 1.1 * power(10)],
    [20, power(20)],
    [50, 0.95 * power(50)],
    [80, power(80)],
  ] as const) {
    const x = Math.log(level / 100);
    xz += x * Math.log((Y - black) / (100 - black));
    xx += x * x;
  }
  return xz / xx;
}

/** RMS of the curve error in stops, rows 5 to 100 % through white, for a display that takes the codes of a link in its own way. */
function chain(link: Link): number {
  const shape = (level: number) =>
    Math.max(signalOf(codeOf(level / 100, link), link) ** 2.4, 1e-5 * signalOf(codeOf(1, link), link) ** 2.4);
  const errors = [
    [5, 2 * power(5)],
    [10, 1.1 * power(10)],
    [20, power(20)],
    [50, 0.95 * power(50)],
    [80, power(80)],
    [100, 100],
  ].map(([level, Y]) => Math.log2(Y! / 100 / (shape(level!) / shape(100))));
  return Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length);
}

const HUES = table('saturation sat', 'hue sat Y x y', [
  ['red', 50, 44, 0.47, 0.331],
  ['red', 100, 21, 0.635, 0.333],
  ['blue', 100, 7.3, 0.152, 0.064],
  ['red', 25, '?', '?', '?'],
]);
const SAT = () => result(HUES);
const SAT_HDR = () => result(HUES, { target: PQ });
const SAT_UNKNOWN = () => result(table('saturation sat', 'hue sat Y x y', [['orange', 50, 44, 0.47, 0.331]]));
const PATCHES = () =>
  result(
    table('patches colours', 'patch R G B Y x y', [
      ['white', 100, 100, 100, 118, 0.3117, 0.3285],
      ['skin', 80, 60, 50, 38, 0.372, 0.351],
      ['black', 0, 0, 0, 0.02, 0.3, 0.3],
      ['leaf', 30, 50, 20, '<0.003', '-', '-'],
      ['plain', 40, 40, 40, 13, '-', '-'],
    ]),
  );
const PATCHES_HDR = () => result(table('patches colours', 'R G B Y x y', [[50, 50, 50, 92, 0.3127, 0.329]]), { target: PQ });

const TRIANGLE = [
  [0.66, 0.325],
  [0.28, 0.64],
  [0.15, 0.055],
] as const;
const PRIMARIES = (bench: Bench = {}) =>
  result(
    table('gamut full', 'patch Y x y', [
      ['red', 22, ...TRIANGLE[0]],
      ['green', 70, ...TRIANGLE[1]],
      ['blue', 8, ...TRIANGLE[2]],
      ['white', 125, 0.3127, 0.329],
      ['orange', 40, 0.5, 0.4],
    ]),
    { target: '', signal: 'container: bt2020', ...bench },
  );
const TWO_PRIMARIES = () =>
  result(
    table('gamut full', 'patch Y x y', [
      ['red', 22, 0.66, 0.325],
      ['green', 70, 0.28, 0.64],
    ]),
    { target: '', signal: 'container: bt2020' },
  );
const IN_709 = () => PRIMARIES({ target: SDR });
const coverageCase = (space: 'bt709' | 'p3' | 'bt2020', plane: 'xy' | 'uv'): Case => [
  PRIMARIES,
  100 * coverage(TRIANGLE, spaces[space], plane).share,
  space === 'bt709' ? TWO_PRIMARIES : IN_709,
  space === 'bt709' ? 'too-few' : 'driven-narrower',
];
const areaCase = (space: 'bt709' | 'p3' | 'bt2020', plane: 'xy' | 'uv'): Case => [
  PRIMARIES,
  100 * coverage(TRIANGLE, spaces[space], plane).ratio,
  TWO_PRIMARIES,
  'too-few',
];

const WINDOWS = () =>
  result(
    table('window peak', 'window Y', [
      [1, 800],
      [10, 820],
      [50, 300],
      [100, 164],
    ]),
  );
const NO_WINDOWS = () => result(table('window peak', 'window Y', [[10, '?']]));
const contrast = (...rows: (string | number)[][]) => result(table('contrast dark', 'patch Y', rows));
const CONTRAST = () => contrast(['white', 120], ['black', 0.05], ['checker-white', 119], ['checker-black', 0.5]);

const deltasAt20 = deltas(xyzOf([0.31, 0.329], power(20)), xyzOf(d65, power(20)), xyzOf(d65, 100));
const mean = (...list: number[]) => list.reduce((sum, n) => sum + n, 0) / list.length;
const rowsOf = (make: Make, id: string, keys: string[]) => keys.map((key) => number(make(), `${id}@${key}`));
const ABOVE_BLACK = ['5', '10', '20', '50', '80', '100'];
const redTarget = xyzOf([0.64, 0.33], 120 * rgbToXyz(spaces.bt709)[1][0]);
const red = deltas(xyzOf([0.635, 0.333], 21), redTarget, xyzOf(d65, 120));
const skinTarget = times(rgbToXyz(spaces.bt709), [120 * 0.8 ** 2.4, 120 * 0.6 ** 2.4, 120 * 0.5 ** 2.4]);
const skin = deltas(xyzOf([0.372, 0.351], 38), skinTarget, xyzOf(d65, 120));

/** The row figures that all runs of colours have, for one row with known parts. */
const colourRows = (
  kind: string,
  make: Make,
  key: string,
  d: typeof red,
  refused: Make,
  reason: Case[3],
  refusedKey: string,
): Record<string, Case> => {
  const c = (v: number, within: number, run = refused, why = reason, on = refusedKey): Case => [make, v, run, why, at(key, on, within)];
  const open = kind === 'saturation' ? 'red,25' : 'leaf';
  const isOpen: Case[3] = kind === 'saturation' ? 'row-open' : 'row-unseen';
  return {
    [`${kind}.de`]: c(d.de2000, 1e-7),
    [`${kind}.de.ab`]: c(d.ab, 1e-9),
    [`${kind}.de.94`]: c(d.de94, 1e-9),
    [`${kind}.de.uv`]: c(d.luv, 1e-9),
    [`${kind}.de.itp`]: c(d.itp, 0.01, make, isOpen, open),
    [`${kind}.delta.uv`]: c(d.uv, 1e-12, make, isOpen, open),
    [`${kind}.delta.uvstar`]: c(d.uvstar, 1e-9, make, isOpen, open),
    [`${kind}.delta.l`]: c(d.L, 1e-9, make, isOpen, open),
    [`${kind}.delta.c`]: c(d.C, 1e-9),
    [`${kind}.delta.h`]: c(d.H, 1e-9),
    [`${kind}.delta.h.angle`]: c(d.angle, 1e-9),
  };
};

const CASES: Readonly<Record<string, Case>> = {
  'greyscale.white.luminance': [GREY, 100, () => only([50, 20, 0.3127, 0.329], [100, '?']), 'no-white'],
  'greyscale.white.duvstar': [() => only([100, 100, 0.31, 0.329]), 13 * 100 * tint, LUMINANCES, 'no-colour'],
  'greyscale.black': [GREY, 0.05, () => only([100, 100, 0.3127, 0.329]), 'no-patch'],
  'greyscale.de.avg': [GREY, mean(...rowsOf(GREY, 'de', ABOVE_BLACK)), LUMINANCES, 'no-colour'],
  'greyscale.de.max': [GREY, Math.max(...rowsOf(GREY, 'de', ABOVE_BLACK)), hdr, 'wrong-curve'],
  'greyscale.de.itp.avg': [GREY, mean(...rowsOf(GREY, 'de.itp', ABOVE_BLACK)), LUMINANCES, 'no-colour'],
  'greyscale.de.itp.max': [
    GREY,
    Math.max(...rowsOf(GREY, 'de.itp', ABOVE_BLACK)),
    () => only([100, 100, '-', '-'], [0, 1, 0.3127, 0.329]),
    'no-rows',
    { within: 1e-9 },
  ],
  'greyscale.dc.avg': [GREY, mean(...rowsOf(GREY, 'dc', ABOVE_BLACK)), LUMINANCES, 'no-colour'],
  'greyscale.dc.max': [GREY, deltasAt20.de2000, hdr, 'wrong-curve', { within: 1e-7 }],
  'greyscale.balance': [GREY, balanceAt20.reduce((far, n) => (Math.abs(n - 100) > Math.abs(far - 100) ? n : far)), LUMINANCES, 'too-few'],
  'greyscale.cct': [GREY, 6504, LUMINANCES, 'row-colour', { key: '50', refusedKey: '50', within: 2 }],
  'greyscale.cct.avg': [GREY, mean(...rowsOf(GREY, 'cct', ['20', '50', '80', '100'])), LUMINANCES, 'too-few'],
  'greyscale.duv': [GREY, 0, () => only([100, 100, 0.3, 0.6]), 'far-from-planckian'],
  'greyscale.duvstar.max': [GREY, 13 * lightness(power(20) / 100) * tint, LUMINANCES, 'too-few'],
  'greyscale.exponent': [GREY, exponent(0.05), () => only([100, 100, 0.3127, 0.329], [50, 19, 0.3127, 0.329]), 'too-few'],
  'greyscale.exponent.raw': [GREY, exponent(0), () => only([100, 100, 0.3127, 0.329]), 'too-few'],
  'greyscale.curve.exponent': [GREY, exponent(0.05) - 2.4, hdr, 'wrong-curve'],
  'greyscale.curve.worst': [GREY, 10, () => result(grey([[5, 1, 0.3127, 0.329]])), 'too-few'],
  'greyscale.curve.worst.stops': [GREY, Math.log2(1.1), () => result(grey([[5, 1, 0.3127, 0.329]])), 'too-few'],
  'greyscale.nearblack.first': [GREY, 5, () => result(grey(ROWS), { meter: 'kind: colorimeter' }), 'no-spread'],
  'greyscale.nearblack.stops': [GREY, mean(1, Math.log2(1.1)), () => result(grey([[50, 20, 0.3127, 0.329]])), 'too-few'],
  'greyscale.nearblack.dc': [GREY, deltas(xyzOf([0.31, 0.329]), xyzOf(d65), xyzOf(d65)).de2000, LUMINANCES, 'too-few', { within: 1e-7 }],
  'greyscale.nearblack.duv': [GREY, tint, LUMINANCES, 'too-few'],
  'greyscale.drift': [GREY, -1, () => only([100, 100, 0.3127, 0.329]), 'too-few'],
  'greyscale.chain.written': [GREY, chain({ range: 'full', depth: 10 }), hdr, 'wrong-curve', { within: 0.01 }],
  'greyscale.chain.limited-as-full': [
    GREY,
    chain({ range: 'limited', depth: 10, takenAs: 'full' }),
    () => only([100, 100, 0.3127, 0.329], [50, 19, 0.3127, 0.329]),
    'too-few',
  ],
  'greyscale.chain.full-as-limited': [
    GREY,
    chain({ range: 'full', depth: 10, takenAs: 'limited' }),
    () => result(grey([[50, 19, 0.3127, 0.329]])),
    'no-patch',
  ],
  'greyscale.de': [GREY, deltasAt20.de2000, GREY, 'row-zero', at('20', '0', 1e-7)],
  'greyscale.de.ab': [GREY, deltasAt20.ab, hdr, 'wrong-curve', at('20', '100')],
  'greyscale.de.94': [GREY, deltasAt20.de94, hdr, 'wrong-curve', at('20', '100')],
  'greyscale.de.uv': [GREY, deltasAt20.luv, hdr, 'wrong-curve', at('20', '100')],
  'greyscale.de.itp': [GREY, deltasAt20.itp, LUMINANCES, 'row-colour', at('20', '20', 0.01)],
  'greyscale.delta.uv': [GREY, tint, LUMINANCES, 'row-colour', at('20')],
  'greyscale.delta.uvstar': [GREY, 13 * lightness(power(20) / 100) * tint, LUMINANCES, 'row-colour', at('20')],
  'greyscale.dc': [GREY, deltasAt20.de2000, hdr, 'wrong-curve', at('20', '100', 1e-7)],
  'greyscale.dc.adapted': [GREY, deltas(xyzOf([0.31, 0.329]), xyzOf(d65), xyzOf(d65)).de2000, GREY, 'row-zero', at('20', '0', 1e-7)],
  'greyscale.balance.r': [GREY, balanceAt20[0]!, LUMINANCES, 'row-colour', at('20')],
  'greyscale.balance.g': [GREY, balanceAt20[1]!, LUMINANCES, 'row-colour', at('20')],
  'greyscale.balance.b': [GREY, balanceAt20[2]!, LUMINANCES, 'row-colour', at('20')],
  'greyscale.curve': [GREY, 10, GREY, 'row-zero', at('10', '0')],
  'greyscale.curve.stops': [GREY, 1, GREY, 'row-zero', at('5', '0')],
  'greyscale.target': [GREY, power(20), () => only([100, 100], ['10%', 1]), 'row-open', at('20', '10%')],

  'saturation.de.avg': [SAT, mean(...rowsOf(SAT, 'de', ['red,50', 'red,100', 'blue,100'])), SAT_HDR, 'wrong-curve'],
  'saturation.de.max': [SAT, Math.max(...rowsOf(SAT, 'de', ['red,50', 'red,100', 'blue,100'])), SAT_UNKNOWN, 'no-rows'],
  'saturation.de.itp.avg': [SAT, mean(...rowsOf(SAT, 'de.itp', ['red,50', 'red,100', 'blue,100'])), SAT_UNKNOWN, 'no-rows'],
  'saturation.de.itp.max': [SAT, Math.max(...rowsOf(SAT, 'de.itp', ['red,50', 'red,100', 'blue,100'])), SAT_UNKNOWN, 'no-rows'],
  'saturation.hue.de': [SAT, mean(...rowsOf(SAT, 'de', ['red,50', 'red,100'])), SAT_HDR, 'wrong-curve', at('red')],
  'saturation.hue.delta.l': [SAT, mean(...rowsOf(SAT, 'delta.l', ['red,50', 'red,100'])), SAT_UNKNOWN, 'row-hue', at('red', 'orange')],
  'saturation.hue.delta.c': [SAT, mean(...rowsOf(SAT, 'delta.c', ['red,50', 'red,100'])), SAT_UNKNOWN, 'row-hue', at('red', 'orange')],
  'saturation.hue.delta.h': [SAT, mean(...rowsOf(SAT, 'delta.h', ['red,50', 'red,100'])), SAT, 'no-row', at('red', 'green')],
  ...colourRows('saturation', SAT, 'red,100', red, SAT_HDR, 'wrong-curve', 'red,100'),

  'patches.de.avg': [PATCHES, mean(...rowsOf(PATCHES, 'de', ['white', 'skin'])), PATCHES_HDR, 'wrong-curve'],
  'patches.de.max': [PATCHES, Math.max(...rowsOf(PATCHES, 'de', ['white', 'skin'])), PATCHES_HDR, 'wrong-curve'],
  'patches.de.itp.avg': [
    PATCHES,
    mean(...rowsOf(PATCHES, 'de.itp', ['white', 'skin'])),
    () => result(table('patches colours', 'R G B Y x y', [[50, 50, 50, 92, '-', '-']])),
    'no-colour',
  ],
  'patches.de.itp.max': [
    PATCHES,
    Math.max(...rowsOf(PATCHES, 'de.itp', ['white', 'skin'])),
    () => result(table('patches colours', 'R G B Y x y', [[50, 50, 50, 92, '-', '-']])),
    'no-colour',
  ],
  ...colourRows('patches', PATCHES, 'skin', skin, PATCHES, 'row-colour', 'plain'),

  'gamut.coverage.bt709.xy': coverageCase('bt709', 'xy'),
  'gamut.coverage.bt709.uv': coverageCase('bt709', 'uv'),
  'gamut.coverage.p3.xy': coverageCase('p3', 'xy'),
  'gamut.coverage.p3.uv': coverageCase('p3', 'uv'),
  'gamut.coverage.bt2020.xy': coverageCase('bt2020', 'xy'),
  'gamut.coverage.bt2020.uv': coverageCase('bt2020', 'uv'),
  'gamut.area.bt709.xy': areaCase('bt709', 'xy'),
  'gamut.area.bt709.uv': areaCase('bt709', 'uv'),
  'gamut.area.p3.xy': areaCase('p3', 'xy'),
  'gamut.area.p3.uv': areaCase('p3', 'uv'),
  'gamut.area.bt2020.xy': areaCase('bt2020', 'xy'),
  'gamut.area.bt2020.uv': areaCase('bt2020', 'uv'),
  'gamut.additivity': [PRIMARIES, (22 + 70 + 8) / 125, TWO_PRIMARIES, 'no-patch'],
  'gamut.delta.uv': [
    IN_709,
    Math.hypot(...([0, 1] as const).map((i) => uvOf([0.66, 0.325])[i] - uvOf([0.64, 0.33])[i])),
    IN_709,
    'row-hue',
    at('red', 'orange', 1e-12),
  ],

  'window.peak': [WINDOWS, 820, NO_WINDOWS, 'no-rows'],
  'window.full': [WINDOWS, 164, NO_WINDOWS, 'no-row'],
  'window.full.share': [WINDOWS, 164 / 820, () => result(table('window peak', 'window Y', [[10, 820]])), 'no-row'],

  'contrast.white': [CONTRAST, 120, () => contrast(['black', 0.05]), 'no-patch'],
  'contrast.black': [CONTRAST, 0.05, () => contrast(['white', 120]), 'no-patch'],
  'contrast.sequential': [CONTRAST, 2400, () => contrast(['white', 120], ['black', 0]), 'black-zero'],
  'contrast.checkerboard': [CONTRAST, 238, () => contrast(['white', 120], ['black', 0.05]), 'no-patch'],

  ...TRACKING,
  ...BENCH,
};

test('every measure of the table has its case', () => {
  expect(Object.keys(CASES).sort()).toEqual([...MEASURE_IDS].sort());
});

describe.each(Object.entries(CASES))('%s', (name, [make, expected, refused, reason, { key, refusedKey, within = 1e-9 } = {}]) => {
  const id = name.slice(name.indexOf('.') + 1);
  const withKey = (k: string | undefined) => (k === undefined ? id : `${id}@${k}`);

  test('has the value worked out for it', () => {
    expect(Math.abs(number(make(), withKey(key)) - expected)).toBeLessThanOrEqual(within);
  });

  test(`is refused as "${reason}"`, () => {
    expect(whyNot(valueIn(refused(), withKey(refusedKey)))).toBe(reason);
  });
});
