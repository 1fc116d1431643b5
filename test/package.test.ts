import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import MarkdownIt from 'markdown-it';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const project = resolve('.');
/** Built and packaged apart from the project's own dist, which may be of another day or under way. */
let folder: string;
let copy: string;

function ran(command: string, args: readonly string[], { cwd = copy, env = process.env } = {}): string {
  const { status, stdout, stderr, error } = spawnSync(command, args, { cwd, env, encoding: 'utf8' });
  expect(status, `${command} ${args.join(' ')}: ${error?.message ?? ''}${stdout}${stderr}`).toBe(0);
  return stdout;
}

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'nitbook-package-'));
  copy = join(folder, 'project');
  mkdirSync(copy);
  for (const name of readdirSync(project)) {
    if (!['node_modules', '.git', '.cache', 'dist', 'test'].includes(name))
      cpSync(join(project, name), join(copy, name), { recursive: true });
  }
  symlinkSync(join(project, 'node_modules'), join(copy, 'node_modules'));
  ran(process.execPath, ['esbuild.mjs']);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Names of files, sorted, and what does not belong there or is missing. */
function compared(files: readonly string[], patterns: readonly RegExp[]) {
  return {
    unexpected: files.filter((file) => !patterns.some((pattern) => pattern.test(file))),
    missing: patterns.filter((pattern) => !files.some((file) => pattern.test(file))).map(String),
  };
}

const NOTHING = { unexpected: [], missing: [] };

const ROOT = 'extension/';

