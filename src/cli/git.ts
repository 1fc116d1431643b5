import { execFile } from 'node:child_process';
import { realpath } from 'node:fs/promises';
import { basename, dirname, join, posix } from 'node:path';
import { decoded, type FileReading, MOST_BYTES, refused, tooLarge } from '../project/files';
import { isWithin } from '../project/paths';
import { CannotRun, ofSystem, slashed } from './io';

/** How git writes the kind of a symbolic link. */
const LINK = '120000 ';
const MOST_LINKS = 8;

interface Ended {
  readonly code: number | 'missing' | 'too-large';
  readonly out: Buffer;
}

/**
 * A file as it was at a revision, by `git show`; without a shell, and with nothing that git might take for an option.
 * @param confinedTo a folder that links of that time may not lead out of
 * @throws CannotRun where git does not have it
 */
export async function fileAt(revision: string, file: string, confinedTo?: string): Promise<FileReading> {
  if (revision === '' || revision.startsWith('-') || revision.includes(':'))
    throw new CannotRun(`${revision}: expected a revision, such as HEAD, HEAD~1, a tag or a commit`);
  // Where the file has gone since, its folder still says which repository is meant; git knows files by the place that links lead to.
  const folder = await realpath(dirname(file)).catch(() => {
    throw new CannotRun(`${file}: its folder is not there`);
  });
  const git = (...args: string[]) => run(folder, args);
  const inside = await git('rev-parse', '--show-toplevel');
  if (inside.code === 'missing') throw new CannotRun('git is not there: install it, or compare two files: nitbook diff OLD NEW');
  if (inside.code !== 0) throw new CannotRun(`${file}: git knows no repository that its folder is in`);
  const commit = await git('rev-parse', '--verify', '--quiet', '--end-of-options', `${revision}^{commit}`);
  if (commit.code !== 0) throw new CannotRun(`${revision}: there is no such revision in the repository of ${file}`);
  const at = commit.out.toString('utf8').trim();
  const root = confinedTo === undefined ? undefined : await realpath(ofSystem(confinedTo));
  let name = basename(file);
  // What git has of a link is where it leads.
  for (let links = 0; ; links++) {
    const entry = await git('ls-tree', '-z', at, '--', `./${name}`);
    if (!entry.out.toString('utf8').startsWith(LINK)) break;
    const to = (await git('show', '--no-textconv', `${at}:./${name}`)).out.toString('utf8');
    if (links === MOST_LINKS || posix.isAbsolute(to))
      throw new CannotRun(`${file}: in ${revision} it is a link that leads to no file there`);
    name = posix.join(posix.dirname(name), to);
    if (root !== undefined && !isWithin(slashed(root), slashed(join(folder, name))))
      return refused('outside', { root: ofSystem(confinedTo!) });
  }
  const shown = await git('show', '--no-textconv', `${at}:./${name}`);
  if (shown.code === 'too-large') return tooLarge(MOST_BYTES + 1);
  if (shown.code !== 0) throw new CannotRun(`${file}: it is not in ${revision}`);
  return decoded(shown.out);
}

function run(cwd: string, args: readonly string[]): Promise<Ended> {
  return new Promise((resolve) => {
    // Only codes are read: what git says in words hangs on the language of the system.
    execFile('git', args, { cwd, encoding: 'buffer', maxBuffer: MOST_BYTES, windowsHide: true }, (error, out) => {
      const code = error === null ? 0 : error.code;
      if (code === 'ERR_CHILD_PROCESS_STDIO_MAXBUFFER') resolve({ code: 'too-large', out });
      else if (code === 'ENOENT') resolve({ code: 'missing', out });
      else resolve({ code: typeof code === 'number' ? code : 1, out });
    });
  });
}
