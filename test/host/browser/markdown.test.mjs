// The built-in preview of Markdown with what reviews refer to, in its usual (strict) security.
import { strict as assert } from 'node:assert';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { violationsIn } from '../access.mjs';
import { themes, Workbench } from '../browser.mjs';
import { stage } from '../stage.mjs';
import { scratchWorkspace } from '../workbench.mjs';

const REVIEW = `# Halden Aurora 55, shown

The greyscale averages [1.5](aurora-55.nitbook#grey.de.avg), which others take for [1.9](aurora-55.nitbook#grey.de.avg),
and [1.5](aurora-55.nitbook#gray.de.avg) of nothing.

![Balance as shipped and as adjusted](aurora-55.nitbook#grey+grey-tuned.balance)

\`\`\`nitbook
settings aurora-55.nitbook#cinema-tuned

compare aurora-55.nitbook#grey
compare meadow-65.nitbook#grey

figure aurora-55.nitbook#grey.curve
figure meadow-65.nitbook#grey.curve

method aurora-55.nitbook#grey

cautions
\`\`\`

\`\`\`nitbook
setings hostile.nitbook#evil
summary hostile.nitbook#session

settings hostile.nitbook#evil
\`\`\`

\`\`\`js
const kept = 'as code';
\`\`\`
`;

const HOSTILE = `nitbook 1

session 2026-03-14
  title: <script>window.ran = 1</script>
display evil-55 "<img src=x onerror='window.ran = 2'>"
mode evil "\\"><script>window.ran = 3</script>"
  Picture / <svg onload=window.ran=4>: </td><script>window.ran = 5</script>
target dark
  space: bt709
  curve: power 2.4
  luminance: 120 cd/m2
greyscale grey "'><style>*{display:none}</style>"
    level   Y
        50  22.0
       100  120.0
`;

