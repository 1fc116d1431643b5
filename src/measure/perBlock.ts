import type { Block } from '../session/block';
import { predecessor } from '../session/fewRows';
import type { RowLine } from '../session/line';
import { tableOf } from '../session/table';
import { ascending } from '../text/ascending';

const known = new WeakMap<Block, Map<string, unknown>>();

/**
 * What can be computed from a block alone, computed once. A block whose lines have not changed is the same object in the next version of
 * its session, so what it gave stands there too. `what` names the computation with everything else that it hangs on.
 */
export function perBlock<T>(block: Block, what: string, compute: () => T): T {
  let computed = known.get(block);
  if (!computed) {
    computed = new Map();
    known.set(block, computed);
  }
  if (!computed.has(what)) computed.set(what, compute());
  return computed.get(what) as T;
}

/** What an edit has changed of the rows of a block: those from `from` to `to`, before and after, with the same rows around them. */
export interface ChangedRows<T> {
  readonly value: T;
  readonly from: number;
  readonly to: number;
  readonly rows: readonly RowLine[];
}

/**
 * The same as `perBlock`, for what is computed from the rows of a block: the computation is told what it gave for the version before, where
 * only some rows have been edited since, and none put in or taken out.
 */
export function perRows<T>(block: Block, what: string, compute: (before: ChangedRows<T> | undefined) => T): T {
  return perBlock(block, what, () => compute(changedRows<T>(block, what)));
}

function changedRows<T>(block: Block, what: string): ChangedRows<T> | undefined {
  const before = predecessor(block);
  const computed = before && known.get(before.old);
  if (!computed?.has(what)) return undefined;
  const { old, head, tail } = before!;
  if (old.lines.length !== block.lines.length || old.rowLines.length !== block.rowLines.length) return undefined;
  const rowFrom = (line: number) => ascending(block.rowLines.length, (k) => block.rowLines[k]! < line);
  return { value: computed.get(what) as T, from: rowFrom(head), to: rowFrom(block.lines.length - tail), rows: tableOf(old).rows };
}
