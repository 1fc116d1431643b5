import { describe, expect, test } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { CODES, type Code } from '../../src/text/codes';
import { sentence } from '../../src/text/finding';
import { applyEdits } from '../../src/text/span';
import { Bench, type Setup } from '../display/bench';
import { aurora } from '../display/panels';
import { shippedPicture } from '../display/screen';
import { ownWords, PSEUDO, unsaid } from '../editor/pseudo';
import { correcting, GRID_ROWS, grid, held, lit, pairs, spectra } from '../measure/benchCases';
import { type Bench as Parts, session, table } from '../measure/tools';
import { rolled, track } from '../measure/trackingCases';

/** A session with what is underlined in «», and the findings it then has. */
interface Case {
  readonly text: string;
  /** The node, where it is worth a look. */
  readonly at?: string;
  readonly says?: string;
  readonly mended?: string;
}

const grey = (rows: readonly string[], properties = ''): string =>
  ['greyscale grey', ...(properties ? [`  ${properties}`] : []), '    level Y x y', ...rows.map((row) => `    ${row}`)].join('\n');
const D65 = '0.3127  0.3290';
/** Power 2.4 at 120 cd/m², rounded as a meter writes it. */
const RIGHT = ['10  0.478', '20  2.52', '30  6.67', '40  13.3', '50  22.7', '60  35.2', '70  51.0', '80  70.2', '90  93.2', '100  120'];
const right = (spoilt: Readonly<Record<string, string>> = {}): string[] =>
  RIGHT.map((row) => {
    const level = row.split('  ')[0]!;
    return spoilt[level] ?? `${row}  ${D65}`;
  });
const patches = (...rows: string[]) => ['patches colours', '    R G B Y x y', ...rows.map((row) => `    ${row}`)].join('\n');
/** D65 by its luminance: X 0.9505 and Z 1.0891 of Y (CIE 15, rounded). */
const xyzGrey = (spoilt: readonly string[]): string =>
  table(
    'greyscale grey',
    'level X Y Z',
    RIGHT.map((row) => row.split('  ') as [string, string]).map(([level, Y]) =>
      level === spoilt[0] ? spoilt : [level, (0.9505 * Number(Y)).toPrecision(4), Y, (1.0891 * Number(Y)).toPrecision(4)],
    ),
  );
const patchNames = (...names: string[]) =>
  ['patches colours', '    patch R G B Y x y', ...names.map((name, i) => `    ${name} ${60 + i} 50 50 22.7 ${D65}`)].join('\n');
const whole = (runs: string, parts: Parts = {}) => session(runs, parts);
const P24 = 'space: bt709\ncurve: power 2.4';
const GAMUT_ROWS = [
  ['red', '20', '0.64', '0.33'],
  ['green', '70', '0.30', '0.60'],
  ['blue', '7', '0.15', '0.06'],
] as const;
const gamut = table('gamut g', 'patch Y x y', GAMUT_ROWS);
const PQ = 'space: bt2020\ncurve: pq';
const TENS = [10, 20, 30, 40, 50, 60, 70, 80, 90, 100];
const shown = (from: string, to: string) => (text: string) => {
  if (!text.includes(from)) throw new Error(`no ${from}`);
  return text.replace(from, to);
};
const BARE = whole(grey(right()));
const withMode = (lines: string) =>
  shown('  .automatic: ambient sensor off, energy saving off, dynamic contrast off, dynamic tone mapping off', lines)(BARE);

