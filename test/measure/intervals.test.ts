import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { xyYToXyz } from '../../src/colour/chromaticity';
import { deltaE2000 } from '../../src/colour/difference';
import { xyzToLab } from '../../src/colour/lab';
import type { Vec3 } from '../../src/colour/vector';
import { type Intervals, intervalsOf, knownIntervals, withInterval } from '../../src/measure/intervals';
import { colouredIn, vectorOf } from '../../src/measure/lengths';
import { METHOD_WORDS, methodOf } from '../../src/measure/methods';
import { responsesOf } from '../../src/measure/responses';
import { RunResult } from '../../src/measure/result';
import { MEASURES, type MeasureSpec } from '../../src/measure/specs';
import type { Told } from '../../src/measure/told';
import { finish, spreadOf } from '../../src/uncertainty/covariance';
import { maximumFactor } from '../../src/uncertainty/normal';
import { analysed, type Bench, result, session, table } from './tools';

const STATED = 'floor: 0.003 cd/m2\nspread: 0.0004 xy, 0.5 %\naccuracy: 0.002 xy, 2 %';
const STATED_SPREAD = 'floor: 0.003 cd/m2\nspread: 0.0004 xy, 0.5 %';

const intervalsIn = (runs: string, bench: Bench = { meter: STATED }, id?: string): { of: RunResult; intervals: Intervals } => {
  const of = result(runs, bench, id);
  return { of, intervals: finish(intervalsOf(of)) };
};

function ci(told: Told | undefined): readonly [number, number] {
  if (!told?.ok) throw new Error(`no interval: ${told?.why.code}`);
  return told.ci;
}

const why = (told: Told | undefined): string | undefined => (told?.ok === false ? told.why.code : undefined);

const grey = (rows: readonly (readonly (string | number)[])[], head = 'greyscale grey') => table(head, 'level Y x y', rows);
const luminance = (level: number) => 120 * (level / 100) ** 2.4;

describe('a meter that is off by +0.002 in x and +2 % in Y (constructed)', () => {
  const Y = luminance(80);
  const white: Vec3 = xyYToXyz(0.3127, 0.329, 120);

  test('reads ΔE 1.408 from a perfect 80 % grey, and its interval holds the 0 that is true', () => {
    const { of, intervals } = intervalsIn(grey([[80, 1.02 * Y, 0.3147, 0.329]]));
    const value = of.value('de.max');
    expect(value.ok && value.v).toBeCloseTo(1.408, 3);
    const [lo, hi] = ci(intervals.of('de.max'));
    expect(lo).toBe(0);
    expect(hi).toBeGreaterThan(1.408);
  });

  test('makes as much of an error along its accuracy as the interval of a perfect reading reaches, and more', () => {
    const { intervals } = intervalsIn(grey([[80, Y, 0.3127, 0.329]]));
    const off = deltaE2000(
      xyzToLab(white.map((v) => v * 0.8 ** 2.4) as unknown as Vec3, white),
      xyzToLab(xyYToXyz(0.3147, 0.329, 1.02 * Y), white),
    );
    expect(ci(intervals.of('de.max'))[1]).toBeGreaterThan(off);
    expect(ci(intervals.of('de.max'))[1]).toBeLessThan(2.5);
  });
});

