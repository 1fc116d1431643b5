import * as vscode from 'vscode';
import type { Configurations } from '../../editor/config';
import { type Documents, isSession } from '../../editor/documents';
import { say } from '../../editor/l10n';
import { Turns } from '../../editor/turns';
import { writeWhole } from '../../editor/whole';
import { svgOf } from '../../figure/svg';
import { LIGHT } from '../../figure/theme';
import type { Analysis } from '../../project/analysis';
import type { SessionText } from '../../session/sessionText';
import { markedRow, rowSpan, runAt } from '../places';
import { type FromHost, type FromPage, type Place, PROTO, readFromPage } from '../protocol';
import { FILE_WIDTH, type FigureName, figureNames, read, viewOf } from '../view';
import { pageWords } from '../words';

/** Typing goes on meanwhile, so a picture may come a little after a finding. */
const PAUSE_MS = 60;
/** Pixels of a PNG for one of its SVG: sharp on a dense screen and in print. */
const PNG_SCALE = 2;

/** One preview: the host's side. */
export class Preview {
  private width = 0;
  private drawings = 0;
  private readonly waiting = new Map<number, (png: string | undefined) => void>();
  private readonly turns = new Turns();
  private isDisposed = false;
  private readonly pointed = vscode.window.createTextEditorDecorationType({
    isWholeLine: true,
    backgroundColor: new vscode.ThemeColor('editor.rangeHighlightBackground'),
    borderColor: new vscode.ThemeColor('editor.rangeHighlightBorder'),
  });
  private readonly subscriptions: vscode.Disposable[];

