import { meantWord, type PatchWords, patchWordsOf } from '../measure/patchWords';
import type { Block } from '../session/block';
import type { BlockProblem } from '../session/blockProblems';
import { fewRows } from '../session/fewRows';
import type { Placed } from '../session/findings';
import { CellKind, cellSpan, cellText, cellWord, type RowLine } from '../session/line';
import { kindAt, type Table, type TableColumn, tableOf } from '../session/table';
import { type Problem, problem } from '../text/finding';
import { phrase } from '../text/message';
import { neighbour } from '../text/neighbour';
import { replacing } from './readings';

/** Rows that do not say which patch they are, or say it in a word that no figure knows: without a finding they would be lost unseen. */
export const unknownPatches = (block: Block): readonly Placed[] =>
  fewRows(block, 'unknown patches', unknownIn(block)).map((p) => ({ block, ...p }));

function unknownIn(block: Block): (row: RowLine, line: number) => readonly BlockProblem[] {
  const { columns } = tableOf(block);
  const own = ownWords(block, columns);
  const keys = (block.spec?.table?.keys ?? []).flatMap((name) => columns.get(name) ?? []);
  return (row, line) =>
    keys.flatMap((column) => {
      const p = keyProblem(row, column, own);
      return p ? [{ line, problem: p }] : [];
    });
}

interface OwnWords extends PatchWords {
  /** The words that stand in the column. */
  readonly there: ReadonlySet<string>;
}

function ownWords(block: Block, columns: Table['columns']): OwnWords | undefined {
  const known = patchWordsOf(block.keyword);
  const column = known && columns.get(known.column);
  if (!column) return undefined;
  return { ...known, there: known.free ? new Set(tableOf(block).rows.map((row) => cellWord(row, column.cell))) : new Set() };
}

function keyProblem(row: RowLine, column: TableColumn, known: OwnWords | undefined): Problem | undefined {
  const own = known?.column === column.name ? known : undefined;
  const args = { name: column.name, found: cellText(row, column.cell) };
  switch (kindAt(row, column)) {
    case CellKind.ToTake:
      return undefined;
    case CellKind.None:
    case CellKind.Below:
    case CellKind.Above: {
      // A drive with a < or > has been told of as no number.
      if (column.spec.holds === 'drive' && kindAt(row, column) !== CellKind.None) return undefined;
      const expected = column.spec.holds === 'word' ? phrase('a word') : phrase('a number');
      return problem('patch-unknown', cellSpan(row, column.cell), { ...args, expected, neighbour: '' });
    }
  }
  if (!own) return undefined;
  const word = cellWord(row, column.cell);
  if (own.words.includes(word)) return undefined;
  const near = meantWord(word, own, own.there);
  if (own.free && near === undefined) return undefined;
  const expected = own.free
    ? phrase('one of {words}, or a name of its own', { words: own.words })
    : phrase('one of {words}', { words: own.words });
  const span = cellSpan(row, column.cell);
  const mends = near === undefined ? [] : [replacing(span, near)];
  return problem('patch-unknown', span, { ...args, expected, neighbour: near ? neighbour(near) : '' }, mends);
}
