import { type Corner, type Corners, fourColourCorrection } from '../../src/algorithms/correction';
import { statistics } from '../../src/algorithms/statistics';
import { gridOf, nonuniformity, overCentre } from '../../src/algorithms/uniformity';
import { resultOf } from '../algorithms/expectations';
import { type Check, equals } from './colourChecks';

/** The corners as the records call them. */
const LETTERS = { white: 'W', red: 'R', green: 'G', blue: 'B' } as const satisfies Record<Corner, string>;

/** What the algorithms compute for a record, by the record's `fn`. */
export const ALGORITHM_CHECKS: Readonly<Record<string, Check>> = {
  fourColorMatrix: equals(({ reference_XYZ, instrument_XYZ_with_Y_drift }) => {
    const pairs = Object.entries(LETTERS).map(([colour, letter]) => [
      colour,
      { reference: reference_XYZ[letter], instrument: instrument_XYZ_with_Y_drift[letter] },
    ]);
    return resultOf(fourColourCorrection(Object.fromEntries(pairs) as Corners)).matrix;
  }),
  typeA: equals(({ readings }) => {
    const { n, mean, spread } = resultOf(statistics(readings));
    return { n, mean, s: spread?.sd, sMean: spread?.se, dof: spread?.dof };
  }),
  uniformity9: equals(({ luminances }: { luminances: readonly number[] }) => {
    const grid = resultOf(gridOf(luminances.map((luminance, i) => ({ row: Math.floor(i / 3), column: i % 3, luminance }))));
    const v = resultOf(nonuniformity(grid));
    return {
      minOverMax_percent: 100 * (1 - v),
      nonuniformity_percent: 100 * v,
      percentOfCentre: Array.from(resultOf(overCentre(grid)), (share) => 100 * share),
    };
  }),
};
