import { assert } from 'chai';
import * as vscode from 'vscode';
import { formatEdits } from '../../../src/session/layout';
import { SessionText } from '../../../src/session/sessionText';
import { applyEdits } from '../../../src/text/span';
import { openFile, openText } from './tools';

const messy =
  'nitbook 1\nsession   2026-03-14\ntitle: A   day\ngreyscale grey\n  level Y x y\n  20 2.54 0.3130\t0.3283  #  dim\n  ~ 40 13.3\n\n\n';
const laidOut =
  'nitbook 1\nsession 2026-03-14\n  title: A   day\ngreyscale grey\n    level   Y         x        y\n        20  2.54      0.3130   0.3283  #  dim\n  ~     40  13.3\n\n\n';
const options = { insertSpaces: true, tabSize: 2 };

describe('The layout', () => {
  for (const name of ['aurora-55.nitbook', 'meadow-65.nitbook', 'aurora.nitbook']) {
    it(`of ${name} is kept to the byte`, async () => {
      const { document } = await openFile(name);
      const text = document.getText();
      await vscode.commands.executeCommand('editor.action.formatDocument');
      await vscode.commands.executeCommand('nitbook.format');
      assert.equal(document.getText(), text);
      assert.isFalse(document.isDirty);
    });
  }

  it('is given to a session typed without one, in one step that one undo takes back', async () => {
    const { document } = await openText(messy);
    await vscode.commands.executeCommand('nitbook.format');
    assert.equal(document.getText(), laidOut);
    await vscode.commands.executeCommand('undo');
    assert.equal(document.getText(), messy);
    await vscode.commands.executeCommand('editor.action.formatDocument');
    assert.equal(document.getText(), laidOut);
    await vscode.commands.executeCommand('editor.action.formatDocument');
    assert.equal(document.getText(), laidOut);
  });

  it('is given to the selected lines alone', async () => {
    const { document } = await openText(messy);
    const edits = await vscode.commands.executeCommand<vscode.TextEdit[]>(
      'vscode.executeFormatRangeProvider',
      document.uri,
      new vscode.Range(4, 0, 6, 0),
      options,
    );
    assert.deepEqual([...new Set(edits.map(({ range }) => range.start.line))].sort(), [4, 5]);
  });

  it('keeps Windows line ends', async () => {
    const { document } = await openText(messy.replaceAll('\n', '\r\n'));
    await vscode.commands.executeCommand('nitbook.format');
    assert.equal(document.getText(), laidOut.replaceAll('\n', '\r\n'));
  });

  it('is that of the core in the file with mistakes', async () => {
    const { document } = await openFile('bench-mistakes.nitbook');
    const source = SessionText.read(document.getText());
    const expected = applyEdits(source.text, formatEdits(source));
    await vscode.commands.executeCommand('editor.action.formatDocument');
    assert.equal(document.getText(), expected);
  });

  it('is not touched in a version of the format that is not known', async () => {
    const { document } = await openText(messy.replace('nitbook 1', 'nitbook 2'));
    await vscode.commands.executeCommand('editor.action.formatDocument');
    assert.equal(document.getText(), messy.replace('nitbook 1', 'nitbook 2'));
  });
});

describe('Folding', () => {
  it('takes blocks by their heads and tables by their columns', async () => {
    const { document } = await openText(laidOut);
    const ranges = await vscode.commands.executeCommand<vscode.FoldingRange[]>('vscode.executeFoldingRangeProvider', document.uri);
    assert.deepEqual(
      ranges.map(({ start, end }) => [start, end]),
      [
        [1, 2],
        [3, 6],
        [4, 6],
      ],
    );
  });
});
