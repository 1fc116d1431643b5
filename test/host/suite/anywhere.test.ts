import { assert } from 'chai';
import * as vscode from 'vscode';
import { openFile, until, workspaceFile } from './tools';

const features = ['vscode.executeHoverProvider', 'vscode.executeDefinitionProvider', 'vscode.executeReferenceProvider'];

describe('What the editor says of a session', () => {
  it('is said of one that is no file, such as the other side of a comparison', async () => {
    const text = new TextDecoder().decode(await vscode.workspace.fs.readFile(workspaceFile('aurora-55.nitbook')));
    const provider = vscode.workspace.registerTextDocumentContentProvider('bench-past', { provideTextDocumentContent: () => text });
    try {
      const past = vscode.Uri.parse('bench-past:/aurora-55.nitbook');
      await vscode.commands.executeCommand('vscode.diff', past, workspaceFile('aurora-55.nitbook'));
      const document = await until('the past', () => vscode.workspace.textDocuments.find(({ uri }) => uri.toString() === past.toString()));
      assert.equal(document.languageId, 'nitbook');
      const position = document.positionAt(text.indexOf('mode: cinema') + 8);
      for (const feature of features) assert.isNotEmpty(await vscode.commands.executeCommand(feature, past, position), feature);
      for (const feature of ['vscode.executeDocumentSymbolProvider', 'vscode.executeFoldingRangeProvider']) {
        assert.isNotEmpty(await vscode.commands.executeCommand(feature, past), feature);
      }
      const whole = new vscode.Range(0, 0, document.lineCount, 0);
      assert.isNotEmpty(await vscode.commands.executeCommand('vscode.executeInlayHintProvider', past, whole));
      const tokens = await vscode.commands.executeCommand<vscode.SemanticTokens>('vscode.provideDocumentSemanticTokens', past);
      assert.isNotEmpty(tokens.data);
    } finally {
      provider.dispose();
    }
  });

  it('leaves it as it was: asking changes nothing', async () => {
    const { document } = await openFile('aurora-55.nitbook');
    const text = document.getText();
    const position = document.positionAt(text.indexOf('mode: cinema') + 8);
    for (const feature of [...features, 'vscode.executeCompletionItemProvider', 'vscode.prepareRename']) {
      await vscode.commands.executeCommand(feature, document.uri, position);
    }
    assert.equal(document.getText(), text);
    assert.isFalse(document.isDirty);
  });
});
