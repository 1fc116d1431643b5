import { assert } from 'chai';
import * as vscode from 'vscode';
import { applyEdits } from '../../../src/text/span';
import { analysisOf, mends, openFile, openText, placeOf, showsAll } from './tools';

describe('A mend', () => {
  it('puts a decimal point right, and one undo takes it back', async () => {
    const { document } = await openFile('bench-mistakes.nitbook');
    await showsAll(document);
    const before = document.getText();
    const slip = '30  67.6      0.3117';
    const at = placeOf(document, slip).start.translate(0, 5);
    const [mend, ...others] = (await mends(document.uri, new vscode.Range(at, at))).filter(({ edit }) => edit);
    assert.isEmpty(others);
    assert.equal(mend!.kind?.value, 'quickfix');
    assert.isTrue(mend!.isPreferred);
    assert.isTrue(await vscode.workspace.applyEdit(mend!.edit!));
    assert.equal(document.getText(), before.replace(slip, '30  6.76      0.3117'));
    await showsAll(document);
    await vscode.commands.executeCommand('undo');
    assert.equal(document.getText(), before);
    assert.isFalse(document.isDirty);
    await showsAll(document);
  });

  it('is offered wherever the core knows one, and does what the core says', async () => {
    const { document } = await openFile('bench-mistakes.nitbook');
    const text = document.getText();
    const { findings } = analysisOf(document);
    const whole = new vscode.Range(document.positionAt(0), document.positionAt(text.length));
    const offered = (await mends(document.uri, whole)).filter(({ edit }) => edit);
    const known = findings.flatMap((finding) => finding.mends);
    assert.isAbove(known.length, 10);
    const results = offered.map((action) => {
      const edits = action.edit!.get(document.uri).map(({ range, newText }) => ({
        span: [document.offsetAt(range.start), document.offsetAt(range.end)] as const,
        text: newText,
      }));
      return `${action.title}\n${applyEdits(text, edits)}`;
    });
    assert.deepEqual(results.sort(), known.map(({ title, edits }) => `${title}\n${applyEdits(text, edits)}`).sort());
  });

  it('is not offered away from its finding', async () => {
    const { document } = await openText('nitbook 1\nsession 2026-03-14\nmode m\n  Gain: −3\n');
    await showsAll(document);
    assert.isEmpty((await mends(document.uri, new vscode.Range(1, 0, 1, 4))).filter(({ edit }) => edit));
    assert.deepEqual(
      (await mends(document.uri, new vscode.Range(3, 8, 3, 8))).map(({ title }) => title),
      ['Write -3'],
    );
  });
});
