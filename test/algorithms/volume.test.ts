import Color from 'colorjs.io';
import { describe, expect, test } from 'vitest';
import { type ColourVolume, colourVolume, type VolumeSpace } from '../../src/algorithms/volume';
import { xyYToXyz } from '../../src/colour/chromaticity';
import { SPACES, type SpaceId, spaceMatrices } from '../../src/colour/spaces';
import { multiply, type Vec3 } from '../../src/colour/vector';
import { WHITES } from '../../src/colour/whites';
import { uniform } from '../colour/random';
import { expectRefused, resultOf } from './expectations';

/** Reference white of colorjs.io in its absolute spaces (ITU-R BT.2408), so that both count in the same light. */
const WHITE = 203;
const D65 = xyYToXyz(...WHITES.d65, WHITE);

function surface(side: number): Vec3[] {
  const levels = Array.from({ length: side }, (_, i) => i / (side - 1));
  return levels
    .flatMap((r) => levels.flatMap((g) => levels.map((b): Vec3 => [r, g, b])))
    .filter((drive) => drive.some((v) => v === 0 || v === 1));
}

const lightOf = (id: SpaceId) => {
  const { toXyz } = spaceMatrices(SPACES[id])!;
  return ([r, g, b]: Vec3): Vec3 => multiply(toXyz, [WHITE * r ** 2.4, WHITE * g ** 2.4, WHITE * b ** 2.4]);
};

const volume = (display: SpaceId, reference: SpaceId, space: VolumeSpace, side: number): ColourVolume => {
  const drives = surface(side);
  return resultOf(colourVolume({ drives, xyz: drives.map(lightOf(display)), target: lightOf(reference), white: D65 }, space));
};

/**
 * Monte Carlo with another library: random points of a box in Lab or IC_TC_P, carried to linear RGB, are inside when every channel is in
 * 0 … 1. Shares nothing with what is tested.
 */
function thrown(space: VolumeSpace, seed: number, count: number) {
  const next = uniform(seed);
  const box = space === 'lab' ? [100, 300, 320] : [0.6, 0.9, 0.7];
  const inside = { bt709: 0, 'p3-d65': 0, bt2020: 0, both: 0 };
  for (let i = 0; i < count; i++) {
    const point: [number, number, number] = [box[0]! * next(), box[1]! * (next() - 0.5), box[2]! * (next() - 0.5)];
    const colour = new Color(space === 'lab' ? 'lab-d65' : 'ictcp', point);
    const isIn = (id: string) => colour.to(id).coords.every((v) => v !== null && v >= 0 && v <= 1);
    const [small, middle, large] = [isIn('srgb-linear'), isIn('p3-linear'), isIn('rec2020-linear')];
    if (small) inside.bt709++;
    if (middle) inside['p3-d65']++;
    if (large) inside.bt2020++;
    if (middle && large) inside.both++;
  }
  const unit = space === 'lab' ? 1 : 720 * 360 * 720;
  const boxVolume = (box[0]! * box[1]! * box[2]! * unit) / count;
  return { inside, volume: (n: number) => n * boxVolume };
}

