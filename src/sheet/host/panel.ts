import * as vscode from 'vscode';
import type { Configurations } from '../../editor/config';
import type { Documents } from '../../editor/documents';
import { now } from '../../editor/gestures';
import { say } from '../../editor/l10n';
import { workspaceEditOf } from '../../editor/translate';
import { Turns } from '../../editor/turns';
import type { Analysis } from '../../project/analysis';
import { difference } from '../../session/layout';
import type { TextEdit } from '../../text/span';
import type { FromHost } from '../protocol';
import { type Deeds, Server, type SheetDocument } from '../server';

const STAMPS = 'nitbook.sheet.timeStamps';
/** The counts of the whole file, then the pictures, come when no reading has been typed for a moment. */
const STANDINGS_MS = 250;
const PICTURES_MS = 500;
/** So long after an edit is done it must be known that the document is to be saved. */
const DIRTY_MS = 1000;

/** One sheet of one document: brings the server of the protocol together with the editor. */
export class Panel {
  readonly uri: string;
  private readonly server: Server;
  private readonly turns = new Turns();
  private isComputing = false;
  private isDue = false;
  private isDisposed = false;
  private isReadonly = false;
  /** It turned out that the workbench never saves what is written into the document. */
  private isLocked = false;
  private readonly saying: FromHost[] = [];
  private readonly subscriptions: vscode.Disposable[];

  constructor(
    private readonly document: vscode.TextDocument,
    private readonly panel: vscode.WebviewPanel,
    private readonly documents: Documents,
    configurations: Configurations,
    /** Where it is to begin. */
    private place: vscode.Position | undefined,
  ) {
    this.uri = document.uri.toString();
    this.server = new Server(this.seen(), this.deeds, say, (template) => say(template));
    const isOwn = (other: vscode.TextDocument) => other.uri.toString() === this.uri;
    this.subscriptions = [
      this.turns,
      panel.webview.onDidReceiveMessage((data) => this.server.receive(data)),
      documents.onDidChange(({ document: changed }) => {
        if (!isOwn(changed)) return;
        this.server.changed();
        void this.compute();
      }),
      // The second phase has come: the figures once more, with their intervals.
      documents.onDidSettle(({ document: settled }) => {
        if (isOwn(settled)) void this.compute();
      }),
      configurations.onDidChange(() => void this.compute()),
      vscode.workspace.onWillSaveTextDocument(({ document: saved, waitUntil }) => {
        if (isOwn(saved)) waitUntil(this.server.idle());
      }),
      vscode.workspace.onDidChangeConfiguration((event) => {
        if (event.affectsConfiguration(STAMPS, document)) this.server.access();
      }),
      panel.onDidChangeViewState(() => {
        // Whether it would be saved by now shows when it is tried.
        const { isLocked } = this;
        this.isLocked = false;
        if (isLocked) this.server.access();
        void this.readAccess();
      }),
    ];
    void this.readAccess();
  }

  get isActive(): boolean {
    return this.panel.active;
  }

  get selection(): vscode.Range | undefined {
    const at = this.server.selection;
    return at && new vscode.Range(at.line, at.span[0], at.line, at.span[1]);
  }

  /** Goes to a place: at once, or where nobody sees the sheet when it is seen again, since its page then begins anew. */
  reveal(place: vscode.Position): void {
    if (this.panel.visible) this.server.reveal(place.line, place.character);
    else this.place = place;
  }

