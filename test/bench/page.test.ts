import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { heldTo, isTarget, machine, markdownTable, Report } from './report';
import { TABLES, type TableId } from './tables';

const PAGE = 'test/bench/README.md';

/** The tables of a page of Markdown by their headings, as rows of cells. */
function tablesIn(page: string): ReadonlyMap<string, readonly (readonly string[])[]> {
  const sections = page.split(/^## /m).slice(1);
  return new Map(
    sections.map((section) => {
      const [title, ...lines] = section.split('\n');
      const rows = lines
        .filter((line) => line.startsWith('|'))
        .map((line) =>
          line
            .slice(1, -1)
            .split('|')
            .map((cell) => cell.trim()),
        );
      return [title!, rows];
    }),
  );
}

/** What has to hold of every page, measured or not. */
function expectWellFormed(page: string): void {
  const tables = tablesIn(page);
  expect([...tables.keys()]).toEqual(Object.values(TABLES).map(({ title }) => title));
  for (const [title, [head, rule, ...rows]] of tables) {
    expect(rows.length, title).toBeGreaterThan(0);
    expect(
      rule!.every((cell) => /^-+:?$/.test(cell)),
      title,
    ).toBe(true);
    for (const row of rows) {
      expect(row.length, title).toBe(head!.length);
      expect(row[0], title).not.toBe('');
      const target = row[head!.indexOf('target')] ?? '';
      expect(target === '' || isTarget(target), `${title}: ${target}`).toBe(true);
    }
  }
  expect(page).not.toMatch(/NaN|undefined|\[object|(?:^|[\s`(])\/\w/m);
}

const CELLS = [
  ['', 'median', 'target'],
  ['one', '1.00 ms', heldTo(1, 2)],
  ['another', '3.00 ms', heldTo(3, 2)],
];

function reportOf(ids: readonly TableId[]): Report {
  const report = new Report(() => {});
  for (const id of ids) report.add(id, CELLS);
  return report;
}

const ALL = Object.keys(TABLES) as TableId[];

describe('the page of the bench', () => {
  it('has every table, under its title', () => {
    expectWellFormed(reportOf(ALL).page());
  });

  it('is not made while a table is missing', () => {
    for (const missing of ALL) expect(() => reportOf(ALL.filter((id) => id !== missing)).page()).toThrow(`"${missing}"`);
  });

  it('says of each target whether it is met: what comes to it has missed it', () => {
    expect([heldTo(4.9, 5), heldTo(5, 5, 'ms', 'p95 '), heldTo(793, 1536, 'kB')]).toEqual(['< 5 ms ✓', 'p95 < 5 ms ✗', '< 1,536 kB ✓']);
    expect(['< 5 ms ✓', 'p95 < 5 ms ✗'].every(isTarget)).toBe(true);
    expect(['< 5 ms', '✓', ''].some(isTarget)).toBe(false);
  });

  it('tells of the machine its cores, its system and its Node, and no more', () => {
    expect(machine()).toMatch(/^\d+ cores?, Node \d+\.\d+\.\d+, \w+ on \w+$/);
  });

  it('sets cells under each other', () => {
    expect(
      markdownTable([
        ['', 'median'],
        ['nitbook', '1.00 ms'],
      ]),
    ).toBe('|         |  median |\n| ------- | ------: |\n| nitbook | 1.00 ms |\n');
  });

  it('that was measured is one', () => {
    expectWellFormed(readFileSync(PAGE, 'utf8'));
  });
});