describe('the interval of a figure by its readings', () => {
  test('of a luminance is the spread and half of the accuracy as squares, times 1.96', () => {
    const { intervals } = intervalsIn(grey([[100, 120, 0.3127, 0.329]]));
    const dark = 0.003 / 3.29;
    const sd = Math.hypot(0.005 * 120, 0.01 * 120, dark);
    expect(ci(intervals.of('white.luminance'))[1] - 120).toBeCloseTo(1.959964 * sd, 2);
    expect(120 - ci(intervals.of('white.luminance'))[0]).toBeCloseTo(1.959964 * sd, 2);
  });

  test('of a contrast does not know what white and black share', () => {
    const run = table('contrast c', 'patch Y', [
      ['white', 120],
      ['black', 0.4],
    ]);
    const [, hi] = ci(intervalsIn(run).intervals.of('sequential'));
    const [, withoutAccuracy] = ci(intervalsIn(run, { meter: STATED_SPREAD }).intervals.of('sequential'));
    expect(hi).toBeCloseTo(withoutAccuracy, 6);
    expect(hi / 300 - 1).toBeGreaterThan(1.959964 * Math.hypot(0.005, 0.005) - 1e-4);
  });

  test('of a contrast over a black at the floor is as lopsided as it has to be', () => {
    const run = table('contrast c', 'patch Y', [
      ['white', 120],
      ['black', 0.006],
    ]);
    const [lo, hi] = ci(intervalsIn(run, { meter: STATED_SPREAD }).intervals.of('sequential'));
    const sd = Math.sqrt(spreadOf({ spread: { xy: 0, Y: 0.005 }, floor: 0.003 }, [0.006, 0.006, 0.006])[3]);
    expect(20_000 - lo).toBeGreaterThan(20_000 - 120 / (0.006 + 1.959964 * sd) - 1);
    expect(hi - 20_000).toBeGreaterThan(120 / (0.006 - 1.959964 * sd) - 20_000 - 1);
    expect((hi - 20_000) / (20_000 - lo)).toBeGreaterThan(1.5);
  });

  test('of an exponent is that of the straight sum that it is (independent propagation)', () => {
    const levels = [10, 20, 30, 40, 50, 60, 70, 80, 90, 100];
    const { intervals } = intervalsIn(grey(levels.map((level) => [level, luminance(level), 0.3127, 0.329])), {
      meter: 'spread: 0.0004 xy, 0.5 %',
    });
    const xs = levels.slice(0, -1).map((level) => Math.log(level / 100));
    const xx = xs.reduce((sum, x) => sum + x * x, 0);
    const x = xs.reduce((sum, v) => sum + v, 0);
    // γ = Σx·ln(Y/Yw)/Σx²: each row by its x, white by all of them.
    const sd = (0.005 * Math.sqrt(xx + x * x)) / xx;
    const [lo, hi] = ci(intervals.of('exponent'));
    expect((hi - lo) / 2).toBeCloseTo(1.959964 * sd, 4);
  });

  test('narrows with repeats where it is spread, and not where it is accuracy', () => {
    const rows = (n: number) => grey(Array.from({ length: n }, () => [100, 120, 0.3127, 0.329]));
    const width = (n: number, meter: string) => {
      const [lo, hi] = ci(intervalsIn(rows(n), { meter }).intervals.of('white.luminance'));
      return hi - lo;
    };
    const spread = 'spread: 0.0004 xy, 0.5 %';
    expect(width(4, spread) / width(1, spread)).toBeCloseTo(0.5, 6);
    expect(width(16, `${spread}\naccuracy: 0.002 xy, 2 %`) / (2 * 1.959964 * 1.2)).toBeCloseTo(Math.hypot(1, 0.125), 2);
  });

  test('narrows with readings of one patch that stand apart, where the run takes them together', () => {
    const rows = [100, 50, 100, 50, 100, 50, 100].map((level) => [level, luminance(level), 0.3127, 0.329]);
    const { intervals } = intervalsIn(grey(rows, 'greyscale grey\nrepeat: all'), { meter: 'spread: 0.0004 xy, 0.5 %' });
    const [lo, hi] = ci(intervals.of('white.luminance'));
    expect((hi - lo) / 2).toBeCloseTo((1.959964 * 0.6) / 2, 4);
  });

  test('is there where a reading near the floor might as well be none: then it is open as far as light goes', () => {
    const run = table('contrast c', 'patch Y', [
      ['white', 120],
      ['black', 0.001],
    ]);
    const [lo, hi] = ci(intervalsIn(run).intervals.of('sequential'));
    expect(lo).toBeLessThan(60_000);
    expect(hi).toBeGreaterThan(10_000_000);
  });

  test('of a drift does not know what the meter shares, whatever the run says of repeats', () => {
    const run = grey(
      [
        [100, 120, 0.3127, 0.329],
        [50, 23, 0.3127, 0.329],
        [100, 121, 0.3127, 0.329],
      ],
      'greyscale grey\nrepeat: all',
    );
    const [lo, hi] = ci(intervalsIn(run).intervals.of('drift'));
    expect((hi - lo) / 2).toBeCloseTo(100 * 1.959964 * Math.hypot(0.005, 0.005), 1);
  });
});

