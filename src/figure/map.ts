import type { Place } from '../algorithms/uniformity';
import type { RunResult } from '../measure/result';
import { isUniform } from '../measure/uniformity';
import { without } from '../measure/value';
import { numberText, valueText } from '../report/format';
import { type Phrase, phrase, plainNumber } from '../text/message';
import type { Cells, Panel } from './figure';
import { signedText } from './scale';
import { againstOf, type Builder, rowsOfBlock, runCell, runHead, runLabel, type Subject, titleOf, words } from './subject';

/** What the cells of a grid show. */
interface Shown {
  readonly id: 'share' | 'duv';
  /** From the measure to the number of a cell, and to its tint when that number is 1. */
  readonly number: (v: number) => number;
  readonly text: (v: number) => string;
  /** So much is a full tint, at least. */
  readonly full: number;
}

const LUMINANCE: Shown = { id: 'share', number: (v) => v - 100, text: (v) => signedText(v - 100, 1), full: 10 };
const TINT: Shown = { id: 'duv', number: (v) => v, text: (v) => numberText(v, 4), full: 0.01 };

/** Where the screen is darker or brighter than its middle: the grid itself. */
export const map: Builder = { id: 'map', kinds: ['uniformity'], build: (subject) => build(subject, 'map', LUMINANCE) };

/** Where it has another tint than in its middle. */
export const tint: Builder = { id: 'tint', kinds: ['uniformity'], build: (subject) => build(subject, 'tint', TINT) };

function build(subject: Subject, id: string, shown: Shown) {
  const { results } = subject;
  for (const { context } of results) {
    if (!context || !isUniform(context)) return without('no-rows');
    if (!context.grid.ok) return context.grid;
  }
  const cells = results.map((result) => cellsOf(subject, result, shown));
  if (cells.every(({ points }) => points.length === 0)) return without(shown === TINT ? 'no-colour' : 'no-rows');
  const panels = results.map((result, r): Panel => {
    const { rows, columns } = namesOf(result);
    const axis = (names: readonly number[]) => names.map((name, at) => ({ at, label: plainNumber(name) }));
    return {
      id: result.run.id,
      ...(results.length > 1 && { title: runLabel(subject, result) }),
      x: { title: words(subject, phrase('column')), scale: 'names', domain: [-0.5, columns.length - 0.5], ticks: axis(columns) },
      y: { title: words(subject, phrase('row')), scale: 'names', domain: [rows.length - 0.5, -0.5], ticks: axis(rows) },
      marks: [cells[r]!],
    };
  });
  const answers = results.map((result) => (shown === TINT ? tintAnswer(result) : luminanceAnswer(subject, result)));
  return {
    id,
    runs: results.map(({ run }) => run.id),
    title: titleOf(subject, answers),
    against: againstOf(subject),
    summary: results.map((result, r) => `${runLabel(subject, result)}: ${words(subject, answers[r]!)}.`).join(' '),
    notes: [words(subject, shown === TINT ? phrase("Δu'v' from the centre.") : phrase('Luminance, % from the centre.'))],
    panels,
    flow: 'row' as const,
    table: {
      head: [
        ...runHead(subject),
        words(subject, phrase('row')),
        words(subject, phrase('column')),
        words(subject, shown === TINT ? phrase("Δu'v' from the centre") : phrase('luminance, % from the centre')),
      ],
      rows: cells.flatMap(({ points }, r) =>
        points.map(({ run, row, key, label }) => ({
          run,
          ...(row !== undefined && { row }),
          cells: [...runCell(subject, results[r]!), ...key, label],
        })),
      ),
    },
  };
}

const gridOf = ({ context }: RunResult) => {
  const grid = context && isUniform(context) && context.grid.ok ? context.grid.v : undefined;
  if (!grid) throw new Error('no grid');
  return grid;
};

const namesOf = (result: RunResult) => {
  const { cells } = gridOf(result);
  const sorted = (list: readonly number[]) => [...new Set(list)].sort((a, b) => a - b);
  return { rows: sorted(cells.map(({ row }) => row)), columns: sorted(cells.map(({ column }) => column)) };
};

function cellsOf(subject: Subject, result: RunResult, { id: measure, number, text, full }: Shown): Cells {
  const { patches } = result.context!;
  const list = result.rows(measure)!;
  const nodeOf = rowsOfBlock(subject, result);
  const { rows, columns } = namesOf(result);
  const most = Math.max(full, ...Array.from(list, (v) => (Number.isFinite(v) ? Math.abs(number(v)) : 0)));
  const id = `${result.run.id}/${measure}`;
  const points = Array.from({ length: patches.count }, (_, i) => i)
    .filter((i) => Number.isFinite(list[i]!))
    .map((i) => {
      const key = result.keyOf(i);
      const v = list[i]!;
      const label = text(v);
      return {
        id: `${id}/${key.join(',')}`,
        x: columns.indexOf(Number(key[1])),
        y: rows.indexOf(Number(key[0])),
        row: nodeOf(i),
        run: result.run.id,
        key,
        label,
        tint: number(v) / most,
        name: words(subject, phrase('Row {row}, column {column}: {label}', { row: key[0]!, column: key[1]!, label })),
      };
    });
  return { is: 'cells', id, points };
}

/** `Darkest 6.1 % below the centre, top left; non-uniformity 7.2 %`. */
function luminanceAnswer(subject: Subject, result: RunResult): Phrase {
  const all = result.value('nonuniformity');
  const list = result.rows('share')!;
  let worst = -1;
  list.forEach((v, i) => {
    if (Number.isFinite(v) && !(worst >= 0 && Math.abs(v - 100) <= Math.abs(list[worst]! - 100))) worst = i;
  });
  const args = { all: valueText(all, result.specs.nonuniformity!, subject.say) };
  if (worst < 0) return phrase('Non-uniformity {all}', args);
  const [row, column] = result.keyOf(worst);
  const v = list[worst]! - 100;
  const at = { ...args, size: numberText(Math.abs(v), 1), where: whereOf(result, { row: Number(row), column: Number(column) }) };
  return v < 0
    ? phrase('{size} % darker than the centre {where}; non-uniformity {all}', at)
    : phrase('{size} % brighter than the centre {where}; non-uniformity {all}', at);
}

function tintAnswer(result: RunResult): Phrase {
  const list = result.rows('duv')!;
  let worst = 0;
  list.forEach((v, i) => {
    if (v > (list[worst] ?? 0)) worst = i;
  });
  const [row, column] = result.keyOf(worst);
  return phrase("Tint up to {size} in u'v' from the centre, {where}", {
    size: numberText(list[worst]!, 4),
    where: whereOf(result, { row: Number(row), column: Number(column) }),
  });
}

/** `at the top left`: in which third of the screen a cell lies. */
function whereOf(result: RunResult, { row, column }: Pick<Place, 'row' | 'column'>): Phrase {
  const { rows, columns } = namesOf(result);
  const third = (names: readonly number[], name: number) =>
    Math.min(2, Math.floor((3 * (names.indexOf(name) + 0.5)) / names.length)) as 0 | 1 | 2;
  return PLACES[third(rows, row)][third(columns, column)];
}

const PLACES = [
  [phrase('at the top left'), phrase('at the top'), phrase('at the top right')],
  [phrase('at the left'), phrase('near the centre'), phrase('at the right')],
  [phrase('at the bottom left'), phrase('at the bottom'), phrase('at the bottom right')],
] as const;
