import { describe, expect, test } from 'vitest';
import { ALGORITHM_CHECKS } from './algorithmChecks';
import { COLOUR_CHECKS } from './colourChecks';
import { NOT_COMPUTED } from './elsewhere';
import { isOurLimit, MEASURE_CHECKS, nameOf, OUR_LIMITS } from './measureChecks';
import { type PublishedRecord, RECORDS } from './records';

const CHECKS = { ...MEASURE_CHECKS, ...COLOUR_CHECKS, ...ALGORITHM_CHECKS };

const byFn = new Map<string, PublishedRecord[]>();
for (const record of RECORDS) {
  const others = byFn.get(record.fn);
  if (others === undefined) byFn.set(record.fn, [record]);
  else others.push(record);
}

for (const [fn, check] of Object.entries({ ...COLOUR_CHECKS, ...ALGORITHM_CHECKS })) {
  describe(fn, () => {
    test.each(
      (byFn.get(fn) ?? []).map((record) => [record.id, record.source.document, record.source.section, record.status, record] as const),
    )('%s agrees with %s (%s; %s)', (_id, _document, _section, _status, record) => check(record));
  });
}

for (const [fn, check] of Object.entries(MEASURE_CHECKS)) {
  const records = (byFn.get(fn) ?? []).filter((record) => fn !== 'limit' || isOurLimit(record));
  describe(`${fn}, as a measure of a session`, () => {
    test.each(records.map((record) => [record.id, record.source.document, record.source.section, record.status, record] as const))(
      '%s agrees with %s (%s; %s)',
      (_id, _document, _section, _status, record) => check(record),
    );
  });
}

describe('the published records', () => {
  test('are each checked, or listed as not computed with the reason', () => {
    const forgotten = [...byFn.keys()].filter((fn) => !Object.hasOwn(CHECKS, fn) && !Object.hasOwn(NOT_COMPUTED, fn));
    expect(forgotten).toEqual([]);
  });

  test('exist for every check and every exception', () => {
    const without = [...Object.keys(CHECKS), ...Object.keys(NOT_COMPUTED)].filter((fn) => !byFn.has(fn));
    expect(without).toEqual([]);
    expect(Object.keys(NOT_COMPUTED).filter((fn) => Object.hasOwn(CHECKS, fn))).toEqual([]);
  });

  test('hold every limit that a measure is said to have from them', () => {
    const names = new Set((byFn.get('limit') ?? []).map(nameOf));
    expect(OUR_LIMITS.filter((name) => !names.has(name))).toEqual([]);
  });

  test('all name their document', () => {
    expect(RECORDS.filter((record) => !record.source?.document || !record.status)).toEqual([]);
  });
});
