import { OBSERVER_FIRST, OBSERVER_LAST } from '../colour/observer';
import { readCorrection } from '../measure/correcting';
import { isHeld } from '../measure/endurance';
import type { RunResult } from '../measure/result';
import { isUniform } from '../measure/uniformity';
import { REASONS } from '../measure/value';
import { readingsToTake } from '../session/blockProblems';
import type { Placed } from '../session/findings';
import { CellKind, cellSpan, cellText } from '../session/line';
import type { Session } from '../session/session';
import { kindAt, type TableColumn, valueAt } from '../session/table';
import { problem } from '../text/finding';
import { counted, type Forms, phraseOf } from '../text/message';
import { headSpan } from './suspicions';

/** Rows that are out of order or missing in runs that hang on their order: time, wavelengths, the cells of a grid. */
export function outOfPlace(session: Session, result: RunResult): readonly Placed[] {
  switch (result.run.kind) {
    case 'endurance':
      return timesBackwards(result);
    case 'uniformity':
      return holes(result);
    case 'spectrum':
      return wavelengths(result);
    case 'correction':
      return refusedCorrection(session, result);
    default:
      return [];
  }
}

function timesBackwards({ run, context }: RunResult): Placed[] {
  const column = run.table.columns.get('t');
  if (!context || !isHeld(context) || !column) return [];
  const found: Placed[] = [];
  let before = -1;
  run.table.rows.forEach((row, r) => {
    if (context.patches.ofRow[r]! < 0) return;
    const rowBefore = run.table.rows[before];
    if (rowBefore && valueAt(row, column) < valueAt(rowBefore, column)) {
      const args = { found: cellText(row, column.cell), before: cellText(rowBefore, column.cell) };
      found.push({ block: run.block, line: run.table.lines[r]!, problem: problem('time-backwards', cellSpan(row, column.cell), args) });
    }
    before = r;
  });
  return found;
}

/** The holes of a grid are one thing to say. A reading that is still to take is no hole: that is said already. */
function holes({ run, context }: RunResult): Placed[] {
  const columns = ['row', 'col'].map((name) => run.table.columns.get(name));
  const [row, col] = columns;
  const Y = run.table.columns.get('Y');
  if (!context || !isUniform(context) || !row || !col || !Y) return [];
  const known = new Set<string>();
  const numbers: [Set<number>, Set<number>] = [new Set(), new Set()];
  for (const line of run.table.rows) {
    const place = [valueAt(line, row), valueAt(line, col)] as const;
    if (line.struck || place.some(Number.isNaN)) continue;
    numbers[0].add(place[0]);
    numbers[1].add(place[1]);
    const kind = kindAt(line, Y);
    if ((kind === CellKind.Number && valueAt(line, Y) >= 0) || kind === CellKind.ToTake) known.add(place.join());
  }
  const [rows, cols] = numbers.map((set) => [...set].sort((a, b) => a - b)) as [number[], number[]];
  // A grid of a few thousand places has no more than that many holes worth counting.
  if (rows.length * cols.length > MOST_PLACES) return [];
  const missing = rows.flatMap((r) => cols.filter((c) => !known.has(`${r},${c}`)).map((c) => [r, c] as const));
  const [first] = missing;
  if (!first) return [];
  const others = missing.length > 1 ? counted(missing.length - 1, MORE_PLACES) : '';
  const args = { run: run.id, row: first[0], column: first[1], others };
  return [{ block: run.block, line: 0, problem: problem('grid-hole', headSpan(run.block.header!), args) }];
}

const MORE_PLACES: Forms = [' and 1 more place', ' and {count} more places'];
const MOST_PLACES = 10_000;

function wavelengths({ run }: RunResult): Placed[] {
  const nm = run.table.columns.get('nm');
  if (!nm) return [];
  const powers = [...run.table.columns.values()].filter((column) => column !== nm);
  const found: Placed[] = [];
  let before: { readonly nm: number; readonly text: string } | undefined;
  run.table.rows.forEach((row, r) => {
    const at = valueAt(row, nm);
    if (row.struck || Number.isNaN(at)) return;
    const text = cellText(row, nm.cell);
    const note = (code: 'wavelength-order' | 'wavelength-range' | 'power-negative', { cell }: TableColumn, args: Record<string, string>) =>
      found.push({ block: run.block, line: run.table.lines[r]!, problem: problem(code, cellSpan(row, cell), args) });
    if (at < OBSERVER_FIRST || at > OBSERVER_LAST) note('wavelength-range', nm, { found: text });
    if (before && at <= before.nm) note('wavelength-order', nm, { found: text, before: before.text });
    for (const column of powers)
      if (valueAt(row, column) < 0) note('power-negative', column, { name: column.name, found: cellText(row, column.cell), nm: text });
    before = { nm: at, text };
  });
  return found;
}

/** Whether readings that a correction hangs on are still to take: those are told of already. */
function isOpenYet(session: Session, { block }: RunResult['run']): boolean {
  const spectra = session.byName.get(session.text(block, 'spectra') ?? '');
  return [block, ...(spectra?.isRun ? [spectra] : [])].some((one) => readingsToTake(one).count > 0);
}

function refusedCorrection(session: Session, { run, absent }: RunResult): Placed[] {
  if (absent) return [];
  const { correction } = readCorrection(session, run.block);
  if (correction.ok || isOpenYet(session, run)) return [];
  const args = { correction: run.id, reason: phraseOf(REASONS, correction.why) };
  return [{ block: run.block, line: 0, problem: problem('correction-refused', headSpan(run.block.header!), args) }];
}
