import type { Config } from '../config/config';
import { isRefusal, refusalText } from '../language/answers';
import { type PastePreview, pasteReasonText } from '../language/paste';
import type { Analysis } from '../project/analysis';
import { cellCount, cellSpan } from '../session/line';
import type { SessionText } from '../session/sessionText';
import { tableOf } from '../session/table';
import type { Message, Say } from '../text/message';
import type { Span, TextEdit } from '../text/span';
import { modelOf, patchBetween } from './model';
import { locate, opEdits, pastePreview, refuse, SHEET_REFUSALS } from './ops';
import {
  type EditMessage,
  type FromHost,
  type FromPage,
  PROTO,
  type PreviewView,
  type RowResult,
  readFromPage,
  type Settings,
} from './protocol';
import { Queue } from './queue';
import { noticedIn, picturesOf, quickResultsOf, resultsOf, standingsOf } from './results';
import { Trail } from './trail';
import { pageWords } from './words';

/** The document that a sheet is of, as the sheet sees it. */
export interface SheetDocument {
  readonly version: number;
  readonly source: SessionText;
  readonly eol: 'LF' | 'CRLF';
  readonly isReadonly: boolean;
  readonly settings: Settings;
  /** `2026-03-14 15:30`. */
  now(): string;
  /** All that is known of the document as it stands when this is called. */
  analysis(): Promise<Analysis>;
  /** Whether the edits were taken; the server has been told of the change before this resolves. */
  apply(edits: readonly TextEdit[]): Promise<boolean>;
}

/** What the host does for the page besides editing the text. */
export interface Deeds {
  post(message: FromHost): void;
  log(what: string, data: unknown): void;
  /** Resolves when it is done. */
  run(command: 'undo' | 'redo' | 'save'): Promise<void>;
  openText(): void;
  /** Something else is looked at: it is to be computed and told. */
  looked(): void;
}

type Looked = Extract<FromPage, { kind: 'look' }>;
type Foresee = Extract<FromPage, { kind: 'foresee' }>;

const NOTHING_IN_VIEW = { from: 0, to: 0, width: 0 };

/** More rows of a paste than this are counted and not shown. */
const MOST_SHOWN = 200;

/**
 * The host's side of the protocol, for one sheet of one document. It knows neither editor nor clock, so that a test can be both; what it
 * computes is asked of it when there is time.
 */
export class Server {
  private pages = 0;
  private epoch = '';
  private source: SessionText;
  private version: number;
  private readonly trail: Trail;
  private queue: Queue;
  private look: Pick<Looked, 'at' | 'from' | 'to' | 'width' | 'column'> | undefined;
  private readonly said = new Map<string, string>();
  /** The version that results were last told of. */
  private told = -1;
  /** That of the latest analysis. */
  private config: Config | undefined;
  /** The sheet's own edit under way: its number, and the text that it leads to. */
  private expected: { readonly seq: number; readonly text: string } | undefined;

  constructor(
    private readonly document: SheetDocument,
    private readonly deeds: Deeds,
    private readonly say: Say,
    private readonly translated: (template: string) => string,
  ) {
    this.source = document.source;
    this.version = document.version;
    this.trail = new Trail(document.version);
    this.queue = this.newQueue(Promise.resolve());
  }

  get isOpen(): boolean {
    return this.epoch !== '';
  }

  /** Resolves when all edits asked for so far are made or refused. */
  idle(): Promise<void> {
    return this.queue.idle();
  }

  receive(data: unknown): void {
    const message = readFromPage(data);
    if (!message) this.deeds.log('not understood', data);
    else if (message.kind === 'ready') this.ready(message.proto, message.draft);
    else if (message.epoch !== this.epoch) return;
    else if (message.kind === 'edit') this.queue.edit(message);
    else if (message.kind === 'resync') this.tellState();
    else if (message.kind === 'look') this.looked(message);
    else if (message.kind === 'preview') this.preview(message);
    else if (message.kind === 'foresee') void this.foresee(message);
    else if (message.kind === 'openText') {
      const { from, to, width } = this.look ?? NOTHING_IN_VIEW;
      this.look = { at: message.line, from, to, width, ...(message.column ? { column: message.column } : {}) };
      this.deeds.openText();
    } else if (message.kind === 'save') void this.idle().then(() => this.run('save'));
    // A reading that is typed after it must not be what it takes back. (A save waits for what was asked for before it by itself.)
    else this.queue.link(() => this.run(message.kind));
  }

  private async run(command: 'undo' | 'redo' | 'save'): Promise<void> {
    try {
      await this.deeds.run(command);
    } catch (error) {
      this.deeds.log(`not done: ${command}`, String(error));
    }
  }