const CASES: Readonly<Partial<Record<Code, readonly Case[]>>> = {
  'xy-sum': [
    { text: whole(grey(['50  22.7  «0.8127  0.3290»'])), at: 'grey/row/0', says: 'x + y is 1.1417, and cannot be over 1.' },
    { text: whole(['greyscale grey', '    level y Y x', '    50  «0.3290  22.7  0.8127»'].join('\n')) },
  ],
  'xy-range': [
    { text: whole(grey(['50  22.7  0.3127  «0»'])), at: 'grey/row/0/y' },
    { text: whole(grey(['50  22.7  «-0.3»  0.3290'])), at: 'grey/row/0/x' },
    { text: whole(grey(['50  22.7  0.3127  «3.290»'])) },
  ],
  'outside-locus': [
    { text: whole(grey(['50  22.7  «0.0102  0.3259»'])), says: '0.0102 0.3259 lies outside the spectrum locus: no light has this colour.' },
    { text: whole(['greyscale grey', "    level Y u' v'", '    50  22.7  «0.7  0.5»'].join('\n')) },
    { text: whole(['greyscale grey', '    level X Y Z', '    50  «0.100  22.70  22.70»'].join('\n')) },
  ],
  'reading-negative': [
    {
      text: whole(grey(['0  «-0.0004»  -  -'])),
      at: 'grey/row/0/Y',
      says: 'Y is -0.0004: a luminance is not negative. Below the floor of the meter write <0.003.',
    },
    {
      text: whole(grey(['0  «-0.0004»  -  -']), { meter: 'kind: colorimeter' }),
      says: 'Y is -0.0004: a luminance is not negative. Below the floor of the meter write <n.',
    },
  ],
  'level-range': [
    { text: whole(grey([`«110»  150  ${D65}`])), says: 'level is 110: expected 0 to 100 %.' },
    { text: whole(grey([`«-8»  0.1  ${D65}`])) },
    {
      text: whole(['patches colours', '    R[8bit] G[8bit] B[8bit] Y x y', `    «256»  255  255  120  ${D65}`].join('\n'), {
        signal: 'range: full\ndepth: 8',
      }),
      says: 'R is 256: expected a code from 0 to 255.',
    },
    { text: whole(table('saturation s', 'hue sat Y x y', [['red', '«101»', 25, 0.64, 0.33]])) },
  ],
  'quantity-range': [
    {
      text: whole(table('window w', 'window Y', [['«110»', '800']])),
      at: 'w/row/0/window',
      says: 'window is 110: expected above 0 and up to 100 %.',
    },
    {
      text: whole(
        table('angles a', 'angle Y', [
          [0, 100],
          ['«120»', 80],
        ]),
      ),
      says: 'angle is 120: expected an angle between -90° and 90°.',
    },
    {
      text: whole(
        table('lag l', 'place lag', [
          ['top', 12],
          ['top', '«-12»'],
          ['top', 13],
        ]),
      ),
      says: 'lag is -12: expected a time above 0.',
    },
    { text: whole(table('power p', 'patch power', [['white', '«-1»']])), says: 'power is -1: expected 0 or more.' },
    {
      text: whole(
        held([
          ['«-10»', 1000],
          [0, 1000],
        ]),
      ),
    },
  ],
  'patch-unknown': [
    {
      text: whole(table('saturation s', 'hue sat Y x y', [['«Green»', '100', '85.8', '0.30', '0.60']])),
      at: 's/row/0/hue',
      says: 'hue is Green: expected one of red, green, blue, cyan, magenta, yellow, white, black. Figures that go by hue leave the row out. Perhaps green?',
      mended: whole(table('saturation s', 'hue sat Y x y', [['green', '100', '85.8', '0.30', '0.60']])),
    },
    {
      text: whole(table('saturation s', 'hue sat Y x y', [['«"bleu"»', '50', '20', '0.22', '0.18']])),
      mended: whole(table('saturation s', 'hue sat Y x y', [['blue', '50', '20', '0.22', '0.18']])),
    },
    {
      text: whole(table('saturation s', 'hue sat Y x y', [['«orange»', '100', '50', '0.5', '0.4']])),
      says: 'hue is orange: expected one of red, green, blue, cyan, magenta, yellow, white, black. Figures that go by hue leave the row out.',
    },
    {
      text: whole(
        table('contrast c', 'patch Y', [
          ['«White»', '120'],
          ['black', '0.05'],
          ['checker-black', '0.5'],
        ]),
      ),
      mended: whole(
        table('contrast c', 'patch Y', [
          ['white', '120'],
          ['black', '0.05'],
          ['checker-black', '0.5'],
        ]),
      ),
    },
    { text: whole(table('contrast c', 'patch Y', [['«checker_white»', '119']])) },
    {
      text: whole(
        lit([
          ['white', 0, 100],
          ['«Black»', 0, 0.05],
          ['black', 0, 0.05],
          ['black', 100, 0.4],
        ]),
      ),
    },
    {
      text: whole(table('gamut g', 'patch Y x y', [...GAMUT_ROWS, ['«Black»', '0.05', '0.25', '0.20']])),
      says: 'patch is Black: expected one of red, green, blue, cyan, magenta, yellow, white, black, or a name of its own. Figures that go by patch leave the row out. Perhaps black?',
    },
    // A row that says no patch at all is read by no figure.
    {
      text: whole(grey([...right(), `«-»  22.7  ${D65}`])),
      says: 'level is -: expected a number. Figures that go by level leave the row out.',
    },
    { text: whole(patchNames('skin', '«-»')) },
    // Where names are free, one letter is a slip only where the word itself is missing.
    {
      text: whole(table('gamut g', 'patch Y x y', [...GAMUT_ROWS.slice(0, 2), ['«bleu»', '7.2', '0.15', '0.06']])),
      mended: whole(table('gamut g', 'patch Y x y', [...GAMUT_ROWS.slice(0, 2), ['blue', '7.2', '0.15', '0.06']])),
    },
    {
      text: whole(
        table('window w', 'window Y', [
          ['10', '800'],
          ['«<50»', '400'],
        ]),
      ),
    },
  ],
  'time-backwards': [
    {
      text: whole(
        held([
          [0, 1000],
          [600, 900],
          ['«60»', 950],
          [700, 890],
        ]),
      ),
      at: 'hold/row/2/t',
      says: 't 60 comes after 600: time runs forward from row to row. What hangs on it is not computed.',
    },
  ],
  'grid-hole': [
    {
      text: whole(shown('uniformity field', '«uniformity field»')(grid(GRID_ROWS.slice(0, 8)))),
      says: 'The grid of field has no reading in row 3, column 3: what is worst may lie there, and nothing is computed.',
    },
    {
      text: whole(
        shown('uniformity field', '«uniformity field»')(grid([...GRID_ROWS.slice(0, 5), ...GRID_ROWS.slice(7), [2, 3, '-', '-', '-']])),
      ),
      says: 'The grid of field has no reading in row 2, column 3 and 1 more place: what is worst may lie there, and nothing is computed.',
    },
  ],
  'wavelength-order': [
    {
      text: whole(
        spectra([
          [400, 1, 1],
          [420, 1, 1],
          ['«410»', 1, 1],
          [430, 1, 1],
        ]),
      ),
      says: '410 nm does not lie above 420 nm: wavelengths rise from row to row. The spectra are not computed.',
    },
  ],
  'wavelength-range': [
    {
      text: whole(
        spectra([
          ['«350»', 1, 1],
          [400, 1, 1],
          [450, 1, 1],
        ]),
      ),
      says: '350 nm lies outside 360 to 830 nm, the range of the standard observer. The spectra are not computed.',
    },
  ],
  'power-negative': [
    {
      text: whole(
        spectra([
          [400, 1, 1],
          [410, '«-0.2»', 1],
          [420, 1, 1],
        ]),
      ),
      says: 'The power of white is -0.2 at 410 nm: expected 0 or more. The spectrum is not computed.',
    },
  ],
  'correction-refused': [
    {
      text: whole(
        `${shown('correction fix', '«correction fix»')(correcting(pairs(['white', 'red', 'green'])))}\n${grey(right(), 'meter: probe')}`,
      ),
      says: 'fix corrects nothing: the four-colour method needs white, red, green and blue from both meters; there is no blue.',
    },
    {
      text: whole(
        `${shown('correction fix', '«correction fix»')(correcting([['white', 100, 0.64, 0.1, 100, 0.3127, 0.329], ...pairs(['red', 'green', 'blue'])]))}\n${grey(right(), 'meter: probe')}`,
      ),
      says: 'fix corrects nothing: white lies outside the triangle of red, green and blue of the reference meter.',
    },
  ],
  'xy-swapped': [
    {
      text: whole(grey(right({ 40: '40  13.3  «0.3290  0.3127»' }))),
      at: 'grey/row/3',
      says: "x 0.3290 and y 0.3127 lie Δu'v' 0.019 from the target, changed about 0.000: swapped?",
      mended: whole(grey(right({ 40: '40  13.3  0.3127  0.3290' }))),
    },
    { text: whole(table('saturation s', 'hue sat Y x y', [['green', '100', '85.8', '«0.60', '0.30»']])) },
    { text: whole(patches('0  100  0  85.8  «0.60  0.30»')) },
    {
      // A tint as large as a swap: the other rows tell.
      text: whole(grey(RIGHT.map((row) => (row.startsWith('40') ? '40  13.3  «0.3150  0.2950»' : `${row}  0.2950  0.3150`)))),
      says: "x 0.3150 and y 0.2950 lie Δu'v' 0.024 from the other rows, changed about 0.000: swapped?",
    },
  ],
  'decimal-slip': [
    {
      text: whole(grid(GRID_ROWS.map(([row, col, Y, ...xy]) => [row!, col!, row === 2 && col === 3 ? '«9.5»' : Y!, ...xy]))),
      mended: whole(grid(GRID_ROWS.map(([row, col, Y, ...xy]) => [row!, col!, Y!, ...xy]))),
    },
    {
      text: whole(
        held([
          [0, 1000],
          [60, 950],
          [120, '«8500»'],
          [300, 801],
          [600, 800],
        ]),
      ),
    },
    { text: whole(track([...rolled(4000, 800, 0, TENS.slice(0, 8)), [90, '«80.1»'], [100, 803]]), { target: PQ }) },
    { text: whole(track([...rolled(4000, 800, 0, TENS.slice(0, 9)), [100, '«80.1»']]), { target: PQ }) },
    {
      text: whole(grey(right({ 30: `30  «66.7»  ${D65}` }))),
      at: 'grey/row/2/Y',
      says: 'Y 66.7 at 30 is off the trend of its neighbours, 6.67 would be on it: decimal point?',
      mended: whole(grey(right({ 30: `30  6.67  ${D65}` }))),
    },
    { text: whole(grey(right({ 60: `60  «3.52»  ${D65}` }))), mended: whole(grey(right({ 60: `60  35.2  ${D65}` }))) },
    { text: whole(grey(right({ 60: `60  «35200»  ${D65}` }))), mended: whole(grey(right({ 60: `60  35.200  ${D65}` }))) },
    { text: whole(grey(right({ 100: `100  «12»  ${D65}` }))), mended: whole(grey(right({ 100: `100  120  ${D65}` }))) },
    {
      text: whole(
        table('window w', 'window Y', [
          ['1', '800'],
          ['5', '810'],
          ['10', '«82»'],
          ['50', '400'],
          ['100', '220'],
        ]),
      ),
    },
    // As XYZ: Z ten times too small, which Y and X give away.
    { text: whole(xyzGrey(['50', '21.58', '22.7', '«2.47»'])), mended: whole(xyzGrey(['50', '21.58', '22.7', '24.7'])) },
    { text: whole(xyzGrey(['100', '114.1', '120', '«13.07»'])), mended: whole(xyzGrey(['100', '114.1', '120', '130.7'])) },
    {
      text: whole(
        patches(
          '50  50  50  22.7  0.3127  0.3290',
          '60  60  60  35.2  0.3127  0.3290',
          '70  70  70  «5.1»  0.3127  0.3290',
          '80  80  80  70.2  0.3127  0.3290',
        ),
      ),
    },
  ],
  'chromaticity-stray': [
    {
      text: whole(grey(right({ 50: '50  22.7  «0.5127»  0.3290' }))),
      at: 'grey/row/4/x',
      says: 'x 0.5127 at 50 is far off its neighbours: expected about 0.3127.',
    },
    {
      text: whole(grey(right({ 50: '50  22.7  «0.3721»  0.3290' }))),
      says: 'x 0.3721 at 50 is far off its neighbours: expected about 0.3127.',
    },
    {
      // The digits are those of 0.3127, two of them changed about.
      text: whole(grey(right({ 50: '50  22.7  0.3127  «0.2390»' }))),
      mended: whole(grey(right({ 50: '50  22.7  0.3127  0.3290' }))),
    },
    { text: whole(grey(right({ 100: '100  120  «0.4127»  0.3290' }))) },
    {
      text: whole(
        [
          'greyscale grey',
          "    level Y u' v'",
          ...RIGHT.map((row) => `    ${row}  ${row.startsWith('50') ? '«0.2978»' : '0.1978'}  0.4683`),
        ].join('\n'),
      ),
      says: "u' 0.2978 at 50 is far off its neighbours: expected about 0.1978.",
    },
    {
      text: whole(grid(GRID_ROWS.map(([row, col, Y, x, y]) => [row!, col!, Y!, row === 2 && col === 3 ? '«0.4127»' : x!, y!]))),
    },
  ],
  'chromaticity-form': [
    {
      text: whole(['greyscale grey', '    level Y «x y»', ...RIGHT.map((row) => `    ${row}  0.1978  0.4683`)].join('\n')),
      says: "x and y of the run are about 0.198 and 0.468: expected about 0.313 and 0.329. Those are u' v' of white: other columns?",
      mended: whole(['greyscale grey', "    level Y u' v'", ...RIGHT.map((row) => `    ${row}  0.1978  0.4683`)].join('\n')),
    },
    {
      text: whole(['greyscale grey', "    level Y «u' v'»", ...RIGHT.map((row) => `    ${row}  0.3127  0.3290`)].join('\n')),
      mended: whole(['greyscale grey', '    level Y x y', ...RIGHT.map((row) => `    ${row}  0.3127  0.3290`)].join('\n')),
    },
    {
      text: whole(track([...rolled(4000, 800, 0, TENS)].map((row) => [...row, 0.1978, 0.4683])).replace('level Y', 'level Y «x y»'), {
        target: PQ,
      }),
    },
  ],
  'level-unit': [
    {
      text: whole(['greyscale grey', '    «level[8bit]» Y', ...RIGHT.map((row) => `    ${row}`)].join('\n'), {
        signal: 'range: limited\ndepth: 8',
      }),
      says: 'level[8bit] goes from 10 to 100 as per cent do: expected the column level for that.',
      mended: whole(['greyscale grey', '    level Y', ...RIGHT.map((row) => `    ${row}`)].join('\n'), {
        signal: 'range: limited\ndepth: 8',
      }),
    },
  ],
  'code-reserved': [
    {
      text: whole(
        ['patches colours', '    R[8bit] G[8bit] B[8bit] Y x y', `    235 235 235 120 ${D65}`, `    «0» 128 255 30.1 0.2 0.2`].join('\n'),
        {
          signal: 'range: limited\ndepth: 8',
        },
      ),
      at: 'colours/row/1/R',
      says: 'R is 0, and sdr is of limited range: expected 1 to 254 (BT.709, BT.2100). Was it full range?',
    },
    {
      text: whole(['greyscale grey', '    level[10bit] Y', '    940 120', '    «1020» 120'].join('\n'), {
        signal: 'range: limited\ndepth: 10',
      }),
      says: 'level is 1020, and sdr is of limited range: expected 4 to 1019 (BT.709, BT.2100). Was it full range?',
    },
  ],
  'reading-copied': [
    {
      text: whole(grey(right({ 60: '60  «22.75  0.3130  0.3291»', 50: '50  22.75  0.3130  0.3291' }))),
      at: 'grey/row/5',
      says: 'The reading at 60 is that at 50, digit for digit: expected another for another patch. Copied?',
    },
    {
      text: whole(
        table('saturation s', 'hue sat Y x y', [
          ['red', '50', '44.12', '0.4700', '0.3310'],
          ['red', '100', '«44.12', '0.4700', '0.3310»'],
        ]),
      ),
    },
    {
      text: whole(
        table('gamut g', 'patch Y x y', [
          ...GAMUT_ROWS.slice(0, 2),
          ['blue', '7.212', '0.1500', '0.0600'],
          ['cyan', '«7.212', '0.1500', '0.0600»'],
        ]),
      ),
    },
  ],
  'white-dark': [
    {
      text: whole(
        table('contrast c', 'patch Y', [
          ['checker-white', '«80.1»'],
          ['checker-white', '79.5'],
          ['checker-black', '0.302'],
          ['checker-black', '298'],
        ]),
      ),
      says: 'checker-white reads 79.80 on average, less than checker-black with 149.2 on average: expected it to be the brighter.',
    },
    {
      text: whole(
        table('contrast c', 'patch Y', [
          ['white', '«0.05»'],
          ['black', '120.4'],
        ]),
      ),
      says: 'white reads 0.05, less than black with 120.4: expected it to be the brighter.',
      mended: whole(
        table('contrast c', 'patch Y', [
          ['white', '120.4'],
          ['black', '0.05'],
        ]),
      ),
    },
    {
      text: whole(
        table('contrast c', 'patch Y', [
          ['black', '120.4'],
          ['white', '«<0.003»'],
        ]),
      ),
      mended: whole(
        table('contrast c', 'patch Y', [
          ['black', '<0.003'],
          ['white', '120.4'],
        ]),
      ),
    },
    {
      text: whole(
        table('contrast c', 'patch Y', [
          ['checker-black', '119'],
          ['checker-black', '121'],
          ['checker-white', '«0.5»'],
        ]),
      ),
    },
  ],
  'luminance-falls': [
    {
      text: whole(track([...rolled(4000, 800, 0, TENS.slice(0, 5)), [60, '«80»'], [70, 540], [80, 750]]), { target: PQ }),
    },
    {
      text: whole(grey(right({ 60: `60  «20.1»  ${D65}` }))),
      at: 'grey/row/5/Y',
      says: 'Y falls from 22.7 to 20.1 between 50 and 60: expected it to rise.',
    },
    {
      text: whole(['greyscale grey', '    level Y[fL]', '    50  6.62', '    60  «5.8»'].join('\n')),
      says: 'Y falls from 6.62 to 5.8 between 50 and 60: expected it to rise.',
    },
  ],
  'below-floor': [
    {
      text: whole(grey(['0  «0.0021»  -  -'])),
      at: 'grey/row/0/Y',
      says: 'Y 0.0021 is below the floor of probe (0.003 cd/m²): write <0.003.',
      mended: whole(grey(['0  <0.003  -  -'])),
    },
  ],
  'repeats-disagree': [
    {
      text: whole(grey([`50  22.7  ${D65}`, `50  «20.8»  ${D65}`, `100  120  ${D65}`])),
      at: 'grey/row/1/Y',
      says: 'Repeats at 50 differ by 1.9 cd/m²; the spread of the meter explains 0.62 cd/m².',
    },
    {
      text: whole(grey([`50  22.7  ${D65}`, '50  22.7  «0.3180»  0.3290'])),
      says: 'Repeats at 50 differ by 0.0053 in x; the spread of the meter explains 0.0023.',
    },
    // A revisit further on, and one among all repeats.
    { text: whole(grey([`50  22.7  ${D65}`, `60  35.2  ${D65}`, `50  «20.8»  ${D65}`])) },
    { text: whole(grey([`50  22.7  ${D65}`, `60  35.2  ${D65}`, `50  «20.8»  ${D65}`], 'repeat: all')) },
  ],
  'white-drift': [
    {
      text: whole(grey([`100  120  ${D65}`, `50  22.7  ${D65}`, `100  «114»  ${D65}`])),
      at: 'grey/row/2/Y',
      says: 'White went from 120 to 114 cd/m² (-5.0 %) in the run: not warmed up, or dimming?',
    },
    { text: whole(grey([`100  114  ${D65}`, `50  22.7  ${D65}`, `100  «120»  ${D65}`], 'repeat: all')) },
  ],
  'date-missing': [
    { text: shown('session 2026-03-14', '«session»')(BARE), at: 'session' },
    { text: shown('nitbook 1', '«nitbook 1»')(shown('session 2026-03-14\n', '')(BARE)) },
  ],
  'firmware-missing': [
    {
      text: shown('display\n  firmware: 1.0', '«display»')(BARE),
      mended: shown('display\n  firmware: 1.0', 'display\n  firmware: ?')(BARE),
    },
  ],
  'firmware-changed': [
    {
      text: whole(grey(right(), 'firmware: «1.1»')),
      says: 'grey was taken under firmware 1.1, the display under 1.0: compare them with care.',
    },
    {
      text: shown(
        '  firmware: 1.0\n',
        '',
      )(whole(`${grey(right(), 'firmware: 1.0')}\n${table('window w\nfirmware: «1.1»', 'window Y', [['10', '800']])}`)),
      says: 'w was taken under firmware 1.1, grey under 1.0: compare them with care.',
    },
  ],
  'meter-check-old': [
    {
      text: whole(grey(right()), { meter: 'checked: «2025-03-12»\nspread: 0.0004 xy, 0.5 %' }),
      says: 'The last check of probe was 367 days before the session; a year is customary (common practice, no source).',
    },
  ],
  'automatic-on': [
    { text: withMode('  .automatic: ambient sensor off, energy saving off, «dynamic contrast» on, dynamic tone mapping off') },
  ],
  'automatic-unsaid': [
    {
      text: shown('mode cinema', '«mode cinema»')(withMode('  Gamma: 2.4')),
      says: 'cinema does not say whether these are off: ambient sensor, energy saving, dynamic contrast, dynamic tone mapping.',
    },
    {
      text: shown('mode cinema', '«mode cinema»')(withMode('  .automatic: ambient sensor off, energy saving off')),
      says: 'cinema does not say whether these are off: dynamic contrast, dynamic tone mapping.',
    },
  ],
  'target-mismatch': [
    {
      text: shown('greyscale grey', '«greyscale grey»')(shown('mode cinema', 'mode cinema\n  Picture / Gamma: 2.2')(BARE)),
      says: 'The setting "Picture / Gamma" of cinema is 2.2, and the target dark is power 2.4.',
    },
    {
      text: whole(shown('greyscale grey', '«greyscale grey»')(grey(right())), { signal: 'mastering-peak: 1000 cd/m2' }),
      says: 'The signal sdr has a mastering peak, and the target dark is power 2.4: expected PQ or HLG.',
    },
    {
      text: whole(shown('greyscale grey', '«greyscale grey»')(grey(right())), {
        signal: 'container: bt709',
        target: 'space: bt2020\ncurve: power 2.4\nluminance: 120 cd/m2',
      }),
    },
    {
      text: shown('greyscale grey', '«greyscale grey»')(shown('mode cinema', 'mode cinema\n  .scope: HDMI 1, HDR')(BARE)),
      says: 'The mode cinema is for HDR, and the target dark is power 2.4.',
    },
    {
      text: shown(
        'mode cinema',
        'mode cinema\n  .scope: HDMI 1, SDR',
      )(whole('«contrast c»\n    patch Y\n    white 120\n    black 0.05', { target: 'space: bt2020\ncurve: pq' })),
    },
  ],
  'not-computed': [
    {
      text: whole(shown('tracking hdr', '«tracking hdr»')(track([[50, 22.7]]))),
      says: 'Tracking of hdr is not computed: it holds for PQ and HLG targets only, and the target is power 2.4.',
    },
    {
      text: whole(`«patches colours»\n    R G B Y x y\n    50 50 50 22.7 ${D65}`, { target: P24 }),
      says: 'ΔE of colours is not computed: there is no white to scale by: the target states no luminance, and there is no reading of full white in colours.',
    },
    {
      text: whole(shown('greyscale grey', '«greyscale grey»')(grey(right(), 'drift: correct'))),
      says: 'The correction of drift of grey is not computed: the drift is taken out by a white that is read at least twice, and there is none.',
    },
    {
      text: whole(shown('lag l', '«lag l»')(table('lag l', 'place lag', [['top', 12]]))),
      says: 'The deviation of l is not computed: a single reading says nothing of its scatter.',
    },
    {
      text: whole(shown('repeats r', '«repeats r»')(table('repeats r', 'patch Y', [['white', 100]]))),
      says: 'The deviation of r is not computed: a single reading says nothing of its scatter.',
    },
    { text: whole(shown('angles a', '«angles a»')(table('angles a', 'angle Y', [[30, 90]]))) },
    {
      text: whole(
        shown(
          'tracking hdr',
          '«tracking hdr»',
        )(
          track([
            [80, 500],
            [85, 600],
          ]),
        ),
        { target: PQ },
      ),
    },
    { text: whole(shown('reflectance light', '«reflectance light»')(lit([['black', 100, 0.4]]))) },
    {
      text: whole(
        shown(
          'spectrum lamp',
          '«spectrum lamp»',
        )(
          spectra([
            [400, 1, 1],
            [410, '-', 1],
            [420, 1, 1],
          ]),
        ),
      ),
      says: 'The spectrum "white" of lamp is not computed: number 2 is none.',
    },
  ],
  'gamut-driven-narrow': [
    {
      text: whole(`limits\n  gamut.coverage.p3.uv: limit 90\n  gamut.coverage.p3.xy: limit 90\n${shown('gamut g', '«gamut g»')(gamut)}`),
      says: 'The patches were driven in BT.709: coverage of P3, D65 white cannot be seen from them.',
    },
  ],
  'limit-aim': [
    {
      text: whole(`limits\n  greyscale.de.max: «aim 5, limit 3»\n${grey(right())}`),
      says: 'greyscale.de.max has aim 5, limit 3: expected an aim no larger than the limit, as smaller is better.',
      mended: whole(`limits\n  greyscale.de.max: limit 5, aim 3\n${grey(right())}`),
    },
    {
      text: whole(`limits\n  contrast.sequential: «limit 2000, aim 500»\n${grey(right())}`),
      says: 'contrast.sequential has limit 2000, aim 500: expected an aim no smaller than the limit, as larger is better.',
    },
    { text: whole(`limits\n  greyscale.balance.r@50: «aim ±5, limit ±2»\n${grey(right())}`) },
    { text: whole(`limits\n  greyscale.balance.r: «aim 5, limit 98..102»\n${grey(right())}`) },
    {
      text: whole(`limits\n  greyscale.cct: «aim 200, limit 6400..6600»\n${grey(right())}`),
      says: 'greyscale.cct has aim 200, limit 6400..6600: expected an aim inside the range of the limit.',
    },
    { text: whole(`limits\n  greyscale.white.luminance: «aim 140, limit 110..130»\n${grey(right())}`) },
    { text: whole(`limits\n  greyscale.white.luminance: «aim 100..140, limit 110..130»\n${grey(right())}`) },
    { text: whole(`limits\n  gamut.coverage.p3.uv: «aim 85..100, limit 90»\n${grey(right())}`) },
    // Which was meant is not known: no mend.
    {
      text: whole(`limits\n  gamut.coverage.p3.xy: «aim 95, limit 90»\n${grey(right())}`),
      says: 'gamut.coverage.p3.xy has aim 95, limit 90: expected an aim no larger than the limit, or a range as the limit, such as 90..100.',
    },
  ],
  'limit-row': [
    {
      text: whole(
        `limits\n  «window.peak@10»: limit 500\n${table('window w', 'window Y', [
          ['1', '800'],
          ['50', '400'],
        ])}`,
      ),
      says: '"window.peak@10" is not judged: there is no row 10 (there is 1; 50).',
    },
    { text: whole(`limits\n  «endurance.after@20min»: limit 0.5\n${held()}`) },
  ],
  'limit-measure': [
    {
      text: whole(`limits\n  «greyscale.de.maks»: limit 3\n${grey(right())}`),
      mended: whole(`limits\n  greyscale.de.max: limit 3\n${grey(right())}`),
    },
    {
      text: whole(`limits\n  «greyscale.de.max@30»: limit 3\n${grey(right())}`),
      mended: whole(`limits\n  greyscale.de.max: limit 3\n${grey(right())}`),
    },
    { text: whole(`limits\n  «brightness»: limit 3\n${grey(right())}`) },
  ],
};

