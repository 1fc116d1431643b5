// A review as a person sees it, in every theme; the pictures are in .cache/host/shots.
import { strict as assert } from 'node:assert';
import { existsSync } from 'node:fs';
import { themes, Workbench } from '../browser.mjs';
import { fallenWorkspace, placeOf, playReviewScenes, REVIEW } from '../reviewScenes.mjs';
import { stage } from '../stage.mjs';

describe('A review', () => {
  let bench;
  let folder;
  before(async () => {
    folder = fallenWorkspace();
    bench = await Workbench.open(stage.browser, stage.host, { folder, width: 1280, height: 800 });
  });
  after(() => bench?.close());

  it('is mended with the keys, and holds again', async () => {
    await bench.openFile(REVIEW);
    const fallen = await bench.problems('does not hold');
    await bench.until('claims that have fallen', async () => (await fallen.count()) > 0);
    const before = await fallen.count();
    const [line, column] = placeOf(folder, '815 cd/m²](');
    await bench.goTo(line, column + 1);
    await bench.quickFix('Write 690 cd/m²');
    await bench.until('one claim less', async () => (await fallen.count()) === before - 1);
    await bench.undo();
    await bench.until('the review as it was', async () => !(await bench.isDirty(REVIEW)));
    await bench.command('View: Close All Editors');
  });

  for (const theme of Object.keys(themes)) {
    it(`is there in the theme ${theme}`, async () => {
      const taken = [];
      await bench.theme(theme);
      await playReviewScenes(bench, folder, async (name) => {
        await bench.page.mouse.move(640, 5);
        await bench.page.waitForTimeout(400);
        taken.push(await bench.screenshot(`${name}-${theme}`));
      });
      assert.equal(taken.length, 4);
      assert.ok(taken.every(existsSync));
      assert.deepEqual(bench.errors, []);
    });
  }
});
