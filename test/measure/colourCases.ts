import { d65, inverse, type Pair, rgbToXyz, spaces, type Triple, times, uvOf, xyOf, xyzOf } from '../display/light';
import { codeOf, type Link, signalOf } from '../display/signal';
import { at, type Basis, type Case, type Make, record } from './cases';
import { coverage, deltas, fromLab } from './reference';
import { type Bench, result, table } from './tools';

// Runs of levels and colours.

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

/** What the rows of GREY above 0 % differ by, the second reading of 100 % aside. */
const greys = (luminance = true) =>
  [5, 10, 20, 50, 80, 100].map((level) => {
    const [, Y, x, y] = ROWS.find(([at]) => at === level)!;
    const target = power(level);
    return deltas(xyzOf([Number(x), Number(y)], luminance ? Number(Y) : target), xyzOf(d65, target), xyzOf(d65, 100));
  });
const at20 = greys()[2]!;
const ownWhite = deltas(xyzOf([0.31, 0.329]), xyzOf(d65), xyzOf(d65)).de2000;

/** Pair 7 of Sharma, Wu & Dalal as a grey of L* 50 and its reading. */
const SHARMA = record('01_colour_difference-007');
const sharmaLevel = (100 * fromLab([50, 0, 0], [1, 1, 1])[1] ** (1 / 2.4)).toPrecision(14);
const sharmaRow = (lab: Triple) => {
  const xyz = fromLab(lab, xyzOf(d65, 100));
  return [xyz[1], ...xyOf(xyz)].map(written);
};
const SHARMA_GREY = () => only([sharmaLevel, ...sharmaRow(SHARMA.input.lab2)], [100, 100, 0.3127, 0.329]);

/** A colour of Ohno's, against a white on the Planckian locus, from which Duv counts. */
const OHNO = record('06_cct_daylight-031');
const PLANCK = record('06_cct_daylight-017');
const of1960 = ([u, v]: Pair): Pair => [(3 * u) / (2 * u - 8 * v + 4), (2 * v) / (2 * u - 8 * v + 4)];
const OHNO_WHITE = () =>
  result(grey([[100, 100, ...of1960(OHNO.input.uv1960).map(written)]]), {
    target: `space: bt709\ncurve: power 2.4\nwhite: ${of1960(PLANCK.expected as Pair)
      .map((n) => n.toFixed(9))
      .join(' ')}`,
  });

/** D50, D55 and equal energy, a level each. */
const ILLUMINANTS = ['06_cct_daylight-045', '06_cct_daylight-046', '06_cct_daylight-050'].map(record);
const WHITES = () =>
  only(...ILLUMINANTS.map(({ input }, i) => [[20, 50, 100][i]!, written(power([20, 50, 100][i]!)), ...input.xy.map(written)]));

/** 0.001 in u′ off white. */
const DUV_STAR = record('01_colour_difference-063');
const OFF_WHITE = () =>
  result(table('greyscale grey', "level Y u' v'", [[100, 100, written(uvOf(d65)[0] + DUV_STAR.input.duPrime), written(uvOf(d65)[1])]]), {
    target: SDR,
  });

/** Light and balance of a white of the records. */
const BALANCE = record('11_rgb_balance-006');
const BALANCED = () => result(grey([[80, ...BALANCE.input.xyz_cd_m2]], 'level X Y Z'), { target: `${SDR}\nluminance: 250 cd/m2` });
const balanceOf = (channel: 0 | 1 | 2) => 100 * (BALANCE.expected as { rgb: Triple }).rgb[channel];

