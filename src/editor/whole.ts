import type { FileSystem, Uri } from 'vscode';

/** What is needed of the workbench's file system. */
export type Files = Pick<FileSystem, 'writeFile' | 'rename' | 'delete' | 'stat'>;

/** `FileType.SymbolicLink`: beside what it leads to. */
const LINK = 64;
/** `FileType.Directory`. */
const FOLDER = 2;

let parts = 0;

/**
 * Writes something made here whole, over what was there before: beside it first, then moved into its place. The workbench takes the file
 * before away before it moves the new one, so that at every moment one of both is there whole, be it beside the place. What a link leads to
 * is written through the link.
 * @throws what the file system says, and where the new file stands if it could be written but not moved
 */
export async function writeWhole(files: Files, to: Uri, bytes: Uint8Array): Promise<void> {
  const found = await kindOf(files, to);
  // Moving over a folder would take all of it away.
  if (found !== undefined && (found & FOLDER) !== 0) throw new Error(`EISDIR: ${to.path}`);
  if (found !== undefined && (found & LINK) !== 0) {
    await files.writeFile(to, bytes);
    return;
  }
  const name = to.path.lastIndexOf('/') + 1;
  const part = `.${to.path.slice(name)}.${++parts}.nitbook-part`;
  const beside = to.with({ path: `${to.path.slice(0, name)}${part}` });
  const clear = () => files.delete(beside).then(undefined, () => undefined);
  try {
    await files.writeFile(beside, bytes);
  } catch (error) {
    await clear();
    throw error;
  }
  try {
    await files.rename(beside, to, { overwrite: true });
  } catch (error) {
    const isGone = found !== undefined && (await kindOf(files, to)) === undefined;
    if (!isGone) await clear();
    throw isGone ? new Error(`${String(error)} (${part})`) : error;
  }
}

const kindOf = (files: Files, uri: Uri): Thenable<number | undefined> =>
  files.stat(uri).then(
    ({ type }) => type,
    () => undefined,
  );
