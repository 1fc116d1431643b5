import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { activationTable } from './activation';
import { alone } from './alone';
import { colourTable } from './colour';
import { figureTable } from './figures';
import { folderTable } from './folder';
import { intervalsTable } from './intervals';
import { languageTable } from './language';
import { memoryOf, memoryTable, SUBJECTS } from './memory';
import { paintedTable } from './painted';
import { growthTable, judgingTable, parsingTable } from './reading';
import { type Cells, Report } from './report';
import { reviewGrowthTable, reviewTable } from './review';
import { build, type Shipped, sizesTable } from './sizes';
import { TABLES, type TableId } from './tables';
import { typingTable } from './typing';

/**
 * `npm run bench` measures all tables and writes `test/bench/README.md`; `-- --out FILE` writes elsewhere, and `-- --only TABLE` (several
 * times where wanted) prints those alone.
 */
const { values: flags } = parseArgs({
  options: {
    out: { type: 'string', default: 'test/bench/README.md' },
    only: { type: 'string', multiple: true },
    // Starts a process of its own: see `alone.ts`.
    alone: { type: 'string' },
  },
});

const ROWS = 10_000;

const MAKERS: Readonly<Record<TableId, (shipped: () => Shipped) => Cells | Promise<Cells>>> = {
  parsing: () => parsingTable(ROWS),
  judging: () => judgingTable(ROWS),
  typing: typingTable,
  editor: () => languageTable(ROWS),
  intervals: () => intervalsTable(ROWS),
  growth: growthTable,
  figures: () => figureTable(1_000, 30),
  figuresLong: () => figureTable(ROWS, 100),
  review: reviewTable,
  reviewGrowth: reviewGrowthTable,
  colour: () => alone<Cells>('colours'),
  folder: (shipped) => folderTable(shipped().commandLine),
  memory: memoryTable,
  sizes: (shipped) => sizesTable(shipped()),
  activation: (shipped) => activationTable(shipped().vsix),
  painted: (shipped) => paintedTable(shipped().vsix),
};

async function measure(): Promise<void> {
  const ids = (flags.only ?? Object.keys(TABLES)) as TableId[];
  const unknown = ids.find((id) => !(id in TABLES));
  if (unknown !== undefined) {
    console.error(`No table "${unknown}": ${Object.keys(TABLES).join(', ')}`);
    process.exit(2);
  }
  const scratch = mkdtempSync(join(tmpdir(), 'nitbook-bench-'));
  let built: Shipped | undefined;
  const shipped = () => {
    built ??= build(join(scratch, 'nitbook.vsix'));
    return built;
  };
  try {
    const report = new Report(console.log);
    for (const id of ids) report.add(id, await MAKERS[id](shipped));
    if (flags.only === undefined) writeFileSync(flags.out, report.page());
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

/** What is not to meet what the others leave behind: compiled code, and what is still in use. */
const ALONE: Readonly<Record<string, () => unknown>> = {
  colours: colourTable,
  ...Object.fromEntries(Object.keys(SUBJECTS).map((name) => [`memory of ${name}`, () => memoryOf(name)])),
};

if (flags.alone === undefined) await measure();
else console.log(JSON.stringify(await ALONE[flags.alone]!()));
