import { assert } from 'chai';
import * as vscode from 'vscode';
import mistakes from '../../examples/bench-mistakes.json';
import { analysisOf, expectedIn, openFile, openText, showsAll, until, workspaceFile, written } from './tools';

const shown = (uri: vscode.Uri) => vscode.languages.getDiagnostics(uri);

describe('Findings', () => {
  it('stand where the mistakes of the example were made', async () => {
    const { document } = await openFile('bench-mistakes.nitbook');
    await showsAll(document);
    const found = new Set(shown(document.uri).map(({ code, range }) => `${range.start.line + 1} ${String(code)}`));
    for (const { line, code, text } of mistakes.faults) {
      assert.equal(document.lineAt(line - 1).text, text);
      assert.include([...found], `${line} ${code}`);
    }
    assert.isTrue(shown(document.uri).every(({ source }) => source === 'nitbook'));
  });

  it('are said once, and go when the file is closed', async () => {
    const { document } = await openFile('bench-mistakes.nitbook');
    await showsAll(document);
    assert.equal(new Set(shown(document.uri).map(written)).size, shown(document.uri).length);
    await vscode.commands.executeCommand('workbench.action.closeAllEditors');
    // The workbench keeps a closed document for some time; giving it another language closes it as what it was.
    await vscode.languages.setTextDocumentLanguage(document, 'plaintext');
    await until('no findings', () => shown(document.uri).length === 0);
    await vscode.languages.setTextDocumentLanguage(document, 'nitbook');
    await showsAll(document);
  });

  it('are given for a session that was never saved', async () => {
    const { document } = await openText('nitbook 1\nsession 2026-03-14\nmeter probe\n  floor: much\n');
    await showsAll(document);
    assert.include(shown(document.uri).map(written).join('\n'), '4:10-4:14 warning property-value');
  });

  it('count columns behind letters of two units and with Windows line ends as the editor does', async () => {
    const { document } = await openText('nitbook 1\r\nsession 2026-03-14\r\nmeter probe "\u{1F4CF}" , much\r\n  floor: \u{1F4CF}\r\n');
    assert.equal(document.eol, vscode.EndOfLine.CRLF);
    await showsAll(document);
    assert.include(shown(document.uri).map(written).join('\n'), '4:10-4:12 warning property-value');
  });

  it('never go back to an older version while the text changes', async () => {
    const editor = await openText('nitbook 1\n\nsession 2026-03-14\nmeter probe\n  floor: much\n');
    const { document } = editor;
    await showsAll(document);
    const versions: string[][] = [];
    const keep = () => versions.push(expectedIn(document.getText(), analysisOf(document).findings));
    keep();
    const seen: number[] = [];
    const listening = vscode.languages.onDidChangeDiagnostics(() => {
      const now = JSON.stringify(shown(document.uri).map(written).sort());
      seen.push(versions.findLastIndex((version) => JSON.stringify(version) === now));
    });
    try {
      for (let i = 0; i < 12; i++) {
        await editor.edit((edit) => edit.insert(new vscode.Position(1, 0), '# a line above\n'));
        keep();
        if (i % 4 === 3) await showsAll(document);
      }
      await showsAll(document);
      await until('the last version', () => seen[seen.length - 1] === versions.length - 1);
    } finally {
      listening.dispose();
    }
    assert.notInclude(seen, -1);
    assert.deepEqual(
      seen,
      seen.toSorted((a, b) => a - b),
    );
  });

  it('follow a change in many places at once', async () => {
    const editor = await openFile('bench-mistakes.nitbook');
    const { document } = editor;
    await editor.edit((edit) => {
      for (let line = 90; line > 60; line--) edit.insert(new vscode.Position(line, 0), line % 2 ? '\n' : '  ');
      edit.delete(new vscode.Range(100, 0, 110, 4));
      edit.replace(new vscode.Range(120, 0, 121, 0), '        20  1,5\n');
    });
    await showsAll(document);
    await vscode.commands.executeCommand('undo');
    await showsAll(document);
    assert.isFalse(document.isDirty);
  });

  it('are given in a comparison of two files, which stays text', async () => {
    const [left, right] = [workspaceFile('aurora-55.nitbook'), workspaceFile('bench-mistakes.nitbook')];
    await vscode.commands.executeCommand('vscode.diff', left, right);
    const tab = await until('the comparison', () => vscode.window.tabGroups.activeTabGroup.activeTab);
    assert.instanceOf(tab.input, vscode.TabInputTextDiff);
    for (const uri of [left, right]) await showsAll(await vscode.workspace.openTextDocument(uri));
    assert.isFalse(tab.isDirty);
  });

  it('and all else leave a file unchanged that is only looked at', async () => {
    const editor = await openFile('bench-mistakes.nitbook');
    const { document } = editor;
    await showsAll(document);
    const { version } = document;
    const text = document.getText();
    editor.revealRange(new vscode.Range(document.lineCount - 1, 0, document.lineCount - 1, 0));
    await vscode.commands.executeCommand('vscode.executeCodeLensProvider', document.uri, 100);
    await vscode.commands.executeCommand('nitbook.summarise', document.uri);
    await vscode.commands.executeCommand('workbench.action.closeAllEditors');
    assert.equal(document.getText(), text);
    assert.equal(document.version, version);
    assert.isFalse(document.isDirty);
  });
});
