import { describe, expect, test } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { readConfig } from '../../src/config/readConfig';
import { isHdrRun, judgeValue, limitsFor } from '../../src/judge/limits';
import { intervalsOf } from '../../src/measure/intervals';
import type { RunResult } from '../../src/measure/result';
import { MEASURE_IDS, MEASURES as MEASURE_TABLE, type MeasureSpec, ROW_LIMITS } from '../../src/measure/specs';
import type { Value } from '../../src/measure/value';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { finish } from '../../src/uncertainty/covariance';
import { session, table } from '../measure/tools';

const MEASURES = new Set(MEASURE_IDS);
const PQ = 'space: bt2020\ncurve: pq';
const grey = table('greyscale grey', 'level Y x y', [
  [0, 0.05, '-', '-'],
  [50, 20, 0.3127, 0.329],
  [100, 100, 0.3127, 0.329],
]);
const contrast = table('contrast dark-room', 'patch Y', [
  ['white', 120],
  ['black', 0.05],
]);
const window = table('window peak', 'window Y', [
  [10, 800],
  [100, 200],
]);

interface Asked {
  readonly limits?: readonly string[];
  readonly folder?: string;
  readonly target?: string;
  readonly signal?: string;
}

/** The first run of a session, with limits in the session and the folder. */
function asked(run: string, { limits, folder, target, signal }: Asked = {}) {
  const block = limits ? ['limits', ...limits.map((line) => `  ${line}`), run].join('\n') : run;
  const bench = { ...(target === undefined ? {} : { target }), ...(signal === undefined ? {} : { signal }) };
  const config = folder === undefined ? NO_CONFIG : readConfig(`{"limits": {${folder}}}`, { measures: MEASURES }).config;
  const analysis = analyse(SessionText.read(session(block, bench)), config);
  const result = analysis.results[0]!;
  const verdict = (id: string, value: Value, key: readonly string[] = []) =>
    judgeValue(analysis.session, config, result, id, key, value).verdict;
  return {
    result: result as RunResult,
    limits: (id: string, key: readonly string[] = []) => limitsFor(analysis.session, config, result, id, key),
    judge: (id: string, value: Value, key: readonly string[] = []) => judgeValue(analysis.session, config, result, id, key, value),
    verdict,
    of: (id: string, v: number) => verdict(id, { ok: true, v }),
    isHdr: isHdrRun(analysis.session, result),
  };
}

