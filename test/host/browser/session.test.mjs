// The bench day in small: a slip is typed, seen, mended, taken back; then the figures above the run and the summary beside it.
import { strict as assert } from 'node:assert';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Workbench } from '../browser.mjs';
import { stage } from '../stage.mjs';
import { examples, scratchWorkspace } from '../workbench.mjs';

describe('A reading with a decimal slip', () => {
  const file = 'aurora-55.nitbook';
  const canonical = readFileSync(join(examples, file), 'utf8');
  const above = '        50  22.88     0.3114   0.3253';
  const typed = '        52  2.514     0.3113   0.3253';
  const mended = '        52  25.14     0.3113   0.3253';
  const line = canonical.split('\n').indexOf(above) + 1;
  const finding = 'Y 2.514 at 52 is off the trend of its neighbours, 25.14 would be on it: decimal point?';

  let folder;
  let bench;
  let figures;
  const onDisk = () => readFileSync(join(folder, file), 'utf8');
  const lens = () => bench.page.locator('.codelens-decoration', { hasText: 'ΔE 2000 average' }).first();

  before(async () => {
    assert.ok(line > 0, `${file} has no row "${above}" any more`);
    folder = scratchWorkspace();
    bench = await Workbench.open(stage.browser, stage.host, { folder });
  });
  after(() => bench?.close());

  // Each goes on from the one before. (Mocha's bail is one of all suites: a failure elsewhere would leave this one out.)
  let broken = false;
  beforeEach(function () {
    if (broken) this.skip();
  });
  afterEach(function () {
    broken ||= this.currentTest.state === 'failed';
  });

  it('is typed into a session that opens coloured, without findings and unchanged', async () => {
    await bench.openFile(file);
    await bench.until('the language', async () => (await bench.language()) === 'Nitbook');
    await bench.until('colours', async () => (await bench.colours()).size >= 4);
    await bench.goTo(line, above.length + 1);
    // Verdicts come without their intervals where the machine is slow, and once more with them.
    figures = await bench.until('the figures with their intervals', async () => {
      const text = await lens().textContent();
      return text.includes('…') && text;
    });
    assert.equal(await bench.squiggles('warning').count(), 0);
    assert.equal(await bench.isDirty(file), false);
  });

  it('is left in peace while it is typed, and underlined after a rest', async () => {
    const [warning, suggestions] = [bench.squiggles('warning'), bench.page.locator('.suggest-widget.visible')];
    await bench.typeAt(line, above.length + 1, '\n');
    for (const letter of typed.trimStart()) {
      await bench.page.keyboard.type(letter);
      assert.equal(await warning.count(), 0);
      assert.equal(await suggestions.count(), 0);
    }
    await bench.until('the typed line', async () => (await bench.visibleLines()).includes(typed));
    await bench.squiggles('info').first().waitFor();
    assert.equal(await warning.count(), 0);
    await warning.waitFor();
  });

  it('is an entry of the Problems view, which leads to it', async () => {
    const problems = await bench.problems(finding);
    await bench.until('one problem', async () => (await problems.count()) === 1);
    await problems.first().dblclick();
    await bench.until('the cursor', async () => (await bench.position()).line === line + 1);
  });

  it('is mended by its quick fix', async () => {
    await bench.quickFix('Write 25.14');
    await bench.until('the mended line', async () => (await bench.visibleLines()).includes(mended));
    await bench.squiggles('warning').waitFor({ state: 'detached' });
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

  it('changes the figures above its run, which lead to the summary', async () => {
    await bench.goTo(line - 18);
    await bench.until('the figures of the canonical text', async () => (await lens().textContent()) === figures);
    await bench.typeAt(line, above.length + 1, `\n${typed.trimStart()}`);
    await bench.goTo(line - 18);
    await bench.until('other figures', async () => (await lens().textContent()) !== figures);
    await lens().click();
    const summary = await bench.webviewFrame('h1');
    await summary.getByText('52', { exact: true }).first().waitFor();
  });

  it('goes from the summary when it goes from the text', async () => {
    const summary = await bench.webviewFrame('h1');
    await bench.tab(file).click();
    await bench.page.locator('.editor-actions [aria-label^="Summarise"]').waitFor();
    await bench.goTo(line + 1);
    await bench.until('the canonical text', async () => {
      await bench.undo();
      return !(await bench.isDirty(file));
    });
    await summary.getByText('52', { exact: true }).first().waitFor({ state: 'detached' });
    assert.equal(onDisk(), canonical);
  });

  it('needs no network and throws nothing in the page', () => {
    assert.deepEqual(bench.offOrigin, []);
    assert.deepEqual(bench.errors, []);
  });
});
