import * as vscode from 'vscode';
import { summaryMarkdown } from '../report/markdown';
import { activeSession } from './active';
import type { Configurations } from './config';
import type { Documents } from './documents';
import { say } from './l10n';
import { Turns } from './turns';

const SCHEME = 'nitbook-summary';
const PAUSE_MS = 300;
/** What is pasted elsewhere is not made new when the intervals come. */
const COPY_PATIENCE_MS = 5000;

/** The summary of a session as Markdown that follows it: beside it, or on the clipboard. */
export class Summaries implements vscode.TextDocumentContentProvider {
  private readonly changed = new vscode.EventEmitter<vscode.Uri>();
  private readonly pauses = new Turns();
  private readonly subscriptions: vscode.Disposable[];
  readonly onDidChange = this.changed.event;

  constructor(
    private readonly documents: Documents,
    configurations: Configurations,
  ) {
    this.subscriptions = [
      this.changed,
      this.pauses,
      vscode.workspace.registerTextDocumentContentProvider(SCHEME, this),
      documents.onDidChange(({ document }) => this.refresh(document.uri, PAUSE_MS)),
      documents.onDidSettle(({ document, late }) => {
        if (late) this.refresh(document.uri, 0);
      }),
      configurations.onDidChange(() => {
        for (const { uri } of documents.all) this.refresh(uri, 0);
      }),
      vscode.commands.registerCommand('nitbook.summarise', (uri?: unknown) => this.show(uri)),
      vscode.commands.registerCommand('nitbook.copySummary', (uri?: unknown) => this.copy(uri)),
    ];
  }

  async provideTextDocumentContent(uri: vscode.Uri): Promise<string> {
    return this.summary(await vscode.workspace.openTextDocument(vscode.Uri.parse(uri.query, true)));
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private async summary(document: vscode.TextDocument, patience?: number): Promise<string> {
    return summaryMarkdown(await this.documents.settled(document, patience), nameOf(document.uri), say);
  }

  private async show(of: unknown): Promise<void> {
    const document = await activeSession(of);
    if (!document) return;
    const uri = summaryOf(document.uri);
    try {
      // Locked: else it would turn to whatever Markdown is opened next.
      await vscode.commands.executeCommand('markdown.showLockedPreviewToSide', uri);
    } catch {
      // The built-in Markdown support can be switched off.
      await vscode.window.showTextDocument(uri, { viewColumn: vscode.ViewColumn.Beside });
    }
  }

  private async copy(of: unknown): Promise<void> {
    const document = await activeSession(of);
    if (!document) return;
    await vscode.env.clipboard.writeText(await this.summary(document, COPY_PATIENCE_MS));
    vscode.window.setStatusBarMessage(vscode.l10n.t('The summary is on the clipboard.'), 4000);
  }

  private refresh(session: vscode.Uri, ms: number): void {
    this.pauses.take(session.toString(), ms, () => void this.renew(summaryOf(session)));
  }

  private async renew(summary: vscode.Uri): Promise<void> {
    const isOpen = vscode.workspace.textDocuments.some(({ uri }) => uri.toString() === summary.toString());
    if (isOpen) this.changed.fire(summary);
    // A document that nothing but a preview shows is let go after some minutes, and its preview is then told no change. The preview has to
    // open it again itself: one that is opened for it comes with the version it knows, and is taken for unchanged.
    else if (isPreviewed(summary)) await vscode.commands.executeCommand('markdown.preview.refresh');
  }
}

const isPreviewed = (summary: vscode.Uri): boolean =>
  vscode.window.tabGroups.all
    .flatMap(({ tabs }) => tabs)
    .some(({ input, label }) => input instanceof vscode.TabInputWebview && label.includes(nameOf(summary)));

const nameOf = (file: vscode.Uri): string => file.path.replace(/^.*\//, '');

/** Where the summary of a session is to be had; the name that tabs show comes from the path. */
const summaryOf = (session: vscode.Uri): vscode.Uri =>
  vscode.Uri.from({
    scheme: SCHEME,
    path: `/${vscode.l10n.t('{0} summary', nameOf(session).replace(/\.nitbook$/, ''))}.md`,
    query: session.toString(),
  });