describe('which limits hold', () => {
  test('are the defaults without any others', () => {
    expect(asked(grey).limits('de.max')).toEqual({ aim: { high: 2 }, limit: { high: 4 }, from: 'default' });
  });

  test('are those of the folder before the defaults, whole: an aim left out is none', () => {
    expect(asked(grey, { folder: '"greyscale.de.max": "limit 5"' }).limits('de.max')).toEqual({ limit: { high: 5 }, from: 'folder' });
  });

  test('are those of the session before the folder', () => {
    const both = { folder: '"greyscale.de.max": "limit 5"', limits: ['greyscale.de.max: aim 1, limit 3'] };
    expect(asked(grey, both).limits('de.max')).toEqual({ aim: { high: 1 }, limit: { high: 3 }, from: 'session' });
    expect(asked(grey, both).limits('de.avg')).toEqual({ aim: { high: 1 }, limit: { high: 3 }, from: 'default' });
  });

  test('are none for a measure that is only reported, until one is written', () => {
    expect(asked(grey).limits('exponent')).toBeUndefined();
    expect(asked(grey, { limits: ['greyscale.exponent: limit 2.35..2.45'] }).limits('exponent')).toMatchObject({ from: 'session' });
  });

  test('are read of a row by its key, whatever its digits, else of the measure', () => {
    const limits = ['window.peak@10: limit 700', 'window.peak: limit 600'];
    expect(asked(window, { limits }).limits('peak', ['10'])).toMatchObject({ limit: { high: 700 } });
    expect(asked(window, { limits }).limits('peak', ['10.0'])).toMatchObject({ limit: { high: 700 } });
    expect(asked(window, { limits }).limits('peak', ['100'])).toMatchObject({ limit: { high: 600 } });
  });

  test.each([
    ['t[s]', '600', '10min'],
    ['t[s]', '600', '0.16666666666666666h'],
    ['t[min]', '10', '600s'],
    ['t[min]', '10', '10.0'],
  ])('of a row are told by its value in the unit of the row: of %s, row %s and %s are one', (column, row, name) => {
    const hold = table('endurance hold', `${column} Y`, [
      [0, 100],
      [row, 90],
    ]);
    for (const key of [row, name]) {
      expect(asked(hold).limits('after', [key])).toEqual({ aim: { high: 0.95 }, limit: { high: 0.8 }, from: 'default' });
      expect(asked(hold, { limits: [`endurance.after@${name}: limit 0.7`] }).limits('after', [key])).toMatchObject({ from: 'session' });
      expect(asked(hold, { folder: `"endurance.after@${name}": "limit 0.7"` }).limits('after', [key])).toMatchObject({ from: 'folder' });
    }
    expect(asked(hold).limits('after', ['0'])).toBeUndefined();
    expect(asked(hold).limits('after', ['60'])).toBeUndefined();
  });

  test('of the peak at 10 % are there in HDR alone', () => {
    const mastered = { signal: 'mastering-peak: 1000 cd/m2' };
    expect(asked(window, { target: PQ }).limits('peak', ['10'])).toEqual({ aim: { high: 1000 }, limit: { high: 500 }, from: 'default' });
    expect(asked(window, mastered).limits('peak', ['10'])).toMatchObject({ from: 'default' });
    expect(asked(window).limits('peak', ['10'])).toBeUndefined();
    expect(asked(window, { target: PQ }).limits('peak', ['100'])).toBeUndefined();
  });

  test('of black differ between SDR and HDR', () => {
    expect(asked(contrast).limits('black')).toMatchObject({ aim: { high: 0.05 }, limit: { high: 0.4 } });
    expect(asked(contrast, { target: PQ }).limits('black')).toMatchObject({ aim: { high: 0.005 }, limit: { high: 0.01 } });
    expect(asked(contrast, { signal: 'mastering-peak: 4000 cd/m2' }).limits('black')).toMatchObject({ limit: { high: 0.01 } });
  });

  test('of ΔE ITP are there in HDR alone: its numbers are not those of ΔE 2000', () => {
    expect(asked(grey).limits('de.itp.avg')).toBeUndefined();
    expect(asked(grey, { target: PQ }).limits('de.itp.avg')).toEqual({ aim: { high: 3 }, limit: { high: 8 }, from: 'default' });
  });
});

test('a greyscale is HDR by its target, whatever its signal says of mastering', () => {
  expect(asked(grey, { signal: 'mastering-peak: 1000 cd/m2' }).isHdr).toBe(false);
  expect(asked(grey, { target: 'space: bt2020\ncurve: hlg' }).isHdr).toBe(true);
});

