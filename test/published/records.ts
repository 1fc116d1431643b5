import { readdirSync, readFileSync } from 'node:fs';
import { expect } from 'vitest';

/**
 * One value to check against, with where it comes from. `published` was printed by the document named, `recomputed` by two independent
 * methods from its definition, `memory` was not looked up. `fn` names what is computed, not a function.
 */
export interface PublishedRecord {
  readonly id: string;
  readonly fn: string;
  // biome-ignore lint/suspicious/noExplicitAny: the shape differs with `fn`, and a wrong guess fails the check that made it.
  readonly input: any;
  readonly expected: unknown;
  /** Absolute, for every number of `expected`. */
  readonly tolerance: number;
  readonly source: { readonly document: string; readonly section: string };
  readonly status: 'published' | 'recomputed' | 'memory';
  readonly origin: string;
  readonly note?: string;
}

const FOLDER = new URL('./data/', import.meta.url);

export const RECORDS: readonly PublishedRecord[] = readdirSync(FOLDER)
  .filter((name) => name.endsWith('.json'))
  .sort()
  .flatMap((name) => JSON.parse(readFileSync(new URL(name, FOLDER), 'utf8')).records as PublishedRecord[]);

/** Compares number by number; every member of `expected` must be there. */
export function expectClose(actual: unknown, expected: unknown, tolerance: number, path = 'value'): void {
  if (typeof expected === 'number') {
    expect(typeof actual, path).toBe('number');
    expect(Math.abs((actual as number) - expected), `${path}: ${actual} against ${expected}`).toBeLessThanOrEqual(tolerance);
  } else if (typeof expected === 'object' && expected !== null) {
    expect(typeof actual, path).toBe('object');
    if (Array.isArray(expected)) expect((actual as unknown[]).length, `${path}.length`).toBe(expected.length);
    for (const [key, value] of Object.entries(expected))
      expectClose((actual as Record<string, unknown>)[key], value, tolerance, `${path}.${key}`);
  } else {
    expect(actual, path).toBe(expected);
  }
}
