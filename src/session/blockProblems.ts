import { endBeforeBlanks, words } from '../text/blanks';
import { type Problem, problem } from '../text/finding';
import { type Arg, anyOf, counted, type Forms, phrase } from '../text/message';
import { nearest, neighbour } from '../text/neighbour';
import type { Span } from '../text/span';
import type { Block } from './block';
import { fewRows } from './fewRows';
import { CellKind, type ColumnName, cellCount, cellSpan, cellText, type HeaderLine, type RowLine, stringEnd } from './line';
import { isMinusLike, numberEnd, readNumber } from './number';
import { propertyType } from './session';
import { columnSpec, columnUnit, hasUnitApart, kindAt, type TableColumn, tableOf, unitsExpected } from './table';
import { readValue } from './values';
import { KEYWORDS, RATINGS } from './vocabulary';

/** A problem and the line of its block that it is in. */
export interface BlockProblem {
  readonly line: number;
  readonly problem: Problem;
}

const known = new WeakMap<Block, readonly BlockProblem[]>();

/**
 * What is wrong in a block taken by itself: its lines, names, values, columns and cells. Nothing that hangs on other blocks, so that it
 * stands as long as the block does. Without the problems of reading the lines, which the lines carry.
 */
export function blockProblems(block: Block): readonly BlockProblem[] {
  let problems = known.get(block);
  if (!problems) {
    problems = block.void
      ? []
      : [...headerProblems(block), ...propertyProblems(block), ...columnProblems(block), ...cellProblems(block), ...toTake(block)];
    known.set(block, problems);
  }
  return problems;
}

const replaced = (span: Span, mended: string) => ({ args: { mended }, edits: [{ span, text: mended }] });
const perhaps = (word: string | undefined): Arg => (word === undefined ? '' : neighbour(word));

function headerProblems(block: Block): BlockProblem[] {
  const { header, spec } = block;
  if (!header) return [];
  const found: BlockProblem[] = [];
  const say = (p: Problem) => found.push({ line: 0, problem: p });
  if (!spec) {
    const near = nearest(header.keyword.text, KEYWORDS);
    const mends = near ? [replaced(header.keyword.span, near)] : [];
    say(problem('block-unknown', header.keyword.span, { keyword: header.keyword.text, neighbour: perhaps(near) }, mends));
    return found;
  }
  const keyword = header.keyword.text;
  if (spec.id === 'required' && !header.id)
    say(problem('id-missing', header.keyword.span, { keyword, example: EXAMPLE_IDS[keyword] ?? 'one' }));
  const wrong = misplacedPart(header, block);
  if (wrong) say(wrong);
  return found;
}

const EXAMPLE_IDS: Readonly<Record<string, string>> = { meter: 'probe', signal: 'sdr', mode: 'cinema', target: 'dark' };

function misplacedPart(header: HeaderLine, block: Block): Problem | undefined {
  const { spec } = block;
  const keyword = header.keyword.text;
  if (header.date && spec!.id !== 'date')
    return problem('header-part', header.date.span, {
      expected: phrase('A {keyword} takes no date here', { keyword }),
    });
  if (header.id && (spec!.id === 'none' || spec!.id === 'date')) {
    return problem('header-part', header.id.span, {
      expected:
        spec!.id === 'date' ? phrase('A session takes a date, such as 2026-03-14') : phrase('A {keyword} block takes no id', { keyword }),
    });
  }
  const { link } = header;
  if (!link || link.word === spec!.link) return undefined;
  if (spec!.link === undefined)
    return problem('header-part', link.at, {
      expected: phrase('A {keyword} block takes nothing over from another', { keyword }),
    });
  const expected =
    spec!.link === 'like'
      ? phrase('A run is "like" another: it takes its properties over, never its rows')
      : phrase('A {keyword} takes over "from" another', { keyword });
  return problem('header-part', link.at, { expected }, [replaced(link.at, spec!.link)]);
}

