import { availableParallelism } from 'node:os';
import { TABLES, type TableId } from './tables';

/** The head and the rows of a table. */
export type Cells = readonly (readonly string[])[];

const MET = '✓';
const MISSED = '✗';

/** A target, with whether it is met. */
export const heldTo = (measured: number, most: number, unit = 'ms', what = ''): string =>
  `${what}< ${most.toLocaleString('en')} ${unit} ${measured < most ? MET : MISSED}`;

export const isTarget = (cell: string): boolean => new RegExp(`< [\\d,.]+ \\w+ [${MET}${MISSED}]$`).test(cell);

/** A table of Markdown. */
export function markdownTable([head, ...rows]: Cells): string {
  const widths = head!.map((_, i) => Math.max(3, ...[head!, ...rows].map((row) => row[i]!.length)));
  const line = (row: readonly string[]) =>
    `| ${row.map((cell, i) => (i === 0 ? cell.padEnd(widths[i]!) : cell.padStart(widths[i]!))).join(' | ')} |\n`;
  return `${line(head!)}| ${widths.map((w, i) => (i === 0 ? '-'.repeat(w) : `${'-'.repeat(w - 1)}:`)).join(' | ')} |\n${rows.map(line).join('')}`;
}

const counted = (cores: number): string => (cores === 1 ? '1 core' : `${cores} cores`);

/** What the page says of the machine: enough to read the times, nothing that tells which one it is. */
export const machine = (): string =>
  `${counted(availableParallelism())}, Node ${process.versions.node}, ${process.platform} on ${process.arch}`;

const INTRODUCTION = (on: string) => `# What Nitbook takes

Time, memory and size, as measured by \`npm run bench\` in one run, which writes this page. Measured on: ${on}.

- **Times** are medians of many rounds unless a table says otherwise; p95 is what 95 of 100 stay below. What is compared takes turns, round by
  round, so that whatever disturbs the machine disturbs all alike.
- **Ratios** say more than times: they hardly hang on the machine. 3.0 × is three times as long, or as much, as Nitbook.
- **Targets** are the project's own, for a machine like this one. ${MET} is met, ${MISSED} is missed.
- Everything is computed from invented readings that are the same in every run. No round takes over what another has computed, but for what its table
  says is there already.
`;

/** Collects the tables, and says each when it is there. */
export class Report {
  private readonly tables = new Map<TableId, Cells>();

  constructor(private readonly say: (text: string) => void) {}

  add(id: TableId, cells: Cells): void {
    this.tables.set(id, cells);
    this.say(`\n${TABLES[id].title}\n\n${markdownTable(cells)}`);
  }

  /** The page; there has to be every table. */
  page(on = machine()): string {
    const parts = (Object.keys(TABLES) as TableId[]).map((id) => {
      const cells = this.tables.get(id);
      if (!cells) throw new Error(`The bench made no table "${id}".`);
      return `\n## ${TABLES[id].title}\n\n${TABLES[id].about}\n\n${markdownTable(cells)}`;
    });
    return INTRODUCTION(on) + parts.join('');
  }
}
