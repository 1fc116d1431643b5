import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

/** Each room and those it may know; none knows a room above it. */
const ROOMS: Readonly<Record<string, readonly string[]>> = {
  text: [],
  colour: [],
  algorithms: ['text', 'colour'],
  uncertainty: ['text', 'colour'],
  config: ['text'],
  session: ['text'],
  measure: ['text', 'colour', 'algorithms', 'uncertainty', 'session'],
  judge: ['text', 'colour', 'algorithms', 'uncertainty', 'config', 'session', 'measure'],
  project: ['text', 'colour', 'algorithms', 'uncertainty', 'config', 'session', 'measure', 'judge'],
  report: ['text', 'colour', 'algorithms', 'uncertainty', 'config', 'session', 'measure', 'judge', 'project'],
  language: ['text', 'colour', 'config', 'session', 'measure', 'judge', 'project', 'report'],
  cli: ['text', 'config', 'session', 'measure', 'judge', 'project', 'report', 'language'],
  editor: ['text', 'config', 'session', 'measure', 'judge', 'project', 'report', 'language'],
};

/** Packages that a room may use. The core has its own code, and jsonc-parser for the folder's configuration. */
const PACKAGES: Readonly<Record<string, readonly (string | RegExp)[]>> = {
  config: ['jsonc-parser'],
  cli: ['commander', /^node:/],
  editor: ['vscode'],
};

interface Import {
  readonly file: string;
  readonly from: string;
}

function importsOf(room: string): Import[] {
  const folder = join('src', room);
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .flatMap((name) => {
      const text = readFileSync(join(folder, name), 'utf8');
      // A blank before the quotation mark: words that end in "from" stand in texts as well.
      return [...text.matchAll(/(?:\bfrom\s+|\bimport\s*\(?\s*)'([^'\n]+)'/g)].map((found) => ({
        file: join(folder, name),
        from: found[1]!,
      }));
    });
}

describe('the house', () => {
  it('has just these rooms', () => {
    expect(readdirSync('src').sort()).toEqual(Object.keys(ROOMS).sort());
  });

  for (const [room, mayKnow] of Object.entries(ROOMS)) {
    it(`${room} knows only rooms below it, and its own packages`, () => {
      const imports = importsOf(room);
      expect(imports.length, 'imports were found').toBeGreaterThan(0);
      for (const { file, from } of imports) {
        const other = /^\.\.\/([a-z]+)\//.exec(from)?.[1];
        if (other !== undefined) expect(mayKnow, `${file} imports ${from}`).toContain(other);
        else if (!from.startsWith('./')) {
          const allowed = (PACKAGES[room] ?? []).some((name) => (typeof name === 'string' ? name === from : name.test(from)));
          expect(allowed, `${file} imports ${from}`).toBe(true);
        }
      }
    });
  }

  it('gives the core no ambient types: no vscode, no DOM, no Node', () => {
    const config = JSON.parse(readFileSync('tsconfig.core.json', 'utf8').replace(/^\/\/.*$/gm, '')) as { include: string[] };
    const base = JSON.parse(readFileSync('tsconfig.base.json', 'utf8')) as { compilerOptions: { types: string[]; lib: string[] } };
    const core = Object.keys(ROOMS).filter((room) => room !== 'cli' && room !== 'editor');
    expect(config.include.map((path) => path.replace('src/', '')).sort()).toEqual(core.sort());
    expect(base.compilerOptions.types).toEqual([]);
    expect(base.compilerOptions.lib).toEqual(['ES2023']);
  });
});
