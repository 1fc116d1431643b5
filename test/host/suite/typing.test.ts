import { assert } from 'chai';
import * as vscode from 'vscode';
import { openText, showsAll, sleep, until } from './tools';

const session = (await_: string) => `nitbook 1
session 2026-03-14
display aurora
  firmware: 1
greyscale grey
    level   Y         x        y
        20  2.540     0.3130   0.3283
${await_}`;

/** Types as keys do, a letter at a time. */
async function type(text: string): Promise<void> {
  // A page that was opened by the test before may have the focus still.
  await vscode.commands.executeCommand('workbench.action.focusActiveEditorGroup');
  for (const letter of text) await vscode.commands.executeCommand('type', { text: letter });
}

const of = (document: vscode.TextDocument, code: string) =>
  vscode.languages.getDiagnostics(document.uri).filter((diagnostic) => diagnostic.code === code);

describe('A line being typed', () => {
  const row = '        40  13,3      0.3120   0.3270';

  async function typeRow(): Promise<vscode.TextEditor> {
    const editor = await openText(session('\n'));
    await showsAll(editor.document);
    editor.selection = new vscode.Selection(7, 0, 7, 0);
    await type(row);
    return editor;
  }

  it('gives an information at most, which after a rest becomes what it is', async () => {
    const { document } = await typeRow();
    const typed = Date.now();
    const [first] = await until('the finding', () =>
      of(document, 'decimal-comma').length > 0 ? of(document, 'decimal-comma') : undefined,
    );
    assert.equal(first!.severity, vscode.DiagnosticSeverity.Information);
    await until('the warning', () => of(document, 'decimal-comma')[0]?.severity === vscode.DiagnosticSeverity.Warning);
    assert.isAtLeast(Date.now() - typed, 1300);
    assert.isAtMost(Date.now() - typed, 3000);
    await showsAll(document);
  });

  it('keeps its peace while typing goes on', async () => {
    const { document } = await typeRow();
    for (let i = 0; i < 5; i++) {
      await sleep(400);
      await type(' ');
      for (const { severity } of of(document, 'decimal-comma')) assert.equal(severity, vscode.DiagnosticSeverity.Information);
    }
    await showsAll(document);
  });

  it('is judged in earnest as soon as the cursor leaves it', async () => {
    const editor = await typeRow();
    await until('the finding', () => of(editor.document, 'decimal-comma').length > 0);
    const left = Date.now();
    editor.selection = new vscode.Selection(2, 0, 2, 0);
    await showsAll(editor.document);
    assert.isAtMost(Date.now() - left, 1000);
    assert.equal(of(editor.document, 'decimal-comma')[0]!.severity, vscode.DiagnosticSeverity.Warning);
  });

  it('is judged in earnest when Enter begins the next one', async () => {
    const { document } = await typeRow();
    const left = Date.now();
    await type('\n');
    await until('the warning', () => of(document, 'decimal-comma')[0]?.severity === vscode.DiagnosticSeverity.Warning, 1000);
    assert.isAtMost(Date.now() - left, 1000);
  });

  it('keeps its peace while its row lacks cells that the cursor waits for', async () => {
    const editor = await openText(session('\n'));
    const { document } = editor;
    await showsAll(document);
    editor.selection = new vscode.Selection(7, 0, 7, 0);
    await type('        40  13,3');
    const severity = () => of(document, 'decimal-comma')[0]?.severity;
    await until('the finding', () => severity() !== undefined);
    for (let i = 0; i < 25; i++) {
      await sleep(100);
      assert.equal(severity(), vscode.DiagnosticSeverity.Information);
    }
    editor.selection = new vscode.Selection(2, 0, 2, 0);
    await until('the warning', () => severity() === vscode.DiagnosticSeverity.Warning, 1000);
    const behind = document.lineAt(7).range.end;
    editor.selection = new vscode.Selection(behind, behind);
    await until('peace', () => severity() === vscode.DiagnosticSeverity.Information, 1000);
    await type('  0.3120  0.3270');
    await showsAll(document);
  });

  it('is judged in earnest once the cursor has gone from behind the row, though not from its line', async () => {
    const editor = await openText(session('\n'));
    const { document } = editor;
    await showsAll(document);
    editor.selection = new vscode.Selection(7, 0, 7, 0);
    await type('        40  13,3');
    const severity = () => of(document, 'decimal-comma')[0]?.severity;
    await until('the finding', () => severity() !== undefined);
    await sleep(1800);
    editor.selection = new vscode.Selection(7, 9, 7, 9);
    await until('the warning', () => severity() === vscode.DiagnosticSeverity.Warning, 1000);
  });

  it('does not soften other lines', async () => {
    const editor = await openText(session('        40  13,3      0.3120   0.3270\n\n'));
    await showsAll(editor.document);
    editor.selection = new vscode.Selection(8, 0, 8, 0);
    await type('        60  3');
    for (let i = 0; i < 12; i++) {
      await sleep(100);
      assert.equal(of(editor.document, 'decimal-comma')[0]!.severity, vscode.DiagnosticSeverity.Warning);
    }
  });
});
