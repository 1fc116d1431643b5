import { describe, expect, test } from 'vitest';
import { intervalsOf } from '../../src/measure/intervals';
import type { RunResult } from '../../src/measure/result';
import { finish } from '../../src/uncertainty/covariance';
import { analysed, number, result, session, table, valueIn, whyNot } from './tools';

// Which rows a figure and its interval are of. All values constructed: worked out by hand from the rows.

type Rows = readonly (readonly (string | number)[])[];
const SPREAD = { meter: 'spread: 0.0004 xy, 0.5 %' };
const PQ = { target: 'space: bt2020\ncurve: pq' };
const windows = (...rows: Rows) => result(table('window w', 'window Y', rows), SPREAD);
const contrast = (...rows: Rows) => result(table('contrast c', 'patch Y', rows), SPREAD);
const hold = (...rows: Rows) => result(table('endurance hold', 't[s] Y', rows), SPREAD);

function interval(of: RunResult, id: string): readonly [number, number] {
  const told = finish(intervalsOf(of)).of(id);
  if (!told?.ok) throw new Error(`no interval: ${told?.why.code}`);
  return told.ci;
}

describe('a reading taken again later is there for the drift', () => {
  test('and is neither the peak of a window run nor in its interval', () => {
    const of = windows([1, 800], [10, 810], [100, 200], [10, 900]);
    expect(number(of, 'peak')).toBe(810);
    const [lo, hi] = interval(of, 'peak');
    expect(lo).toBeLessThan(810);
    expect(lo).toBeGreaterThan(780);
    expect(hi).toBeGreaterThan(810);
    expect(hi).toBeLessThan(840);
    expect(number(of, 'full.share')).toBeCloseTo(200 / 810, 12);
  });

  test('nor the peak of a tracking run', () => {
    const rows = [
      [50, 92],
      [75, 610],
      [100, 700],
      [75, 750],
    ];
    expect(number(result(table('tracking hdr', 'level Y', rows), PQ), 'peak')).toBe(700);
  });

  test('nor a vertex of a gamut', () => {
    const rows = [
      ['red', 20, 0.64, 0.33],
      ['green', 70, 0.3, 0.6],
      ['blue', 7, 0.15, 0.06],
    ];
    const gamut = (...more: Rows) => result(table('gamut g', 'patch Y x y', [...rows, ...more]), { target: '' });
    for (const id of ['area.bt709.xy', 'coverage.bt709.uv']) {
      expect(number(gamut(), id), id).toBeCloseTo(100, 9);
      expect(number(gamut(['green', 70, 0.2, 0.7]), id), id).toBeCloseTo(100, 9);
    }
    expect(number(gamut(['lime', 70, 0.2, 0.7]), 'area.bt709.xy')).toBeGreaterThan(110);
  });
});

test('black is no vertex of a gamut, even with its name mistyped', () => {
  const gamut = (black: string) =>
    result(
      table('gamut g', 'patch Y x y', [
        ['red', 20, 0.64, 0.33],
        ['green', 70, 0.3, 0.6],
        ['blue', 7, 0.15, 0.06],
        [black, 0.05, 0.1, 0.4],
      ]),
      { target: '' },
    );
  for (const name of ['black', 'Black', 'BLACK', 'balck']) expect(number(gamut(name), 'area.bt709.xy'), name).toBeCloseTo(100, 9);
});

describe('a luminance over the range of the meter is no less than it says', () => {
  test('so that a peak is at least that, and has no upper end', () => {
    const of = windows([1, '>900'], [10, 810], [100, 200]);
    expect(valueIn(of, 'peak')).toEqual({ ok: true, v: 900, bound: 'at-least' });
    expect(interval(of, 'peak')).toEqual([900, Number.POSITIVE_INFINITY]);
  });

  test('and one that was seen may be more: then its lower end counts', () => {
    const of = windows([1, '>500'], [10, 810], [100, 200]);
    const [lo, hi] = interval(of, 'peak');
    expect(lo).toBeGreaterThan(780);
    expect(lo).toBeLessThan(810);
    expect(hi).toBe(Number.POSITIVE_INFINITY);
  });

  test('where every row is over the range, that is all that is known', () => {
    expect(interval(windows([1, '>500'], [10, '>700']), 'peak')).toEqual([700, Number.POSITIVE_INFINITY]);
  });

  test('and a full field is at most that share of it: its upper end over the least that the peak can be', () => {
    const of = windows([1, '>900'], [10, 810], [100, 200]);
    expect(valueIn(of, 'full.share')).toEqual({ ok: true, v: 200 / 900, bound: 'at-most' });
    const [lo, hi] = interval(of, 'full.share');
    expect(lo).toBe(Number.NEGATIVE_INFINITY);
    expect(hi).toBeGreaterThan(200 / 900);
    expect(hi).toBeLessThan(206 / 900);
  });
});