describe('The preview of Markdown', () => {
  let bench;
  let folder;
  let frame;

  before(async () => {
    folder = scratchWorkspace();
    writeFileSync(join(folder, 'shown.md'), REVIEW);
    writeFileSync(join(folder, 'hostile.nitbook'), HOSTILE);
    bench = await Workbench.open(stage.browser, stage.host, { folder, width: 1500, height: 1000 });
    await bench.openFile('shown.md');
    // The palette has the commands of Markdown once the editor has the focus.
    await bench.goTo(1, 1);
    await bench.command('Markdown: Open Preview to the Side');
    await show();
  });
  after(() => bench?.close());

  /** A preview that is refreshed is another frame. */
  const show = async () => {
    frame = await bench.webviewFrame('.nitbook-figure .nitbook-wide svg[data-figure]');
  };
  const texts = (selector) => frame.locator(selector).allInnerTexts();
  /** What is seen in a preview that is still refreshed, as more comes to be known of its sessions, has to hold in the end. */
  const inPreview = (what, check) =>
    it(what, () =>
      bench.holds(async () => {
        await show();
        await check();
      }),
    );

  inPreview('marks claims by what became of them, each with a line or a sign of its own and with words', async () => {
    const claims = frame.locator('a.nitbook-claim');
    assert.deepEqual(await claims.evaluateAll((all) => all.map(({ className }) => className.split('nitbook-').at(-1))), [
      'holds',
      'wrong',
      'broken',
    ]);
    const titles = await claims.evaluateAll((all) => all.map(({ title }) => title));
    assert.match(titles[0], /^ΔE 2000 average of grey is 1\.53 /);
    assert.equal(titles[1], '"1.9" does not hold: ΔE 2000 average of grey is 1.53.');
    assert.match(titles[2], /There is no "gray"/);
    const looks = await claims.evaluateAll((all) =>
      all.map((claim) => [getComputedStyle(claim).textDecorationStyle, getComputedStyle(claim, '::after').content.includes('▲')]),
    );
    assert.deepEqual(looks, [
      ['dotted', false],
      ['wavy', true],
      ['wavy', true],
    ]);
  });

  inPreview('draws images and fenced blocks in the colours of the theme, and leaves other blocks alone', async () => {
    assert.deepEqual(await frame.locator('.nitbook-wide svg').evaluateAll((all) => all.map((svg) => svg.dataset.figure)), [
      'balance',
      'curve',
    ]);
    assert.deepEqual(await texts('figcaption'), ['Balance as shipped and as adjusted']);
    assert.deepEqual(await texts('.nitbook-table caption'), [
      'Settings of Cinema, as adjusted',
      'Greyscale',
      "<img src=x onerror='window.ran = 2'>, 2026-03-14",
      'Settings of "><script>window.ran = 3</script>',
    ]);
    assert.equal(await frame.locator('.nitbook-facts dt').first().textContent(), 'Display');
    assert.equal(await frame.locator('.nitbook-care li').count(), 4);
    assert.match((await texts('.nitbook-problem'))[0], /setings .* is no instruction: .* Perhaps settings\?/);
    assert.equal(await frame.locator('pre code.language-js').count(), 1);
    const [surface, page] = await frame
      .locator('.nitbook-wide svg > rect')
      .first()
      .evaluate((rect) => [
        getComputedStyle(rect).fill,
        getComputedStyle(document.documentElement).getPropertyValue('--vscode-editor-background'),
      ]);
    const shown = await frame.evaluate((colour) => {
      const element = document.createElement('p');
      element.style.color = colour;
      document.body.append(element);
      const { color } = getComputedStyle(element);
      element.remove();
      return color;
    }, page);
    assert.equal(surface, shown);
  });

  inPreview('runs nothing that a session says, and keeps the policy of the preview', async () => {
    assert.equal(await frame.evaluate(() => globalThis.ran), undefined);
    assert.equal(await frame.locator('.markdown-body script, .markdown-body img, .markdown-body style').count(), 0);
    const policy = await frame.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
    assert.match(policy, /default-src 'none'/);
    assert.doesNotMatch(policy, /script-src[^;]*unsafe/);
    assert.equal(await frame.locator('#code-csp-warning').count(), 0);
    assert.deepEqual(
      (await violationsIn(frame)).filter(({ at }) => at.some((html) => html.includes('nitbook'))),
      [],
    );
  });

  inPreview('keeps the lines that the editor scrolls by', async () => {
    const lines = await frame
      .locator('figure.nitbook-figure[data-line], div.nitbook[data-line]')
      .evaluateAll((all) => all.map(({ dataset }) => Number(dataset.line)));
    const of = (start) => REVIEW.split('\n').flatMap((line, i) => (line.startsWith(start) ? [i] : []));
    assert.deepEqual(lines, [...of('![Balance'), ...of('```nitbook')]);
  });

  it('follows a session that is written on disk, and one that is typed in', async () => {
    const status = async () => {
      await show();
      return (await frame.locator('a.nitbook-claim').first().getAttribute('class')).split('nitbook-').at(-1);
    };
    const path = join(folder, 'aurora-55.nitbook');
    const text = readFileSync(path, 'utf8');
    const line = text.split('\n').findIndex((each) => /^ +100 +120\.8 /.test(each)) + 1;
    const row = text.split('\n')[line - 1];
    writeFileSync(path, text.replace(row, row.replace('120.8', '190.8')));
    await bench.until('a claim that has fallen', async () => (await status()) === 'wrong');
    writeFileSync(path, text);
    await bench.until('the claim holds again', async () => (await status()) === 'holds');
    await bench.page.locator('.tab', { hasText: 'shown.md' }).first().click();
    await bench.openFile('aurora-55.nitbook');
    await bench.typeAt(line, row.indexOf('120.8') + 2, '7');
    await bench.until('the claim has fallen as one types', async () => (await status()) === 'wrong');
    await bench.undo();
    await bench.until('the claim holds once more', async () => (await status()) === 'holds');
    await bench.openFile('shown.md');
  });

  for (const theme of Object.keys(themes)) {
    it(`is there in the theme ${theme}`, async () => {
      await bench.theme(theme);
      for (const [i, selector] of ['h1', '.nitbook-table', '.nitbook-facts'].entries()) {
        await bench.until(`${selector} in view`, async () => {
          await show();
          await frame
            .locator(selector)
            .first()
            .evaluate((element) => element.scrollIntoView({ block: 'start' }), undefined, { timeout: 2000 });
          return true;
        });
        await bench.page.waitForTimeout(300);
        await bench.screenshot(`markdown-${i}-${theme}`);
      }
      assert.deepEqual(bench.errors, []);
    });
  }

  it('is published as a page from the editor, after a word on what does not hold', async () => {
    await bench.openFile('shown.md');
    await bench.goTo(1, 1);
    await bench.command('Nitbook: Publish Review');
    const dialog = bench.page.locator('.monaco-dialog-box');
    await dialog.filter({ hasText: '3 claims of this review do not hold' }).waitFor();
    await dialog.getByRole('button', { name: 'Publish Marked' }).click();
    await bench.pick('Page');
    const input = bench.quick.locator('input.input');
    await bench.until('where to', async () => (await input.inputValue()).endsWith('shown.html'));
    await bench.page.keyboard.press('Enter');
    const path = join(folder, 'shown.html');
    const page = await bench.until('the page', () => existsSync(path) && readFileSync(path, 'utf8'));
    assert.match(page, /▲ does not hold: it is 1\.53/);
    assert.match(page, /▲ its source is not there/);
    assert.match(page, /data-figure="balance"/);
  });
});
