import * as vscode from 'vscode';
import type { Severity } from '../text/codes';
import { type Finding, sentence } from '../text/finding';
import type { Span, TextEdit } from '../text/span';
import { say } from './l10n';

export const SOURCE = 'nitbook';

const severities: Readonly<Record<Severity, vscode.DiagnosticSeverity>> = {
  error: vscode.DiagnosticSeverity.Error,
  warning: vscode.DiagnosticSeverity.Warning,
  info: vscode.DiagnosticSeverity.Information,
};

/** What can say where an offset stands: a document, or the text of one that is not open. */
export type Places = Pick<vscode.TextDocument, 'positionAt'>;

export const placesIn = (text: string): Places => ({
  positionAt(offset) {
    const lines = text.slice(0, offset).split(/\r\n?|\n/);
    return new vscode.Position(lines.length - 1, lines[lines.length - 1]!.length);
  },
});

export const rangeOf = (places: Places, span: Span): vscode.Range =>
  new vscode.Range(places.positionAt(span[0]), places.positionAt(span[1]));

/** Findings of the very text that the document holds. */
export const diagnosticsOf = (places: Places, findings: readonly Finding[]): vscode.Diagnostic[] =>
  findings.map((finding) => {
    const diagnostic = new vscode.Diagnostic(rangeOf(places, finding.span), sentence(finding, say), severities[finding.severity]);
    diagnostic.code = finding.code;
    diagnostic.source = SOURCE;
    return diagnostic;
  });

export const textEditsOf = (document: vscode.TextDocument, edits: readonly TextEdit[]): vscode.TextEdit[] =>
  edits.map(({ span, text }) => vscode.TextEdit.replace(rangeOf(document, span), text));

/** The edits of one document as one step of undo. */
export function workspaceEditOf(document: vscode.TextDocument, edits: readonly TextEdit[]): vscode.WorkspaceEdit {
  const edit = new vscode.WorkspaceEdit();
  edit.set(document.uri, textEditsOf(document, edits));
  return edit;
}

/** Markdown that holds texts of files: nothing in it runs a command, and there is no HTML. */
export function untrusted(markdown: string): vscode.MarkdownString {
  const string = new vscode.MarkdownString(markdown);
  string.isTrusted = false;
  string.supportHtml = false;
  return string;
}
