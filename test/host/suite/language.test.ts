import { assert } from 'chai';
import { openFile } from './tools';

describe('A session file', () => {
  it('opens as a session, and opening changes nothing', async () => {
    const { document } = await openFile('aurora.nitbook');
    assert.equal(document.languageId, 'nitbook');
    assert.isFalse(document.isDirty);
  });
});
