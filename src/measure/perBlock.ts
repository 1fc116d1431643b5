import type { Block } from '../session/block';

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