describe('a run that is scaled by its own white', () => {
  const own = { target: 'space: bt709\ncurve: power 2.4\nwhite: d65', meter: STATED };
  const rows = [
    [100, 120, 0.3127, 0.329],
    [50, luminance(50) * 1.1, 0.3127, 0.329],
  ] as const;

  test('does not know the accuracy in Y of its meter, but the spread of that white', () => {
    const stated = ci(intervalsIn(grey(rows)).intervals.ofRow('curve', 1));
    const scaled = ci(intervalsIn(grey(rows), own).intervals.ofRow('curve', 1));
    expect((stated[1] - stated[0]) / 2).toBeCloseTo(110 * 1.959964 * Math.hypot(0.005, 0.01), 1);
    expect((scaled[1] - scaled[0]) / 2).toBeCloseTo(110 * 1.959964 * Math.hypot(0.005, 0.005), 1);
  });

  test('has no doubt of the luminance of that white against itself', () => {
    const { intervals } = intervalsIn(grey(rows), own);
    expect(why(intervals.ofRow('curve', 0))).toBe('stated');
    // What is left of ΔE is of chromaticity.
    const luminanceTaken = ci(intervals.ofRow('dc', 0))[1];
    expect(Math.abs(ci(intervals.ofRow('de', 0))[1] - luminanceTaken)).toBeLessThan(0.05);
  });

  test('knows it the better the more often it was read', () => {
    const light = { target: own.target, meter: 'spread: 0.00001 xy, 0.5 %' };
    const width = (times: number) => {
      const whites = Array.from({ length: times }, () => rows[0]!);
      const [lo, hi] = ci(intervalsIn(grey([...whites, rows[1]!]), light).intervals.ofRow('de', 1));
      return hi - lo;
    };
    expect(width(1) / width(4)).toBeCloseTo(Math.sqrt(2 / 1.25), 1);
  });

  test('or by a white that another run lends, shares its errors with it', () => {
    const saturation = table('saturation sat\nmeter: probe', 'hue sat Y x y', [['green', 100, 110, 0.3, 0.6]]);
    const light = 'spread: 0.0001 xy, 0.5 %\naccuracy: 2 %';
    const widths = (lender: string) => {
      const text = session(`${grey(rows, `greyscale grey\nmeter: ${lender}`)}\n\n${saturation}`, { ...own, meter: light });
      const other = `meter other\n${light.replace(/^/gm, '  ')}\nmode cinema`;
      const intervals = finish(intervalsOf(analysed(text.replace('mode cinema', other)).results.find(({ run }) => run.id === 'sat')!));
      return [intervals.of('de.max'), intervals.ofRow('delta.l', 0)].map((told) => ci(told)[1] - ci(told)[0]) as [number, number];
    };
    // The accuracy of another meter comes on top of the own one's, which does not cancel any more: √(½² + ½² + 1² + 1²) for √(½² + ½²) %.
    const [same, apart] = [widths('probe'), widths('other')];
    expect(apart[0] / same[0]).toBeCloseTo(Math.sqrt(5), 0);
    expect(apart[1] / same[1]).toBeCloseTo(Math.sqrt(5), 1);
  });
});

describe('a black below the floor', () => {
  test('leaves both ends, and the interval holds both with what is uncertain of them', () => {
    const run = grey([
      [0, '<0.003', '-', '-'],
      [10, 0.5, 0.3127, 0.329],
      [50, 23, 0.3127, 0.329],
      [100, 120, 0.3127, 0.329],
    ]);
    const { of, intervals } = intervalsIn(run, { meter: STATED_SPREAD });
    const value = of.value('exponent');
    if (!value.ok || !value.ends) throw new Error('no ends');
    const [lo, hi] = ci(intervals.of('exponent'));
    expect(lo).toBeLessThan(value.ends[0]);
    expect(hi).toBeGreaterThan(value.ends[1]);
  });

  test('under a target that stands on it makes two of all, and the interval is that of both', () => {
    const bench = { target: 'space: bt709\ncurve: bt1886\nwhite: d65', meter: 'floor: 0.003 cd/m2\nspread: 0.00001 xy, 0.5 %' };
    // BT.1886 asks for 0.478 and 0.612 cd/m² at 10 % (constructed): a reading that is near the one is off the other.
    for (const Y of [0.478, 0.612]) {
      const run = grey([
        [0, '<0.003', '-', '-'],
        [10, Y, 0.3127, 0.329],
        [100, 120, 0.3127, 0.329],
      ]);
      const { of, intervals } = intervalsIn(run, bench);
      for (const id of ['de.max', 'curve.worst']) {
        const value = of.value(id);
        if (!value.ok || !value.ends) throw new Error('no ends');
        const [lo, hi] = ci(intervals.of(id));
        expect(lo, `${id} ${Y}`).toBeLessThan(value.ends[0]);
        expect(hi, `${id} ${Y}`).toBeGreaterThan(value.ends[1]);
        expect(hi - lo, `${id} ${Y}`).toBeGreaterThan(value.ends[1] - value.ends[0]);
      }
    }
  });

  test('makes a contrast "at least", of which the interval is open above', () => {
    const run = table('contrast c', 'patch Y', [
      ['white', 120],
      ['black', '<0.003'],
    ]);
    const { of, intervals } = intervalsIn(run);
    expect(ci(intervals.of('sequential'))).toEqual([
      expect.closeTo(40_000 * (1 - 1.959964 * Math.hypot(0.005, 0.01)), -1),
      Number.POSITIVE_INFINITY,
    ]);
    expect(why(intervals.of('black'))).toBe('stated');
    expect(withInterval(of, 'sequential', [], of.value('sequential'))).toMatchObject({ bound: 'at-least', v: 40_000 });
  });
});

