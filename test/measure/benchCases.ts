import { d65, inverse, type Matrix, type Pair, product, rgbToXyz, spaces, type Triple, times, uvOf, xyOf } from '../display/light';
import { ILLUMINANT_WAVELENGTHS, ILLUMINANTS } from '../published/illuminants';
import { at, type Basis, type Case, record } from './cases';
import { sumBy5nm, volumeOf } from './reference';
import { result, table } from './tools';

// Runs of the rest of the bench, with numbers simple enough to be worked out beside them.

type Rows = readonly (readonly (string | number)[])[];
const apart = (p: Pair, q: Pair): number => Math.hypot(...([0, 1] as const).map((i) => uvOf(p)[i] - uvOf(q)[i]));

/** Three by three, the centre at 100 cd/m², one corner 20 % darker and tinted. */
export const GRID_ROWS: Rows = [1, 2, 3].flatMap((row) =>
  [1, 2, 3].map((col) => [
    row,
    col,
    row === 3 && col === 1 ? 80 : row === 2 && col === 2 ? 100 : 95,
    ...(row === 3 && col === 1 ? [0.31, 0.325] : [0.3127, 0.329]),
  ]),
);
export const grid = (rows: Rows = GRID_ROWS, columns = 'row col Y x y') => table('uniformity field', columns, rows);
const GRID = () => result(grid());
const HOLED = () => result(grid(GRID_ROWS.slice(0, 8)));
const EVEN = () =>
  result(
    grid([
      [1, 1, 90, 0.3127, 0.329],
      [1, 2, 100, 0.3127, 0.329],
    ]),
  );
const GREY_GRID = () =>
  result(
    grid(
      GRID_ROWS.map(([row, col, Y]) => [row!, col!, Y!]),
      'row col Y',
    ),
  );

/** Falls from 1,000 to 800 cd/m²: 900, half of the drop, half way between 60 and 120 s. */
export const HELD: Rows = [
  [0, 1000],
  [60, 950],
  [120, 850],
  [300, 801],
  [600, 800],
  [900, 799],
];
export const held = (rows: Rows = HELD, columns = 't[s] Y') => table('endurance hold', columns, rows);
const HOLD = () => result(held());
const BACKWARDS = () =>
  result(
    held([
      [0, 1000],
      [600, 900],
      [60, 800],
    ]),
  );
const MOVING = () =>
  result(
    held([
      [0, 1000],
      [60, 900],
      [120, 800],
    ]),
  );
const STEADY = () =>
  result(
    held([
      [0, 1000],
      [60, 1001],
      [120, 1000],
      [180, 1000],
    ]),
  );

const SIDE: Rows = [
  [0, 'across', 100, 0.3127, 0.329],
  [30, 'across', 80, 0.31, 0.329],
  [40, 'across', 60, 0.309, 0.329],
  [50, 'across', 40, 0.308, 0.329],
  [30, 'up', 90, 0.3127, 0.335],
  [60, 'up', 50, 0.3127, 0.34],
];
const SIDES = () => result(table('angles side', 'angle direction Y x y', SIDE));
const NO_AXIS = () => result(table('angles side', 'angle Y x y', [[30, 80, 0.31, 0.329]]));
const SIDES_Y = () =>
  result(
    table(
      'angles side',
      'angle direction Y',
      SIDE.map(([angle, direction, Y]) => [angle!, direction!, Y!]),
    ),
  );

/** A display of P3 primaries that is otherwise right, at three levels. */
const surfaceOf = (levels: readonly number[]) =>
  levels.flatMap((r) => levels.flatMap((g) => levels.map((b): Triple => [r, g, b]))).filter((rgb) => rgb.some((v) => v === 0 || v === 100));
const shown = (toXyz: Matrix, levels: readonly number[] = [0, 50, 100]): Rows =>
  surfaceOf(levels).map((rgb) => {
    const xyz = times(toXyz, rgb.map((v) => 120 * (v / 100) ** 2.4) as unknown as Triple);
    const xy = xyz[1] === 0 ? ['-', '-'] : xyOf(xyz).map((v) => v.toPrecision(12));
    return [...rgb, xyz[1] === 0 ? '<0.003' : xyz[1].toPrecision(12), ...xy];
  });
export const solid = (rows: Rows) => table('volume solid', 'R G B Y x y', rows);
const EIGHTHS = Array.from({ length: 9 }, (_, i) => 12.5 * i);
/** A display of BT.709 held against P3, in which all of it lies. */
const SOLID = () =>
  result(solid(shown(rgbToXyz(spaces.bt709), EIGHTHS)), {
    target: 'space: p3-d65\ncurve: power 2.4\nwhite: d65\nluminance: 120 cd/m2',
  });
