import { Folder } from '../project/folder';
import { findingsText } from '../report/said';
import type { Severity } from '../text/codes';
import { counted, fill, worded } from '../text/message';
import { githubForm, jsonForm, textForm } from './checkForms';
import { complain, DiskFiles, rootOf, say, slashed, unread } from './io';
import { type Located, located } from './located';
import { sarifForm } from './sarif';
import { isConfig, isSession, targets } from './targets';

export const CHECK_FORMS = ['text', 'json', 'sarif', 'github'] as const;
export const FAIL_ON = ['error', 'warning', 'info', 'never'] as const;

export interface CheckOptions {
  readonly format: (typeof CHECK_FORMS)[number];
  readonly failOn: (typeof FAIL_ON)[number];
  readonly root?: string;
}

const RANK: Readonly<Record<Severity, number>> = { error: 2, warning: 1, info: 0 };

/** What is noticed in sessions and in the configuration they are judged by. */
export async function check(paths: readonly string[], { format, failOn, root: given }: CheckOptions): Promise<number> {
  const root = await rootOf(given);
  const files = await targets(paths, (path) => isSession(path) || isConfig(path), given === undefined ? undefined : root);
  const folder = new Folder(new DiskFiles(given === undefined ? undefined : root), root);
  const found = new Map<string, readonly Located[]>();
  const problems: string[] = [];
  for (const { path, shown } of files) {
    const problem = isConfig(path) ? await configuration(folder, path, shown, found) : await session(folder, path, shown, found);
    if (problem !== undefined && !problems.includes(problem)) problems.push(problem);
  }
  const findings = [...found.values()].flat();
  if (format === 'text') say(textForm(findings, process.stdout));
  else if (format === 'json') say(jsonForm(findings));
  else if (format === 'github') say(githubForm(findings));
  else say(sarifForm(findings, root, problems));
  for (const problem of problems) complain(problem);
  if (format === 'text') {
    const counts = { error: 0, warning: 0, info: 0 };
    for (const { finding } of findings) counts[finding.severity]++;
    process.stderr.write(
      `${worded(counted(found.size, ['1 file', '{count} files']), fill)}: ${findings.length === 0 ? 'nothing to report' : findingsText(counts)}\n`,
    );
  }
  if (problems.length > 0) return 2;
  return failOn !== 'never' && findings.some(({ finding }) => RANK[finding.severity] >= RANK[failOn]) ? 1 : 0;
}

type Found = Map<string, readonly Located[]>;

async function session(folder: Folder, path: string, shown: string, found: Found): Promise<string | undefined> {
  const read = await folder.session(path);
  if (!read.ok) return unread(read, read.path === path ? shown : shownBeside(read.path));
  const { analysis, config } = read;
  // Its mistakes change what the session is judged by, so they are told with it.
  if (config && !found.has(config.path)) await configuration(folder, config.path, shownBeside(config.path), found);
  found.set(path, located(path, shown, analysis.source.text, analysis.findings));
  return undefined;
}

async function configuration(folder: Folder, path: string, shown: string, found: Found): Promise<string | undefined> {
  const read = await folder.config(path);
  if (!read.ok) return unread(read, shown);
  found.set(path, found.get(path) ?? located(path, shown, read.file.text, read.file.findings));
  return undefined;
}

/** A file that nobody named: from here where it lies below, else whole. */
function shownBeside(path: string): string {
  const here = `${slashed('.')}/`;
  return path.startsWith(here) ? path.slice(here.length) : path;
}
