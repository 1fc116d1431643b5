import { assert } from 'chai';
import * as vscode from 'vscode';
import { selectionAt } from '../../../src/language/selection';
import { SessionText } from '../../../src/session/sessionText';
import { openFile, openText, placeOf, until } from './tools';

describe('A selection', () => {
  it('widens from a cell to the whole text as the core has it', async () => {
    const { document } = await openFile('aurora-55.nitbook');
    const position = placeOf(document, /30 {2}6\.\d+/).start.translate(0, 5);
    const [found] = await vscode.commands.executeCommand<vscode.SelectionRange[]>('vscode.executeSelectionRangeProvider', document.uri, [
      position,
    ]);
    const spans: number[][] = [];
    for (let at: vscode.SelectionRange | undefined = found; at; at = at.parent) {
      spans.push([document.offsetAt(at.range.start), document.offsetAt(at.range.end)]);
    }
    const expected = selectionAt(SessionText.read(document.getText()), document.offsetAt(position));
    // The editor adds words and lines of its own.
    for (const span of expected) assert.deepInclude(spans, [...span]);
  });
});

describe('A row that is left with Enter', () => {
  const typed = 'nitbook 1\ngreyscale grey\n    level   Y         x        y\n  20 2.54 0.3130 0.3283';

  it('is laid out, and the new line is left alone', async () => {
    const editor = await openText(typed);
    const end = editor.document.positionAt(typed.length);
    editor.selection = new vscode.Selection(end, end);
    await vscode.commands.executeCommand('type', { text: '\n' });
    await until('the layout', () => editor.document.lineAt(3).text === '        20  2.54      0.3130   0.3283');
    await vscode.commands.executeCommand('type', { text: '30 6.7' });
    assert.match(editor.document.lineAt(4).text, /^ +30 6\.7$/);
    assert.equal(editor.document.lineCount, 5);
  });

  it('is not touched while it is typed, nor is any other', async () => {
    const editor = await openText(typed.replace('level   Y', 'level Y'));
    const end = editor.document.positionAt(editor.document.getText().length);
    editor.selection = new vscode.Selection(end, end);
    await vscode.commands.executeCommand('type', { text: ' ' });
    await vscode.commands.executeCommand('type', { text: '| a remark' });
    assert.equal(editor.document.lineAt(3).text, '  20 2.54 0.3130 0.3283 | a remark');
    await vscode.commands.executeCommand('type', { text: '\n' });
    await until('the layout', () => editor.document.lineAt(3).text !== '  20 2.54 0.3130 0.3283 | a remark');
    assert.equal(editor.document.lineAt(2).text, '    level Y         x        y');
  });
});