function propertyProblems(block: Block): BlockProblem[] {
  const { spec } = block;
  if (!spec) return [];
  const found: BlockProblem[] = [];
  const seen = new Map<string, string>();
  for (const i of block.propertyLines) {
    const line = block.property(i);
    if (line.struck) continue;
    const say = (p: Problem) => found.push({ line: i, problem: p });
    const name = line.name.text;
    const written = line.value.is === 'text' || line.value.is === 'string' ? line.value.text : line.text.slice(...line.value.span);
    const own = Object.hasOwn(spec.properties, name) ? spec.properties[name] : undefined;
    if (seen.has(name) && !own?.many) {
      say(problem('property-repeated', line.name.span, { name, value: seen.get(name)! || phrase('nothing') }));
      continue;
    }
    seen.set(name, written);
    const type = propertyType(block, name);
    if (!type && !name.startsWith('x-')) {
      const near =
        nearest(name, Object.keys(spec.properties)) ??
        (Object.hasOwn(spec.properties, name.replace(/^\./, '')) ? name.slice(1) : undefined);
      const mends = near ? [replaced(line.name.span, near)] : [];
      say(problem('property-unknown', line.name.span, { keyword: block.keyword!, name, neighbour: perhaps(near) }, mends));
    }
    const { value } = line;
    // A setting that is a number with a minus from a word processor: read as it is, but no search for "-3" finds it.
    if (
      type?.is === 'text' &&
      value.is === 'text' &&
      isMinusLike(value.text.charCodeAt(0)) &&
      numberEnd(value.text, 0) === value.text.length
    ) {
      const mended = `-${value.text.slice(1)}`;
      say(problem('minus-sign', [value.span[0], value.span[0] + 1], { mended }, [replaced(value.span, mended)]));
    }
    if (value.is === 'to-note') say(problem('property-to-note', value.span, { name }));
    else if (type && type.is !== 'text' && (value.is === 'text' || value.is === 'string')) {
      const reading = readValue(type, value.text);
      if (reading.ok) continue;
      if (type.is === 'rating') say(problem('rating-unknown', value.span, { words: RATINGS }));
      else {
        const mends = reading.mended === undefined ? [] : [replaced(value.span, reading.mended)];
        say(problem('property-value', value.span, { name, expected: reading.expected }, mends));
      }
    } else if (value.is === 'absent' && own) {
      say(
        problem('property-value', [line.name.span[0], value.span[1]], {
          name,
          expected: phrase('a value, or ? when it is still to be noted'),
        }),
      );
    }
  }
  return found;
}

function columnProblems(block: Block): BlockProblem[] {
  const spec = block.spec?.table;
  const line = block.columns;
  if (!spec || !line) return [];
  const found: BlockProblem[] = [];
  const say = (p: Problem) => found.push({ line: block.columnsLine!, problem: p });
  const names = new Set(line.columns.map((column) => column.name));
  const seen = new Map<string, ColumnName>();
  for (const column of line.columns) {
    const { name, span } = column;
    const known = columnSpec(block, column);
    const spelling = known ? undefined : respelled(column);
    const first = seen.get(name);
    if (spelling !== undefined) {
      say(problem('column-spelling', span, { mended: spelling }, [replaced(span, spelling)]));
    } else if (first) {
      say(repeatedColumn(first, column, (upper) => Object.hasOwn(spec.columns, upper) && !names.has(upper)));
    } else if (known) {
      if (!columnUnit(known, column.unit)) {
        const at: Span = [span[1] - column.unit!.length - 2, span[1]];
        say(problem('column-unit', at, { name, unit: column.unit!, expected: unitsExpected(known) }));
      }
    } else {
      const near = nearest(name, Object.keys(spec.columns));
      const unit = column.unit === undefined ? 0 : column.unit.length + 2;
      const mends = near ? [replaced([span[0], span[1] - unit], near)] : [];
      say(problem('column-unknown', span, { keyword: block.keyword!, name, neighbour: perhaps(near) }, mends));
    }
    if (!first) seen.set(name, column);
  }
  const columns = tableOf(block).columns;
  const lacking = spec.needs.filter((any) => !any.some((name) => columns.has(name)));
  if (lacking.length > 0 && found.length === 0) {
    const first = line.columns[0]!.span[0];
    const expected = lacking.map(anyOf);
    say(problem('column-needed', [first, line.columns[line.columns.length - 1]!.span[1]], { keyword: block.keyword!, expected }));
  }
  return found;
}

