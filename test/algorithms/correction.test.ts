import { describe, expect, test } from 'vitest';
import {
  type Corners,
  checkCorrection,
  condition,
  corrected,
  fourColourCorrection,
  METERS,
  type Pair,
} from '../../src/algorithms/correction';
import { xyYToXyz } from '../../src/colour/chromaticity';
import { observerAt } from '../../src/colour/observer';
import { SPACES } from '../../src/colour/spaces';
import { integrate } from '../../src/colour/spectrum';
import { invert, type Mat3, multiply, type Vec3 } from '../../src/colour/vector';
import { uniform } from '../colour/random';
import { expectRefused, resultOf } from './expectations';

const { r, g, b } = SPACES['p3-d65'].primaries;
const REFERENCE = {
  white: xyYToXyz(...SPACES['p3-d65'].white, 100),
  red: xyYToXyz(...r, 23),
  green: xyYToXyz(...g, 69),
  blue: xyYToXyz(...b, 8),
} as const;

const pairs = (instrument: (reference: Vec3) => Vec3): Corners => ({
  white: { reference: REFERENCE.white, instrument: instrument(REFERENCE.white) },
  red: { reference: REFERENCE.red, instrument: instrument(REFERENCE.red) },
  green: { reference: REFERENCE.green, instrument: instrument(REFERENCE.green) },
  blue: { reference: REFERENCE.blue, instrument: instrument(REFERENCE.blue) },
});

const scaled = ([X, Y, Z]: Vec3, by: number): Vec3 => [X * by, Y * by, Z * by];

describe('the four-colour method', () => {
  test('undoes any linear mistake of a meter exactly, whatever the display drifts between its colours (200 meters, seed 4)', () => {
    const next = uniform(4);
    for (let i = 0; i < 200; i++) {
      const slip = () => 0.1 * (next() - 0.5);
      const M: Mat3 = [
        [1 + slip(), slip(), slip()],
        [slip(), 1 + slip(), slip()],
        [slip(), slip(), 1 + slip()],
      ];
      const back = invert(M)!;
      const drifted = pairs((xyz) => scaled(multiply(back, xyz), 0.9 + 0.2 * next()));
      // The white alone gives the scale, so it is read without drift.
      const exact: Corners = { ...drifted, white: { reference: REFERENCE.white, instrument: multiply(back, REFERENCE.white) } };
      const { matrix } = resultOf(fourColourCorrection(exact));
      for (let row = 0; row < 3; row++) for (let c = 0; c < 3; c++) expect(matrix[row]![c]).toBeCloseTo(M[row]![c]!, 11);
    }
  });

  test('meets white by construction, and the chromaticities of red, green and blue', () => {
    const drift = { white: 1, red: 1.02, green: 0.97, blue: 1.01 };
    const corners = Object.fromEntries(
      Object.entries(pairs(([X, Y, Z]) => [0.97 * X + 0.5, 1.02 * Y, 0.9 * Z])).map(([name, { reference, instrument }]) => [
        name,
        { reference, instrument: scaled(instrument, drift[name as keyof typeof drift]) },
      ]),
    ) as unknown as Corners;
    const found = resultOf(fourColourCorrection(corners));
    corrected(found, corners.white.instrument).forEach((v, i) => {
      expect(v).toBeCloseTo(REFERENCE.white[i]!, 10);
    });
    for (const colour of ['red', 'green', 'blue'] as const) {
      const [X, Y] = corrected(found, corners[colour].instrument);
      expect(X / Y).toBeCloseTo(REFERENCE[colour][0] / REFERENCE[colour][1], 10);
    }
  });

  test('is refused without its four colours, each with light', () => {
    const { white, red, green, blue } = pairs((xyz) => xyz);
    expectRefused(fourColourCorrection({ white, red, blue }), 'colour-missing', { colour: 'green' });
    expectRefused(fourColourCorrection({}), 'colour-missing', { colour: 'white' });
    const none: Pair = { reference: [1, 1, 1], instrument: [0, 0, 0] };
    expectRefused(fourColourCorrection({ white, red, green, blue: none }), 'colour-dark', { colour: 'blue', meter: METERS.instrument });
    const nothing: Pair = { reference: [Number.NaN, 1, 1], instrument: [1, 1, 1] };
    expectRefused(fourColourCorrection({ white, red: nothing, green, blue }), 'colour-dark', { colour: 'red', meter: METERS.reference });
  });

  test('is refused for white outside the triangle, primaries on a line, and primaries that hardly differ', () => {
    const good = pairs((xyz) => xyz);
    const at = (x: number, y: number): Pair => ({ reference: xyYToXyz(x, y, 10), instrument: xyYToXyz(x, y, 10) });
    const readOutside: Pair = { reference: REFERENCE.white, instrument: xyYToXyz(0.2, 0.6, 100) };
    expectRefused(fourColourCorrection({ ...good, white: readOutside }), 'white-outside', { meter: METERS.instrument });
    expectRefused(fourColourCorrection({ ...good, white: at(0.6, 0.2) }), 'white-outside', { meter: METERS.reference });
    expectRefused(fourColourCorrection({ ...good, white: { ...good.red } }), 'white-outside', { meter: METERS.reference });
    expectRefused(fourColourCorrection({ ...good, red: at(0.3, 0.3), green: at(0.4, 0.4), blue: at(0.2, 0.2) }), 'primaries-flat');
    expectRefused(
      fourColourCorrection({ white: at(0.31, 0.33), red: at(0.35, 0.33), green: at(0.3, 0.36), blue: at(0.29, 0.3) }),
      'ill-conditioned',
      { meter: METERS.reference, most: 20 },
    );
  });

  test('has a condition far below its bound for the primaries of every standard space', () => {
    for (const { primaries } of Object.values(SPACES)) {
      const { r, g, b } = primaries;
      const N: Mat3 = [
        [r[0], g[0], b[0]],
        [r[1], g[1], b[1]],
        [1 - r[0] - r[1], 1 - g[0] - g[1], 1 - b[0] - b[1]],
      ];
      expect(condition(N)).toBeLessThan(5);
    }
  });
});