const TETRAHEDRA: Basis = 'independent: the tetrahedra of 4,096 cells inside, ICtCp by colorjs.io';
const sizeOf = (space: 'lab' | 'ictcp') => volumeOf(spaces.bt709, 120, space) / 1000;
const shareOf = (space: 'lab' | 'ictcp') => (100 * volumeOf(spaces.bt709, 120, space)) / volumeOf(spaces.p3, 120, space);
const FEW = () => result(solid(shown(rgbToXyz(spaces.bt709)).filter(([r, g, b]) => r !== 50 && g !== 50 && b !== 50)));
const HOLLOW = () => result(solid(shown(rgbToXyz(spaces.bt709)).slice(1)));

/** Two triangles of light, by 10 nm. */
const peakAt = (centre: number, half: number) => (nm: number) => Math.max(0, 1 - Math.abs(nm - centre) / (2 * half));
export const WAVES = Array.from({ length: 47 }, (_, i) => 370 + 10 * i);
const LIGHT: Rows = WAVES.map((nm) => [nm, (peakAt(450, 20)(nm) + 0.5 * peakAt(600, 30)(nm)).toFixed(6), 1]);
export const spectra = (rows: Rows = LIGHT, columns = 'nm white flat') => table('spectrum lamp', columns, rows);
const LAMP = () => result(spectra(), { target: '' });
/** Relative power of D65 every 5 nm (ISO/CIE 11664-2). */
const DAYLIGHT = () =>
  result(
    spectra(
      ILLUMINANT_WAVELENGTHS.map((nm, i) => [nm, ILLUMINANTS.d65[i]!]),
      'nm d65',
    ),
    { target: '' },
  );
const D65 = record('07_cie_spectral-001');
const daylight = sumBy5nm((nm) => ILLUMINANTS.d65[ILLUMINANT_WAVELENGTHS.indexOf(nm)]!);
const SUM_5NM: Basis = 'independent: the sum of CIE 15 over another transcription of the observer, every 5 nm';
const EQUAL_ENERGY = record('06_cct_daylight-050');
const EQUAL = () =>
  result(
    spectra(
      Array.from({ length: 471 }, (_, i) => [360 + i, 1]),
      'nm flat',
    ),
    { target: '' },
  );
const equal = EQUAL_ENERGY.expected as { cct: number; duv: number };
const DARK = () =>
  result(
    spectra(
      WAVES.map((nm) => [nm, 0]),
      'nm white',
    ),
    { target: '' },
  );

export const LAGS: Rows = [
  ['top', 12],
  ['top', 14],
  ['centre', 20],
  ['centre', 22],
  ['centre', 27],
];
const LAG = () => result(table('lag l', 'place lag', LAGS));
const ONE_LAG = () => result(table('lag l', 'place lag', [['top', 12]]));
const NO_LAG = () => result(table('lag l', 'place lag', [['top', '-']]));
const POWER = () =>
  result(
    table('power p', 'patch power', [
      ['white', 90],
      ['white', 94],
    ]),
  );
const POWERS = () =>
  result(
    table('power p', 'patch power', [
      ['white', 90],
      ['black', 30],
    ]),
  );
const ONE_POWER = () => result(table('power p', 'patch power', [['white', 90]]));
const AGAIN: Rows = [
  ['white', 100, 0.31, 0.329],
  ['white', 102, 0.312, 0.329],
  ['white', 104, 0.314, 0.332],
];
const REPEATS = () => result(table('repeats r', 'patch Y x y', AGAIN));
const TWO_REPEATS = () => result(table('repeats r', 'patch Y x y', [...AGAIN, ['grey', 20, 0.31, 0.329]]));
const ONE_REPEAT = () => result(table('repeats r', 'patch Y x y', AGAIN.slice(0, 1)));

export const LIT: Rows = [
  ['white', 0, 100],
  ['white', 300, 101],
  ['black', 0, 0.1],
  ['black', 100, 0.4],
  ['black', 300, 1],
];
export const lit = (rows: Rows = LIT) => table('reflectance light', 'patch illuminance Y', rows);
const ROOM = () => result(lit());
const ONE_LUX = () =>
  result(
    lit([
      ['white', 100, 100],
      ['black', 100, 0.4],
    ]),
  );
const FALLING = () =>
  result(
    lit([
      ['white', 0, 100],
      ['white', 100, 90],
      ['black', 0, 0.4],
      ['black', 100, 0.3],
    ]),
  );

