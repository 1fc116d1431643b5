import { opendir, stat } from 'node:fs/promises';
import { CONFIG_NAME, isWithin } from '../project/paths';
import { CannotRun, leadsInside, ofSystem, slashed, type TargetFile } from './io';

export const isSession = (path: string): boolean => path.endsWith('.nitbook');
export const isConfig = (path: string): boolean => path.endsWith(`/${CONFIG_NAME}`);
export const isMarkdown = (path: string): boolean => path.endsWith('.md');

export interface Bounds {
  /** What no path may leave. */
  readonly root?: string | undefined;
  /** What no folder may lie outside of, wherever links lead. */
  readonly folders?: string;
  /** Of a wanted file that nobody named, whether it is one for its content. */
  readonly holds?: (path: string) => boolean | Promise<boolean>;
}

/**
 * The files that paths mean: themselves, or what a folder holds, sorted, each once. `node_modules` and folders whose name starts with a
 * point are passed over, and links in a folder are not followed: they lead in circles, or out of it.
 * @throws CannotRun for a file of another kind, for a folder that holds none, and for a path that leaves its bounds
 */
export async function targets(
  paths: readonly string[],
  wanted: (path: string) => boolean,
  { root, folders, holds = () => true }: Bounds,
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
      if (!wanted(path)) throw new CannotRun(`${given}: expected ${expected(wanted)}`);
      found.set(path, found.get(path) ?? { path, shown: name });
      continue;
    }
    if (folders !== undefined && !(await leadsInside(folders, path)))
      throw new CannotRun(`${given}: this folder lies outside ${ofSystem(folders)}; name its files, or give it as --root`);
    const inside: string[] = [];
    for (const file of await walk(given, wanted)) if (await holds(`${path}/${file}`)) inside.push(file);
    if (inside.length === 0) throw new CannotRun(`${given}: this folder holds no .nitbook file`);
    const before = name === '.' ? '' : `${name.replace(/\/$/, '')}/`;
    for (const file of inside) {
      const at = `${path}/${file}`;
      if (!found.has(at)) found.set(at, { path: at, shown: before + file });
    }
  }
  return [...found.values()];
}

function expected(wanted: (path: string) => boolean): string {
  const markdown = wanted('/x.md') ? ['a Markdown file (.md)'] : [];
  const config = wanted(`/${CONFIG_NAME}`) ? [CONFIG_NAME] : [];
  const kinds = ['a folder', 'a .nitbook file', ...markdown, ...config];
  return `${kinds.slice(0, -1).join(', ')} or ${kinds.at(-1)}`;
}

const shownPath = (given: string): string => {
  const name = process.platform === 'win32' ? given.replaceAll('\\', '/') : given;
  return name.replace(/^(?:\.\/+)+(?=.)/, '');
};

/** Paths from a folder, with `/`, in the order of their letters; of the first folders only where there are more than `most`. */
export async function walk(folder: string, wanted: (path: string) => boolean, most = Number.POSITIVE_INFINITY): Promise<string[]> {
  const files: string[] = [];
  const open = [''];
  let count = 0;
  for (let at = open.pop(); at !== undefined && count++ < most; at = open.pop()) {
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
