import { assert } from 'chai';
import * as vscode from 'vscode';
import { summaryMarkdown } from '../../../src/report/markdown';
import { hostKind, openFile, openText, settledOf, until, workspaceFile } from './tools';

const summaryOf = (session: vscode.TextDocument) =>
  vscode.workspace.textDocuments.find(({ uri }) => uri.scheme === 'nitbook-summary' && uri.query === session.uri.toString());

const expected = (session: vscode.TextDocument) => summaryMarkdown(settledOf(session), session.uri.path.replace(/^.*\//, ''));

/** A summary is made at once, with the verdicts of the numbers where the intervals take long, and once more when they are there. */
const shows = (summary: vscode.TextDocument, session: vscode.TextDocument) =>
  until('the summary with intervals', () => summary.getText() === expected(session)).catch(() =>
    assert.equal(summary.getText(), expected(session)),
  );

describe('The summary', () => {
  it('opens beside its session as Markdown, and follows it', async () => {
    const editor = await openFile('aurora-55.nitbook');
    const { document } = editor;
    await vscode.commands.executeCommand('nitbook.summarise');
    const summary = await until('the summary', () => summaryOf(document));
    assert.equal(summary.languageId, 'markdown');
    await shows(summary, document);
    assert.include(summary.getText(), 'undecided\u00a0≈');
    const { all } = vscode.window.tabGroups;
    assert.equal(all.length, 2);
    assert.match(all[1]!.activeTab!.label, /aurora-55 summary\.md/);

    const before = summary.getText();
    const title = /title: .*/.exec(document.getText())!;
    const at = new vscode.Range(document.positionAt(title.index), document.positionAt(title.index + title[0].length));
    await editor.edit((edit) => edit.replace(at, 'title: Another day'));
    await until('the new title', () => summary.getText() !== before && summary.getText() === expected(document));
    assert.match(summary.getText(), /^# Another day\n/);
  });

  // In the web the preview runs in another host, which holds the document in its own account.
  const itHere = hostKind === 'node' ? it : it.skip;
  itHere('follows its session also when the workbench has let go of its document', async () => {
    const editor = await openFile('aurora-55.nitbook');
    const { document } = editor;
    await vscode.commands.executeCommand('nitbook.summarise');
    await until('the preview', () => summaryOf(document) && vscode.window.tabGroups.all[1]?.activeTab);
    // It holds on to fifty at most of those that have no editor.
    for (let i = 0; summaryOf(document); i++) {
      assert.isBelow(i, 100);
      const other = workspaceFile(`held/${i}.txt`);
      await vscode.workspace.fs.writeFile(other, new Uint8Array());
      await vscode.workspace.openTextDocument(other);
    }
    await editor.edit((edit) => edit.insert(new vscode.Position(3, 9), 'Late: '));
    await shows(await until('the summary', () => summaryOf(document)), document);
    await vscode.workspace.fs.delete(workspaceFile('held'), { recursive: true });
  });

  it('is made of a session that was never saved', async () => {
    const { document } = await openText('nitbook 1\nsession 2026-03-14\n  title: New\n');
    await vscode.commands.executeCommand('nitbook.summarise');
    await shows(await until('the summary', () => summaryOf(document)), document);
  });

  it('can be copied', async () => {
    const { document } = await openFile('aurora-55.nitbook');
    await vscode.commands.executeCommand('nitbook.copySummary');
    assert.equal(await vscode.env.clipboard.readText(), expected(document));
  });

  it('of another session is asked for by its address', async () => {
    const { document } = await openFile('meadow-65.nitbook');
    await openFile('aurora-55.nitbook');
    await vscode.commands.executeCommand('nitbook.copySummary', document.uri);
    assert.equal(await vscode.env.clipboard.readText(), expected(document));
  });
});
