import { expect } from 'vitest';
import { type Limits, measureSpec, ROW_LIMITS } from '../../src/measure/specs';
import { number, result, table } from '../measure/tools';
import { expectClose, type PublishedRecord } from './records';

type Check = (record: PublishedRecord) => void;

/** Where a limit of a document stands in the table of measures: `kind.id`, whether it is the aim or the limit, of SDR or HDR. */
const LIMITS: Readonly<Record<string, readonly [measure: string, side: keyof Limits, of: 'sdr' | 'hdr']>> = {
  'SDR black luminance (less than), Grade 2': ['contrast.black', 'limit', 'sdr'],
  'HDR black level (at most), Grade 1A/1B': ['contrast.black', 'aim', 'hdr'],
  'HDR black level (at most), Grade 2': ['contrast.black', 'limit', 'hdr'],
  'SDR full-screen contrast ratio (greater than), Grade 1': ['contrast.sequential', 'aim', 'sdr'],
  'SDR full-screen contrast ratio (greater than), Grade 2': ['contrast.sequential', 'limit', 'sdr'],
  'sequential contrast, nominal, -': ['contrast.sequential', 'aim', 'sdr'],
  'intra-frame contrast, nominal, -': ['contrast.checkerboard', 'aim', 'sdr'],
  'intra-frame contrast (at least), Review room': ['contrast.checkerboard', 'limit', 'sdr'],
  'intra-frame contrast (at least), Theatre': ['contrast.checkerboard', 'limit', 'sdr'],
  'gamma 2.4, deviation between 10% and 90% signal, Grade 2': ['greyscale.curve.exponent', 'limit', 'sdr'],
  'grey scale tracking chromaticity, 1-100 cd/m2, Grade 2': ['greyscale.duvstar.max', 'aim', 'sdr'],
  'grey scale tracking chromaticity, 1-100 cd/m2, Grade 3': ['greyscale.duvstar.max', 'limit', 'sdr'],
  'white point D65, Grade 1': ['greyscale.white.duvstar', 'aim', 'sdr'],
  'white point D65, Grade 2': ['greyscale.white.duvstar', 'limit', 'sdr'],
  'white point D65, Grade 3': ['greyscale.white.duvstar', 'limit', 'sdr'],
  // Of a 1 % patch there, of 10 % here.
  'HDR HLG peak luminance, 1% area (at least), Grade 1A/1B': ['window.peak@10', 'aim', 'hdr'],
  'HDR HLG peak luminance, 1% area (at least), Grade 3': ['window.peak@10', 'limit', 'hdr'],
};

export const nameOf = ({ input }: PublishedRecord): string => `${input.quantity}, ${input.class}`;

/** Whether a limit of a document is one of ours: the others belong to rooms, cinemas, pictures or grades that no measure asks for. */
export const isOurLimit = (record: PublishedRecord): boolean => Object.hasOwn(LIMITS, nameOf(record));

/** The names of all limits that are looked up, so that a misspelt one does not pass for checked. */
export const OUR_LIMITS: readonly string[] = Object.keys(LIMITS);

function limit(record: PublishedRecord): void {
  const [name, side, of] = LIMITS[nameOf(record)]!;
  const dot = name.indexOf('.');
  const spec = ROW_LIMITS[name] ?? measureSpec(name.slice(0, dot), name.slice(dot + 1));
  expect(spec?.[of]?.[side]).toBe((record.expected as { value: number }).value);
}

/** One row at a level of a session, judged against BT.1886 with the white and black of the record, so that all of it is its target. */
function exponentAt({ V, Lw, Lb }: { V: number; Lw: number; Lb: number }, black: number): number {
  const root = (n: number) => n ** (1 / 2.4);
  const Y = (V * (root(Lw) - root(Lb)) + root(Lb)) ** 2.4;
  const rows = [
    [0, black],
    [100 * V, Y.toPrecision(16)],
    [100, Lw],
  ];
  return number(result(table('greyscale grey', 'level Y', rows)), `exponent@${100 * V}`);
}

const P = 'curve: power 2.4\nwhite: ';

/** What the figures of a run give for a record, by the record's `fn`: the way from the text of a session to the number. */
export const MEASURE_CHECKS: Readonly<Record<string, Check>> = {
  limit,
  effectiveGamma: (record) => expectClose(exponentAt(record.input, 0), record.expected, record.tolerance),
  effectiveGammaBlackSubtracted: (record) => expectClose(exponentAt(record.input, record.input.Lb), record.expected, record.tolerance),
  rgbBalanceChromaOnly: ({ input, expected, tolerance }) => {
    const space: string = input.space.replace('_', '-');
    const run = result(table('greyscale grey', 'level X Y Z', [[80, ...input.xyz_cd_m2]]), {
      target: `space: ${space}\n${P}${space === 'p3-dci' ? 'dci' : 'd65'}\nluminance: 250 cd/m2`,
    });
    const rgb = ['r', 'g', 'b'].map((channel) => number(run, `balance.${channel}@80`) / 100);
    expectClose({ rgb }, expected, tolerance);
  },
};
