import * as vscode from 'vscode';
import type { Configurations } from '../../editor/config';
import type { Documents } from '../../editor/documents';
import { now } from '../../editor/gestures';
import { say } from '../../editor/l10n';
import { workspaceEditOf } from '../../editor/translate';
import { Turns } from '../../editor/turns';
import type { Analysis } from '../../project/analysis';
import { type Deeds, Server, type SheetDocument } from '../server';

const STAMPS = 'nitbook.sheet.timeStamps';
/** The counts of the whole file, then the pictures, come when no reading has been typed for a moment. */
const STANDINGS_MS = 250;
const PICTURES_MS = 500;

/** One sheet of one document: brings the server of the protocol together with the editor. */
export class Panel {
  readonly uri: string;
  private readonly server: Server;
  private readonly turns = new Turns();
  private isComputing = false;
  private isDue = false;
  private isReadonly = false;
  private readonly subscriptions: vscode.Disposable[];

  constructor(
    private readonly document: vscode.TextDocument,
    private readonly panel: vscode.WebviewPanel,
    private readonly documents: Documents,
    configurations: Configurations,
    begin: vscode.Position | undefined,
  ) {
    this.uri = document.uri.toString();
    this.server = new Server(this.seen(), this.deeds(begin), say, (template) => say(template));
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
      documents.onDidSettle(({ document: settled }) => {
        if (isOwn(settled)) void this.compute();
      }),
      vscode.workspace.onWillSaveTextDocument(({ document: saved, waitUntil }) => {
        if (isOwn(saved)) waitUntil(this.server.idle());
      }),
      vscode.workspace.onDidChangeConfiguration((event) => {
        if (event.affectsConfiguration(STAMPS, document)) this.server.access();
      }),
      panel.onDidChangeViewState(() => void this.readAccess()),
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

  reveal({ line, character }: vscode.Position): void {
    this.server.reveal(line, character);
  }

  dispose(): void {
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private seen(): SheetDocument {
    const { document, documents } = this;
    const isReadonly = () => this.isReadonly;
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
      apply: async (edits) => vscode.workspace.applyEdit(workspaceEditOf(document, edits)),
    };
  }

  private deeds(begin: vscode.Position | undefined): Deeds {
    let place = begin;
    return {
      post: (message) => {
        void this.panel.webview.postMessage(message);
        if (message.kind !== 'state' || !place) return;
        this.reveal(place);
        place = undefined;
      },
      log: (what, data) => console.warn(`nitbook.sheet: ${what}`, data),
      run: (command) => void vscode.commands.executeCommand(command === 'save' ? 'workbench.action.files.save' : command),
      openText: () => void vscode.commands.executeCommand('nitbook.openText', this.document.uri),
      looked: () => void this.compute(),
    };
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
      while (this.isDue && this.server.isOpen) {
        this.isDue = false;
        const analysis = await this.documents.analysis(this.document);
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

/** Whether nobody can write the document: its file system, or the file itself, is read only. */
async function cannotBeWritten({ uri, isUntitled }: vscode.TextDocument): Promise<boolean> {
  if (isUntitled) return false;
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
