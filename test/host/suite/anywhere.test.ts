import { assert } from 'chai';
import * as vscode from 'vscode';
import { openFile, sleep, until, workspaceFile } from './tools';

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

  it('is said of an earlier state under version control, whose address leads to no folder', async function () {
    // As the support of Git gives it: whatever the path, what is read is the file that the query names.
    const read = () => new TextEncoder().encode('nitbook 1\nmode cinema\ngreyscale g\n  mode: cinema\n');
    const none = () => undefined;
    const provider: vscode.FileSystemProvider = {
      onDidChangeFile: new vscode.EventEmitter<vscode.FileChangeEvent[]>().event,
      watch: () => new vscode.Disposable(none),
      stat: () => ({ type: vscode.FileType.File, ctime: 0, mtime: 0, size: read().length }),
      readDirectory: () => [],
      readFile: read,
      createDirectory: none,
      writeFile: none,
      delete: none,
      rename: none,
    };
    let registered: vscode.Disposable;
    try {
      registered = vscode.workspace.registerFileSystemProvider('git', provider, { isReadonly: true });
    } catch {
      // This host has the real one, and the workspace no history.
      this.skip();
    }
    try {
      const uri = vscode.Uri.parse('git:/past/a.nitbook?%7B%7D');
      const document = await vscode.workspace.openTextDocument(uri);
      assert.equal(document.languageId, 'nitbook');
      assert.isNotEmpty(await vscode.commands.executeCommand('vscode.executeHoverProvider', uri, new vscode.Position(3, 9)));
      await sleep(300);
      assert.deepEqual(
        vscode.languages.getDiagnostics().filter(([of, all]) => of.scheme === 'git' && all.length > 0),
        [],
      );
    } finally {
      registered.dispose();
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
