import * as vscode from 'vscode';
import { summaryMarkdown } from '../report/markdown';
import { activeSession } from './active';
import { Beside, nameOf } from './beside';
import type { Configurations } from './config';
import type { Documents } from './documents';
import { say } from './l10n';

/** What is pasted elsewhere is not made new when the intervals come. */
const COPY_PATIENCE_MS = 5000;

/** The summary of a session as Markdown that follows it: beside it, or on the clipboard. */
export function summaries(documents: Documents, configurations: Configurations): vscode.Disposable {
  const text = async (document: vscode.TextDocument, patience?: number): Promise<string> =>
    summaryMarkdown(await documents.settled(document, patience), nameOf(document.uri), say);
  const beside = new Beside(
    { scheme: 'nitbook-summary', title: (name) => vscode.l10n.t('{0} summary', name), text: (document) => text(document) },
    documents,
    configurations,
  );
  return vscode.Disposable.from(
    beside,
    vscode.commands.registerCommand('nitbook.summarise', async (uri?: unknown) => {
      const document = await activeSession(uri);
      if (document) await beside.show(document.uri);
    }),
    vscode.commands.registerCommand('nitbook.copySummary', async (uri?: unknown) => {
      const document = await activeSession(uri);
      if (!document) return;
      await vscode.env.clipboard.writeText(await text(document, COPY_PATIENCE_MS));
      vscode.window.setStatusBarMessage(vscode.l10n.t('The summary is on the clipboard.'), 4000);
    }),
  );
}
