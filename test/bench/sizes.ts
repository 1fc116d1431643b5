import { execFileSync } from 'node:child_process';
import { statSync } from 'node:fs';
import { resolve } from 'node:path';
import { type Cells, heldTo } from './report';

const KB = 1024;

/** What is built as it ships: the extension, the pages, the command line and the package. */
export interface Shipped {
  /** Of each bundle, by its path, in kB. */
  readonly bundles: ReadonlyMap<string, { readonly atOnce: number; readonly later: number }>;
  readonly commandLine: string;
  readonly vsix: string;
}

/** @param vsix where the package is to be put */
export function build(vsix: string): Shipped {
  // The build says how large its bundles are, and what of them is read at once.
  const said = execFileSync(process.execPath, ['esbuild.mjs'], { encoding: 'utf8' });
  const lines = [...said.matchAll(/^(\S+) {2}(\d+) kB(?:, and (\d+) kB later)?$/gm)];
  const bundles = new Map(lines.map(([, path, atOnce, later]) => [path!, { atOnce: Number(atOnce), later: Number(later ?? 0) }]));
  execFileSync(process.execPath, ['package.mjs', vsix]);
  return { bundles, commandLine: resolve('dist/cli.js'), vsix };
}

const SHIPPED = [
  ['dist/host/extension.js', 'the extension, in the host of Node', 500],
  ['dist/web/extension.cjs', 'the extension, in the host of the web', undefined],
  ['dist/sheet.js', 'the page of the sheet', 300],
  ['dist/preview.js', 'the page of the preview', 300],
  ['dist/cli.js', 'the command line', undefined],
] as const;

export function sizesTable({ bundles, vsix }: Shipped): Cells {
  const rows = SHIPPED.map(([path, name, most]) => {
    const size = bundles.get(path);
    if (!size) throw new Error(`The build said nothing of ${path}.`);
    const { atOnce, later } = size;
    return [name, `${atOnce} kB`, later > 0 ? `${later} kB` : '', most === undefined ? '' : heldTo(atOnce, most, 'kB')];
  });
  const packed = statSync(vsix).size / KB;
  return [
    ['', 'at once', 'later', 'target'],
    ...rows,
    ['the package (VSIX), compressed', `${packed.toFixed(0)} kB`, '', heldTo(packed, 1.5 * KB, 'kB')],
  ];
}
