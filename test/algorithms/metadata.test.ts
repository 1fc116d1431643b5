import { describe, expect, test } from 'vitest';
import { clip } from '../../src/algorithms/clip';
import { fitEetf } from '../../src/algorithms/eetfFit';
import { describeHighlights, describeMetadata, SAYINGS } from '../../src/algorithms/highlights';
import { type MasteredRun, metadataTest } from '../../src/algorithms/metadata';
import { knee } from '../../src/algorithms/tracking';
import { pqEotf, pqInverse } from '../../src/colour/pq';
import { fill, type Message } from '../../src/text/message';
import { uniform } from '../colour/random';
import { expectRefused, normal, resultOf } from './expectations';
import { rolledOff } from './trackings';

const run = (mastering: number, luminance: readonly number[], u = 0.005): MasteredRun => ({
  mastering,
  signals: luminance.map((_, i) => (i + 1) / 20),
  luminance,
  u: luminance.map(() => u),
});

describe('the metadata test', () => {
  test('tells 0.414 stop at 75 % between 1,000 and 10,000 cd/m² on a display of 800 that follows (constructed)', () => {
    const told = (mastering: number): MasteredRun => ({ ...rolledOff(mastering, 800, 0, 15), mastering });
    const found = resultOf(metadataTest([told(10_000), told(1000)], false));
    expect(found).toMatchObject({ says: 'follows', signal: 0.75, between: [1000, 10_000], n: 15, scaled: false });
    expect(found.difference).toBeCloseTo(0.414, 3);
  });

  test.each([
    [10, 2.8, 0.0286],
    [20, 3.016, 0.0308],
  ])('has for %d rows the factor %d and the threshold %d stop at u = 0.5 % (constructed)', (n, k, threshold) => {
    const flat = Array.from({ length: n }, () => 100);
    const found = resultOf(metadataTest([run(10_000, flat), run(10_000, flat)], false));
    expect(found).toMatchObject({ says: 'same', difference: 0, n });
    expect(found.k).toBeCloseTo(k, 3);
    expect(found.threshold).toBeCloseTo(threshold, 4);
  });

  test('compares rows up to the smallest peak, one a signal, that have a reading in both (worked by hand)', () => {
    // 75 % is 983 cd/m², within a peak of 1,000; 80 % is not, so its two stops do not count.
    const rows = [0.5, 0.75, 0.8, 0.6, 0.5];
    const u = rows.map(() => 0.005);
    const low: MasteredRun = { mastering: 1000, signals: rows, luminance: [100, 400, 400, 200, 777], u };
    const high: MasteredRun = { mastering: 4000, signals: rows, luminance: [100, 399, 100, Number.NaN, 100], u };
    expect(resultOf(metadataTest([high, low], false))).toMatchObject({
      says: 'same',
      n: 2,
      signal: 0.75,
      difference: expect.closeTo(Math.log2(400 / 399), 12),
      between: [1000, 4000],
    });
    const peak: MasteredRun = { ...low, mastering: pqEotf(0.75) };
    expect(resultOf(metadataTest([high, peak], false))).toMatchObject({ n: 2 });
  });

  test('takes out by the 203 cd/m² patch what the display drifted, when both runs have it', () => {
    const before = run(1000, [50, 100, 200]);
    const after = run(4000, [45, 90, 180]);
    expect(resultOf(metadataTest([before, after], false))).toMatchObject({ says: 'follows', scaled: false });
    const anchored = [
      { ...before, anchor: { luminance: 200, u: 0 } },
      { ...after, anchor: { luminance: 180, u: 0 } },
    ];
    const found = resultOf(metadataTest(anchored, false));
    expect(found).toMatchObject({ says: 'same', scaled: true });
    expect(found.difference).toBeCloseTo(0, 12);
    expect(resultOf(metadataTest([anchored[0]!, after], false))).toMatchObject({ says: 'follows', scaled: false });
    const uncertain = anchored.map((one) => ({ ...one, anchor: { ...one.anchor, u: 0.005 } }));
    expect(resultOf(metadataTest(uncertain, false)).threshold / found.threshold).toBeCloseTo(Math.SQRT2, 9);
  });

  test('weighs a difference by its own uncertainty: the row that counts is the one beyond its threshold', () => {
    const a: MasteredRun = { mastering: 1000, signals: [0.2, 0.5], luminance: [1, 100], u: [0.2, 0.005] };
    const b: MasteredRun = { mastering: 4000, signals: [0.2, 0.5], luminance: [1.2, 104], u: [0.2, 0.005] };
    expect(resultOf(metadataTest([a, b], false))).toMatchObject({ says: 'follows', signal: 0.5 });
  });

  test('takes a difference of just the threshold for chance, and of equal ones that of the earlier pair at the lower signal', () => {
    // Without an uncertainty the threshold is 0, and so is the difference.
    expect(resultOf(metadataTest([run(1000, [10, 20], 0), run(4000, [10, 20], 0)], false))).toMatchObject({
      says: 'same',
      difference: 0,
      threshold: 0,
    });
    expect(resultOf(metadataTest([run(1000, [10, 20], 0), run(4000, [10, 20.001], 0)], false))).toMatchObject({ says: 'follows' });
    const equal = resultOf(metadataTest([run(1000, [10, 20, 40]), run(4000, [20, 40, 80]), run(10_000, [10, 20, 40])], false));
    expect(equal).toMatchObject({ says: 'follows', difference: 1, signal: 0.05, between: [1000, 4000] });
  });

  test('cannot tell with a tone mapping that follows the picture', () => {
    expect(resultOf(metadataTest([run(1000, [1, 2]), run(4000, [1, 8])], true))).toMatchObject({ says: 'not-separable' });
  });

  test('takes two displays that do the same for different in one case of twenty (4,000 pairs, seed 1000)', () => {
    const error = normal(uniform(1000));
    const u = 0.005;
    const noisy = () =>
      run(
        1000,
        Array.from({ length: 12 }, () => 100 * (1 + u * error())),
      );
    let wrong = 0;
    for (let i = 0; i < 4000; i++) if (resultOf(metadataTest([noisy(), noisy()], false)).says === 'follows') wrong++;
    expect(Math.abs(wrong - 200)).toBeLessThan(3 * Math.sqrt(4000 * 0.05 * 0.95));
  });

  test('is refused for one run, no row in common, no uncertainty', () => {
    expectRefused(metadataTest([run(1000, [1])], false), 'too-few-rows');
    expectRefused(metadataTest([run(1000, [Number.NaN]), run(4000, [1])], false), 'no-common-rows', { peak: 1000 });
    expectRefused(metadataTest([run(1000, [1]), run(4000, [1], Number.NaN)], false), 'no-uncertainty', { level: 5 });
    expectRefused(metadataTest([run(1000, [1]), { ...run(4000, [1]), u: [] }], false), 'lengths-differ');
  });
});

