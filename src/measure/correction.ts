import {
  CORNERS,
  type Corners,
  type Correction,
  type CorrectionCheck,
  checkCorrection,
  corrected,
  type Pair,
} from '../algorithms/correction';
import type { Result } from '../algorithms/result';
import { xyzToXy } from '../colour/chromaticity';
import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import { type CorrectionReading, correctionSide, readCorrection } from './correcting';
import type { Context, Kernel } from './kernel';
import { figure, figureOf, type Value, without } from './value';

/** A correction as a table of its own: what it does to each colour of its pairs. */
export interface Correcting extends Context, CorrectionReading {
  readonly nameOf: (patch: number) => string;
}

function prepare(session: Session, run: Run): Correcting {
  const patches = correctionSide(run.table, 'instrument');
  const cell = run.table.columns.get('patch')!.cell;
  const nameOf = (i: number) => cellWord(run.table.rows[patches.first[i]!]!, cell);
  return { session, run, patches, keys: ['patch'], nameOf, ...readCorrection(session, run.block) };
}

const isCorner = (name: string): boolean => (CORNERS as readonly string[]).includes(name);

function checked(c: Correcting): Result<CorrectionCheck> {
  if (!c.correction.ok) return c.correction;
  const corners = Object.fromEntries(CORNERS.map((name) => [name, c.pairs.get(name)!])) as unknown as Corners;
  const further = [...c.pairs].filter(([name]) => !isCorner(name)).map(([name, pair]) => ({ name, ...pair }));
  return checkCorrection(c.correction.v, corners, further);
}

/** The largest residual of the further colours; of a panel that mixes from other light than its primaries, one of them half saturated. */
function check(c: Correcting): Value {
  const found = checked(c);
  if (!found.ok) return found;
  if (!found.v.largest) return without('no-further');
  const panel = c.session.text(c.session.first('display'), 'panel') ?? '';
  return panel.includes('white emitter') && !found.v.midSaturation ? without('no-mid-saturation') : figure(found.v.largest.xy);
}

const byPair = (c: Correcting, of: (pair: Pair, matrix: Correction) => number, isMeant = (_: string) => true): Float64Array =>
  Float64Array.from({ length: c.patches.count }, (_, i) => {
    const pair = isMeant(c.nameOf(i)) ? c.pairs.get(c.nameOf(i)) : undefined;
    return pair && c.correction.ok ? of(pair, c.correction.v) : Number.NaN;
  });

export const correction: Kernel<'correction', Correcting> = {
  prepare,
  rows: {
    check: (c) =>
      byPair(
        c,
        ({ reference, instrument }, matrix) => {
          const [x, y] = xyzToXy(reference);
          const [cx, cy] = xyzToXy(corrected(matrix, instrument));
          return Math.hypot(cx - x, cy - y);
        },
        (name) => !isCorner(name),
      ),
    luminance: (c) => byPair(c, ({ reference, instrument }, matrix) => corrected(matrix, instrument)[1] / reference[1]),
  },
  run: {
    check,
    condition: (c) => figureOf(c.correction, ({ condition }) => Math.max(condition.reference, condition.instrument)),
  },
  why: (c, id, patch) => {
    if (!c.correction.ok) return c.correction;
    return id === 'check' && isCorner(c.nameOf(patch)) ? without('met-by-construction') : undefined;
  },
};