describe.each(Object.entries(CASES))('%s', (code, cases) => {
  test.each(cases.map((one) => [one.text.split('\n').find((line) => line.includes('«')) ?? '', one] as const))(
    'in "%s"',
    (_, { text, at, says, mended }) => {
      const [from, to] = [text.indexOf('«'), text.indexOf('»') - 1];
      const plain = text.replace('«', '').replace('»', '');
      const { findings } = analyse(SessionText.read(plain), NO_CONFIG);
      expect(findings.map((f) => [f.code, ...f.span])).toEqual([[code, from, to]]);
      const [finding] = findings;
      if (at !== undefined) expect(finding!.at).toBe(at);
      if (says !== undefined) expect(sentence(finding!)).toBe(says);
      expect(unsaid(sentence(finding!, PSEUDO), ownWords(plain))).toEqual([]);
      if (mended !== undefined) expect(applyEdits(plain, finding!.mends[0]!.edits)).toBe(mended);
      expect(finding!.severity).toBe(CODES[code as Code].severity);
    },
  );
});

describe('a slip that makes an impossible colour is named beside it, with its mend', () => {
  test.each([
    ['X ten times too large', xyzGrey(['50', '215.8', '22.7', '24.7']), xyzGrey(['50', '21.58', '22.7', '24.7']), 'decimal-slip'],
    ['Y ten times too small', xyzGrey(['50', '21.58', '2.27', '24.7']), xyzGrey(['50', '21.58', '22.7', '24.7']), 'decimal-slip'],
    [
      'y ten times too small',
      grey(right({ 50: '50  22.7  0.3127  0.0329' })),
      grey(right({ 50: '50  22.7  0.3127  0.329' })),
      'chromaticity-stray',
    ],
  ])('%s', (_, spoilt, mended, code) => {
    const { findings } = analyse(SessionText.read(whole(spoilt)), NO_CONFIG);
    expect(findings.map((f) => f.code).sort()).toEqual([code, 'outside-locus'].sort());
    const mends = findings.flatMap((f) => f.mends);
    expect(mends.map(({ edits }) => applyEdits(whole(spoilt), edits))).toEqual([whole(mended)]);
  });
});

