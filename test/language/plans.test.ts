import { describe, expect, it } from 'vitest';
import { PLAN_BLOCKS, PLAN_KINDS, planRun } from '../../src/config/plans';
import { BUILT_IN_PLANS, plansOf } from '../../src/language/plans';
import { emptyRun } from '../../src/language/rows';
import { tableOf } from '../../src/session/table';
import { blockSpec, type Keyword, RUN_KINDS } from '../../src/session/vocabulary';
import { configured } from '../report/sessions';

describe('the plans that are brought along', () => {
  it('are offered in this order, those of the folder behind or in their place', () => {
    expect([...BUILT_IN_PLANS.keys()]).toEqual(['SDR short', 'SDR full', 'HDR']);
    const config = configured('{"plans": {"Ours": {"runs": []}, "HDR": {"about": "no HDR here", "runs": []}}}');
    expect([...plansOf(config)].map(([name, { runs }]) => [name, runs.length > 0])).toEqual([
      ['SDR short', true],
      ['SDR full', true],
      ['HDR', false],
      ['Ours', false],
    ]);
  });
  it('hold these rows', () => {
    const rows = (name: string) => BUILT_IN_PLANS.get(name)!.runs.map(({ id, rows }) => `${id} ${rows.length}`);
    expect(rows('SDR short')).toEqual(['contrast 2', 'grey 12', 'gamut 7', 'sat 12']);
    expect(rows('SDR full')).toEqual([
      'contrast 4',
      'grey 22',
      'near-black 12',
      'gamut 7',
      'sat 24',
      'colours 15',
      'windows 8',
      'field 25',
      'angles 5',
      'lag 3',
      'power 3',
    ]);
    expect(rows('HDR')).toEqual(['peak 9', 'pq-1000 21', 'pq-4000 21', 'gamut-p3 7', 'contrast 4', 'lasting 8']);
  });
});

describe('what a plan can hold', () => {
  it('are blocks and runs of the format, by columns that they read', () => {
    for (const kind of PLAN_BLOCKS) expect(blockSpec(kind)?.id).toBe('required');
    for (const [kind, { columns, keys }] of Object.entries(PLAN_KINDS)) {
      expect(RUN_KINDS).toContain(kind);
      const run = emptyRun(kind as Keyword, columns)!;
      expect([...tableOf(run).columns.keys()], kind).toEqual(columns.split(' ').map((column) => column.replace(/\[.*/, '')));
      for (const key of keys) expect(tableOf(run).columns.has(key), `${kind} ${key}`).toBe(true);
      for (const key of blockSpec(kind)!.table!.keys.filter((key) => key !== 'direction')) expect(keys, kind).toContain(key);
      for (const any of blockSpec(kind)!.table!.needs)
        expect(
          any.some((name) => tableOf(run).columns.has(name)),
          `${kind} ${any}`,
        ).toBe(true);
    }
  });
  it('in code is checked when it is made', () => {
    expect(() => planRun({ kind: 'greyscale', id: 'g', levels: 'lots' })).toThrow(RangeError);
  });
});
