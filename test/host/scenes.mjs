// What is worth seeing of the extension, one scene after the other in one page: for the pictures of the README and for eyes in review.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { examples, scratchWorkspace } from './workbench.mjs';

/** The line of an example, counted from 1, that starts so. */
const lineOf = (file, start) =>
  readFileSync(join(examples, file), 'utf8')
    .split('\n')
    .findIndex((line) => line.startsWith(start)) + 1;

/** Settings under which a picture shows the session and little else. */
export const pictureSettings = {
  'editor.minimap.enabled': false,
  'editor.fontSize': 14,
  'breadcrumbs.enabled': false,
  'workbench.activityBar.location': 'hidden',
  'workbench.layoutControl.enabled': false,
};

export const openScenes = (Workbench, browser, host) =>
  Workbench.open(browser, host, { folder: scratchWorkspace(), width: 1280, height: 800 });

/** Plays all scenes in one theme; `shot(name)` takes a picture of each. */
export async function playScenes(bench, theme, shot) {
  const { page } = bench;
  await bench.theme(theme);
  const look = async (scene) => {
    await page.mouse.move(640, 5);
    await page.waitForTimeout(400);
    await shot(`${scene}-${theme}`);
  };

  await bench.openFile('bench-mistakes.nitbook');
  if (await page.locator('.explorer-folders-view').isVisible()) await page.keyboard.press('Control+B');
  await bench.problems('nothing');
  await bench.goTo(96, 1);
  await page.locator('.codelens-decoration:visible').first().waitFor();
  await look('session');

  await page.keyboard.press('Control+J');
  await bench.goTo(92, 13);
  await bench.quickFixes();
  await look('mend');
  await page.keyboard.press('Escape');

  await bench.openFile('aurora-55.nitbook');
  await bench.goTo(lineOf('aurora-55.nitbook', 'greyscale grey '), 1);
  await page.locator('.codelens-decoration:visible', { hasText: 'ΔE 2000 average' }).first().waitFor();
  await look('figures');

  await bench.goTo(lineOf('aurora-55.nitbook', '        30  '), 12);
  await page.mouse.move(640, 5);
  await (await bench.hover()).locator('img').waitFor();
  await page.waitForTimeout(400);
  await shot(`hover-${theme}`);
  await page.keyboard.press('Escape');

  await bench.goTo(lineOf('aurora-55.nitbook', '  settle:'), 99);
  await page.keyboard.press('Enter');
  await page.keyboard.press('Control+Space');
  await page.locator('.suggest-widget.visible .monaco-list-row').first().waitFor();
  await look('completion');
  await page.keyboard.press('Escape');
  await bench.command('File: Revert File');

  await bench.command('Explorer: Focus on Outline View');
  const folder = page.locator('.pane', { has: page.locator('.explorer-folders-view') });
  if (await page.locator('.explorer-folders-view').isVisible()) await folder.locator('.pane-header').click();
  await page.locator('.outline-pane .monaco-list-row').first().waitFor();
  await bench.command('Explorer: Focus on Outline View');
  await page.keyboard.press('Control+ArrowLeft');
  await page.locator('.outline-pane .monaco-list-row', { hasText: 'greyscale grey' }).first().waitFor();
  await look('outline');
  await page.keyboard.press('Control+B');

  await bench.command('Nitbook: Summarise');
  await (await bench.webviewFrame('h1')).locator('table').first().waitFor();
  await look('summary');
  await bench.command('View: Close All Editors');

  await bench.openFile('aurora-55.nitbook');
  await bench.goTo(lineOf('aurora-55.nitbook', 'greyscale grey '), 1);
  await bench.command('Nitbook: Show Figures Beside');
  const figures = await bench.webviewFrame('[data-figure="balance"]');
  // With intervals, as they are a moment later.
  await figures.locator('[data-figure="balance"]', { hasText: 'Whiskers' }).first().waitFor();
  await look('preview');
  await bench.command('View: Close All Editors');

  await bench.openFile('aurora-55.md');
  await bench.goTo(lineOf('aurora-55.md', '## Adjusted'), 1);
  await bench.command('Markdown: Open Preview to the Side');
  const preview = await bench.webviewFrame('figure .nitbook-wide svg[data-figure]');
  await preview.locator('h2', { hasText: 'Adjusted' }).evaluate((heading) => heading.scrollIntoView());
  await look('review');
  await bench.command('View: Close All Editors');
}
