import { opendir, stat } from 'node:fs/promises';
import { CONFIG_NAME, isWithin } from '../project/paths';
import { CannotRun, slashed, type TargetFile } from './io';

export const isSession = (path: string): boolean => path.endsWith('.nitbook');
export const isConfig = (path: string): boolean => path.endsWith(`/${CONFIG_NAME}`);

/**
 * The files that paths mean: themselves, or what a folder holds, sorted, each once. `node_modules` and folders whose name starts with a
 * point are passed over, and links in a folder are not followed: they lead in circles, or out of it.
 * @throws CannotRun for a file of another kind, and for a folder that holds none
 */
export async function targets(
  paths: readonly string[],
  wanted: (path: string) => boolean,
  root: string | undefined,
): Promise<TargetFile[]> {
  const found = new Map<string, TargetFile>();
  for (const given of paths) {
    const path = slashed(given);
    if (root !== undefined && path !== root && !isWithin(root, path)) throw new CannotRun(`${given}: it lies outside the folder ${root}`);
    const name = shownPath(given);
    // What is not there is left to the reader, who says so.
    const folder = await stat(given).then(
      (is) => is.isDirectory(),
      () => false,
    );
    if (!folder) {
      if (!wanted(path))
        throw new CannotRun(`${given}: expected a folder, a .nitbook file${wanted(`/${CONFIG_NAME}`) ? ` or ${CONFIG_NAME}` : ''}`);
      found.set(path, found.get(path) ?? { path, shown: name });
      continue;
    }
    const inside = await walk(given, wanted);
    if (inside.length === 0) throw new CannotRun(`${given}: this folder holds no .nitbook file`);
    const before = name === '.' ? '' : `${name.replace(/\/$/, '')}/`;
    for (const file of inside) {
      const at = `${path}/${file}`;
      if (!found.has(at)) found.set(at, { path: at, shown: before + file });
    }
  }
  return [...found.values()];
}

const shownPath = (given: string): string => {
  const name = process.platform === 'win32' ? given.replaceAll('\\', '/') : given;
  return name.replace(/^(?:\.\/+)+(?=.)/, '');
};

/** Paths from a folder, with `/`, in the order of their letters. */
async function walk(folder: string, wanted: (path: string) => boolean): Promise<string[]> {
  const files: string[] = [];
  const open = [''];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    try {
      for await (const entry of await opendir(`${folder}/${at}`)) {
        const path = at === '' ? entry.name : `${at}/${entry.name}`;
        if (entry.isDirectory()) {
          if (entry.name !== 'node_modules' && !entry.name.startsWith('.')) open.push(path);
        } else if (entry.isFile() && wanted(`/${path}`)) files.push(path);
      }
    } catch {
      throw new CannotRun(`${at === '' ? folder : `${folder}/${at}`}: this folder cannot be read`);
    }
  }
  return files.sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
}