  /** A page has loaded, and knows nothing of one before it: what that one asked for is made still, and its numbering is over. */
  private ready(proto: number, draft: { readonly line?: number } | undefined): void {
    if (proto !== PROTO) this.deeds.log('a page of another protocol', proto);
    this.epoch = String(++this.pages);
    this.queue = this.newQueue(this.queue.idle());
    this.look = draft?.line === undefined ? undefined : { at: draft.line, ...NOTHING_IN_VIEW };
    this.tellState();
  }

  private newQueue(after: Promise<void>): Queue {
    return new Queue(
      this.epoch,
      {
        version: () => this.document.version,
        plan: (message) => this.plan(message),
        apply: (edits, seq) => this.apply(edits, seq),
        answer: (answer) => this.deeds.post(answer),
        sentence: (refusal) => this.sentence(refusal),
      },
      after,
    );
  }

  private tellState(): void {
    this.changed();
    const { document, epoch, source, version } = this;
    const { eol, isReadonly, settings } = document;
    const words = pageWords(this.translated);
    this.said.clear();
    this.deeds.post({ kind: 'state', epoch, version, model: modelOf(source), eol, readonly: isReadonly, words, settings });
    this.told = -1;
    this.deeds.looked();
  }

  /** Settings, or whether the document can be written, have changed. */
  access(): void {
    if (this.isOpen)
      this.deeds.post({ kind: 'settings', epoch: this.epoch, settings: this.document.settings, readonly: this.document.isReadonly });
  }

  /** Tells the page what has become of the text since it was told last. */
  changed(): void {
    const { document } = this;
    const { source } = document;
    if (document.version === this.version) {
      // The same text, which may have been read anew.
      this.source = source;
      return;
    }
    const { changes, lines, blocks } = patchBetween(this.source, source);
    const step = { from: this.version, to: document.version };
    const own = this.expected?.text === source.text ? this.expected.seq : undefined;
    this.trail.add({ ...step, changes, own: own !== undefined });
    this.source = source;
    this.version = document.version;
    if (!this.isOpen) return;
    this.deeds.post({ kind: 'patch', epoch: this.epoch, ...step, lines, blocks, ...(own === undefined ? {} : { own }) });
    this.tellQuick();
  }

  /** Tells what was computed, unless that is what was told last: a reading, a look at it and its interval may all ask for the same. */
  private tell(message: Extract<FromHost, { kind: 'results' | 'noticed' }>): void {
    const text = JSON.stringify(message);
    if (this.said.get(message.kind) === text) return;
    this.said.set(message.kind, text);
    this.deeds.post(message);
  }

  /** Tells at once what the rows in view give, as far as that needs no judgement. */
  private tellQuick(): void {
    const { epoch, version, look, config } = this;
    const results = look && config && quickResultsOf(this.source, config, look, this.say);
    if (results) this.tell({ kind: 'results', epoch, version, ...results });
  }

  private async plan({ base, op }: EditMessage): Promise<readonly TextEdit[] | Message> {
    const { document } = this;
    if (document.isReadonly) return refuse('not-written');
    const analysis = op.do === 'mend' ? await document.analysis() : undefined;
    this.changed();
    const { source } = this;
    const line = locate(source, this.trail, base, op.at);
    if (typeof line !== 'number') return line;
    const findings = analysis?.source === source ? { findings: analysis.findings } : {};
    return opEdits({ source, ...this.stamp, ...findings }, op, line);
  }

  private async apply(edits: readonly TextEdit[], seq: number): Promise<boolean> {
    this.expected = { seq, text: this.source.change(edits).text };
    try {
      return await this.document.apply(edits);
    } finally {
      this.changed();
      this.expected = undefined;
    }
  }

  private sentence(refusal: Message): string {
    const { code, args } = refusal;
    return Object.hasOwn(SHEET_REFUSALS, code)
      ? this.say(SHEET_REFUSALS[code as keyof typeof SHEET_REFUSALS], args)
      : refusalText(refusal, this.say);
  }

  private preview({ epoch, base, id, at, column, text, answers }: Extract<FromPage, { kind: 'preview' }>): void {
    const line = locate(this.source, this.trail, base, at);
    const preview = typeof line === 'number' ? pastePreview(this.source, line, column, text, answers) : line;
    const said = isRefusal(preview) ? { refused: this.sentence(preview) } : { preview: previewView(preview, this.say) };
    this.deeds.post({ kind: 'previewed', epoch, id, ...said });
  }

  /** What was asked for before is in the text by then. */
  private async foresee(message: Foresee): Promise<void> {
    await this.idle();
    const { epoch, id } = message;
    if (epoch !== this.epoch) return;
    let row: RowResult | undefined;
    try {
      row = this.foreseen(message);
    } catch (error) {
      // The page asks nothing more before it has an answer.
      this.deeds.log('not foreseen', String(error));
    }
    this.deeds.post({ kind: 'foreseen', epoch, id, ...(row ? { row } : {}) });
  }

