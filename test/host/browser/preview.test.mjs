// The preview of figures: follows the cursor and the typing, and leads back to the rows.
import { strict as assert } from 'node:assert';
import { readFileSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { violationsIn } from '../access.mjs';
import { themes, Workbench } from '../browser.mjs';
import { stage } from '../stage.mjs';
import { scratchWorkspace } from '../workbench.mjs';

describe('The preview of figures', () => {
  let bench;
  let folder;
  let frame;
  let text;

  const lineOf = (start, from = 0) => text.split('\n').findIndex((line, i) => i >= from && line.startsWith(start)) + 1;

  before(async () => {
    folder = scratchWorkspace();
    text = readFileSync(join(folder, 'aurora-55.nitbook'), 'utf8');
    bench = await Workbench.open(stage.browser, stage.host, { folder });
    await bench.openFile('aurora-55.nitbook');
    await bench.goTo(lineOf('greyscale grey '), 1);
    await bench.command('Nitbook: Show Figures Beside');
    frame = await bench.webviewFrame('.figure svg');
  });
  after(() => bench?.close());

  const heading = () => frame.locator('h1').textContent();

  it('shows the run of the cursor, and another one when the cursor goes there', async () => {
    await bench.until('the greyscale', async () => (await heading()).startsWith('greyscale grey'));
    await bench.goTo(lineOf('saturation '), 1);
    await bench.until('the saturation run', async () => (await heading()).startsWith('saturation'));
    await bench.goTo(lineOf('greyscale grey '), 1);
    await bench.until('the greyscale', async () => (await heading()).startsWith('greyscale grey'));
    await bench.holds(async () =>
      assert.deepEqual(await frame.locator('.figure[data-name]').evaluateAll((all) => all.slice(0, 3).map(({ dataset }) => dataset.name)), [
        'balance',
        'curve',
        'de',
      ]),
    );
  });

  it('marks the row of the cursor', async () => {
    const run = lineOf('greyscale grey ') - 1;
    await bench.goTo(lineOf('        50 ', run), 5);
    const here = frame.locator('[data-name=de] .picture .here');
    await bench.holds(async () => {
      assert.equal(await here.count(), 1);
      assert.match(await here.locator('title').textContent(), /50/);
    });
  });

  it('changes the mark of a reading that is typed, and keeps the elements of all others', async () => {
    const marks = frame.locator('[data-name=de] [data-mark]');
    const before = await marks.count();
    await marks.evaluateAll((all) => {
      for (const mark of all) mark.kept = true;
    });
    const run = lineOf('greyscale grey ') - 1;
    const line = lineOf('        50 ', run);
    const row = text.split('\n')[line - 1];
    const x = row.search(/0\.3\d\d\d/);
    await bench.goTo(line, x + 3);
    await bench.page.keyboard.press('Delete');
    await bench.page.keyboard.type('2');
    await bench.until('another ΔE', async () =>
      /50.*(?:[5-9]|\d\d)\.\d/.test(await frame.locator('[data-name=de] .picture .here title').textContent()),
    );
    const kept = await marks.evaluateAll((all) => all.filter(({ kept }) => kept === true).length);
    assert.equal(await marks.count(), before);
    assert.ok(kept >= before - 1, `${kept} of ${before}`);
    await bench.undo();
    await bench.undo();
  });

  it('leads from a mark to its row, by mouse and by keys', async () => {
    const run = lineOf('greyscale grey ') - 1;
    const mark = frame
      .locator('[data-name=de] [data-mark]')
      .filter({ hasText: /^\S*70/ })
      .first();
    await mark.locator('circle').first().click();
    const row = lineOf('        70 ', run);
    await bench.until('the row of 70 %', async () => (await bench.position()).line === row);
    const picture = frame.locator('[data-name=de] .picture');
    await picture.focus();
    await bench.page.keyboard.press('Home');
    await bench.page.keyboard.press('ArrowRight');
    // The page draws in a turn of its own.
    const [current, told] = [frame.locator('[data-name=de] .current'), frame.locator('[data-name=de] .told')];
    await bench.holds(async () => {
      assert.match(await told.textContent(), /^10 %/);
      assert.equal(await current.count(), 1);
      assert.equal(await told.textContent(), await current.locator('title').textContent());
    });
    await bench.page.keyboard.press('Enter');
    await bench.until('another row', async () => (await bench.position()).line !== row);
  });

  it('lets a pointer speak when it moves, not when a picture moves under it', async () => {
    const picture = frame.locator('[data-name=de] .picture');
    const told = frame.locator('[data-name=de] .told');
    const says = (pattern) => bench.holds(async () => assert.match(await told.textContent(), pattern));
    const dot = (label) =>
      frame
        .locator('[data-name=de] [data-mark]')
        .filter({ hasText: new RegExp(`^\\S*${label}`) })
        .first()
        .locator('circle')
        .first();
    const place = async (label) => {
      const { x, y, width, height } = await dot(label).boundingBox();
      return { x: x + width / 2, y: y + height / 2 };
    };
    await picture.focus();
    const [from, to] = [await place(70), await place(80)];
    await bench.page.mouse.move(from.x, from.y);
    await says(/^70 %/);
    await bench.page.keyboard.press('Home');
    await bench.page.keyboard.press('ArrowRight');
    await says(/^10 %/);
    await picture.evaluate(
      (element, [dx, dy]) => {
        element.style.transform = `translate(${dx}px, ${dy}px)`;
        element.came = [];
        element.addEventListener('pointerover', ({ target }) => element.came.push(target.closest('[data-mark]')?.textContent));
      },
      [from.x - to.x, from.y - to.y],
    );
    await bench.until('another mark under the pointer', () =>
      picture.evaluate((element) => element.came.some((name) => name?.startsWith('80 %'))),
    );
    assert.match(await told.textContent(), /^10 %/);
    await bench.page.mouse.move(from.x + 1, from.y);
    await says(/^80 %/);
    // Off the marks the word is with the keys again.
    const corner = await picture.boundingBox();
    await bench.page.mouse.move(corner.x + 3, corner.y + 3);
    await says(/^10 %/);
    await picture.evaluate((element) => {
      element.style.transform = '';
    });
    await bench.page.mouse.move(0, 0);
  });

  it('lays another run over it, and stays with a run that is kept', async () => {
    await frame.locator('.beside summary').click();
    await frame.locator('.choices label', { hasText: 'grey-tuned' }).click();
    await bench.until('both runs', async () => (await frame.locator('[data-name=balance] svg').textContent()).includes('grey-tuned'));
    await frame.locator('.beside summary').click();
    await frame.locator('button.pin').click();
    await bench.until('the pin', async () => (await frame.locator('button.pin').getAttribute('aria-pressed')) === 'true');
    await bench.command('View: Focus First Editor Group');
    await bench.goTo(lineOf('saturation '), 1);
    // Longer than a preview that follows would take.
    await bench.page.waitForTimeout(500);
    assert.match(await heading(), /^greyscale grey/);
  });

  it('copies a figure for a review, and as SVG', async () => {
    await frame.locator('[data-name=balance] button', { hasText: 'Copy for a review' }).click();
    const clipboard = () => bench.page.evaluate(() => navigator.clipboard.readText());
    await bench.until('a reference', async () => /^!\[.+\]\(aurora-55\.nitbook#grey\+grey-tuned\.balance\)$/.test(await clipboard()));
    await frame.locator('[data-name=balance] button', { hasText: 'Copy SVG' }).click();
    await bench.until('an SVG', async () => (await clipboard()).startsWith('<svg '));
  });

  it('comes back as it was when the window is loaded anew', async () => {
    // A page that is just loaded anew may come back as the workbench was some seconds before.
    const gone = bench.page.waitForEvent('domcontentloaded');
    await bench.command('Developer: Reload Window').catch(() => undefined);
    await gone;
    frame = await bench.webviewFrame('.figure svg');
    await bench.holds(async () => {
      assert.match(await frame.locator('[data-name=balance] svg').textContent(), /grey-tuned/);
      assert.match(await heading(), /^greyscale grey/);
      assert.equal(await frame.locator('button.pin').getAttribute('aria-pressed'), 'true');
    });
  });

  for (const theme of Object.keys(themes)) {
    it(`has nothing that keeps a reader out, in the theme ${theme}`, async () => {
      await bench.theme(theme);
      await frame.locator('details').evaluateAll((all) => {
        for (const details of all) details.open = true;
      });
      assert.deepEqual(await violationsIn(frame), []);
      await bench.screenshot(`preview-${theme}`);
    });
  }

  it('runs no script that is not its own', async () => {
    const ran = await frame.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'window.planted = true;';
      document.body.append(script);
      return window.planted === true;
    });
    assert.equal(ran, false);
    assert.deepEqual(bench.errors, []);
    assert.deepEqual(bench.offOrigin, []);
  });
});

describe('The preview of a session that is gone', () => {
  let bench;
  after(() => bench?.close());

  it('says so, and shows it again when it is back', async () => {
    const folder = scratchWorkspace();
    bench = await Workbench.open(stage.browser, stage.host, { folder });
    await bench.openFile('aurora-55.nitbook');
    await bench.command('Nitbook: Show Figures Beside');
    const frame = await bench.webviewFrame('.figure svg');
    const [file, away] = ['aurora-55.nitbook', 'away.txt'].map((name) => join(folder, name));
    // A workbench that has just opened a folder is told of changes only after some seconds.
    await bench.until('words', async () => {
      renameSync(file, away);
      await bench.page.waitForTimeout(2000);
      const words = await frame.locator('main').textContent();
      if (words === 'aurora-55.nitbook is not there any more.') return true;
      renameSync(away, file);
      return false;
    });
    await bench.screenshot('preview-gone');
    renameSync(away, file);
    await frame.locator('.figure svg').first().waitFor();
    assert.deepEqual(bench.errors, []);
  });
});
