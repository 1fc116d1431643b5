import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, sep } from 'node:path';
import { describe, expect, it } from 'vitest';

/**
 * Each room and those it may know; none knows a room above it. A room with a page has three: what both sides share is of the core, `host`
 * speaks to VS Code, `page` runs in a webview.
 */
const ROOMS: Readonly<Record<string, readonly string[]>> = {
  text: [],
  colour: [],
  algorithms: ['text', 'colour', 'uncertainty'],
  uncertainty: ['text', 'colour'],
  config: ['text'],
  session: ['text'],
  measure: ['text', 'colour', 'algorithms', 'uncertainty', 'session'],
  judge: ['text', 'colour', 'algorithms', 'uncertainty', 'config', 'session', 'measure'],
  project: ['text', 'colour', 'algorithms', 'uncertainty', 'config', 'session', 'measure', 'judge'],
  report: ['text', 'colour', 'algorithms', 'uncertainty', 'config', 'session', 'measure', 'judge', 'project'],
  figure: ['text', 'colour', 'algorithms', 'uncertainty', 'config', 'session', 'measure', 'judge', 'project', 'report'],
  review: ['text', 'config', 'session', 'measure', 'judge', 'project', 'report', 'figure'],
  language: ['text', 'colour', 'config', 'session', 'measure', 'judge', 'project', 'report', 'figure', 'review'],
  cli: ['text', 'config', 'session', 'measure', 'judge', 'project', 'report', 'figure', 'review', 'language'],
  'review/host': ['text', 'config', 'session', 'project', 'language', 'review', 'editor'],
  editor: ['text', 'config', 'session', 'measure', 'judge', 'project', 'report', 'language'],
  sheet: ['text', 'colour', 'config', 'session', 'measure', 'judge', 'project', 'report', 'figure', 'language'],
  preview: ['text', 'session', 'measure', 'project', 'report', 'figure', 'language'],
  'preview/host': ['text', 'session', 'project', 'figure', 'preview', 'editor'],
  'preview/page': ['preview'],
  'sheet/host': ['text', 'config', 'session', 'project', 'language', 'sheet', 'editor'],
  'sheet/page': ['text', 'sheet'],
};

/** What VS Code starts registers the webviews too, which are above the editor. */
const ENTRY = join('src', 'editor', 'extension.ts');

/** Where the program starts: the command line, the extension, its pages; and `npm run docs`. */
const START = /^src.(?:cli.main\.ts|editor.extension\.ts|\w+.page.main\.tsx|\w+.manual\.ts)$/;

/** Packages that a room may use. The core has its own code, and jsonc-parser for the folder's configuration. */
const PACKAGES: Readonly<Record<string, readonly (string | RegExp)[]>> = {
  config: ['jsonc-parser'],
  figure: ['d3-scale', 'd3-shape'],
  review: ['markdown-it'],
  cli: ['commander', '@resvg/resvg-wasm', /^node:/],
  editor: ['vscode'],
  'sheet/host': ['vscode'],
  'sheet/page': [/^preact/],
  'preview/host': ['vscode'],
  'review/host': ['vscode'],
  'preview/page': [/^preact/, 'morphdom'],
};

interface Import {
  readonly file: string;
  readonly from: string;
}

const isRoom = (path: string): boolean => Object.hasOwn(ROOMS, path);

/** The room of a file, by its folder. */
function roomOf(path: string): string {
  const [, outer, inner] = path.split(sep);
  return isRoom(`${outer}/${inner}`) ? `${outer}/${inner}` : outer!;
}

const sources = (): string[] =>
  readdirSync('src', { recursive: true, encoding: 'utf8' })
    .map((name) => join('src', name))
    .filter((file) => /\.tsx?$/.test(file));

function importsOf(room: string): Import[] {
  return sources()
    .filter((file) => roomOf(file) === room)
    .flatMap((file) => {
      const text = readFileSync(file, 'utf8');
      // A blank before the quotation mark: words that end in "from" stand in texts as well.
      return [...text.matchAll(/(?:\bfrom\s+|\bimport\s*\(?\s*)'([^'\n]+)'/g)].map((found) => ({ file, from: found[1]! }));
    });
}

describe('the house', () => {
  it('has just these rooms', () => {
    const outer = Object.keys(ROOMS).filter((room) => !room.includes('/'));
    expect(readdirSync('src').sort()).toEqual(outer.sort());
  });

  for (const [room, mayKnow] of Object.entries(ROOMS)) {
    it(`${room} knows only rooms below it, and its own packages`, () => {
      const imports = importsOf(room);
      expect(imports.length, 'imports were found').toBeGreaterThan(0);
      for (const { file, from } of imports) {
        const other = from.startsWith('.') ? roomOf(join(dirname(file), from)) : undefined;
        if (other !== undefined) {
          const isHost = file === ENTRY && other.endsWith('/host');
          if (other !== room && !isHost) expect(mayKnow, `${file} imports ${from}`).toContain(other);
        } else {
          const allowed = (PACKAGES[room] ?? []).some((name) => (typeof name === 'string' ? name === from : name.test(from)));
          expect(allowed, `${file} imports ${from}`).toBe(true);
        }
      }
    });
  }

  it('keeps no file that nothing leads to', () => {
    const all = Object.keys(ROOMS).flatMap(importsOf);
    const files = sources();
    const reached = new Set<string>();
    const open = files.filter((file) => START.test(file));
    for (let file = open.pop(); file !== undefined; file = open.pop()) {
      if (reached.has(file)) continue;
      reached.add(file);
      for (const { from } of all.filter((each) => each.file === file && each.from.startsWith('.'))) {
        const to = join(dirname(file), from);
        open.push(...[`${to}.ts`, `${to}.tsx`].filter((path) => files.includes(path)));
      }
    }
    expect(files.filter((file) => !reached.has(file))).toEqual([]);
  });

  it('gives the core no ambient types: no vscode, no DOM, no Node', () => {
    const config = JSON.parse(readFileSync('tsconfig.core.json', 'utf8').replace(/^\/\/.*$/gm, '')) as {
      include: string[];
      exclude: string[];
    };
    const base = JSON.parse(readFileSync('tsconfig.base.json', 'utf8')) as { compilerOptions: { types: string[]; lib: string[] } };
    const rooms = Object.keys(ROOMS);
    const core = rooms.filter((room) => room !== 'cli' && room !== 'editor' && !room.includes('/'));
    expect(config.include.map((path) => path.replace('src/', '')).sort()).toEqual(core.sort());
    expect(config.exclude).toEqual(['src/*/host', 'src/*/page']);
    expect(base.compilerOptions.types).toEqual([]);
    expect(base.compilerOptions.lib).toEqual(['ES2023']);
  });
});
