import * as vscode from 'vscode';
import type { Config } from '../config/config';
import { type Analysis, analyse, intervals, isSettled } from '../project/analysis';
import { SessionText } from '../session/sessionText';
import type { Configurations } from './config';
import { editsOf } from './contentChanges';
import { inSlices, PATIENCE_MS, within } from './intervals';

export const LANGUAGE = 'nitbook';

interface Known {
  readonly version: number;
  readonly source: SessionText;
  /** Whether it is being written on: then more changes may follow soon. */
  readonly isTyped: boolean;
  analysis?: Analysis;
  /** The second phase of the analysis. */
  settling?: Promise<void>;
}

/** Intervals are for a text at rest. */
const REST_MS = 100;

/** A session that was opened, or its text after `change`. */
export interface SessionEvent {
  readonly document: vscode.TextDocument;
  readonly change?: vscode.TextDocumentChangeEvent;
}

/** A session whose intervals have come; `late` where verdicts were shown without them. */
export interface Settled {
  readonly document: vscode.TextDocument;
  readonly late: boolean;
}

/** The sessions that are open as text, each with its latest version read. */
export class Documents {
  private readonly known = new Map<string, Known>();
  private readonly changed = new vscode.EventEmitter<SessionEvent>();
  private readonly closed = new vscode.EventEmitter<vscode.TextDocument>();
  private readonly subscriptions: vscode.Disposable[];
  private readonly settledEmitter = new vscode.EventEmitter<Settled>();
  /** Sessions whose verdicts were shown before their intervals were there. */
  private readonly late = new Set<string>();
  /** Goes on whenever a configuration has changed. */
  private time = 0;
  readonly onDidSettle = this.settledEmitter.event;
  readonly onDidChange = this.changed.event;
  readonly onDidClose = this.closed.event;

  constructor(private readonly configurations: Configurations) {
    this.subscriptions = [
      this.changed,
      this.closed,
      this.settledEmitter,
      configurations.onDidChange(() => {
        this.time++;
      }),
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
    let config: Config;
    let time: number;
    // What was slow must not come over an analysis by what is newer.
    do {
      time = this.time;
      config = await this.configurations.of(document.uri);
    } while (time !== this.time);
    if (known.analysis?.config !== config) {
      known.analysis = analyse(known.source, config);
      known.settling = this.settle(document, known, known.analysis);
    }
    return known.analysis;
  }

  /**
   * The same with its intervals, for what shows verdicts. Where they take longer than `patience` it is the analysis as it stands then, and
   * `onDidSettle` tells that it is late.
   */
  async settled(document: vscode.TextDocument, patience = PATIENCE_MS): Promise<Analysis> {
    const known = this.at(document);
    const analysis = await this.analysis(document);
    if (known.analysis === analysis && !isSettled(analysis)) {
      await within(known.settling!, patience);
      if (!isSettled(analysis)) this.late.add(document.uri.toString());
    }
    return analysis;
  }

  /** The second phase, while this is what is known of the document; a change drops it, and has one of its own. */
  private async settle(document: vscode.TextDocument, known: Known, analysis: Analysis): Promise<void> {
    const key = document.uri.toString();
    const isWanted = () => known.analysis === analysis && (document.isClosed || this.known.get(key) === known);
    if (isSettled(analysis)) return;
    if (known.isTyped) await new Promise((resolve) => setTimeout(resolve, REST_MS));
    if (await inSlices(intervals(analysis), isWanted)) this.settledEmitter.fire({ document, late: this.late.delete(key) });
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
    this.known.clear();
  }

  private at(document: vscode.TextDocument): Known {
    const known = this.known.get(document.uri.toString());
    return known?.version === document.version ? known : this.keep(document, SessionText.read(document.getText()), false);
  }

  private keep(document: vscode.TextDocument, source: SessionText, isTyped: boolean): Known {
    const known = { version: document.version, source, isTyped };
    if (!document.isClosed) this.known.set(document.uri.toString(), known);
    return known;
  }

  /** Changes the text that is known as the document was changed, so that what did not change need not be read again. */
  private follow({ document, contentChanges }: vscode.TextDocumentChangeEvent): void {
    const known = this.known.get(document.uri.toString());
    if (!known) return;
    const text = document.getText();
    const source = followed(known.source, contentChanges);
    this.keep(document, source?.text === text ? source : SessionText.read(text), true);
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
