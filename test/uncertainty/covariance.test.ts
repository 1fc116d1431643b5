import { describe, expect, test } from 'vitest';
import { xyYToXyz, xyzToXy } from '../../src/colour/chromaticity';
import type { Vec3 } from '../../src/colour/vector';
import { type ErrorRows, errorRows, finish, type ScaleReading, sharedOf, spreadOf, xyYDirections } from '../../src/uncertainty/covariance';
import { de2000From, deItpFrom, duvFrom } from '../../src/uncertainty/errorVector';
import { stream } from '../display/random';
import { METERS } from './coverage';

const meter = { spread: { xy: 0.0004, Y: 0.005 }, accuracy: { xy: 0.002, Y: 0.02 } };
const xyz = xyYToXyz(0.31, 0.33, 50);
const names = ['x', 'y', 'Y'] as const;
const WHITE = xyYToXyz(0.3127, 0.329, 120);

describe('the errors of a meter', () => {
  test('move X, Y, Z as a change of x, of y and of Y does', () => {
    const h = 1e-6;
    const [dx, dy, dlnY] = xyYDirections(xyz);
    const moved = [xyYToXyz(0.31 + h, 0.33, 50), xyYToXyz(0.31, 0.33 + h, 50), xyYToXyz(0.31, 0.33, 50 * (1 + h))];
    [dx, dy, dlnY].forEach((direction, i) => {
      for (let k = 0; k < 3; k++) expect((moved[i]![k]! - xyz[k]!) / h).toBeCloseTo(direction[k]!, 2);
    });
  });

  test('are what readings scatter by (20,000 draws of the model)', () => {
    const chance = stream('scatter');
    const session = METERS[0]!.session(chance);
    const readings = Array.from({ length: 20_000 }, () => session(xyz));
    const sd = (of: (v: Vec3) => number): number => {
      const list = readings.map(of);
      const mean = list.reduce((a, b) => a + b) / list.length;
      return Math.sqrt(list.reduce((s, v) => s + (v - mean) ** 2, 0) / list.length);
    };
    expect(sd((v) => xyzToXy(v)[0]) / 0.0004).toBeCloseTo(1, 1);
    expect(sd((v) => xyzToXy(v)[1]) / 0.0004).toBeCloseTo(1, 1);
    expect(sd((v) => v[1]) / (0.005 * 50)).toBeCloseTo(1, 1);
  });

  test('average down with repeats where they are spread, and do not where they are shared', () => {
    const one = spreadOf(meter, xyz);
    const four = spreadOf(meter, xyz, 4);
    one.forEach((v, i) => {
      expect(four[i]).toBeCloseTo(v / 4, 12);
    });
    expect(sharedOf(meter, xyz)[2][1]).toBeCloseTo(0.01 * 50, 12);
  });

  test('have half of the accuracy as standard deviation, as that is stated for k = 2', () => {
    const [x, y, Y] = sharedOf(meter, xyz);
    const at = ([X, L, Z]: Vec3): Vec3 => [xyz[0] + X, xyz[1] + L, xyz[2] + Z];
    expect(xyzToXy(at(x))[0] - 0.31).toBeCloseTo(0.001, 9);
    expect(xyzToXy(at(y))[1] - 0.33).toBeCloseTo(0.001, 5);
    expect(at(Y)[1] / 50).toBeCloseTo(1.01, 12);
  });

  test('grow towards the floor: at the floor a luminance is 3.29 deviations from dark', () => {
    const dark = xyYToXyz(0.3127, 0.329, 0.003);
    const spread = spreadOf({ spread: { xy: 0.0004, Y: 0 }, floor: 0.003 }, dark);
    expect(0.003 / Math.sqrt(spread[3])).toBeCloseTo(3.29, 10);
  });
});

