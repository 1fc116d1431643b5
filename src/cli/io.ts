import { randomBytes } from 'node:crypto';
import type { Stats } from 'node:fs';
import { type FileHandle, mkdir, open, readlink, realpath, rename, stat, unlink, writeFile } from 'node:fs/promises';
import { dirname, join, resolve, sep } from 'node:path';
import { decoded, type FileReading, type Files, MOST_BYTES, problemText, refused, tooLarge } from '../project/files';
import type { Unread } from '../project/folder';
import { CONFIG_NAME, isWithin } from '../project/paths';
import { visible } from '../report/format';

/** Could not run: nothing is said about what was asked. The message is one line for the person at the terminal. */
export class CannotRun extends Error {}

/** A path of the system as an absolute one with `/`, as the core has them. */
export const slashed = (path: string): string => {
  const absolute = resolve(path);
  const plain = sep === '/' ? absolute : absolute.replaceAll(sep, '/');
  return plain.endsWith('/') ? plain.slice(0, -1) : plain;
};

/** A path of the core for the system: the whole file system is `/`. */
export const ofSystem = (path: string): string => (path === '' || path.endsWith(':') ? `${path}/` : path);

/** A file to look at: its path, and how the person who named it, or a folder of it, would write it. */
export interface TargetFile {
  readonly path: string;
  readonly shown: string;
}

export class DiskFiles implements Files {
  /** @param confinedTo a folder outside of which nothing is read, wherever links lead */
  constructor(private readonly confinedTo?: string) {}

  async read(path: string): Promise<FileReading> {
    try {
      if (this.confinedTo !== undefined && !(await leadsInside(this.confinedTo, path))) {
        return refused('outside', { root: ofSystem(this.confinedTo) });
      }
      // Asked before opening, as opening a pipe waits for somebody to write into it.
      const { size, ...is } = await stat(ofSystem(path)).then((found) => ({
        size: found.size,
        folder: found.isDirectory(),
        file: found.isFile(),
      }));
      if (is.folder) return refused('folder');
      if (!is.file) return refused('special');
      if (size > MOST_BYTES) return tooLarge(size);
      return decoded(await bytesOf(path, size));
    } catch (error) {
      const code = codeOf(error);
      if (code === 'ENOENT' || code === 'ENOTDIR') return refused('missing');
      return refused('unreadable', { reason: REASONS[code] ?? code });
    }
  }
}

/** The bytes of a file that lies in a folder, wherever links lead; undefined where there is none, or it is too large. */
export async function bytesInside(root: string, path: string, most: number): Promise<Buffer | undefined> {
  try {
    if (!(await leadsInside(root, path))) return undefined;
    const is = await stat(ofSystem(path));
    return is.isFile() && is.size <= most ? Buffer.from(await bytesOf(path, is.size)) : undefined;
  } catch {
    return undefined;
  }
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'no permission',
  EPERM: 'no permission',
  ELOOP: 'links that go in a circle',
  ENAMETOOLONG: 'the name is too long',
  EIO: 'the disk reports an error',
  ENOSPC: 'no space is left on the disk',
  EFBIG: 'the file would be too large',
  EDQUOT: 'no space is left to you on the disk',
  EROFS: 'the disk is read-only',
  EBUSY: 'it is in use',
};

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : String(error);

const LEAST_ROOM = 4096;

/**
 * No more than is read, however much a file has grown since it was looked at.
 * @param size as it was then: room for more than a file holds is much to clear away where there are a thousand
 */
async function bytesOf(path: string, size: number): Promise<Uint8Array> {
  const handle = await open(ofSystem(path), 'r');
  try {
    const chunks: Buffer[] = [];
    let total = 0;
    for (;;) {
      // That a file has come to its end is a read of nothing, for which little room is enough.
      const room = Math.max(LEAST_ROOM, Math.min(size + 1 - total, 1 << 20));
      const { bytesRead, buffer } = await handle.read(Buffer.allocUnsafe(room));
      if (bytesRead === 0 || total > MOST_BYTES) return Buffer.concat(chunks, total);
      chunks.push(buffer.subarray(0, bytesRead));
      total += bytesRead;
    }
  } finally {
    await handle.close();
  }
}

