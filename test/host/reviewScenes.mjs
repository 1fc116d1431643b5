// What is worth seeing of a review: claims that have fallen, the mend, what a claim is held against, completion in a link.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { scratchWorkspace } from './workbench.mjs';

export const REVIEW = 'aurora-55.md';
const SESSION = 'aurora-55.nitbook';

/** A workspace in which the peak was read again after the review was written. */
export function fallenWorkspace() {
  const folder = scratchWorkspace();
  const session = join(folder, SESSION);
  writeFileSync(session, readFileSync(session, 'utf8').replace(/^( {8}10 {2})8\d\d\.\d$/m, '$1700.0'));
  return folder;
}

/** Line and column of a text in the review, counted from 1. */
export function placeOf(folder, text) {
  const before = readFileSync(join(folder, REVIEW), 'utf8').split(text)[0].split('\n');
  return [before.length, before.at(-1).length + 1];
}

/** Plays the scenes one after the other; `look(name)` takes a picture of each. */
export async function playReviewScenes(bench, folder, look) {
  const { page } = bench;
  await bench.openFile(REVIEW);
  if (await page.locator('.explorer-folders-view').isVisible()) await page.keyboard.press('Control+B');
  await (await bench.problems('815 cd/m²')).first().waitFor();
  const [line, column] = placeOf(folder, '815 cd/m²](');
  await bench.goTo(line, column + 1);
  await bench.squiggles('error').first().waitFor();
  await look('claims');

  await page.keyboard.press('Control+J');
  await bench.goTo(line, column + 1);
  await bench.quickFixes();
  await look('claim-mend');
  await page.keyboard.press('Escape');

  await bench.goTo(line, column + 1);
  await (await bench.hover()).locator('strong', { hasText: 'Peak @10' }).waitFor();
  await look('claim-hover');
  await page.keyboard.press('Escape');

  await bench.goTo(...placeOf(folder, '\n\n## Adjusted'));
  await page.keyboard.type(' [161 nits](aurora-55.nitbook#hdr-window.', { delay: 20 });
  await page.keyboard.press('Control+Space');
  await page.locator('.suggest-widget.visible .monaco-list-row', { hasText: '161 cd/m²' }).first().waitFor();
  await look('claim-completion');
  await page.keyboard.press('Escape');
  await bench.command('File: Revert File');
  await bench.command('View: Close All Editors');
}
