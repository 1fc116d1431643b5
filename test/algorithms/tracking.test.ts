import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { deviationStops, followed, hlgCurve, knee, overallGain } from '../../src/algorithms/tracking';
import { hlgSystemGamma } from '../../src/colour/hlg';
import { pqEotf, pqInverse } from '../../src/colour/pq';
import { RECORDS } from '../published/records';
import { expectRefused, resultOf } from './expectations';
import { deviating, rolledOff } from './trackings';

// Worked by hand. In PQ, 40 % is 32.4 and 45 % is 55.4 cd/m²: both in the mid-tones; 60 % and more lie above them.
const WORKED = {
  // g 0; 0.70 is the last above −0.1, 0.80 is at −0.3: a third of the way from +0.1 to −0.1 … d + 0.1 goes from 0.1 to −0.2.
  between: deviating([
    [0.4, 0],
    [0.45, 0],
    [0.7, 0],
    [0.8, -0.3],
    [0.9, -1],
  ]),
  // The same display 0.5 stop brighter, rows in disorder, one reading missing between: the next row with a reading counts.
  disordered: deviating([
    [0.9, -0.5],
    [0.4, 0.5],
    [0.75, Number.NaN],
    [0.8, 0.2],
    [0.45, 0.5],
    [0.7, 0.5],
  ]),
  // A dip at 60 % below a row that follows again at 70 %.
  dip: deviating([
    [0.4, 0],
    [0.45, 0],
    [0.6, -0.5],
    [0.7, -0.05],
    [0.8, -0.15],
  ]),
} as const;

describe('the deviation', () => {
  test('is log2 of reading over target: one stop for twice the light, none where there is no light to compare', () => {
    const run = { signals: [0.5, 0.5, 0, 0.5, 0.5], luminance: [2 * pqEotf(0.5), pqEotf(0.5) / 4, 0.01, 0, Number.NaN] };
    expect([...deviationStops(run)]).toEqual([1, -2, Number.NaN, Number.NaN, Number.NaN]);
  });

  test('as a whole is the median of the mid-tones, 5 to 100 cd/m² of the target, ends included', () => {
    const at = (Y: number) => pqInverse(Y);
    const rows: [number, number][] = [
      [at(4.9), 9],
      [at(20), 0.1],
      [at(50), 0.3],
      [at(101), -9],
    ];
    expect(resultOf(overallGain(deviating(rows)))).toBeCloseTo(0.2, 12);
    expect(resultOf(overallGain(deviating([...rows, [at(80), 0.31]])))).toBeCloseTo(0.3, 12);
    const curve = (s: number) => 100 * s;
    expect(resultOf(overallGain({ signals: [0.05, 1, 0.04], luminance: [10, 100, 1], u: [0, 0, 0], curve }))).toBe(0.5);
  });
});

