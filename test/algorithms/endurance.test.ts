import { describe, expect, test } from 'vitest';
import { halfOfDrop, overFirst, settled } from '../../src/algorithms/endurance';
import { expectRefused, resultOf } from './expectations';

const held = (rows: readonly (readonly [t: number, Y: number])[], u = 0.001) => ({
  times: rows.map(([t]) => t),
  luminance: rows.map(([, Y]) => Y),
  u: rows.map(() => u),
});

// Worked by hand: 1,000 falls to 800, half of the drop is 900.
const FALL = held([
  [0, 1000],
  [60, 950],
  [120, 850],
  [300, 804],
  [600, 800],
  [900, 798],
]);

describe('a picture held over time', () => {
  test('keeps what its rows say, over the first reading', () => {
    expect([...resultOf(overFirst(FALL))]).toEqual([1, 0.95, 0.85, 0.804, 0.8, 0.798]);
    expect([
      ...resultOf(
        overFirst(
          held([
            [0, Number.NaN],
            [5, 50],
            [9, 25],
          ]),
        ),
      ),
    ]).toEqual([Number.NaN, 1, 0.5]);
  });

  test('settles at the median of the last three, from the first time on that all are within a hundredth of it', () => {
    expect(resultOf(settled(FALL))).toEqual({ level: 800, share: 0.8, from: 300 });
    // 808 is a hundredth from 800, which still counts; 809 is not.
    expect(
      resultOf(
        settled(
          held([
            [0, 1000],
            [1, 808],
            [2, 800],
            [3, 800],
          ]),
        ),
      ),
    ).toMatchObject({ from: 1 });
    expect(
      resultOf(
        settled(
          held([
            [0, 1000],
            [1, 809],
            [2, 800],
            [3, 800],
            [4, 800],
          ]),
        ),
      ),
    ).toMatchObject({ from: 2 });
    // Three standard uncertainties of 2 %.
    expect(
      resultOf(
        settled(
          held(
            [
              [0, 1000],
              [1, 840],
              [2, 800],
              [3, 800],
            ],
            0.02,
          ),
        ),
      ),
    ).toMatchObject({ from: 1 });
    expect(
      resultOf(
        settled(
          held([
            [5, 10],
            [5, 10],
            [5, 10],
          ]),
        ),
      ),
    ).toEqual({ level: 10, share: 1, from: 5 });
  });

  test('has done half of its drop, not lost half of its light, between two rows (worked by hand)', () => {
    // From 950 at 60 s to 850 at 120 s: 900 at 90 s.
    expect(resultOf(halfOfDrop(FALL))).toBeCloseTo(90, 12);
    // Counted from the first reading, whenever that was.
    const later = { ...FALL, times: FALL.times.map((t) => t + 1000) };
    expect(resultOf(halfOfDrop(later))).toBeCloseTo(90, 12);
    // A reading at half exactly is the time itself.
    expect(
      resultOf(
        halfOfDrop(
          held([
            [0, 100],
            [10, 90],
            [20, 80],
            [30, 80],
            [40, 80],
          ]),
        ),
      ),
    ).toBe(10);
  });

  test('that falls exponentially has done half at ln 2 of its time (constructed)', () => {
    const rows = Array.from({ length: 301 }, (_, i): [number, number] => [2 * i, 1000 * (1 - 0.15 * (1 - Math.exp((-2 * i) / 90)))]);
    expect(resultOf(halfOfDrop(held(rows)))).toBeCloseTo(90 * Math.LN2, 0);
    expect(resultOf(settled(held(rows))).share).toBeCloseTo(0.85, 3);
  });

  test('is refused when time runs backwards: a slip in one of two rows', () => {
    for (const of of [overFirst, settled, halfOfDrop])
      expectRefused(
        of(
          held([
            [0, 10],
            [60, 9],
            [30, 8],
          ]),
        ),
        'time-backwards',
        { t: 30, before: 60 },
      );
    expectRefused(
      overFirst(
        held([
          [0, 10],
          [Number.NaN, 9],
        ]),
      ),
      'not-finite',
      { at: 2 },
    );
  });

  test('says no more than that readings are wholly uncertain, however much they are', () => {
    const two = [
      [0, 100],
      [1, 90],
    ] as const;
    for (const u of [0.4, 1e300, Number.POSITIVE_INFINITY]) expectRefused(settled(held(two, u)), 'not-settled', { percent: 100 });
  });

  test('has no settled level while it moves, and no half without a drop', () => {
    expectRefused(
      settled(
        held([
          [0, 100],
          [1, 90],
          [2, 80],
          [3, 70],
        ]),
      ),
      'not-settled',
      { percent: 1 },
    );
    expectRefused(
      settled(
        held([
          [0, 100],
          [1, 100],
        ]),
      ),
      'not-settled',
    );
    expectRefused(
      halfOfDrop(
        held([
          [0, 100],
          [1, 90],
          [2, 80],
        ]),
      ),
      'not-settled',
    );
    expectRefused(
      halfOfDrop(
        held([
          [0, 100],
          [1, 99.5],
          [2, 99.5],
          [3, 99.5],
        ]),
      ),
      'no-drop',
      { percent: 1 },
    );
    expectRefused(
      halfOfDrop(
        held([
          [0, 100],
          [1, 110],
          [2, 110],
          [3, 110],
        ]),
      ),
      'no-drop',
    );
    expectRefused(overFirst(held([[0, Number.NaN]])), 'too-few-rows');
    expectRefused(overFirst({ ...FALL, u: [] }), 'lengths-differ');
  });
});
