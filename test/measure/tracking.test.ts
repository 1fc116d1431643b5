import { describe, expect, test } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { eetf, pqLight } from '../display/light';
import { RECORDS } from '../published/records';
import { analysed, number, result, session, table, valueIn, whyNot } from './tools';
import { FOUR_THOUSAND, GRID, MASTERED, PQ, rolled, track } from './trackingCases';

const LEVELS = GRID.filter((level) => level > 0 && level <= 75);

describe('what a display does with highlights', () => {
  test('is said in words: a roll-off of the EETF, where it clips, and what it keeps apart', () => {
    expect(result(track(rolled(4000, 800)), { target: PQ, signal: FOUR_THOUSAND }).says()).toEqual([
      'The display leaves the curve of its mid-tones at 67.9 %, 477 cd/m².',
      'The display rolls off as the EETF of ITU-R BT.2408 does from 4000 to 800 cd/m², starting at 356 cd/m² (within 0 stop).',
      'The display shows all levels from 85 % on as 800 cd/m².',
      'The display keeps 83.7 % of the highlights mastered up to 4000 cd/m² apart.',
    ]);
  });

  test('counts as no error above the knee: a display that rolls off has the figures of one that was not asked for more', () => {
    const whole = result(track(rolled(4000, 800)), { target: PQ });
    const low = result(
      track(
        rolled(
          4000,
          800,
          0,
          GRID.filter((level) => level <= 65),
        ),
      ),
      { target: PQ },
    );
    expect(number(whole, 'stops.avg')).toBeCloseTo(number(low, 'stops.avg'), 12);
    expect(number(whole, 'stops@100')).toBeCloseTo(Math.log2(0.08), 6);
  });

  test('is at least so much where the levels end below the clip', () => {
    const run = result(track(rolled(4000, 800, 0, LEVELS)), { target: PQ, signal: FOUR_THOUSAND });
    expect(valueIn(run, 'highlight')).toMatchObject({ ok: true, bound: 'at-least' });
  });

  test('of rows below the floor or over the range of the meter says nothing', () => {
    const seen = rolled(4000, 800, 0, LEVELS);
    const unseen = [[0, '<0.003'], ...seen, [80, '>700'], [90, '?']];
    for (const id of ['knee.level', 'stops.avg', 'bias'])
      expect(valueIn(result(track(unseen), { target: PQ }), id)).toEqual(valueIn(result(track(seen), { target: PQ }), id));
  });
});

describe('HLG', () => {
  test('takes the system gamma of the peak of the display: that of the target, else its own 100 % reading', () => {
    // BT.2100 Note 5f: 1.2 at 1,000 cd/m², 1.2 + 0.42·log10(0.6) at 600. Half signal is 1/12 of scene light (BT.2100 Table 5).
    const gammaAt = (peak: number) => 1.2 + 0.42 * Math.log10(peak / 1000);
    const half = (peak: number) => peak * (1 / 12) ** gammaAt(peak);
    const rows = [
      [50, half(600).toPrecision(12)],
      [100, 600],
    ];
    const own = result(track(rows), { target: 'space: bt2020\ncurve: hlg' });
    expect(number(own, 'target@50')).toBeCloseTo(half(600), 6);
    expect(number(own, 'stops@50')).toBeCloseTo(0, 9);
    expect(own.againstText()).toBe('dark: BT.2020, HLG, white of the space, white 600 cd/m² (read in hdr)');
    const stated = result(track(rows), { target: 'space: bt2020\ncurve: hlg\nluminance: 1000 cd/m2' });
    expect(number(stated, 'target@50')).toBeCloseTo(half(1000), 6);
  });

  test.each(RECORDS.filter(({ fn }) => fn === 'hlg75Luminance').map((record) => [record.input.Lw as number, record] as const))(
    'shows 75 %% on a display of %d cd/m² as EBU R 167 v1.1, table 1.1, prints it',
    (peak, { expected, tolerance }) => {
      const run = result(
        track([
          [75, 100],
          [100, peak],
        ]),
        { target: 'space: bt2020\ncurve: hlg' },
      );
      expect(Math.abs(number(run, 'target@75') - (expected as number))).toBeLessThanOrEqual(tolerance);
    },
  );

  test('has no mastering metadata to follow', () => {
    const run = result(
      track([
        [50, 50],
        [100, 1000],
      ]),
      { target: 'space: bt2020\ncurve: hlg' },
    );
    for (const id of ['highlight', 'metadata', 'eetf.peak']) expect(whyNot(valueIn(run, id))).toBe('wrong-curve');
  });
});