const EXPONENT = record('03_sdr_eotf-104');
const BT1886 = () => {
  const { V, Lw, Lb } = EXPONENT.input;
  const root = (n: number) => n ** (1 / 2.4);
  const Y = (V * (root(Lw) - root(Lb)) + root(Lb)) ** 2.4;
  return result(
    grey(
      [
        [0, Lb],
        [100 * V, written(Y)],
        [90, written((0.9 * (root(Lw) - root(Lb)) + root(Lb)) ** 2.4)],
        [100, Lw],
      ],
      'level Y',
    ),
  );
};

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
  'independent: the length in common on 40,000 scan lines',
  space === 'bt709' ? TWO_PRIMARIES : IN_709,
  space === 'bt709' ? 'too-few' : 'driven-narrower',
  { within: 1e-5 },
];
const areaCase = (space: 'bt709' | 'p3' | 'bt2020', plane: 'xy' | 'uv'): Case => [
  PRIMARIES,
  100 * coverage(TRIANGLE, spaces[space], plane).ratio,
  'independent: areas by 40,000 scan lines',
  TWO_PRIMARIES,
  'too-few',
  { within: 1e-5 },
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

const mean = (list: readonly number[]) => list.reduce((sum, n) => sum + n, 0) / list.length;
const most = (list: readonly number[]) => Math.max(...list);

const toXyz = rgbToXyz(spaces.bt709);
/** XYZ of a saturation point at full drive, white at 120. */
const saturated = (rgb: Triple, share: number): Triple => {
  const pure = xyOf(times(toXyz, rgb));
  const linear = times(inverse(toXyz), xyzOf([d65[0] + share * (pure[0] - d65[0]), d65[1] + share * (pure[1] - d65[1])]));
  return times(toXyz, linear.map((n) => (120 * n) / Math.max(...linear)) as unknown as Triple);
};
const at120 = (Y: number, xy: Pair, target: Triple) => deltas(xyzOf(xy, Y), target, xyzOf(d65, 120));
const red50 = at120(44, [0.47, 0.331], saturated([1, 0, 0], 0.5));
const red = at120(21, [0.635, 0.333], saturated([1, 0, 0], 1));
const blue = at120(7.3, [0.152, 0.064], saturated([0, 0, 1], 1));
const hues = [red50, red, blue];
const reds = [red50, red];
const driven = (...rgb: number[]) => times(toXyz, rgb.map((n) => 120 * (n / 100) ** 2.4) as unknown as Triple);
const skin = at120(38, [0.372, 0.351], driven(80, 60, 50));
const patches = [at120(118, [0.3117, 0.3285], driven(100, 100, 100)), skin];

/** Pair 25 of Sharma, Wu & Dalal: a green of BT.709 and its reading. */
const SHARMA_GREEN = record('01_colour_difference-025');
const sharmaDrive = times(inverse(toXyz), fromLab(SHARMA_GREEN.input.lab1, xyzOf(d65, 1))).map((n) => written(100 * n ** (1 / 2.4)));
const SHARMA_PATCH = () =>
  result(table('patches colours', 'patch R G B Y x y', [['green', ...sharmaDrive, ...sharmaRow(SHARMA_GREEN.input.lab2)]]), {
    target: `${SDR}\nluminance: 100 cd/m2`,
  });

/** Red and orange of sRGB at a white of 203 cd/m². */
const ITP = record('04_ictcp_deltaEITP-043');
const srgb = (codes: Triple): Triple =>
  times(
    toXyz,
    codes.map((code) => 203 * (code / 255 <= 0.04045 ? code / 255 / 12.92 : ((code / 255 + 0.055) / 1.055) ** 2.4)) as unknown as Triple,
  );
const ORANGE_FOR_RED = () => {
  const orange = srgb(ITP.input.srgb8_2);
  const row = ['red', ...ITP.input.srgb8_1, ...[orange[1], ...xyOf(orange)].map(written)];
  return result(table('patches colours', 'patch R[8bit] G[8bit] B[8bit] Y x y', [row]), {
    target: 'space: bt709\ncurve: srgb\nwhite: d65\nluminance: 203 cd/m2',
    signal: 'range: full\ndepth: 8',
  });
};

const COLORJS: Basis = "independent: colorjs.io's CIEDE2000 of Lab written out from CIE 15";
const COLORJS_ITP: Basis = "independent: colorjs.io's ΔE ITP";
const CIE_15: Basis = 'independent: Lab and Luv written out from CIE 15:2018, 8.2';
const CIE_94: Basis = 'independent: the formula of CIE 116-1995 written out';
const UV: Basis = "independent: u', v' of CIE 15:2018, eq. 8.3, written out";
const RP177: Basis = 'independent: the matrix of SMPTE RP 177-1993 by cross products';
const TYPED: Basis = 'constructed: the reading as it is typed';
const BY_HAND: Basis = 'constructed: worked out by hand from the rows';

/** The row figures that all runs of colours have, for one row with known parts. */
const colourRows = (
  kind: string,
  make: Make,
  key: string,
  d: typeof red,
  refused: Make,
  reason: Case[4],
  refusedKey: string,
): Record<string, Case> => {
  const c = (v: number, basis: Basis, within: number, run = refused, why = reason, on = refusedKey): Case => [
    make,
    v,
    basis,
    run,
    why,
    at(key, on, within),
  ];
  const open = kind === 'saturation' ? 'red,25' : 'leaf';
  const isOpen: Case[4] = kind === 'saturation' ? 'row-open' : 'row-unseen';
  return {
    [`${kind}.de`]: c(d.de2000, COLORJS, 1e-7),
    [`${kind}.de.ab`]: c(d.ab, CIE_15, 1e-9),
    [`${kind}.de.94`]: c(d.de94, CIE_94, 1e-9),
    [`${kind}.de.uv`]: c(d.luv, CIE_15, 1e-9),
    [`${kind}.de.itp`]: c(d.itp, COLORJS_ITP, 0.01, make, isOpen, open),
    [`${kind}.delta.uv`]: c(d.uv, UV, 1e-12, make, isOpen, open),
    [`${kind}.delta.uvstar`]: c(d.uvstar, CIE_15, 1e-9, make, isOpen, open),
    [`${kind}.delta.l`]: c(d.L, CIE_15, 1e-9, make, isOpen, open),
    [`${kind}.delta.c`]: c(d.C, CIE_15, 1e-9),
    [`${kind}.delta.h`]: c(d.H, CIE_15, 1e-9),
    [`${kind}.delta.h.angle`]: c(d.angle, CIE_15, 1e-9),
  };
};

export const COLOUR: Readonly<Record<string, Case>> = {
  'greyscale.white.luminance': [GREY, 100, TYPED, () => only([50, 20, 0.3127, 0.329], [100, '?']), 'no-white'],
  'greyscale.white.duvstar': [OFF_WHITE, DUV_STAR.expected as number, DUV_STAR.basis, LUMINANCES, 'no-colour'],
  'greyscale.black': [GREY, 0.05, TYPED, () => only([100, 100, 0.3127, 0.329]), 'no-patch'],
  'greyscale.de.avg': [GREY, mean(greys().map((d) => d.de2000)), COLORJS, LUMINANCES, 'no-colour', { within: 1e-7 }],
  'greyscale.de.max': [GREY, most(greys().map((d) => d.de2000)), COLORJS, hdr, 'wrong-curve', { within: 1e-7 }],
  'greyscale.de.itp.avg': [GREY, mean(greys().map((d) => d.itp)), COLORJS_ITP, LUMINANCES, 'no-colour', { within: 0.01 }],
  'greyscale.de.itp.max': [
    GREY,
    most(greys().map((d) => d.itp)),
    COLORJS_ITP,
    () => only([100, 100, '-', '-'], [0, 1, 0.3127, 0.329]),
    'no-rows',
    { within: 0.01 },
  ],
  'greyscale.dc.avg': [GREY, mean(greys(false).map((d) => d.de2000)), COLORJS, LUMINANCES, 'no-colour', { within: 1e-7 }],
  'greyscale.dc.max': [GREY, most(greys(false).map((d) => d.de2000)), COLORJS, hdr, 'wrong-curve', { within: 1e-7 }],
  'greyscale.balance': [
    GREY,
    balanceAt20.reduce((far, n) => (Math.abs(n - 100) > Math.abs(far - 100) ? n : far)),
    RP177,
    LUMINANCES,
    'too-few',
  ],
  'greyscale.cct': [
    OHNO_WHITE,
    (OHNO.expected as { cct: number }).cct,
    OHNO.basis,
    LUMINANCES,
    'row-colour',
    { key: '100', refusedKey: '50', within: OHNO.tolerance },
  ],
  'greyscale.cct.avg': [
    WHITES,
    mean(ILLUMINANTS.map(({ expected }) => (expected as { cct: number }).cct)),
    ILLUMINANTS[0]!.basis,
    LUMINANCES,
    'too-few',
    { within: 1 },
  ],
  'greyscale.duv': [
    OHNO_WHITE,
    (OHNO.expected as { duv: number }).duv,
    OHNO.basis,
    () => only([100, 100, 0.3, 0.6]),
    'far-from-planckian',
    { within: 1e-5 },
  ],
  'greyscale.duvstar.max': [GREY, 13 * lightness(power(20) / 100) * tint, CIE_15, LUMINANCES, 'too-few'],
  'greyscale.exponent': [
    BT1886,
    EXPONENT.expected as number,
    EXPONENT.basis,
    () => only([100, 100, 0.3127, 0.329], [50, 19, 0.3127, 0.329]),
    'too-few',
    { key: '50' },
  ],
  'greyscale.exponent.raw': [
    GREY,
    exponent(0),
    'independent: least squares through white written out',
    () => only([100, 100, 0.3127, 0.329]),
    'too-few',
  ],
  'greyscale.curve.exponent': [GREY, exponent(0.05) - 2.4, 'independent: least squares through white written out', hdr, 'wrong-curve'],
  'greyscale.curve.worst': [GREY, 10, BY_HAND, () => result(grey([[5, 1, 0.3127, 0.329]])), 'too-few'],
  'greyscale.curve.worst.stops': [GREY, Math.log2(1.1), BY_HAND, () => result(grey([[5, 1, 0.3127, 0.329]])), 'too-few'],
  'greyscale.nearblack.first': [GREY, 5, BY_HAND, () => result(grey(ROWS), { meter: 'kind: colorimeter' }), 'no-spread'],
  'greyscale.nearblack.stops': [GREY, mean([1, Math.log2(1.1)]), BY_HAND, () => result(grey([[50, 20, 0.3127, 0.329]])), 'too-few'],
  'greyscale.nearblack.dc': [GREY, ownWhite, COLORJS, LUMINANCES, 'too-few', { within: 1e-7 }],
  'greyscale.nearblack.duv': [GREY, tint, UV, LUMINANCES, 'too-few'],
  'greyscale.drift': [GREY, -1, BY_HAND, () => only([100, 100, 0.3127, 0.329]), 'too-few'],
  'greyscale.chain.written': [
    GREY,
    chain({ range: 'full', depth: 10 }),
    'independent: the codes of ITU-R BT.2100-2, table 9, by the display simulator',
    hdr,
    'wrong-curve',
    { within: 0.01 },
  ],
  'greyscale.chain.limited-as-full': [
    GREY,
    chain({ range: 'limited', depth: 10, takenAs: 'full' }),
    'independent: limited codes of ITU-R BT.2100-2 taken as full by the display simulator',
    () => only([100, 100, 0.3127, 0.329], [50, 19, 0.3127, 0.329]),
    'too-few',
  ],
  'greyscale.chain.full-as-limited': [
    GREY,
    chain({ range: 'full', depth: 10, takenAs: 'limited' }),
    'independent: full codes of ITU-R BT.2100-2 taken as limited by the display simulator',
    () => result(grey([[50, 19, 0.3127, 0.329]])),
    'no-patch',
  ],
  'greyscale.de': [SHARMA_GREY, SHARMA.expected as number, SHARMA.basis, GREY, 'row-zero', at(sharmaLevel, '0', SHARMA.tolerance)],
  'greyscale.de.ab': [GREY, at20.ab, CIE_15, hdr, 'wrong-curve', at('20', '100')],
  'greyscale.de.94': [GREY, at20.de94, CIE_94, hdr, 'wrong-curve', at('20', '100')],
  'greyscale.de.uv': [GREY, at20.luv, CIE_15, hdr, 'wrong-curve', at('20', '100')],
  'greyscale.de.itp': [GREY, at20.itp, COLORJS_ITP, LUMINANCES, 'row-colour', at('20', '20', 0.01)],
  'greyscale.delta.uv': [GREY, tint, UV, LUMINANCES, 'row-colour', at('20')],
  'greyscale.delta.uvstar': [GREY, 13 * lightness(power(20) / 100) * tint, CIE_15, LUMINANCES, 'row-colour', at('20')],
  // Both are of L* 50, so that there is no luminance to take out.
  'greyscale.dc': [SHARMA_GREY, SHARMA.expected as number, SHARMA.basis, hdr, 'wrong-curve', at(sharmaLevel, '100', SHARMA.tolerance)],
  'greyscale.dc.adapted': [GREY, ownWhite, COLORJS, GREY, 'row-zero', at('20', '0', 1e-7)],
  'greyscale.balance.r': [BALANCED, balanceOf(0), BALANCE.basis, LUMINANCES, 'row-colour', at('80', '20', 1e-7)],
  'greyscale.balance.g': [BALANCED, balanceOf(1), BALANCE.basis, LUMINANCES, 'row-colour', at('80', '20', 1e-7)],
  'greyscale.balance.b': [BALANCED, balanceOf(2), BALANCE.basis, LUMINANCES, 'row-colour', at('80', '20', 1e-7)],
  'greyscale.curve': [GREY, 10, BY_HAND, GREY, 'row-zero', at('10', '0')],
  'greyscale.curve.stops': [GREY, 1, BY_HAND, GREY, 'row-zero', at('5', '0')],
  'greyscale.target': [GREY, power(20), BY_HAND, () => only([100, 100], ['10%', 1]), 'row-open', at('20', '10%')],

  'saturation.de.avg': [SAT, mean(hues.map((d) => d.de2000)), COLORJS, SAT_HDR, 'wrong-curve', { within: 1e-7 }],
  'saturation.de.max': [SAT, most(hues.map((d) => d.de2000)), COLORJS, SAT_UNKNOWN, 'no-rows', { within: 1e-7 }],
  'saturation.de.itp.avg': [SAT, mean(hues.map((d) => d.itp)), COLORJS_ITP, SAT_UNKNOWN, 'no-rows', { within: 0.01 }],
  'saturation.de.itp.max': [SAT, most(hues.map((d) => d.itp)), COLORJS_ITP, SAT_UNKNOWN, 'no-rows', { within: 0.01 }],
  'saturation.hue.de': [SAT, mean(reds.map((d) => d.de2000)), COLORJS, SAT_HDR, 'wrong-curve', at('red', 'red', 1e-7)],
  'saturation.hue.delta.l': [SAT, mean(reds.map((d) => d.L)), CIE_15, SAT_UNKNOWN, 'row-hue', at('red', 'orange')],
  'saturation.hue.delta.c': [SAT, mean(reds.map((d) => d.C)), CIE_15, SAT_UNKNOWN, 'row-hue', at('red', 'orange')],
  'saturation.hue.delta.h': [SAT, mean(reds.map((d) => d.H)), CIE_15, SAT, 'no-row', at('red', 'green')],
  ...colourRows('saturation', SAT, 'red,50', red50, SAT_HDR, 'wrong-curve', 'red,100'),

  'patches.de.avg': [PATCHES, mean(patches.map((d) => d.de2000)), COLORJS, PATCHES_HDR, 'wrong-curve', { within: 1e-7 }],
  'patches.de.max': [PATCHES, most(patches.map((d) => d.de2000)), COLORJS, PATCHES_HDR, 'wrong-curve', { within: 1e-7 }],
  'patches.de.itp.avg': [
    PATCHES,
    mean(patches.map((d) => d.itp)),
    COLORJS_ITP,
    () => result(table('patches colours', 'R G B Y x y', [[50, 50, 50, 92, '-', '-']])),
    'no-colour',
    { within: 0.01 },
  ],
  'patches.de.itp.max': [
    ORANGE_FOR_RED,
    ITP.expected as number,
    ITP.basis,
    () => result(table('patches colours', 'R G B Y x y', [[50, 50, 50, 92, '-', '-']])),
    'no-colour',
    { within: ITP.tolerance },
  ],
  ...colourRows('patches', PATCHES, 'skin', skin, PATCHES, 'row-colour', 'plain'),
  'patches.de': [
    SHARMA_PATCH,
    SHARMA_GREEN.expected as number,
    SHARMA_GREEN.basis,
    PATCHES,
    'row-colour',
    at('green', 'plain', SHARMA_GREEN.tolerance),
  ],
  'patches.de.itp': [ORANGE_FOR_RED, ITP.expected as number, ITP.basis, PATCHES, 'row-colour', at('red', 'plain', ITP.tolerance)],

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
  'gamut.additivity': [PRIMARIES, (22 + 70 + 8) / 125, BY_HAND, TWO_PRIMARIES, 'no-patch'],
  'gamut.delta.uv': [
    IN_709,
    Math.hypot(...([0, 1] as const).map((i) => uvOf([0.66, 0.325])[i] - uvOf([0.64, 0.33])[i])),
    UV,
    IN_709,
    'row-hue',
    at('red', 'orange', 1e-12),
  ],

  'window.peak': [WINDOWS, 820, TYPED, NO_WINDOWS, 'no-rows'],
  'window.full': [WINDOWS, 164, TYPED, NO_WINDOWS, 'no-row'],
  'window.full.share': [WINDOWS, 164 / 820, BY_HAND, () => result(table('window peak', 'window Y', [[10, 820]])), 'no-row'],

  'contrast.white': [CONTRAST, 120, TYPED, () => contrast(['black', 0.05]), 'no-patch'],
  'contrast.black': [CONTRAST, 0.05, TYPED, () => contrast(['white', 120]), 'no-patch'],
  'contrast.sequential': [CONTRAST, 2400, BY_HAND, () => contrast(['white', 120], ['black', 0]), 'black-zero'],
  'contrast.checkerboard': [CONTRAST, 238, BY_HAND, () => contrast(['white', 120], ['black', 0.05]), 'no-patch'],
};
