import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { invert, type Mat3, multiply, multiplyMatrices, type Vec3 } from '../../src/colour/vector';

const IDENTITY: Mat3 = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

const number = fc.double({ min: -10, max: 10, noNaN: true });
const vec3 = fc.tuple(number, number, number) as fc.Arbitrary<Vec3>;
const mat3 = fc.tuple(vec3, vec3, vec3) as fc.Arbitrary<Mat3>;

describe('matrices', () => {
  test('multiply a vector row by row', () => {
    const m: Mat3 = [
      [1, 2, 3],
      [4, 5, 6],
      [7, 8, 10],
    ];
    expect(multiply(m, [1, 10, 100])).toEqual([321, 654, 1087]);
    expect(multiplyMatrices(m, IDENTITY)).toEqual(m);
    expect(multiplyMatrices(IDENTITY, m)).toEqual(m);
  });

  test('a product does what its right and then its left factor do', () => {
    fc.assert(
      fc.property(mat3, mat3, vec3, (a, b, v) => {
        const once = multiply(multiplyMatrices(a, b), v);
        const twice = multiply(a, multiply(b, v));
        for (let i = 0; i < 3; i++) expect(Math.abs(once[i]! - twice[i]!)).toBeLessThan(1e-9);
      }),
      { seed: 3 },
    );
  });

  test('an inverse undoes its matrix, in any unit', () => {
    const m: Mat3 = [
      [0.4, 0.3, 0.2],
      [0.2, 0.7, 0.1],
      [0.02, 0.1, 0.9],
    ];
    for (const unit of [1e-6, 1, 1e6]) {
      const scaled = m.map((row) => row.map((v) => v * unit)) as unknown as Mat3;
      const product = multiplyMatrices(scaled, invert(scaled)!);
      for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) expect(product[i]![j]).toBeCloseTo(i === j ? 1 : 0, 12);
    }
  });

  test('rows in one plane, zeros and numbers that are not finite have no inverse', () => {
    expect(
      invert([
        [1, 2, 3],
        [4, 5, 6],
        [7, 8, 9],
      ]),
    ).toBeUndefined();
    expect(
      invert([
        [0.1, 0.2, 0.3],
        [0.1, 0.2, 0.3],
        [1, 0, 0],
      ]),
    ).toBeUndefined();
    expect(
      invert([
        [0, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ]),
    ).toBeUndefined();
    expect(
      invert([
        [Number.NaN, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ]),
    ).toBeUndefined();
    expect(
      invert([
        [Number.POSITIVE_INFINITY, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ]),
    ).toBeUndefined();
  });
});
