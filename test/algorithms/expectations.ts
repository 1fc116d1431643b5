import { expect } from 'vitest';
import { REFUSALS, type Refusal, type Result } from '../../src/algorithms/result';
import { type Args, fill } from '../../src/text/message';

/** The value, or a failure that says why there is none. */
export function resultOf<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(`refused: ${result.why.code} ${JSON.stringify(result.why.args)}`);
  return result.v;
}

/** Refused for this reason, with at least these arguments; and its sentence has all of those that it speaks of. */
export function expectRefused(result: Result<unknown>, code: Refusal, args: Args = {}): void {
  expect(result).toMatchObject({ ok: false, why: { code, args } });
  if (!result.ok) expect(fill(REFUSALS[code], result.why.args)).not.toMatch(/[{}]/);
}

/** Normal numbers from uniform ones (Box & Muller 1958): the same noise on every run. */
export function normal(next: () => number): () => number {
  return () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
}
