import Color from 'colorjs.io';
import { uv } from 'colorjs.io/fn';
import { convertLab65ToXyz65, convertXyz50ToLuv, convertXyz65ToItp, convertXyz65ToLab65, differenceCiede2000 } from 'culori';
import { xyToUv, xyzToXy } from '../../src/colour/chromaticity';
import { deltaE2000 } from '../../src/colour/difference';
import { xyzToIctcp } from '../../src/colour/ictcp';
import { labToXyz, xyzToLab } from '../../src/colour/lab';
import { xyzToLuv } from '../../src/colour/luv';
import { pqEotf, pqInverse } from '../../src/colour/pq';
import { SPACES, spaceMatrices } from '../../src/colour/spaces';
import { type Mat3, multiply, type Vec3 } from '../../src/colour/vector';
import { stream } from './data';
import type { Cells } from './report';
import { median, milliseconds, ratio, timed } from './timing';

const COUNT = 100_000;
const WHITE: Vec3 = [0.9504559, 1, 1.0890578];

const first = ([v]: readonly (number | null)[]): number => v ?? Number.NaN;

type Space = ReturnType<typeof Color.Space.get>;

interface Task {
  readonly nitbook: () => number;
  readonly culori?: () => number;
  readonly 'colorjs.io'?: () => number;
}