test('code values under a column of per cent are too high for it, and the column says why', () => {
  const codes = (column: string) =>
    whole(
      [
        'greyscale grey',
        `    ${column} Y`,
        ...[16, 60, 104, 148, 192, 235].map((code) => `    ${code} ${(120 * ((code - 16) / 219) ** 2.4).toFixed(4)}`),
      ].join('\n'),
      { signal: 'range: limited\ndepth: 8', meter: 'spread: 0.0004 xy, 0.5 %' },
    );
  const found = analyse(SessionText.read(codes('level')), NO_CONFIG).findings;
  expect(found.map((f) => f.code)).toEqual(['level-unit', 'level-range', 'level-range', 'level-range']);
  expect(sentence(found[0]!)).toBe('level goes from 16 to 235 as codes of 8 bit do: expected the column level[8bit] for that.');
  expect(applyEdits(codes('level'), found[0]!.mends[0]!.edits)).toBe(codes('level[8bit]'));
  expect(analyse(SessionText.read(codes('level[8bit]')), NO_CONFIG).findings).toEqual([]);
});

describe('range-mismatch', () => {
  const levels = [100, 0, 5, 10, 20, 30, 40, 50, 60, 70, 80, 90];
  const run = (setup: Omit<Setup, 'picture'>) =>
    table(
      'greyscale grey',
      'level Y x y',
      new Bench({ panel: aurora, seed: 'range', minutesOn: 60 })
        .run('grey')
        .greyscale({ picture: shippedPicture(aurora), ...setup }, levels),
    );
  const found = (text: string) => analyse(SessionText.read(text), NO_CONFIG).findings.map((f) => `${f.code} "${text.slice(...f.span)}"`);
  const signal = (range: string) => ({ signal: `range: ${range}\ndepth: 10`, target: P24 });

  test('says that limited range was shown as full', () => {
    expect(found(whole(run({ link: { range: 'limited', depth: 10, takenAs: 'full' } }), signal('limited')))).toEqual([
      'range-mismatch "greyscale grey"',
    ]);
  });
  test('says that full range was shown as limited', () => {
    const text = whole(run({ link: { range: 'full', depth: 10, takenAs: 'limited' } }), signal('full'));
    expect(found(text)).toEqual(['range-mismatch "greyscale grey"']);
  });
  test.each(['limited', 'full'] as const)('says nothing of %s range shown as it is', (range) => {
    expect(found(whole(run({ link: { range, depth: 10 } }), signal(range)))).toEqual([]);
  });
});