/** A meter whose filters mix the channels a little, on a display of BT.709: its readings times M⁻¹ are those of the reference. */
const MIX: Matrix = [
  [1.01, 0.01, 0],
  [0.005, 0.99, 0.004],
  [0, 0.01, 1.03],
];
export const COLOURS = {
  white: [1, 1, 1],
  red: [1, 0, 0],
  green: [0, 1, 0],
  blue: [0, 0, 1],
  yellow: [1, 1, 0],
  sand: [0.9, 0.8, 0.4],
} as const satisfies Record<string, Triple>;
const lightOf = (name: keyof typeof COLOURS): Triple =>
  times(rgbToXyz(spaces.bt709), COLOURS[name].map((v) => 100 * v) as unknown as Triple);
const digits = (xyz: Triple) => [xyz[1].toPrecision(12), ...xyOf(xyz).map((v) => v.toPrecision(12))];
export const pairs = (
  names: readonly (keyof typeof COLOURS)[],
  mix: Matrix = MIX,
  off: Partial<Record<keyof typeof COLOURS, number>> = {},
): Rows =>
  names.map((name) => {
    const [Y, x, y] = digits(lightOf(name));
    return [name, Y!, (Number(x) + (off[name] ?? 0)).toPrecision(12), y!, ...digits(times(mix, lightOf(name)))];
  });
export const METERS = 'meter spectro\n  kind: spectroradiometer\n';
export const correcting = (
  rows: Rows,
  head = 'correction fix\nmeter: probe\nreference: spectro',
  columns = 'patch ref.Y ref.x ref.y Y x y',
) => `${METERS}${table(head, columns, rows)}`;
const ALL = ['white', 'red', 'green', 'blue', 'yellow', 'sand'] as const;
const FIX = () => result(correcting(pairs(ALL, MIX, { sand: 0.002 })), {}, 'fix');
const FOUR = () => result(correcting(pairs(ALL.slice(0, 4))), {}, 'fix');
const THREE = () => result(correcting(pairs(['white', 'red', 'green'])), {}, 'fix');

/** Condition number in the 2-norm by power iteration on NᵀN and its inverse, another way than the algorithm's. */
function conditionOf(rows: Rows, first: number): number {
  const N = [0, 1, 2].map((i) =>
    ['red', 'green', 'blue'].map((name) => {
      const row = rows.find(([patch]) => patch === name)!;
      const [x, y] = [Number(row[first]), Number(row[first + 1])];
      return [x, y, 1 - x - y][i]!;
    }),
  ) as unknown as Matrix;
  const transposed = [0, 1, 2].map((i) => [0, 1, 2].map((k) => N[k as 0]![i as 0])) as unknown as Matrix;
  const square = product(transposed, N);
  const largest = (m: Matrix): number => {
    let v: Triple = [1, 0.7, 0.3];
    let length = 0;
    for (let i = 0; i < 4000; i++) {
      const next = times(m, v);
      length = Math.hypot(...next);
      v = next.map((n) => n / length) as unknown as Triple;
    }
    return length;
  };
  return Math.sqrt(largest(square) * largest(inverse(square)));
}

const fixRows = pairs(ALL, MIX, { sand: 0.002 });

const sampleSd = (list: readonly number[]) => {
  const mean = list.reduce((sum, v) => sum + v, 0) / list.length;
  return Math.sqrt(list.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (list.length - 1));
};

const BY_HAND: Basis = 'constructed: worked out by hand from the rows';
const UV: Basis = "independent: u', v' of CIE 15:2018, eq. 8.3, written out";
const WRITTEN_OUT: Basis = 'independent: the sums of JCGM 100:2008, 4.2, written out';

const UNIFORMITY = record('09_tolerances_definitions-085');
const nine = UNIFORMITY.expected as { nonuniformity_percent: number; percentOfCentre: readonly number[] };
const NINE = () =>
  result(
    grid(
      (UNIFORMITY.input.luminances as number[]).map((Y, i) => [Math.floor(i / 3) + 1, (i % 3) + 1, Y]),
      'row col Y',
    ),
  );

const TYPE_A = record('10_matrix_correction-012');
const ten = TYPE_A.expected as { mean: number; s: number; sMean: number };
const TEN_TIMES = () =>
  result(
    table(
      'repeats r',
      'patch Y',
      (TYPE_A.input.readings as number[]).map((Y) => ['white', Y]),
    ),
  );

