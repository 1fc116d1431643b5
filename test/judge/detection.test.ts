import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../src/text/span';
import { Bench, type Rows } from '../display/bench';
import { analysed, reading, SUBJECTS, type Subject, sessionOf, setupOf, TWENTY_ONE } from './sweep';

// One slip in one row of a greyscale of 21 levels, in each row in turn, on both displays in seven states.

type Row = readonly string[];
type Mistake = (row: Row) => Row;

const moved = (raw: string, by: number): string => String(Number((Number(raw) * 10 ** by).toPrecision(6)));
const slip =
  (by: number): Mistake =>
  ([level, Y, x, y]) => [level!, moved(Y!, by), x!, y!];
const swap: Mistake = ([level, Y, x, y]) => [level!, Y!, y!, x!];

const stray: Mistake = ([level, Y, x, y]) => [level!, Y!, (Number(x) + 0.1).toFixed(4), y!];
const CODES = new Set(['decimal-slip', 'xy-swapped', 'chromaticity-stray', 'reading-copied']);

const text = (of: Subject, rows: Rows): string => sessionOf(of, [{ header: 'greyscale grey', columns: ['level', ...reading], rows }]);

/** The text with its numbers as values, so that 6.70 and 6.7 are one. */
const plain = (session: string): string =>
  session.replace(/\S+/g, (word) => (Number.isNaN(Number(word)) ? word : String(Number(Number(word).toPrecision(9))))).replace(/ +/g, ' ');

/** Whether the mistake in a row is named by one finding of its code, whose mend gives back what was measured. */
function isFound(of: Subject, rows: Rows, i: number, mistake: Mistake, code: string, hasMend = true): boolean {
  const spoilt = text(
    of,
    rows.map((row, k) => (k === i ? mistake(row) : row)),
  );
  const found = analysed(spoilt).findings.filter((f) => CODES.has(f.code));
  if (!hasMend) return found.length === 1 && found[0]!.code === code && found[0]!.mends.length === 0;
  const mend = found[0]?.mends[0];
  return (
    found.length === 1 && found[0]!.code === code && mend !== undefined && plain(applyEdits(spoilt, mend.edits)) === plain(text(of, rows))
  );
}

/** How many of the rows of a level, over all displays, have their mistake found. */
function rates(mistake: Mistake, code: string, hasMend = true): ReadonlyMap<number, readonly [found: number, of: number]> {
  const counts = new Map<number, [number, number]>();
  for (const of of SUBJECTS) {
    const rows = new Bench({ panel: of.panel, seed: of.name, minutesOn: 60 }).run('grey').greyscale(setupOf(of), TWENTY_ONE);
    rows.forEach((row, i) => {
      if (row[1]!.startsWith('<')) return;
      const level = Number(row[0]);
      const [found, all] = counts.get(level) ?? [0, 0];
      counts.set(level, [found + (isFound(of, rows, i, mistake, code, hasMend) ? 1 : 0), all + 1]);
    });
  }
  return counts;
}

const within = (counts: ReturnType<typeof rates>, from: number, to: number): number => {
  const inside = [...counts].filter(([level]) => level >= from && level <= to).map(([, count]) => count);
  return inside.reduce((sum, [found]) => sum + found, 0) / inside.reduce((sum, [, all]) => sum + all, 0);
};

describe('a decimal point moved in one row', () => {
  test.each([
    ['one place to the right', 1],
    ['one place to the left', -1],
    ['three places to the right', 3],
    ['three places to the left', -3],
  ])('%s is found with its mend from level 10 up, always', (_, by) => {
    expect(within(rates(slip(by), 'decimal-slip'), 10, 100)).toBe(1);
  });

  test('cannot be told in the lowest level when it makes it darker: a crushed black looks the same', () => {
    expect(within(rates(slip(-1), 'decimal-slip'), 0, 5)).toBeLessThan(0.1);
  });
});

describe('x and y changed about in one row', () => {
  const counts = rates(swap, 'xy-swapped');

  test('are found with their mend from 10 % up in 98 of 100 rows; the others are tinted onto the diagonal, where a swap moves nothing', () => {
    expect(within(counts, 10, 100)).toBeGreaterThan(0.98);
  });

  test('cannot always be told at 5 %, where the spread of the meter is as large as the swap', () => {
    expect(within(counts, 5, 5)).toBeLessThan(1);
    expect(within(counts, 5, 5)).toBeGreaterThan(0.5);
  });
});

test('a wrong first digit of x in one row is found from level 10 up, always', () => {
  expect(within(rates(stray, 'chromaticity-stray', false), 10, 100)).toBe(1);
});

test('a reading copied from the row above is found from level 15 to 95, always: a white may be clipped', () => {
  for (const of of SUBJECTS) {
    const rows = new Bench({ panel: of.panel, seed: of.name, minutesOn: 60 }).run('grey').greyscale(setupOf(of), TWENTY_ONE);
    for (let i = 3; i < rows.length - 1; i++) {
      const spoilt = rows.map((row, k) => (k === i ? [row[0]!, ...rows[i - 1]!.slice(1)] : row));
      const found = analysed(text(of, spoilt)).findings.map(({ code, at }) => `${code} ${at}`);
      expect(found, `${of.name} ${rows[i]![0]}`).toContain(`reading-copied grey/row/${i}`);
    }
  }
});
