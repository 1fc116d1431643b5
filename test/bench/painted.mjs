// How long a reading takes from Enter in the reading sheet to its painted figure, in the real workbench: node test/bench/painted.mjs
// Prints JSON: name, commits, p50 and p95 in milliseconds. The page measures it (`nitbook.figure` in its performance timeline).
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import { launch, Workbench } from '../host/browser.mjs';
import { buildExtension, packageExtension } from '../host/build.mjs';
import { root, setup } from '../host/setup.mjs';
import { Sheet, write } from '../host/sheet.mjs';
import { scratchWorkspace, startHost } from '../host/workbench.mjs';

/** Between two readings: long enough for each to be measured by itself. */
const PAUSE_MS = 250;
const ROWS = 10_000;
const COMMITS = 60;

/** The example with its greyscale runs still to take. */
function exampleToTake() {
  let isGrey = false;
  return readFileSync(join(root, 'examples/aurora-55.nitbook'), 'utf8')
    .split('\n')
    .map((line) => {
      if (/^[a-z]/.test(line)) isGrey = line.startsWith('greyscale');
      return isGrey ? line.replace(/^( {4,}\d+) +[\d.<]+ +[\d.-]+ +[\d.-]+/, '$1  ?  ?  ?') : line;
    })
    .join('\n');
}

/** A long run whose last rows are still to take. */
async function longToTake() {
  const { outputFiles } = await build({
    entryPoints: [join(root, 'test/bench/data.ts')],
    bundle: true,
    format: 'esm',
    write: false,
  });
  const { session } = await import(`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`);
  const lines = session(ROWS).split('\n');
  const from = lines.length - 1 - COMMITS;
  return lines.map((line, i) => (i < from || line === '' ? line : line.replace(/^( +\d+ +\d+ +\d+) .*/, '$1  ?  ?  ?'))).join('\n');
}

const percentile = (list, share) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(share * list.length))];

async function measured(bench, name, file) {
  const sheet = await Sheet.open(bench, file);
  await sheet.input.waitFor();
  await sheet.focus();
  for (let i = 0; i < COMMITS; i++) {
    const label = await sheet.place();
    await sheet.enter(label.startsWith('Y') ? `${(20 + i / 10).toFixed(2)}` : `0.31${String(i).padStart(2, '0')}`);
    await bench.page.waitForTimeout(PAUSE_MS);
  }
  await sheet.settled();
  const times = await sheet.frame.evaluate(() => performance.getEntriesByName('nitbook.figure').map(({ duration }) => duration));
  if (times.length < COMMITS * 0.9) throw new Error(`${name}: only ${times.length} of ${COMMITS} commits were measured`);
  return { name, commits: times.length, p50: percentile(times, 0.5), p95: percentile(times, 0.95) };
}

await setup();
buildExtension();
const host = await startHost({ vsix: [packageExtension()] });
const browser = await launch();
try {
  const folder = scratchWorkspace();
  write(folder, 'example.nitbook', exampleToTake());
  write(folder, 'long.nitbook', await longToTake());
  const bench = await Workbench.open(browser, host, { folder, width: 1400, height: 850 });
  const all = [];
  for (const [name, file] of [
    ['the full example', 'example.nitbook'],
    [`${ROWS.toLocaleString('en')} readings`, 'long.nitbook'],
  ])
    all.push(await measured(bench, name, file));
  console.log(JSON.stringify(all));
} finally {
  await browser.close();
  await host.stop();
}