const words = (messages: readonly Message[]) => messages.map(({ code, args }) => fill(SAYINGS[code as keyof typeof SAYINGS], args));

describe('what a display does, in words', () => {
  test('of a roll-off from 4,000 to 800 cd/m²', () => {
    const told = rolledOff(4000, 800);
    const said = describeHighlights({
      knee: resultOf(knee(told)),
      fit: resultOf(fitEetf(told)),
      clip: resultOf(clip(told)),
      mastering: 4000,
    });
    expect(words(said)).toEqual([
      'leaves the curve of its mid-tones at 67.9 %, 477 cd/m²',
      'rolls off as the EETF of ITU-R BT.2408 does from 4000 to 800 cd/m², starting at 356 cd/m² (within 0 stop)',
      'shows all levels from 85 % on as 800 cd/m²',
      'keeps 83.7 % of the highlights mastered up to 4000 cd/m² apart',
    ]);
  });

  test('of a cut, a rise to the end, and a fall', () => {
    const codes = (highlights: Parameters<typeof describeHighlights>[0]) => {
      const said = describeHighlights(highlights);
      for (const sentence of words(said)) expect(sentence).not.toMatch(/[{}]/);
      return said.map(({ code }) => code);
    };
    const found = { found: true, signal: 0.7, luminance: 500 } as const;
    const fit = { peak: 600, kneeStart: { signal: 0.7, luminance: 590 }, from: 600, rms: 0.01, n: 5 };
    expect(codes({ knee: found, fit })).toEqual(['clips-hard']);
    expect(codes({ knee: found, fit: { ...fit, rms: 0.2 } })).toEqual(['rolls-off', 'rolls-off-own']);
    expect(codes({ knee: found })).toEqual(['rolls-off']);
    const rises = { found: false, upTo: 0.75, falls: false, peak: 900 } as const;
    const follows = { found: false, upTo: 0.75 } as const;
    expect(codes({ knee: follows, clip: rises, mastering: 4000 })).toEqual([
      'follows-to-top',
      'clips-nowhere',
      'keeps-highlights-at-least',
    ]);
    expect(codes({ knee: follows, clip: { ...rises, upTo: pqInverse(1000) }, mastering: 1000 })).toContain('keeps-highlights');
    expect(codes({ knee: follows, clip: { ...rises, falls: true }, mastering: 4000 })).toEqual(['follows-to-top', 'falls-at-top']);
    expect(codes({ knee: follows, clip: rises, mastering: 200 })).toEqual(['follows-to-top', 'clips-nowhere']);
  });

  test('of metadata', () => {
    const test = {
      difference: 0.41432,
      signal: 0.75,
      threshold: 0.02987,
      between: [1000, 10000],
      peaks: [1000, 4000, 10000],
      n: 15,
      k: 2.9,
      scaled: true,
    } as const;
    expect(words([describeMetadata({ ...test, says: 'follows' })])).toEqual([
      'minds the mastering peak it is told: 0.414 stop between 1000 and 10000 cd/m² at 75 %, beyond 0.03',
    ]);
    expect(words([describeMetadata({ ...test, difference: 0.01, says: 'same' })])).toEqual([
      'shows the same picture whatever mastering peak it is told, 1000, 4000 or 10000 cd/m²: at most 0.01 stop apart, within 0.03',
    ]);
    expect(words([describeMetadata({ ...test, says: 'not-separable' })])[0]).toContain('cannot be told apart');
  });
});
