// What the suites run on: the packaged extension, and the in-host suite in one file.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import { root } from './setup.mjs';

/** The folder with the bundled suite: index.cjs. Not in dist, which is packaged. */
export const suite = join(root, '.cache/host/suite');

function run(...args) {
  const result = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8', timeout: 180_000 });
  const output = `${result.error?.message ?? ''}${result.stdout ?? ''}${result.stderr ?? ''}`;
  if (result.status !== 0) throw new Error(`${args.join(' ')} failed:\n${output}`);
  return output;
}

export function checkTypes() {
  run(join(root, 'node_modules/typescript/bin/tsc'), '-p', 'test/host');
}

export function buildExtension() {
  run('esbuild.mjs', 'extension', 'web', 'sheet', 'preview');
}

/** @returns the path of the command line, built as it ships */
export function buildCommandLine() {
  run('esbuild.mjs', 'cli');
  return join(root, 'dist/cli.js');
}

/** @returns the path of the page that an example review is published as */
export function publishedExample(name) {
  const folder = join(root, '.cache/host/published');
  run(buildCommandLine(), 'publish', `examples/${name}.md`, '-o', `${folder}/`);
  return join(folder, `${name}.html`);
}

/** Packages what buildExtension built; returns the package's path. */
export function packageExtension() {
  const folder = join(root, '.cache/host');
  mkdirSync(folder, { recursive: true });
  const file = join(folder, 'nitbook.vsix');
  run('package.mjs', file);
  return file;
}

/** Bundles all of test/host/suite/*.test.ts: none has to be listed, none is forgotten. */
export async function bundleSuite() {
  const folder = join(root, 'test/host/suite');
  const tests = readdirSync(folder).filter((name) => name.endsWith('.test.ts'));
  await build({
    stdin: {
      contents: ["import './mocha';", ...tests.map((name) => `import './${name}';`), "export { run } from './run';"].join('\n'),
      resolveDir: folder,
      loader: 'ts',
    },
    outfile: join(suite, 'index.cjs'),
    bundle: true,
    format: 'cjs',
    platform: 'browser',
    target: 'es2023',
    external: ['vscode'],
    sourcemap: 'inline',
    logLevel: 'warning',
  });
}
