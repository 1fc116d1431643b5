import { assert } from 'chai';
import { standingText, standingTooltip } from '../../../src/editor/statusBar';
import { standing } from '../../../src/language/standing';
import { analysisOf, openFile, openText, settledOf } from './tools';

// The bar itself shows in the pictures of the workbench: its items cannot be read from here.
describe('The status bar', () => {
  it('counts what is to take, and says what is beyond its limit with a word and a glyph', async () => {
    const { document } = await openFile('meadow-65.nitbook');
    const found = standing(settledOf(document));
    assert.isAbove(found.beyond, 0);
    assert.isBelow(found.beyond, standing(analysisOf(document)).beyond);
    assert.equal(standingText(found), `all taken, ${found.beyond} beyond ▲`);
    const lines = standingTooltip(found).value.replaceAll('\\', '').split('\n');
    for (const [block] of found.runs) assert.isTrue(lines.some((line) => line.startsWith(`- ${block.name}`)));
  });

  it('says of each run what is to take, and what is to be noted', async () => {
    const { document } = await openText(
      'nitbook 1\nsession 2026-03-14\nmode m\n  Gain: ?\ncontrast\n    patch Y\n    black ?\n    white ?\n',
    );
    const found = standing(analysisOf(document));
    assert.equal(standingText(found), '2 to take');
    const { value } = standingTooltip(found);
    assert.include(value, 'contrast: 2 to take');
    assert.include(value, '1 still to be noted');
  });
});
