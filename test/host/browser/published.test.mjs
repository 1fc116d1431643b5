// The page of a published review, opened as a file: nothing runs, nothing is fetched, and it can be read on a phone, at a desk and on paper.
import { strict as assert } from 'node:assert';
import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { violationsIn } from '../access.mjs';
import { shots } from '../browser.mjs';
import { buildCommandLine } from '../build.mjs';
import { stage } from '../stage.mjs';
import { scratchWorkspace } from '../workbench.mjs';

const HOSTILE_SESSION = `nitbook 1

session 2026-03-14
  title: <script>window.ran = 1</script>
display evil "\\"><img src=x onerror='window.ran = 2'>"
  firmware: </title></style></textarea><script>window.ran = 3</script>
mode evil-mode "<svg onload=window.ran=4>"
  Picture / <svg onload=window.ran=5>: </td></table><iframe srcdoc="<script>parent.ran=6</script>">
  Menu / javascript:window.ran=7: <details open ontoggle=window.ran=8>
target dark
  space: bt709
  curve: power 2.4
  luminance: 120 cd/m2
greyscale grey "'><style>*{display:none}</style>"
    level   Y
        50  22.0
       100  120.0
`;

const HOSTILE_REVIEW = `# <script>window.ran = 11</script> A review

[120 cd/m²](hostile.nitbook#dark.luminance "'onmouseover=window.ran=12") [x](javascript:window.ran=13) <b onclick=window.ran=14>b</b>
<img src=x onerror=window.ran=15> ![x](data:image/svg+xml,%3Csvg%20onload=%22window.ran=16%22%3E)

![<img src=x onerror=window.ran=17>](hostile.nitbook#grey.curve)

\`\`\`nitbook
settings hostile.nitbook#evil-mode
summary hostile.nitbook#session
method hostile.nitbook#session
\`\`\`

<svg><script>window.ran = 18</script></svg>
<iframe src="https://nowhere.invalid/"></iframe>
`;

