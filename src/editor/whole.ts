import type { FileSystem, Uri } from 'vscode';

/** What is needed of the workbench's file system. */
export type Files = Pick<FileSystem, 'writeFile' | 'rename' | 'delete' | 'stat'>;

/** `FileType.SymbolicLink`: beside what it leads to. */
const LINK = 64;

/**
 * Writes something made here whole or not at all, over what was there before: beside it first, then moved into its place. What a link leads to
 * is written through the link.
 * @throws what the file system says, with the file as it was
 */
export async function writeWhole(files: Files, to: Uri, bytes: Uint8Array): Promise<void> {
  const isLink = await files.stat(to).then(
    ({ type }) => (type & LINK) !== 0,
    () => false,
  );
  if (isLink) {
    await files.writeFile(to, bytes);
    return;
  }
  const name = to.path.lastIndexOf('/') + 1;
  const beside = to.with({ path: `${to.path.slice(0, name)}.${to.path.slice(name)}.nitbook-part` });
  try {
    await files.writeFile(beside, bytes);
    await files.rename(beside, to, { overwrite: true });
  } catch (error) {
    await files.delete(beside).then(undefined, () => undefined);
    throw error;
  }
}