describe('a verdict', () => {
  test.each([
    ['de.max', 4, 'within'],
    ['de.max', 4.0000001, 'beyond'],
    ['balance', 105, 'within'],
    ['balance', 95, 'within'],
    ['balance', 105.001, 'beyond'],
    ['balance', 94.999, 'beyond'],
    ['curve.exponent', -0.1, 'within'],
    ['curve.exponent', 0.1001, 'beyond'],
    ['duv', -0.004, 'within'],
  ])('of %s %d is %s', (id, v, verdict) => {
    expect(asked(grey).of(id, v)).toBe(verdict);
  });

  test('of a larger measure holds at its bound', () => {
    const run = asked(contrast);
    expect([499.9, 500, 501].map((v) => run.of('sequential', v))).toEqual(['beyond', 'within', 'within']);
  });

  test('of a colour temperature is by the distance from that of the target white', () => {
    const run = asked(grey);
    const centre = run.judge('cct', { ok: true, v: 6504 }).centre;
    expect(Math.abs(centre - 6504)).toBeLessThan(1);
    expect([centre + 499, centre - 499, centre + 501, centre - 501].map((v) => run.of('cct', v))).toEqual([
      'within',
      'within',
      'beyond',
      'beyond',
    ]);
  });

  test('of a colour temperature is none where the target white has no temperature', () => {
    const run = asked(grey, { target: 'space: bt709\ncurve: power 2.4\nwhite: 0.3 0.5' });
    expect(run.of('cct', 6500)).toBe('no-number');
    const ranged = asked(grey, { target: 'space: bt709\ncurve: power 2.4\nwhite: 0.3 0.5', limits: ['greyscale.cct: limit 6000..7000'] });
    expect(ranged.of('cct', 6500)).toBe('within');
  });

  test('of a range is by its ends, closed', () => {
    const run = asked(grey, { limits: ['greyscale.exponent: aim 2.38..2.42, limit 2.3..2.5'] });
    expect([2.29, 2.3, 2.5, 2.51].map((v) => run.of('exponent', v))).toEqual(['beyond', 'within', 'within', 'beyond']);
    expect(run.judge('exponent', { ok: true, v: 2.45 })).toMatchObject({ verdict: 'within', aim: 'beyond' });
  });

  test('of the aim is none where there is no aim, and of nothing where there is no number', () => {
    const run = asked(grey, { limits: ['greyscale.de.max: limit 3'] });
    expect(run.judge('de.max', { ok: true, v: 1 })).toMatchObject({ verdict: 'within', aim: 'no-number' });
    expect(run.judge('de.max', { ok: false, why: { code: 'no-rows', args: {} } })).toMatchObject({
      verdict: 'no-number',
      aim: 'no-number',
    });
    expect(run.of('exponent', 2.4)).toBe('no-number');
    expect(run.of('no-such', 1)).toBe('no-number');
  });
});

describe('a bound', () => {
  const atLeast = (v: number): Value => ({ ok: true, v, bound: 'at-least' });
  const atMost = (v: number): Value => ({ ok: true, v, bound: 'at-most' });
  const run = asked(contrast, { limits: ['contrast.white: limit 100..200', 'contrast.checkerboard: limit 0..150'] });

  test.each([
    ['sequential', atLeast(500), 'within'],
    ['sequential', atLeast(499), 'undecided'],
    ['sequential', atMost(499), 'beyond'],
    ['sequential', atMost(500), 'undecided'],
    ['black', atMost(0.4), 'within'],
    ['black', atMost(0.41), 'undecided'],
    ['black', atLeast(0.41), 'beyond'],
    ['black', atLeast(0.4), 'undecided'],
    ['white', atLeast(150), 'undecided'],
    ['white', atLeast(201), 'beyond'],
    ['white', atMost(99), 'beyond'],
    ['white', atMost(150), 'undecided'],
    ['checkerboard', atMost(150), 'within'],
  ] as const)('%s of %o is %s', (id, value, verdict) => {
    expect(run.verdict(id, value)).toBe(verdict);
  });

  test('of a measure that is only reported counts as of a smaller one', () => {
    const reported = asked(grey, { limits: ['greyscale.black: limit 0.1'] });
    expect(reported.verdict('black', atMost(0.1))).toBe('within');
    expect(reported.verdict('black', atMost(0.2))).toBe('undecided');
  });
});

describe('two ends', () => {
  const between = (low: number, high: number): Value => ({ ok: true, v: low, ends: [low, high] });
  test('are within or beyond together, else undecided', () => {
    const run = asked(grey);
    expect(run.verdict('de.max', between(3, 4))).toBe('within');
    expect(run.verdict('de.max', between(3.9, 4.1))).toBe('undecided');
    expect(run.verdict('de.max', between(4.1, 5))).toBe('beyond');
    // Both ends outside, on either side: what lies between them may be right.
    expect(run.verdict('curve.exponent', between(-0.2, 0.2))).toBe('undecided');
    expect(run.verdict('balance', between(106, 109))).toBe('beyond');
  });
});

