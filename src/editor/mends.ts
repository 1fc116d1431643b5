import * as vscode from 'vscode';
import { type Finding, mendTitle } from '../text/finding';
import { type Configurations, isConfig } from './config';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';
import { isMarkdown, MARKDOWN, type Reviews } from './reviews';
import { rangeOf, SOURCE, workspaceEditOf } from './translate';

/** The mends of what is noticed, as quick fixes. */
export function mends(documents: Documents, configurations: Configurations, reviews: Reviews): vscode.Disposable {
  const findingsIn = async (document: vscode.TextDocument): Promise<readonly Finding[]> => {
    if (isConfig(document)) return configurations.findings(document);
    if (isMarkdown(document)) return (await reviews.checked(document))?.findings ?? [];
    return (await documents.analysis(document)).findings;
  };

  return vscode.languages.registerCodeActionsProvider(
    [{ language: LANGUAGE }, { pattern: '**/nitbook.jsonc' }, { language: MARKDOWN }],
    {
      async provideCodeActions(document, range, context) {
        const { version } = document;
        const findings = await findingsIn(document);
        if (document.version !== version) return [];
        return findings.flatMap((finding) => {
          const at = rangeOf(document, finding.span);
          return at.intersection(range) ? actionsFor(document, finding, shownAs(context.diagnostics, finding, at)) : [];
        });
      },
    },
    { providedCodeActionKinds: [vscode.CodeActionKind.QuickFix] },
  );
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