  constructor(
    private readonly panel: vscode.WebviewPanel,
    public place: Place,
    private readonly documents: Documents,
    configurations: Configurations,
  ) {
    const watcher = vscode.workspace.createFileSystemWatcher('**/*.nitbook');
    const whenOwn = (uri: vscode.Uri) => {
      if (uri.toString() === this.place.uri) this.later();
    };
    this.subscriptions = [
      this.turns,
      this.pointed,
      watcher,
      watcher.onDidCreate(whenOwn),
      watcher.onDidDelete(whenOwn),
      // A watcher is late, or sees nothing where there is none.
      vscode.workspace.onDidDeleteFiles(() => this.later()),
      vscode.workspace.onDidRenameFiles(({ files }) => this.moved(files)),
      panel.webview.onDidReceiveMessage((data) => this.receive(data)),
      documents.onDidChange(({ document }) => {
        if (this.isOwn(document)) this.later();
      }),
      configurations.onDidChange(() => this.later()),
      documents.onDidSettle(({ document, late }) => {
        if (late && this.isOwn(document)) this.later();
      }),
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => this.tried(this.follow(textEditor))),
      vscode.window.onDidChangeActiveTextEditor((editor) => editor && this.tried(this.follow(editor))),
    ];
  }

  /** Turns to a session, and to the run of the cursor in it. */
  reveal(document: vscode.TextDocument): void {
    if (!this.isOwn(document)) this.turnTo(document, undefined);
    this.panel.reveal(undefined, true);
    const editor = editorsOf(document)[0];
    if (editor) this.tried(this.follow(editor));
    this.later();
  }

  dispose(): void {
    this.isDisposed = true;
    for (const done of this.waiting.values()) done(undefined);
    vscode.Disposable.from(...this.subscriptions).dispose();
  }

  private isOwn(document: vscode.TextDocument): boolean {
    return document.uri.toString() === this.place.uri;
  }

  private post(message: FromHost): void {
    if (!this.isDisposed) void this.panel.webview.postMessage(message);
  }

  /** Another session: a run of the one before means nothing in it. */
  private turnTo({ uri }: vscode.TextDocument, run: string | undefined): void {
    const { run: _, ...place } = this.place;
    this.place = { ...place, uri: uri.toString(), beside: [], ...(run === undefined ? {} : { run }) };
  }

  /** The session has another name, or a folder that it is in. */
  private moved(files: readonly { readonly oldUri: vscode.Uri; readonly newUri: vscode.Uri }[]): void {
    const { uri } = this.place;
    for (const { oldUri, newUri } of files) {
      const from = oldUri.toString();
      if (uri === from || uri.startsWith(`${from}/`)) this.place = { ...this.place, uri: `${newUri}${uri.slice(from.length)}` };
    }
    this.later();
  }

  /** @throws Error for the person who looks at the page, where the session is gone or cannot be read */
  private async document(): Promise<vscode.TextDocument> {
    const uri = vscode.Uri.parse(this.place.uri, true);
    const gone = () => new Error(vscode.l10n.t('{0} is not there any more.', nameOf(uri)));
    // What was not saved is worth looking at without its file; all else outlives its file by minutes.
    const open = vscode.workspace.textDocuments.find((document) => this.isOwn(document));
    if (open?.isDirty) return open;
    if (uri.scheme === 'untitled') {
      if (!open) throw gone();
      return open;
    }
    try {
      await vscode.workspace.fs.stat(uri);
      return await vscode.workspace.openTextDocument(uri);
    } catch (error) {
      throw error instanceof vscode.FileSystemError && error.code === 'FileNotFound'
        ? gone()
        : new Error(vscode.l10n.t('{0} cannot be read.', nameOf(uri)));
    }
  }

  /** What hinders something is said in a word, unless the page is gone with it. */
  private tried(work: Promise<void>): void {
    work.catch((error: unknown) => {
      if (!this.isDisposed) tell(error instanceof Error ? error.message : String(error));
    });
  }

  private later(): void {
    if (!this.isDisposed) this.turns.take('show', PAUSE_MS, () => this.tried(this.show()));
  }

  /** The cursor has moved: to another run, or within the one that is shown. */
  private async follow(editor: vscode.TextEditor): Promise<void> {
    const { document } = editor;
    if (!isSession(document) || (this.place.pinned && !this.isOwn(document))) return;
    const source = this.documents.source(document);
    const run = runAt(source, document.offsetAt(editor.selection.active));
    if (!this.place.pinned && (!this.isOwn(document) || (run !== undefined && run !== this.place.run))) {
      if (!this.isOwn(document)) this.turnTo(document, run);
      else if (run !== undefined) this.place = { ...this.place, run };
      this.later();
      return;
    }
    const row = await this.here(editor, source);
    this.post({ kind: 'here', ...(row === undefined ? {} : { row }) });
  }

  /** The row of the cursor, as a mark names it. */
  private async here({ document, selection }: vscode.TextEditor, source: SessionText): Promise<string | undefined> {
    const analysis = await this.documents.analysis(document);
    return analysis.source === source ? markedRow(analysis, document.offsetAt(selection.active)) : undefined;
  }

  private async show(): Promise<void> {
    if (this.width === 0) return;
    const { uri } = this.place;
    const document = await this.document().catch((error: Error) => {
      if (this.place.uri === uri) this.showNothing(error.message);
    });
    if (!document) return;
    const { version } = document;
    const analysis = await this.documents.settled(document);
    // What came meanwhile has its own turn.
    if (this.isDisposed || document.version !== version || !this.isOwn(document)) return;
    const run = this.place.run ?? analysis.results[0]?.run.id;
    if (run !== undefined) this.place = { ...this.place, run };
    const file = nameOf(document.uri);
    const view = viewOf(analysis, this.place, this.width, file, say);
    this.panel.title = view.run ? vscode.l10n.t('Figures of {0}', view.run.id) : vscode.l10n.t('Figures');
    const editor = editorsOf(document)[0];
    const here = editor && markedRow(analysis, document.offsetAt(editor.selection.active));
    this.post({
      kind: 'show',
      words: pageWords((template) => say(template)),
      place: this.place,
      view,
      ...(here === undefined ? {} : { here }),
    });
  }

  private showNothing(why: string): void {
    if (this.isDisposed) return;
    this.panel.title = vscode.l10n.t('Figures');
    const view = { file: this.place.uri, runs: [], others: [], figures: [], measures: { head: [], rows: [] } };
    this.post({ kind: 'show', words: { ...pageWords((template) => say(template)), 'no-run': why }, place: this.place, view });
  }

  private receive(data: unknown): void {
    const message = readFromPage(data);
    if (!message) {
      console.warn('nitbook.preview: not understood', data);
      return;
    }
    switch (message.kind) {
      case 'ready':
        if (message.proto !== PROTO) console.warn(`nitbook.preview: a page of protocol ${message.proto}`);
        this.width = message.width;
        // A page that has just loaded draws nothing that another one was asked for.
        for (const done of this.waiting.values()) done(undefined);
        this.waiting.clear();
        this.tried(this.show());
        return;
      case 'width':
        this.width = message.width;
        this.later();
        return;
      case 'choose':
        this.choose(message);
        return;
      case 'point':
        this.tried(this.point(message.row));
        return;
      case 'go':
        this.tried(this.go(message.row));
        return;
      case 'save':
        this.tried(this.save(message.figure));
        return;
      case 'saveAll':
        this.tried(this.saveAll());
        return;
      case 'draw':
        this.tried(this.copyPicture(message.figure));
        return;
      case 'copyText':
      case 'copyReference':
        this.tried(this.copy(message.figure, message.kind));
        return;
      case 'drawn':
        this.waiting.get(message.id)?.(message.png);
        this.waiting.delete(message.id);
        return;
      case 'copied':
        tell(
          message.done
            ? vscode.l10n.t('The picture is on the clipboard.')
            : vscode.l10n.t('Pictures cannot be put on the clipboard here: save it instead.'),
        );
    }
  }

  private choose({ run, pinned, beside, zoom }: Extract<FromPage, { kind: 'choose' }>): void {
    const isOther = run !== undefined && run !== this.place.run;
    this.place = {
      ...this.place,
      ...(run === undefined ? {} : { run }),
      ...(pinned === undefined ? {} : { pinned }),
      ...(zoom === undefined ? {} : { zoom: Math.min(400, Math.max(50, zoom)) }),
      beside: beside ?? (isOther ? [] : this.place.beside),
    };
    this.tried(this.show());
  }

  /** Marks the row in the text, and brings it into view; the cursor stays. */
  private async point(row: string | undefined): Promise<void> {
    const document = await this.document();
    if (this.isDisposed) return;
    for (const editor of editorsOf(document)) {
      const range = row === undefined ? undefined : rangeOf(document, this.documents.source(document), row);
      editor.setDecorations(this.pointed, range ? [range] : []);
      if (range) editor.revealRange(range, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
    }
  }

  private async go(row: string): Promise<void> {
    const document = await this.document();
    const range = rangeOf(document, this.documents.source(document), row);
    if (!range) return;
    const column = editorsOf(document)[0]?.viewColumn ?? vscode.ViewColumn.One;
    await vscode.window.showTextDocument(document, { viewColumn: column, selection: new vscode.Range(range.end, range.end) });
  }

  private async analysed(): Promise<{ readonly uri: vscode.Uri; readonly analysis: Analysis; readonly figures: readonly FigureName[] }> {
    const document = await this.document();
    const analysis = await this.documents.settled(document);
    const { run, beside } = this.place;
    return { uri: document.uri, analysis, figures: run === undefined ? [] : figureNames(analysis, [run, ...beside]) };
  }

  /** A figure as a picture of its own: in the colours of paper, at the width of files. */
  private async picture(id: string) {
    const { uri, analysis, figures } = await this.analysed();
    const found = figures.find(({ name }) => name === id);
    const figure = found && read(analysis, found.of, id, say);
    return (
      found &&
      figure && { uri, name: `${found.of.join('+')}.${id}`, title: figure.title, svg: svgOf(figure, { width: FILE_WIDTH, theme: LIGHT }) }
    );
  }

  private async copy(id: string, what: 'copyText' | 'copyReference'): Promise<void> {
    const picture = await this.picture(id);
    if (!picture) return;
    const { svg, uri, name, title } = picture;
    const alternative = title.replace(/[[\]\\]/g, '\\$&');
    await vscode.env.clipboard.writeText(what === 'copyText' ? svg : `![${alternative}](${encodeURIComponent(nameOf(uri))}#${name})`);
    tell(
      what === 'copyText'
        ? vscode.l10n.t('The SVG is on the clipboard.')
        : vscode.l10n.t('The reference is on the clipboard, as an image of a review.'),
    );
  }

  private async copyPicture(id: string): Promise<void> {
    const picture = await this.picture(id);
    if (picture) this.post({ kind: 'draw', svg: picture.svg, ...sizeOf(picture.svg), to: 'clipboard', id: 0 });
  }

  private async save(id: string): Promise<void> {
    const picture = await this.picture(id);
    if (!picture) return;
    const { uri, name, svg } = picture;
    const file = vscode.Uri.joinPath(uri, '..', `${nameOf(uri).replace(/\.nitbook$/, '')}-${name}.svg`);
    const to = await vscode.window.showSaveDialog({
      ...(uri.scheme === 'untitled' ? {} : { defaultUri: file }),
      filters: { SVG: ['svg'], PNG: ['png'] },
      title: vscode.l10n.t('Save Figure'),
    });
    if (!to) return;
    if (!to.path.toLowerCase().endsWith('.png')) return write(to, new TextEncoder().encode(svg));
    const png = await this.png(svg);
    if (png) await write(to, png);
    else void vscode.window.showErrorMessage(vscode.l10n.t('The figure could not be drawn as PNG: save it as SVG instead.'));
  }

  private async saveAll(): Promise<void> {
    const { uri, figures } = await this.analysed();
    const [folder] =
      (await vscode.window.showOpenDialog({
        canSelectFolders: true,
        canSelectFiles: false,
        ...(uri.scheme === 'untitled' ? {} : { defaultUri: vscode.Uri.joinPath(uri, '..') }),
        openLabel: vscode.l10n.t('Save Figures Here'),
      })) ?? [];
    if (!folder) return;
    for (const { name } of figures.filter(({ variant }) => !variant)) {
      const picture = await this.picture(name);
      if (picture)
        await write(
          vscode.Uri.joinPath(folder, `${nameOf(uri).replace(/\.nitbook$/, '')}-${picture.name}.svg`),
          new TextEncoder().encode(picture.svg),
        );
    }
  }

  /** The page draws, as it alone has a canvas. */
  private async png(svg: string): Promise<Uint8Array | undefined> {
    if (this.isDisposed) return undefined;
    const id = ++this.drawings;
    const drawn = new Promise<string | undefined>((resolve) => this.waiting.set(id, resolve));
    this.post({ kind: 'draw', svg, ...sizeOf(svg), to: 'host', id });
    const base64 = await drawn;
    return base64 === undefined ? undefined : Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
  }
}

