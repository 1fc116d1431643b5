import * as vscode from 'vscode';
import { struckSpans } from '../language/marks';
import { type Documents, LANGUAGE } from './documents';
import { rangeOf } from './translate';

/** Fades what is struck out, in every editor that shows a session. */
export function decorations(documents: Documents): vscode.Disposable {
  const faded = vscode.window.createTextEditorDecorationType({ opacity: '0.8' });
  const show = ({ document, setDecorations }: vscode.TextEditor) =>
    setDecorations(
      faded,
      document.languageId === LANGUAGE ? struckSpans(documents.source(document)).map((span) => rangeOf(document, span)) : [],
    );
  const showAll = (editors: readonly vscode.TextEditor[], of?: vscode.TextDocument) => {
    for (const editor of editors) if (!of || editor.document === of) show(editor);
  };
  showAll(vscode.window.visibleTextEditors);
  return vscode.Disposable.from(
    faded,
    vscode.window.onDidChangeVisibleTextEditors((editors) => showAll(editors)),
    documents.onDidChange(({ document }) => showAll(vscode.window.visibleTextEditors, document)),
    // Also when a document gets another language: what was faded in it comes back.
    documents.onDidClose((document) => showAll(vscode.window.visibleTextEditors, document)),
  );
}
