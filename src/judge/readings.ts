import { uvToXy, xyzToXy } from '../colour/chromaticity';
import { insideLocus } from '../colour/spectrum';
import { OUTSIDE_LIGHT } from '../measure/readings';
import type { Block } from '../session/block';
import type { BlockProblem } from '../session/blockProblems';
import { fewRows } from '../session/fewRows';
import type { Placed } from '../session/findings';
import { CellKind, cellSpan, cellText, type RowLine } from '../session/line';
import { kindAt, type TableColumn, tableOf, valueAt } from '../session/table';
import { type Problem, problem } from '../text/finding';
import { type Phrase, phrase, plainNumber } from '../text/message';
import type { Span } from '../text/span';

/** A mend that replaces one span. */
export const replacing = (span: Span, mended: string) => ({ args: { mended }, edits: [{ span, text: mended }] });

/** The floor of the meter that took a run, in cd/m², and what the meter is called. */
export interface Floor {
  readonly meter: string;
  readonly value: number;
}

/** Numbers that no reading can have, row by row: nothing but the row and the floor of the meter is needed. */
export const impossibleReadings = (block: Block, floor: Floor | undefined): readonly Placed[] =>
  fewRows(block, `impossible ${floor?.meter} ${floor?.value}`, impossibleIn(block, floor)).map((p) => ({ block, ...p }));

function impossibleIn(block: Block, floor: Floor | undefined): (row: RowLine, line: number) => readonly BlockProblem[] {
  const { columns } = tableOf(block);
  const [Y, X, Z, x, y, u, v] = ['Y', 'X', 'Z', 'x', 'y', "u'", "v'"].map((name) => columns.get(name));
  const luminances = [Y, X, Z].filter((column) => column !== undefined);
  const quantities = [...columns.values()].flatMap((column) => rangeOf(block, column) ?? []);
  const drives = [...columns.values()]
    .filter(({ spec, name }) => spec.holds === 'drive' || name === 'sat')
    .map((column) => ({ column, most: mostOf(column) }));
  return (row, line) => {
    const found: BlockProblem[] = [];
    const say = (p: Problem | undefined) => {
      if (p) found.push({ line, problem: p });
    };
    for (const { column, most } of drives) if (isBeyond(row.values[column.cell]!, most)) say(driveProblem(row, column));
    for (const range of quantities) say(rangeProblem(row, range));
    for (const column of luminances) say(luminanceProblem(row, column, column === Y ? floor : undefined));
    if (x && y) say(chromaticityProblem(row, x, y, false));
    if (u && v) say(chromaticityProblem(row, u, v, true));
    if (X && Y && Z) say(tristimulusProblem(row, X, Y, Z));
    return found;
  };
}

/** What a quantity that is no light can be, in the base unit of its column. */
interface Range {
  readonly column: TableColumn;
  readonly holds: (value: number) => boolean;
  readonly expected: Phrase;
}

const RANGES: Readonly<Record<string, Omit<Range, 'column'>>> = {
  window: { holds: (v) => v > 0 && v <= 100, expected: phrase('above 0 and up to 100 %') },
  angle: { holds: (v) => Math.abs(v) < 90, expected: phrase('an angle between -90° and 90°') },
  t: { holds: (v) => v >= 0, expected: phrase('0 or more') },
  lag: { holds: (v) => v > 0, expected: phrase('a time above 0') },
  power: { holds: (v) => v >= 0, expected: phrase('0 or more') },
  illuminance: { holds: (v) => v >= 0, expected: phrase('0 or more') },
};

const rangeOf = ({ keyword }: Block, column: TableColumn): Range | undefined =>
  keyword !== 'spectrum' && column.spec.holds === 'quantity' && Object.hasOwn(RANGES, column.name)
    ? { column, ...RANGES[column.name]! }
    : undefined;

function rangeProblem(row: RowLine, { column, holds, expected }: Range): Problem | undefined {
  if (kindAt(row, column) !== CellKind.Number || holds(valueAt(row, column))) return undefined;
  return problem('quantity-range', cellSpan(row, column.cell), { name: column.name, found: cellText(row, column.cell), expected });
}