const editorsOf = (document: vscode.TextDocument): vscode.TextEditor[] =>
  vscode.window.visibleTextEditors.filter((editor) => editor.document === document);

const nameOf = ({ path }: vscode.Uri): string => path.replace(/^.*\//, '');

const tell = (words: string): void => void vscode.window.setStatusBarMessage(words, 4000);

async function write(to: vscode.Uri, bytes: Uint8Array): Promise<void> {
  try {
    await writeWhole(vscode.workspace.fs, to, bytes);
    tell(vscode.l10n.t('Saved {0}.', nameOf(to)));
  } catch (error) {
    void vscode.window.showErrorMessage(vscode.l10n.t('{0} could not be written: {1}', nameOf(to), String(error)));
  }
}

/** What the picture says of itself, as many pixels as a PNG of it has. */
function sizeOf(svg: string): { width: number; height: number } {
  const [, width, height] = /width="([\d.]+)" height="([\d.]+)"/.exec(svg) ?? [];
  return { width: Math.round(Number(width) * PNG_SCALE), height: Math.round(Number(height) * PNG_SCALE) };
}

function rangeOf(document: vscode.TextDocument, source: SessionText, row: string): vscode.Range | undefined {
  const span = rowSpan(source, row);
  return span && new vscode.Range(document.positionAt(span[0]), document.positionAt(span[1]));
}