/** `Y(fL)`, `level [10bit]`, `u′`: what was meant is plain, but columns are never guessed. */
function respelled(column: ColumnName): string | undefined {
  const { text } = column;
  let mended = text;
  if (hasUnitApart(column)) {
    const open = text.lastIndexOf('[');
    mended = text.slice(0, endBeforeBlanks(text, 0, open)) + text.slice(open);
  }
  if (!column.quoted) {
    mended = mended.replace(/[′’‘`´]/g, "'");
    const open = mended.indexOf('(');
    if (open > 0 && mended.endsWith(')')) mended = `${mended.slice(0, open)}[${mended.slice(open + 1, -1)}]`;
  }
  return mended === text ? undefined : mended;
}

/** `y x y`: the first y of a colour reading was meant as Y. */
function repeatedColumn(first: ColumnName, { name, span }: ColumnName, isFree: (name: string) => boolean): Problem {
  const upper = name.toUpperCase();
  const clear = upper !== name && isFree(upper);
  return problem(
    'column-repeated',
    span,
    { name, mended: upper },
    clear ? [{ args: { mended: upper }, edits: [{ span: [first.span[0], first.span[0] + name.length], text: upper }] }] : [],
  );
}

function cellProblems(block: Block): readonly BlockProblem[] {
  const { columns, width } = tableOf(block);
  if (width === 0) return [];
  const numbers = [...columns.values()].filter((column) => column.spec.holds !== 'word');
  return fewRows(block, 'cells', (row, line) => {
    const found: BlockProblem[] = [];
    if (cellCount(row) > width) {
      const span: Span = [cellSpan(row, width)[0], cellSpan(row, cellCount(row) - 1)[1]];
      found.push({ line, problem: problem('cell-surplus', span, { found: cellCount(row), expected: width }) });
    }
    for (const column of numbers) {
      if (column.cell >= cellCount(row)) break;
      const kind = kindAt(row, column);
      if (kind === CellKind.Number && !isMinusLike(row.text.charCodeAt(row.cells[column.cell * 3]!))) continue;
      const p = cellProblem(row, column, kind);
      if (p) found.push({ line, problem: p });
    }
    return found;
  });
}

/** What is wrong with a cell of a number column that is not simply a number. */
function cellProblem(row: RowLine, column: TableColumn, kind: CellKind): Problem | undefined {
  const span = cellSpan(row, column.cell);
  const raw = cellText(row, column.cell);
  if ((kind === CellKind.Number || kind === CellKind.None) && isMinusLike(raw.charCodeAt(0))) {
    const mended = `-${raw.slice(1)}`;
    return problem('minus-sign', [span[0], span[0] + 1], { mended }, [replaced(span, mended)]);
  }
  const isDrive = column.spec.holds === 'drive';
  if (kind === CellKind.Below || kind === CellKind.Above) {
    return isDrive ? problem('cell-number', span, { name: column.name, found: raw }) : undefined;
  }
  if (kind !== CellKind.Word && kind !== CellKind.String) return undefined;
  // `< 0.003` and an open quotation: the line has said so already.
  if (kind === CellKind.Word && (raw.startsWith('"') ? stringEnd(raw, 0, raw.length) < 0 : words(raw).length > 1)) return undefined;
  const point = raw.replace(',', '.');
  if (point !== raw && !Number.isNaN(readNumber(point, /^[<>]/.test(point) ? 1 : 0, point.length))) {
    return problem('decimal-comma', span, { found: raw, mended: point }, [replaced(span, point)]);
  }
  if (raw.endsWith('%') && numberEnd(raw, 0) === raw.length - 1) {
    const mended = raw.slice(0, -1);
    return problem('percent-in-cell', span, { found: raw, mended }, [replaced(span, mended)]);
  }
  return problem('cell-number', span, { name: column.name, found: raw });
}

/** Readings still to take: one finding a run, at the first. */
function toTake(block: Block): BlockProblem[] {
  const { count, first } = readingsToTake(block);
  if (!first) return [];
  const row = block.row(first.line);
  const span: Span = first.cell < cellCount(row) ? cellSpan(row, first.cell) : [cellSpan(row, 0)[0], cellSpan(row, cellCount(row) - 1)[1]];
  const key = keyLabel(block, row);
  const args = { count: counted(count, READINGS), run: block.name, key: key || phrase('its first row') };
  return [{ line: first.line, problem: problem('readings-to-take', span, args) }];
}

export const READINGS: Forms = ['1 reading', '{count} readings'];

/** How many live rows of a block have a cell still to take, and where the first is. */
export function readingsToTake(block: Block): {
  readonly count: number;
  readonly first?: { readonly line: number; readonly cell: number };
} {
  if (block.void) return { count: 0 };
  const read = [...tableOf(block).columns.values()];
  const open = fewRows(block, 'to take', (row, line) => {
    for (const column of read) if (kindAt(row, column) === CellKind.ToTake) return [{ line, cell: column.cell }];
    return [];
  });
  return open.length > 0 ? { count: open.length, first: open[0]! } : { count: 0 };
}

/** A row by its key, as a reader would name it: `30`, `red 50`. */
export function keyLabel(block: Block, row: RowLine): string {
  const { columns } = tableOf(block);
  return (block.spec?.table?.keys ?? [])
    .flatMap((name) => {
      const column = columns.get(name);
      return column && column.cell < cellCount(row) ? [cellText(row, column.cell)] : [];
    })
    .join(' ');
}
