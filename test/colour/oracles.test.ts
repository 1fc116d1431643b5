import Color from 'colorjs.io';
import { converter, differenceCie94, differenceCiede2000, differenceItp } from 'culori';
import { describe, expect, test } from 'vitest';
import { xyYToXyz } from '../../src/colour/chromaticity';
import { srgbEotf, srgbInverse } from '../../src/colour/curves';
import { deltaE94, deltaE2000, deltaEitp } from '../../src/colour/difference';
import { hlgOetf } from '../../src/colour/hlg';
import { xyzToIctcp } from '../../src/colour/ictcp';
import { labToXyz, xyzToLab } from '../../src/colour/lab';
import { xyzToLuv } from '../../src/colour/luv';
import { pqInverse } from '../../src/colour/pq';
import { SPACES, type SpaceId, spaceMatrices } from '../../src/colour/spaces';
import { multiply, type Vec3 } from '../../src/colour/vector';
import { WHITES } from '../../src/colour/whites';
import { uniform } from './random';

// Two libraries with nothing in common with this code, on random colours: every test states its seed and how near is near.

const COUNT = 5000;
const D65 = xyYToXyz(...WHITES.d65, 1);
const D50 = xyYToXyz(...WHITES.d50, 1);

function randomLab(next: () => number): Vec3 {
  return [100 * next(), 200 * next() - 100, 200 * next() - 100];
}

/** A colour inside a space, relative to its white. */
function randomRgb(next: () => number): Vec3 {
  return [next(), next(), next()];
}

function worstOf(seed: number, distance: (next: () => number) => number, count = COUNT): number {
  const next = uniform(seed);
  let worst = 0;
  for (let i = 0; i < count; i++) {
    const d = distance(next);
    if (!(d <= worst)) worst = d;
  }
  return worst;
}

function apart(a: readonly (number | null)[], b: readonly (number | null)[]): number {
  return Math.max(...a.map((v, i) => Math.abs(v! - b[i]!)));
}

describe('culori', () => {
  const de2000 = differenceCiede2000();
  const de94 = differenceCie94();
  const itp = differenceItp();
  const lab65 = (lab: Vec3) => ({ mode: 'lab65', l: lab[0], a: lab[1], b: lab[2] });

  test('finds the same ΔE2000 to 1e-9 (seed 1)', () => {
    const worst = worstOf(1, (next) => {
      const a = randomLab(next);
      const b = randomLab(next);
      return Math.abs(deltaE2000(a, b) - de2000(lab65(a), lab65(b)));
    });
    expect(worst).toBeLessThan(1e-9);
  });

  test('finds the same ΔE94 to 1e-9 (seed 2)', () => {
    const worst = worstOf(2, (next) => {
      const a = randomLab(next);
      const b = randomLab(next);
      return Math.abs(deltaE94(a, b) - de94(lab65(a), lab65(b)));
    });
    expect(worst).toBeLessThan(1e-9);
  });

  test('finds the same ΔE ITP of colours inside BT.2020, white 203 cd/m², to 1e-6 (seed 3)', () => {
    const { toXyz } = spaceMatrices(SPACES.bt2020)!;
    const at203 = (xyz: Vec3): Vec3 => [203 * xyz[0], 203 * xyz[1], 203 * xyz[2]];
    const xyz65 = (xyz: Vec3) => ({ mode: 'xyz65', x: xyz[0], y: xyz[1], z: xyz[2] });
    const worst = worstOf(3, (next) => {
      const a = multiply(toXyz, randomRgb(next));
      const b = multiply(toXyz, randomRgb(next));
      return Math.abs(deltaEitp(xyzToIctcp(at203(a)), xyzToIctcp(at203(b))) - itp(xyz65(a), xyz65(b)));
    });
    expect(worst).toBeLessThan(1e-6);
  });

  test('finds the same L*a*b* on D65 to 1e-10 and the same L*u*v* on D50 to 1e-10 (seed 4)', () => {
    const toLab65 = converter('lab65');
    const toLuv = converter('luv');
    const worst = worstOf(4, (next) => {
      const [x, y, z] = labToXyz(randomLab(next), D65);
      const lab = toLab65({ mode: 'xyz65', x, y, z });
      return apart(xyzToLab([x, y, z], D65), [lab.l!, lab.a!, lab.b!]);
    });
    expect(worst).toBeLessThan(1e-10);
    const worstLuv = worstOf(4, (next) => {
      const xyz: Vec3 = [next(), next(), next()];
      const luv = toLuv({ mode: 'xyz50', x: xyz[0], y: xyz[1], z: xyz[2] });
      return apart(xyzToLuv(xyz, D50), [luv.l!, luv.u!, luv.v!]);
    });
    expect(worstLuv).toBeLessThan(1e-10);
  });
});

describe('colorjs.io', () => {
  test('finds the same ΔE2000 to 1e-9 (seed 5)', () => {
    const worst = worstOf(
      5,
      (next) => {
        const a = randomLab(next);
        const b = randomLab(next);
        return Math.abs(deltaE2000(a, b) - new Color('lab', [...a]).deltaE(new Color('lab', [...b]), '2000'));
      },
      1000,
    );
    expect(worst).toBeLessThan(1e-9);
  });

  test.each<[SpaceId, string]>([
    ['bt709', 'srgb-linear'],
    ['p3-d65', 'p3-linear'],
    ['bt2020', 'rec2020-linear'],
  ])('makes the same XYZ of linear %s (its %s) to 1e-12 (seed 6)', (id, theirs) => {
    const { toXyz } = spaceMatrices(SPACES[id])!;
    const worst = worstOf(
      6,
      (next) => {
        const rgb = randomRgb(next);
        return apart(multiply(toXyz, rgb), new Color(theirs, [...rgb]).to('xyz-d65').coords);
      },
      500,
    );
    expect(worst).toBeLessThan(1e-12);
  });

  test('makes the same I, C_T, C_P of colours inside BT.2020 from 0 to 10,000 cd/m² to 1e-10 (seed 7)', () => {
    const { toXyz } = spaceMatrices(SPACES.bt2020)!;
    const worst = worstOf(
      7,
      (next) => {
        const peak = 10000 ** next();
        const rgb = randomRgb(next);
        const xyz = multiply(toXyz, [peak * rgb[0], peak * rgb[1], peak * rgb[2]]);
        return apart(xyzToIctcp(xyz), new Color('xyz-abs-d65', [...xyz]).to('ictcp').coords);
      },
      1000,
    );
    expect(worst).toBeLessThan(1e-10);
  });

  test('makes the same sRGB, PQ and HLG signals to 1e-9 (seed 8)', () => {
    const worst = worstOf(
      8,
      (next) => {
        const light = next();
        const srgb = new Color('srgb-linear', [light, light, light]).to('srgb').coords[0]!;
        const hlg = new Color('rec2020-linear', [light, light, light]).to('rec2100hlg').coords[0]!;
        const pq = new Color('rec2020-linear', [light, light, light]).to('rec2100pq').coords[0]!;
        // Its HLG puts a scene light of 1 at 3.7743 times its white, its PQ puts white at 203 cd/m².
        return Math.max(
          Math.abs(srgbInverse(light) - srgb),
          Math.abs(srgbEotf(srgb) - light),
          Math.abs(hlgOetf(light / 3.7743) - hlg),
          Math.abs(pqInverse(203 * light) - pq),
        );
      },
      500,
    );
    expect(worst).toBeLessThan(1e-9);
  });
});
