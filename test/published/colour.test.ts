import { describe, expect, test } from 'vitest';
import { COLOUR_CHECKS } from './colourChecks';
import { NOT_COLOUR } from './elsewhere';
import { type PublishedRecord, RECORDS } from './records';

const byFn = new Map<string, PublishedRecord[]>();
for (const record of RECORDS) {
  const others = byFn.get(record.fn);
  if (others === undefined) byFn.set(record.fn, [record]);
  else others.push(record);
}

for (const [fn, check] of Object.entries(COLOUR_CHECKS)) {
  describe(fn, () => {
    test.each(
      (byFn.get(fn) ?? []).map((record) => [record.id, record.source.document, record.source.section, record.status, record] as const),
    )('%s agrees with %s (%s; %s)', (_id, _document, _section, _status, record) => check(record));
  });
}

describe('the published records', () => {
  test('are each checked by a function of this room or listed as belonging elsewhere', () => {
    const forgotten = [...byFn.keys()].filter((fn) => !Object.hasOwn(COLOUR_CHECKS, fn) && !Object.hasOwn(NOT_COLOUR, fn));
    expect(forgotten).toEqual([]);
  });

  test('exist for every check and every exception', () => {
    const without = [...Object.keys(COLOUR_CHECKS), ...Object.keys(NOT_COLOUR)].filter((fn) => !byFn.has(fn));
    expect(without).toEqual([]);
    expect(Object.keys(NOT_COLOUR).filter((fn) => Object.hasOwn(COLOUR_CHECKS, fn))).toEqual([]);
  });

  test('all name their document', () => {
    expect(RECORDS.filter((record) => !record.source?.document || !record.status)).toEqual([]);
  });
});
