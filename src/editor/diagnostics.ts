import * as vscode from 'vscode';
import type { Configurations } from './config';
import { linesWritten } from './contentChanges';
import type { Documents, SessionEvent } from './documents';
import { IDLE_MS, keyOf, softened, unfinished } from './softening';
import { diagnosticsOf, SOURCE } from './translate';
import { Turns } from './turns';

const PAUSE_MS = 150;
const NONE: ReadonlySet<never> = new Set();

interface State {
  /** Lines written on by the last change, while they may be half typed. */
  typed: ReadonlySet<number>;
  /** Whether the typing has rested since: then only rows that lack cells are still half typed, while their cursor waits behind them. */
  isRested: boolean;
  /** Rows that a cursor stands behind to write on, as they were when this was last shown. */
  open: ReadonlySet<number>;
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
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => this.follows(textEditor.document)),
      vscode.window.onDidChangeVisibleTextEditors(() => {
        for (const document of documents.all) this.follows(document);
      }),
    ];
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  /** Of all sessions that are open. */
  showAll(): void {
    for (const document of this.documents.all) void this.show(document);
  }

  private follow({ document, change }: SessionEvent): void {
    const state = this.state(document);
    const key = document.uri.toString();
    state.typed = change ? begun(change) : NONE;
    state.isRested = false;
    // At once where nothing is half typed, so that it is known what was said before the next line begins.
    const pause = state.typed.size > 0 ? Math.min(IDLE_MS / 2, PAUSE_MS + 4 * state.took) : 0;
    this.pauses.take(key, pause, () => void this.show(document));
    if (state.typed.size > 0) this.rests.take(key, IDLE_MS, () => this.settle(document));
    else this.rests.drop(key);
  }

  /** What is said of a line is meant once the cursor has left it, and mild again when it comes back to go on with a row. */
  private follows(document: vscode.TextDocument): void {
    const state = this.states.get(document.uri.toString());
    if (!state) return;
    const open = this.open(document);
    const held = state.isRested ? open : halfTyped(document, state.typed);
    if (state.typed.size > 0 && ![...state.typed].some((line) => held.has(line))) this.settle(document);
    else if (!isSame(state.open, open)) void this.show(document);
  }

  private settle(document: vscode.TextDocument): void {
    const state = this.state(document);
    const open = this.open(document);
    state.typed = new Set([...state.typed].filter((line) => open.has(line)));
    state.isRested = true;
    this.rests.drop(document.uri.toString());
    void this.show(document);
  }

  private open(document: vscode.TextDocument): ReadonlySet<number> {
    return unfinished(this.documents.source(document), cursorsIn(document));
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
    state.open = this.open(document);
    const soft = new Set([...typed, ...state.open]);
    this.collection.set(document.uri, diagnosticsOf(document, softened(findings, source, soft, state.settled)));
  }

  private state(document: vscode.TextDocument): State {
    const key = document.uri.toString();
    let state = this.states.get(key);
    if (!state) {
      state = { typed: NONE, isRested: false, open: NONE, settled: NONE, turn: 0, took: 0 };
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
  const lines = cursorsIn(document).map(({ line }) => line);
  return new Set(lines.filter((line) => written.has(line)));
}

const cursorsIn = (document: vscode.TextDocument): vscode.Position[] =>
  vscode.window.visibleTextEditors
    .filter((editor) => editor.document === document)
    .flatMap(({ selections }) => selections.map(({ active }) => active));

const isSame = (a: ReadonlySet<number>, b: ReadonlySet<number>): boolean => a.size === b.size && [...a].every((line) => b.has(line));
