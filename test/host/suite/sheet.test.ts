import { assert } from 'chai';
import * as vscode from 'vscode';
import { openFile, until, workspaceFile } from './tools';

const VIEW = 'nitbook.sheet';

const input = () => vscode.window.tabGroups.activeTabGroup.activeTab?.input;
const inSheet = () =>
  until('the sheet', () => input() instanceof vscode.TabInputCustom && (input() as vscode.TabInputCustom).viewType === VIEW);

describe('The reading sheet', () => {
  it('is an option: a session opens as text', async () => {
    await vscode.commands.executeCommand('vscode.open', workspaceFile('aurora.nitbook'));
    assert.instanceOf(input(), vscode.TabInputText);
  });

  it('opens by its command on the same document, changes nothing, and the text is one command away', async () => {
    const { document } = await openFile('aurora.nitbook');
    await vscode.commands.executeCommand('nitbook.openSheet');
    await inSheet();
    assert.isFalse(document.isDirty);
    await vscode.commands.executeCommand('nitbook.openText');
    await until('the text', () => vscode.window.activeTextEditor?.document === document);
    assert.isFalse(document.isDirty);
  });

  it('leaves differences to the text', async () => {
    await vscode.commands.executeCommand('vscode.diff', workspaceFile('aurora.nitbook'), workspaceFile('aurora-55.nitbook'));
    await until('the difference', () => input() instanceof vscode.TabInputTextDiff);
  });

  it('follows a document of its own while another one is in front', async () => {
    const { document } = await openFile('aurora.nitbook');
    await vscode.commands.executeCommand('nitbook.openSheet', document.uri);
    await inSheet();
    await vscode.commands.executeCommand('nitbook.openSheet', workspaceFile('meadow-65.nitbook'));
    await until('the other sheet', () => (input() as vscode.TabInputCustom).uri.path.endsWith('meadow-65.nitbook'));
    assert.isFalse(document.isDirty);
  });
});
