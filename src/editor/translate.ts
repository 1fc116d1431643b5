import * as vscode from 'vscode';
import type { Severity } from '../text/codes';
import { type Finding, sentence } from '../text/finding';
import type { Span, TextEdit } from '../text/span';

export const SOURCE = 'nitbook';

const severities: Readonly<Record<Severity, vscode.DiagnosticSeverity>> = {
  error: vscode.DiagnosticSeverity.Error,
  warning: vscode.DiagnosticSeverity.Warning,
  info: vscode.DiagnosticSeverity.Information,
};

export const rangeOf = (document: vscode.TextDocument, span: Span): vscode.Range =>
  new vscode.Range(document.positionAt(span[0]), document.positionAt(span[1]));

/** Findings of the very text that the document holds. */
export const diagnosticsOf = (document: vscode.TextDocument, findings: readonly Finding[]): vscode.Diagnostic[] =>
  findings.map((finding) => {
    const diagnostic = new vscode.Diagnostic(rangeOf(document, finding.span), sentence(finding), severities[finding.severity]);
    diagnostic.code = finding.code;
    diagnostic.source = SOURCE;
    return diagnostic;
  });

export const textEditsOf = (document: vscode.TextDocument, edits: readonly TextEdit[]): vscode.TextEdit[] =>
  edits.map(({ span, text }) => vscode.TextEdit.replace(rangeOf(document, span), text));
