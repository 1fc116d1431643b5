import * as vscode from 'vscode';
import type { Configurations } from '../../editor/config';
import type { Documents } from '../../editor/documents';
import { now } from '../../editor/gestures';
import { say } from '../../editor/l10n';
import { textEditsOf } from '../../editor/translate';
import { isRefusal, refusalText } from '../../language/answers';
import { type PastePreview, pasteReasonText } from '../../language/paste';
import type { SessionText } from '../../session/sessionText';
import { tableOf } from '../../session/table';
import type { Message } from '../../text/message';
import type { TextEdit } from '../../text/span';
import { modelOf, patchBetween } from '../model';
import { locate, opEdits, pastePreview, SHEET_REFUSALS } from '../ops';
import { type EditMessage, type FromHost, type FromPage, PROTO, type PreviewView, readFromPage } from '../protocol';
import { Queue } from '../queue';
import { resultsOf, standingsOf } from '../results';
import { Trail } from '../trail';
import { pageWords } from '../words';

const STAMPS = 'nitbook.sheet.timeStamps';
/** More rows of a paste than this are counted and not shown. */
const MOST_SHOWN = 200;
/** Counts of the whole file may come a little later than the figures of the row that was just typed. */
const STANDINGS_MS = 120;

type Looked = Extract<FromPage, { kind: 'look' }>;

/** One sheet of one document: the host's side of the protocol. */
export class Panel {
  readonly uri: string;
  private epoch = '';
  private epochs = 0;
  private source: SessionText;
  private version: number;
  private trail = new Trail();
  private queue: Queue;
  private look: Pick<Looked, 'at' | 'from' | 'to' | 'column'> | undefined;
  private isComputing = false;
  /** The version that results were last told of. */
  private told = -1;
  private standingsTimer: ReturnType<typeof setTimeout> | undefined;
  /** The text that the sheet's own edit under way leads to. */
  private expected: string | undefined;
  private isReadonly = false;
  private begin: vscode.Position | undefined;
  private readonly subscriptions: vscode.Disposable[];

  constructor(
    private readonly document: vscode.TextDocument,
    private readonly panel: vscode.WebviewPanel,
    private readonly documents: Documents,
    configurations: Configurations,
    begin: vscode.Position | undefined,
  ) {
    this.uri = document.uri.toString();
    this.begin = begin;
    this.source = documents.source(document);
    this.version = document.version;
    this.queue = this.newQueue();
    const isOwn = (other: vscode.TextDocument) => other.uri.toString() === this.uri;
    this.subscriptions = [
      panel.webview.onDidReceiveMessage((data) => this.receive(data)),
      documents.onDidChange(({ document: changed }) => {
        if (isOwn(changed)) this.follow();
      }),
      configurations.onDidChange(() => void this.compute()),
      vscode.workspace.onWillSaveTextDocument(({ document: saved, waitUntil }) => {
        if (isOwn(saved)) waitUntil(this.queue.idle());
      }),
      vscode.workspace.onDidChangeConfiguration((event) => {
        if (event.affectsConfiguration(STAMPS, document)) this.tellSettings();
      }),
      panel.onDidChangeViewState(() => void this.readAccess()),
    ];
  }

  get isActive(): boolean {
    return this.panel.active;
  }

  /** Where the page stands, in the text. */
  get selection(): vscode.Range | undefined {
    if (!this.look) return undefined;
    const { at, column } = this.look;
    const line = Math.min(at, this.document.lineCount - 1);
    const [start, end] = column === undefined ? [0, 0] : cellIn(this.source, line, column);
    return new vscode.Range(line, start, line, end);
  }

  reveal({ line, character }: vscode.Position): void {
    const column = columnAt(this.source, line, character);
    this.post({ kind: 'reveal', epoch: this.epoch, version: this.version, line, ...(column ? { column } : {}) });
  }