describe('near misses raise nothing', () => {
  const HLG_GREY = grey([`50  50  ${D65}`, `75  203  ${D65}`, `100  1000  ${D65}`]);
  test.each([
    [
      'a deep red that is read a hair over the locus',
      whole(table('gamut g', 'patch Y x y', [['red', '20', '0.6806', '0.3215']]), { target: '' }),
    ],
    [
      'the primaries of BT.2020',
      whole(patches('100  0  0  20  0.708  0.292'), { target: 'space: bt2020\ncurve: power 2.4\nluminance: 120 cd/m2' }),
    ],
    ['a faint colour as XYZ with few digits', whole(['greyscale grey', '    level X Y Z', '    2  0.01  0.01  0.02'].join('\n'))],
    [
      'limits that let more through than is aimed at',
      whole(
        `limits\n${[
          'greyscale.de.max: aim 3, limit 3',
          'contrast.sequential: aim 2000, limit 500',
          'greyscale.balance.r: aim ±2, limit 95..105',
          'greyscale.balance.g: aim 98..102, limit 5',
          'greyscale.cct: aim 100, limit 6300..6700',
          'greyscale.white.luminance: aim 120, limit 110..130',
          'gamut.coverage.p3.uv: aim 95, limit 90..100',
          'greyscale.de.avg: aim 1, limit 0..3',
          'greyscale.exponent: aim 2.3..2.5, limit 2.2..2.6',
        ]
          .map((line) => `  ${line}`)
          .join('\n')}\n${grey(right())}`,
      ),
    ],
    [
      'codes that stop in the dark',
      whole(
        [
          'greyscale grey',
          '    level[8bit] Y',
          ...[0, 20, 40, 60, 80, 100].map((code) => `    ${code} ${(120 * (code / 255) ** 2.4).toPrecision(4)}`),
        ].join('\n'),
        { signal: 'range: full\ndepth: 8', meter: 'spread: 0.0004 xy, 0.5 %' },
      ),
    ],
    [
      'two levels that a display shows alike: black, above its peak, and of one signal',
      whole(
        `${track([
          [0, '0.05012', '0.2812', '0.2901'],
          [1, '0.05012', '0.2812', '0.2901'],
          [50, '92.46', '0.3127', '0.3290'],
          [60, '244.2', '0.3127', '0.3290'],
          [65, '390.1', '0.3127', '0.3290'],
          [70, '603.4', '0.3127', '0.3290'],
          [80, '803.4', '0.3127', '0.3290'],
          [90, '803.4', '0.3127', '0.3290'],
          [100, '803.4', '0.3127', '0.3290'],
        ]).replace('level Y', 'level Y x y')}`,
        { target: PQ },
      ),
    ],
    ['a grey whose tint changes from black up', whole(grey(right({ 10: '10  0.478  0.2700  0.2800', 20: '20  2.52  0.3000  0.3150' })))],
    [
      'a white below what the meter sees, and a black no darker',
      whole(
        table('contrast c', 'patch Y', [
          ['white', '<0.003'],
          ['black', '<0.003'],
        ]),
      ),
    ],
    ['names of their own', whole(patchNames('Red', 'skin', '"light skin"', 'bleu'))],
    [
      'names of their own in a gamut',
      whole(
        table('gamut g', 'patch Y x y', [
          ...GAMUT_ROWS,
          ['red2', '19', '0.63', '0.33'],
          ['brick', '9', '0.5', '0.35'],
          ['teal', '30', '0.22', '0.33'],
        ]),
      ),
    ],
    [
      'words that name what was read, in a run that computes of none',
      whole(
        table('repeats r', 'patch Y x y', [
          ['White', '100', '0.31', '0.33'],
          ['White', '100.1', '0.31', '0.33'],
        ]),
      ),
    ],
    ['a level over white', whole(grey([`109  140  ${D65}`]))],
    ['a black at the floor', whole(grey(['0  0.003  -  -']))],
    ['a display that is raised near black', whole(grey(['1  0.06  -  -', '2  0.08  -  -', '3  0.11  -  -', '5  0.2  -  -', ...right()]))],
    ['a display that is crushed near black', whole(grey(['3  0.004  -  -', '5  0.009  -  -', '7  0.06  -  -', ...right()]))],
    ['a tint near the diagonal', whole(grey(RIGHT.map((row) => `${row}  0.3050  0.3060`)))],
    [
      'steps as large as between two levels far apart',
      whole(grey([`5  0.09  ${D65}`, `25  4.3  ${D65}`, `50  22.7  ${D65}`, `100  120  ${D65}`])),
    ],
    ['a luminance that falls by chance', whole(grey(right({ 90: `90  119.8  ${D65}`, 100: `100  118.5  ${D65}` })))],
    ['a luminance that falls near the floor', whole(grey(['1  0.0042  -  -', '2  0.0035  -  -', ...right()]))],
    ['a struck slip beside the right reading', whole(grey(right()).replace('    30 ', `  ~ 30  66.7  ${D65}\n    30 `))],
    ['a slip in a run that is void', whole(grey(right({ 30: `30  66.7  ${D65}` })).replace('greyscale', '~ greyscale'))],
    ['repeats within the spread', whole(grey([`50  22.7  ${D65}`, '50  22.3  0.3139  0.3290']))],
    [
      'repeats of a meter that does not say its spread',
      whole(grey([`50  22.7  ${D65}`, `50  20.7  ${D65}`]), { meter: 'kind: colorimeter' }),
    ],
    ['a white that drifts by 2 %', whole(grey([`100  120  ${D65}`, `50  22.7  ${D65}`, `100  117.8  ${D65}`]))],
    ['a check of the meter a year ago to the day', whole(grey(right()), { meter: 'checked: 2025-03-13\nspread: 0.5 %' })],
    ['the firmware of the display, said again', whole(grey(right(), 'firmware: 1.0'))],
    ['a gamma that rounds to the target', shown('mode cinema', 'mode cinema\n  Picture / Gamma: 2.40')(BARE)],
    ['a gamma that is a name', shown('mode cinema', 'mode cinema\n  Picture / Gamma: dark room')(BARE)],
    ['a gamma on a scale of its own', shown('mode cinema', 'mode cinema\n  Picture / Gamma: 0')(BARE)],
    ['an HLG target with a mastering peak', whole(HLG_GREY, { target: 'space: bt2020\ncurve: hlg', signal: 'mastering-peak: 1000 cd/m2' })],
    [
      'a PQ greyscale, of which ΔE 2000 is refused and ΔE ITP given',
      whole(grey([`50  92  ${D65}`]), { target: 'space: bt2020\ncurve: pq' }),
    ],
    [
      'a display of 800 cd/m² in PQ on a grid of 10 %, whose top lies a power of ten below its target',
      whole(track(rolled(10_000, 800, 0, TENS)), { target: PQ }),
    ],
    [
      'a display that dims its highest levels, and stays so',
      whole(track([...rolled(4000, 800, 0, TENS.slice(0, 8)), [90, 700], [100, 600]]), { target: PQ }),
    ],
    ['a limit for a row by another unit', whole(`limits\n  endurance.after@10min: limit 0.5\n${held()}`)],
    ['a white that drifts and is taken out', whole(grey([`100  120  ${D65}`, `50  22.1  ${D65}`, `100  114  ${D65}`], 'drift: correct'))],
    ['a limit for a row', whole(`limits\n  window.peak@10: limit 500\n  greyscale.de@30: limit 2\n${grey(right())}`)],
    ['coverage of what was driven', whole(`limits\n  gamut.coverage.bt709.uv: limit 90\n${gamut}`)],
  ])('%s', (_, text) => {
    expect(analyse(SessionText.read(text), NO_CONFIG).findings.map((finding) => sentence(finding))).toEqual([]);
  });

  test('a place of a grid that is still to take is said as that, not as a hole', () => {
    const text = whole(grid([...GRID_ROWS.slice(0, 8), [3, 3, '?', '?', '?']]));
    expect(analyse(SessionText.read(text), NO_CONFIG).findings.map((f) => f.code)).toEqual(['readings-to-take']);
  });

  test('firmware still to note is said as a property to note, not as missing', () => {
    const text = shown('firmware: 1.0', 'firmware: ?')(BARE);
    expect(analyse(SessionText.read(text), NO_CONFIG).findings.map((f) => f.code)).toEqual(['property-to-note']);
  });

  test('a mode that leaves to its parent what is automatic is not asked again', () => {
    const child = shown('target dark', 'mode tuned from cinema\n  Gain: 3\ntarget dark')(withMode('  Gamma: 2.4'));
    const text = `${child.replace('greyscale grey', 'greyscale grey\n  mode: cinema')}\ngreyscale more like grey\n  mode: tuned\n    level Y\n    100  120\n`;
    expect(analyse(SessionText.read(text), NO_CONFIG).findings.map((f) => `${f.code} ${f.at}`)).toEqual(['automatic-unsaid cinema']);
  });
});

