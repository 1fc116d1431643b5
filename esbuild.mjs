// Builds the bundles into dist/. `node esbuild.mjs` builds all that ships, `node esbuild.mjs cli web` the named ones; --watch rebuilds on
// change.
//
// The extension comes twice. The host of Node takes ES modules, as this package says "type": "module": what is read later than the first
// findings of a session, and what is for reviews and for the pages, comes in modules of its own. The host of the web takes one file and no ES
// module: hence .cjs.
import { chmodSync, copyFileSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { context } from 'esbuild';
import { licences } from './licences.mjs';

const { values: flags, positionals } = parseArgs({
  options: { watch: { type: 'boolean' } },
  allowPositionals: true,
});

/** @type {import('esbuild').BuildOptions} */
const common = {
  bundle: true,
  minify: true,
  sourcemap: 'linked',
  sourcesContent: false,
  legalComments: 'none',
  charset: 'utf8',
  // ES module builds first: jsonc-parser's main is a UMD file whose requires cannot be followed.
  mainFields: ['module', 'main'],
  logLevel: 'warning',
  metafile: true,
};

const { version } = JSON.parse(readFileSync('package.json', 'utf8'));

/** Node's own modules reached through a CommonJS dependency need a `require`, which an ES module lacks. */
const requireBanner = "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);";

/**
 * What is imported later is said to need the entry, as it does: else what is read at once would come in a file for each set of modules that
 * share it, nine where two do.
 * @type {import('esbuild').Plugin}
 */
const together = {
  name: 'together',
  setup({ initialOptions, onResolve, onLoad }) {
    const needs = JSON.stringify(resolve(initialOptions.entryPoints[0]));
    onResolve({ filter: /^\./ }, ({ path, kind, resolveDir }) =>
      kind === 'dynamic-import' ? { path: resolve(resolveDir, path), namespace: 'later' } : undefined,
    );
    onLoad({ filter: /./, namespace: 'later' }, ({ path }) => ({
      contents: `import ${needs}; export * from ${JSON.stringify(path)};`,
      resolveDir: '.',
    }));
  },
};

/** The script of a webview's page. */
const page = (room) => ({
  entryPoints: [`src/${room}/page/main.tsx`],
  outfile: `dist/${room}.js`,
  platform: 'browser',
  format: 'iife',
  target: 'es2023',
  jsx: 'automatic',
  jsxImportSource: 'preact',
});

/** @type {Record<string, import('esbuild').BuildOptions>} */
const bundles = {
  extension: {
    entryPoints: ['src/editor/extension.ts'],
    outdir: 'dist/host',
    platform: 'node',
    format: 'esm',
    splitting: true,
    target: 'node22',
    external: ['vscode'],
    plugins: [together],
  },
  web: {
    entryPoints: ['src/editor/extension.ts'],
    outfile: 'dist/web/extension.cjs',
    platform: 'browser',
    format: 'cjs',
    target: 'es2023',
    mainFields: ['browser', 'module', 'main'],
    external: ['vscode'],
  },
  sheet: page('sheet'),
  preview: page('preview'),
  cli: {
    entryPoints: ['src/cli/main.ts'],
    outfile: 'dist/cli.js',
    define: { NITBOOK_VERSION: JSON.stringify(version) },
    platform: 'node',
    format: 'esm',
    target: 'node20',
    banner: { js: `#!/usr/bin/env node\n${requireBanner}` },
  },
  bench: {
    entryPoints: ['test/bench/main.ts'],
    outfile: 'dist/bench.mjs',
    platform: 'node',
    format: 'esm',
    target: 'node20',
    // What the bench compares with is measured as its makers ship it; only the project's own code is bundled.
    external: ['yaml', 'colorjs.io', 'culori', '@observablehq/plot', 'linkedom', 'vega', 'vega-lite', 'echarts'],
    banner: { js: requireBanner },
  },
  fuzz: {
    entryPoints: ['test/fuzz/main.ts'],
    outfile: 'dist/fuzz.mjs',
    define: { NITBOOK_VERSION: JSON.stringify(version) },
    platform: 'node',
    format: 'esm',
    target: 'node20',
    packages: 'external',
  },
};

/** Run here, never shipped. */
const TOOLS = ['bench', 'fuzz'];
const names = positionals.length > 0 ? positionals : Object.keys(bundles).filter((name) => !TOOLS.includes(name));
for (const name of names) {
  if (!(name in bundles)) {
    console.error(`No bundle "${name}": ${Object.keys(bundles).join(', ')}`);
    process.exit(2);
  }
}

/** What the command line draws PNG with: too large to be bundled, and read only when asked for. */
const PNG = ['@resvg/resvg-wasm', 'dejavu-fonts-ttf'];

function copyPng() {
  mkdirSync('dist/png', { recursive: true });
  copyFileSync('node_modules/@resvg/resvg-wasm/index_bg.wasm', 'dist/png/resvg.wasm');
  for (const font of ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'])
    copyFileSync(`node_modules/dejavu-fonts-ttf/ttf/${font}`, `dist/png/${font}`);
}

/** What is read with a bundle's entry, and what it may read later, in kB. */
function sizes({ outputs }, entry) {
  const met = new Set();
  const meet = (file) => {
    if (met.has(file)) return;
    met.add(file);
    for (const { path, kind } of outputs[file].imports) if (kind === 'import-statement' && path in outputs) meet(path);
  };
  meet(entry);
  const scripts = Object.keys(outputs).filter((file) => !file.endsWith('.map'));
  const size = (files) => files.reduce((sum, file) => sum + outputs[file].bytes, 0) / 1024;
  return { atOnce: size([...met]), later: size(scripts.filter((file) => !met.has(file))) };
}

/** @type {import('esbuild').Plugin} */
const report = {
  name: 'report',
  setup(build) {
    const { outfile, outdir } = build.initialOptions;
    const file = outfile ?? `${outdir}/extension.js`;
    build.onEnd(({ errors, metafile }) => {
      if (errors.length > 0) return;
      if (file === bundles.cli.outfile) {
        chmodSync(file, 0o755);
        copyPng();
      }
      writeFileSync(`${file}.LICENSES.txt`, licences(metafile, file === bundles.cli.outfile ? PNG : []));
      const { atOnce, later } = sizes(metafile, file);
      console.log(`${file}  ${atOnce.toFixed(0)} kB${later > 0 ? `, and ${later.toFixed(0)} kB later` : ''}`);
    });
  },
};

// The names of its modules hang on what is in them: those of another day would stay.
if (names.includes('extension')) rmSync(bundles.extension.outdir, { recursive: true, force: true });

const contexts = await Promise.all(
  names.map((name) => context({ ...common, ...bundles[name], plugins: [...(bundles[name].plugins ?? []), report] })),
);
if (flags.watch) {
  await Promise.all(contexts.map((each) => each.watch()));
} else {
  const results = await Promise.allSettled(contexts.map((each) => each.rebuild()));
  await Promise.all(contexts.map((each) => each.dispose()));
  // esbuild has printed the errors themselves.
  if (results.some((each) => each.status === 'rejected')) process.exitCode = 1;
}
