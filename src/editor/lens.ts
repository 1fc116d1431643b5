import * as vscode from 'vscode';
import { lensTextOf } from '../report/text';
import type { Configurations } from './config';
import { type Documents, LANGUAGE } from './documents';
import { say } from './l10n';

const SETTING = 'nitbook.lens.enabled';

/** The main figures of each run above its head; a click leads to the summary. */
export function lens(documents: Documents, configurations: Configurations): vscode.Disposable {
  const changed = new vscode.EventEmitter<void>();
  const provider: vscode.CodeLensProvider = {
    onDidChangeCodeLenses: changed.event,
    async provideCodeLenses(document) {
      if (!vscode.workspace.getConfiguration(undefined, document).get(SETTING, true)) return [];
      const { version } = document;
      const analysis = await documents.settled(document);
      if (document.version !== version) return [];
      const lines = new Map(analysis.source.blocks.map((block, i) => [block, analysis.source.blockStarts[i]!]));
      return analysis.results.flatMap((result) => {
        const title = lensTextOf(analysis, result, say);
        if (title === '') return [];
        const line = lines.get(result.run.block)!;
        const command = { command: 'nitbook.summarise', title, arguments: [document.uri], tooltip: vscode.l10n.t('Show the summary') };
        return [new vscode.CodeLens(new vscode.Range(line, 0, line, 0), command)];
      });
    },
  };
  return vscode.Disposable.from(
    changed,
    configurations.onDidChange(() => changed.fire()),
    documents.onDidSettle(({ late }) => late && changed.fire()),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration(SETTING)) changed.fire();
    }),
    vscode.languages.registerCodeLensProvider(LANGUAGE, provider),
  );
}
