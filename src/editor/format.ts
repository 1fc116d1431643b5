import * as vscode from 'vscode';
import { refusalText } from '../language/answers';
import { formatEdits, refusesRewriting } from '../session/layout';
import { activeSession } from './active';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';
import { textEditsOf, workspaceEditOf } from './translate';

/** The canonical layout, for whole sessions and for lines of them. */
export function format(documents: Documents): vscode.Disposable {
  return vscode.Disposable.from(
    vscode.languages.registerDocumentFormattingEditProvider(LANGUAGE, {
      provideDocumentFormattingEdits: (document) => textEditsOf(document, formatEdits(documents.source(document))),
    }),
    vscode.languages.registerDocumentRangeFormattingEditProvider(LANGUAGE, {
      provideDocumentRangeFormattingEdits: (document, { start, end }) => {
        // A selection of whole lines ends before the first character of the next one.
        const last = end.character === 0 && end.line > start.line ? end.line : end.line + 1;
        return textEditsOf(document, formatEdits(documents.source(document), start.line, last));
      },
    }),
    vscode.commands.registerCommand('nitbook.format', (uri?: unknown) => formatNow(documents, uri)),
  );
}

async function formatNow(documents: Documents, uri: unknown): Promise<void> {
  const document = await activeSession(uri);
  if (!document) return;
  const source = documents.source(document);
  const refused = refusesRewriting(source);
  if (refused) {
    void vscode.window.showWarningMessage(refusalText(refused, say));
    return;
  }
  const edits = formatEdits(source);
  if (edits.length === 0) {
    vscode.window.setStatusBarMessage(vscode.l10n.t('The session is in its layout already.'), 4000);
    return;
  }
  if (!(await vscode.workspace.applyEdit(workspaceEditOf(document, edits)))) {
    void vscode.window.showWarningMessage(vscode.l10n.t('The session changed while it was being laid out: nothing was changed.'));
  }
}
