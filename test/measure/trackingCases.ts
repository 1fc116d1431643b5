import { eetf, pqLight, type Triple, uvOf, xyzOf } from '../display/light';
import { at, type Basis, type Case, record } from './cases';
import { deltas } from './reference';
import { result, table } from './tools';

// A display of the simulator's own arithmetic: the EETF of ITU-R BT.2408 from 4,000 to 800 cd/m², read without scatter on a 5 % grid.

export const PQ = 'space: bt2020\ncurve: pq\nwhite: d65';
const HLG = 'space: bt2020\ncurve: hlg\nwhite: d65\nluminance: 1000 cd/m2';
export const GRID = Array.from({ length: 21 }, (_, i) => 5 * i);
export const FOUR_THOUSAND = 'mastering-peak: 4000 cd/m2';

/** Rows of `level Y` of a display that maps from `mastering` to `peak`, so many stops too bright. */
export const rolled = (mastering: number, peak: number, stops = 0, levels: readonly number[] = GRID): (string | number)[][] =>
  levels.map((level) => [level, level === 0 ? '<0.003' : (eetf(pqLight(level / 100), mastering, peak) * 2 ** stops).toPrecision(12)]);

export const track = (rows: readonly (readonly (string | number)[])[], columns = 'level Y', head = 'tracking hdr') =>
  table(head, columns, rows);

const ROLLED = () => result(track(rolled(4000, 800)), { target: PQ, signal: FOUR_THOUSAND });
/** Follows PQ to the top of what was sent. */
const FOLLOWS = () => result(track(rolled(10_000, 10_000, 0.2)), { target: PQ });
const TINTED: readonly (readonly [number, number, number, number])[] = [
  [30, 1.1 * pqLight(0.3), 0.31, 0.33],
  [45, pqLight(0.45), 0.3127, 0.329],
  [50, pqLight(0.5), 0.3127, 0.329],
  [80, 0.3 * pqLight(0.8), 0.3127, 0.329],
];
const COLOURED = () =>
  result(
    track(
      TINTED.map(([level, Y, x, y]) => [level, Y.toPrecision(15), x, y]),
      'level Y x y',
    ),
    { target: PQ },
  );
const POWER = () => result(track([[50, 20]]), { target: 'space: bt709\ncurve: power 2.4\nluminance: 120 cd/m2' });
const IN_HLG = () =>
  result(
    track([
      [50, 50],
      [75, 203],
      [100, 1000],
    ]),
    { target: HLG },
  );
const DARK = () =>
  result(
    track([
      [80, 500],
      [90, 600],
    ]),
    { target: PQ },
  );

const inItp = (Y: number, xy: readonly [number, number], T: number) =>
  deltas(xyzOf(xy, Y) as Triple, xyzOf([0.3127, 0.329], T), xyzOf([0.3127, 0.329], 100)).itp;
const itpAt30 = inItp(1.1 * pqLight(0.3), [0.31, 0.33], pqLight(0.3));
const uvTint = Math.hypot(...([0, 1] as const).map((i) => uvOf([0.31, 0.33])[i] - uvOf([0.3127, 0.329])[i]));

/** Two runs that differ in the mastering peak: one display that follows it, of 800 cd/m². */
export const MASTERED = (rows: Readonly<Record<'low' | 'high', readonly (readonly (string | number)[])[]>>, signal = '') =>
  `signal low from sdr
  mastering-peak: 1000 cd/m2
signal high from sdr
  mastering-peak: 10000 cd/m2${signal}
${track(rows.low, 'level Y', 'tracking low-run\nsignal: low')}
${track(rows.high, 'level Y', 'tracking high-run\nsignal: high')}`;
const FOLLOWING = () => result(MASTERED({ low: rolled(1000, 800), high: rolled(10_000, 800) }), { target: PQ }, 'low-run');
/** k of the maximum test over 15 rows, from a table of the normal distribution: the tail is (1 − 0.95^(1/15))/2 = 0.0017068. */
const K15 = 2.928;

/** Mean |d| and mean d of the display above: rows from ten times the floor (0.03 cd/m²) to the knee at 67.9 %. */
const followedStops = GRID.filter((level) => pqLight(level / 100) >= 0.03 && level < 67.8991).map((level) =>
  Math.log2(eetf(pqLight(level / 100), 4000, 800) / pqLight(level / 100)),
);
const mean = (list: readonly number[]) => list.reduce((sum, n) => sum + n, 0) / list.length;