describe('the knee', () => {
  test('of the EETF from 4,000 to 800 cd/m² on a 5 % grid is at 0.678991, 477.04 cd/m² (constructed)', () => {
    const found = resultOf(knee(rolledOff(4000, 800)));
    expect(found).toMatchObject({ found: true, signal: expect.closeTo(0.678991, 6), luminance: expect.closeTo(477.04, 2) });
  });

  test('is at the same signal, 547.97 cd/m², when the display is 0.2 stop brighter as a whole (constructed)', () => {
    const found = resultOf(knee(rolledOff(4000, 800, 0.2)));
    expect(found).toMatchObject({ found: true, signal: expect.closeTo(0.678991, 6), luminance: expect.closeTo(547.97, 2) });
  });

  test('lies on the straight line between the last row that follows and the next (worked by hand)', () => {
    expect(resultOf(knee(WORKED.between))).toMatchObject({
      signal: expect.closeTo(0.7 + 0.1 / 3, 12),
      luminance: expect.closeTo(pqEotf(0.7 + 0.1 / 3) * 2 ** -0.1, 9),
    });
    expect(resultOf(knee(WORKED.disordered))).toMatchObject({
      signal: expect.closeTo(0.7 + 0.1 / 3, 12),
      luminance: expect.closeTo(pqEotf(0.7 + 0.1 / 3) * 2 ** 0.4, 9),
    });
    // From the top down 0.70 is the first that follows: −0.05 + 0.1 against −0.15 + 0.1, half way.
    expect(resultOf(knee(WORKED.dip))).toMatchObject({ signal: expect.closeTo(0.75, 12) });
  });

  test('is the row itself when that lies at the tolerance: there both sides of the tie meet', () => {
    const curve = (s: number) => 2 ** (10 * s);
    const tie = { signals: [0.5, 0.6, 0.7, 0.8], luminance: [32, 64, 128 * 2 ** -0.1, 32], u: [0, 0, 0, 0], curve };
    expect(resultOf(knee(tie))).toMatchObject({
      found: true,
      signal: expect.closeTo(0.7, 9),
      luminance: expect.closeTo(128 * 2 ** -0.1, 7),
    });
  });

  test('takes rows of one signal in the order of the run: the later one is the next', () => {
    // 0.70 follows, then 0.80 is read twice: 0 and −0.3, the knee at the signal of both; the other way round it falls from 0.70 on.
    const twice = (first: number, second: number) =>
      resultOf(
        knee(
          deviating([
            [0.4, 0],
            [0.45, 0],
            [0.8, first],
            [0.8, second],
          ]),
        ),
      );
    expect(twice(0, -0.3)).toMatchObject({ found: true, signal: 0.8 });
    expect(twice(-0.3, 0)).toEqual({ found: false, upTo: 0.8 });
  });

  test('is nowhere when the highest level follows', () => {
    expect(resultOf(knee(deviating([[0.4, 0.3]])))).toEqual({ found: false, upTo: 0.4 });
    expect(
      resultOf(
        knee(
          deviating([
            [0.45, 0],
            [0.75, -0.09],
          ]),
        ),
      ),
    ).toEqual({ found: false, upTo: 0.75 });
  });

  test('gives an uncertain meter three standard uncertainties of room', () => {
    // 3 · 0.07 / ln 2 is 0.303 stop: −0.3 still follows.
    expect(
      resultOf(
        knee(
          deviating(
            [
              [0.4, 0],
              [0.8, -0.3],
            ],
            0.07,
          ),
        ),
      ),
    ).toMatchObject({ found: false });
    expect(
      resultOf(
        knee(
          deviating(
            [
              [0.4, 0],
              [0.8, -0.3],
            ],
            0.06,
          ),
        ),
      ),
    ).toMatchObject({ found: true });
    expect(
      resultOf(
        knee(
          deviating(
            [
              [0.4, 0],
              [0.8, -0.3],
            ],
            Number.NaN,
          ),
        ),
      ),
    ).toMatchObject({ found: true, signal: expect.closeTo(0.4 + 0.4 / 3, 12) });
  });

  test('is refused without a row in the mid-tones, or with lists of unlike length', () => {
    expectRefused(
      knee(
        deviating([
          [0.2, 0],
          [0.8, 0],
        ]),
      ),
      'no-mid-tones',
      { from: 5, to: 100 },
    );
    expectRefused(knee({ ...WORKED.between, u: [] }), 'lengths-differ', { counts: '5, 5, 0' });
  });

  test('stays at its signal whatever the display is set to, and its luminance goes with it (property)', () => {
    const rows = fc.array(fc.tuple(fc.double({ min: 0.3, max: 1, noNaN: true }), fc.double({ min: -2, max: 0.5, noNaN: true })), {
      minLength: 1,
      maxLength: 20,
    });
    fc.assert(
      fc.property(rows, fc.double({ min: -3, max: 3, noNaN: true }), (more, gain) => {
        const all: [number, number][] = [[0.4, 0], ...more];
        const plain = resultOf(knee(deviating(all)));
        const brighter = resultOf(knee(deviating(all.map(([s, d]) => [s, d + gain]))));
        if (plain.found && brighter.found) {
          // A row that lies at the tolerance within rounding may fall on either side of it, and the knee is continuous there.
          expect(brighter.signal).toBeCloseTo(plain.signal, 6);
          expect(brighter.luminance / (plain.luminance * 2 ** gain)).toBeCloseTo(1, 4);
        } else expect(brighter.found).toBe(plain.found);
      }),
    );
  });
});

