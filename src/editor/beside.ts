import * as vscode from 'vscode';
import type { Configurations } from './config';
import type { Documents } from './documents';
import { Turns } from './turns';

const PAUSE_MS = 300;

/** What is made of a session as Markdown. */
export interface Made {
  readonly scheme: string;
  /** What tabs call it, from the name of the session without its ending. */
  title(name: string): string;
  text(session: vscode.TextDocument): Promise<string>;
}

/** Markdown beside a session that nobody writes, and that follows the session. */
export class Beside implements vscode.TextDocumentContentProvider {
  private readonly changed = new vscode.EventEmitter<vscode.Uri>();
  private readonly pauses = new Turns();
  private readonly subscriptions: vscode.Disposable[];
  readonly onDidChange = this.changed.event;

  constructor(
    private readonly made: Made,
    documents: Documents,
    configurations: Configurations,
  ) {
    this.subscriptions = [
      this.changed,
      this.pauses,
      vscode.workspace.registerTextDocumentContentProvider(made.scheme, this),
      documents.onDidChange(({ document }) => this.refresh(document.uri, PAUSE_MS)),
      documents.onDidSettle(({ document, late }) => {
        if (late) this.refresh(document.uri, 0);
      }),
      configurations.onDidChange(() => {
        for (const { uri } of documents.all) this.refresh(uri, 0);
      }),
    ];
  }

  async provideTextDocumentContent(uri: vscode.Uri): Promise<string> {
    return this.made.text(await vscode.workspace.openTextDocument(vscode.Uri.parse(uri.query, true)));
  }

  async show(session: vscode.Uri): Promise<void> {
    const uri = this.uriOf(session);
    try {
      // Locked: else it would turn to whatever Markdown is opened next.
      await vscode.commands.executeCommand('markdown.showLockedPreviewToSide', uri);
    } catch {
      // The built-in Markdown support can be switched off.
      await vscode.window.showTextDocument(uri, { viewColumn: vscode.ViewColumn.Beside });
    }
  }

  refresh(session: vscode.Uri, ms: number): void {
    this.pauses.take(session.toString(), ms, () => void this.renew(this.uriOf(session)));
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private async renew(uri: vscode.Uri): Promise<void> {
    const isOpen = vscode.workspace.textDocuments.some((document) => document.uri.toString() === uri.toString());
    if (isOpen) this.changed.fire(uri);
    // A document that nothing but a preview shows is let go after some minutes, and its preview is then told no change. The preview has to
    // open it again itself: one that is opened for it comes with the version it knows, and is taken for unchanged.
    else if (isPreviewed(uri)) await vscode.commands.executeCommand('markdown.preview.refresh');
  }

  /** Where it is to be had; the name that tabs show comes from the path. */
  private uriOf(session: vscode.Uri): vscode.Uri {
    const { scheme, title } = this.made;
    return vscode.Uri.from({ scheme, path: `/${title(nameOf(session).replace(/\.nitbook$/, ''))}.md`, query: session.toString() });
  }
}

const isPreviewed = (uri: vscode.Uri): boolean =>
  vscode.window.tabGroups.all
    .flatMap(({ tabs }) => tabs)
    .some(({ input, label }) => input instanceof vscode.TabInputWebview && label.includes(nameOf(uri)));

export const nameOf = (file: vscode.Uri): string => file.path.replace(/^.*\//, '');
