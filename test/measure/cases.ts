import type { RunResult } from '../../src/measure/result';
import type { Reason } from '../../src/measure/value';
import { type PublishedRecord, RECORDS } from '../published/records';

/** Makes the run that a case is about. */
export type Make = () => RunResult;

/**
 * What an expected value rests on. `published`: printed in a document, a record of test/published. `constructed`: rows simple enough to be
 * worked out by hand, or a worked example of the definitions. `independent`: another algorithm or library than the one that is tested.
 */
export type Basis = `${'published' | 'constructed' | 'independent'}: ${string}`;

/** The run of the value, its number (or that of a row), what the number rests on, the run of the refusal and its reason. */
export type Case = readonly [
  Make,
  number,
  Basis,
  Make,
  Reason,
  { readonly key?: string; readonly refusedKey?: string; readonly within?: number }?,
];

/** Keys of rows after the @, of the value and of the refusal. */
export const at = (key: string, refusedKey = key, within = 1e-9) => ({ key, refusedKey, within });

/** The record of an id in test/published, and what it is called as the basis of a case. */
export function record(id: string): PublishedRecord & { readonly basis: Basis } {
  const found = RECORDS.find((one) => one.id === id);
  if (!found) throw new Error(`no record ${id}`);
  const from = `${found.source.document}, ${found.source.section} (record ${id})`;
  if (found.status === 'memory') throw new Error(`${id} is from memory, which proves nothing`);
  return { ...found, basis: found.status === 'published' ? `published: ${from}` : `independent: recomputed by two methods from ${from}` };
}
