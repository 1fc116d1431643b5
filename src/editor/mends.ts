import * as vscode from 'vscode';
import { type Finding, mendTitle } from '../text/finding';
import { type Configurations, isConfig } from './config';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';
import { rangeOf, SOURCE, workspaceEditOf } from './translate';

/** The mends of what is noticed in sessions and configurations, as quick fixes. */
export const mends = (documents: Documents, configurations: Configurations): vscode.Disposable =>
  mendsOf([{ language: LANGUAGE }, { pattern: '**/nitbook.jsonc' }], async (document) =>
    isConfig(document) ? configurations.findings(document) : (await documents.analysis(document)).findings,
  );

/** The mends of what is noticed in some documents, as quick fixes. */
export function mendsOf(
  selector: vscode.DocumentSelector,
  findingsIn: (document: vscode.TextDocument) => Promise<readonly Finding[]>,
): vscode.Disposable {
  const provider: vscode.CodeActionProvider = {
    async provideCodeActions(document, range, context) {
      const { version } = document;
      const findings = await findingsIn(document);
      if (document.version !== version) return [];
      return findings.flatMap((finding) => {
        const at = rangeOf(document, finding.span);
        return at.intersection(range) ? actionsFor(document, finding, shownAs(context.diagnostics, finding, at)) : [];
      });
    },
  };
  return vscode.languages.registerCodeActionsProvider(selector, provider, {
    providedCodeActionKinds: [vscode.CodeActionKind.QuickFix],
  });
}

const shownAs = (shown: readonly vscode.Diagnostic[], finding: Finding, at: vscode.Range): vscode.Diagnostic[] =>
  shown.filter(({ source, code, range }) => source === SOURCE && code === finding.code && range.isEqual(at));

const actionsFor = (document: vscode.TextDocument, finding: Finding, diagnostics: vscode.Diagnostic[]): vscode.CodeAction[] =>
  finding.mends.map((mend) => {
    const action = new vscode.CodeAction(mendTitle(finding.code, mend.args, say), vscode.CodeActionKind.QuickFix);
    action.diagnostics = diagnostics;
    action.isPreferred = finding.mends.length === 1;
    action.edit = workspaceEditOf(document, mend.edits);
    return action;
  });