describe('metadata', () => {
  const low = rolled(1000, 800);
  const high = rolled(10_000, 800);
  const says = (rows: Parameters<typeof MASTERED>[0], id = 'low-run') => result(MASTERED(rows), { target: PQ }, id).says().at(-1);

  test('is followed by a display whose levels differ: in words, with the difference and what chance explains', () => {
    expect(says({ low, high })).toBe(
      'The display minds the mastering peak it is told: 0.414 stop between 1000 and 10000 cd/m² at 75 %, beyond 0.03.',
    );
  });

  test('is spoken of once, by the first of the runs', () => {
    expect(says({ low, high }, 'high-run')).not.toContain('mastering peak it is told');
    expect(result(MASTERED({ low, high }), { target: PQ }, 'high-run').value('metadata')).toMatchObject({ ok: true });
  });

  test('is ignored by one that shows the same', () => {
    expect(says({ low: high, high })).toBe(
      'The display shows the same picture whatever mastering peak it is told, 1000 or 10000 cd/m²: at most 0 stop apart, within 0.08.',
    );
  });

  test('is judged on runs scaled by their repeated 203 cd/m² patch: one that faded as a whole shows the same', () => {
    const white = (scale: number) => [[58, (scale * eetf(pqLight(0.58), 10_000, 800)).toPrecision(12)]];
    const faded = high.map(([level, Y]) => [level!, typeof Y === 'string' && Y.startsWith('<') ? Y : (0.9 * Number(Y)).toPrecision(12)]);
    const rows = { low: [...white(0.9), ...white(0.9), ...faded], high: [...white(1), ...high, ...white(1)] };
    expect(says(rows)).toContain('shows the same picture');
    expect(says({ low: faded, high })).toContain('minds the mastering peak');
  });

  test('cannot be told apart while a dynamic tone mapping is on', () => {
    const text = session(MASTERED({ low, high }), { target: PQ }).replace('dynamic tone mapping off', 'dynamic tone mapping on');
    expect(analysed(text).results[0]!.says().at(-1)).toBe(
      'The display adapts its tone mapping to the picture, so that what it makes of metadata cannot be told apart.',
    );
  });

  test('is not compared where the signals differ in more', () => {
    const run = result(MASTERED({ low, high }, '\n  window: 25 %'), { target: PQ }, 'low-run');
    expect(whyNot(valueIn(run, 'metadata'))).toBe('no-sibling');
  });

  test('hangs on the other run: what is typed there changes it here', () => {
    const text = session(MASTERED({ low, high }), { target: PQ });
    const before = SessionText.read(text);
    const metadata = (source: SessionText) => analyse(source, NO_CONFIG).results[0]!.value('metadata');
    metadata(before);
    const at = text.lastIndexOf(`    75  ${high[15]![1]}`);
    const edit = { span: [at, at + 6] as const, text: '  ~ 75' };
    const after = before.change([edit]);
    expect(metadata(after)).toEqual(metadata(SessionText.read(after.text)));
    expect(metadata(after)).not.toEqual(metadata(before));
  });
});

test('a tracking run in code values needs the range of its signal, and is held against what was sent', () => {
  const codes = table('tracking hdr', 'level[10bit] Y', [[512, 92]]);
  expect(whyNot(valueIn(result(codes, { target: PQ }), 'bias'))).toBe('signal-range');
  expect(number(result(codes, { target: PQ, signal: 'range: limited\ndepth: 10' }), 'target@512')).toBeCloseTo(
    pqLight((512 - 64) / 876),
    6,
  );
});
