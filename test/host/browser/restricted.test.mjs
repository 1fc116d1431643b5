// A folder that nobody has trusted yet. What can be asked through the API is asked there too: `node test/host/run.mjs restricted`.
import { strict as assert } from 'node:assert';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Workbench } from '../browser.mjs';
import { stage } from '../stage.mjs';
import { scratchWorkspace, startHost } from '../workbench.mjs';

const open = `nitbook 1

session 2026-03-14
display brook "Halden Brook 48"
greyscale grey
    level   Y         x        y
        20  2.54      0.3130   0.3283
        40  ?         ?        ?
`;

describe('In restricted mode', () => {
  let host;
  let bench;
  let folder;
  before(async () => {
    host = await startHost({ vsix: [stage.vsix], trust: true });
    folder = scratchWorkspace();
    writeFileSync(join(folder, 'open.nitbook'), open);
    bench = await Workbench.open(stage.browser, host, { folder });
    await bench.page.locator('.statusbar-item', { hasText: 'Restricted Mode' }).waitFor();
  });
  after(async () => {
    await bench?.close();
    await host?.stop();
  });

  it('a session has its findings, mends, figures and summary', async () => {
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

  it('a row has its hint and hover, and the status bar and the list of sessions say how things stand', async () => {
    await bench.openFile('aurora-55.nitbook');
    const lines = readFileSync(join(folder, 'aurora-55.nitbook'), 'utf8').split('\n');
    await bench.goTo(lines.findIndex((line) => /^ {8}30 {2}6\./.test(line)) + 1, 12);
    const row = bench.page.locator('.view-line', { hasText: /30\s+6\.\d/ }).first();
    await bench.until('the hint', async () => /ΔE.\d/.test((await row.textContent()) ?? ''));
    const hover = await bench.hover();
    await hover.getByText('Row 30 of greyscale grey').waitFor();
    await hover.locator('img').waitFor();
    await bench.page.keyboard.press('Escape');
    await bench.page.locator('.statusbar-item', { hasText: 'all taken' }).waitFor();
    await bench.command('Explorer: Focus on Sessions View');
    const view = bench.page.locator('.pane', { has: bench.page.locator('.pane-header[aria-label^="Sessions"]') });
    await view.locator('.monaco-list-row', { hasText: 'Halden' }).first().waitFor();
    assert.equal(await bench.isDirty('aurora-55.nitbook'), false);
  });

  it('what may be written is offered, and pasted rows are looked at and put in', async () => {
    await bench.openFile('open.nitbook');
    await bench.page.locator('.statusbar-item', { hasText: '1 to take' }).waitFor();
    await bench.typeAt(5, 15, '\n  ');
    await bench.page.keyboard.press('Control+Space');
    const list = bench.page.locator('.suggest-widget.visible');
    await list.locator('.monaco-list-row', { hasText: 'stimulus' }).waitFor();
    await bench.page.keyboard.press('Escape');
    const isClean = async () => !(await bench.isDirty('open.nitbook'));
    await bench.until('the file as it was', async () => {
      await bench.undo();
      return isClean();
    });
    await bench.goTo(8, 13);
    await bench.page.evaluate((text) => navigator.clipboard.writeText(text), '40\t13.3\t0.3121\t0.3280\n');
    await bench.page.keyboard.press('Control+V');
    await bench.quick.locator('.monaco-list-row', { hasText: 'Put into grey' }).waitFor();
    await bench.page.keyboard.press('Enter');
    await bench.until('the row', async () => (await bench.visibleLines()).includes('        40  13.3      0.3121   0.3280'));
    await bench.undo();
    await bench.until('the file as it was', isClean);
    assert.equal(readFileSync(join(folder, 'open.nitbook'), 'utf8'), open);
    assert.deepEqual(bench.errors, []);
  });
});
