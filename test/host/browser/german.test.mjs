// The workbench in German, as its package brings it: what a reader sees is German, and fits in its place.
import { strict as assert } from 'node:assert';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { themes, Workbench } from '../browser.mjs';
import { inLanguage } from '../foreign.mjs';
import { root } from '../setup.mjs';
import { Sheet } from '../sheet.mjs';
import { stage } from '../stage.mjs';
import { examples, scratchWorkspace, startHost } from '../workbench.mjs';

const read = (path) => JSON.parse(readFileSync(join(root, path), 'utf8'));
const bundle = read('l10n/bundle.l10n.de.json');
const words = read('package.nls.de.json');

/** A template in German with what stands in its places. */
const de = (template, args = {}) => bundle[template].replace(/\{(\w+)\}/g, (_, name) => args[name]);
const command = (name) => `Nitbook: ${words[`command.${name}`]}`;

const REVIEW = `# Halden Aurora 55

Im Mittel [1.5](aurora-55.nitbook#grey.de.avg), andere halten es für [1.9](aurora-55.nitbook#grey.de.avg).

![Balance](aurora-55.nitbook#grey+grey-tuned.balance)

\`\`\`nitbook
settings aurora-55.nitbook#cinema-tuned

summary aurora-55.nitbook#grey+delay

compare aurora-55.nitbook#session
compare meadow-65.nitbook#session

method aurora-55.nitbook#grey

cautions
\`\`\`
`;

