import { eetf, pqLight, pqSignal, type Triple, uvOf, xyzOf } from '../display/light';
import { at, type Case } from './cases';
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

export const TRACKING: Readonly<Record<string, Case>> = {
  'tracking.stops.avg': [ROLLED, mean(followedStops.map(Math.abs)), POWER, 'wrong-curve'],
  'tracking.bias': [ROLLED, mean(followedStops), DARK, 'no-mid-tones'],
  'tracking.gain': [FOLLOWS, 0.2, DARK, 'no-mid-tones', { within: 1e-8 }],
  'tracking.de.itp.avg': [COLOURED, mean([itpAt30, 0, 0]), ROLLED, 'no-colour', { within: 0.01 }],
  'tracking.de.itp.max': [COLOURED, itpAt30, ROLLED, 'no-colour', { within: 0.01 }],
  'tracking.peak': [ROLLED, 800, () => result(track([[50, '?']]), { target: PQ }), 'no-rows', { within: 1e-6 }],
  // The knee and its level are worked examples of the definitions (constructed).
  'tracking.knee': [ROLLED, 477.04, FOLLOWS, 'no-roll-off', { within: 0.005 }],
  'tracking.knee.level': [ROLLED, 67.8991, FOLLOWS, 'no-roll-off', { within: 0.00005 }],
  'tracking.clip': [ROLLED, 85, FOLLOWS, 'clip-none'],
  'tracking.clip.peak': [ROLLED, 800, FOLLOWS, 'clip-none', { within: 1e-6 }],
  // 0.8367 (constructed).
  'tracking.highlight': [ROLLED, (0.85 - pqSignal(203)) / (pqSignal(4000) - pqSignal(203)), FOLLOWS, 'no-mastering'],
  // 0.6400 of PQ, 355.7 cd/m² (constructed).
  'tracking.eetf.knee': [ROLLED, 355.7, FOLLOWS, 'no-roll-off', { within: 0.05 }],
  'tracking.eetf.knee.level': [ROLLED, 64, IN_HLG, 'wrong-curve', { within: 0.005 }],
  'tracking.eetf.peak': [ROLLED, 800, FOLLOWS, 'no-roll-off', { within: 0.01 }],
  'tracking.eetf.from': [ROLLED, 4000, FOLLOWS, 'no-roll-off', { within: 0.5 }],
  'tracking.eetf.rms': [ROLLED, 0, FOLLOWS, 'no-roll-off', { within: 1e-5 }],
  // 0.414 stop at 75 % (constructed).
  'tracking.metadata': [FOLLOWING, 0.414, ROLLED, 'no-sibling', { within: 0.0005 }],
  'tracking.metadata.threshold': [
    FOLLOWING,
    (K15 * Math.SQRT2 * Math.hypot(0.005, 0.00075 / eetf(pqLight(0.75), 1000, 800))) / Math.LN2,
    () => result(MASTERED({ low: rolled(1000, 800), high: rolled(10_000, 800) }), { target: PQ, meter: 'kind: colorimeter' }, 'low-run'),
    'no-spread',
    { within: 2e-5 },
  ],
  'tracking.stops': [COLOURED, Math.log2(0.3), () => result(track([[0, 0]]), { target: PQ }), 'row-zero', at('80', '0')],
  'tracking.de.itp': [COLOURED, itpAt30, COLOURED, 'above-knee', at('30', '80', 0.01)],
  'tracking.delta.uv': [COLOURED, uvTint, ROLLED, 'row-colour', at('30', '50')],
  'tracking.target': [COLOURED, pqLight(0.8), () => result(track([[50, 92]]), { target: PQ }), 'no-row', at('80', '60', 1e-6)],
};
