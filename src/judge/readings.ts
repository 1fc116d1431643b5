import { uvToXy } from '../colour/chromaticity';
import { insideLocus } from '../colour/spectrum';
import type { Block } from '../session/block';
import type { Placed } from '../session/findings';
import { CellKind, cellCount, cellSpan, cellText, type RowLine } from '../session/line';
import { kindAt, type TableColumn, tableOf, valueAt } from '../session/table';
import { type Problem, problem } from '../text/finding';
import { plainNumber } from '../text/message';
import type { Span } from '../text/span';

/** A mend that replaces one span. */
export const replacing = (span: Span, mended: string) => ({ args: { mended }, edits: [{ span, text: mended }] });

/** The floor of the meter that took a run, in cd/m², and what the meter is called. */
export interface Floor {
  readonly meter: string;
  readonly value: number;
}

/** Numbers that no reading can have, row by row: nothing but the row and the floor of the meter is needed. */
export function impossibleReadings(block: Block, floor: Floor | undefined): Placed[] {
  const { rows, lines, columns } = tableOf(block);
  const [Y, X, Z, x, y, u, v] = ['Y', 'X', 'Z', 'x', 'y', "u'", "v'"].map((name) => columns.get(name));
  const luminances = [Y, X, Z].filter((column) => column !== undefined);
  const drives = [...columns.values()].filter(({ spec, name }) => spec.holds === 'drive' || name === 'sat');
  const found: Placed[] = [];
  rows.forEach((row, i) => {
    if (row.struck) return;
    const say = (p: Problem | undefined) => {
      if (p) found.push({ block, line: lines[i]!, problem: p });
    };
    for (const column of drives) say(driveProblem(row, column));
    for (const column of luminances) say(luminanceProblem(row, column, column === Y ? floor : undefined));
    if (x && y) say(chromaticityProblem(row, x, y, false));
    if (u && v) say(chromaticityProblem(row, u, v, true));
  });
  return found;
}

function driveProblem(row: RowLine, column: TableColumn): Problem | undefined {
  const value = row.values[column.cell]!;
  const top = column.bits === undefined ? 100 : 2 ** column.bits - 1;
  // Levels over white are sent in tests of headroom (109 % in limited range); codes and saturations end at their scale.
  const most = column.spec.holds === 'drive' && column.bits === undefined ? 109.5 : top;
  if (!(value < 0 || value > most)) return undefined;
  const expected = column.bits === undefined ? '0 to 100 %' : `a code from 0 to ${top}`;
  return problem('level-range', cellSpan(row, column.cell), { name: column.name, found: cellText(row, column.cell), expected });
}

function luminanceProblem(row: RowLine, column: TableColumn, floor: Floor | undefined): Problem | undefined {
  const kind = kindAt(row, column);
  if (kind !== CellKind.Number) return undefined;
  const value = valueAt(row, column);
  const span = cellSpan(row, column.cell);
  if (value < 0)
    return problem('reading-negative', span, {
      name: column.name,
      found: cellText(row, column.cell),
      floor: plainNumber(floor?.value ?? 0),
    });
  if (!floor || !(value < floor.value)) return undefined;
  const written = plainNumber(floor.value / column.factor);
  return problem(
    'below-floor',
    span,
    { found: cellText(row, column.cell), meter: floor.meter, floor: plainNumber(floor.value), mended: `<${written}` },
    [replacing(span, `<${written}`)],
  );
}

function chromaticityProblem(row: RowLine, first: TableColumn, second: TableColumn, isUv: boolean): Problem | undefined {
  const last = Math.max(first.cell, second.cell);
  if (last >= cellCount(row)) return undefined;
  const a = row.values[first.cell]!;
  const b = row.values[second.cell]!;
  for (const [column, value] of [
    [first, a],
    [second, b],
  ] as const) {
    if (value < 0 || value > 1 || (value === 0 && column === second)) {
      return problem('xy-range', cellSpan(row, column.cell), { name: column.name, found: cellText(row, column.cell) });
    }
  }
  // A swapped pair is told by what it is swapped with: the judge of swaps speaks for it.
  if (Number.isNaN(a) || Number.isNaN(b)) return undefined;
  const span: Span = [Math.min(cellSpan(row, first.cell)[0], cellSpan(row, second.cell)[0]), cellSpan(row, last)[1]];
  const xy = isUv ? uvToXy([a, b]) : ([a, b] as const);
  if (!isUv && a + b > 1) return problem('xy-sum', span, { sum: plainNumber(a + b) });
  return insideLocus(xy)
    ? undefined
    : problem('outside-locus', span, { found: `${cellText(row, first.cell)} ${cellText(row, second.cell)}` });
}
