import { assert } from 'chai';
import * as vscode from 'vscode';
import { Configurations } from '../../../src/editor/config';
import { Documents } from '../../../src/editor/documents';
import { type Node, Sessions } from '../../../src/editor/sessionsTree';
import { openText, until, workspaceFile } from './tools';

describe('The list of sessions', () => {
  let sessions: Sessions;
  let all: vscode.Disposable;
  before(() => {
    const configurations = new Configurations();
    const documents = new Documents(configurations);
    sessions = new Sessions(documents, configurations);
    all = vscode.Disposable.from(configurations, documents, sessions);
  });
  after(() => all.dispose());
  afterEach(() => {
    sessions.filter = undefined;
  });

  const items = async (node?: Node) =>
    ((await sessions.getChildren(node)) ?? []).map((child) => ({ child, item: sessions.getTreeItem(child) }));
  const find = async (label: string | RegExp, node?: Node) => {
    const found = (await items(node)).find(({ item }) =>
      typeof label === 'string' ? item.label === label : label.test(String(item.label)),
    );
    assert.isDefined(found, String(label));
    return found!;
  };

  const session = async (file: string) => {
    const found = (await items()).find(({ child }) => 'uri' in child && child.uri.path.endsWith(`/${file}`));
    assert.isDefined(found, file);
    return found!;
  };

  it('goes from displays to modes to runs, with words and shapes for verdicts', async () => {
    const { child, item } = await session('meadow-65.nitbook');
    assert.equal(item.label, 'Halden Meadow 65');
    assert.match(String(item.description), /^2026-04-21, beyond ▲$/);
    const mode = await find('cinema', child);
    const run = await find('greyscale grey', mode.child);
    assert.match(String(run.item.description), /beyond ▲/);
    assert.equal((run.item.iconPath as vscode.ThemeIcon).id, 'triangle-up');
    assert.isUndefined((run.item.iconPath as vscode.ThemeIcon).color);
    assert.equal(run.item.collapsibleState, vscode.TreeItemCollapsibleState.None);
  });

  it('leads to the place', async () => {
    const display = await session('meadow-65.nitbook');
    const run = await find('greyscale grey', (await find('cinema', display.child)).child);
    await vscode.commands.executeCommand(run.item.command!.command, ...run.item.command!.arguments!);
    const editor = await until('the session', () => vscode.window.activeTextEditor);
    assert.match(editor.document.uri.path, /meadow-65\.nitbook$/);
    assert.match(editor.document.lineAt(editor.selection.active.line).text, /^greyscale grey/);
    assert.isFalse(editor.document.isDirty);
  });

  it('is filtered by a finding, and leads to it', async () => {
    sessions.filter = 'decimal-slip';
    const display = await session('bench-mistakes.nitbook');
    const [mode] = await items(display.child);
    const [run] = await items(mode!.child);
    const [uri, { selection }] = run!.item.command!.arguments as [vscode.Uri, { selection: vscode.Range }];
    const document = await vscode.workspace.openTextDocument(uri);
    assert.match(document.lineAt(selection.start.line).text, /^ +\d/);
  });

  it('holds sessions that were never saved, in a folder of their own', async () => {
    await openText('nitbook 1\nsession 2026-03-14\ndisplay new "Halden Brook 48"\ncontrast\n    patch Y\n    white ?\n');
    const { child } = await find('Not saved');
    const brook = await find('Halden Brook 48', child);
    assert.equal(brook.item.description, '2026-03-14, 1 to take');
    const run = await find('contrast', brook.child);
    assert.equal(run.item.description, '1 to take');
  });

  it('holds an unsaved one no longer than its tab', async () => {
    await openText('nitbook 1\nsession 2026-03-14\ndisplay new "Halden Brook 48"\n');
    await find('Not saved');
    await vscode.commands.executeCommand('workbench.action.revertAndCloseActiveEditor');
    await until('the session gone', async () => !(await items()).some(({ item }) => item.label === 'Not saved'));
  });

  it('follows the folder', async () => {
    const uri = workspaceFile('later/brook.nitbook');
    const has = async () => (await items()).some(({ item }) => item.label === 'later');
    try {
      await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode('nitbook 1\nsession 2026-05-01\ndisplay b "Halden Brook 48"\n'));
      await until('the folder', has);
    } finally {
      await vscode.workspace.fs.delete(workspaceFile('later'), { recursive: true });
    }
    await until('the folder gone', async () => !(await has()));
  });

  it('is filtered by a command', async () => {
    await vscode.commands.executeCommand('nitbook.filterSessions', 'beyond');
    await vscode.commands.executeCommand('nitbook.filterSessions', 'all');
  });
});
