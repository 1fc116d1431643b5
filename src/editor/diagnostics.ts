import * as vscode from 'vscode';
import type { Configurations } from './config';
import { linesWritten } from './contentChanges';
import type { Documents, SessionEvent } from './documents';
import { IDLE_MS, keyOf, softened } from './softening';
import { diagnosticsOf, SOURCE } from './translate';
import { Turns } from './turns';

const PAUSE_MS = 150;
const NONE: ReadonlySet<never> = new Set();

interface State {
  /** Lines written on by the last change, while they may be half typed. */
  typed: ReadonlySet<number>;
  /** What was said when nothing was half typed. */
  settled: ReadonlySet<string>;
  /** The latest of the turns that may still be waiting for a configuration. */
  turn: number;
  /** How long the last analysis took: slower texts wait for longer pauses. */
  took: number;
}

/** Shows what is noticed in open sessions: of the version that stands, and mildly of a line that is still being typed. */
export class Diagnostics {
  private readonly collection = vscode.languages.createDiagnosticCollection(SOURCE);
  private readonly states = new Map<string, State>();
  private readonly pauses = new Turns();
  private readonly rests = new Turns();
  private readonly subscriptions: vscode.Disposable[];

  constructor(
    private readonly documents: Documents,
    configurations: Configurations,
  ) {
    this.subscriptions = [
      this.collection,
      this.pauses,
      this.rests,
      documents.onDidChange((event) => this.follow(event)),
      documents.onDidClose(({ uri }) => this.forget(uri)),
      configurations.onDidChange(() => this.showAll()),
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => this.settleLeft(textEditor.document)),
      vscode.window.onDidChangeVisibleTextEditors(() => {
        for (const document of documents.all) this.settleLeft(document);
      }),
    ];
    this.showAll();
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private showAll(): void {
    for (const document of this.documents.all) void this.show(document);
  }

  private follow({ document, change }: SessionEvent): void {
    const state = this.state(document);
    const key = document.uri.toString();
    state.typed = change ? begun(change) : NONE;
    // At once where nothing is half typed, so that it is known what was said before the next line begins.
    const pause = state.typed.size > 0 ? Math.min(IDLE_MS / 2, PAUSE_MS + 4 * state.took) : 0;
    this.pauses.take(key, pause, () => void this.show(document));
    if (state.typed.size > 0) this.rests.take(key, IDLE_MS, () => this.settle(document));
    else this.rests.drop(key);
  }

  /** What is said of a line is meant once the cursor has left it. */
  private settleLeft(document: vscode.TextDocument): void {
    const state = this.states.get(document.uri.toString());
    if (state && state.typed.size > 0 && halfTyped(document, state.typed).size === 0) this.settle(document);
  }

  private settle(document: vscode.TextDocument): void {
    this.state(document).typed = NONE;
    this.rests.drop(document.uri.toString());
    void this.show(document);
  }

  private async show(document: vscode.TextDocument): Promise<void> {
    const key = document.uri.toString();
    this.pauses.drop(key);
    const state = this.state(document);
    const turn = ++state.turn;
    const { version } = document;
    const started = performance.now();
    const { source, findings } = await this.documents.analysis(document);
    // Every change, of the text or of its configuration, has a turn of its own.
    if (state.turn !== turn || this.states.get(key) !== state || document.version !== version) return;
    state.took = performance.now() - started;
    const typed = halfTyped(document, state.typed);
    if (typed.size === 0) state.settled = new Set(findings.map((finding) => keyOf(source, finding)));
    this.collection.set(document.uri, diagnosticsOf(document, softened(findings, source, typed, state.settled)));
  }

  private state(document: vscode.TextDocument): State {
    const key = document.uri.toString();
    let state = this.states.get(key);
    if (!state) {
      state = { typed: NONE, settled: NONE, turn: 0, took: 0 };
      this.states.set(key, state);
    }
    return state;
  }

  private forget(uri: vscode.Uri): void {
    const key = uri.toString();
    this.pauses.drop(key);
    this.rests.drop(key);
    this.states.delete(key);
    this.collection.delete(uri);
  }
}

/** The lines that a change has begun or gone on with. Undone and redone ones stood there before: nobody is in the midst of typing them. */
function begun({ document, contentChanges, reason }: vscode.TextDocumentChangeEvent): ReadonlySet<number> {
  if (reason !== undefined) return NONE;
  const lines = [...linesWritten(contentChanges)];
  return new Set(lines.filter((line) => line < document.lineCount && !document.lineAt(line).isEmptyOrWhitespace));
}

/** Of the lines written on, those that a cursor is on. */
function halfTyped(document: vscode.TextDocument, written: ReadonlySet<number>): ReadonlySet<number> {
  if (written.size === 0) return NONE;
  const editors = vscode.window.visibleTextEditors.filter((editor) => editor.document === document);
  const cursors = editors.flatMap((editor) => editor.selections.map((selection) => selection.active.line));
  return new Set(cursors.filter((line) => written.has(line)));
}
