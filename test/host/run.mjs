// All workbench suites, or those named: node test/host/run.mjs [browser] [remote] [restricted] [web] [--only=WORDS]
// --only takes the tests driven through the browser whose full title has these words.
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import Mocha from 'mocha';
import { launch, shots, Workbench } from './browser.mjs';
import { buildExtension, bundleSuite, checkTypes, packageExtension, suite } from './build.mjs';
import { runInHost } from './inhost.mjs';
import { root, setup } from './setup.mjs';
import { stage } from './stage.mjs';
import { scratchWorkspace, startHost, underVersionControl } from './workbench.mjs';

const total = { passed: 0, failed: 0 };
/** What failed, told once more at the end: whoever sees only the last lines of a long run sees why it failed. */
const failures = [];

/** A failure counts, and is kept with its first lines. */
function failed(name, error) {
  total.failed++;
  failures.push(`${name}\n${String(error).split('\n').slice(0, 14).join('\n').slice(0, 1500)}`);
}

/** Runs a step, says how long it took, and counts it as a failure when it throws. Gives whether it came to its end. */
async function step(name, work) {
  const started = Date.now();
  console.log(`\n${name}`);
  let done = true;
  try {
    await work();
  } catch (error) {
    done = false;
    failed(name, error.stack);
    console.log(`  FAIL  ${name}: ${error.stack}`);
    for (let { cause } = error; cause; { cause } = cause) console.log(`  because of ${cause.stack ?? cause}`);
  }
  console.log(`  ${((Date.now() - started) / 1000).toFixed(1)} s`);
  return done;
}

/** Starts a server with the package installed and ends it afterwards; shows the end of its log when something failed. */
async function withHost(options, work) {
  const host = await startHost({ vsix: [vsix], ...options });
  const before = total.failed;
  let threw = true;
  try {
    await work(host);
    threw = false;
  } finally {
    if (threw || total.failed > before) console.log(`  The server's log ends with:\n${host.log().slice(-3000)}`);
    await host.stop();
  }
}

async function driven(browser, host) {
  Object.assign(stage, { browser, host, vsix });
  const mocha = new Mocha({
    timeout: 90_000,
    slow: 15_000,
    reporter: 'spec',
    ...(only && { fgrep: only }),
    rootHooks: {
      async afterEach() {
        await Workbench.lookAtFailed(this.currentTest);
      },
    },
  });
  const folder = join(root, 'test/host/browser');
  for (const name of readdirSync(folder)) if (name.endsWith('.test.mjs')) mocha.addFile(join(folder, name));
  await mocha.loadFilesAsync();
  const { stats } = await new Promise((resolve) => {
    const runner = mocha.run(() => resolve(runner));
    runner.on('fail', (test, error) => {
      failed(test.fullTitle(), `${error.stack ?? error.message}${error.cause ? `\nbecause of ${error.cause.message}` : ''}`);
    });
  });
  await Workbench.closeAll();
  total.passed += stats.passes;
  if (stats.passes + stats.failures === 0) throw new Error('The suite ran no test.');
}

async function inHost(browser, host, { folder = scratchWorkspace(), ...where }) {
  const extension = host.unpacked('nitbook.nitbook');
  const before = total.failed;
  const counts = await runInHost(browser, host, { ...where, folder, extension, suite, onFailure: failed });
  total.passed += counts.passed;
  if (total.failed - before !== counts.failed) throw new Error(`${counts.failed} failed, ${total.failed - before} of them said why.`);
}

function end() {
  for (const failure of failures) console.log(`\nFAIL  ${failure}`);
  console.log(`\n${total.passed} passed, ${total.failed} failed`);
  process.exit(total.failed > 0 || total.passed === 0 ? 1 : 0);
}

const suites = {
  browser: ['Driven through the browser', driven],
  remote: [
    'In the extension host of Node, in a folder under version control',
    (browser, host) => inHost(browser, host, { kind: 'node', folder: underVersionControl(scratchWorkspace()) }),
    { settings: { 'git.enabled': true } },
  ],
  restricted: [
    'In the extension host of Node, in a folder that nobody has trusted',
    (browser, host) => inHost(browser, host, { kind: 'node', trust: 'restricted' }),
    { trust: true },
  ],
  web: ['In the extension host of the web', (browser, host) => inHost(browser, host, { kind: 'web' })],
};
const named = process.argv.slice(2).filter((word) => !word.startsWith('--only='));
const only = process.argv.find((word) => word.startsWith('--only='))?.slice('--only='.length);
const names = named.length > 0 ? named : Object.keys(suites);
for (const name of names) {
  if (name in suites) continue;
  console.error(`No suite "${name}": ${Object.keys(suites).join(', ')}`);
  process.exit(2);
}

// What hangs in spite of its own limits ends here. Exit handlers end the servers.
setTimeout(() => {
  failed('The suites', 'They did not end in time.');
  end();
}, 30 * 60_000).unref();
for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => process.exit(1));
rmSync(shots, { recursive: true, force: true });

let vsix;
const ready =
  (await step('Setting up the workbench', setup)) &&
  (await step('Types', checkTypes)) &&
  (await step('Building and packaging', async () => {
    buildExtension();
    vsix = packageExtension();
    await bundleSuite();
  }));
if (ready) {
  const browser = await launch();
  for (const name of names) {
    const [title, work, options] = suites[name];
    await step(title, () => withHost(options, (host) => work(browser, host)));
  }
  await browser.close();
}
end();