/** @throws where one of them is not there */
export async function leadsInside(root: string, path: string): Promise<boolean> {
  const [folder, file] = await Promise.all([realpath(ofSystem(root)), realpath(ofSystem(path))]);
  return folder === file || isWithin(slashed(folder), slashed(file));
}

/**
 * Replaces a text file whole or not at all.
 * @throws CannotRun with the file as it was
 */
export async function writeText({ path, shown }: TargetFile, text: string): Promise<void> {
  try {
    await replace(await realpath(ofSystem(path)), text);
  } catch (error) {
    const code = codeOf(error);
    throw new CannotRun(`${shown}: it cannot be written (${REASONS[code] ?? code}); it is as it was`);
  }
}

/**
 * Writes something made here whole or not at all, over what was there before. What is no file, such as a pipe or a device, is written to.
 * @throws CannotRun with the file as it was
 */
export async function writeNew(file: string, data: string | Uint8Array): Promise<void> {
  try {
    const there = await stat(file).catch(() => undefined);
    if (!there || there.isFile() || there.isDirectory()) await replace(await led(file), data);
    else await writeFile(file, data);
  } catch (error) {
    const code = codeOf(error);
    throw new CannotRun(`${file}: it cannot be written (${code === 'ENOENT' ? 'its folder is not there' : (REASONS[code] ?? code)})`);
  }
}

/** The file that a path leads to, be it one that is not there yet. */
async function led(file: string): Promise<string> {
  const followed = await readlink(file).catch(() => undefined);
  if (followed === undefined) return file;
  // Where it leads in a circle, the path is none.
  return await realpath(file).catch((error) => {
    if (codeOf(error) !== 'ENOENT') throw error;
    return led(resolve(dirname(file), followed));
  });
}

/** Written beside a file under a name of its own, then moved into its place. Permissions and, where that is allowed, the owner stay. */
async function replace(file: string, data: string | Uint8Array): Promise<void> {
  const there = await stat(file).catch(() => undefined);
  const beside = join(dirname(file), `.nitbook-${randomBytes(6).toString('hex')}.tmp`);
  const handle = await open(beside, 'wx', there?.mode);
  try {
    await filled(handle, data, there);
    await rename(beside, file);
  } catch (error) {
    await unlink(beside).catch(() => {});
    throw error;
  }
}

/** @throws CannotRun where there can be no such folder */
export async function makeFolder(folder: string): Promise<void> {
  await mkdir(folder, { recursive: true }).catch((error) => {
    const code = codeOf(error);
    throw new CannotRun(`${folder}: the folder cannot be made (${REASONS[code] ?? code})`);
  });
}

async function filled(handle: FileHandle, data: string | Uint8Array, there: Stats | undefined): Promise<void> {
  try {
    await handle.writeFile(data);
    if (there) {
      await handle.chown(there.uid, there.gid).catch(() => {});
      await handle.chmod(there.mode);
    }
    await handle.sync();
  } finally {
    await handle.close();
  }
}

export const exists = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

/** The folder from which leading `/` and `..` of references are understood: the one given, else the nearest marked one, else this one. */
export async function rootOf(given: string | undefined): Promise<string> {
  if (given !== undefined) {
    const found = await stat(given).catch(() => undefined);
    if (!found?.isDirectory()) throw new CannotRun(`${given}: expected a folder for --root`);
    return slashed(given);
  }
  for (const mark of [CONFIG_NAME, '.git']) {
    for (let folder = process.cwd(); ; folder = dirname(folder)) {
      if (await exists(join(folder, mark))) return slashed(folder);
      if (folder === dirname(folder)) break;
    }
  }
  return slashed(process.cwd());
}

let isRead = true;

/** Nobody reads any more of what is said: from now on it is not said. */
export function stopSaying(): void {
  isRead = false;
}

export function say(text: string): void {
  if (isRead) process.stdout.write(text);
}
export const complain = (line: string): void => void process.stderr.write(`nitbook: ${visible(line)}\n`);
export const unread = ({ path, problem }: Unread, shown = path): string => `${shown}: ${problemText(problem)}`;
