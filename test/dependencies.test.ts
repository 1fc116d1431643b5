import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const manifest = JSON.parse(readFileSync('package.json', 'utf8')) as Readonly<Record<string, Readonly<Record<string, string>> | undefined>>;
const wanted = Object.keys(manifest.devDependencies!).sort();

/** The packages that the tables of DEVELOPERS.md give reasons for: of what ships, then of the rest. */
const [shipped, rest] = readFileSync('DEVELOPERS.md', 'utf8')
  .split('\n## Dependencies\n')[1]!
  .trim()
  .split('\n\n')
  .filter((part) => part.startsWith('| package | why |'))
  .map((table) =>
    table
      .split('\n')
      .slice(2)
      .flatMap((row) => {
        const [, packages, reason] = row.split('|');
        expect(reason!.trim().length, row).toBeGreaterThan(10);
        return [...packages!.matchAll(/`([^`]+)`/g)].map(([, name]) => name!);
      }),
  ) as [string[], string[]];

/** What a bare import names: the package, without the path in it. */
const packageOf = (from: string): string => from.split('/', from.startsWith('@') ? 2 : 1).join('/');

describe('Dependencies', () => {
  it('have their reason in DEVELOPERS.md, and each reason its dependency', () => {
    const types = wanted.filter((name) => name.startsWith('@types/'));
    const given = [...shipped, ...rest].flatMap((name) => (name === '@types/*' ? types : [name]));
    expect(given.sort()).toEqual(wanted);
  });

  it('are all of development: what ships is bundled', () => {
    for (const kind of ['dependencies', 'peerDependencies', 'optionalDependencies', 'bundleDependencies'])
      expect(manifest[kind]).toBeUndefined();
  });

  it('that ship are those that the sources use', () => {
    const used = readdirSync('src', { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name))
      .flatMap((name) => [...readFileSync(join('src', name), 'utf8').matchAll(/(?:\bfrom\s+|\bimport\s*\(?\s*)'([^'.\n][^'\n]*)'/g)])
      .map(([, from]) => packageOf(from!))
      .filter((name) => !name.startsWith('node:') && name !== 'vscode');
    // Fonts are no code.
    expect([...new Set([...used, 'dejavu-fonts-ttf'])].sort()).toEqual([...shipped].sort());
  });
});