describe('what a display and a careful hand may give is no slip', () => {
  const clipped = track([
    [10, 0.5, 0.313, 0.329],
    [30, 15.5, 0.313, 0.329],
    [50, 142, 0.313, 0.329],
    [60, 465, 0.313, 0.329],
    ...[70, 80, 90, 100].map((level) => [level, '1120', '0.313', '0.329']),
  ]).replace('level Y', 'level Y x y');
  const magenta = GRID_ROWS.map(([row, col, Y]) => [row!, col!, Y!, 0.304, 0.324]);
  test.each([
    ['a peak above PQ that is clipped', 'reading-copied', whole(clipped, { target: PQ })],
    ['a clipped white of SDR', 'reading-copied', whole(grey(right({ 90: '90  172  0.3083  0.3312', 100: '100  172  0.3083  0.3312' })))],
    [
      'a hue that a narrow display shows alike',
      'reading-copied',
      whole(
        table('saturation s', 'hue sat Y x y', [
          ['red', '75', '28.15', '0.6413', '0.3314'],
          ['red', '100', '28.15', '0.6413', '0.3314'],
        ]),
        { target: 'space: p3-d65\ncurve: power 2.4\nwhite: d65\nluminance: 120 cd/m2' },
      ),
    ],
    [
      'two names of one colour',
      'reading-copied',
      whole(
        table('gamut g', 'patch Y x y', [
          ...GAMUT_ROWS,
          ['white', '161.2', '0.3127', '0.3290'],
          ['white-rgb', '161.2', '0.3127', '0.3290'],
        ]),
      ),
    ],
    [
      'near black in codes, where no white is stated',
      'level-unit',
      whole(
        track([65, 70, 75, 80, 85, 90, 95, 100].map((code) => [code, (0.001 * (code - 63)).toFixed(3)])).replace(
          'level Y',
          'level[10bit] Y',
        ),
        {
          target: PQ,
          signal: 'range: limited\ndepth: 10',
        },
      ),
    ],
    ["a grid of magenta in u'v'", 'chromaticity-form', whole(shown('Y x y', "Y u' v'")(grid(magenta)))],
    [
      'names a letter away from words that are there',
      'patch-unknown',
      whole(
        table('gamut g', 'patch Y x y', [
          ...GAMUT_ROWS,
          ['black', '0.05', '0.3', '0.3'],
          ['block', '20', '0.3', '0.35'],
          ['bed', '20', '0.4', '0.35'],
        ]),
      ),
    ],
  ])('%s', (_, code, text) => {
    const codes = analyse(SessionText.read(text), NO_CONFIG).findings.map((finding) => finding.code);
    expect(codes).not.toContain(code);
  });

  test('slips of X and Z are theirs, where Y is on its trend', () => {
    const rows = RIGHT.map((row) => {
      const [level, Y] = row.split('  ') as [string, string];
      const by = level === '50' ? 0.1 : 1;
      return `    ${level}  ${(Number(Y) * 0.9505 * by).toPrecision(4)}  ${Y}  ${(Number(Y) * 1.089 * by).toPrecision(4)}`;
    });
    const text = whole(['greyscale grey', '    level X Y Z', ...rows].join('\n'));
    const found = analyse(SessionText.read(text), NO_CONFIG).findings;
    expect(found.map(({ code, at }) => `${code} ${at}`)).toEqual(['decimal-slip grey/row/4/X', 'decimal-slip grey/row/4/Z']);
  });

  test('a digit that was mistyped is not mended by changing two others about', () => {
    const rows = RIGHT.map((row) => (row.startsWith('70') ? `${row}  0.2314  0.3290` : `${row}  0.3127  0.3290`));
    const [stray] = analyse(SessionText.read(whole(grey(rows))), NO_CONFIG).findings;
    expect([stray?.code, stray?.mends.length]).toEqual(['chromaticity-stray', 0]);
  });
});

