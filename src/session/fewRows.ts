import type { Block } from './block';
import type { RowLine } from './line';

/** What is said of a row, by its line within the block. */
interface AtLine {
  readonly line: number;
}

const NOTHING: readonly never[] = [];

const known = new WeakMap<Block, Map<string, readonly AtLine[]>>();

/**
 * What is to be said of the live rows of a block, where most rows give nothing: asked of each row once, and of rows that an edit has not
 * touched never again, as theirs is taken over from the version before and moved with its line.
 * @param what names the question with everything it hangs on besides the row and the columns
 */
export function fewRows<T extends AtLine>(block: Block, what: string, ask: (row: RowLine, line: number) => readonly T[]): readonly T[] {
  const answers = known.get(block) ?? new Map<string, readonly AtLine[]>();
  known.set(block, answers);
  const found = (answers.get(what) as readonly T[] | undefined) ?? answer(block, what, ask);
  answers.set(what, found);
  return found;
}

function answer<T extends AtLine>(block: Block, what: string, ask: (row: RowLine, line: number) => readonly T[]): readonly T[] {
  const before = predecessor(block);
  const old = before && (known.get(before.old)?.get(what) as readonly T[] | undefined);
  const [from, to] = old ? [before!.head, block.lines.length - before!.tail] : [0, block.lines.length];
  const found: T[] = [];
  for (const one of old ?? NOTHING) if (one.line < from) found.push(one);
  for (let line = from; line < to; line++) {
    const row = block.lines[line]!;
    if (row.kind === 'row' && !row.struck) found.push(...ask(row, line));
  }
  if (old) {
    const moved = block.lines.length - before!.old.lines.length;
    for (const one of old) if (one.line >= to - moved) found.push(moved === 0 ? one : { ...one, line: one.line + moved });
  }
  return found;
}

/** The block of the version before, where rows still mean the same: under the same columns of the same kind of block. */
export function predecessor(block: Block): Block['since'] {
  const { since } = block;
  return since && since.old.columns === block.columns && since.old.keyword === block.keyword ? since : undefined;
}
