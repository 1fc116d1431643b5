import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
import { cellText } from '../../src/session/line';
import { SessionText } from '../../src/session/sessionText';
import { number } from '../measure/tools';

const FURTHER = ['yellow', 'cyan', 'magenta', 'grey', 'sand'];

test.each(['aurora-55', 'meadow-65'])('the correction of %s brings down what the filters of its meter do to further colours', (name) => {
  const text = readFileSync(new URL(`../../examples/${name}.nitbook`, import.meta.url), 'utf8');
  const { results } = analyse(SessionText.read(text), NO_CONFIG);
  const of = (id: string) => results.find(({ run }) => run.id === id)!;
  const fix = of('probe-fix');
  const { columns, rows } = fix.run.table;
  const squares = { before: 0, after: 0 };
  for (const patch of FURTHER) {
    const row = rows.find((one) => cellText(one, columns.get('patch')!.cell) === patch)!;
    const cell = (column: string) => Number(cellText(row, columns.get(column)!.cell));
    // The reference is typed beside the readings in one session and comes from spectra in the other.
    const [x, y] = columns.has('ref.x')
      ? [cell('ref.x'), cell('ref.y')]
      : [number(of('spd'), `x@${patch}`), number(of('spd'), `y@${patch}`)];
    squares.before += (cell('x') - x) ** 2 + (cell('y') - y) ** 2;
    squares.after += number(fix, `check@${patch}`) ** 2;
  }
  expect(Math.sqrt(squares.before / FURTHER.length)).toBeGreaterThan(0.002);
  // Without the scatter of single readings it does so by half and more: test/display/spectra.test.ts.
  expect(squares.after).toBeLessThan(squares.before / 2);
});
