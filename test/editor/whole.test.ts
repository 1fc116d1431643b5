import { describe, expect, it } from 'vitest';
import type { Uri } from 'vscode';
import { type Files, writeWhole } from '../../src/editor/whole';

interface Place {
  readonly path: string;
  with(change: { readonly path: string }): Place;
}

const place = (path: string): Place => ({ path, with: (change) => place(change.path) });
const uri = (path: string) => place(path) as unknown as Uri;

/** A disk in memory, which can fail in the middle of a write or before a move. */
class Disk implements Files {
  readonly all = new Map<string, string>();
  readonly links = new Set<string>();
  readonly folders = new Set<string>();
  fails: 'write' | 'move' | 'move after the old one is gone' | undefined;

  async stat({ path }: Uri) {
    if (this.folders.has(path)) return { type: 2, size: 0, ctime: 0, mtime: 0 };
    if (!this.all.has(path)) throw new Error('not found');
    return { type: this.links.has(path) ? 65 : 1, size: 0, ctime: 0, mtime: 0 };
  }

  async writeFile({ path }: Uri, bytes: Uint8Array) {
    const text = new TextDecoder().decode(bytes);
    this.all.set(path, this.fails === 'write' ? text.slice(0, 2) : text);
    if (this.fails === 'write') throw new Error('disk full');
  }

  async rename(from: Uri, to: Uri, options?: { overwrite?: boolean }) {
    if (this.fails === 'move') throw new Error('locked');
    // As the workbench does: it deletes what is there, and moves then.
    if (this.fails === 'move after the old one is gone') {
      this.all.delete(to.path);
      throw new Error('locked');
    }
    if (this.all.has(to.path) && !options?.overwrite) throw new Error('exists');
    this.all.set(to.path, this.all.get(from.path)!);
    this.all.delete(from.path);
  }

  async delete({ path }: Uri) {
    if (!this.all.delete(path)) throw new Error('not found');
  }
}

const bytes = new TextEncoder().encode('a new page');

describe('A file that is made here', () => {
  it('takes the place of the one before, and leaves nothing beside it', async () => {
    const disk = new Disk();
    await writeWhole(disk, uri('/a/review.html'), bytes);
    disk.all.set('/a/review.html', 'an old page');
    await writeWhole(disk, uri('/a/review.html'), bytes);
    expect([...disk.all]).toEqual([['/a/review.html', 'a new page']]);
  });

  for (const fails of ['write', 'move'] as const)
    it(`leaves the one before as it was where the ${fails} fails, and says so`, async () => {
      const disk = new Disk();
      disk.all.set('/a/review.html', 'an old page');
      disk.fails = fails;
      await expect(writeWhole(disk, uri('/a/review.html'), bytes)).rejects.toThrow(fails === 'write' ? 'disk full' : 'locked');
      expect([...disk.all]).toEqual([['/a/review.html', 'an old page']]);
    });

  it('stays beside its place where the one before is gone and it cannot be moved there, and that is said', async () => {
    const disk = new Disk();
    disk.all.set('/a/review.html', 'an old page');
    disk.fails = 'move after the old one is gone';
    await expect(writeWhole(disk, uri('/a/review.html'), bytes)).rejects.toThrow(/locked.*\(\.review\.html\.\d+\.nitbook-part\)/);
    expect([...disk.all]).toEqual([[expect.stringMatching(/^\/a\/\.review\.html\.\d+\.nitbook-part$/), 'a new page']]);
  });

  it('does not take the place of a folder', async () => {
    const disk = new Disk();
    disk.folders.add('/a/review.html');
    await expect(writeWhole(disk, uri('/a/review.html'), bytes)).rejects.toThrow('EISDIR');
    expect([...disk.all]).toEqual([]);
  });

  it('may be written twice at once: each write has a part of its own', async () => {
    const disk = new Disk();
    await Promise.all([writeWhole(disk, uri('/a/review.html'), bytes), writeWhole(disk, uri('/a/review.html'), bytes)]);
    expect([...disk.all]).toEqual([['/a/review.html', 'a new page']]);
  });

  it('is written through a link', async () => {
    const disk = new Disk();
    disk.all.set('/a/review.html', 'an old page');
    disk.links.add('/a/review.html');
    disk.fails = 'move';
    await writeWhole(disk, uri('/a/review.html'), bytes);
    expect([...disk.all]).toEqual([['/a/review.html', 'a new page']]);
  });
});
