// The page of the extension in the workbench, as someone sees it who has just found it.
import { strict as assert } from 'node:assert';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Workbench } from '../browser.mjs';
import { root } from '../setup.mjs';
import { stage } from '../stage.mjs';
import { scratchWorkspace } from '../workbench.mjs';

const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
const words = JSON.parse(readFileSync(join(root, 'package.nls.json'), 'utf8'));
const word = (text) => text.replace(/^%(.*)%$/, (_, key) => words[key]);

describe('The page of the extension', () => {
  let bench;
  let editor;
  before(async () => {
    bench = await Workbench.open(stage.browser, stage.host, { folder: scratchWorkspace() });
    await bench.command('View: Show Extensions');
    const { page } = bench;
    await page.locator('.extensions-viewlet .monaco-editor').first().click();
    await page.keyboard.press('Control+A');
    await page.keyboard.type('@installed nitbook');
    const found = page.locator('.extensions-list .monaco-list-row', { hasText: manifest.displayName }).first();
    await found.waitFor();
    await found.click();
    editor = page.locator('.extension-editor');
    await editor.waitFor();
  });
  after(() => bench?.close());

  it('says what it is, with its icon, and shows the whole README without a broken picture', async () => {
    await bench.holds(async () => {
      assert.equal((await editor.locator('.name').first().textContent()).trim(), word(manifest.displayName));
      assert.equal((await editor.locator('.description').first().textContent()).trim(), word(manifest.description));
    });
    await bench.until('its icon', () => editor.locator('img.icon').evaluate((icon) => icon.complete && icon.naturalWidth > 0));
    await bench.holds(async () => {
      const readme = await bench.webviewFrame('h1');
      const headings = await readme.locator('h1, h2').allTextContents();
      assert.equal(headings[0], manifest.displayName);
      assert.ok(headings.includes('Care'), `the cautions are not among ${headings.join(', ')}`);
      const broken = await readme
        .locator('img')
        .evaluateAll((all) => all.filter(({ naturalWidth }) => naturalWidth === 0).map(({ src }) => src));
      assert.deepEqual(broken, []);
    });
    for (const name of ['light', 'dark', 'high-contrast']) {
      await bench.theme(name);
      await bench.screenshot(`page-${name}`);
    }
  });

  it('lists its commands and settings in words, none by its number', async () => {
    await editor.locator('.navbar').getByText('Features').click();
    const features = editor.locator('.extension-feature-list .monaco-list-row, .features-list-container .monaco-list-row');
    await features.first().waitFor();
    await features.filter({ hasText: /^Commands/ }).click();
    const body = editor.locator('.feature-body');
    await bench.until('the commands', async () => (await body.textContent()).includes('nitbook.openSheet'));
    assert.doesNotMatch(await body.textContent(), /%[\w.]+%/);
    await bench.screenshot('page-commands');
    await features.filter({ hasText: /^Settings(?! Default)/ }).click();
    await bench.until('the settings', async () => (await body.textContent()).includes('nitbook.sheet.timeStamps'));
    assert.doesNotMatch(await body.textContent(), /%[\w.]+%/);
    await bench.screenshot('page-settings');
    assert.deepEqual(bench.errors, []);
  });
});