describe('every field of a checkerboard counts', () => {
  const fields: Rows = [
    ['checker-white', 100],
    ['checker-black', 0.4],
    ['checker-white', 110],
    ['checker-black', 0.6],
    ['checker-white', 120],
    ['checker-black', 0.5],
  ];
  // Mean of the white fields over mean of the black ones: 110 / 0.5.
  test('typed in the order of the screen, or by colour', () => {
    expect(number(contrast(...fields), 'checkerboard')).toBeCloseTo(220, 9);
    const byColour = [...fields].sort(([a], [b]) => (a! < b! ? 1 : -1));
    expect(number(contrast(...byColour), 'checkerboard')).toBeCloseTo(220, 9);
  });

  test('each as often, repeats of one side by side or not', () => {
    const rows: Rows = [
      ['checker-white', 90],
      ['checker-white', 90],
      ['checker-black', 0.5],
      ['checker-white', 120],
    ];
    expect(number(contrast(...rows), 'checkerboard')).toBeCloseTo(200, 9);
  });

  test('one that was too dark to see makes it at least so much', () => {
    const rows: Rows = [
      ['checker-white', 100],
      ['checker-black', '<0.3'],
      ['checker-white', 100],
      ['checker-black', 0.7],
    ];
    expect(valueIn(contrast(...rows), 'checkerboard')).toEqual({ ok: true, v: 200, bound: 'at-least' });
  });

  test('its interval is that of the means: the spread of three fields averages down', () => {
    const [lo, hi] = interval(contrast(...fields), 'checkerboard');
    // 1.96 times the relative spread of both means; 0.5 % of fields that are nearly alike, over √3.
    const half = (1.959964 * 0.005 * Math.hypot(1, 1)) / Math.sqrt(3);
    expect((hi - lo) / 2 / 220).toBeGreaterThan(0.95 * half);
    expect((hi - lo) / 2 / 220).toBeLessThan(1.1 * half);
  });

  test('and fields that differ are no repeats that disagree; whites that do are', () => {
    const found = (rows: Rows) => analysed(session(table('contrast c', 'patch Y', rows), SPREAD)).findings.map(({ code }) => code);
    expect(found(fields)).toEqual([]);
    expect(found([...fields].sort(([a], [b]) => (a! < b! ? 1 : -1)))).toEqual([]);
    expect(
      found([
        ['white', 100],
        ['white', 120],
        ['black', 0.05],
      ]),
    ).toEqual(['repeats-disagree']);
  });
});

describe('what is kept is a share of the first reading', () => {
  test('and is not computed while that is still to take', () => {
    const of = hold([0, '?'], [60, 950], [600, 900], [700, 900], [800, 900]);
    expect(whyNot(valueIn(of, 'after@600'))).toBe('row-open');
    expect(whyNot(valueIn(of, 'settled'))).toBe('row-open');
    expect(whyNot(valueIn(of, 'half'))).toBe('row-open');
    expect(number(of, 'settled.luminance')).toBe(900);
  });

  test('nor when the meter could not see the whole of it', () => {
    expect(whyNot(valueIn(hold([0, '>1000'], [60, 950], [600, 900]), 'after@600'))).toBe('row-unseen');
  });

  test('a row that was not measured is none, and one further on that is open does no harm', () => {
    expect(number(hold([0, '-'], [60, 950], [600, 900]), 'after@600')).toBeCloseTo(900 / 950, 12);
    expect(number(hold([0, 1000], [60, '?'], [600, 900]), 'after@600')).toBeCloseTo(0.9, 12);
  });
});
