// Writes the sessions of examples/ and the list of planted faults: `node test/display/generate.mjs` from anywhere.
import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '../..');
const outfile = join(root, 'dist/display-simulator.mjs');
await build({
  entryPoints: [join(root, 'test/display/files.ts')],
  bundle: true,
  outfile,
  format: 'esm',
  platform: 'neutral',
  target: 'node20',
  sourcemap: 'inline',
});
const { files } = await import(pathToFileURL(outfile).href);

for (const [path, text] of Object.entries(files())) {
  const target = join(root, path);
  await mkdir(dirname(target), { recursive: true });
  await writeFile(target, text);
  console.log(path);
}
