import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, it } from 'vitest';

// What a page looks like in the workbench is for eyes to judge, and its pixels hang on the fonts of a machine. That it has been looked at
// since what it is made of has changed can be tested: npm run screenshots -- --all, look, note what was checked in pages.json with the new
// hash, which the failing test says.

interface Note {
  /** Files and folders that the page is made of. */
  readonly of: readonly string[];
  readonly sha256: string;
  /** What was checked when someone looked at it, by theme. */
  readonly checked: Readonly<Record<string, string>>;
}

const root = resolve(import.meta.dirname, '../..');
const notes = JSON.parse(readFileSync(join(import.meta.dirname, 'pages.json'), 'utf8')) as Readonly<Record<string, Note>>;
const THEMES = ['dark', 'light', 'high-contrast', 'high-contrast-light'];

const filesOf = (path: string): string[] =>
  statSync(join(root, path)).isDirectory()
    ? readdirSync(join(root, path), { recursive: true, encoding: 'utf8' })
        .map((name) => join(path, name))
        .filter((name) => statSync(join(root, name)).isFile())
        .sort()
    : [path];

function hashOf(of: readonly string[]): string {
  const hash = createHash('sha256');
  for (const file of of.flatMap(filesOf)) hash.update(`${file}\n`).update(readFileSync(join(root, file)));
  return hash.digest('hex');
}

for (const [page, { of, sha256, checked }] of Object.entries(notes)) {
  it(`the ${page} has been looked at in four themes since it was changed`, () => {
    expect(hashOf(of)).toBe(sha256);
    expect(Object.keys(checked)).toEqual(THEMES);
    for (const note of Object.values(checked)) expect(note.length).toBeGreaterThan(20);
  });
}

it('every page of a webview is among them, with its style', () => {
  const pages = readdirSync(join(root, 'src')).filter((room) => readdirSync(join(root, 'src', room)).includes('page'));
  expect(pages.length).toBeGreaterThan(1);
  const all = Object.values(notes).flatMap(({ of }) => of);
  for (const room of pages) expect(all).toEqual(expect.arrayContaining([`src/${room}/page`, `media/${room}.css`]));
});
