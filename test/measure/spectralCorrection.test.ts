import { describe, expect, test } from 'vitest';
import { inverse, type Matrix, type Triple, times, xyOf, xyzOf } from '../display/light';
import { filterMeter } from '../display/meter';
import { aurora, meadow, type Panel } from '../display/panels';
import { lightAt, shippedPicture } from '../display/screen';
import { spectrumOf, throughFilters } from '../display/spectra';
import { METERS } from './benchCases';
import { OBSERVER_5NM } from './reference';
import { number, result, table } from './tools';

// A correction whose reference side is spectra, against another way to the same numbers: the observer from its 5 nm table, by cubic splines
// and Simpson's rule in steps of 0.25 nm, and the matrix from eight linear equations instead of Ohno & Hardis's products.

/** A natural cubic spline (Burden & Faires, Numerical Analysis, 3.5). */
function spline(x: readonly number[], y: readonly number[]): (at: number) => number {
  const n = x.length - 1;
  const h = x.slice(1).map((v, i) => v - x[i]!);
  const [l, mu, z] = [[1], [0], [0]];
  for (let i = 1; i < n; i++) {
    const a = 3 * ((y[i + 1]! - y[i]!) / h[i]! - (y[i]! - y[i - 1]!) / h[i - 1]!);
    l.push(2 * (x[i + 1]! - x[i - 1]!) - h[i - 1]! * mu[i - 1]!);
    mu.push(h[i]! / l[i]!);
    z.push((a - h[i - 1]! * z[i - 1]!) / l[i]!);
  }
  const c = new Array<number>(n + 1).fill(0);
  for (let j = n - 1; j >= 0; j--) c[j] = (z[j] ?? 0) - (mu[j] ?? 0) * c[j + 1]!;
  return (at) => {
    const beyond = x.findIndex((v) => v > at);
    const j = (beyond < 0 ? n : beyond) - 1;
    const b = (y[j + 1]! - y[j]!) / h[j]! - (h[j]! * (c[j + 1]! + 2 * c[j]!)) / 3;
    const t = at - x[j]!;
    return y[j]! + t * (b + t * (c[j]! + (t * (c[j + 1]! - c[j]!)) / (3 * h[j]!)));
  };
}

const eye = ([0, 1, 2] as const).map((i) =>
  spline(
    OBSERVER_5NM.map(([nm]) => nm),
    OBSERVER_5NM.map(([, values]) => values[i]),
  ),
);
const STEP = 0.25;
const FINE = Array.from({ length: 400 / STEP + 1 }, (_, i) => 380 + i * STEP);
const EYE = FINE.map((nm) => eye.map((of) => of(nm)));

/** XYZ of a spectrum by Simpson's rule. */
const simpson = (power: (nm: number) => number): Triple => {
  const sum = [0, 0, 0];
  FINE.forEach((nm, i) => {
    const weight = (i === 0 || i === FINE.length - 1 ? 1 : i % 2 === 1 ? 4 : 2) * (STEP / 3) * 683 * power(nm);
    for (let k = 0; k < 3; k++) sum[k]! += weight * EYE[i]![k]!;
  });
  return sum as unknown as Triple;
};

/** The matrix, with white met in luminance, from A·(x, y, z) ∥ (x, y, z) of white, red, green and blue: nine unknowns, one of them 1. */
function byEquations(reference: readonly Triple[], instrument: readonly Triple[]): Matrix {
  const rows: number[][] = reference.flatMap((r, i) => {
    const v = instrument[i]!;
    const zero = [0, 0, 0];
    return [
      [...v.map((n) => n * r[1]), ...v.map((n) => -n * r[0]), ...zero],
      [...zero, ...v.map((n) => n * r[2]), ...v.map((n) => -n * r[1])],
    ];
  });
  // The middle of the matrix is 1; Gauss with the largest pivot for the other eight.
  const known = 4;
  const m = rows.map((row) => [...row.filter((_, i) => i !== known), -row[known]!]);
  for (let c = 0; c < 8; c++) {
    const pivot = m.reduce((best, row, i) => (i >= c && Math.abs(row[c]!) > Math.abs(m[best]![c]!) ? i : best), c);
    [m[c], m[pivot]] = [m[pivot]!, m[c]!];
    for (let r = 0; r < 8; r++) {
      if (r === c) continue;
      const by = m[r]![c]! / m[c]![c]!;
      for (let k = c; k <= 8; k++) m[r]![k]! -= by * m[c]![k]!;
    }
  }
  const found = m.map((row, i) => row[8]! / row[i]!);
  found.splice(known, 0, 1);
  const shape = [found.slice(0, 3), found.slice(3, 6), found.slice(6)] as unknown as Matrix;
  const s = reference[0]![1] / times(shape, instrument[0]!)[1];
  return shape.map((row) => row.map((n) => n * s)) as unknown as Matrix;
}

