import * as vscode from 'vscode';
import { type Edits, isRefusal, refusalText } from '../language/answers';
import { say } from './l10n';
import { workspaceEditOf } from './translate';

/** Makes the edits of a gesture as one step of undo, and gives whether they are made; says why where they are not. */
export async function apply(document: vscode.TextDocument, edits: Edits): Promise<boolean> {
  if (isRefusal(edits)) {
    void vscode.window.showInformationMessage(refusalText(edits, say));
    return false;
  }
  if (edits.length === 0) return true;
  if (await vscode.workspace.applyEdit(workspaceEditOf(document, edits))) return true;
  sayChanged();
  return false;
}

export const sayChanged = (): undefined =>
  void vscode.window.showWarningMessage(vscode.l10n.t('The session changed in the meantime, or cannot be written: nothing was changed.'));
