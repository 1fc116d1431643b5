import { assert } from 'chai';
import * as vscode from 'vscode';
import { completions } from '../../../src/language/complete';
import { hints } from '../../../src/language/hints';
import { hoverAt } from '../../../src/language/hover';
import { outline } from '../../../src/language/outline';
import { lensTextOf } from '../../../src/report/text';
import { openFile, openText, placeOf, settledOf, showsAll, sleep, until, workspaceFile } from './tools';

const file = 'aurora-55.nitbook';
const run = <T>(feature: string, uri: vscode.Uri, ...args: unknown[]): Thenable<T> =>
  vscode.commands.executeCommand<T>(`vscode.execute${feature}Provider`, uri, ...args);

/** Waits for what verdicts with intervals are: on a busy machine the first answer may be that of the numbers alone. */
async function becomes<T>(expected: T, get: () => Promise<T>): Promise<void> {
  let got: T | undefined;
  await until('the intervals', async () => {
    got = await get();
    return JSON.stringify(got) === JSON.stringify(expected);
  }).catch(() => assert.deepEqual(got, expected));
}

/** The editor says of a document what the core does, whatever its address, and changes nothing. */
async function saysAll(document: vscode.TextDocument): Promise<void> {
  const { uri, version } = document;
  assert.equal(document.languageId, 'nitbook');
  const analysis = settledOf(document);
  const row = placeOf(document, /^ +30 +\d.*/m).start.translate(0, 10);
  await becomes(hoverAt(analysis, document.offsetAt(row))!.parts.join('\n\n'), async () => {
    const [hover] = await run<vscode.Hover[]>('Hover', uri, row);
    return (hover!.contents[0] as vscode.MarkdownString).value;
  });
  const whole = new vscode.Range(0, 0, document.lineCount - 1, 0);
  const shown = await run<vscode.InlayHint[]>('InlayHint', uri, whole);
  assert.deepEqual(
    shown.map(({ label }) => label),
    hints(analysis, 0, document.lineCount).map(({ text }) => text),
  );
  const name = placeOf(document, /mode: cinema/).start.translate(0, 8);
  const { items } = await run<vscode.CompletionList>('CompletionItem', uri, name);
  assert.deepEqual(
    items.map(({ label }) => label),
    completions(analysis, document.offsetAt(name)).map(({ label }) => label),
  );
  const figures = analysis.results.map((result) => lensTextOf(analysis, result)).filter((text) => text !== '');
  await becomes(figures.sort(), async () => (await run<vscode.CodeLens[]>('CodeLens', uri)).map(({ command }) => command!.title).sort());
  await becomes(
    outline(analysis).map((entry) => [entry.name, entry.detail]),
    async () => (await run<vscode.DocumentSymbol[]>('DocumentSymbol', uri)).map((symbol) => [symbol.name, symbol.detail]),
  );
  for (const feature of ['Definition', 'Reference']) assert.isNotEmpty(await run(feature, uri, name), feature);
  assert.isNotEmpty(await run('FoldingRange', uri));
  assert.isNotEmpty(await run('SelectionRange', uri, [name]));
  const tokens = await vscode.commands.executeCommand<vscode.SemanticTokens>('vscode.provideDocumentSemanticTokens', uri);
  assert.isNotEmpty(tokens.data);
  assert.equal(document.version, version);
}

const textOf = async (): Promise<string> => new TextDecoder().decode(await vscode.workspace.fs.readFile(workspaceFile(file)));

describe('What the editor says of a session', () => {
  it('is said of a file, which stays as it is', async () => {
    const { document } = await openFile(file);
    await saysAll(document);
    assert.isFalse(document.isDirty);
  });

  it('is said of one that was never saved', async () => {
    const { document } = await openText(await textOf());
    await saysAll(document);
    await showsAll(document);
  });

  it('is said of one that is no file, such as the other side of a comparison', async () => {
    const text = await textOf();
    const provider = vscode.workspace.registerTextDocumentContentProvider('bench-past', { provideTextDocumentContent: () => text });
    try {
      const past = vscode.Uri.parse(`bench-past:/${file}`);
      await vscode.commands.executeCommand('vscode.diff', past, workspaceFile(file));
      const document = await until('the past', () => vscode.workspace.textDocuments.find(({ uri }) => uri.toString() === past.toString()));
      await saysAll(document);
    } finally {
      provider.dispose();
    }
  });

  it('is said of both sides of a comparison with the last commit', async function () {
    const git = vscode.extensions.getExtension<{
      getAPI(version: 1): { toGitUri(uri: vscode.Uri, ref: string): vscode.Uri; repositories: unknown[] };
    }>('vscode.git');
    // Of all hosts only that of Node has it, and only in folders that are trusted.
    if (!git || !vscode.workspace.getConfiguration('git').get('enabled') || !vscode.workspace.isTrusted) this.skip();
    const api = (await git.activate()).getAPI(1);
    await until('the repository', () => api.repositories.length > 0, 20_000);
    const { document } = await openFile(file);
    const edit = new vscode.WorkspaceEdit();
    edit.insert(document.uri, new vscode.Position(0, 0), '# one line more\n');
    await vscode.workspace.applyEdit(edit);
    const head = api.toGitUri(document.uri, 'HEAD');
    await vscode.commands.executeCommand('vscode.diff', head, document.uri);
    const before = await until('the commit', () => vscode.workspace.textDocuments.find(({ uri }) => uri.toString() === head.toString()));
    assert.equal(before.getText(), await textOf());
    await saysAll(before);
    await saysAll(document);
    await showsAll(document);
    assert.isEmpty(vscode.languages.getDiagnostics(head));
    assert.isFalse(before.isDirty);
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
});
