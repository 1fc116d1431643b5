// Keys and mouse that only a page has: a real paste, a drop, the status bar.
import { strict as assert } from 'node:assert';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { playBenchScenes } from '../benchScenes.mjs';
import { themes, Workbench } from '../browser.mjs';
import { openScenes } from '../scenes.mjs';
import { stage } from '../stage.mjs';
import { scratchWorkspace } from '../workbench.mjs';

const file = 'open.nitbook';
const open = `nitbook 1

session 2026-03-14
greyscale grey
    level   Y         x        y
        20  2.54      0.3130   0.3283
        40  ?         ?        ?
       100  ?         ?        ?
`;
const rows = ['level,Y,x,y', '40,13.3,0.3121,0.3280', '100,119.6,0.3089,0.3248', ''].join('\n');
const filled = ['        40  13.3      0.3121   0.3280', '       100  119.6     0.3089   0.3248'];

describe('At the bench', () => {
  let folder;
  let bench;
  const item = () => bench.page.locator('.statusbar-item', { hasText: /to take|all taken/ });
  const preview = () => bench.quick.locator('.monaco-list-row', { hasText: 'Put into grey' });
  const lines = async () => (await bench.visibleLines()).filter((line) => line !== '');

  before(async () => {
    folder = scratchWorkspace();
    writeFileSync(join(folder, file), open);
    writeFileSync(join(folder, 'readings.csv'), rows);
    bench = await Workbench.open(stage.browser, stage.host, { folder });
    await bench.openFile(file);
  });
  after(() => bench?.close());

  it('the status bar counts the readings to take, and leads to them', async () => {
    await bench.until('the count', async () => (await item().textContent())?.includes('2 to take'));
    await item().click();
    await bench.until('the first reading', async () => (await bench.position()).line === 7);
    await item().click();
    await bench.until('the next', async () => (await bench.position()).column > 20);
    assert.equal(await bench.isDirty(file), false);
  });

  it('rows that are pasted with the keys are looked at, put in, and taken back at once', async () => {
    await bench.goTo(7, 13);
    await bench.page.evaluate((text) => navigator.clipboard.writeText(text), rows.replaceAll(',', '\t'));
    await bench.page.keyboard.press('Control+V');
    await preview().waitFor();
    await bench.page.keyboard.press('Enter');
    await bench.until('the rows', async () => {
      const all = await lines();
      return filled.every((line) => all.includes(line));
    });
    await bench.until('all taken', async () => (await item().textContent())?.includes('all taken'));
    await bench.undo();
    await bench.until('the file as it was', async () => !(await bench.isDirty(file)));
  });

  it('rows are among what the text can be pasted as', async () => {
    await bench.goTo(7, 13);
    await bench.page.evaluate((text) => navigator.clipboard.writeText(text), rows.replaceAll(',', '\t'));
    // A page cannot paste for a command, as a desktop does: it asks for the text of the clipboard and puts that in. The answer is held back
    // while the keys paste, and is empty in the end.
    await bench.page.evaluate(() => {
      navigator.clipboard.readText = () =>
        new Promise((resolve) => {
          globalThis.answerPaste = () => resolve('');
        });
    });
    try {
      await bench.command('Paste As...');
      await bench.until('the command', () => bench.page.evaluate(() => 'answerPaste' in globalThis));
      await bench.page.keyboard.press('Control+V');
      await bench.quick.locator('.monaco-list-row', { hasText: 'Put Rows into the Run' }).waitFor();
      await bench.pick('Put Rows into the Run (rows filled: 2)');
      await bench.until('the rows', async () => {
        const all = await lines();
        return filled.every((line) => all.includes(line));
      });
    } finally {
      await bench.page.evaluate(() => {
        globalThis.answerPaste?.();
        delete navigator.clipboard.readText;
      });
    }
    await bench.undo();
    await bench.until('the file as it was', async () => !(await bench.isDirty(file)));
  });

  it('a row copied from a session is pasted as it is', async () => {
    await bench.goTo(6, 1);
    await bench.page.keyboard.press('Control+C');
    await bench.page.keyboard.press('Control+V');
    await bench.until('the row twice', async () => (await lines()).filter((line) => line.includes('2.54')).length === 2);
    await bench.undo();
    await bench.until('the file as it was', async () => !(await bench.isDirty(file)));
  });

  it('a CSV file that is dropped with Shift is looked at and put in', async () => {
    const source = bench.page.locator('.explorer-folders-view .monaco-list-row', { hasText: 'readings.csv' });
    const target = bench.page.locator('.editor-group-container.active .view-line', { hasText: '2.54' }).first();
    await source.hover();
    await bench.page.mouse.down();
    const box = await target.boundingBox();
    await bench.page.keyboard.down('Shift');
    await bench.page.mouse.move(box.x + 60, box.y + 8, { steps: 8 });
    await bench.page.mouse.move(box.x + 64, box.y + 9, { steps: 4 });
    await bench.page.mouse.up();
    await bench.page.keyboard.up('Shift');
    await preview().waitFor();
    await bench.page.keyboard.press('Enter');
    await bench.until('the rows', async () => {
      const all = await lines();
      return filled.every((line) => all.includes(line));
    });
    await bench.undo();
    await bench.until('the file as it was', async () => !(await bench.isDirty(file)));
    assert.equal(readFileSync(join(folder, file), 'utf8'), open);
    assert.deepEqual(bench.errors, []);
  });
});

describe('What there is to see at the bench', () => {
  let bench;
  before(async () => {
    bench = await openScenes(Workbench, stage.browser, stage.host);
  });
  after(() => bench?.close());

  for (const theme of Object.keys(themes)) {
    it(`is there in the theme ${theme}`, async () => {
      await bench.theme(theme);
      const taken = [];
      await playBenchScenes(bench, async (name, isHeld = false) => {
        if (!isHeld) await bench.page.mouse.move(640, 5);
        await bench.page.waitForTimeout(400);
        taken.push(await bench.screenshot(`${name}-${theme}`));
      });
      assert.equal(taken.length, 6);
      assert.deepEqual(bench.errors, []);
    });
  }
});
