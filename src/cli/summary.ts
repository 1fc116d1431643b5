import { type Analysis, settled } from '../project/analysis';
import { Folder } from '../project/folder';
import { summaryCsv } from '../report/csv';
import { summaryJson } from '../report/json';
import { summaryMarkdown } from '../report/markdown';
import { summaryText } from '../report/text';
import { CannotRun, DiskFiles, rootOf, say, slashed, unread } from './io';
import { isSession } from './targets';

export const SUMMARY_FORMS = ['text', 'md', 'json', 'csv'] as const;

export interface SummaryOptions {
  readonly format: (typeof SUMMARY_FORMS)[number];
  readonly root?: string;
  readonly rowIntervals?: boolean;
}

const MAKE = {
  text: (analysis: Analysis, name: string) => summaryText(analysis, name),
  md: (analysis: Analysis, name: string) => summaryMarkdown(analysis, name),
  csv: (analysis: Analysis, name: string) => summaryCsv(analysis, name),
  json: (...of: Parameters<typeof summaryJson>) => `${JSON.stringify(summaryJson(...of), undefined, 2)}\n`,
} as const;

/** The figures of one session. */
export async function summary(file: string, { format, root: given, rowIntervals = false }: SummaryOptions): Promise<number> {
  const root = await rootOf(given);
  const path = slashed(file);
  const read = await new Folder(new DiskFiles(given === undefined ? undefined : root), root).session(path);
  if (!read.ok) throw new CannotRun(unread(read, read.path === path ? file : read.path));
  if (!isSession(path)) throw new CannotRun(`${file}: expected a .nitbook file`);
  say(MAKE[format](settled(read.analysis), process.platform === 'win32' ? file.replaceAll('\\', '/') : file, { rowIntervals }));
  return 0;
}
