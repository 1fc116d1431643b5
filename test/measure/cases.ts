import type { RunResult } from '../../src/measure/result';
import type { Reason } from '../../src/measure/value';

/** Makes the run that a case is about. */
export type Make = () => RunResult;

/** The run of the value, its number (or that of a row), the run of the refusal and its reason; keys of rows after the @. */
export type Case = readonly [
  Make,
  number,
  Make,
  Reason,
  { readonly key?: string; readonly refusedKey?: string; readonly within?: number }?,
];

export const at = (key: string, refusedKey = key, within = 1e-9) => ({ key, refusedKey, within });
