// What a reader sees in another language: no word of English but names of the format, numbers, and words of the workbench itself.
import { strict as assert } from 'node:assert';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Workbench } from '../browser.mjs';
import { inLanguage, LOCALE, pseudoLanguage, translate } from '../foreign.mjs';
import { stage } from '../stage.mjs';
import { examples, scratchWorkspace, startHost } from '../workbench.mjs';

const rows = ['Stimulus\tLuminance\tx\ty\tqqq', '40\t13.31\t0.3102\t0.3271\t', '75\t1.204,5\t0.3097\t0.3260\t'].join('\n');

/** Letters that only the language has. */
const FOREIGN = /[\u0100-\u017f\u01a4\u1e3f]/;

describe('In another language', () => {
  let host;
  let bench;
  let pseudo;
  let unsaid;
  const names = new Set(['nitbook', 'Nitbook']);
  const lines = {};

  before(async () => {
    const language = await pseudoLanguage();
    ({ pseudo, unsaid } = language);
    host = await startHost({ vsix: [stage.vsix] });
    translate(host.unpacked('nitbook.nitbook'), language);
    const folder = scratchWorkspace();
    for (const [file, from] of [
      ['qq.nitbook', 'meadow-65.nitbook'],
      ['qqq.nitbook', 'bench-mistakes.nitbook'],
    ]) {
      const session = language.anonymous(readFileSync(join(examples, from), 'utf8'));
      for (const name of session.names) names.add(name);
      writeFileSync(join(folder, file), session.text);
      lines[file] = session.text.split('\n');
    }
    writeFileSync(join(folder, 'nitbook.jsonc'), '{ "limits": {} }\n');
    bench = await Workbench.open(stage.browser, host, { folder, prepare: inLanguage(LOCALE) });
  });
  after(async () => {
    await bench?.close();
    await host?.stop();
  });

  /** Waits for what `find` gives, and holds it against the language. */
  async function speaks(what, find) {
    const shown = await bench.until(what, async () => {
      const texts = (await find()).map((text) => text.replaceAll('\u00a0', ' ').trim()).filter((text) => text !== '');
      return texts.length > 0 && texts;
    });
    const left = shown.flatMap((text) =>
      unsaid(text, names)
        .filter((word) => !/^q+$/i.test(word))
        .map((word) => `${word}: ${text}`),
    );
    assert.deepEqual(left, [], what);
    assert.match(shown.join(), FOREIGN, `${what} speaks`);
    return shown;
  }
  const texts = (selector, within = bench.page) => within.locator(selector).filter({ visible: true }).allInnerTexts();

  it('commands and views have their titles', async () => {
    await bench.openFile('qq.nitbook');
    await bench.openQuick('F1', '>Nitbook');
    await speaks('the commands', () => texts('.quick-input-list-row:first-child .label-name', bench.quick));
    await bench.page.keyboard.press('Escape');
    await speaks('the view', async () => (await texts('.pane-header h3.title')).filter((title) => title === pseudo('Sessions')));
  });

  it('the lens, the hints and the status bar', async () => {
    await bench.goTo(lines['qq.nitbook'].findIndex((line) => line.startsWith('greyscale grey')) + 1);
    await speaks('the lens', () => texts('.codelens-decoration a'));
    await speaks('the hints', () => texts('.editor-group-container.active .view-line span[class*="dyn-rule"]'));
    const item = bench.page.locator('.statusbar-item[id*="nitbook.standing"]');
    await speaks('the status bar', () => item.allInnerTexts());
    await speaks('its tooltip', () => bench.tooltip(item));
    await bench.page.mouse.move(640, 5);
  });

  it('hovers of rows, properties, columns, heads and measures', async () => {
    for (const [what, start, column] of [
      ['a row', /^ {8}30 /, 12],
      ['a property', /^ {2}settle/, 4],
      ['columns', /^ {4}level +Y x y|^ {4}level +Y +x/, 14],
      ['the head of a run', /^greyscale grey/, 3],
      ['a setting', /^ {2}q+ \/ q+/, 4],
    ]) {
      await bench.goTo(lines['qq.nitbook'].findIndex((line) => start.test(line)) + 1, column);
      const hover = await bench.hover();
      await speaks(`the hover of ${what}`, () => texts('.hover-contents', hover));
      await bench.page.keyboard.press('Escape');
    }
  });

  it('findings and their mends', async () => {
    await bench.openFile('qqq.nitbook');
    await bench.problems('nitbook');
    await speaks('the problems', () =>
      texts('.markers-panel .monaco-list-row .marker-message-details, .markers-panel .monaco-list-row .marker-message'),
    );
    await bench.goTo(lines['qqq.nitbook'].findIndex((line) => /^ +30 +67\.6/.test(line)) + 1, 13);
    await bench.squiggles('warning').first().waitFor();
    const fixes = await bench.quickFixes();
    await speaks('the mends', async () => fixes.filter((label) => label.includes('6.76')));
    await bench.page.keyboard.press('Escape');
  });

  it('completions and their documentation', async () => {
    await bench.openFile('qq.nitbook');
    const run = lines['qq.nitbook'].findIndex((line) => line.startsWith('greyscale grey'));
    await bench.typeAt(run + 1, lines['qq.nitbook'][run].length + 1, '\n  ');
    await bench.page.keyboard.press('Control+Space');
    const list = bench.page.locator('.suggest-widget.visible');
    await list.waitFor();
    await speaks('the list', () => texts('.monaco-list-row .details-label', list));
    await bench.page.keyboard.press('Control+Space');
    await speaks('the documentation', () => texts('.suggest-details .body:visible'));
    await bench.page.keyboard.press('Escape');
    await bench.page.keyboard.press('Escape');
    await bench.until('the file as it was', async () => {
      await bench.undo();
      return !(await bench.isDirty('qq.nitbook'));
    });
  });

  it('the list of sessions and the outline', async () => {
    const view = bench.page.locator('.pane', { has: bench.page.locator('.pane-header h3.title', { hasText: pseudo('Sessions') }) });
    await view.locator('.pane-header').click();
    await speaks('the list', () => texts('.monaco-list-row .label-description', view));
    await bench.command('Explorer: Focus on Outline View');
    const outline = bench.page.locator('.outline-pane');
    await outline.locator('.monaco-list-row').first().waitFor();
    await bench.page.keyboard.press('Control+ArrowLeft');
    await bench.page.keyboard.press('End');
    await speaks('the outline', async () => {
      const shown = await texts('.monaco-list-row .label-name, .monaco-list-row .label-description', outline);
      if (shown.some((text) => FOREIGN.test(text))) return shown;
      // What of the outline is not in view is not there.
      await bench.page.keyboard.press('PageUp');
      return [];
    });
  });

  it('the look at pasted rows, refusals and the choice of a plan', async () => {
    const run = lines['qq.nitbook'].findIndex((line) => line.startsWith('greyscale grey'));
    await bench.goTo(run + 1, 3);
    await bench.page.evaluate((text) => navigator.clipboard.writeText(text), rows);
    await bench.page.keyboard.press('Control+V');
    await bench.quick.locator('.monaco-list-row', { hasText: pseudo('Leave them out') }).waitFor();
    await speaks('the question', () => texts('.quick-input-title, .monaco-list-row .label-name', bench.quick));
    await bench.page.keyboard.press('Enter');
    await bench.quick.locator('.monaco-list-row', { hasText: pseudo('Put in as text') }).waitFor();
    await speaks('the rows', () => texts('.quick-input-title, .monaco-list-row', bench.quick));
    await bench.page.keyboard.press('Escape');

    await bench.goTo(1);
    await bench.openQuick('F1', `>Nitbook: ${pseudo('Strike Out and Take Again')}`);
    await bench.page.keyboard.press('Enter');
    await speaks('the refusal', () => bench.notifications());

    await bench.openQuick('F1', `>Nitbook: ${pseudo('New Session…')}`);
    await bench.page.keyboard.press('Enter');
    await bench.quick.locator('.monaco-list-row', { hasText: pseudo('SDR full') }).waitFor();
    await speaks('the plans', () => texts('.quick-input-title, .monaco-list-row', bench.quick));
    await bench.page.keyboard.press('Escape');
  });

  it('the summary', async () => {
    await bench.openQuick('F1', `>Nitbook: ${pseudo('Summarise')}`);
    await bench.page.keyboard.press('Enter');
    const frame = await bench.webviewFrame('h2');
    await speaks('the summary', () => frame.locator('body').allInnerTexts());
    await bench.screenshot('foreign');
    assert.deepEqual(bench.errors, []);
  });

  it('what the configuration of the folder takes', async () => {
    await bench.openFile('nitbook.jsonc');
    await bench.goTo(1, 5);
    const hover = await bench.hover();
    await speaks('the hover of a key', () => texts('.hover-contents', hover));
    await bench.page.keyboard.press('Escape');
  });
});
