// What the API of the editor does not tell: that the fields of colour in a hover show, and that what is struck out is faded.
import { strict as assert } from 'node:assert';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Workbench } from '../browser.mjs';
import { stage } from '../stage.mjs';
import { scratchWorkspace } from '../workbench.mjs';

describe('A session that is looked at', () => {
  const file = 'aurora-55.nitbook';
  /** The row of 20 %, struck out. */
  let struckRow;
  let bench;
  let lines;

  before(async () => {
    const folder = scratchWorkspace();
    const text = readFileSync(join(folder, file), 'utf8').replace(/^ {8}20 {2}2\..*$/m, (row) => {
      struckRow = row.replace('   ', '  ~');
      return struckRow;
    });
    writeFileSync(join(folder, file), text);
    lines = text.split('\n');
    bench = await Workbench.open(stage.browser, stage.host, { folder });
    await bench.openFile(file);
  });
  after(() => bench?.close());

  it('shows a row as sent and as read, as an image', async () => {
    await bench.goTo(lines.findIndex((line) => /^ {8}30 {2}6\./.test(line)) + 1, 12);
    const image = (await bench.hover()).locator('img');
    await bench.until('the image', async () => (await image.evaluate(({ naturalWidth }) => naturalWidth)) === 128);
    assert.match(await image.getAttribute('alt'), /^Left the patch as sent, right as read/);
    await bench.page.keyboard.press('Escape');
  });

  it('says behind a row how far it is off', async () => {
    const row = bench.page.locator('.view-line', { hasText: /30\s+6\.\d/ }).first();
    await bench.until('the hint', async () => /ΔE.\d/.test((await row.textContent()) ?? ''));
  });

  it('fades what is struck out, and nothing else', async () => {
    await bench.goTo(lines.indexOf(struckRow) + 1, 1);
    const faded = () =>
      bench.page
        .locator('.editor-group-container.active .view-line span span')
        .evaluateAll((all) => all.filter((span) => Number(getComputedStyle(span).opacity) < 1).map((span) => span.textContent));
    await bench.until('a faded row', async () => {
      const shown = (await faded()).join('').replaceAll('\u00a0', ' ');
      return shown === struckRow.trimStart();
    });
  });

  it('says in the head of the editor where the cursor is', async () => {
    const crumbs = bench.page.locator('.breadcrumbs-control .monaco-breadcrumb-item');
    await bench.until('the run and its table', async () => {
      const shown = (await crumbs.allInnerTexts()).join(' > ');
      return shown.includes('greyscale grey > level Y x y');
    });
  });

  it('is left unchanged', async () => {
    assert.equal(await bench.isDirty(file), false);
  });
});