const COLOURS: Readonly<Record<string, Triple>> = {
  white: [1, 1, 1],
  red: [1, 0, 0],
  green: [0, 1, 0],
  blue: [0, 0, 1],
  yellow: [1, 1, 0],
  sand: [1, 0.8, 0.6],
};
const CORNERS = ['white', 'red', 'green', 'blue'] as const;

const every = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);
const GRIDS: Readonly<Record<string, readonly number[]>> = {
  '1 nm': every(380, 780, 1),
  '5 nm': every(380, 780, 5),
  // Fine where the display emits and wide where it does not, as some instruments write.
  'irregular steps': [...every(380, 420, 10), ...every(422, 500, 2), ...every(503, 590, 3), ...every(594, 666, 4), ...every(680, 780, 20)],
};

const bench = (panel: Panel, grid: readonly number[]) => {
  const sees = throughFilters(panel, filterMeter.filters!);
  const picture = { ...shippedPicture(panel), gamut: 0 };
  const lights = Object.entries(COLOURS).map(([name, rgb]) => {
    const light = lightAt(panel, picture, { rgb });
    const spectrum = spectrumOf(panel, light);
    return { name, spectrum, reference: simpson(spectrum), instrument: sees(light) };
  });
  const spectra = table(
    'spectrum spd\nmeter: spectro',
    `nm ${Object.keys(COLOURS).join(' ')}`,
    grid.map((nm) => [nm, ...lights.map(({ spectrum }) => (1000 * spectrum(nm)).toPrecision(9))]),
  );
  const pairs = table(
    'correction fix\nmeter: probe\nreference: spectro\nspectra: spd',
    'patch Y x y',
    lights.map(({ name, instrument }) => [name, ...[instrument[1], ...xyOf(instrument)].map((n) => n.toPrecision(12))]),
  );
  const read = table(
    'greyscale grey\nmeter: probe',
    'level Y x y',
    lights.slice(0, 1).map(({ instrument }) => [100, ...[instrument[1], ...xyOf(instrument)].map((n) => n.toPrecision(12))]),
  );
  const text = `${METERS}${spectra}\n${pairs}\n${read}`;
  const of = (id: string) => result(text, {}, id);
  return { lights, of };
};

describe.each(Object.entries(GRIDS))('spectra in steps of %s', (_, grid) => {
  test.each([aurora, meadow])('of $name have the x and y of a finer integration', (panel) => {
    const { lights, of } = bench(panel, grid);
    for (const { name, reference } of lights) {
      const [x, y] = xyOf(reference);
      expect(Math.abs(number(of('spd'), `x@${name}`) - x), name).toBeLessThan(1e-4);
      expect(Math.abs(number(of('spd'), `y@${name}`) - y), name).toBeLessThan(1e-4);
      // In mW, so a thousand times cd/m².
      expect(Math.abs(number(of('spd'), `Y@${name}`) / (1000 * reference[1]) - 1), name).toBeLessThan(5e-4);
    }
  });

  test.each([aurora, meadow])('of $name correct as a matrix found in another way does', (panel) => {
    const { lights, of } = bench(panel, grid);
    const corner = CORNERS.map((name) => lights.find((light) => light.name === name)!);
    // Without a luminance of the reference side, white keeps the luminance that the meter gives it.
    const [white] = corner;
    const matrix = byEquations(
      corner.map(({ reference, instrument }) => xyzOf(xyOf(reference), instrument[1])),
      corner.map(({ instrument }) => instrument),
    );
    const grey = of('grey').context!.patches;
    const expected = times(matrix, white!.instrument);
    const [x, y] = xyOf([grey.X[0]!, grey.Y[0]!, grey.Z[0]!]);
    expect(grey.Y[0]! / expected[1]).toBeCloseTo(1, 9);
    expect(Math.abs(x - xyOf(expected)[0])).toBeLessThan(1e-4);
    expect(Math.abs(y - xyOf(expected)[1])).toBeLessThan(1e-4);
    const fix = of('fix');
    for (const name of ['yellow', 'sand'] as const) {
      const { reference, instrument } = lights.find((light) => light.name === name)!;
      const [x, y] = xyOf(times(matrix, instrument));
      const residual = Math.hypot(x - xyOf(reference)[0], y - xyOf(reference)[1]);
      expect(Math.abs(number(fix, `check@${name}`) - residual), name).toBeLessThan(1.5e-4);
    }
  });
});

test('the other way to the matrix undoes a matrix (constructed)', () => {
  const M: Matrix = [
    [1.02, 0.03, -0.01],
    [0.02, 0.97, 0.01],
    [-0.02, 0.01, 1.05],
  ];
  const reference: Triple[] = [xyzOf([0.3127, 0.329], 100), xyzOf([0.68, 0.32], 20), xyzOf([0.265, 0.69], 70), xyzOf([0.15, 0.06], 8)];
  const back = byEquations(
    reference,
    reference.map((v) => times(inverse(M), v)),
  );
  back.forEach((row, r) => {
    row.forEach((n, c) => {
      expect(n).toBeCloseTo(M[r]![c]!, 10);
    });
  });
});
