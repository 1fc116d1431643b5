import { type Analysis, settled } from '../project/analysis';
import type { FileReading, Files } from '../project/files';
import { Folder } from '../project/folder';
import { type Difference, differenceNow, matters } from '../report/difference';
import { differenceAsMarkdown, differenceAsText, type Versions } from '../report/differenceForms';
import { differenceAsJson } from '../report/differenceJson';
import { fileAt } from './git';
import { CannotRun, DiskFiles, rootOf, say, slashed, unread } from './io';
import { isSession } from './targets';

export const DIFF_FORMS = ['text', 'md', 'json'] as const;

export interface DiffOptions {
  readonly format: (typeof DIFF_FORMS)[number];
  readonly git?: string;
  readonly root?: string;
}

const MAKE = {
  text: (difference: Difference, versions: Versions) => differenceAsText(difference, versions),
  md: (difference: Difference, versions: Versions) => differenceAsMarkdown(difference, versions),
  json: (difference: Difference, versions: Versions) => `${JSON.stringify(differenceAsJson(difference, versions), undefined, 2)}\n`,
} as const;

/** What changed between two versions of a session: 0 nothing that matters, 1 something, as of `diff`. */
export async function diff(files: readonly string[], { format, git, root: given }: DiffOptions): Promise<number> {
  const expected = git === undefined ? 2 : 1;
  if (files.length !== expected)
    throw new CannotRun(git === undefined ? 'expected two files, OLD and NEW, or --git REV and one file' : 'expected one file with --git');
  for (const file of files) if (!isSession(slashed(file))) throw new CannotRun(`${file}: expected a .nitbook file`);
  const root = await rootOf(given);
  const disk = new DiskFiles(given === undefined ? undefined : root);
  const [old, now] = git === undefined ? [files[0]!, files[1]!] : [files[0]!, files[0]!];
  // The version after first: of a file that is not there at all that is the better answer.
  const after = await sessionIn(disk, root, now);
  const before = await sessionIn(
    git === undefined ? disk : withText(disk, slashed(old), await fileAt(git, old, given === undefined ? undefined : root)),
    root,
    old,
  );
  const shown = (file: string) => (process.platform === 'win32' ? file.replaceAll('\\', '/') : file);
  const versions = { before: git === undefined ? shown(old) : `${shown(old)} (${git})`, after: shown(now) };
  const difference = differenceNow(settled(before), settled(after));
  say(MAKE[format](difference, versions));
  return matters(difference) ? 1 : 0;
}

async function sessionIn(files: Files, root: string, file: string): Promise<Analysis> {
  const path = slashed(file);
  const read = await new Folder(files, root).session(path);
  if (!read.ok) throw new CannotRun(unread(read, read.path === path ? file : read.path));
  return read.analysis;
}

/** The files as they are, but for one. */
const withText = (files: Files, path: string, reading: FileReading): Files => ({
  read: (other) => (other === path ? Promise.resolve(reading) : files.read(other)),
});
