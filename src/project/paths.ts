/** Paths of a folder's files: absolute, their parts separated by `/`. A root is one of them without a `/` at its end (`''` for the whole). */

export const CONFIG_NAME = 'nitbook.jsonc';

export const folderOf = (path: string): string => path.slice(0, Math.max(0, path.lastIndexOf('/')));

export const isWithin = (root: string, path: string): boolean => path.startsWith(`${root}/`);

/** Where the `nitbook.jsonc` of a file can be, nearest first: upwards to the root, or all the way for a file outside it. */
export function configPaths(path: string, root: string): string[] {
  const found: string[] = [];
  for (let folder = folderOf(path); ; folder = folderOf(folder)) {
    found.push(`${folder}/${CONFIG_NAME}`);
    if (folder === '' || folder === root) return found;
  }
}

/**
 * The file that a reference means: its path is relative to a folder, or to the root with a leading `/`.
 * @returns undefined when it leaves the root
 */
export function referredPath(reference: string, folder: string, root: string): string | undefined {
  const parts: string[] = [];
  for (const part of (reference.startsWith('/') ? root + reference : `${folder}/${reference}`).split('/')) {
    if (part === '..') parts.pop();
    else if (part !== '' && part !== '.') parts.push(part);
  }
  const path = `${root.startsWith('/') || root === '' ? '/' : ''}${parts.join('/')}`;
  return isWithin(root, path) ? path : undefined;
}