describe('the condition of a matrix', () => {
  /** Largest singular value by power iteration: an independent way. */
  const largest = (m: Mat3): number => {
    const transposed: Mat3 = [
      [m[0][0], m[1][0], m[2][0]],
      [m[0][1], m[1][1], m[2][1]],
      [m[0][2], m[1][2], m[2][2]],
    ];
    let v: Vec3 = [0.6, 0.5, 0.7];
    let length = 0;
    for (let i = 0; i < 2000; i++) {
      const next = multiply(transposed, multiply(m, v));
      length = Math.hypot(...next);
      v = scaled(next, 1 / length);
    }
    return Math.sqrt(length);
  };

  test('is the largest singular value times that of the inverse (300 matrices, seed 20)', () => {
    const next = uniform(20);
    for (let i = 0; i < 300; i++) {
      const row = (): Vec3 => [next(), next(), next()];
      const m: Mat3 = [row(), row(), row()];
      const expected = largest(m) * largest(invert(m)!);
      if (expected < 300) expect(condition(m) / expected).toBeCloseTo(1, 5);
    }
  });

  test('is 1 for turns and stretches alike in all directions, and endless for a flat matrix', () => {
    expect(
      condition([
        [2, 0, 0],
        [0, 2, 0],
        [0, 0, 2],
      ]),
    ).toBe(1);
    expect(
      condition([
        [0, 3, 0],
        [0, 0, 3],
        [3, 0, 0],
      ]),
    ).toBe(1);
    expect(
      condition([
        [1, 0, 0],
        [0, 5, 0],
        [0, 0, 2],
      ]),
    ).toBeCloseTo(5, 12);
    expect(
      condition([
        [1, 1, 0],
        [1, 1, 0],
        [0, 0, 1],
      ]),
    ).toBeGreaterThan(1e7);
    expect(
      condition([
        [0, 0, 0],
        [0, 0, 0],
        [0, 0, 0],
      ]),
    ).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('the check of a correction', () => {
  const WAVELENGTHS = Array.from({ length: 401 }, (_, i) => 380 + i);
  const peak = (nm: number, width: number) => WAVELENGTHS.map((w) => Math.exp(-0.5 * ((w - nm) / width) ** 2));
  const mix = (...parts: readonly (readonly [number, readonly number[]])[]) =>
    WAVELENGTHS.map((_, i) => parts.reduce((sum, [share, spectrum]) => sum + share * spectrum[i]!, 0));
  const red = peak(625, 12);
  const green = peak(530, 15);
  const blue = peak(455, 10);
  const broad = peak(560, 60);

  /** A meter whose filters are the observer's, 4 nm too far to the red. */
  const filter = (spectrum: readonly number[]): Vec3 => {
    const xyz: [number, number, number] = [0, 0, 0];
    WAVELENGTHS.forEach((w, i) => {
      observerAt(w - 4).forEach((v, c) => {
        xyz[c]! += 683 * v * spectrum[i]!;
      });
    });
    return xyz;
  };
  const read = (spectrum: readonly number[]): Pair => ({ reference: integrate(WAVELENGTHS, spectrum), instrument: filter(spectrum) });
  const rgb = (R: number, G: number, B: number, W = 0) => read(mix([R, red], [G, green], [B, blue], [W, broad]));

  const additive: Corners = { white: rgb(1, 1, 1), red: rgb(1, 0, 0), green: rgb(0, 1, 0), blue: rgb(0, 0, 1) };

  test('finds nothing on further colours of a panel that mixes them from the same three lights', () => {
    const correction = resultOf(fourColourCorrection(additive));
    const further = [
      { name: 'yellow', ...rgb(1, 1, 0) },
      { name: 'grey', ...rgb(0.2, 0.2, 0.2) },
      { name: 'pink', ...rgb(1, 0.3, 0.3) },
    ];
    const found = resultOf(checkCorrection(correction, additive, further));
    for (const { xy, luminance } of found.further) {
      expect(xy).toBeLessThan(1e-12);
      expect(luminance).toBeCloseTo(1, 12);
    }
    expect(found.luminance.red).toBeCloseTo(1, 12);
    expect(found.further[0]!.saturation).toBeCloseTo(1, 9);
    expect(found.further[1]!.saturation).toBeCloseTo(0, 9);
    expect(found.midSaturation).toBe(true);
  });

  test('finds the white emitter of a panel in what it mixes: white still proves nothing, a mid-saturation colour does', () => {
    const withWhite: Corners = { ...additive, white: rgb(1, 1, 1, 0.6) };
    const correction = resultOf(fourColourCorrection(withWhite));
    const white = corrected(correction, withWhite.white.instrument);
    white.forEach((v, i) => {
      expect(v / withWhite.white.reference[i]!).toBeCloseTo(1, 12);
    });
    const further = [
      { name: 'cyan', ...rgb(0, 1, 1) },
      { name: 'pale', ...rgb(1, 0.5, 0.5, 0.3) },
    ];
    const found = resultOf(checkCorrection(correction, withWhite, further));
    expect(found.largest!.xy).toBeGreaterThan(0.001);
    expect(found.luminance.green).not.toBeCloseTo(1, 3);
  });

  test('says what is signed, and which colour is worst; the first of two alike', () => {
    const corners = pairs((xyz) => xyz);
    const identity = resultOf(fourColourCorrection(corners));
    const off = (name: string, dx: number, dy: number) => ({
      name,
      reference: xyYToXyz(0.3, 0.35, 50),
      instrument: xyYToXyz(0.3 + dx, 0.35 + dy, 55),
    });
    const found = resultOf(checkCorrection(identity, corners, [off('a', 0.001, 0), off('b', -0.003, 0.004), off('c', 0.003, -0.004)]));
    expect(found.largest).toMatchObject({ name: 'b', xy: expect.closeTo(0.005, 12), dx: expect.closeTo(-0.003, 12) });
    expect(found.further[1]!.luminance).toBeCloseTo(1.1, 12);
    const none = resultOf(checkCorrection(identity, corners, []));
    expect(none.largest).toBeUndefined();
    expect(none.midSaturation).toBe(false);
    expectRefused(checkCorrection(identity, corners, [{ name: 'a', reference: [0, 0, 0], instrument: [1, 1, 1] }]), 'colour-dark', {
      colour: 'a',
      meter: METERS.reference,
    });
  });

  test('measures saturation from white to the edge of the triangle', () => {
    const corners = pairs((xyz) => xyz);
    const identity = resultOf(fourColourCorrection(corners));
    const [w, edge] = [SPACES['p3-d65'].white, [0.3 * r[0] + 0.7 * g[0], 0.3 * r[1] + 0.7 * g[1]] as const];
    const at = (t: number) => {
      const xyz = xyYToXyz(w[0] + t * (edge[0] - w[0]), w[1] + t * (edge[1] - w[1]), 10);
      return { name: String(t), reference: xyz, instrument: xyz };
    };
    const found = resultOf(checkCorrection(identity, corners, [at(0), at(0.4), at(1), at(1.1)]));
    [0, 0.4, 1, 1.1].forEach((t, i) => {
      expect(found.further[i]!.saturation).toBeCloseTo(t, 12);
    });
  });
});
