import { assert } from 'chai';
import * as vscode from 'vscode';
import { type Config, NO_CONFIG } from '../../../src/config/config';
import { type Analysis, analyse, settled } from '../../../src/project/analysis';
import { SessionText } from '../../../src/session/sessionText';
import { type Finding, sentence } from '../../../src/text/finding';

export const extensionId = 'nitbook.nitbook';

/** The host that this very code runs in: a worker of the browser, or a process of Node. */
export const hostKind: 'web' | 'node' = 'WorkerGlobalScope' in globalThis ? 'web' : 'node';

export const sleep = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

/** Tries until `test` gives something truthy, which it returns; the host is asynchronous in nearly everything. */
export async function until<T>(what: string, test: () => T | Thenable<T>, ms = 10_000): Promise<NonNullable<T>> {
  const end = Date.now() + ms;
  for (;;) {
    const value = await test();
    if (value) return value;
    if (Date.now() > end) throw new Error(`Not within ${ms / 1000} s: ${what}`);
    await sleep(25);
  }
}

export function workspaceFile(path: string): vscode.Uri {
  const folder = vscode.workspace.workspaceFolders?.[0];
  if (!folder) throw new Error('The suite needs a workspace folder.');
  return vscode.Uri.joinPath(folder.uri, path);
}

export async function openFile(path: string): Promise<vscode.TextEditor> {
  return vscode.window.showTextDocument(await vscode.workspace.openTextDocument(workspaceFile(path)));
}

/** An unsaved session of this text in an editor. */
export async function openText(content: string, language = 'nitbook'): Promise<vscode.TextEditor> {
  return vscode.window.showTextDocument(await vscode.workspace.openTextDocument({ content, language }));
}

/** What the core says of a document as it stands: the measure of all that the editor shows. */
export const analysisOf = (document: vscode.TextDocument, config: Config = NO_CONFIG): Analysis =>
  analyse(SessionText.read(document.getText()), config);

/** The same with its intervals: the measure of all that shows verdicts. */
export const settledOf = (document: vscode.TextDocument, config: Config = NO_CONFIG): Analysis => settled(analysisOf(document, config));

const severityNames = ['error', 'warning', 'info', 'hint'];

/** One finding in a line: where it stands (counted from 1), how grave it is, its code and its sentence. */
export const written = ({ range: { start, end }, severity, code, message }: vscode.Diagnostic): string =>
  `${start.line + 1}:${start.character + 1}-${end.line + 1}:${end.character + 1} ${severityNames[severity]} ${String(code)} ${message}`;

/** The same of what the core finds in a text. Places are counted here anew, so that the extension's own count is tested. */
export function expectedIn(text: string, findings: readonly Finding[]): string[] {
  const place = (offset: number) => {
    const lines = text.slice(0, offset).split(/\r\n|\n/);
    return `${lines.length}:${lines[lines.length - 1]!.length + 1}`;
  };
  return findings.map((f) => `${place(f.span[0])}-${place(f.span[1])} ${f.severity} ${f.code} ${sentence(f)}`).sort();
}

/** Waits until the findings shown of a document are just those of the core, with nothing softened. */
export async function showsAll(document: vscode.TextDocument, config: Config = NO_CONFIG, ms = 10_000): Promise<void> {
  let shown: string[] = [];
  let expected: string[] = [];
  const same = until(
    'the findings of the core',
    () => {
      shown = vscode.languages.getDiagnostics(document.uri).map(written).sort();
      expected = expectedIn(document.getText(), analysisOf(document, config).findings);
      return JSON.stringify(shown) === JSON.stringify(expected);
    },
    ms,
  );
  await same.catch(() => assert.deepEqual(shown, expected));
}

/** The place of `marker` in a document, where it has to stand once; of the first match of a pattern. */
export function placeOf(document: vscode.TextDocument, marker: string | RegExp): vscode.Range {
  const text = document.getText();
  const [at, length] = typeof marker === 'string' ? [text.indexOf(marker), marker.length] : matchOf(text, marker);
  if (at < 0 || (typeof marker === 'string' && text.indexOf(marker, at + 1) >= 0)) {
    throw new Error(`"${marker}" does not stand once in ${document.uri}`);
  }
  return new vscode.Range(document.positionAt(at), document.positionAt(at + length));
}

const matchOf = (text: string, pattern: RegExp): readonly [at: number, length: number] => {
  const found = pattern.exec(text);
  return found ? [found.index, found[0].length] : [-1, 0];
};

/** Waits until a document's findings satisfy `test` (by default: there are some), and returns them. */
export function findings(uri: vscode.Uri, test = (all: readonly vscode.Diagnostic[]) => all.length > 0): Promise<vscode.Diagnostic[]> {
  return until(`findings in ${uri}`, () => {
    const all = vscode.languages.getDiagnostics(uri);
    return test(all) ? all : undefined;
  });
}

/** The mends that the extension offers for a range. */
export function mends(uri: vscode.Uri, range: vscode.Range): Thenable<vscode.CodeAction[]> {
  return vscode.commands.executeCommand('vscode.executeCodeActionProvider', uri, range, vscode.CodeActionKind.QuickFix.value);
}

/** Closes every editor and drops what was not saved, so that no test leaves anything to the next. */
export async function closeAll(): Promise<void> {
  for (const { input, isDirty } of vscode.window.tabGroups.all.flatMap((group) => group.tabs)) {
    if (!isDirty || !(input instanceof vscode.TabInputText || input instanceof vscode.TabInputCustom)) continue;
    await vscode.window.showTextDocument(input.uri);
    await vscode.commands.executeCommand('workbench.action.revertAndCloseActiveEditor');
  }
  await vscode.commands.executeCommand('workbench.action.closeAllEditors');
}
