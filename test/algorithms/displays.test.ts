import { expect, test } from 'vitest';
import { clip } from '../../src/algorithms/clip';
import { fitEetf } from '../../src/algorithms/eetfFit';
import { halfOfDrop, settled } from '../../src/algorithms/endurance';
import { type MasteredRun, metadataTest } from '../../src/algorithms/metadata';
import { followed, knee } from '../../src/algorithms/tracking';
import { noCommonError, read, tripodMeter } from '../display/meter';
import { aurora, meadow, type Panel } from '../display/panels';
import { stream } from '../display/random';
import { light, shippedPicture } from '../display/screen';
import { resultOf } from './expectations';

// The simulated displays of the examples, which have their own code for PQ and for the EETF, read with the scatter of their meter.

const LEVELS = Array.from({ length: 21 }, (_, i) => i / 20);
const uOf = (Y: number) => Math.hypot(tripodMeter.share, tripodMeter.dark / Y);

function tracked(panel: Panel, mastering: number, seed: number): MasteredRun {
  const chance = stream(`${panel.name} ${mastering} ${seed}`);
  const picture = { ...shippedPicture(panel, 'hdr'), mastering };
  const luminance = LEVELS.map((level) => {
    const { Y } = read(tripodMeter, light(panel, picture, { rgb: [level, level, level] }), noCommonError, chance);
    return Y >= tripodMeter.floor ? Y : Number.NaN;
  });
  return { signals: LEVELS, luminance, u: luminance.map(uOf), mastering };
}

const SEEDS = Array.from({ length: 100 }, (_, i) => i);

test('the self-lit display, with an EETF to 800 cd/m² and 0.05 stop on top, has its knee, bias, clip and fit found through the scatter', () => {
  let clipsFound = 0;
  for (const seed of SEEDS) {
    const run = tracked(aurora, 4000, seed);
    const found = resultOf(knee(run));
    // 0.678991 is where the EETF alone has taken 0.1 stop.
    expect(found.found && Math.abs(found.signal - 0.678991)).toBeLessThan(0.01);
    expect(resultOf(followed(run, tripodMeter.floor)).bias).toBeCloseTo(0.05, 1);
    const clipped = resultOf(clip(run));
    if (clipped.found) clipsFound++;
    expect(Math.abs(clipped.peak / 820 - 1)).toBeLessThan(0.015);
    const fit = resultOf(fitEetf(run));
    expect(Math.abs(fit.kneeStart.signal - 0.64)).toBeLessThan(0.015);
    expect(fit.rms).toBeLessThan(0.1);
  }
  // A last reading three standard deviations low looks like a fall.
  expect(clipsFound).toBeGreaterThanOrEqual(95);
});

test('the self-lit display is told to ignore metadata 19 times out of 20, the backlit one to follow it', () => {
  const says = (panel: Panel, seed: number) => resultOf(metadataTest([tracked(panel, 1000, seed), tracked(panel, 4000, seed)], false)).says;
  const same = SEEDS.filter((seed) => says(aurora, seed) === 'same').length;
  expect(same).toBeGreaterThanOrEqual(95 - 3 * Math.sqrt(100 * 0.05 * 0.95));
  expect(SEEDS.filter((seed) => says(meadow, seed) === 'follows').length).toBeGreaterThanOrEqual(99);
});

test('the self-lit display in full white settles at 0.85 and has done half of its drop at 90 s · ln 2', () => {
  const times = Array.from({ length: 61 }, (_, i) => 10 * i);
  const luminance = times.map((held) => light(aurora, shippedPicture(aurora, 'hdr'), { rgb: [1, 1, 1], window: 1, held })[1]);
  const run = { times, luminance, u: luminance.map(uOf) };
  expect(resultOf(settled(run)).share).toBeCloseTo(0.85, 2);
  expect(Math.abs(resultOf(halfOfDrop(run)) - 90 * Math.LN2)).toBeLessThan(1);
});