describe.each(['lab', 'ictcp'] as const)('the colour volume in %s', (space) => {
  const { inside, volume: ofPoints } = thrown(space, 3, 80_000);
  /** Three standard deviations of a count, relative. */
  const scatter = (n: number) => 3 / Math.sqrt(n);

  test.each(['bt709', 'p3-d65', 'bt2020'] as const)(
    'of %s is the one that random points find (colorjs.io, 80,000 points, seed 3)',
    (id) => {
      const { reference } = volume(id, id, space, 33);
      expect(Math.abs(ofPoints(inside[id]) / reference - 1)).toBeLessThan(scatter(inside[id]) + 0.003);
    },
  );

  test('of P3 covers of BT.2020 what random points find', () => {
    const { covered } = volume('p3-d65', 'bt2020', space, 17);
    expect(Math.abs(covered - inside.both / inside.bt2020)).toBeLessThan(3 * Math.sqrt(0.25 / inside.bt2020) + 0.001);
  });

  test('of a display that does what its target says is all of it, on any grid', () => {
    for (const side of [3, 5]) expect(volume('p3-d65', 'p3-d65', space, side)).toMatchObject({ covered: 1, ratio: 1 });
  });

  test('of a smaller space inside the reference is covered to its ratio; of a larger one to 1, however large', () => {
    const inner = volume('bt709', 'p3-d65', space, 9);
    expect(inner.covered).toBeCloseTo(inner.ratio, 3);
    const outer = volume('bt2020', 'bt709', space, 9);
    expect(outer.covered).toBeCloseTo(1, 4);
    expect(outer.ratio).toBeGreaterThan(1.9);
  });

  test('hardly hangs on the grid: three levels give the share of 17 to 0.004', () => {
    const fine = volume('bt709', 'bt2020', space, 17);
    for (const side of [3, 5, 9]) expect(Math.abs(volume('bt709', 'bt2020', space, side).covered - fine.covered)).toBeLessThan(0.004);
  });

  test('does not hang on the order of the patches, or on patches inside the cube', () => {
    const drives = surface(5);
    const target = lightOf('bt2020');
    const shown = (list: readonly Vec3[]) =>
      resultOf(colourVolume({ drives: list, xyz: list.map(lightOf('p3-d65')), target, white: D65 }, space));
    expect(shown([[0.5, 0.25, 0.5], ...drives.toReversed()])).toEqual(shown(drives));
  });

  test('is smaller for a panel with a white emitter: its colours are too dark for its white', () => {
    const drives = surface(5);
    const target = lightOf('p3-d65');
    const xyz = drives.map((drive) => {
      const [X, Y, Z] = target(drive);
      const grey = target([Math.min(...drive), Math.min(...drive), Math.min(...drive)]);
      return [0.6 * X + 0.4 * grey[0], 0.6 * Y + 0.4 * grey[1], 0.6 * Z + 0.4 * grey[2]] as const;
    });
    const found = resultOf(colourVolume({ drives, xyz, target, white: D65 }, space));
    expect(found.ratio).toBeLessThan(0.9);
    // Inside the reference in truth; triangles of five levels lie a little outside of each other.
    expect(Math.abs(found.covered - found.ratio)).toBeLessThan(0.02);
  });
});

describe('no colour volume', () => {
  const of = (drives: readonly Vec3[], xyz = drives.map(lightOf('p3-d65'))) =>
    colourVolume({ drives, xyz, target: lightOf('p3-d65'), white: D65 }, 'lab');

  test('comes of corners alone, unlike levels, or levels that do not begin at 0', () => {
    expectRefused(of(surface(2)), 'levels-few');
    expectRefused(of([]), 'levels-few');
    expectRefused(of(surface(3).map(([r, g, b]): Vec3 => [r, g, b === 0.5 ? 0.6 : b])), 'levels-few');
    expectRefused(of(surface(3).map(([r, g, b]): Vec3 => [0.5 + r / 2, 0.5 + g / 2, 0.5 + b / 2])), 'levels-few');
  });

  test('comes of a surface with holes: the first is named, all are counted', () => {
    expectRefused(of(surface(3).filter(([r, g, b]) => !(r === 0.5 && g === 1) && !(r === 1 && b === 0 && g === 0))), 'volume-hole', {
      r: 0.5,
      g: 1,
      b: 0,
      count: 4,
    });
  });

  test('comes of colours that are all one, or of patches without a reading', () => {
    const drives = surface(3);
    const all = (xyz: Vec3) => drives.map(() => xyz);
    expectRefused(of(drives, all([1, 1, 1])), 'volume-flat');
    expectRefused(of(drives, all([Number.NaN, 1, 1])), 'volume-hole', { r: 0, g: 0, b: 0, count: 26 });
    expectRefused(of(drives, []), 'lengths-differ');
  });
});