describe('the largest and the farthest', () => {
  test('of luminances lies between the largest lower and upper ends of all of them at once', () => {
    const run = table('window w', 'window Y', [
      [2, 800],
      [10, 800],
      [100, 200],
    ]);
    const [lo, hi] = ci(intervalsIn(run, { meter: 'spread: 0.0004 xy, 0.5 %' }).intervals.of('peak'));
    const reach = maximumFactor(3) * 0.005 * 800;
    expect(hi - 800).toBeCloseTo(reach, 2);
    expect(800 - lo).toBeCloseTo(reach, 2);
  });

  test('channel may be on either side where its size may be 0, and has the side that was seen elsewhere', () => {
    const tinted = (x: number) => ci(intervalsIn(grey([[50, 23, x, 0.329]]), { meter: STATED_SPREAD }).intervals.of('balance'));
    const [lo, hi] = tinted(0.3127);
    expect(100 - lo).toBeCloseTo(hi - 100, 9);
    expect(tinted(0.3227)[0]).toBeGreaterThan(100);
    const blue = tinted(0.3027);
    expect(blue[0] > 100 || blue[1] < 100).toBe(true);
  });

  test('fall of luminance over a grid that is even to the spread may be none', () => {
    const cells = [1, 2, 3].flatMap((r) => [1, 2, 3].map((c) => [r, c, 100 + 0.3 * Math.sin(7 * r + 3 * c), 0.3127, 0.329]));
    const [lo, hi] = ci(intervalsIn(table('uniformity u', 'row col Y x y', cells)).intervals.of('nonuniformity'));
    expect(lo).toBe(0);
    expect(hi).toBeLessThan(5);
  });
});

describe('readings that were taken again and again', () => {
  const run = (values: readonly number[], kind = 'lag lag', column = 'lag') =>
    table(
      kind,
      column,
      values.map((v) => [v]),
    );

  test('have a mean with 2.78 standard errors either way of 5 (JCGM 100:2008, Table G.2)', () => {
    const values = [9.8, 10.1, 10.0, 10.3, 9.8];
    const { of, intervals } = intervalsIn(run(values), {});
    const se = of.value('se');
    const [lo, hi] = ci(intervals.of('mean'));
    expect((hi - lo) / 2 / (se.ok ? se.v : Number.NaN)).toBeCloseTo(2.776, 3);
    expect(why(intervals.of('median'))).toBe('few');
    expect(why(intervals.of('n'))).toBe('counted');
  });

  test('share the accuracy of the meter where they are luminances, which their scatter does not show', () => {
    const repeats = (meter: string) => {
      const text = table(
        'repeats r',
        'Y x y',
        [100, 100.1, 99.9, 100].map((Y) => [Y, 0.3127, 0.329]),
      );
      const [lo, hi] = ci(intervalsIn(text, { meter }).intervals.of('mean'));
      return (hi - lo) / 2;
    };
    expect(repeats(STATED)).toBeCloseTo(Math.hypot(repeats(STATED_SPREAD), 1.959964 * 1), 6);
  });

  test('say nothing when they are one', () => {
    expect(why(intervalsIn(run([9.8]), {}).intervals.of('mean'))).toBe('few');
  });
});

