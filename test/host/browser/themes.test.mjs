// Every scene in every theme, for eyes: the pictures are in .cache/host/shots.
import { strict as assert } from 'node:assert';
import { existsSync } from 'node:fs';
import { themes, Workbench } from '../browser.mjs';
import { openScenes, playScenes } from '../scenes.mjs';
import { stage } from '../stage.mjs';

describe('What there is to see', () => {
  let bench;
  before(async () => {
    bench = await openScenes(Workbench, stage.browser, stage.host);
  });
  after(() => bench?.close());

  for (const theme of Object.keys(themes)) {
    it(`is there in the theme ${theme}`, async () => {
      const taken = [];
      await playScenes(bench, theme, async (name) => taken.push(await bench.screenshot(name)));
      assert.equal(taken.length, 9);
      assert.ok(taken.every(existsSync));
      assert.deepEqual(bench.errors, []);
    });
  }
});
