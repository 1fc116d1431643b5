// A folder that nobody has trusted yet.
import { strict as assert } from 'node:assert';
import { Workbench } from '../browser.mjs';
import { stage } from '../stage.mjs';
import { scratchWorkspace, startHost } from '../workbench.mjs';

describe('In restricted mode', () => {
  let host;
  let bench;
  before(async () => {
    host = await startHost({ vsix: [stage.vsix], trust: true });
    bench = await Workbench.open(stage.browser, host, { folder: scratchWorkspace() });
  });
  after(async () => {
    await bench?.close();
    await host?.stop();
  });

  it('a session has its findings, mends, figures and summary', async () => {
    await bench.page.locator('.statusbar-item', { hasText: 'Restricted Mode' }).waitFor();
    await bench.openFile('bench-mistakes.nitbook');
    await bench.goTo(92, 13);
    await bench.squiggles('warning').first().waitFor();
    await bench.page.locator('.codelens-decoration:visible').first().waitFor();
    await bench.quickFix('Write 6.76');
    await bench.until('the mended row', async () => (await bench.visibleLines()).some((line) => line.includes('30  6.76')));
    await bench.command('Nitbook: Summarise');
    await (await bench.webviewFrame('h1')).getByText('a bad day at the bench').first().waitFor();
    assert.deepEqual(bench.errors, []);
  });
});