describe('a guard band (JCGM 106:2012, 8.3)', () => {
  const known = (v: number, ci: readonly [number, number]): Value => ({ ok: true, v, ci });
  const run = asked(grey);

  test.each([
    ['de.max', 2.9, [2.2, 3.6], 'within'],
    ['de.max', 3.4, [2.9, 4], 'within'],
    ['de.max', 3.9, [3.4, 4.4], 'undecided'],
    ['de.max', 4.1, [3.6, 4.6], 'undecided'],
    ['de.max', 4.6, [4.01, 5], 'beyond'],
    ['balance', 104, [103, 104.9], 'within'],
    ['balance', 104, [103, 105.1], 'undecided'],
    ['balance', 96, [94.9, 96.5], 'undecided'],
    ['balance', 94, [93, 94.9], 'beyond'],
    ['balance', 101, [94, 106], 'undecided'],
    ['curve.exponent', 0, [-0.09, 0.09], 'within'],
  ] as const)('lets %s of %d with %j be %s', (id, v, ci, verdict) => {
    expect(run.verdict(id, known(v, ci))).toBe(verdict);
  });

  test('of a larger measure, and of an open bound, looks at the lower end', () => {
    const pair = asked(contrast);
    expect(pair.verdict('sequential', known(560, [520, 600]))).toBe('within');
    expect(pair.verdict('sequential', known(520, [490, 550]))).toBe('undecided');
    expect(pair.verdict('sequential', { ok: true, v: 510, bound: 'at-least', ci: [498, Number.POSITIVE_INFINITY] })).toBe('undecided');
    expect(pair.verdict('sequential', { ok: true, v: 510, bound: 'at-least', ci: [501, Number.POSITIVE_INFINITY] })).toBe('within');
  });

  test('holds for the aim as well', () => {
    expect(run.judge('de.max', known(1.9, [1.5, 2.3]))).toMatchObject({ verdict: 'within', aim: 'undecided' });
    expect(run.judge('de.max', known(1.7, [1.5, 1.9]))).toMatchObject({ verdict: 'within', aim: 'within' });
  });

  describe('is kept as soon as intervals are known', () => {
    // Constructed: with an accuracy of 0.002 in x and y and 2 % in Y, "within 1" cannot be claimed even of a perfect 80 % grey.
    const meter = 'floor: 0.003 cd/m2\nspread: 0.0004 xy, 0.5 %\naccuracy: 0.002 xy, 2 %';
    const perfect = table('greyscale grey', 'level Y x y', [[80, 120 * 0.8 ** 2.4, 0.3127, 0.329]]);
    const judged = (limit: string, stated = meter) => {
      const text = session(`limits\n  greyscale.de.max: limit ${limit}\n${perfect}`, { meter: stated });
      const { session: read, results } = analyse(SessionText.read(text), NO_CONFIG);
      const of = results[0]!;
      const verdict = () => judgeValue(read, NO_CONFIG, of, 'de.max', [], of.value('de.max')).verdict;
      const before = verdict();
      finish(intervalsOf(of));
      return [before, verdict()];
    };

    test('and turns the verdict of the number into one that can be claimed', () => {
      expect(judged('1')).toEqual(['within', 'undecided']);
      expect(judged('3')).toEqual(['within', 'within']);
    });

    test('but not where the meter states no spread', () => {
      expect(judged('1', 'floor: 0.003 cd/m2')).toEqual(['within', 'within']);
    });

    test('and not of another number, such as that of a row held to the limit of the largest', () => {
      const { session: read, results } = analyse(SessionText.read(session(perfect, { meter })), NO_CONFIG);
      finish(intervalsOf(results[0]!));
      expect(judgeValue(read, NO_CONFIG, results[0]!, 'de.max', [], { ok: true, v: 4.01 }).verdict).toBe('beyond');
    });
  });
});