describe('how well a display follows', () => {
  test('is told from the rows up to the knee, from ten times the floor up (worked by hand)', () => {
    expect(resultOf(followed(WORKED.between, 0))).toMatchObject({ bias: expect.closeTo(0, 12), average: expect.closeTo(0, 12), n: 3 });
    expect(resultOf(followed(WORKED.disordered, 0))).toMatchObject({ bias: expect.closeTo(0.5, 12), n: 3 });
    // The dip counts: it is below the knee. (0 + 0 − 0.5 − 0.05)/4.
    const dip = resultOf(followed(WORKED.dip, 0));
    expect(dip.bias).toBeCloseTo(-0.1375, 12);
    expect(dip.average).toBeCloseTo(0.1375, 12);
  });

  test('counts a row at the signal of the knee', () => {
    const curve = (s: number) => 2 ** (10 * s);
    const tie = { signals: [0.5, 0.6, 0.7, 0.8], luminance: [32, 64, 128 * 2 ** -0.1, 32], u: [0, 0, 0, 0], curve };
    // 2^0.1 is told apart from the tolerance by rounding alone; a hair more light makes the row follow for certain.
    const follows = { ...tie, luminance: [32, 64, 128 * 2 ** (-0.1 + 1e-12), 32] };
    expect(resultOf(followed(follows, 0))).toMatchObject({ n: 3, average: expect.closeTo(0.1 / 3, 9) });
  });

  test('leaves out what the floor of the meter makes doubtful', () => {
    const run = deviating([
      [0.1, -4],
      [0.4, 0.1],
      [0.5, -0.1],
    ]);
    expect(resultOf(followed(run, 0.03))).toMatchObject({ n: 3 });
    const rest = resultOf(followed(run, 0.04));
    expect(rest).toMatchObject({ n: 2, average: expect.closeTo(0.1, 12) });
    expect(rest.bias).toBeCloseTo(0, 12);
    // Ten times the floor exactly is enough.
    const curve = (s: number) => 100 * s;
    const edge = { signals: [0.05, 0.5], luminance: [5 * 2 ** 0.08, 50], u: [0, 0], curve };
    expect(resultOf(followed(edge, 0.5))).toMatchObject({ n: 2, bias: expect.closeTo(0.04, 12) });
    expect(resultOf(followed(edge, 0.51))).toMatchObject({ n: 1, bias: 0 });
    expectRefused(followed(run, 100), 'too-few-rows');
    expectRefused(followed(deviating([[0.8, 0]]), 0), 'no-mid-tones');
  });
});

describe('HLG', () => {
  const greys = RECORDS.filter(({ fn, input }) => fn === 'hlgEotfGrey' && input.gamma === null && input.Lb < input.Lw);

  test.each(greys.map((record) => [record.id, record.source.document, record] as const))(
    'is followed without error by a display that does what %s says (%s)',
    (_id, _document, { input, expected, tolerance }) => {
      const curve = resultOf(hlgCurve({ Lw: input.Lw, Lb: input.Lb }));
      expect(Math.abs(curve(input.signal) - (expected as number))).toBeLessThanOrEqual(tolerance);
    },
  );

  test('has records to compare with', () => {
    expect(greys.length).toBeGreaterThan(5);
  });

  test('takes the system gamma of the display’s own peak: with another the mid-tones are off', () => {
    const signals = Array.from({ length: 20 }, (_, i) => (i + 1) / 20);
    const display = resultOf(hlgCurve({ Lw: 600 }));
    const run = { signals, luminance: signals.map(display), u: signals.map(() => 0.005) };
    expect(resultOf(followed({ ...run, curve: display }, 0.003))).toMatchObject({ bias: 0, average: 0 });
    expect(resultOf(knee({ ...run, curve: display }))).toEqual({ found: false, upTo: 1 });
    const thousand = resultOf(hlgCurve({ Lw: 1000 }));
    const half = deviationStops({ signals: [0.5], luminance: [display(0.5)], curve: thousand })[0]!;
    // E = 1/12 at 50 %: (600/1000)·12^(γ(1000) − γ(600)).
    expect(half).toBeCloseTo(Math.log2(0.6) + (1.2 - hlgSystemGamma(600)) * Math.log2(12), 9);
  });

  test('needs a peak', () => {
    expectRefused(hlgCurve({ Lw: 0 }), 'peak-unknown');
    expectRefused(hlgCurve({ Lw: Number.NaN }), 'peak-unknown');
    expectRefused(hlgCurve({ Lw: 1, Lb: 1 }), 'peak-unknown');
  });
});