describe('there is no interval, and a reason', () => {
  const rows = grey([[100, 120, 0.3127, 0.329]]);

  test('where the meter states no spread', () => {
    const { intervals } = intervalsIn(rows, { meter: 'floor: 0.003 cd/m2' });
    expect(intervals.of('de.max')).toEqual({ ok: false, why: { code: 'no-spread', args: { meter: 'probe' } } });
    expect(intervals.of('white.luminance')).toMatchObject({ ok: false, why: { code: 'no-spread' } });
    expect(intervals.ofRow('balance.r', 0)).toMatchObject({ ok: false, why: { code: 'no-spread' } });
  });

  test('of figures of chromaticity where it states the spread of luminance alone, and the other way round', () => {
    const light = intervalsIn(rows, { meter: 'spread: 0.5 %' }).intervals;
    expect([why(light.of('white.luminance')), why(light.of('cct')), why(light.of('de.max'))]).toEqual([
      undefined,
      'no-spread-of',
      'no-spread-of',
    ]);
    const colour = intervalsIn(rows, { meter: 'spread: 0.0004 xy' }).intervals;
    expect([why(colour.of('white.luminance')), why(colour.of('cct')), why(colour.of('de.max'))]).toEqual([
      'no-spread-of',
      undefined,
      'no-spread-of',
    ]);
    expect(why(colour.ofRow('delta.uv', 0))).toBeUndefined();
    expect(why(light.ofRow('delta.uv', 0))).toBe('no-spread-of');
    expect(why(light.ofRow('curve', 0))).toBeUndefined();
    expect(why(colour.ofRow('curve', 0))).toBe('no-spread-of');
  });

  test('of chroma and hue near grey, where the readings cannot tell to which side', () => {
    const patches = table('patches p', 'patch R[8bit] G[8bit] B[8bit] Y x y', [
      ['white', 255, 255, 255, 120, 0.3127, 0.329],
      ['grey', 128, 128, 128, 23, 0.3128, 0.329],
      ['red', 200, 60, 60, 20, 0.48, 0.33],
    ]);
    const { intervals } = intervalsIn(patches, { meter: STATED_SPREAD, signal: 'range: full\ndepth: 8' });
    expect(why(intervals.ofRow('delta.c', 1))).toBe('folded');
    expect(why(intervals.ofRow('delta.c', 2))).toBeUndefined();
    expect(why(intervals.ofRow('delta.l', 1))).toBeUndefined();
  });

  test('for the kinds of figures that the table of methods lists, each with its reason', () => {
    const listed = Object.entries(MEASURES).flatMap(([kind, specs]) =>
      Object.entries(specs as Record<string, MeasureSpec>).flatMap(([id, { scope }]) => {
        const method = methodOf(kind, id, scope === 'row' ? 'row' : 'run');
        if (method.by !== 'none') expect(METHOD_WORDS[method.by].length, `${kind}.${id}`).toBeGreaterThan(0);
        return method.by === 'none' ? [`${kind}.${id}: ${method.why}`] : [];
      }),
    );
    // Measures that are held to a limit by default have an interval.
    for (const name of listed) {
      const [kind, id] = name.split(':')[0]!.split(/\.(.*)/s) as [string, string];
      const { sdr, hdr } = (MEASURES as Record<string, Record<string, MeasureSpec>>)[kind]![id]!;
      expect(sdr ?? hdr, name).toBeUndefined();
    }
    expect(listed).toContain('tracking.clip: tested');
    expect(listed.length).toBeLessThan(45);
  });
});