test('a blue primary changed about is no light, and the swap says why', () => {
  const text = whole(patches('0  0  100  8.66  0.06  0.15'));
  expect(analyse(SessionText.read(text), NO_CONFIG).findings.map((f) => f.code)).toEqual(['outside-locus', 'xy-swapped']);
});

describe('rows between the marks of a merge', () => {
  test('take no part in any figure', () => {
    const rows = right({ 30: `30  66.7  ${D65}` });
    const merged = [
      'greyscale grey',
      '    level Y x y',
      '<<<<<<< ours',
      ...rows.slice(0, 3).map((row) => `    ${row}`),
      '=======',
      '>>>>>>> theirs',
      ...rows.slice(3).map((row) => `    ${row}`),
    ];
    const { results, findings } = analyse(SessionText.read(whole(merged.join('\n'))), NO_CONFIG);
    expect(new Set(findings.map((f) => f.code))).toEqual(new Set(['merge-conflict']));
    expect(results[0]!.value('de', ['30'])).toMatchObject({ ok: false, why: { code: 'no-row' } });
    expect(results[0]!.value('de', ['40'])).toMatchObject({ ok: true });
  });
});

test('every code that this room raises has its cases', () => {
  const first = Object.keys(CODES).indexOf('xy-sum');
  const last = Object.keys(CODES).indexOf('claim-wrong');
  const raised = Object.keys(CODES).slice(first, last);
  expect(raised.filter((code) => !Object.hasOwn(CASES, code))).toEqual(['range-mismatch']);
});