/** The defaults as the definitions list them: id, aim, limit; SDR, HDR or both. */
const DEFAULTS: readonly (readonly [id: string, aim: number, limit: number, of: 'both' | 'sdr' | 'hdr'])[] = [
  ['greyscale.de.avg', 1, 3, 'both'],
  ['greyscale.de.max', 2, 4, 'both'],
  ['greyscale.dc.avg', 1, 2, 'both'],
  ['greyscale.dc.max', 2, 3, 'both'],
  ['greyscale.duvstar.max', 1, 1.5, 'both'],
  ['greyscale.white.duvstar', 1.3, 4, 'both'],
  ['greyscale.balance', 2, 5, 'both'],
  ['greyscale.balance.r', 2, 5, 'both'],
  ['greyscale.balance.g', 2, 5, 'both'],
  ['greyscale.balance.b', 2, 5, 'both'],
  ['greyscale.cct', 200, 500, 'both'],
  ['greyscale.duv', 0.002, 0.004, 'both'],
  ['greyscale.curve.exponent', 0.05, 0.1, 'both'],
  ['greyscale.curve.worst', 5, 10, 'both'],
  ['greyscale.curve', 5, 10, 'both'],
  ['contrast.black', 0.05, 0.4, 'sdr'],
  ['contrast.black', 0.005, 0.01, 'hdr'],
  ['contrast.sequential', 2000, 500, 'both'],
  ['contrast.checkerboard', 150, 100, 'both'],
  ['saturation.de.avg', 2, 4, 'both'],
  ['saturation.de.max', 4, 8, 'both'],
  ['patches.de.avg', 2, 3, 'both'],
  ['patches.de.max', 4, 7, 'both'],
  ['greyscale.de.itp.avg', 3, 8, 'hdr'],
  ['saturation.de.itp.avg', 3, 8, 'hdr'],
  ['patches.de.itp.avg', 3, 8, 'hdr'],
  ['gamut.coverage.p3.uv', 95, 90, 'hdr'],
  ['tracking.stops.avg', 0.1, 0.25, 'both'],
  ['tracking.bias', 0.1, 0.25, 'both'],
  ['tracking.de.itp.avg', 3, 8, 'both'],
  ['uniformity.nonuniformity', 10, 20, 'both'],
  ['uniformity.duv', 0.004, 0.01, 'both'],
  ['angles.half', 45, 30, 'both'],
  ['lag.mean', 20, 40, 'both'],
  ['correction.check', 0.001, 0.003, 'both'],
];

test('the defaults are those of the definitions, no more and no fewer, each with its source', () => {
  const found = Object.entries(MEASURE_TABLE).flatMap(([kind, specs]) =>
    Object.entries(specs as Record<string, MeasureSpec>).flatMap(([id, { sdr, hdr, source }]) => {
      if (sdr || hdr) expect(source, `${kind}.${id}`).toBeTruthy();
      const entry = (limits: typeof sdr, of: string) => (limits ? [[`${kind}.${id}`, limits.aim, limits.limit, of]] : []);
      return JSON.stringify(sdr) === JSON.stringify(hdr) ? entry(sdr, 'both') : [...entry(sdr, 'sdr'), ...entry(hdr, 'hdr')];
    }),
  );
  const sorted = (list: readonly (readonly unknown[])[]) => list.map((entry) => entry.join(' ')).sort();
  expect(sorted(found)).toEqual(sorted(DEFAULTS));
  expect(ROW_LIMITS).toMatchObject({
    'window.peak@10': { hdr: { aim: 1000, limit: 500 } },
    'endurance.after@10min': { sdr: { aim: 0.95, limit: 0.8 }, hdr: { aim: 0.95, limit: 0.8 } },
    'angles.duv@30': { sdr: { aim: 0.004, limit: 0.01 }, hdr: { aim: 0.004, limit: 0.01 } },
  });
});