const SIMULATED: Basis = 'independent: PQ of SMPTE ST 2084 and the EETF of ITU-R BT.2390 by the display simulator';
const WORKED: Basis = 'constructed: worked example of the definitions, EETF from 4,000 to 800 cd/m² on a 5 % grid';
const COLORJS_ITP: Basis = "independent: colorjs.io's ΔE ITP";

/** A published value of the PQ curve, as a level. */
const PQ_VALUE = record('02_pq_hlg-015');
const pqLevel = (100 * PQ_VALUE.input.signal).toFixed(12);
const AT_PUBLISHED = () => result(track([[pqLevel, 390]]), { target: PQ });

export const TRACKING: Readonly<Record<string, Case>> = {
  'tracking.stops.avg': [ROLLED, mean(followedStops.map(Math.abs)), SIMULATED, POWER, 'wrong-curve'],
  'tracking.bias': [ROLLED, mean(followedStops), SIMULATED, DARK, 'no-mid-tones'],
  'tracking.gain': [FOLLOWS, 0.2, 'constructed: every level 0.2 stop too bright', DARK, 'no-mid-tones', { within: 1e-8 }],
  'tracking.de.itp.avg': [COLOURED, mean([itpAt30, 0, 0]), COLORJS_ITP, ROLLED, 'no-colour', { within: 0.01 }],
  'tracking.de.itp.max': [COLOURED, itpAt30, COLORJS_ITP, ROLLED, 'no-colour', { within: 0.01 }],
  'tracking.peak': [
    ROLLED,
    800,
    'constructed: what the display was made to reach',
    () => result(track([[50, '?']]), { target: PQ }),
    'no-rows',
    { within: 1e-6 },
  ],
  'tracking.knee': [ROLLED, 477.04, WORKED, FOLLOWS, 'no-roll-off', { within: 0.005 }],
  'tracking.knee.level': [ROLLED, 67.8991, WORKED, FOLLOWS, 'no-roll-off', { within: 0.00005 }],
  'tracking.clip': [ROLLED, 85, WORKED, FOLLOWS, 'clip-none'],
  'tracking.clip.peak': [ROLLED, 800, WORKED, FOLLOWS, 'clip-none', { within: 1e-6 }],
  'tracking.highlight': [ROLLED, 0.8367, WORKED, FOLLOWS, 'no-mastering', { within: 0.00005 }],
  'tracking.eetf.knee': [ROLLED, 355.7, WORKED, FOLLOWS, 'no-roll-off', { within: 0.05 }],
  'tracking.eetf.knee.level': [ROLLED, 64, WORKED, IN_HLG, 'wrong-curve', { within: 0.005 }],
  'tracking.eetf.peak': [ROLLED, 800, SIMULATED, FOLLOWS, 'no-roll-off', { within: 0.01 }],
  'tracking.eetf.from': [ROLLED, 4000, SIMULATED, FOLLOWS, 'no-roll-off', { within: 0.5 }],
  'tracking.eetf.rms': [ROLLED, 0, SIMULATED, FOLLOWS, 'no-roll-off', { within: 1e-5 }],
  'tracking.metadata': [
    FOLLOWING,
    0.414,
    'constructed: worked example of the definitions, 800 cd/m² told 1,000 and 10,000, at 75 %',
    ROLLED,
    'no-sibling',
    { within: 0.0005 },
  ],
  'tracking.metadata.threshold': [
    FOLLOWING,
    (K15 * Math.SQRT2 * Math.hypot(0.005, 0.00075 / eetf(pqLight(0.75), 1000, 800))) / Math.LN2,
    'constructed: k from a table of the normal distribution, by hand for 15 rows',
    () => result(MASTERED({ low: rolled(1000, 800), high: rolled(10_000, 800) }), { target: PQ, meter: 'kind: colorimeter' }, 'low-run'),
    'no-spread',
    { within: 2e-5 },
  ],
  'tracking.stops': [
    COLOURED,
    Math.log2(0.3),
    'constructed: three tenths of the target',
    () => result(track([[0, 0]]), { target: PQ }),
    'row-zero',
    at('80', '0'),
  ],
  'tracking.de.itp': [COLOURED, itpAt30, COLORJS_ITP, COLOURED, 'above-knee', at('30', '80', 0.01)],
  'tracking.delta.uv': [COLOURED, uvTint, "independent: u', v' of CIE 15:2018, eq. 8.3, written out", ROLLED, 'row-colour', at('30', '50')],
  'tracking.target': [
    AT_PUBLISHED,
    PQ_VALUE.expected as number,
    PQ_VALUE.basis,
    () => result(track([[50, 92]]), { target: PQ }),
    'no-row',
    at(pqLevel, '60', 1e-6),
  ],
};