  /** The row with what is typed; undefined where it would have no figures of its own, as a repeat, whose patch has them. */
  private foreseen({ base, at, column, text }: Foresee): RowResult | undefined {
    this.changed();
    const { source, config } = this;
    const line = locate(source, this.trail, base, at);
    if (typeof line !== 'number' || !config || this.document.isReadonly) return undefined;
    const edits = opEdits({ source, ...this.stamp }, { do: 'setCell', at, column, text }, line);
    if (isRefusal(edits)) return undefined;
    const results = quickResultsOf(source.change(edits), config, { at: line, from: line, to: line + 1 }, this.say);
    return results?.rows.find(({ figures }) => figures.some((figure) => figure !== null));
  }

  /** When a reading is written now, where that is wanted. */
  private get stamp(): { readonly stamp?: string } {
    const { document } = this;
    return document.settings.timeStamps ? { stamp: document.now() } : {};
  }

  private looked(look: Looked): void {
    const { look: before, source, told } = this;
    this.look = look;
    if (look.version !== this.version) {
      // A patch is on its way to the page, which does not ask again for what it has in view.
      this.deeds.looked();
      return;
    }
    const isSame =
      before !== undefined &&
      source.blockAt(before.at) === source.blockAt(look.at) &&
      before.from === look.from &&
      before.to === look.to &&
      before.width === look.width;
    if (isSame && told === look.version) return;
    this.tellQuick();
    this.deeds.looked();
  }

  /** Tells what was noticed; false where the text has gone on since. */
  tellNoticed(analysis: Analysis): boolean {
    const { epoch, version, look, say } = this;
    this.config = analysis.config;
    if (analysis.source !== this.source) return false;
    if (this.isOpen && look) this.tell({ kind: 'noticed', epoch, version, ...noticedIn(analysis, look, say) });
    return true;
  }

  /** Tells what is computed of the rows in view, with verdicts: where their intervals are known, by those. */
  tellResults(analysis: Analysis): void {
    const { epoch, version, look, say } = this;
    if (!this.isOpen || !look || analysis.source !== this.source) return;
    this.tell({ kind: 'results', epoch, version, ...resultsOf(analysis, look, say) });
    this.told = version;
  }

  /** Tells what may come later: how all blocks stand. */
  tellStandings(analysis: Analysis): void {
    const { epoch, version } = this;
    if (this.isOpen && analysis.source === this.source)
      this.deeds.post({ kind: 'standings', epoch, version, ...standingsOf(analysis, this.say) });
  }

  /** Tells what may come later still: the pictures of the run. */
  tellPictures(analysis: Analysis): void {
    const { epoch, look } = this;
    if (this.isOpen && look && analysis.source === this.source)
      this.deeds.post({ kind: 'figures', epoch, ...picturesOf(analysis, look.at, look.width, this.say) });
  }

  /** Where the page stands, in the text. */
  get selection(): { readonly line: number; readonly span: Span } | undefined {
    if (!this.look) return undefined;
    const { at, column } = this.look;
    const line = Math.min(at, this.source.lines.length - 1);
    const cell = column === undefined ? undefined : cellOf(this.source, line, column);
    return { line, span: cell ?? [0, 0] };
  }

  /** Goes where a cursor of the text stands. */
  reveal(line: number, character: number): void {
    const { epoch, version, source } = this;
    const on = source.lines[line];
    const columns = on?.kind === 'row' ? [...tableOf(source.blocks[source.blockAt(line)]!).columns.values()] : [];
    const column = columns.find(({ name }) => {
      const span = cellOf(source, line, name);
      return span && span[0] <= character && character <= span[1];
    });
    if (this.isOpen) this.deeds.post({ kind: 'reveal', epoch, version, line, ...(column ? { column: column.name } : {}) });
  }
}

function cellOf(source: SessionText, line: number, column: string): Span | undefined {
  const on = source.lines[line];
  const cell = tableOf(source.blocks[source.blockAt(line)]!).columns.get(column)?.cell;
  return on?.kind === 'row' && cell !== undefined && cell < cellCount(on) ? cellSpan(on, cell) : undefined;
}

function previewView({ run, columns, rows, left, questions }: PastePreview, say: Say): PreviewView {
  const why = (reason: Message | undefined) => (reason ? { why: pasteReasonText(reason, say) } : {});
  return {
    run,
    columns: columns.map(({ title, to, why: reason }) => ({ title, ...(to === undefined ? {} : { to }), ...why(reason) })),
    rows: rows.slice(0, MOST_SHOWN).map(({ line, does, cells, why: reason }) => ({ line, does, cells, ...why(reason) })),
    more: Math.max(rows.length - MOST_SHOWN, 0),
    left: left.slice(0, MOST_SHOWN).map(({ line, text, why: reason }) => ({ line, text, why: pasteReasonText(reason, say) })),
    questions,
    puts: rows.filter(({ does }) => does !== 'nothing' && does !== 'same').length,
  };
}
