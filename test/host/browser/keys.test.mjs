// The keys that the README names do what it says there.
import { strict as assert } from 'node:assert';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Workbench } from '../browser.mjs';
import { root } from '../setup.mjs';
import { greyscale, read, reading, Sheet, write } from '../sheet.mjs';
import { stage } from '../stage.mjs';
import { scratchWorkspace } from '../workbench.mjs';

/** The keys of each table of the README, as they are written there. */
const documented = readFileSync(join(root, 'README.md'), 'utf8')
  .split('| key | does |\n')
  .slice(1)
  .map((rest) => [.../^(?:\|.*\|\n)+/.exec(rest)[0].matchAll(/^\| ([^-|][^|]*) \|/gm)].map(([, keys]) => keys.replaceAll('`', '')));

const LEVELS = [20, 40, 60, 70, 80, 90, 100];

describe('The keys of the README', () => {
  let folder;
  let bench;
  let page;
  before(async () => {
    folder = scratchWorkspace();
    write(
      folder,
      'keys.nitbook',
      `${greyscale(LEVELS)}\ngreyscale again\n  mode: cinema\n    level   Y         x        y\n        50  ?         ?        ?\n`,
    );
    bench = await Workbench.open(stage.browser, stage.host, { folder, width: 1400, height: 850 });
    page = bench.page;
  });
  after(() => bench?.close());

  it('are those of the reading sheet', async () => {
    const sheet = await Sheet.open(bench, 'keys.nitbook');
    await sheet.input.waitFor();
    await sheet.focus();
    const press = (key) => page.keyboard.press(key);
    const at = (place) => bench.until(place, async () => (await sheet.place()) === place);
    const typed = () => sheet.input.inputValue();
    const struck = (count) =>
      bench.until(`${count} struck out`, async () => (await sheet.frame.locator('.grid tr.struck').count()) === count);
    const does = {
      async Enter() {
        await at('Y of 20 %');
        await sheet.enter(reading(20)[0]);
        await at('x of 20 %');
      },
      async 'Tab, Shift+Tab'() {
        await press('Tab');
        await at('y of 20 %');
        await press('Shift+Tab');
        await at('x of 20 %');
        for (let i = 0; i < 2; i++) await press('Tab');
        await bench.until('out of the table at its end', () => sheet.input.evaluate((input) => input !== document.activeElement));
        await sheet.focus();
      },
      async '↑, ↓, Page Up, Page Down'() {
        await press('PageUp');
        await press('ArrowDown');
        await bench.until('the second row', async () => /of 40 %$/.test(await sheet.place()));
        await press('ArrowUp');
        await bench.until('the first row', async () => /of 20 %$/.test(await sheet.place()));
        await press('PageDown');
        await bench.until('the last row', async () => /of 100 %$/.test(await sheet.place()));
        await press('PageUp');
      },
      async 'Alt+↑, Alt+↓'() {
        await press('Alt+ArrowDown');
        await at('Y of 50 %');
        await press('Alt+ArrowUp');
        await bench.until('the first run', async () => !(await sheet.place()).includes('50 %'));
      },
      async Esc() {
        await page.keyboard.type('7');
        await bench.until('it is typed', async () => (await typed()) === '7');
        await press('Escape');
        await bench.until('it is let go of', async () => (await typed()) !== '7');
        await press('PageUp');
      },
      async '*'() {
        await press('*');
        await struck(1);
        await press('Control+z');
        await struck(0);
      },
      async '+'() {
        const rows = await sheet.rows.count();
        await press('PageUp');
        await press('+');
        await bench.until('a repeat', async () => (await sheet.rows.count()) === rows + 1);
        await press('Control+z');
        await bench.until('none', async () => (await sheet.rows.count()) === rows);
      },
      async '/'() {
        await press('/');
        await sheet.frame.locator('body.large').waitFor();
        await press('/');
        await sheet.frame.locator('body:not(.large)').waitFor();
      },
      async 'Ctrl+.'() {
        // A slip needs neighbours.
        await sheet.level(20).locator('td.cell').first().click();
        for (const level of LEVELS)
          for (const text of reading(level))
            await sheet.enter(level === 40 && text.includes('.') && !text.startsWith('0') ? '133.1' : text);
        await sheet.level(40).locator('td.cell').first().click();
        await sheet.said.getByText('133.1').waitFor();
        await press('Control+.');
        await bench.until('the mend', async () => (await sheet.level(40).locator('td.cell').first().textContent()).startsWith('13.31'));
      },
      async 'Ctrl+Z'() {
        await page.keyboard.type('8');
        await press('Control+z');
        await bench.until('nothing half typed', async () => (await typed()) !== '8');
        await press('Control+z');
        await bench.until('the slip again', async () =>
          (await sheet.level(40).locator('td.cell').first().textContent()).startsWith('133.1'),
        );
      },
    };
    assert.deepEqual(Object.keys(does), documented[0]);
    for (const [key, act] of Object.entries(does)) await act().catch((cause) => assert.fail(`${key}: ${cause.stack}`));
    await bench.command('View: Revert and Close Editor');
  });

  it('are those of the figures', async () => {
    const text = read(folder, 'aurora-55.nitbook').split('\n');
    await bench.openFile('aurora-55.nitbook');
    await bench.goTo(text.findIndex((line) => line.startsWith('greyscale grey ')) + 1);
    await bench.command('Nitbook: Show Figures Beside');
    const frame = await bench.until('the figures', async () => {
      for (const each of page.frames())
        if (
          each !== page.mainFrame() &&
          (await each
            .locator('[data-name=de] svg')
            .count()
            .catch(() => 0)) > 0
        )
          return each;
      return undefined;
    });
    const picture = frame.locator('[data-name=de] .picture');
    const told = () => frame.locator('[data-name=de] .told').textContent();
    const marks = await frame.locator('[data-name=de] [data-mark] title').allTextContents();
    /** Waits until the mark at this place, counted from the end where below 0, is told. */
    const isTold = (index) => bench.holds(async () => assert.equal(await told(), marks.at(index)));
    const current = (count) => bench.holds(async () => assert.equal(await frame.locator('[data-name=de] .current').count(), count));
    const press = (key) => page.keyboard.press(key);
    const inFigure = () => frame.evaluate(() => document.activeElement?.closest('[data-name]')?.getAttribute('data-name'));
    const does = {
      async Tab() {
        await picture.focus();
        assert.equal(await inFigure(), 'de');
        let others = 0;
        for (let i = 0; i < 12 && (await inFigure()) === 'de'; i++, others++) {
          await press('Tab');
          await page.waitForTimeout(100);
        }
        assert.ok(others > 1, 'its own commands come first');
        assert.notEqual(await inFigure(), 'de');
        await picture.focus();
      },
      async '←, →, ↑, ↓'() {
        await press('Home');
        await isTold(0);
        for (const [key, index] of [
          ['ArrowRight', 1],
          ['ArrowLeft', 0],
          // To another line, where there is one.
          ['ArrowDown', 0],
          ['ArrowUp', 0],
        ]) {
          await press(key);
          await isTold(index);
        }
      },
      async 'Home, End'() {
        await press('End');
        await isTold(-1);
        await press('Home');
        await isTold(0);
      },
      async Enter() {
        await press('End');
        await isTold(-1);
        await press('Enter');
        await bench.until('the row of the mark', async () => /^ +100 /.test(text[(await bench.position()).line - 1]));
      },
      async Esc() {
        await picture.focus();
        await press('Home');
        await current(1);
        await press('Escape');
        await current(0);
      },
    };
    assert.deepEqual(Object.keys(does), documented[1]);
    for (const [key, act] of Object.entries(does)) await act().catch((cause) => assert.fail(`${key}: ${cause.stack}`));
  });
});
