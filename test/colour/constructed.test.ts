import Color from 'colorjs.io';
import { describe, expect, test } from 'vitest';
import { xyYToXyz, xyzToXy } from '../../src/colour/chromaticity';
import { bt1886Eotf, powerEotf } from '../../src/colour/curves';
import { deltaE2000, deltaEitp, deltaLch } from '../../src/colour/difference';
import { eetfKneeStart, eetfLuminance, type ToneRange } from '../../src/colour/eetf';
import { areaRatio, coverage, triangleOf } from '../../src/colour/gamut';
import { xyzToIctcp } from '../../src/colour/ictcp';
import { xyzToLab } from '../../src/colour/lab';
import { pqEotf, pqInverse } from '../../src/colour/pq';
import { asSent, codeToSignal, signalToCode } from '../../src/colour/quantise';
import { SPACES, type Space, spaceMatrices } from '../../src/colour/spaces';
import { multiply, type Vec3, type Xy } from '../../src/colour/vector';
import { WHITES } from '../../src/colour/whites';

// Worked examples without a published source, computed once by independent code: good numbers to hold on to, and no authority.

const D65 = WHITES.d65;
const BT709 = spaceMatrices(SPACES.bt709)!;

function xyz(x: number, y: number, Y: number): Vec3 {
  return xyYToXyz(x, y, Y);
}

function white(Y: number): Vec3 {
  return xyYToXyz(D65[0], D65[1], Y);
}

/** ΔE2000 with Lab on D65 at `scale` cd/m². */
function de(target: Vec3, reading: Vec3, scale: number): number {
  return deltaE2000(xyzToLab(target, white(scale)), xyzToLab(reading, white(scale)));
}

describe('levels as sent (constructed)', () => {
  test.each([
    [1, 8, 18, 0.91324, 0.8043],
    [1, 10, 73, 1.0274, 1.067],
    [5, 8, 27, 5.0228, 1.011],
    [5, 10, 108, 5.0228, 1.011],
  ])('%d percent in %d bits limited is code %d, %d percent, and its light at power 2.4 is ×%d', (percent, depth, code, sent, ratio) => {
    const level = asSent(percent, { range: 'limited', depth });
    expect(level.code).toBe(code);
    expect(100 * level.signal).toBeCloseTo(sent, 4);
    const curve = { gamma: 2.4, Lw: 120 };
    expect(powerEotf(level.signal, curve) / powerEotf(percent / 100, curve)).toBeCloseTo(ratio, 4);
  });
});

describe('BT.1886 at a white of 120 (constructed)', () => {
  test.each([
    [0, [0.001902, 0.090513, 0.477729]],
    [0.003, [0.012578, 0.148682, 0.612139]],
    [0.01, [0.026074, 0.195868, 0.710307]],
    [0.05, [0.084782, 0.342887, 0.98418]],
  ])('with a black of %d gives what was computed for 1, 5 and 10 percent', (Lb, expected) => {
    expected.forEach((L, i) => {
      expect(Math.abs(bt1886Eotf([0.01, 0.05, 0.1][i]!, { Lw: 120, Lb }) - L)).toBeLessThan(5.1e-7);
    });
  });
});

describe('a grey of 30 % at power 2.4 (constructed)', () => {
  const target = powerEotf(0.3, { gamma: 2.4, Lw: 120 });
  const reading = xyz(0.3099, 0.3279, 6.7);

  test('aims at 6.672249 cd/m² and is ΔE 0.6416 away, 0.6461 on the scale of 119.6', () => {
    expect(target).toBeCloseTo(6.672249, 6);
    expect(de(xyz(...D65, target), reading, 120)).toBeCloseTo(0.6416, 4);
    expect(de(xyz(...D65, powerEotf(0.3, { gamma: 2.4, Lw: 119.6 })), reading, 119.6)).toBeCloseTo(0.6461, 4);
  });

  test('is 0.6390 away without its luminance, 1.6361 with white at its own', () => {
    const tint = xyz(0.3099, 0.3279, target);
    expect(de(white(target), tint, 120)).toBeCloseTo(0.639, 4);
    expect(de(white(target), tint, target)).toBeCloseTo(1.6361, 4);
  });
});

test('a tinted 5 % grey hides behind the peak white of Lab: ΔE 0.22, 8.71 at its own luminance, ΔE ITP 2.89 (constructed)', () => {
  const target = powerEotf(0.05, { gamma: 2.4, Lw: 120 });
  const reading = xyz(0.3, 0.31, 1.1 * target);
  expect(de(white(target), reading, 120)).toBeCloseTo(0.22, 2);
  expect(de(white(target), xyz(0.3, 0.31, target), target)).toBeCloseTo(8.71, 2);
  expect(deltaEitp(xyzToIctcp(white(target)), xyzToIctcp(reading))).toBeCloseTo(2.89, 2);
});

