import * as vscode from 'vscode';
import { LANGUAGE } from './documents';

/** The session that a command means: the one it is called for, else the one in the active editor. Says so when there is none. */
export async function activeSession(uri: unknown): Promise<vscode.TextDocument | undefined> {
  const document = uri instanceof vscode.Uri ? await vscode.workspace.openTextDocument(uri) : vscode.window.activeTextEditor?.document;
  if (document?.languageId === LANGUAGE) return document;
  void vscode.window.showInformationMessage(vscode.l10n.t('Open a session (a file that ends in .nitbook) first.'));
  return undefined;
}
