// How long the extension takes to load and to activate, as the workbench reports it: node test/bench/activate.mjs FILE.vsix [ROUNDS]
// Needs the workbench that `npm run test:host` sets up. Prints a JSON list with one object a round, milliseconds by the name of each extension.
import { launch, Workbench } from '../host/browser.mjs';
import { scratchWorkspace, startHost } from '../host/workbench.mjs';

const [vsix, rounds = '5'] = process.argv.slice(2);
if (!vsix) {
  console.error('Expected the path of a package: node test/bench/activate.mjs FILE.vsix [ROUNDS]');
  process.exit(2);
}

/** Code loaded and `activate` called, of each extension that was: of "Activation: 12ms", and of "Startup Activation: …". */
async function reported({ page }) {
  const rows = page.locator('.runtime-extensions-editor .monaco-list-row');
  await rows.first().waitFor();
  return Object.fromEntries(
    await rows.evaluateAll((all) =>
      all.flatMap((row) => {
        const ms = /Activation: (\d+)ms/.exec(row.querySelector('.activation-time')?.textContent ?? '')?.[1];
        return ms === undefined ? [] : [[row.querySelector('.name')?.textContent, Number(ms)]];
      }),
    ),
  );
}

const host = await startHost({ vsix: [vsix] });
const browser = await launch();
try {
  const list = [];
  for (let round = 0; round < Number(rounds); round++) {
    // Each page has an extension host of its own.
    const workbench = await Workbench.open(browser, host, { folder: scratchWorkspace(), height: 4000 });
    await workbench.openFile('aurora-55.nitbook');
    await workbench.command('Developer: Show Running Extensions');
    list.push(
      await workbench.until('the extension among those that run', async () => {
        const times = await reported(workbench);
        return 'Nitbook' in times && times;
      }),
    );
    await workbench.close();
  }
  console.log(JSON.stringify(list));
} finally {
  await browser.close();
  await host.stop();
}
