import { corrected } from '../algorithms/correction';
import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import { correctionOf } from './correcting';
import { otherReadings } from './moved';
import { perBlock, perRows } from './perBlock';
import { gatherPatches, type Patches, Seen, signalsOf } from './readings';

export interface Reading {
  /** Whether rows of one key are repeats wherever they stand; as the run says when left out. */
  readonly repeatAll?: boolean;
  /** The column that is read; the luminance when left out. Only light is corrected. */
  readonly quantity?: string;
  /** Whether the drift is taken out where the run asks for it; it is when left out. */
  readonly drift?: boolean;
}

/**
 * The patches of a run: gathered, the drift of a repeated white taken out where the run says so, and corrected for the meter where a
 * correction holds for it. `raw` has the readings as the meter showed them.
 */
export function readPatches(session: Session, run: Run, keys: readonly string[], reading: Reading = {}): Patches {
  const others = otherReadings(session);
  if (others) return others.move(run.block, run.meter, readPatches(others.session, run, keys, reading));
  const { repeatAll = session.text(run.block, 'repeat') === 'all', quantity = 'Y' } = reading;
  const { block, table } = run;
  const what = `${keys} ${repeatAll} ${quantity}`;
  const column = table.columns.get(quantity);
  const columns = quantity === 'Y' ? table.columns : new Map(column ? [['Y', column]] : []);
  const gathered = perRows<Patches>(block, `patches ${what}`, (before) => gatherPatches(table, { keys, repeatAll, columns }, before));
  if (quantity !== 'Y') return gathered;
  const drift = reading.drift === false ? undefined : driftOf(session, run);
  const correction = correctionOf(session, run);
  if (!drift?.factorOf && !correction) return gathered;
  return perBlock(block, `patches ${what} ${drift?.what} ${correction?.what}`, () => {
    const held = drift?.factorOf ? gatherPatches(table, { keys, repeatAll, columns, factorOf: drift.factorOf }) : gathered;
    const { X, Y, Z } = gathered;
    if (!correction) return { ...held, raw: { X, Y, Z } };
    const [x, y, z] = [held.X.slice(), held.Y.slice(), held.Z.slice()];
    for (let i = 0; i < held.count; i++) {
      if (held.seen[i] !== Seen.Measured) continue;
      if (Number.isNaN(x[i]! + z[i]!)) y[i] = y[i]! * correction.whiteRatio;
      else [x[i], y[i], z[i]] = corrected(correction.correction, [x[i]!, y[i]!, z[i]!]);
    }
    return { ...held, X: x, Y: y, Z: z, raw: { X, Y, Z } };
  });
}

/** What takes the drift of a run out, and the white that it is told by. */
export interface Drift {
  /** Undefined where white was not read twice: then there is nothing to correct by. */
  readonly factorOf?: (row: number) => number;
  readonly what: string;
}

/**
 * The factors that bring every reading of a run that says `drift: correct` to the luminance of its first white: straight lines between
 * one white and the next in the order of the rows, and constant before the first and behind the last. Undefined for other runs.
 */
export function driftOf(session: Session, run: Run): Drift | undefined {
  if (session.text(run.block, 'drift') !== 'correct') return undefined;
  const isWhite = whiteTest(session, run);
  const { first, Y, seen, count } = gathered(run, keysOf(run));
  const whites: { readonly row: number; readonly Y: number }[] = [];
  for (let i = 0; i < count; i++) if (seen[i] === Seen.Measured && Y[i]! > 0 && isWhite(i)) whites.push({ row: first[i]!, Y: Y[i]! });
  if (whites.length < 2) return { what: 'no drift' };
  const factorOf = (row: number): number => {
    const next = whites.findIndex((white) => white.row > row);
    if (next === 0) return 1;
    const from = whites[next < 0 ? whites.length - 1 : next - 1]!;
    const to = next < 0 ? from : whites[next]!;
    const along = to.row === from.row ? 0 : (row - from.row) / (to.row - from.row);
    return whites[0]!.Y / (from.Y + along * (to.Y - from.Y));
  };
  return { factorOf, what: whites.map((white) => `${white.row}:${white.Y}`).join() };
}

const keysOf = ({ block }: Run): readonly string[] => block.spec?.table?.keys ?? [];

const gathered = ({ block, table }: Run, keys: readonly string[]): Patches =>
  perRows<Patches>(block, `patches ${keys} false Y`, (before) =>
    gatherPatches(table, { keys, repeatAll: false, columns: table.columns }, before),
  );

/** Which patches of a run are full-drive white. */
function whiteTest(session: Session, run: Run): (patch: number) => boolean {
  const { columns, rows } = run.table;
  const patches = gathered(run, keysOf(run));
  const drives = ['level', 'R', 'G', 'B'].flatMap((name) => columns.get(name) ?? []);
  if (drives.length > 0) {
    const signals = drives.map((column) => signalsOf(session, run, patches, column));
    return (patch) => signals.every((list) => list !== undefined && Math.abs(list[patch]! - 1) < 1e-6);
  }
  const name = columns.get('hue') ?? columns.get('patch');
  return (patch) => name !== undefined && cellWord(rows[patches.first[patch]!]!, name.cell) === 'white';
}