describe('The page of a published review', () => {
  let folder;
  let program;
  const publish = (...args) => {
    const { status, stderr } = spawnSync(process.execPath, [program, 'publish', ...args], { cwd: folder, encoding: 'utf8' });
    assert.equal(status, 0, stderr);
  };

  before(() => {
    folder = scratchWorkspace();
    program = buildCommandLine();
    publish('aurora-55.md', 'meadow-65.md', '-o', 'out/');
    writeFileSync(join(folder, 'hostile.nitbook'), HOSTILE_SESSION);
    writeFileSync(join(folder, 'hostile.md'), HOSTILE_REVIEW);
    publish('hostile.md', '-o', 'out/');
    mkdirSync(shots, { recursive: true });
  });

  /** Opens a page of a width; `requests` are what it asks for beside itself. */
  async function open(name, { width = 1280, height = 900, ...options } = {}) {
    const context = await stage.browser.newContext({ viewport: { width, height }, ...options });
    const page = await context.newPage();
    const requests = [];
    const said = [];
    page.on('request', (request) => requests.push(request.url()));
    page.on('console', (message) => said.push(message.text()));
    page.on('pageerror', (error) => said.push(String(error)));
    await page.goto(pathToFileURL(join(folder, 'out', name)).href);
    return { page, requests: () => requests.slice(1).filter((url) => !url.startsWith('data:')), said, close: () => context.close() };
  }

  for (const [name, width] of [
    ['phone', 390],
    ['desk', 1280],
  ])
    for (const scheme of ['light', 'dark'])
      it(`is there for a ${name}, ${scheme}: nothing wider than it, and no reader kept out`, async () => {
        const { page, requests, said, close } = await open('aurora-55.html', { width, colorScheme: scheme, bypassCSP: true });
        assert.equal(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), 0);
        assert.deepEqual(await violationsIn(page), []);
        const shown = await page
          .locator('figure svg')
          .evaluateAll((all) => all.filter((svg) => svg.checkVisibility()).map((svg) => svg.getAttribute('width')));
        assert.deepEqual(new Set(shown), new Set([name === 'phone' ? '360' : '720']));
        const [paper] = await page.evaluate(() => getComputedStyle(document.body).backgroundColor.match(/\d+/g).map(Number));
        assert.ok(scheme === 'light' ? paper > 200 : paper < 60);
        await page.screenshot({ path: join(shots, `published-${name}-${scheme}.png`) });
        assert.deepEqual([requests(), said], [[], []]);
        await close();
      });

  it('shows the source of a claim that is pointed at, or comes to by the keys, beside the text or at its foot', async () => {
    for (const width of [1280, 800]) {
      const { page, close } = await open('aurora-55.html', { width });
      const claim = page.locator('.nitbook-claim', { hasText: '815 cd/m²' }).first();
      const source = claim.locator('.nitbook-source');
      assert.equal(await source.isVisible(), false);
      await claim.locator('a').hover();
      await source.waitFor();
      assert.ok((await source.textContent()).startsWith('Peak @10 % of hdr-window is 815 ± 18 cd/m²'));
      const [text, shown] = [await page.locator('article p').first().boundingBox(), await source.boundingBox()];
      if (width > 1000) assert.ok(shown.x > text.x + text.width && shown.x + shown.width <= width);
      else assert.ok(shown.width === width && shown.y > 800);
      await page.mouse.move(0, 0);
      await source.waitFor({ state: 'hidden' });
      await page.keyboard.press('Tab');
      await page.locator('.nitbook-source:visible').first().waitFor();
      assert.equal(await page.locator('.nitbook-source:visible').count(), 1);
      await claim.locator('a').click();
      const row = page.locator('tr:target');
      assert.match(await row.textContent(), /^Peak @10 %.*815 ± 18 cd\/m²/);
      await row.locator('a').first().click();
      await page.waitForFunction(() => location.hash.startsWith('#nitbook-q'));
      await close();
    }
  });

  it('is printed dark on light, with all of its tables and figures', async () => {
    const { page, close } = await open('aurora-55.html', { width: 700, colorScheme: 'dark' });
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    const [ink] = await page.evaluate(() => getComputedStyle(document.body).color.match(/\d+/g).map(Number));
    assert.ok(ink < 60);
    assert.equal(await page.locator('.nitbook-numbers:visible, .nitbook-source:visible').count(), 0);
    const scrolled = await page
      .locator('.nitbook-scroll:visible')
      .evaluateAll((all) => all.filter((each) => getComputedStyle(each).overflowX !== 'visible').length);
    assert.equal(scrolled, 0);
    const pdf = await page.pdf({ format: 'A4', preferCSSPageSize: true });
    assert.ok(pdf.length > 50_000);
    writeFileSync(join(shots, 'published.pdf'), pdf);
    await close();
  });

  it('leads to the other review, to the place that is meant', async () => {
    const { page, close } = await open('meadow-65.html');
    await page.getByRole('link', { name: 'four times what the Aurora has' }).click();
    await page.waitForURL(/aurora-55\.html#hdr$/);
    assert.equal(await page.locator('h2:target').textContent(), 'HDR');
    await close();
  });

  it('runs nothing, and fetches nothing, whatever the review and its session say', async () => {
    // Once under its own policy, once without: neither has anything to stop.
    for (const bypassCSP of [false, true]) {
      const { page, requests, said, close } = await open('hostile.html', { bypassCSP });
      for (const link of await page.locator('a').all()) await link.hover({ force: true, timeout: 1000 }).catch(() => undefined);
      await page.waitForTimeout(300);
      assert.equal(await page.evaluate(() => globalThis.ran), undefined);
      assert.equal(await page.locator('script, iframe, img, object, embed, link, [onclick], [onerror], [onload]').count(), 0);
      assert.ok(await page.locator('h1').isVisible(), 'no style of a title hides the page');
      assert.deepEqual([requests(), said], [[], []]);
      await close();
    }
  });
});