  dispose(): void {
    clearTimeout(this.standingsTimer);
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private post(message: FromHost): void {
    void this.panel.webview.postMessage(message);
  }

  private receive(data: unknown): void {
    const message = readFromPage(data);
    if (!message) {
      console.warn('nitbook.sheet: not understood', data);
      return;
    }
    if (message.kind === 'ready') void this.open(message.proto);
    else if (message.epoch !== this.epoch) return;
    else if (message.kind === 'edit') this.queue.edit(message);
    else if (message.kind === 'resync') this.tellState();
    else if (message.kind === 'look') this.looked(message);
    else if (message.kind === 'preview') this.preview(message);
    else if (message.kind === 'openText') {
      this.look = { at: message.line, from: 0, to: 0, ...(message.column ? { column: message.column } : {}) };
      void vscode.commands.executeCommand('nitbook.openText', this.document.uri);
    } else void this.queue.idle().then(() => vscode.commands.executeCommand(message.kind));
  }

  private looked(look: Looked): void {
    const before = this.look;
    this.look = look;
    if (look.version !== this.version) return;
    const isSame =
      before && this.source.blockAt(before.at) === this.source.blockAt(look.at) && before.from === look.from && before.to === look.to;
    if (!isSame || this.told !== look.version) void this.compute();
  }

  /** A page has loaded: as a page of its own, which knows nothing of the one before it. */
  private async open(proto: number): Promise<void> {
    if (proto !== PROTO) console.warn(`nitbook.sheet: a page of protocol ${proto}`);
    await this.queue.idle();
    this.epoch = `${++this.epochs} ${this.uri}`;
    this.queue = this.newQueue();
    this.look = undefined;
    this.trail = new Trail();
    this.isReadonly = await isReadonly(this.document);
    this.tellState();
    if (this.begin) this.reveal(this.begin);
    this.begin = undefined;
  }

  private newQueue(): Queue {
    const { document } = this;
    return new Queue(this.epoch, {
      version: () => document.version,
      plan: (message) => this.plan(message),
      apply: (edits) => this.apply(edits),
      answer: (answer) => this.post(answer),
      sentence: (refusal) => sentenceOf(refusal),
    });
  }

  private tellState(): void {
    this.follow();
    this.post({
      kind: 'state',
      epoch: this.epoch,
      version: this.version,
      model: modelOf(this.source),
      eol: this.document.eol === vscode.EndOfLine.CRLF ? 'CRLF' : 'LF',
      readonly: this.isReadonly,
      words: pageWords((template) => say(template)),
      settings: this.settings(),
    });
  }

  private settings() {
    return { timeStamps: vscode.workspace.getConfiguration(undefined, this.document).get(STAMPS, false) };
  }

  private tellSettings(): void {
    if (this.epoch) this.post({ kind: 'settings', epoch: this.epoch, settings: this.settings(), readonly: this.isReadonly });
  }

  private async readAccess(): Promise<void> {
    const readonly = await isReadonly(this.document);
    if (readonly === this.isReadonly) return;
    this.isReadonly = readonly;
    this.tellSettings();
  }

  /** Tells the page what has become of the text since it was told last. */
  private follow(): void {
    const { document } = this;
    if (document.version === this.version) return;
    const source = this.documents.source(document);
    const { changes, lines, blocks } = patchBetween(this.source, source);
    const step = { from: this.version, to: document.version };
    this.trail.add({ ...step, changes, own: this.expected !== undefined && this.expected === source.text });
    this.source = source;
    this.version = document.version;
    if (!this.epoch) return;
    this.post({ kind: 'patch', epoch: this.epoch, ...step, lines, blocks });
    void this.compute();
  }

  private async plan({ base, op }: EditMessage): Promise<readonly TextEdit[] | Message> {
    const { document, documents } = this;
    if (this.isReadonly) return { code: 'not-written', args: {} };
    const analysis = op.do === 'mend' ? await documents.analysis(document) : undefined;
    this.follow();
    const line = locate(this.source, this.trail, base, op.at);
    if (typeof line !== 'number') return line;
    return opEdits(
      {
        source: this.source,
        ...(this.settings().timeStamps ? { stamp: now() } : {}),
        ...(analysis?.source === this.source ? { findings: analysis.findings } : {}),
      },
      op,
      line,
    );
  }

  private async apply(edits: readonly TextEdit[]): Promise<boolean> {
    const { document, source } = this;
    const edit = new vscode.WorkspaceEdit();
    edit.set(document.uri, textEditsOf(document, edits));
    this.expected = source.change(edits).text;
    try {
      return await vscode.workspace.applyEdit(edit);
    } finally {
      this.follow();
      this.expected = undefined;
    }
  }

  private preview({ epoch, base, id, at, column, text, answers }: Extract<FromPage, { kind: 'preview' }>): void {
    const line = locate(this.source, this.trail, base, at);
    const preview = typeof line === 'number' ? pastePreview(this.source, line, column, text, answers) : line;
    this.post({
      kind: 'previewed',
      epoch,
      id,
      ...(isRefusal(preview) ? { refused: sentenceOf(preview) } : { preview: previewView(preview) }),
    });
  }

  /** Computes for the version that stands, once more when it changed meanwhile. */
  private async compute(): Promise<void> {
    if (this.isComputing || !this.epoch) return;
    this.isComputing = true;
    try {
      for (let done = -1; done !== this.document.version; ) {
        const { version } = this.document;
        const analysis = await this.documents.analysis(this.document);
        done = version;
        const { look, epoch } = this;
        if (this.document.version !== version || this.version !== version) continue;
        if (look) {
          this.post({ kind: 'results', epoch, version, ...resultsOf(analysis, look.at, look, say) });
          this.told = version;
        }
        clearTimeout(this.standingsTimer);
        this.standingsTimer = setTimeout(() => {
          if (this.version !== version || this.epoch !== epoch) return;
          this.post({ kind: 'standings', epoch, version, ...standingsOf(analysis, say) });
        }, STANDINGS_MS);
      }
    } finally {
      this.isComputing = false;
    }
  }
}

const sentenceOf = (refusal: Message): string =>
  Object.hasOwn(SHEET_REFUSALS, refusal.code)
    ? say(SHEET_REFUSALS[refusal.code as keyof typeof SHEET_REFUSALS], refusal.args)
    : refusalText(refusal, say);

function previewView({ run, columns, rows, left, questions }: PastePreview): PreviewView {
  return {
    run,
    columns: columns.map(({ title, to, why }) => ({ title, ...(to ? { to } : {}), ...(why ? { why: pasteReasonText(why, say) } : {}) })),
    rows: rows
      .slice(0, MOST_SHOWN)
      .map(({ line, does, cells, why }) => ({ line, does, cells, ...(why ? { why: pasteReasonText(why, say) } : {}) })),
    more: Math.max(rows.length - MOST_SHOWN, 0),
    left: left.slice(0, MOST_SHOWN).map(({ line, text, why }) => ({ line, text, why: pasteReasonText(why, say) })),
    questions,
    puts: rows.filter(({ does }) => does !== 'nothing' && does !== 'same').length,
  };
}

function cellIn(source: SessionText, line: number, column: string): readonly [number, number] {
  const on = source.lines[line];
  const cell = tableOf(source.blocks[source.blockAt(line)]!).columns.get(column)?.cell;
  if (on?.kind !== 'row' || cell === undefined || cell >= on.values.length) return [0, 0];
  return [on.cells[cell * 3]!, on.cells[cell * 3 + 1]!];
}

function columnAt(source: SessionText, line: number, character: number): string | undefined {
  const on = source.lines[line];
  if (on?.kind !== 'row') return undefined;
  const columns = [...tableOf(source.blocks[source.blockAt(line)]!).columns.values()];
  return columns.find(({ cell }) => cell < on.values.length && on.cells[cell * 3]! <= character && character <= on.cells[cell * 3 + 1]!)
    ?.name;
}

/** Whether nobody can write the document: its file system, or the file itself, is read only. */
async function isReadonly({ uri, isUntitled }: vscode.TextDocument): Promise<boolean> {
  if (isUntitled) return false;
  if (vscode.workspace.fs.isWritableFileSystem(uri.scheme) === false) return true;
  try {
    const { permissions = 0 } = await vscode.workspace.fs.stat(uri);
    return (permissions & vscode.FilePermission.Readonly) !== 0;
  } catch {
    // Read from elsewhere than a file system: from a repository's past, from an archive.
    return vscode.workspace.fs.isWritableFileSystem(uri.scheme) === undefined;
  }
}