test('the balance of .3089/.3248 depends on the space: BT.709 98.261/100.104/104.095, BT.2020 99.121/100.022/103.648 (constructed)', () => {
  const balance = (space: Space) => multiply(spaceMatrices(space)!.toRgb, xyz(0.3089, 0.3248, 100));
  balance(SPACES.bt709).forEach((v, i) => {
    expect(v).toBeCloseTo([98.261, 100.104, 104.095][i]!, 3);
  });
  balance(SPACES.bt2020).forEach((v, i) => {
    expect(v).toBeCloseTo([99.121, 100.022, 103.648][i]!, 3);
  });
});

/** Saturation point: a step in xy from white to the hue, at the stimulus of `drive` at power 2.4. */
function saturation(hue: Xy, share: number, drive: number): { xy: Xy; Y: number; percent: readonly number[] } {
  const xy: Xy = [D65[0] + share * (hue[0] - D65[0]), D65[1] + share * (hue[1] - D65[1])];
  const rgb = multiply(BT709.toRgb, xyz(...xy, 1));
  const scale = drive ** 2.4 / Math.max(...rgb);
  const linear: Vec3 = [scale * rgb[0], scale * rgb[1], scale * rgb[2]];
  return { xy, Y: multiply(BT709.toXyz, linear)[1], percent: linear.map((v) => 100 * Math.max(0, v) ** (1 / 2.4)) };
}

describe('saturation points of BT.709 at 75 % (constructed)', () => {
  const red = SPACES.bt709.primaries.r;
  const cyan = xyzToXy(multiply(BT709.toXyz, [0, 1, 1]));

  test('red 50 % is .47635/.32950, 0.175655 of white, driven 75/36.272/36.272', () => {
    const point = saturation(red, 0.5, 0.75);
    expect(point.xy[0]).toBeCloseTo(0.47635, 5);
    expect(point.xy[1]).toBeCloseTo(0.3295, 5);
    expect(point.Y).toBeCloseTo(0.175655, 6);
    expect(point.percent[0]).toBeCloseTo(75, 9);
    expect(point.percent[1]).toBeCloseTo(36.272, 3);
    expect(point.percent[2]).toBeCloseTo(36.272, 3);
  });

  test('red 100 % is 0.106608 of white', () => {
    expect(saturation(red, 1, 0.75).Y).toBeCloseTo(0.106608, 6);
  });

  test('cyan 50 % is .26867/.32887, 0.441733 of white, driven 53.308/75/75', () => {
    const point = saturation(cyan, 0.5, 0.75);
    expect(point.xy[0]).toBeCloseTo(0.26867, 5);
    expect(point.xy[1]).toBeCloseTo(0.32887, 5);
    expect(point.Y).toBeCloseTo(0.441733, 6);
    expect(point.percent[0]).toBeCloseTo(53.308, 3);
  });

  test('red 50 % read as 20.5/.4900/.3330 has the parts −0.600, +2.647, +2.203°, +1.852 and ΔE 1.542', () => {
    const point = saturation(red, 0.5, 0.75);
    const target = xyzToLab(xyz(...point.xy, 120 * point.Y), white(120));
    const reading = xyzToLab(xyz(0.49, 0.333, 20.5), white(120));
    const parts = deltaLch(target, reading);
    expect(parts.dL).toBeCloseTo(-0.6, 3);
    expect(parts.dC).toBeCloseTo(2.647, 3);
    expect(parts.dh).toBeCloseTo(2.203, 3);
    expect(parts.dH).toBeCloseTo(1.852, 3);
    expect(deltaE2000(target, reading)).toBeCloseTo(1.542, 3);
  });
});