  dispose(): void {
    this.isDisposed = true;
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private seen(): SheetDocument {
    const { document, documents } = this;
    const isReadonly = () => this.isReadonly || this.isLocked;
    return {
      get version() {
        return document.version;
      },
      get source() {
        return documents.source(document);
      },
      get eol() {
        return document.eol === vscode.EndOfLine.CRLF ? 'CRLF' : 'LF';
      },
      get isReadonly() {
        return isReadonly();
      },
      get settings() {
        return { timeStamps: vscode.workspace.getConfiguration(undefined, document).get(STAMPS, false) };
      },
      now,
      analysis: () => documents.analysis(document),
      apply: (edits) => this.apply(edits),
    };
  }

  /**
   * The workbench takes edits of documents that it holds to be read only, and never saves them: the first edit after a save has to make the
   * document one to be saved. One that does not is taken back.
   */
  private async apply(edits: readonly TextEdit[]): Promise<boolean> {
    const { document } = this;
    const before = document.getText();
    const dirt = document.isDirty ? undefined : new Dirt(document);
    try {
      if (!(await vscode.workspace.applyEdit(workspaceEditOf(document, edits)))) return false;
      const { version } = document;
      if (!dirt || (await dirt.comes())) return true;
      // What came after it is not ours to take back.
      const back = document.version === version && difference(document.getText(), before, 0);
      if (back) await vscode.workspace.applyEdit(workspaceEditOf(document, [back]));
    } finally {
      dirt?.dispose();
    }
    this.isLocked = true;
    this.server.access();
    return false;
  }

  /** What is said in one turn goes in one message: each takes milliseconds, however short it is. */
  private send(message: FromHost): void {
    if (this.saying.push(message) > 1) return;
    queueMicrotask(() => {
      const said = this.saying.splice(0);
      if (!this.isDisposed) void this.panel.webview.postMessage(said);
    });
  }

  private get deeds(): Deeds {
    return {
      post: (message) => {
        this.send(message);
        if (message.kind !== 'state' || !this.place) return;
        this.server.reveal(this.place.line, this.place.character);
        this.place = undefined;
      },
      log: (what, data) => console.warn(`nitbook.sheet: ${what}`, data),
      run: (command) => this.run(command),
      openText: () => void vscode.commands.executeCommand('nitbook.openText', this.document.uri),
      looked: () => void this.compute(),
    };
  }

  /** Undo is of the editor in front: not of one that has come there meanwhile. */
  private async run(command: 'undo' | 'redo' | 'save'): Promise<void> {
    const { document, panel } = this;
    if (command === 'save' && !document.isUntitled) await document.save();
    else if (panel.active) await vscode.commands.executeCommand(command === 'save' ? 'workbench.action.files.save' : command);
  }

  private async readAccess(): Promise<void> {
    const isReadonly = await cannotBeWritten(this.document);
    if (isReadonly === this.isReadonly) return;
    this.isReadonly = isReadonly;
    this.server.access();
  }

  /** Computes for the version that stands; again when it changed, or something else was looked at, meanwhile. */
  private async compute(): Promise<void> {
    this.isDue = true;
    if (this.isComputing) return;
    this.isComputing = true;
    try {
      while (this.isDue && this.server.isOpen && !this.isDisposed && !this.document.isClosed) {
        this.isDue = false;
        const analysis = await this.documents.analysis(this.document);
        // The text may have been read anew since the server was told of it.
        this.server.changed();
        if (!this.server.tellNoticed(analysis)) this.isDue = true;
        else void this.judge(analysis);
      }
    } finally {
      this.isComputing = false;
    }
  }

  /** Verdicts wait a moment for their intervals; where these take longer they come once more by `onDidSettle`. */
  private async judge(analysis: Analysis): Promise<void> {
    if ((await this.documents.settled(this.document)) !== analysis) return;
    this.server.tellResults(analysis);
    this.turns.take('standings', STANDINGS_MS, () => this.server.tellStandings(analysis));
    this.turns.take('pictures', PICTURES_MS, () => this.server.tellPictures(analysis));
  }
}

/** Whether a document becomes one to be saved: the state comes with a change or, without one, just after it. */
class Dirt implements vscode.Disposable {
  private isThere = false;
  private told: (() => void) | undefined;
  private readonly listeners: vscode.Disposable[];

  constructor(document: vscode.TextDocument) {
    const come = () => {
      this.isThere = true;
      this.told?.();
    };
    this.listeners = [
      vscode.workspace.onDidChangeTextDocument((event) => {
        if (event.document === document && document.isDirty) come();
      }),
      // Where the workbench saves by itself, it may have done so already.
      vscode.workspace.onDidSaveTextDocument((saved) => {
        if (saved === document) come();
      }),
    ];
  }

  /** To be asked once an edit is done: however long that took says nothing. */
  async comes(): Promise<boolean> {
    if (!this.isThere)
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, DIRTY_MS);
        this.told = () => {
          clearTimeout(timer);
          resolve();
        };
      });
    // A host that was busy for so long has not read yet what it was told: that comes before the answer to a question.
    if (!this.isThere) await vscode.commands.getCommands(true);
    return this.isThere;
  }

  dispose(): void {
    vscode.Disposable.from(...this.listeners).dispose();
  }
}

/** Whether nobody can write the document: its file system, the file itself, or the settings make it read only. */
async function cannotBeWritten(document: vscode.TextDocument): Promise<boolean> {
  const { uri, isUntitled } = document;
  if (isUntitled) return false;
  if (isAmong(document, 'readonlyInclude') && !isAmong(document, 'readonlyExclude')) return true;
  const isWritable = vscode.workspace.fs.isWritableFileSystem(uri.scheme);
  if (isWritable === false) return true;
  try {
    const { permissions = 0 } = await vscode.workspace.fs.stat(uri);
    return (permissions & vscode.FilePermission.Readonly) !== 0;
  } catch {
    // Read from elsewhere than a file system: from a repository's past, from an archive. A file that was deleted can be written anew.
    return isWritable === undefined;
  }
}

/** Whether a document is among the files that a setting names by patterns, from the root of its folder or anywhere. */
function isAmong(document: vscode.TextDocument, setting: 'readonlyInclude' | 'readonlyExclude'): boolean {
  const patterns = vscode.workspace.getConfiguration('files', document).get<Readonly<Record<string, boolean>>>(setting, {});
  const folder = vscode.workspace.getWorkspaceFolder(document.uri);
  return Object.entries(patterns).some(([pattern, isOn]) => {
    const anywhere = [pattern, ...(folder ? [new vscode.RelativePattern(folder, pattern)] : [])];
    return isOn && anywhere.some((each) => vscode.languages.match({ pattern: each }, document) > 0);
  });
}