describe('In German', () => {
  let host;
  let bench;
  const lineOf = (file, start, after = '') => {
    const lines = readFileSync(join(examples, file), 'utf8').split('\n');
    const from = lines.findIndex((line) => line.startsWith(after));
    return from + lines.slice(from).findIndex((line) => line.startsWith(start)) + 1;
  };

  before(async () => {
    const folder = scratchWorkspace();
    writeFileSync(join(folder, 'pruefung.md'), REVIEW);
    writeFileSync(join(folder, 'nitbook.jsonc'), '{ "limits": {} }\n');
    // Of its own, as its themes are those of all pages.
    host = await startHost({ vsix: [stage.vsix] });
    bench = await Workbench.open(stage.browser, host, { folder, prepare: inLanguage('de') });
  });
  after(async () => {
    await bench?.close();
    await host?.stop();
  });

  /** Waits until all of `expected` is said in what `find` gives. */
  async function says(what, find, ...expected) {
    let shown = '';
    await bench
      .until(what, async () => {
        shown = (await find()).join('\n').replaceAll('\u00a0', ' ');
        return expected.every((text) => shown.includes(text));
      })
      .catch(() => assert.fail(`${what} says ${expected.filter((text) => !shown.includes(text)).join(' / ')}, not: ${shown}`));
  }
  const texts = (selector, within = bench.page) => within.locator(selector).filter({ visible: true }).allInnerTexts();
  const look = async (scene) => {
    await bench.page.mouse.move(640, 5);
    await bench.page.waitForTimeout(400);
    await bench.screenshot(`german-${scene}`);
  };

  it('commands have their titles, and the view its name', async () => {
    await bench.openFile('bench-mistakes.nitbook');
    // By then it is known of what language the file is.
    await bench.squiggles('warning').first().waitFor();
    await bench.openQuick('F1', `>${command('duplicateRun')}`);
    await says('the palette', () => texts('.quick-input-list-row:first-child .label-name', bench.quick), command('duplicateRun'));
    await look('commands');
    await bench.page.keyboard.press('Escape');
    await says('the view', () => texts('.pane-header h3.title'), words['view.sessions']);
  });

  it('Problems and their mends', async () => {
    await bench.problems('nitbook');
    await says(
      'Problems',
      () => texts('.markers-panel .monaco-list-row .marker-message, .markers-panel .monaco-list-row .marker-message-details'),
      de('{name} {found} at {key} is off the trend of its neighbours, {mended} would be on it: decimal point?', {
        ...{ name: 'Y', found: '67.6', key: '30', mended: '6.76' },
      }),
    );
    await look('problems');
    await bench.page.keyboard.press('Control+J');
    await bench.goTo(lineOf('bench-mistakes.nitbook', '        30  67.6'), 13);
    await bench.squiggles('warning').first().waitFor();
    const fixes = await bench.quickFixes();
    assert.ok(fixes.includes(de('Write {mended}', { mended: '6.76' })), fixes.join(' / '));
    await bench.screenshot('german-mends');
    await bench.page.keyboard.press('Escape');
  });

  it('the lens, the hints and the status bar', async () => {
    await bench.openFile('aurora-55.nitbook');
    await bench.goTo(lineOf('aurora-55.nitbook', 'greyscale grey '), 1);
    await says('the lens', () => texts('.codelens-decoration a'), `${de('ΔE 2000 average')} 1.53 ${de('within')}`);
    await says('the hints', () => texts('.editor-group-container.active .view-line span[class*="dyn-rule"]'), `ΔE 3.4 ${de('cool')}`);
    await says('the status bar', () => texts('.statusbar-item[id*="nitbook.standing"]'), de('beyond'));
    await look('lens');
    const item = bench.page.locator('.statusbar-item[id*="nitbook.standing"]');
    await says('its tooltip', () => bench.tooltip(item), de('undecided'));
    await bench.screenshot('german-standing');
  });

  it('hovers', async () => {
    for (const [scene, start, column, ...expected] of [
      ['row', '        30  ', 12, de('Luminance error'), de('as sent')],
      ['head', 'greyscale grey ', 3, de('neutral levels: balance, curve and ΔE'), de('ΔE 2000 maximum')],
      ['property', '  settle', 4, de('how long each patch was shown before its reading')],
      ['limit', '  greyscale.de.max', 12, de('largest ΔE 2000 of the rows')],
    ]) {
      await bench.goTo(lineOf('aurora-55.nitbook', start), column);
      const hover = await bench.hover();
      await says(`the hover of a ${scene}`, () => texts('.hover-contents', hover), ...expected);
      await bench.screenshot(`german-hover-${scene}`);
      await bench.page.keyboard.press('Escape');
    }
  });

  it('completions', async () => {
    const run = lineOf('aurora-55.nitbook', 'greyscale grey ');
    await bench.typeAt(run, 200, '\n  ');
    await bench.page.keyboard.press('Control+Space');
    const list = bench.page.locator('.suggest-widget.visible');
    await list.waitFor();
    await bench.until('the documentation', async () => {
      const body = bench.page.locator('.suggest-details .body');
      if (!(await body.isVisible())) await bench.page.keyboard.press('Control+Space');
      await body.waitFor({ timeout: 2000 });
      return true;
    });
    await says('the documentation', () => texts('.suggest-details .body:visible'), de('Takes {type}.', { type: '' }).slice(0, 9));
    await bench.screenshot('german-completion');
    await bench.page.keyboard.press('Escape');
    await bench.page.keyboard.press('Escape');
    await bench.until('the file as it was', async () => {
      await bench.undo();
      return !(await bench.isDirty('aurora-55.nitbook'));
    });
  });

  it('the tree of sessions and the outline', async () => {
    const view = bench.page.locator('.pane', { has: bench.page.locator('.pane-header h3.title', { hasText: words['view.sessions'] }) });
    await view.locator('.pane-header').click();
    await says('the tree', () => texts('.monaco-list-row .label-description', view), de('{0} to take', { 0: '' }).trim());
    await bench.command('Explorer: Focus on Outline View');
    await bench.page.locator('.outline-pane .monaco-list-row').first().waitFor();
    await bench.page.keyboard.press('Control+ArrowLeft');
    await bench.page.keyboard.press('End');
    const details = bench.page.locator('.outline-pane .monaco-list-row .label-description');
    await bench.until('the outline', async () => {
      if ((await details.allInnerTexts()).some((text) => text.includes(de('within')))) return true;
      // What of the outline is not in view is not there.
      await bench.page.keyboard.press('PageUp');
      return false;
    });
    await look('tree');
    await bench.page.keyboard.press('Control+B');
  });

  it('the choice of a plan', async () => {
    await bench.command(command('newSession'));
    await says('the plans', () => texts('.quick-input-title, .monaco-list-row', bench.quick), de('New Session'), de('SDR full'));
    await look('plans');
    await bench.page.keyboard.press('Escape');
  });

  it('the figures beside', async () => {
    for (const [file, head, scene] of [
      ['aurora-55.nitbook', 'greyscale grey ', 'grey'],
      ['aurora-55.nitbook', 'saturation sat ', 'saturation'],
      ['aurora-55.nitbook', 'tracking track-4000', 'tracking'],
      ['aurora-55.nitbook', 'uniformity field-5', 'uniformity'],
      ['aurora-55.nitbook', 'contrast contrast-sdr', 'contrast'],
    ]) {
      await bench.openFile(file);
      await bench.goTo(lineOf(file, head), 1);
      await bench.command(command('showFigures'));
      const frame = await bench.webviewFrame('.figure svg');
      await says(`the figures of ${scene}`, () => frame.locator('body').allInnerTexts(), de('Measures'), de('Keep this run'));
      await look(`figures-${scene}`);
      await bench.command('View: Close All Editors');
    }
  });

  it('the summary', async () => {
    await bench.openFile('aurora-55.nitbook');
    await bench.command(command('summarise'));
    const frame = await bench.webviewFrame('h2');
    await says('the summary', () => frame.locator('body').allInnerTexts(), de('Verdict'), de('White luminance'), de('Greyscale'));
    await look('summary');
    await bench.command('View: Close All Editors');
  });

  it('the preview of a review', async () => {
    await bench.openFile('pruefung.md');
    await bench.command('Markdown: Open Preview to the Side');
    // A preview that is refreshed, as more comes to be known of its sessions, is another frame.
    const preview = () => bench.webviewFrame('figure svg[data-figure]');
    await says(
      'the review',
      async () => (await preview()).locator('body').allInnerTexts(),
      de('Care'),
      de('Settings of {mode}', { mode: 'Cinema, as adjusted' }),
    );
    await says(
      'its figures',
      async () => (await preview()).locator('figure').allTextContents(),
      de('Whiskers: where the true figure lies in 95 of 100 cases.'),
    );
    await look('review');
    for (const [i, heading] of ['table', 'table >> nth=2', 'dl, aside'].entries()) {
      await bench.until(`${heading} in view`, async () => {
        const frame = await preview();
        await frame
          .locator(heading)
          .last()
          .evaluate((at) => at.scrollIntoView(), undefined, { timeout: 2000 });
        return true;
      });
      await look(`review-${i + 1}`);
    }
    await bench.command('View: Close All Editors');
  });

  it('the sheet', async () => {
    await bench.openFile('aurora-55.nitbook');
    await bench.goTo(lineOf('aurora-55.nitbook', 'greyscale grey '), 1);
    await bench.command(command('openSheet'));
    const { frame } = await Sheet.shown(bench);
    await says('the sheet', () => frame.locator('body').allInnerTexts(), de('Properties'), de('Strike out'), de('Balance'));
    for (const theme of Object.keys(themes)) {
      await bench.theme(theme);
      await look(`sheet-${theme}`);
    }
    await bench.theme('light');
    await bench.command('View: Close All Editors');
    await bench.openFile('bench-mistakes.nitbook');
    await bench.goTo(lineOf('bench-mistakes.nitbook', 'greyscale negative'), 1);
    await bench.command(command('openSheet'));
    const open = await Sheet.shown(bench);
    await says('a run with a reading to take', () => open.frame.locator('body').allInnerTexts(), de('still to take'));
    await look('sheet-open');
    await bench.command('View: Close All Editors');
  });

  it('the walkthrough', async () => {
    await bench.command('Welcome: Open Walkthrough');
    await bench.quick.locator('.monaco-list-row', { hasText: words['walkthrough.title'] }).first().click();
    await says('the walkthrough', () => texts('.gettingStartedContainer'), words['walkthrough.plan.title']);
    await look('walkthrough');
    await bench.command('View: Close All Editors');
  });

  it('what the configuration of the folder takes', async () => {
    await bench.openFile('nitbook.jsonc');
    await bench.goTo(1, 5);
    const hover = await bench.hover();
    await says('the hover of a key', () => texts('.hover-contents', hover), 'Richt- und Grenzwerte nach Kenngröße.');
    await bench.page.keyboard.press('Escape');
    assert.deepEqual(bench.errors, []);
  });
});
