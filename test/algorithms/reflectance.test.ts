import { describe, expect, test } from 'vitest';
import { reflectionOf, underLight } from '../../src/algorithms/reflectance';
import { expectRefused, resultOf } from './expectations';

const read = (rows: readonly (readonly [E: number, Y: number])[]) => ({
  illuminance: rows.map(([E]) => E),
  luminance: rows.map(([, Y]) => Y),
});

describe('light from the room', () => {
  test('is reflected in proportion: ρ = π·ΔL/ΔE (Lambert; worked by hand)', () => {
    const found = resultOf(
      reflectionOf(
        read([
          [0, 0.05],
          [100, 1.05],
        ]),
      ),
    );
    expect(found.dark).toBeCloseTo(0.05, 12);
    expect(found.perLux).toBeCloseTo(0.01, 12);
    expect(found.reflectance).toBeCloseTo(0.01 * Math.PI, 12);
    // Least squares through (0, 0), (1, 1), (2, 5): slope 2.5, at 0 −0.5.
    expect(
      resultOf(
        reflectionOf(
          read([
            [0, 0],
            [1, 1],
            [2, 5],
          ]),
        ),
      ),
    ).toMatchObject({ perLux: 2.5, dark: -0.5 });
    // Open rows take no part.
    expect(
      resultOf(
        reflectionOf(
          read([
            [0, 1],
            [50, Number.NaN],
            [10, 2],
          ]),
        ),
      ).perLux,
    ).toBeCloseTo(0.1, 12);
  });

  test('lifts black and white alike and takes the contrast (worked by hand)', () => {
    const white = read([
      [0, 200],
      [100, 201],
    ]);
    const black = read([
      [0, 0.1],
      [100, 1.1],
    ]);
    const at50 = resultOf(underLight(50, white, black));
    expect(at50.white).toBeCloseTo(200.5, 12);
    expect(at50.black).toBeCloseTo(0.6, 12);
    expect(at50.contrast).toBeCloseTo(200.5 / 0.6, 9);
    expect(resultOf(underLight(0, white, black)).contrast).toBeCloseTo(2000, 6);
    expect(resultOf(underLight(400, white, black)).black).toBeCloseTo(4.1, 12);
  });

  test('of a patch read under one light only is that of the other patch', () => {
    const black = read([
      [0, 0.1],
      [100, 1.1],
    ]);
    expect(resultOf(underLight(50, read([[0, 200]]), black)).white).toBeCloseTo(200.5, 12);
    expect(resultOf(underLight(50, read([[100, 201]]), black)).white).toBeCloseTo(200.5, 12);
    expect(
      resultOf(
        underLight(
          50,
          read([
            [0, 200],
            [100, 201],
          ]),
          read([[0, 0]]),
        ),
      ).black,
    ).toBeCloseTo(0.5, 12);
  });

  test('is refused where no line can be drawn, or one that falls', () => {
    expectRefused(reflectionOf(read([[100, 1]])), 'no-illuminance');
    expectRefused(
      reflectionOf(
        read([
          [100, 1],
          [100, 2],
        ]),
      ),
      'no-illuminance',
    );
    expectRefused(
      reflectionOf(
        read([
          [0, 2],
          [100, 1],
        ]),
      ),
      'light-lowers',
    );
    expectRefused(
      reflectionOf(
        read([
          [-1, 2],
          [100, 1],
        ]),
      ),
      'illuminance-negative',
      { lx: -1 },
    );
    expectRefused(underLight(50, read([[0, 200]]), read([[0, 0.1]])), 'no-illuminance');
    expectRefused(
      underLight(
        50,
        read([]),
        read([
          [0, 0.1],
          [10, 1],
        ]),
      ),
      'no-illuminance',
    );
    expectRefused(
      underLight(
        -5,
        read([[0, 200]]),
        read([
          [0, 0.1],
          [1, 1],
        ]),
      ),
      'illuminance-negative',
    );
    expectRefused(
      underLight(
        0,
        read([[0, 200]]),
        read([
          [0, 0],
          [10, 1],
        ]),
      ),
      'no-light',
    );
    expectRefused(
      underLight(
        0,
        { illuminance: [1], luminance: [] },
        read([
          [0, 0],
          [10, 1],
        ]),
      ),
      'lengths-differ',
    );
  });
});
