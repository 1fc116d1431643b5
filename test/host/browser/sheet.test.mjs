// The reading sheet with keys and mouse, over the same text as the editor beside it.
import { strict as assert } from 'node:assert';
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { violationsIn } from '../access.mjs';
import { themes, Workbench } from '../browser.mjs';
import { greyscale, read, reading, Sheet, write } from '../sheet.mjs';
import { playSheetScenes, writeDay } from '../sheetScenes.mjs';
import { stage } from '../stage.mjs';
import { scratchWorkspace } from '../workbench.mjs';

/** So many tests leave a cell half typed, each in a file of its own. */
const HALVES = 6;

const levels21 = Array.from({ length: 21 }, (_, i) => i * 5);

describe('The reading sheet', () => {
  let folder;
  let bench;
  let page;
  const open = async (name, text, line, column) => {
    if (text !== undefined) write(folder, name, text);
    return Sheet.open(bench, name, line, column);
  };
  /** The bytes on disk, once what is on its way is saved. */
  const saved = async (name) => {
    await bench.until(`${name} is saved`, async () => {
      await page.keyboard.press('Control+S');
      await page.waitForTimeout(200);
      return !(await bench.isDirty(name));
    });
    return read(folder, name);
  };

  before(async () => {
    folder = scratchWorkspace();
    // The search for files keeps what it found: all of these are there from the start.
    for (let i = 1; i <= HALVES; i++) write(folder, `half${i}.nitbook`, '');
    mkdirSync(join(folder, '.vscode'));
    write(folder, '.vscode/settings.json', JSON.stringify({ 'files.readonlyInclude': { '**/locked.nitbook': true } }));
    bench = await Workbench.open(stage.browser, stage.host, { folder });
    page = bench.page;
  });
  afterEach(async function () {
    await Workbench.lookAtFailed(this.currentTest);
    await bench.command('View: Close All Editors');
    const drop = page.locator('.monaco-dialog-box').getByRole('button', { name: "Don't Save" });
    await bench.until('nothing is open', async () => {
      if (await drop.isVisible()) await drop.click();
      return (await page.locator('.tab').count()) === 0;
    });
    assert.deepEqual(bench.errors, []);
  });
  after(() => bench?.close());

  it('has the figures of a reading in the frame after Enter', async () => {
    const sheet = await open('ahead.nitbook', greyscale([100, 50, 40, 30]));
    await sheet.input.waitFor();
    await sheet.focus();
    for (const text of reading(100)) await sheet.enter(text);
    await sheet.settled();
    /** What is there as ΔE of a level in the frame after its last Enter, and what is there in the end. */
    const deltaEs = async (level) => {
      const [Y, x, y] = reading(level);
      await sheet.enter(Y);
      await sheet.enter(x);
      await sheet.settled();
      await page.keyboard.type(y);
      await page.waitForTimeout(1000);
      const deltaE = sheet.level(level).locator('td.figure').first();
      assert.equal((await deltaE.textContent()).trim(), '', 'no ΔE without chromaticity');
      await sheet.frame.evaluate(() => {
        window.addEventListener(
          'keydown',
          ({ target }) => {
            const row = target.closest('.sheet').querySelector('tr.in-hand');
            // The page draws in this turn; an answer of the host takes longer than a frame.
            requestAnimationFrame(() => {
              window.inFrame = row.querySelector('td.figure').textContent.trim();
            });
          },
          { capture: true, once: true },
        );
      });
      await page.keyboard.press('Enter');
      await sheet.settled();
      await bench.until('the verdict', async () => (await deltaE.locator('.word').textContent()) !== '');
      return [await sheet.frame.evaluate(() => window.inFrame), await deltaE.locator('b').textContent()];
    };
    // A busy machine may not have foreseen it in a second.
    let [seen, came] = await deltaEs(50);
    for (const level of [40, 30]) if (seen === '') [seen, came] = await deltaEs(level);
    assert.match(seen, /^\d+\.\d+$/);
    assert.equal(came, seen, 'what was foreseen is what came');
  });

  it('takes 21 readings with the keyboard alone, and gives the same bytes as typing in the text', async () => {
    write(folder, 'text21.nitbook', greyscale(levels21));
    const sheet = await open('sheet21.nitbook', greyscale(levels21));
    assert.equal(await bench.isDirty('sheet21.nitbook'), false);
    await sheet.input.waitFor();
    for (const level of levels21) for (const text of reading(level)) await sheet.enter(text);
    await sheet.settled();
    await bench.until('the run is complete', async () => (await sheet.said.textContent()).includes('All is taken'));
    const before = greyscale(levels21).split('\n');
    const after = (await saved('sheet21.nitbook')).split('\n');
    assert.deepEqual(
      after.flatMap((line, i) => (line === before[i] ? [] : [line.trim().split(/ +/)[0]])),
      levels21.map(String),
    );

    await bench.openFile('text21.nitbook');
    await bench.goTo(23, 1);
    for (const level of levels21) {
      await page.keyboard.press('Home');
      await page.keyboard.press('Home');
      await page.keyboard.press('Shift+End');
      await page.keyboard.type(`    ${level} ${reading(level).join(' ')}`);
      await page.keyboard.press('Escape');
      await page.keyboard.press('ArrowDown');
    }
    await bench.command('Format Document');
    const typed = await saved('text21.nitbook');
    await bench.tab('sheet21.nitbook').click();
    await bench.goTo(23, 1);
    await bench.command('Format Document').catch(() => undefined);
    assert.equal(typed, read(folder, 'sheet21.nitbook'));
  });

  it('flags a wrong reading on its line, mends it, takes the mend back and does it again', async () => {
    const levels = [0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100];
    const sheet = await open('slip.nitbook', greyscale(levels));
    await sheet.input.waitFor();
    for (const level of levels) for (const text of reading(level)) await sheet.enter(text === '6.672' ? '66.72' : text);
    await sheet.level(30).locator('td.cell').first().click();
    const flagged = sheet.row('66.72').locator('td.warning');
    await bench.holds(async () => assert.equal((await flagged.textContent()).trim(), '66.72'));
    await bench.until('what the last reading said', async () => (await sheet.said.textContent()).includes('66.72'));
    const reads = (text) => bench.until(`${text} read`, async () => (await sheet.cells(3))[3] === text);
    await page.keyboard.press('Control+.');
    await reads('6.672');
    await page.keyboard.press('Control+z');
    await reads('66.72');
    await page.keyboard.press('Control+y');
    await reads('6.672');
    assert.match(await saved('slip.nitbook'), /30 {2}6\.672 {5}0\.3130 {3}0\.3290\n/);
  });

  it('shows the target before the reading, and figure, verdict and direction after it', async () => {
    const sheet = await open('aim.nitbook', greyscale([50, 100]));
    await bench.until('the target', async () => (await sheet.cells(0))[2] === '22.74');
    await bench.holds(async () =>
      assert.match(await sheet.frame.locator('.entry .patch').textContent(), /50 %\s*Code 502 \(10 bit, limited\)/),
    );
    for (const text of ['24.5', '0.3050', '0.3290']) await sheet.enter(text);
    await bench.until('the figure', async () => /\d+\.\d\d .*(within|undecided|beyond)/.test((await sheet.cells(0))[6]));
    await bench.holds(async () => {
      assert.equal((await sheet.cells(0)).at(-1), 'Greenish, cool');
      assert.match(await sheet.said.textContent(), /Greenish by ΔE \d.*, cool by \d.*, too bright by \d/);
    });
  });

  it('strikes out and takes again, repeats, and adds levels with one key or word each', async () => {
    const sheet = await open('again.nitbook', greyscale([20, 40]));
    for (const text of reading(20)) await sheet.enter(text);
    await page.keyboard.press('*');
    await bench.until('the reading to take again', async () => (await sheet.place()) === 'Y of 20 %');
    for (const text of ['2.55', '0.3130', '0.3290']) await sheet.enter(text);
    await page.keyboard.press('+');
    await bench.until('the repeat', async () => (await sheet.place()) === 'Y of 20 %');
    await sheet.frame.getByRole('button', { name: 'Add levels' }).click();
    await sheet.frame.locator('dialog input:focus').waitFor();
    await page.keyboard.type('30, 60');
    await page.keyboard.press('Enter');
    await sheet.level(60).waitFor();
    const text = (await saved('again.nitbook')).split('\n').slice(22, 28);
    assert.deepEqual(text, [
      '  ~     20  2.521     0.3129   0.3290',
      '        20  2.55      0.3130   0.3290',
      '        20  ?         ?        ?',
      '        30  ?         ?        ?',
      '        40  ?         ?        ?',
      '        60  ?         ?        ?',
    ]);
    for (let i = 0; i < 3; i++) await page.keyboard.press('Control+z');
    await bench.until('the first reading again', async () => (await sheet.frame.locator('.grid tr.struck').count()) === 1);
  });

  it('measures a run again for the mode as adjusted', async () => {
    const sheet = await open('adjusted.nitbook', greyscale([20, 40]));
    await sheet.frame.getByRole('button', { name: 'Measure again' }).click();
    await sheet.frame.getByRole('button', { name: /cinema-adjusted, new/ }).click();
    await bench.until('the new run', async () => (await sheet.frame.locator('h1').textContent()).includes('grey-cinema-adjusted'));
    const text = await saved('adjusted.nitbook');
    assert.ok(text.includes('  .input: HDMI 1\nmode cinema-adjusted "Cinema, as adjusted" from cinema\n'), text);
    assert.ok(text.includes('greyscale grey-cinema-adjusted "Cinema, as adjusted" like grey\n  mode: cinema-adjusted\n'), text);
    await page.keyboard.press('Control+z');
    await bench.until('one step of undo', async () => (await sheet.frame.locator('.day button', { hasText: 'adjusted' }).count()) === 0);
  });

  it('looks at pasted rows before they go in, and asks about commas', async () => {
    const sheet = await open('paste.nitbook', greyscale([20, 40, 60]));
    await page.evaluate(() =>
      navigator.clipboard.writeText('level\tY\tx\ty\n40\t13,3\t0,3121\t0,3280\n60\t35,2\t0,3119\t0,3275\n80\t70,2\t-\t-\n'),
    );
    await sheet.focus();
    await page.keyboard.press('Control+V');
    await sheet.frame.getByRole('button', { name: 'Decimal commas' }).click();
    const panel = sheet.frame.locator('dialog');
    await panel.locator('tr', { hasText: '13.3' }).waitFor();
    await panel.locator('tr', { hasText: '70.2' }).filter({ hasText: 'new row' }).waitFor();
    await page.keyboard.press('Enter');
    await sheet.row('70.2').waitFor();
    assert.match(
      await saved('paste.nitbook'),
      /40 {2}13\.3 {6}0\.3121 {3}0\.3280\n {8}60 {2}35\.2 {6}0\.3119 {3}0\.3275\n {8}80 {2}70\.2 {6}- {8}-\n/,
    );
  });

  it('spreads a reading that is typed whole over its cells, and asks of a comma once', async () => {
    const sheet = await open('whole.nitbook', greyscale([20, 40, 60]));
    await sheet.enter('2.52 0.3128 0.3290');
    await sheet.frame.locator('dialog tr', { hasText: '2.52' }).waitFor();
    await page.keyboard.press('Enter');
    await bench.until('the next row', async () => (await sheet.place()) === 'Y of 40 %');
    await sheet.enter('13,3');
    await bench.until('the question', async () => (await sheet.said.textContent()).includes('is the comma a decimal one'));
    await page.keyboard.press('Enter');
    await bench.until('the next cell', async () => (await sheet.place()) === 'x of 40 %');
    await sheet.enter('0,3121');
    await bench.until('the last cell', async () => (await sheet.place()) === 'y of 40 %');
    await sheet.settled();
    const text = await saved('whole.nitbook');
    assert.match(text, /20 {2}2\.52 {6}0\.3128 {3}0\.3290\n {8}40 {2}13\.3 {6}0\.3121 {3}\?\n/);
  });

  it('proves who has Ctrl+Z: what is half typed first, then the document, step by step', async () => {
    const sheet = await open('undo.nitbook', greyscale([20, 40]));
    await sheet.enter('2.52');
    await sheet.enter('0.3128');
    await sheet.settled();
    await page.keyboard.type('0.32');
    await page.keyboard.press('Control+z');
    await bench.holds(async () => {
      assert.equal(await sheet.input.inputValue(), '');
      assert.equal(await sheet.place(), 'y of 20 %');
      assert.equal((await sheet.cells(0))[4], '0.3128', 'nothing undone yet');
    });
    await page.keyboard.press('Control+z');
    await bench.until('the second reading taken back', async () => (await sheet.cells(0))[4].startsWith('?'));
    await page.keyboard.press('Control+z');
    await bench.until('the first', async () => !(await bench.isDirty('undo.nitbook')));
    await page.keyboard.press('Control+Shift+z');
    await bench.until('done again', async () => (await sheet.cells(0))[3] === '2.52');
    await bench.command('Undo').catch(() => undefined);
  });

  describe('while a cell is half typed', () => {
    const before = greyscale([20, 40, 60]);
    let sheet;
    let name;
    let count = 0;
    const change = (to) => write(folder, name, to);
    const half = async () => {
      name = `half${++count}.nitbook`;
      sheet = await open(name, before);
      await sheet.level(40).locator('td.cell').first().click();
      await page.keyboard.type('13.');
    };
    const isHeld = () =>
      bench.holds(async () => {
        assert.equal(await sheet.input.inputValue(), '13.');
        assert.equal(await sheet.input.evaluate((input) => input === document.activeElement), true);
      });

    it('the same line changes outside: both are shown, and neither is lost without a word', async () => {
      await half();
      change(before.replace('40  ?', '40  9'));
      await bench.until('yours and theirs', async () => /Yours 13\.; in the file now 9\b/.test(await sheet.said.textContent()), 30_000);
      await isHeld();
      await page.keyboard.type('3');
      await page.keyboard.press('Enter');
      await bench.until('asked', async () => (await sheet.said.locator('.question').count()) === 1);
      assert.equal(await bench.isDirty(name), false);
      await page.keyboard.press('Enter');
      await sheet.row('13.3').waitFor();
      assert.equal(await saved(name), before.replace('40  ?', '40  13.3').replace('13.3         ', '13.3      '));
    });

    it('its line is deleted outside: what was typed is kept until Esc', async () => {
      await half();
      change(before.replace('        40  ?         ?        ?\n', ''));
      await bench.until('the line is gone', async () => (await sheet.said.textContent()).includes('Your 13. is kept'), 30_000);
      await page.keyboard.press('Escape');
      await bench.until('let go of', async () => !(await sheet.said.textContent()).includes('is kept'));
      assert.equal(await bench.isDirty(name), false);
    });

    it('its block is renamed outside: it goes on', async () => {
      await half();
      const renamed = before.replace('greyscale grey', 'greyscale gray');
      change(renamed);
      await bench.until('the new name', async () => (await sheet.frame.locator('h1').textContent()).includes('gray'), 30_000);
      await isHeld();
      await page.keyboard.type('3');
      await page.keyboard.press('Enter');
      await sheet.settled();
      assert.equal(await saved(name), renamed.replace('40  ?         ', '40  13.3      '));
    });

    it('the file is reverted: the half-typed cell stays', async () => {
      await half();
      await page.keyboard.press('Escape');
      await sheet.enter('13.1');
      await page.keyboard.type('0.3');
      await bench.command('File: Revert File');
      await bench.until('the file as it was', async () => (await sheet.cells(1))[3].startsWith('?'));
      await sheet.focus();
      await bench.holds(async () => {
        assert.equal(await sheet.input.inputValue(), '0.3');
        assert.equal(await sheet.place(), 'x of 40 %');
      });
    });

    it('the text is edited beside it: it stays, and goes on where its line went', async () => {
      await half();
      await bench.command('View: Move Editor into Next Group');
      sheet = await Sheet.shown(bench);
      await bench.until('the half-typed cell', async () => (await sheet.input.inputValue()) === '13.');
      await page.locator('.editor-group-container .view-lines').first().click();
      await bench.goTo(22, 99);
      await page.keyboard.press('Enter');
      await page.keyboard.type('10 0.48 - -');
      await bench.until('the new row', async () => (await sheet.cells(0))[3] === '0.48');
      await bench.holds(async () => assert.equal(await sheet.input.inputValue(), '13.'));
      await sheet.input.click();
      await bench.holds(async () => assert.equal(await sheet.place(), 'Y of 40 %'));
      await page.keyboard.press('End');
      await page.keyboard.type('3');
      await page.keyboard.press('Enter');
      await sheet.settled();
      assert.match(await saved(name), / 10 +0\.48 +- +-\n {8}20 {2}\? {9}\? {8}\?\n {8}40 {2}13\.3 {6}\? {8}\?\n/);
    });

    it('it is hidden and shown again, and the workbench loads anew: it comes back', async () => {
      await half();
      await bench.openFile('meadow-65.nitbook');
      await bench.page.locator(`.tab[aria-label*="${name}"]`).last().click();
      sheet = await Sheet.shown(bench);
      await bench.holds(async () => {
        assert.equal(await sheet.input.inputValue(), '13.');
        assert.equal(await sheet.place(), 'Y of 40 %');
      });
      await bench.command('Developer: Reload Window');
      await page.locator(`.tab.active[aria-label*="${name}"]`).waitFor({ timeout: 60_000 });
      sheet = await Sheet.shown(bench);
      await bench.holds(async () => {
        assert.equal(await sheet.input.inputValue(), '13.');
        assert.equal(await sheet.place(), 'Y of 40 %');
      });
    });
  });

  it('takes 200 distinct values at 40 a second, and gives the original back after as many undos', async () => {
    const before = greyscale(Array.from({ length: 67 }, (_, i) => i + 1));
    const sheet = await open('fast.nitbook', before);
    await sheet.input.waitFor();
    const values = Array.from({ length: 200 }, (_, i) => `0.${1001 + i}`);
    // Keys as a driver program sends them, which waits for nobody.
    const keys = await page.context().newCDPSession(page);
    const enter = { key: 'Enter', code: 'Enter', windowsVirtualKeyCode: 13 };
    const sent = [];
    const start = Date.now();
    for (const [i, text] of values.entries()) {
      sent.push(keys.send('Input.insertText', { text }));
      for (const type of ['rawKeyDown', 'keyUp']) sent.push(keys.send('Input.dispatchKeyEvent', { type, ...enter }));
      await page.waitForTimeout(Math.max(0, start + (i + 1) * 25 - Date.now()));
    }
    await Promise.all(sent);
    await bench.until('all typed', async () => (await sheet.place()) === 'y of 67 %');
    await sheet.settled();
    const after = await saved('fast.nitbook');
    assert.deepEqual(
      values.filter((value) => !after.includes(value)),
      [],
    );
    for (let i = 0; i < 200; i++) await page.keyboard.press('Control+z');
    await bench.until('all taken back', async () => (await sheet.place()) === 'Y of 1 %', 30_000);
    await bench.until('nothing typed left', async () => (await sheet.cells(0))[3].startsWith('?'));
    assert.equal(await saved('fast.nitbook'), before);
  });

  it('keeps CRLF, and changes nothing but the lines that were typed', async () => {
    const before = greyscale([20, 40, 60], '\r\n');
    const sheet = await open('crlf.nitbook', before);
    await sheet.enter('2.52');
    await sheet.settled();
    const after = await saved('crlf.nitbook');
    assert.equal(after, before.replace('20  ?         ', '20  2.52      '));
    write(folder, 'before.nitbook', before);
    let diff = '';
    try {
      execFileSync('git', ['diff', '--no-index', '--numstat', 'before.nitbook', 'crlf.nitbook'], { cwd: folder, encoding: 'utf8' });
    } catch (error) {
      diff = error.stdout;
    }
    assert.match(diff, /^1\t1\t/);
  });

  it('a save waits for what was just typed', async () => {
    const sheet = await open('save.nitbook', greyscale([20, 40]));
    await sheet.input.waitFor();
    await page.keyboard.type('2.52');
    await page.keyboard.press('Control+S');
    await bench.until('it is on disk', () => read(folder, 'save.nitbook').includes('20  2.52'));
    await bench.until('nothing is left to save', async () => !(await bench.isDirty('save.nitbook')));
  });

  it('shows lines that cannot be read as they are, and writes around them', async () => {
    const strange = greyscale([20, 40]).replace('        40', '    contrast deep\n  # the lamp was on\n        40');
    const sheet = await open('strange.nitbook', strange);
    await sheet.frame.locator('.grid td.other', { hasText: 'contrast deep' }).waitFor();
    await sheet.frame.locator('.grid td.comment', { hasText: 'the lamp was on' }).waitFor();
    await sheet.enter('2.52');
    await sheet.settled();
    assert.equal(await saved('strange.nitbook'), strange.replace('20  ?         ', '20  2.52      '));
  });

  it('edits fields in the words of the format: own, taken over, taken out, to be noted', async () => {
    const sheet = await open('aurora.nitbook', undefined, 38, 4);
    const field = (name) => sheet.frame.locator('.field', { has: sheet.frame.locator(`.name:text-is("${name}")`) });
    await field('Motion / Smoothing').locator('input').fill('low');
    await page.keyboard.press('Enter');
    await bench.until('it is noted', async () => (await field('Motion / Smoothing').locator('em').count()) === 0);
    await sheet.frame.locator('.day button', { hasText: 'cinema-tuned' }).click();
    await field('Motion / Smoothing').locator('.aside', { hasText: 'taken out here; low in cinema' }).waitFor();
    await bench.holds(async () => assert.match(await field('Picture / Gamma').getAttribute('class'), /taken/));
    await field('Picture / Gamma').locator('input').fill('2.2');
    await page.keyboard.press('Enter');
    await field('Picture / Gamma').locator('.aside', { hasText: 'instead of 2.4 from cinema' }).waitFor();
    const text = await saved('aurora.nitbook');
    assert.ok(text.includes('  Motion / Smoothing: low\n'));
    assert.match(
      text,
      /mode cinema-tuned from cinema\n {2}White \/ Gain red: -3\n {2}Motion \/ Smoothing: ~\n {2}Picture \/ Gamma: 2\.2\n/,
    );
  });

  it('writes what is half typed when a property is gone to, and has the keyboard in blocks without a table', async () => {
    const sheet = await open('leave.nitbook', greyscale([20, 40]));
    await sheet.focus();
    await page.keyboard.type('2.52');
    await sheet.frame.locator('summary', { hasText: 'Properties' }).click();
    await sheet.frame.locator('.fields input').first().click();
    await bench.until('it is written', async () => (await sheet.cells(0))[3] === '2.52');
    await sheet.level(40).locator('td.cell').first().click();
    await page.keyboard.press('Alt+ArrowDown');
    const name = () => sheet.frame.evaluate(() => document.activeElement?.closest('.fields') && document.activeElement.ariaLabel);
    await bench.holds(async () => assert.equal(await name(), 'title'));
    await page.keyboard.press('Alt+ArrowUp');
    await bench.holds(async () => assert.equal(await sheet.place(), 'x of 20 %'));
    assert.match(await saved('leave.nitbook'), / 20 +2\.52 +\? +\?\n/);
  });

  it('keeps the answer to a question until it is written, and says why it is not', async () => {
    const sheet = await open('asked.nitbook', greyscale([20, 40]));
    await sheet.frame.getByRole('button', { name: 'Add levels' }).click();
    const input = sheet.frame.locator('dialog input');
    await input.fill('30, abc');
    await page.keyboard.press('Enter');
    await sheet.frame.locator('dialog .warning').waitFor();
    assert.equal(await input.inputValue(), '30, abc');
    await input.fill('30');
    await page.keyboard.press('Enter');
    await sheet.level(30).waitFor();
    await bench.until('the question is closed', async () => (await sheet.frame.locator('dialog').count()) === 0);
    await bench.holds(async () => assert.equal(await sheet.place(), 'Y of 20 %'));
  });

  it('writes nothing into a file that is to be read only, and says so', async () => {
    const text = greyscale([20, 40]);
    const sheet = await open('locked.nitbook', text);
    await sheet.frame.locator('.notice', { hasText: 'cannot be written' }).waitFor();
    await sheet.enter('2.52');
    assert.equal(await sheet.frame.locator('.grid td.sent, .grid td.typing').count(), 0);
    assert.equal(read(folder, 'locked.nitbook'), text);
  });

  it('takes back what the workbench would never save', async () => {
    const sheet = await open('frozen.nitbook', greyscale([20, 40]));
    await bench.command('File: Set Active Editor Read-only in Session');
    await sheet.focus();
    await sheet.enter('2.52');
    await bench.until('why it is not written', async () => (await sheet.frame.locator('td.refused').count()) === 1);
    await bench.openFile('frozen.nitbook');
    await bench.until('nothing to save', async () => !(await bench.isDirty('frozen.nitbook')));
    await bench.command('File: Reset Active Editor Read-only in Session');
  });

  it('writes a reading though the workbench is busy for longer than that takes', async () => {
    const sheet = await open('busy.nitbook', greyscale([20, 40]));
    await sheet.input.waitFor();
    await sheet.focus();
    // One thing is done every one and a half seconds.
    await page.evaluate(() => {
      globalThis.busy = setInterval(() => {
        const end = Date.now() + 1500;
        while (Date.now() < end);
      }, 0);
    });
    await sheet.enter('2.52');
    await sheet.enter('0.3128');
    await page.waitForTimeout(5000);
    await page.evaluate(() => clearInterval(globalThis.busy));
    await bench.until('both readings', async () => (await sheet.cells(0)).slice(3, 5).join() === '2.52,0.3128');
    assert.match(await saved('busy.nitbook'), / 20 +2\.52 +0\.3128 +\?\n/);
  });

  it('goes to the text at the same place, and back', async () => {
    const text = read(folder, 'aurora.nitbook');
    const lineOf = (start) => text.split('\n').findIndex((line) => line.startsWith(start)) + 1;
    const sheet = await open('place.nitbook', text, lineOf('        30  6.70'), 23);
    await bench.holds(async () => assert.equal(await sheet.place(), 'x of 30 %'));
    await sheet.page.keyboard.press('Tab');
    await bench.until('across', async () => (await sheet.place()) === 'y of 30 %');
    await page.locator('.editor-actions .action-label[aria-label^="Open as Text"]').first().click();
    await bench.until('the cursor there', async () => (await bench.position()).line === lineOf('        30  6.70'));
    await bench.goTo(lineOf('        40  ?'), 12);
    await bench.command('Nitbook: Open in Reading Sheet');
    await bench.until('the place of the cursor', async () => (await (await Sheet.shown(bench)).place()) === 'Y of 40 %');
  });

  it('has nothing that axe finds, and says how many rows there are though few are drawn', async () => {
    const many = greyscale(Array.from({ length: 3000 }, (_, i) => (i + 1) / 30));
    const sheet = await open('many.nitbook', many);
    await sheet.rows.first().waitFor();
    const grid = sheet.frame.locator('[role=grid]');
    await bench.holds(async () => assert.equal(await grid.getAttribute('aria-rowcount'), '3002'));
    assert.ok((await sheet.rows.count()) < 80);
    await sheet.focus();
    for (let i = 0; i < 30; i++) await page.keyboard.press('PageDown');
    const inHand = sheet.frame.locator('.grid tr.in-hand');
    await bench.holds(async () => assert.equal(await inHand.getAttribute('aria-rowindex'), '302'));
    assert.deepEqual(await violationsIn(sheet.frame), []);
  });

  it('runs no script that is not its own, and takes no message that is not of its protocol', async () => {
    const sheet = await open('rules.nitbook', greyscale([20, 40]));
    await sheet.input.waitFor();
    const shown = () => sheet.frame.locator('.grid').textContent();
    const before = await shown();
    const ran = await sheet.frame.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'window.planted = true;';
      document.body.append(script);
      const image = document.createElement('div');
      image.innerHTML = '<img src="x" onerror="window.planted = true">';
      document.body.append(image);
      for (const data of [{ kind: 'state' }, [{ kind: 'patch', epoch: 1 }], null, 'state']) window.postMessage(data, '*');
      return new Promise((resolve) => setTimeout(() => resolve(window.planted === true), 300));
    });
    assert.equal(ran, false);
    assert.equal(await shown(), before);
    await sheet.focus();
    await sheet.enter('2.52');
    await bench.until('it goes on', async () => (await sheet.cells(0))[3] === '2.52');
    assert.deepEqual(bench.offOrigin, []);
  });
});

describe('What there is to see of the sheet', () => {
  let folder;
  let bench;
  before(async () => {
    folder = scratchWorkspace();
    writeDay(folder);
    bench = await Workbench.open(stage.browser, stage.host, { folder, width: 1400, height: 850 });
  });
  after(() => bench?.close());

  for (const theme of Object.keys(themes)) {
    it(`is there in the theme ${theme}`, async () => {
      await bench.theme(theme);
      const taken = [];
      await playSheetScenes(bench, async (name, frame) => {
        await bench.page.waitForTimeout(400);
        assert.deepEqual(await violationsIn(frame), [], name);
        taken.push(await bench.screenshot(`${name}-${theme}`));
      });
      assert.equal(taken.length, 5);
      assert.ok(taken.every(existsSync));
      assert.deepEqual(bench.errors, []);
    });
  }
});
