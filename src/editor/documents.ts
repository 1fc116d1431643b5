import * as vscode from 'vscode';
import { type Analysis, analyse } from '../project/analysis';
import { SessionText } from '../session/sessionText';
import type { Configurations } from './config';
import { editsOf } from './contentChanges';

export const LANGUAGE = 'nitbook';

interface Known {
  readonly version: number;
  readonly source: SessionText;
  analysis?: Analysis;
}

/** A session that was opened, or its text after `change`. */
export interface SessionEvent {
  readonly document: vscode.TextDocument;
  readonly change?: vscode.TextDocumentChangeEvent;
}

/** The sessions that are open as text, each with its latest version read. */
export class Documents {
  private readonly known = new Map<string, Known>();
  private readonly changed = new vscode.EventEmitter<SessionEvent>();
  private readonly closed = new vscode.EventEmitter<vscode.TextDocument>();
  private readonly subscriptions: vscode.Disposable[];
  readonly onDidChange = this.changed.event;
  readonly onDidClose = this.closed.event;

  constructor(private readonly configurations: Configurations) {
    this.subscriptions = [
      this.changed,
      this.closed,
      vscode.workspace.onDidOpenTextDocument((document) => {
        if (isSession(document)) this.changed.fire({ document });
      }),
      vscode.workspace.onDidChangeTextDocument((change) => {
        if (!isSession(change.document) || change.contentChanges.length === 0) return;
        this.follow(change);
        this.changed.fire({ document: change.document, change });
      }),
      // Also when a document gets another language: it then closes as what it was.
      vscode.workspace.onDidCloseTextDocument((document) => {
        if (this.known.delete(document.uri.toString()) || document.languageId === LANGUAGE) this.closed.fire(document);
      }),
    ];
  }

  get all(): vscode.TextDocument[] {
    return vscode.workspace.textDocuments.filter(isSession);
  }

  /** The text of a document as it stands now. */
  source(document: vscode.TextDocument): SessionText {
    return this.at(document).source;
  }

  /** All that is known of a document as it stands when this is called; it may have changed by the time of the answer. */
  async analysis(document: vscode.TextDocument): Promise<Analysis> {
    const known = this.at(document);
    const config = await this.configurations.of(document.uri);
    if (known.analysis?.config !== config) known.analysis = analyse(known.source, config);
    return known.analysis;
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
    this.known.clear();
  }

  private at(document: vscode.TextDocument): Known {
    const known = this.known.get(document.uri.toString());
    return known?.version === document.version ? known : this.keep(document, SessionText.read(document.getText()));
  }

  private keep(document: vscode.TextDocument, source: SessionText): Known {
    const known = { version: document.version, source };
    if (!document.isClosed) this.known.set(document.uri.toString(), known);
    return known;
  }

  /** Changes the text that is known as the document was changed, so that what did not change need not be read again. */
  private follow({ document, contentChanges }: vscode.TextDocumentChangeEvent): void {
    const known = this.known.get(document.uri.toString());
    if (!known) return;
    const text = document.getText();
    const source = followed(known.source, contentChanges);
    this.keep(document, source?.text === text ? source : SessionText.read(text));
  }
}

export const isSession = (document: vscode.TextDocument): boolean => document.languageId === LANGUAGE && document.uri.scheme !== 'git';

/** Undefined where the changes do not fit the text: then it was not the one that they mean. */
function followed(source: SessionText, changes: vscode.TextDocumentChangeEvent['contentChanges']): SessionText | undefined {
  try {
    return editsOf(changes).reduce((text, edits) => text.change(edits), source);
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}