/** A display that drifted between the two meters: the matrix is that without drift, so that luminances tell of it. */
const OHNO_HARDIS = record('10_matrix_correction-003');
const PATCH = { white: 'W', red: 'R', green: 'G', blue: 'B' } as const;
const DRIFTED = () =>
  result(
    correcting(
      Object.entries(PATCH).map(([name, letter]) => [
        name,
        ...exact(OHNO_HARDIS.input.reference_XYZ[letter]),
        ...exact(OHNO_HARDIS.input.instrument_XYZ_with_Y_drift[letter]),
      ]),
    ),
    {},
    'fix',
  );
const exact = (xyz: Triple) => [xyz[1], ...xyOf(xyz)].map((v) => v.toPrecision(15));
const drifted = (letter: 'R' | 'G' | 'B') =>
  times(OHNO_HARDIS.expected as Matrix, OHNO_HARDIS.input.instrument_XYZ_with_Y_drift[letter])[1] /
  OHNO_HARDIS.input.reference_XYZ[letter][1];

export const BENCH: Readonly<Record<string, Case>> = {
  'uniformity.nonuniformity': [NINE, nine.nonuniformity_percent, UNIFORMITY.basis, HOLED, 'grid-hole'],
  'uniformity.duv': [GRID, apart([0.31, 0.325], d65), UV, GREY_GRID, 'no-colours', { within: 1e-12 }],
  'uniformity.duv.any': [GRID, apart([0.31, 0.325], d65), UV, GREY_GRID, 'no-colours', { within: 1e-12 }],
  'uniformity.worst': [GRID, -20, BY_HAND, EVEN, 'no-centre'],
  'uniformity.worst.row': [GRID, 3, BY_HAND, HOLED, 'grid-hole'],
  'uniformity.worst.col': [GRID, 1, BY_HAND, HOLED, 'grid-hole'],
  'uniformity.share': [NINE, nine.percentOfCentre[6]!, UNIFORMITY.basis, HOLED, 'grid-hole', at('3,1', '1,1')],

  'endurance.after': [HOLD, 0.8, BY_HAND, BACKWARDS, 'time-backwards', at('10min', '60')],
  'endurance.settled': [HOLD, 0.8, BY_HAND, MOVING, 'not-settled'],
  'endurance.settled.luminance': [HOLD, 800, BY_HAND, BACKWARDS, 'time-backwards'],
  'endurance.settled.time': [HOLD, 300, BY_HAND, MOVING, 'not-settled'],
  'endurance.half': [HOLD, 90, BY_HAND, STEADY, 'no-drop'],

  'angles.half': [SIDES, 45, BY_HAND, NO_AXIS, 'no-axis'],
  'angles.duv': [SIDES, apart([0.3127, 0.335], d65), UV, SIDES_Y, 'no-axis', at('30', '30', 1e-12)],
  'angles.kept': [SIDES, 0.9, BY_HAND, NO_AXIS, 'no-axis', at('30,up', '30')],
  'angles.shift': [SIDES, apart([0.31, 0.329], d65), UV, SIDES_Y, 'no-axis', at('30,across', '30,across', 1e-12)],

  'volume.lab': [SOLID, shareOf('lab'), TETRAHEDRA, FEW, 'levels-few', { within: 0.5 }],
  'volume.lab.ratio': [SOLID, shareOf('lab'), TETRAHEDRA, HOLLOW, 'volume-hole', { within: 0.5 }],
  'volume.lab.size': [SOLID, sizeOf('lab'), TETRAHEDRA, FEW, 'levels-few', { within: 0.01 * sizeOf('lab') }],
  'volume.ictcp': [SOLID, shareOf('ictcp'), TETRAHEDRA, FEW, 'levels-few', { within: 0.5 }],
  'volume.ictcp.ratio': [SOLID, shareOf('ictcp'), TETRAHEDRA, HOLLOW, 'volume-hole', { within: 0.5 }],
  'volume.ictcp.size': [SOLID, sizeOf('ictcp'), TETRAHEDRA, FEW, 'levels-few', { within: 0.01 * sizeOf('ictcp') }],

  'spectrum.x': [DAYLIGHT, (D65.expected as Pair)[0], D65.basis, DARK, 'spectrum-dark', at('d65', 'white', D65.tolerance)],
  'spectrum.y': [DAYLIGHT, (D65.expected as Pair)[1], D65.basis, DARK, 'spectrum-dark', at('d65', 'white', D65.tolerance)],
  'spectrum.X': [DAYLIGHT, daylight[0], SUM_5NM, DARK, 'spectrum-dark', at('d65', 'white', 1e-6 * daylight[0])],
  'spectrum.Y': [DAYLIGHT, daylight[1], SUM_5NM, DARK, 'spectrum-dark', at('d65', 'white', 1e-6 * daylight[1])],
  'spectrum.Z': [DAYLIGHT, daylight[2], SUM_5NM, DARK, 'spectrum-dark', at('d65', 'white', 1e-6 * daylight[2])],
  'spectrum.cct': [EQUAL, equal.cct, EQUAL_ENERGY.basis, DARK, 'spectrum-dark', at('flat', 'white', EQUAL_ENERGY.tolerance)],
  'spectrum.duv': [EQUAL, equal.duv, EQUAL_ENERGY.basis, DARK, 'spectrum-dark', at('flat', 'white', 2e-5)],
  'spectrum.peaks': [LAMP, 2, BY_HAND, DARK, 'spectrum-dark', at('white')],
  'spectrum.peak': [LAMP, 600, BY_HAND, LAMP, 'no-peak', at('white,2', 'flat,1')],
  'spectrum.width': [LAMP, 40, BY_HAND, LAMP, 'no-peak', at('white,1', 'flat,1', 1e-4)],

  'lag.mean': [LAG, 19, BY_HAND, NO_LAG, 'too-few-rows'],
  'lag.median': [LAG, 20, BY_HAND, NO_LAG, 'too-few-rows'],
  'lag.sd': [LAG, sampleSd([12, 14, 20, 22, 27]), WRITTEN_OUT, ONE_LAG, 'one-reading'],
  'lag.se': [LAG, sampleSd([12, 14, 20, 22, 27]) / Math.sqrt(5), WRITTEN_OUT, ONE_LAG, 'one-reading'],
  'lag.n': [LAG, 5, BY_HAND, NO_LAG, 'too-few-rows'],
  'power.mean': [POWER, 92, BY_HAND, POWERS, 'key-needed'],
  'power.median': [POWER, 92, BY_HAND, POWERS, 'key-needed'],
  'power.sd': [POWER, Math.sqrt(8), BY_HAND, ONE_POWER, 'one-reading'],
  'power.se': [POWER, 2, BY_HAND, ONE_POWER, 'one-reading'],
  'power.n': [POWER, 2, BY_HAND, POWERS, 'key-needed'],
  'repeats.mean': [TEN_TIMES, ten.mean, TYPE_A.basis, TWO_REPEATS, 'key-needed'],
  'repeats.median': [TWO_REPEATS, 102, BY_HAND, TWO_REPEATS, 'no-row', at('white', 'black')],
  'repeats.sd': [TEN_TIMES, ten.s, TYPE_A.basis, ONE_REPEAT, 'one-reading'],
  'repeats.se': [TEN_TIMES, ten.sMean, TYPE_A.basis, ONE_REPEAT, 'one-reading'],
  'repeats.n': [TWO_REPEATS, 3, BY_HAND, TWO_REPEATS, 'key-needed', { key: 'white' }],
  'repeats.sd.percent': [REPEATS, 200 / 102, BY_HAND, ONE_REPEAT, 'one-reading'],
  'repeats.sd.x': [REPEATS, 0.002, BY_HAND, ONE_REPEAT, 'one-reading'],
  'repeats.sd.y': [TWO_REPEATS, sampleSd([0.329, 0.329, 0.332]), WRITTEN_OUT, TWO_REPEATS, 'one-reading', at('white', 'grey')],

  'reflectance.contrast': [ROOM, 101 / 1, BY_HAND, ONE_LUX, 'no-illuminance', at('300', '100')],
  'reflectance.white': [ROOM, 100 + 100 / 300, BY_HAND, FALLING, 'light-lowers', at('100', '100')],
  'reflectance.black': [ROOM, 0.4, BY_HAND, ONE_LUX, 'no-illuminance', at('100', '100')],
  'reflectance.reflectance': [ROOM, 100 * Math.PI * 0.003, BY_HAND, ONE_LUX, 'no-illuminance'],
  'reflectance.reflectance.white': [ROOM, (100 * Math.PI) / 300, BY_HAND, FALLING, 'light-lowers'],
  'reflectance.black.dark': [ROOM, 0.1, BY_HAND, FALLING, 'light-lowers'],

  'correction.check': [FIX, 0.002, 'constructed: 0.002 in x was put into one colour', FOUR, 'no-further', { within: 1e-9 }],
  'correction.luminance': [DRIFTED, drifted('G'), OHNO_HARDIS.basis, THREE, 'colour-missing', at('green', 'red', 1e-8)],
  'correction.condition': [
    FIX,
    Math.max(conditionOf(fixRows, 2), conditionOf(fixRows, 5)),
    'independent: the largest eigenvalues by power iteration',
    THREE,
    'colour-missing',
    { within: 1e-4 },
  ],
};
