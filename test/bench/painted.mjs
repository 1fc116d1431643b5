// How long a reading takes from Enter in the reading sheet to its painted figure: node test/bench/painted.mjs FILE.vsix LONG.nitbook
// Needs the workbench that `npm run test:host` sets up. Prints JSON: the milliseconds of each commit, by session and by how it was typed. The page
// measures them (`nitbook.figure` in its performance timeline).
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { launch, Workbench } from '../host/browser.mjs';
import { root } from '../host/setup.mjs';
import { Sheet, write } from '../host/sheet.mjs';
import { scratchWorkspace, startHost } from '../host/workbench.mjs';

/** Between two readings: long enough for each to be measured by itself. */
const PAUSE_MS = 250;
const COMMITS = 60;
/** How fast is typed: 40 ms a key is twice as fast as a practised hand; and all keys at once, as no hand can. */
const KEY_MS = { typed: 40, atOnce: 0 };

const [vsix, long] = process.argv.slice(2);
if (!vsix || !long) {
  console.error('Expected a package and a session: node test/bench/painted.mjs FILE.vsix LONG.nitbook');
  process.exit(2);
}

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
function longToTake() {
  const lines = readFileSync(long, 'utf8').split('\n');
  const from = lines.length - 1 - COMMITS;
  return lines.map((line, i) => (i < from ? line : line.replace(/^( +\d+ +\d+ +\d+) .*/, '$1  ?  ?  ?'))).join('\n');
}

async function measured(bench, file, delay) {
  const sheet = await Sheet.open(bench, file);
  await sheet.input.waitFor();
  await sheet.focus();
  for (let i = 0; i < COMMITS; i++) {
    const label = await sheet.place();
    await sheet.enter(label.startsWith('Y') ? `${(20 + i / 10).toFixed(2)}` : `0.31${String(i).padStart(2, '0')}`, delay);
    await bench.page.waitForTimeout(PAUSE_MS);
  }
  await sheet.settled();
  const times = await sheet.frame.evaluate(() => performance.getEntriesByName('nitbook.figure').map(({ duration }) => duration));
  if (times.length < COMMITS * 0.9) throw new Error(`${file}: only ${times.length} of ${COMMITS} commits were measured`);
  return times;
}

const host = await startHost({ vsix: [vsix] });
const browser = await launch();
try {
  const folder = scratchWorkspace();
  const texts = { example: exampleToTake(), long: longToTake() };
  const times = {};
  for (const [name, text] of Object.entries(texts)) for (const pace of Object.keys(KEY_MS)) write(folder, `${name}-${pace}.nitbook`, text);
  const bench = await Workbench.open(browser, host, { folder, width: 1400, height: 850 });
  for (const name of Object.keys(texts)) {
    times[name] = {};
    for (const [pace, delay] of Object.entries(KEY_MS)) times[name][pace] = await measured(bench, `${name}-${pace}.nitbook`, delay);
  }
  console.log(JSON.stringify(times));
} finally {
  await browser.close();
  await host.stop();
}