describe('a run without a white', () => {
  const runs = (white: string) => `target dark
  space: bt709
  curve: power 2.4
  white: d65
mode cinema
greyscale grey
    level   Y         x        y
        50  22.7      0.3127   0.3290
       100  ${white}
saturation sat
    hue     sat     Y         x        y
    red     100     25.4      0.6398   0.3299
`;
  const notComputed = (text: string) => analyse(SessionText.read(text), NO_CONFIG).findings.filter(({ code }) => code === 'not-computed');

  test('is not said to be uncomputed while its white is still to take', () => {
    expect(notComputed(runs('?         ?        ?'))).toEqual([]);
  });

  test('is, once there is nothing left to take', () => {
    expect(notComputed(runs('-         -        -')).map(({ at }) => at)).toEqual(['grey', 'sat']);
  });
});

describe('a greyscale that has no target', () => {
  const run = (rows: readonly string[]) =>
    `nitbook 1\nsession 2026-03-14\ngreyscale grey\n    level   Y         x        y\n${rows.join('\n')}\n`;
  const found = (rows: readonly string[]) =>
    analyse(SessionText.read(run(rows)), NO_CONFIG)
      .findings.filter(({ code }) => code !== 'not-computed')
      .map(({ code, at }) => [code, at]);
  const ROWS = ['10  0.478', '20  2.52', '30  6.67', '40  13.3', '50  22.7', '60  35.2', '70  51.0', '80  70.2', '90  93.2', '100  120'];
  const rows = (spoilt: Readonly<Record<string, string>> = {}) => ROWS.map((row) => `    ${spoilt[row] ?? row}  0.3127  0.3290`);

  test('is plausible by itself', () => {
    expect(found(rows())).toEqual([]);
  });

  test('shows a slip of the decimal point', () => {
    expect(found(rows({ '40  13.3': '40  133' }))).toEqual([['decimal-slip', 'grey/row/3/Y']]);
  });

  test('shows a luminance that falls', () => {
    expect(found(rows({ '60  35.2': '60  20.1' }))).toEqual([['luminance-falls', 'grey/row/5/Y']]);
  });

  test('shows x and y changed about, as greys lie near D65', () => {
    const swapped = rows().map((row) => (row.includes(' 50 ') ? '    50  22.7  0.3290  0.3127' : row));
    expect(found(swapped)).toEqual([['xy-swapped', 'grey/row/4']]);
  });
});
