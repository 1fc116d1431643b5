import * as vscode from 'vscode';
import { hints as hintsIn } from '../language/hints';
import type { Configurations } from './config';
import { current } from './current';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';

const SETTING = 'nitbook.hints.enabled';

/** A few words behind the lines in view: how far each patch is off and where to, and what a run still lacks. */
export function hints(documents: Documents, configurations: Configurations): vscode.Disposable {
  const changed = new vscode.EventEmitter<void>();
  const provider: vscode.InlayHintsProvider = {
    onDidChangeInlayHints: changed.event,
    async provideInlayHints(document, { start, end }) {
      if (!vscode.workspace.getConfiguration(undefined, document).get(SETTING, true)) return [];
      const analysis = await current(documents, document);
      if (!analysis) return [];
      return hintsIn(analysis, start.line, end.line + 1, say).map(({ offset, text, tooltip }) => {
        const hint = new vscode.InlayHint(document.positionAt(offset), text);
        hint.paddingLeft = true;
        hint.tooltip = `${tooltip}\n\n${vscode.l10n.t('The setting {0} turns these hints off.', SETTING)}`;
        return hint;
      });
    },
  };
  return vscode.Disposable.from(
    changed,
    configurations.onDidChange(() => changed.fire()),
    documents.onDidSettle(() => changed.fire()),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration(SETTING)) changed.fire();
    }),
    vscode.languages.registerInlayHintsProvider(LANGUAGE, provider),
  );
}