describe('the rows of a run', () => {
  const target = xyYToXyz(0.3127, 0.329, 48);
  const one = (options: Parameters<typeof errorRows>[2], errorOf = de2000From(target, WHITE)) =>
    finish(errorRows(1, () => ({ xyz, errorOf }), options));

  test('have the covariance that the errors of simulated readings have', () => {
    const chance = stream('errors');
    const session = METERS[0]!.session(chance);
    const errorOf = de2000From(target, WHITE);
    const rows = one({ meter: METERS[0]!.states, names });
    const draws = Array.from({ length: 20_000 }, () => errorOf(session(xyz)));
    const mean = [0, 1, 2].map((k) => draws.reduce((s, e) => s + e[k]!, 0) / draws.length);
    const pairs = [
      [0, 0],
      [0, 1],
      [0, 2],
      [1, 1],
      [1, 2],
      [2, 2],
    ] as const;
    pairs.forEach(([i, j], at) => {
      const found = draws.reduce((s, e) => s + (e[i]! - mean[i]!) * (e[j]! - mean[j]!), 0) / draws.length;
      const size = Math.sqrt(rows.spread[[0, 3, 5][i]!]! * rows.spread[[0, 3, 5][j]!]!);
      expect(Math.abs(found - rows.spread[at]!) / size).toBeLessThan(0.03);
    });
  });

  /** Rows whose target and white are those of a white of 120 cd/m² that was read. */
  const scaledBy = (scale: Partial<ScaleReading>, read = xyz) => {
    const at = (Lw: number) => de2000From(xyYToXyz(0.3127, 0.329, (48 * Lw) / 120), xyYToXyz(0.3127, 0.329, Lw));
    const scaled = [[at(121.2), at(118.8)]] as const;
    const reading = { name: 'white', spread: 0.6, accuracy: 1.2, commonWith: 'Y', step: 1.2, ...scale };
    return finish(errorRows(1, () => ({ xyz: read, errorOf: at(120), scaled }), { meter, names, scale: [reading] }));
  };
  const norm = ({ shared, sources }: ErrorRows, name: string) => {
    const at = 3 * sources.indexOf(name);
    return Math.hypot(...shared.subarray(at, at + 3));
  };

  test('scaled by a white of their meter do not know the error in Y, but the spread of that white', () => {
    const whole = one({ meter, names });
    const own = scaledBy({});
    expect(norm(whole, 'Y')).toBeGreaterThan(0.2);
    expect(norm(own, 'Y')).toBeLessThan(0.003);
    expect(norm(own, 'white')).toBeCloseTo(norm(whole, 'Y') / 2, 2);
    expect(own.sources).toEqual(['x', 'y', 'Y', 'white']);
  });

  test('scaled by a white of another meter know both errors in Y, each for itself', () => {
    const lent = scaledBy({ commonWith: 'Y of another' });
    expect(norm(lent, 'Y')).toBeCloseTo(norm(one({ meter, names }), 'Y'), 12);
    expect(norm(lent, 'Y of another')).toBeCloseTo(norm(lent, 'Y'), 2);
    expect(lent.sources).toEqual(['x', 'y', 'Y', 'Y of another', 'white']);
  });

  test('are off in chromaticity alone where they are that white themselves', () => {
    // The white as read, 120 cd/m²: whatever its luminance is, it is that of its target.
    const at = (Lw: number) => de2000From(xyYToXyz(0.3127, 0.329, Lw), xyYToXyz(0.3127, 0.329, Lw));
    const white = xyYToXyz(0.31, 0.33, 120);
    const scale = { name: 'white', spread: 0.6, accuracy: 1.2, commonWith: 'Y', step: 1.2 };
    const rows = (row: number | undefined) => {
      const reading = { xyz: white, errorOf: at(120), scaled: [[at(121.2), at(118.8)]] as const };
      return finish(errorRows(1, () => reading, { meter, names, scale: [{ ...scale, ...(row === undefined ? {} : { row }) }] }));
    };
    const [own, taken] = [rows(0), rows(undefined)];
    expect(own.spread[0]).toBeLessThan(1e-12);
    expect(norm(own, 'white')).toBeLessThan(0.01);
    expect(taken.spread[0]).toBeGreaterThan(0.01);
    expect(norm(taken, 'white')).toBeGreaterThan(0.1);
    expect(own.spread[3]).toBeCloseTo(taken.spread[3]!, 4);
  });

  test('have the error in Y in full in ΔE ITP, and none of it in u′v′', () => {
    expect(norm(one({ meter, names }, deItpFrom(target)), 'Y')).toBeGreaterThan(0.5);
    const uv = one({ meter, names }, duvFrom([0.3127, 0.329]));
    expect(norm(uv, 'Y')).toBeLessThan(1e-6);
    expect(uv.spread[5]).toBe(0);
  });

  test('are NaN where there is no reading, and come in slices of 16', () => {
    const slices = errorRows(80, (i) => (i === 70 ? undefined : { xyz, errorOf: duvFrom([0.3127, 0.329]) }), { meter, names });
    const done: number[] = [];
    for (;;) {
      const step = slices.next();
      if (step.done) {
        expect(step.value.error[3 * 70]).toBeNaN();
        expect(step.value.error[3 * 71]).not.toBeNaN();
        break;
      }
      done.push(step.value);
    }
    expect(done).toEqual([16, 32, 48, 64]);
  });
});
