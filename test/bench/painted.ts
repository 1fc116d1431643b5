import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { session } from './data';
import { type Cells, heldTo } from './report';
import { milliseconds, percentile } from './timing';
import { NOT_MEASURED, workbench } from './workbench';

const ROWS = 10_000;

/** @param vsix the package to install, in a folder that may be written to */
export function paintedTable(vsix: string): Cells {
  const head = ['', 'readings', 'p50', 'p95', 'target of p95'];
  const long = join(dirname(vsix), 'long.nitbook');
  writeFileSync(long, session(ROWS));
  const measured = workbench<Readonly<Record<'example' | 'long', readonly number[]>>>('painted.mjs', vsix, long);
  if (!measured) return [head, [NOT_MEASURED, '', '', '', '']];
  const row = (name: string, times: readonly number[], most: number) => {
    const late = percentile(times, 0.95);
    return [name, String(times.length), milliseconds(percentile(times, 0.5)), milliseconds(late), heldTo(late, most)];
  };
  return [head, row('the full example', measured.example, 50), row(`a run of ${ROWS.toLocaleString('en')}`, measured.long, 100)];
}
