// What is worth seeing of the reading sheet: a slip with its mend, large type, a mode's settings, a look at pasted rows, HDR, a narrow pane.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { greyscale, reading, Sheet } from './sheet.mjs';

/** A day that is under way: a run half taken, with one slip. */
export function writeDay(folder) {
  const levels = Array.from({ length: 21 }, (_, i) => i * 5);
  const rows = levels.slice(0, 12).map((level) => {
    const [Y, x, y] = reading(level);
    return [level, `${(level === 30 ? '66.72' : Y).padEnd(10)}${x.padEnd(9)}${y}`];
  });
  const text = rows.reduce((t, [level, cells]) => t.replace(new RegExp(`^( +${level}) {2}\\?.*$`, 'm'), `$1  ${cells}`), greyscale(levels));
  writeFileSync(join(folder, 'day.nitbook'), text);
}

/** Plays the scenes; `look(name, frame)` takes a picture of each. */
export async function playSheetScenes(bench, look) {
  const { page } = bench;
  await bench.openFile('day.nitbook');
  if (await page.locator('.explorer-folders-view').isVisible()) await page.keyboard.press('Control+B');
  let sheet = await Sheet.open(bench, 'day.nitbook');
  await sheet.frame.locator('.grid td.warning').first().waitFor();
  await sheet.frame.locator('.pictures svg').first().waitFor();
  await sheet.level(30).locator('td.cell').first().click();
  await look('sheet', sheet.frame);
  await page.keyboard.press('/');
  await sheet.frame.locator('body.large').waitFor();
  await look('sheet-large', sheet.frame);
  await page.keyboard.press('/');
  await sheet.level(60).locator('td.cell').first().click();
  await page.evaluate(() =>
    navigator.clipboard.writeText(
      '60\t35,22\t0,3133\t0,3290\n65\t42,7\t0,3132\t0,3291\n42\t14,9\t0,3131\t0,3290\n30\t6,67\t0,3130\t0,3290',
    ),
  );
  await page.keyboard.press('Control+V');
  await sheet.frame.getByRole('button', { name: 'Decimal commas' }).click();
  await sheet.frame.getByRole('button', { name: 'Leave them out' }).waitFor();
  await look('sheet-paste', sheet.frame);
  await page.keyboard.press('Escape');
  sheet = await Sheet.open(bench, 'aurora.nitbook', 40, 4);
  await sheet.frame.locator('.field.taken').first().waitFor();
  await look('sheet-mode', sheet.frame);
  sheet = await Sheet.open(bench, 'aurora-55.nitbook');
  await sheet.frame.locator('.day button', { hasText: 'track-4000' }).click();
  await sheet.frame.locator('.pictures svg').first().waitFor();
  await look('sheet-hdr', sheet.frame);
  await bench.command('View: Close All Editors');
}