describe('the package for VS Code', () => {
  let file: string;
  /** By their paths. */
  let files: Readonly<Record<string, Uint8Array>>;
  const text = (path: string) => strFromU8(files[path]!);

  beforeAll(() => {
    file = join(folder, 'nitbook.vsix');
    const said = ran(process.execPath, ['package.mjs', file]);
    expect(said).not.toMatch(/warning/i);
    const all = Object.entries(unzipSync(readFileSync(file)));
    files = Object.fromEntries(all.flatMap(([path, bytes]) => (path.startsWith(ROOT) ? [[path.slice(ROOT.length), bytes]] : [])));
  });

  it('holds what is meant to be in it, and nothing else', () => {
    const patterns = [
      /^package\.json$/,
      /^package\.nls(?:\.[a-z-]+)?\.json$/,
      /^readme\.md$/,
      /^changelog\.md$/,
      /^LICENSE\.txt$/,
      /^dist\/host\/[\w-]+\.js$/,
      /^dist\/host\/extension\.js\.LICENSES\.txt$/,
      /^dist\/web\/extension\.cjs(?:\.LICENSES\.txt)?$/,
      /^dist\/(?:preview|sheet)\.js(?:\.LICENSES\.txt)?$/,
      /^l10n\/bundle\.l10n(?:\.[a-z-]+)?\.json$/,
      /^media\/icon\.png$/,
      /^media\/[a-z]+-(?:dark|light)\.svg$/,
      /^media\/[a-z]+\.css$/,
      /^media\/walkthrough\/[a-z]+(?:\.nls\.[a-z-]+)?\.md$/,
      /^syntaxes\/[a-zA-Z.-]+\.json$/,
    ];
    expect(compared(Object.keys(files), patterns)).toEqual(NOTHING);
  });

  it('holds each file that its manifest names, and a dark icon for each light one', () => {
    const named = [...text('package.json').matchAll(/"\.\/([^"*]+)"/g)].map(([, path]) => path!);
    expect(named.length).toBeGreaterThan(10);
    expect(named.filter((path) => !Object.keys(files).some((each) => each.startsWith(path)))).toEqual([]);
    const icons = Object.keys(files).filter((path) => path.endsWith('.svg'));
    expect(icons.filter((name) => name.includes('-light')).map((name) => name.replace('-light', '-dark'))).toEqual(
      icons.filter((name) => name.includes('-dark')),
    );
  });

  it('reads two modules at once, and without what nobody has asked for yet', () => {
    const folder = 'dist/host/';
    const atOnce = new Map<string, string>();
    const meet = (path: string): void => {
      if (atOnce.has(path)) return;
      atOnce.set(path, text(path));
      for (const [, name] of text(path).matchAll(/(?:\bfrom|\bimport) ?"\.\/([^"]+)"/g)) meet(folder + name);
    };
    meet(`${folder}extension.js`);
    expect(atOnce.size).toBe(2);
    const code = [...atOnce.values()].join('');
    expect(code).toContain('registerInlayHintsProvider');
    for (const later of ['registerHoverProvider', 'nitbook.pasteRows', 'allowTrailingComma', '<path']) expect(code).not.toContain(later);
  });

  it('is smaller than 1.5 MB', () => {
    expect(statSync(file).size).toBeLessThan(1_500_000);
  });

  it('has a README whose images and links lead somewhere from an extension’s page: to the web, or to a part of itself', () => {
    const tokens = new MarkdownIt({ html: true }).parse(text('readme.md'), {});
    const inline = tokens.flatMap(({ children }) => children ?? []);
    const addresses = inline.flatMap(({ attrs }) =>
      (attrs ?? []).filter(([name]) => name === 'href' || name === 'src').map(([, to]) => to),
    );
    expect(addresses.filter((to) => !/^(?:https:|#)/.test(String(to)))).toEqual([]);
    expect(tokens.filter(({ type, content }) => type.startsWith('html') && content.trim() !== '')).toEqual([]);
    const headings = tokens.flatMap(({ type }, i) => (type === 'heading_open' ? [tokens[i + 1]!.content] : []));
    expect(headings).toContain('Care');
    expect(headings).not.toContain('Two commands');
  });

  it('says under what terms it holds what others wrote', () => {
    for (const bundle of ['dist/host/extension.js', 'dist/web/extension.cjs']) {
      const terms = text(`${bundle}.LICENSES.txt`);
      expect(terms).toMatch(/^jsonc-parser [\d.]+ \(MIT\)/m);
      expect(terms).toContain('Permission is hereby granted');
    }
  });
});

describe('the package of the command line', () => {
  let tarball: string;

  beforeAll(() => {
    const [{ filename }] = JSON.parse(ran('npm', ['pack', '--json', '--ignore-scripts'])) as [{ filename: string }];
    tarball = join(copy, filename);
  });

  it('holds what is meant to be in it, and nothing else', () => {
    const files = ran('tar', ['tf', tarball]).trimEnd().split('\n');
    const patterns = [
      /^package\/package\.json$/,
      /^package\/README\.md$/,
      /^package\/LICENSE$/,
      /^package\/dist\/cli\.js$/,
      /^package\/dist\/cli\.js\.LICENSES\.txt$/,
      /^package\/dist\/png\/[A-Za-z-]+\.(?:ttf|wasm)$/,
    ];
    expect(compared(files, patterns)).toEqual(NOTHING);
  });

  it('works through npx, with no network, no home and no project around it', () => {
    const work = join(folder, 'work');
    const home = join(folder, 'home');
    for (const each of [work, home]) mkdirSync(each);
    cpSync(join(project, 'examples/aurora-55.nitbook'), join(work, 'aurora-55.nitbook'));
    const env = { PATH: process.env.PATH, HOME: home, npm_config_offline: 'true', npm_config_update_notifier: 'false' };
    const nitbook = (...args: string[]) => ran('npx', ['--yes', `--package=${tarball}`, 'nitbook', ...args], { cwd: work, env });
    const { version } = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8')) as { version: string };
    expect(nitbook('--version')).toBe(`${version}\n`);
    expect(nitbook('value', 'aurora-55.nitbook#grey.de.max')).toMatch(/^ΔE 2000 maximum \d/);
    expect(nitbook('format', '--check', '.')).toBe('');
    nitbook('figure', 'aurora-55.nitbook#grey.balance', '-o', 'balance.png');
    expect(readFileSync(join(work, 'balance.png')).subarray(1, 4).toString()).toBe('PNG');
  });
});
