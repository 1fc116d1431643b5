import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { session } from './data';
import { type Cells, heldTo } from './report';
import { milliseconds, percentile } from './timing';
import { NOT_MEASURED, workbench } from './workbench';

const ROWS = 10_000;

/** By how it was typed: as fast as a practised hand twice over, and as no hand can. */
type Paces = Readonly<Record<'typed' | 'atOnce', readonly number[]>>;
type Measured = Readonly<Record<'example' | 'long', Paces>>;

/** @param vsix the package to install, in a folder that may be written to */
export function paintedTable(vsix: string): Cells {
  const head = ['', 'readings', 'p50', 'p95', 'target of p95'];
  const long = join(dirname(vsix), 'long.nitbook');
  writeFileSync(long, session(ROWS));
  const measured = workbench<Measured>('painted.mjs', vsix, long);
  if (!measured) return [head, [NOT_MEASURED, '', '', '', '']];
  const rows = (name: string, { typed, atOnce }: Paces, most: number) => [
    row(`${name}, 40 ms between keys`, typed, most),
    row(`${name}, all keys at once`, atOnce, most),
  ];
  return [head, ...rows('the full example', measured.example, 50), ...rows(`a run of ${ROWS.toLocaleString('en')}`, measured.long, 100)];
}

function row(name: string, times: readonly number[], most: number): readonly string[] {
  const late = percentile(times, 0.95);
  return [name, String(times.length), milliseconds(percentile(times, 0.5)), milliseconds(late), heldTo(late, most)];
}
