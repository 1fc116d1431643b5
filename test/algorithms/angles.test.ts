import { describe, expect, test } from 'vitest';
import { halfAngle, kept, shifts } from '../../src/algorithms/angles';
import { deltaUv } from '../../src/colour/chromaticity';
import { expectRefused, resultOf } from './expectations';

const seen = (rows: readonly (readonly [angle: number, Y: number])[]) => ({
  angles: rows.map(([angle]) => angle),
  luminance: rows.map(([, Y]) => Y),
});

describe('a picture from the side', () => {
  test('keeps a share of its luminance on the axis, wherever that row stands', () => {
    expect([
      ...resultOf(
        kept(
          seen([
            [30, 75],
            [0, 100],
            [60, Number.NaN],
            [-30, 80],
          ]),
        ),
      ),
    ]).toEqual([0.75, 1, Number.NaN, 0.8]);
  });

  test('shifts from its chromaticity on the axis', () => {
    const found = resultOf(
      shifts(
        seen([
          [0, 1],
          [30, 1],
          [45, 1],
        ]),
        [[0.3127, 0.329], undefined, [0.31, 0.32]],
      ),
    );
    expect([...found]).toEqual([0, Number.NaN, deltaUv([0.3127, 0.329], [0.31, 0.32])]);
  });

  test('has half left where straight lines between the rows say (worked by hand)', () => {
    // 60 at 30°, 40 at 40°: half at 35°.
    expect(
      resultOf(
        halfAngle(
          seen([
            [40, 40],
            [0, 100],
            [30, 60],
            [60, 10],
          ]),
        ),
      ),
    ).toEqual({ angle: 35, reached: true });
    // Half exactly at a row.
    expect(
      resultOf(
        halfAngle(
          seen([
            [0, 100],
            [30, 50],
            [60, 50],
          ]),
        ),
      ),
    ).toEqual({ angle: 30, reached: true });
    // The first row outwards that has half or less, even if it is brighter farther out.
    expect(
      resultOf(
        halfAngle(
          seen([
            [0, 100],
            [20, 50],
            [40, 90],
            [60, 10],
          ]),
        ),
      ),
    ).toEqual({ angle: 20, reached: true });
  });

  test('loses half first on its worse side; a side that was not seen far enough limits what is known', () => {
    expect(
      resultOf(
        halfAngle(
          seen([
            [-40, 20],
            [-20, 60],
            [0, 100],
            [20, 80],
            [60, 40],
          ]),
        ),
      ),
    ).toEqual({ angle: 25, reached: true });
    expect(
      resultOf(
        halfAngle(
          seen([
            [-30, 90],
            [0, 100],
            [60, 40],
          ]),
        ),
      ),
    ).toEqual({ angle: 30, reached: false });
    expect(
      resultOf(
        halfAngle(
          seen([
            [-50, 90],
            [0, 100],
            [40, 40],
          ]),
        ),
      ),
    ).toMatchObject({ reached: true });
    expect(
      resultOf(
        halfAngle(
          seen([
            [0, 100],
            [45, 70],
          ]),
        ),
      ),
    ).toEqual({ angle: 45, reached: false });
  });

  test('that falls with cos^n has half left at acos(2^(−1/n)) (constructed)', () => {
    const n = Math.log(0.5) / Math.log(Math.cos((38 * Math.PI) / 180));
    const rows = Array.from({ length: 81 }, (_, a): [number, number] => [a, 100 * Math.cos((a * Math.PI) / 180) ** n]);
    expect(resultOf(halfAngle(seen(rows))).angle).toBeCloseTo(38, 6);
    const every5 = resultOf(halfAngle(seen(rows.filter(([a]) => a % 5 === 0))));
    expect(every5.angle).toBeCloseTo(38, 0);
  });

  test('is refused without light on the axis, with an angle read twice, with nothing off the axis', () => {
    expectRefused(kept(seen([[10, 5]])), 'no-axis');
    expectRefused(
      kept(
        seen([
          [0, 0],
          [10, 5],
        ]),
      ),
      'no-axis',
    );
    expectRefused(
      kept(
        seen([
          [0, 1],
          [10, 5],
          [10, 4],
        ]),
      ),
      'angle-repeated',
      { angle: 10 },
    );
    expectRefused(
      kept(
        seen([
          [0, 1],
          [Number.NaN, 5],
        ]),
      ),
      'not-finite',
      { at: 2 },
    );
    expectRefused(
      halfAngle(
        seen([
          [0, 1],
          [10, Number.NaN],
        ]),
      ),
      'too-few-rows',
    );
    expectRefused(
      shifts(
        seen([
          [0, 1],
          [10, 1],
        ]),
        [undefined, [0.3, 0.3]],
      ),
      'no-axis',
    );
    expectRefused(shifts(seen([[0, 1]]), []), 'lengths-differ');
  });
});
