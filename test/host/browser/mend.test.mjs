// The bench day in small: a slip is typed, seen, mended, taken back; then the summary.
import { strict as assert } from 'node:assert';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Workbench } from '../browser.mjs';
import { stage } from '../stage.mjs';
import { fixtures, scratchCopy } from '../workbench.mjs';

describe('A reading with a decimal slip', function () {
  this.bail(true);
  const file = 'aurora.nitbook';
  const canonical = readFileSync(join(fixtures, file), 'utf8');
  const above = '        40  ?         ?        ?';
  const typed = '        50  2.266     0.3099   0.3280';
  const mended = '        50  22.66     0.3099   0.3280';
  const line = canonical.split('\n').indexOf(above) + 1;
  const finding = 'Y falls from 6.70 to 2.266 between 30 % and 50 %: decimal point?';

  let folder;
  let bench;
  const onDisk = () => readFileSync(join(folder, file), 'utf8');

  before(async () => {
    folder = scratchCopy(fixtures);
    bench = await Workbench.open(stage.browser, stage.host, { folder });
  });
  after(() => bench?.close());

  it('opens as a session, coloured, clean and unchanged', async () => {
    await bench.openFile(file);
    await bench.until('the language', async () => (await bench.language()) === 'Nitbook');
    await bench.until('colours', async () => (await bench.colours()).size >= 4);
    assert.equal(await bench.isDirty(file), false);
  });

  it('is underlined while it is typed', async () => {
    await bench.typeAt(line, above.length + 1, `\n${typed.trimStart()}`);
    await bench.until('the typed line', async () => (await bench.visibleLines()).includes(typed));
    await bench.squiggles('warning').waitFor();
    await bench.screenshot('squiggle');
  });

  it('is an entry of the Problems view, which leads to it', async () => {
    const problems = await bench.problems(finding);
    await problems.first().waitFor();
    assert.equal(await problems.count(), 1);
    await bench.screenshot('problems');
    await problems.first().dblclick();
    await bench.until('the cursor', async () => (await bench.position()).line === line + 1);
  });

  it('is mended by its quick fix', async () => {
    await bench.quickFix('22.66');
    await bench.until('the mended line', async () => (await bench.visibleLines()).includes(mended));
    await bench.squiggles('warning').waitFor({ state: 'detached' });
    await bench.screenshot('mended');
  });

  it('comes back with one undo, and the file with the rest', async () => {
    await bench.undo();
    await bench.until('the typed line', async () => (await bench.visibleLines()).includes(typed));
    await bench.squiggles('warning').waitFor();
    await bench.until('the canonical text', async () => {
      await bench.undo();
      return !(await bench.isDirty(file));
    });
    assert.equal(onDisk(), canonical);
  });

  it('leads to the summary', async () => {
    await bench.command('Nitbook: Show Summary');
    const summary = await bench.webviewFrame('main.summary');
    await summary.getByText('Aurora 55').first().waitFor();
    for (const theme of ['light', 'high-contrast', 'high-contrast-light', 'dark']) {
      await bench.theme(theme);
      await bench.screenshot(`summary-${theme}`);
    }
  });

  it('needs no network and throws nothing in the page', () => {
    assert.deepEqual(bench.offOrigin, []);
    assert.deepEqual(bench.errors, []);
  });
});
