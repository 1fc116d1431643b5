// Contact sheets of the pictures that are looked at, into .cache/figures: `npm run figures:look`. Says which of them have changed since
// someone last looked. After looking: `npm run figures:look -- --note "what was checked" aurora-55#grey.balance …`; without names the note
// is of all that have changed.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { build } from 'esbuild';

const { values, positionals: named } = parseArgs({ options: { note: { type: 'string' } }, allowPositionals: true });
const root = resolve(import.meta.dirname, '../../..');
const folder = `${root}/.cache/figures`;
mkdirSync(folder, { recursive: true });

await build({
  stdin: {
    contents: "export { pictures } from './pictures'; export { hashOf, rasteriser } from './raster';",
    resolveDir: import.meta.dirname,
    loader: 'ts',
  },
  bundle: true,
  platform: 'node',
  format: 'esm',
  mainFields: ['module', 'main'],
  outfile: `${folder}/looked.mjs`,
});
const { pictures, rasteriser, hashOf } = await import(pathToFileURL(`${folder}/looked.mjs`).href);
const draw = await rasteriser(`${root}/node_modules`);
const all = [...pictures((file) => readFileSync(`${root}/${file}`, 'utf8'))];
const figures = [...new Set(all.map(({ figure }) => figure))];

const file = `${import.meta.dirname}/notes.json`;
const notes = JSON.parse(readFileSync(file, 'utf8'));
const hashes = Object.fromEntries(
  figures.map((figure) => [
    figure,
    Object.fromEntries(all.filter((one) => one.figure === figure).map(({ theme, svg }) => [theme, hashOf(draw(svg))])),
  ]),
);
const changed = figures.filter((figure) => JSON.stringify(notes[figure]?.sha256) !== JSON.stringify(hashes[figure]));

if (values.note === undefined) {
  for (const theme of new Set(all.map((one) => one.theme))) sheets(theme);
  console.log(changed.length === 0 ? 'All have been looked at.' : `Not looked at as they are now:\n  ${changed.join('\n  ')}`);
} else {
  const unknown = named.filter((name) => !figures.includes(name));
  if (unknown.length > 0) throw new Error(`no such figures: ${unknown.join(', ')}`);
  for (const figure of named.length > 0 ? named : changed) notes[figure] = { checked: values.note, sha256: hashes[figure] };
  writeFileSync(
    file,
    `${JSON.stringify(Object.fromEntries(figures.flatMap((one) => (notes[one] ? [[one, notes[one]]] : []))), undefined, 2)}\n`,
  );
}

/** Six pictures a sheet, in two columns, each below its name. */
function sheets(theme) {
  const own = all.filter((one) => one.theme === theme);
  for (let from = 0; from < own.length; from += 6) {
    const heights = [0, 0];
    const parts = own.slice(from, from + 6).map(({ figure, svg }, i) => {
      const column = i % 2;
      const top = heights[column];
      heights[column] += Number(/ height="([\d.]+)"/.exec(svg)[1]) + 30;
      const x = 10 + 735 * column;
      return `<text x="${x}" y="${top + 20}" font-size="13" fill="#d00000">${figure}</text>${svg.replace('<svg ', `<svg x="${x}" y="${top + 28}" `)}`;
    });
    const size = `width="1475" height="${Math.max(...heights) + 10}"`;
    const sheet = `<svg xmlns="http://www.w3.org/2000/svg" ${size} font-family="sans-serif"><rect ${size} fill="#999999"/>${parts.join('')}</svg>`;
    const path = `${folder}/${theme}-${from / 6 + 1}.png`;
    writeFileSync(path, draw(sheet));
    console.log(path);
  }
}