describe('the error vectors of distances', () => {
  const bt1886 = { target: 'space: bt709\ncurve: bt1886\nwhite: d65', meter: STATED };
  const runs: readonly (readonly [string, string, Bench])[] = [
    ['greyscale', grey([0, 5, 20, 50, 100].map((level) => [level, 0.06 + luminance(level), 0.314, 0.327])), bt1886],
    [
      'saturation',
      table('saturation s', 'hue sat Y x y', [
        ['white', 0, 119, 0.314, 0.33],
        ['red', 50, 40, 0.47, 0.33],
        ['blue', 100, 9, 0.152, 0.061],
      ]),
      { meter: STATED },
    ],
    [
      'tracking',
      table('tracking t', 'level Y x y', [
        [10, 0.3, 0.313, 0.329],
        [50, 95, 0.312, 0.33],
        [58, 210, 0.311, 0.328],
      ]),
      { target: 'space: bt2020\ncurve: pq', meter: STATED },
    ],
  ];

  test.each(runs)('of a %s are as long as the row figures', (_, text, bench) => {
    const of = result(text, bench);
    let compared = 0;
    for (const [id, { scope }] of Object.entries(of.specs)) {
      const c = of.contexts.map((context) => colouredIn(context, id))[0];
      if (scope === 'run' || !c) continue;
      const list = of.rows(id)!;
      for (let i = 0; i < list.length; i++) {
        if (Number.isNaN(list[i]!)) continue;
        const { X, Y, Z } = c.patches;
        expect(Math.hypot(...vectorOf(c, id, i)([X[i]!, Y[i]!, Z[i]!])), `${id} of row ${i}`).toBeCloseTo(list[i]!, 9);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(3);
  });

  test.each([
    [
      'uniformity',
      table(
        'uniformity u',
        'row col Y x y',
        [1, 2, 3].flatMap((r) => [1, 2, 3].map((c) => [r, c, 100, 0.31 + 0.001 * r, 0.33 - 0.001 * c])),
      ),
      'duv',
    ],
    [
      'angles',
      table(
        'angles a',
        'angle Y x y',
        [-30, 0, 30].map((a) => [a, 100 - Math.abs(a), 0.31 + 0.0002 * a, 0.33]),
      ),
      'shift',
    ],
    [
      'gamut',
      table('gamut g', 'patch Y x y', [
        ['red', 20, 0.63, 0.33],
        ['white', 100, 0.31, 0.33],
      ]),
      'delta.uv',
    ],
  ])('of a run of %s are as well', (_, text, id) => {
    const of = result(text, { meter: STATED });
    const list = of.rows(id)!;
    const vector = of.vectorsIn(of.context!, id)!;
    for (let i = 0; i < list.length; i++) expect(Math.hypot(...vector(i)), `row ${i}`).toBeCloseTo(list[i]!, 12);
    expect(ci(finish(intervalsOf(of)).ofRow(id, 0))[1]).toBeGreaterThan(list[0]!);
  });
});

describe('a long run', () => {
  const levels = Array.from({ length: 200 }, (_, i) => (i + 1) / 2);
  const rows = levels.map((level) => [level, luminance(level), 0.3127, 0.329]);
  const bench = { meter: STATED_SPREAD, target: 'space: bt709\ncurve: power 2.4\nwhite: d65\nluminance: 120 cd/m2' };

  test('has intervals of sums that are good to a quarter, though its patches are moved in groups', () => {
    const { intervals } = intervalsIn(grey(rows), bench);
    const [lo, hi] = ci(intervals.of('exponent'));
    const xs = levels.filter((level) => level >= 10 && level <= 90).map((level) => Math.log(level / 100));
    const xx = xs.reduce((sum, x) => sum + x * x, 0);
    const x = xs.reduce((sum, v) => sum + v, 0);
    const sd = (0.005 * Math.sqrt(xx + x * x)) / xx;
    expect((hi - lo) / 2 / (1.959964 * sd)).toBeGreaterThan(0.75);
    expect((hi - lo) / 2 / (1.959964 * sd)).toBeLessThan(1.25);
  });

  test('has the same intervals of rows as a short one', () => {
    const { intervals: long } = intervalsIn(grey(rows), bench);
    const { intervals: short } = intervalsIn(grey([rows[99]!, rows[199]!]), bench);
    for (const id of ['de', 'balance.b', 'curve', 'cct']) {
      const [a, b] = [ci(long.ofRow(id, 99)), ci(short.ofRow(id, 0))];
      expect(a[0], id).toBeCloseTo(b[0], 6);
      expect(a[1], id).toBeCloseTo(b[1], 6);
    }
  });
});

describe('all rows moved together', () => {
  const files = ['aurora-55', 'meadow-65'].map((name) => readFileSync(`examples/${name}.nitbook`, 'utf8'));
  const runs = files.flatMap((text) => analysed(text).results).filter(({ context }) => context !== undefined);

  test('give rows what they have one after the other: nothing but their own reading, and those that stand by themselves, moves them', () => {
    let compared = 0;
    for (const of of runs) {
      const lists = Object.entries(of.specs).flatMap(([id, { scope }]) =>
        scope !== 'run' && methodOf(of.run.kind, id, 'row').by === 'readings' ? [id] : [],
      );
      // A group of rows has a figure of them all, and a straight line hangs on all of its readings.
      const own = lists.filter((id) => of.specs[id]!.by === undefined);
      if (own.length === 0) continue;
      const [alone, together] = [false, true].map((which) => finish(responsesOf(of, { lists: own }, which)));
      for (const id of own) {
        const [a, b] = [alone!.lists.get(id)![0]!, together!.lists.get(id)![0]!];
        for (let i = 0; i < a.list.length; i++) {
          if (!Number.isFinite(a.list[i]!)) continue;
          const width = a.interval(i)[1] - a.interval(i)[0];
          expect(Math.abs(b.interval(i)[0] - a.interval(i)[0]), `${of.run.kind}.${id} ${i}`).toBeLessThanOrEqual(1e-6 * width);
          compared++;
        }
      }
    }
    expect(compared).toBeGreaterThan(500);
  });
});

test('a figure of a group of rows, and one on a line through all, knows that they err apart', () => {
  const rows = [1, 2, 3, 4].map((k) => ['red', 20 * k, 30 + 5 * k, 0.3127 + 0.06 * k, 0.329]);
  const { intervals } = intervalsIn(table('saturation s', 'hue sat Y x y', rows), { meter: STATED_SPREAD });
  const width = ([lo, hi]: readonly [number, number]) => hi - lo;
  const single = [0, 1, 2, 3].map((i) => width(ci(intervals.ofRow('delta.l', i))));
  expect(width(ci(intervals.ofRow('hue.delta.l', 0)))).toBeCloseTo(Math.hypot(...single) / 4, 3);
  const light = table('reflectance r', 'patch illuminance Y', [
    ['white', 0, 100],
    ['white', 1000, 103],
    ['black', 0, 0.1],
    ['black', 1000, 3.1],
  ]);
  // White under light and in the dark, each with its own spread.
  const { intervals: lit } = intervalsIn(light, { meter: 'spread: 0.0004 xy, 0.5 %' });
  expect(width(ci(lit.ofRow('contrast', 1))) / (103 / 3.1)).toBeCloseTo(2 * 1.959964 * Math.hypot(0.005, 0.005), 2);
});

describe('the second phase', () => {
  const run = grey([0, 10, 50, 100].map((level) => [level, 0.05 + luminance(level), 0.314, 0.327]));

  test('dropped half way leaves nothing, and what is computed later is the same', () => {
    const of = result(run, { meter: STATED });
    const slices = intervalsOf(of);
    for (let i = 0; i < 5; i++) expect(slices.next().done).toBe(false);
    slices.return(undefined as never);
    expect(knownIntervals(of)).toBeUndefined();
    const again = finish(intervalsOf(of));
    const fresh = finish(intervalsOf(result(run, { meter: STATED })));
    for (const id of Object.keys(of.specs)) expect(again.of(id), id).toEqual(fresh.of(id));
  });

  test('is done once a result, and never by looking', () => {
    const of = result(run, { meter: STATED });
    expect(withInterval(of, 'de.max', [], of.value('de.max'))).not.toHaveProperty('ci');
    const intervals = finish(intervalsOf(of));
    expect(knownIntervals(of)).toBe(intervals);
    expect(finish(intervalsOf(of))).toBe(intervals);
    expect(withInterval(of, 'de.max', [], of.value('de.max'))).toHaveProperty('ci');
    expect(withInterval(of, 'de', ['50'], of.value('de', ['50']))).toHaveProperty('ci');
  });

  test('changes nothing of the readings that it moves', () => {
    const of = result(run, { meter: STATED });
    const before = JSON.stringify([...of.context!.patches.X, ...of.context!.patches.Y, ...of.rows('de')!]);
    finish(intervalsOf(of));
    expect(JSON.stringify([...of.context!.patches.X, ...of.context!.patches.Y, ...of.rows('de')!])).toBe(before);
    const anew = new RunResult(of.session, of.run);
    expect(anew.value('de.avg')).toEqual(of.value('de.avg'));
  });
});