describe('coverage (constructed)', () => {
  const bt709 = triangleOf(SPACES.bt709.primaries);
  const p3 = triangleOf(SPACES['p3-d65'].primaries);
  const bt2020 = triangleOf(SPACES.bt2020.primaries);
  const percent = (share: number | undefined) => 100 * share!;

  test('BT.2020 covers P3 to 99.9801 % in xy and 99.9775 % in u′v′', () => {
    expect(percent(coverage(bt2020, p3, 'xy'))).toBeCloseTo(99.9801, 4);
    expect(percent(coverage(bt2020, p3, 'uv'))).toBeCloseTo(99.9775, 4);
  });

  test('P3 covers BT.2020 to 71.7290 / 72.8492 %, with an area of 71.7433 / 72.8656 %', () => {
    expect(percent(coverage(p3, bt2020, 'xy'))).toBeCloseTo(71.729, 4);
    expect(percent(coverage(p3, bt2020, 'uv'))).toBeCloseTo(72.8492, 4);
    expect(percent(areaRatio(p3, bt2020, 'xy'))).toBeCloseTo(71.7433, 4);
    expect(percent(areaRatio(p3, bt2020, 'uv'))).toBeCloseTo(72.8656, 4);
  });

  test('BT.709 covers BT.2020 to 52.89 / 58.03 % and P3 to 73.72 / 79.64 %', () => {
    expect(percent(coverage(bt709, bt2020, 'xy'))).toBeCloseTo(52.89, 2);
    expect(percent(coverage(bt709, bt2020, 'uv'))).toBeCloseTo(58.03, 2);
    expect(percent(coverage(bt709, p3, 'xy'))).toBeCloseTo(73.72, 2);
    expect(percent(coverage(bt709, p3, 'uv'))).toBeCloseTo(79.64, 2);
  });

  test('a panel with more area than P3 in u′v′ covers 97.90 % of it: the two are not one', () => {
    const panel: Xy[] = [
      [0.684, 0.314],
      [0.2571, 0.656],
      [0.1476, 0.0589],
    ];
    expect(percent(coverage(panel, p3, 'xy'))).toBeCloseTo(94.03, 2);
    expect(percent(coverage(panel, p3, 'uv'))).toBeCloseTo(97.9, 2);
    expect(percent(coverage(panel, bt2020, 'xy'))).toBeCloseTo(68.99, 2);
    expect(percent(coverage(panel, bt2020, 'uv'))).toBeCloseTo(73.99, 2);
    expect(percent(areaRatio(panel, p3, 'uv'))).toBeGreaterThan(101.5);
  });

  test('a cyan emitter raises BT.2020 from 69.095 to 69.969 % in xy and from 74.195 to 74.977 % in u′v′', () => {
    const three: Xy[] = [
      [0.68, 0.32],
      [0.252, 0.657],
      [0.149, 0.054],
    ];
    const four: Xy[] = [...three, [0.19, 0.33]];
    expect(percent(coverage(three, bt2020, 'xy'))).toBeCloseTo(69.095, 3);
    expect(percent(coverage(four, bt2020, 'xy'))).toBeCloseTo(69.969, 3);
    expect(percent(coverage(three, bt2020, 'uv'))).toBeCloseTo(74.195, 3);
    expect(percent(coverage(four, bt2020, 'uv'))).toBeCloseTo(74.977, 3);
  });
});

describe('tone mapping (constructed)', () => {
  test('the EETF from 4,000 to 800 cd/m² starts to roll off at PQ 0.6400, 355.7 cd/m²', () => {
    const start = eetfKneeStart({ Lb: 0, Lw: 4000, Lmin: 0, Lmax: 800 });
    expect(start).toBeCloseTo(0.64, 4);
    expect(pqEotf(start)).toBeCloseTo(355.7, 1);
  });

  test('a clip at 0.85 keeps 0.8367 of the highlight range mastered to 4,000 cd/m²', () => {
    const grey = pqInverse(203);
    expect((0.85 - grey) / (pqInverse(4000) - grey)).toBeCloseTo(0.8367, 4);
  });

  test('a display of 800 cd/m² that follows metadata differs by 0.414 stop at 75 % between 1,000 and 10,000 cd/m²', () => {
    const range = (Lw: number): ToneRange => ({ Lb: 0, Lw, Lmin: 0, Lmax: 800 });
    const L = pqEotf(0.75);
    expect(Math.log2(eetfLuminance(L, range(1000)) / eetfLuminance(L, range(10000)))).toBeCloseTo(0.414, 3);
  });
});

describe('a chain that takes one range for the other, white 120 at power 2.4 (constructed)', () => {
  const curve = { gamma: 2.4, Lw: 120 };
  const limited = { range: 'limited', depth: 8 } as const;
  const full = { range: 'full', depth: 8 } as const;

  test('limited shown as full gives 0.1561 for black and 98.64 for white', () => {
    expect(powerEotf(codeToSignal(signalToCode(0, limited), full), curve)).toBeCloseTo(0.1561, 4);
    expect(powerEotf(codeToSignal(signalToCode(1, limited), full), curve)).toBeCloseTo(98.64, 2);
  });

  test('full shown as limited gives nothing at 5 % and 0.0644 at 10 %', () => {
    expect(powerEotf(codeToSignal(signalToCode(0.05, full), limited), curve)).toBe(0);
    expect(powerEotf((0.1 * 255 - 16) / 219, curve)).toBeCloseTo(0.0644, 4);
  });
});

test('a common error of +0.002 x and +2 % Y makes a perfect grey of 80 % read ΔE 1.408 (constructed)', () => {
  const Y = powerEotf(0.8, { gamma: 2.4, Lw: 120 });
  expect(de(white(Y), xyz(D65[0] + 0.002, D65[1], 1.02 * Y), 120)).toBeCloseTo(1.408, 3);
});

test('a blue primary 0.01 too far in x is ΔE 2.36 away in Lab by its own white; through a Lab of D50 it would be 3.23 (constructed)', () => {
  const [x, y] = SPACES.bt709.primaries.b;
  const Y = BT709.toXyz[1][2];
  const target = xyz(x, y, Y);
  const reading = xyz(x + 0.01, y, Y);
  expect(de(target, reading, 1)).toBeCloseTo(2.36, 2);
  const adapted = (one: Vec3) => new Color('xyz-d65', [...one]);
  expect(adapted(target).deltaE(adapted(reading), '2000')).toBeCloseTo(3.23, 2);
});
