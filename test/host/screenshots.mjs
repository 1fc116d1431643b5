// Takes the pictures of the README anew, from the extension as it is now: npm run screenshots. With --all, every scene in every theme, into
// .cache/host/shots.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { launch, themes, Workbench } from './browser.mjs';
import { buildExtension, packageExtension, publishedExample } from './build.mjs';
import { openScenes, pictureSettings, playScenes } from './scenes.mjs';
import { root, setup } from './setup.mjs';
import { playSheetScenes, writeDay } from './sheetScenes.mjs';
import { scratchWorkspace, startHost } from './workbench.mjs';

const shown = ['session-dark', 'mend-light', 'summary-dark', 'preview-light', 'review-light'];
const folder = join(root, 'media/screenshots');
const all = process.argv.includes('--all');

setup();
mkdirSync(folder, { recursive: true });
buildExtension();
const host = await startHost({ vsix: [packageExtension()], settings: pictureSettings });
const browser = await launch();
try {
  const bench = await openScenes(Workbench, browser, host);
  for (const theme of all ? Object.keys(themes) : ['dark', 'light']) {
    await playScenes(bench, theme, async (name) => {
      if (all) console.log(await bench.screenshot(name));
      else if (shown.includes(name)) await bench.page.screenshot({ path: join(folder, `${name}.png`) });
    });
  }
  const folderOfDay = scratchWorkspace();
  writeDay(folderOfDay);
  const sheet = await Workbench.open(browser, host, { folder: folderOfDay, width: 1360, height: 800 });
  for (const theme of all ? Object.keys(themes) : ['dark']) {
    await sheet.theme(theme);
    await playSheetScenes(sheet, async (name) => {
      if (all) console.log(await sheet.screenshot(`${name}-${theme}`));
      else if (name === 'sheet') await sheet.page.screenshot({ path: join(folder, 'sheet-dark.png') });
    });
  }
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, colorScheme: 'light' });
  const page = await context.newPage();
  await page.goto(pathToFileURL(publishedExample('aurora-55')).href);
  await page.locator('h2#adjusted').evaluate((heading) => heading.scrollIntoView());
  await page.locator('.nitbook-claim > a', { hasText: '0.5' }).first().hover();
  await page.screenshot({ path: join(folder, 'published-light.png') });
} finally {
  await browser.close();
  await host.stop();
}