function tasks(): Readonly<Record<string, Task>> {
  const random = stream(7);
  const many = <T>(make: () => T): T[] => Array.from({ length: COUNT }, make);
  const labs = many((): Vec3 => [random() * 100, random() * 200 - 100, random() * 200 - 100]);
  const others = many((): Vec3 => [random() * 100, random() * 200 - 100, random() * 200 - 100]);
  const rgbs = many((): Vec3 => [random(), random(), random()]);
  const xyzs = rgbs.map((rgb) => multiply(spaceMatrices(SPACES.bt709)!.toXyz, rgb));
  const absolute = xyzs.map(([X, Y, Z]): Vec3 => [200 * X, 200 * Y, 200 * Z]);

  const lab65 = ([l, a, b]: Vec3) => ({ mode: 'lab65' as const, l, a, b });
  const [labsOfCulori, othersOfCulori] = [labs.map(lab65), others.map(lab65)];
  const xyz65 = xyzs.map(([x, y, z]) => ({ mode: 'xyz65' as const, x, y, z }));
  const xyz50 = xyzs.map(([x, y, z]) => ({ mode: 'xyz50' as const, x, y, z }));
  const ciede = differenceCiede2000();

  const labOfColorJs = (coords: Vec3) => new Color('lab-d65', [...coords]);
  const [labsOfColorJs, othersOfColorJs] = [labs.map(labOfColorJs), others.map(labOfColorJs)];
  const xyzsOfColorJs = xyzs.map((coords) => new Color('xyz-d65', [...coords]));
  const [labSpace, luvSpace, ictcpSpace, pqSpace] = ['lab-d65', 'luv', 'ictcp', 'rec2100pq'].map((id) => Color.Space.get(id)) as [
    Space,
    Space,
    Space,
    Space,
  ];
  const [linear709, linear2020] = ['srgb-linear', 'rec2020-linear'].map((id) => Color.Space.get(id)) as [Space, Space];
  const [toXyz709, toXyz2020] = [SPACES.bt709, SPACES.bt2020].map((space) => spaceMatrices(space)!.toXyz) as [Mat3, Mat3];

  // A loop of its own for each, so that none is compiled for what others compute. Sums, so that nothing computed is left out as unused.
  return {
    'ΔE 2000': {
      nitbook: () => labs.reduce((sum, lab, i) => sum + deltaE2000(lab, others[i]!), 0),
      culori: () => labsOfCulori.reduce((sum, lab, i) => sum + ciede(lab, othersOfCulori[i]!), 0),
      'colorjs.io': () => labsOfColorJs.reduce((sum, lab, i) => sum + lab.deltaE(othersOfColorJs[i]!, '2000'), 0),
    },
    'XYZ → CIELAB': {
      nitbook: () => xyzs.reduce((sum, xyz) => sum + xyzToLab(xyz, WHITE)[0], 0),
      culori: () => xyz65.reduce((sum, xyz) => sum + convertXyz65ToLab65(xyz).l, 0),
      'colorjs.io': () => xyzs.reduce((sum, v) => sum + first(labSpace.fromBase!([...v])), 0),
    },
    'CIELAB → XYZ': {
      nitbook: () => labs.reduce((sum, lab) => sum + labToXyz(lab, WHITE)[0], 0),
      culori: () => labsOfCulori.reduce((sum, lab) => sum + convertLab65ToXyz65(lab).x, 0),
      'colorjs.io': () => labs.reduce((sum, v) => sum + first(labSpace.toBase!([...v])), 0),
    },
    'XYZ → CIELUV': {
      nitbook: () => xyzs.reduce((sum, xyz) => sum + xyzToLuv(xyz, WHITE)[0], 0),
      culori: () => xyz50.reduce((sum, xyz) => sum + convertXyz50ToLuv(xyz).l, 0),
      'colorjs.io': () => xyzs.reduce((sum, v) => sum + first(luvSpace.fromBase!([...v])), 0),
    },
    "XYZ → u', v'": {
      nitbook: () => xyzs.reduce((sum, xyz) => sum + xyToUv(xyzToXy(xyz))[0], 0),
      'colorjs.io': () => xyzsOfColorJs.reduce((sum, xyz) => sum + uv(xyz)[0], 0),
    },
    'three PQ signals → light': {
      nitbook: () => rgbs.reduce((sum, [r, g, b]) => sum + pqEotf(r) + pqEotf(g) + pqEotf(b), 0),
      'colorjs.io': () => rgbs.reduce((sum, v) => sum + first(pqSpace.toBase!([...v])), 0),
    },
    'light → three PQ signals': {
      nitbook: () => absolute.reduce((sum, [r, g, b]) => sum + pqInverse(r) + pqInverse(g) + pqInverse(b), 0),
      'colorjs.io': () => xyzs.reduce((sum, v) => sum + first(pqSpace.fromBase!([...v])), 0),
    },
    'XYZ → IC_TC_P': {
      nitbook: () => absolute.reduce((sum, xyz) => sum + xyzToIctcp(xyz)[0], 0),
      culori: () => xyz65.reduce((sum, xyz) => sum + convertXyz65ToItp(xyz).i, 0),
      'colorjs.io': () => absolute.reduce((sum, v) => sum + first(ictcpSpace.fromBase!([...v])), 0),
    },
    'linear RGB of BT.709 → XYZ': {
      nitbook: () => rgbs.reduce((sum, rgb) => sum + multiply(toXyz709, rgb)[0], 0),
      'colorjs.io': () => rgbs.reduce((sum, v) => sum + first(linear709.toBase!([...v])), 0),
    },
    'linear RGB of BT.2020 → XYZ': {
      nitbook: () => rgbs.reduce((sum, rgb) => sum + multiply(toXyz2020, rgb)[0], 0),
      'colorjs.io': () => rgbs.reduce((sum, v) => sum + first(linear2020.toBase!([...v])), 0),
    },
  };
}

export function colourTable(): Cells {
  const rows = Object.entries(tasks()).map(([name, task]) => {
    const times = timed(task as unknown as Record<string, () => number>, { rounds: 25, warmUp: 15 });
    const own = median(times.nitbook!);
    const against = (rival: string) => (times[rival] ? ratio(median(times[rival]), own) : '–');
    return [name, milliseconds(own), against('culori'), against('colorjs.io')];
  });
  return [['', 'nitbook', 'culori', 'colorjs.io'], ...rows];
}