const topOf = ({ bits }: TableColumn): number => (bits === undefined ? 100 : 2 ** bits - 1);

// Levels over white are sent in tests of headroom (109 % in limited range); codes and saturations end at their scale.
const mostOf = (column: TableColumn): number => (column.spec.holds === 'drive' && column.bits === undefined ? 109.5 : topOf(column));

const isBeyond = (value: number, most: number): boolean => value < 0 || value > most;

function driveProblem(row: RowLine, column: TableColumn): Problem {
  const expected = column.bits === undefined ? phrase('0 to 100 %') : phrase('a code from 0 to {most}', { most: topOf(column) });
  return problem('level-range', cellSpan(row, column.cell), { name: column.name, found: cellText(row, column.cell), expected });
}

function luminanceProblem(row: RowLine, column: TableColumn, floor: Floor | undefined): Problem | undefined {
  if (kindAt(row, column) !== CellKind.Number) return undefined;
  const value = valueAt(row, column);
  if (!(value < (floor?.value ?? 0))) return undefined;
  const span = cellSpan(row, column.cell);
  const found = cellText(row, column.cell);
  if (value < 0) return problem('reading-negative', span, { name: column.name, found, floor: floor ? plainNumber(floor.value) : 'n' });
  const mended = `<${plainNumber(floor!.value / column.factor)}`;
  return problem('below-floor', span, { found, meter: floor!.meter, floor: plainNumber(floor!.value), mended }, [replacing(span, mended)]);
}

function chromaticityProblem(row: RowLine, first: TableColumn, second: TableColumn, isUv: boolean): Problem | undefined {
  const a = row.values[first.cell];
  const b = row.values[second.cell];
  if (a === undefined || b === undefined) return undefined;
  const outOfRange = a < 0 || a > 1 ? first : b <= 0 || b > 1 ? second : undefined;
  if (outOfRange) {
    return problem('xy-range', cellSpan(row, outOfRange.cell), { name: outOfRange.name, found: cellText(row, outOfRange.cell) });
  }
  if (Number.isNaN(a) || Number.isNaN(b)) return undefined;
  const isSum = !isUv && a + b > 1 + OUTSIDE_LIGHT;
  if (!isSum && insideLocus(isUv ? uvToXy([a, b]) : [a, b], OUTSIDE_LIGHT)) return undefined;
  const [p, q] = [cellSpan(row, first.cell), cellSpan(row, second.cell)];
  const span: Span = [Math.min(p[0], q[0]), Math.max(p[1], q[1])];
  if (isSum) return problem('xy-sum', span, { sum: plainNumber(a + b) });
  return problem('outside-locus', span, { found: `${cellText(row, first.cell)} ${cellText(row, second.cell)}` });
}

/** A colour as XYZ: outside the locus by more than the last digits written can have moved it. */
function tristimulusProblem(row: RowLine, X: TableColumn, Y: TableColumn, Z: TableColumn): Problem | undefined {
  const columns = [X, Y, Z] as const;
  const xyz = [valueAt(row, X), valueAt(row, Y), valueAt(row, Z)] as const;
  const sum = xyz[0] + xyz[1] + xyz[2];
  if (!(xyz[0] >= 0 && xyz[1] >= 0 && xyz[2] >= 0 && sum > 0)) return undefined;
  const rounding = columns.reduce((all, column) => all + halfDigit(cellText(row, column.cell)) * column.factor, 0);
  if (insideLocus(xyzToXy(xyz), OUTSIDE_LIGHT + rounding / sum)) return undefined;
  const spans = columns.map(({ cell }) => cellSpan(row, cell));
  const span: Span = [Math.min(...spans.map(([from]) => from)), Math.max(...spans.map(([, to]) => to))];
  return problem('outside-locus', span, { found: columns.map(({ cell }) => cellText(row, cell)).join(' ') });
}

/** Half of the last written digit of a decimal number. */
function halfDigit(raw: string): number {
  const point = raw.indexOf('.');
  return point < 0 ? 0.5 : 0.5 * 10 ** (point + 1 - raw.length);
}
