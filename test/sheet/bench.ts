import { NO_CONFIG } from '../../src/config/config';
import { analyse, settled } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { Client } from '../../src/sheet/client';
import { isRow, type Place } from '../../src/sheet/paper';
import { type FromHost, type FromPage, type Kept, readFromHost } from '../../src/sheet/protocol';
import { Server, type SheetDocument } from '../../src/sheet/server';
import { fill } from '../../src/text/message';
import { applyEdits, type TextEdit } from '../../src/text/span';

/** A document in memory, with its steps of undo; it can refuse edits and change under an edit that is under way. */
export class FakeDocument implements SheetDocument {
  version = 1;
  source: SessionText;
  readonly eol = 'LF';
  isReadonly = false;
  settings = { timeStamps: false };
  /** How many of the next edits are not taken. */
  refuses = 0;
  /** Done before the next edit is taken: what someone else does meanwhile. */
  meanwhile: (() => void) | undefined;
  onChange: () => void = () => undefined;
  /** How it takes a step back. */
  onUndo: () => unknown = () => this.undo();
  private readonly undone: string[] = [];

  constructor(text: string) {
    this.source = SessionText.read(text);
  }

  get text(): string {
    return this.source.text;
  }

  now = () => '2026-03-14 15:30';
  analysis = async () => analyse(this.source, NO_CONFIG);

  async apply(edits: readonly TextEdit[]): Promise<boolean> {
    const { version } = this;
    await Promise.resolve();
    this.meanwhile?.();
    this.meanwhile = undefined;
    // The workbench refuses edits of a version that is not the present one.
    if (this.refuses > 0 || this.version !== version) {
      this.refuses = Math.max(0, this.refuses - 1);
      return false;
    }
    this.change(edits);
    return true;
  }

  /** By the sheet, or by anybody. */
  change(edits: readonly TextEdit[]): void {
    this.undone.push(this.text);
    this.source = this.source.change(edits);
    this.version++;
    this.onChange();
  }

  /** As a checkout does: all of it, read anew. */
  replace(text: string): void {
    this.undone.push(this.text);
    this.source = SessionText.read(text);
    this.version++;
    this.onChange();
  }

  write(from: string, to: string): void {
    const at = this.text.indexOf(from);
    if (at < 0) throw new Error(`"${from}" does not stand there`);
    this.change([{ span: [at, at + from.length], text: to }]);
  }

  /** The same text and version, as another object. */
  readAnew(): void {
    this.source = SessionText.read(this.text);
  }

  undo(): void {
    const text = this.undone.pop();
    if (text === undefined) return;
    this.source = SessionText.read(text);
    this.version++;
    this.onChange();
  }
}

/** A page and a host that speak over a wire: messages arrive when the wire is let run, in their order, as copies. */
export class Bench {
  readonly document: FakeDocument;
  readonly server: Server;
  client: Client;
  /** What the host said, and what the page said, in order. */
  readonly said: FromHost[] = [];
  readonly asked: FromPage[] = [];
  readonly logged: string[] = [];
  opened = 0;
  /** Messages that the page does not get, by kind. */
  lost = new Set<FromHost['kind']>();
  private wire: (() => void)[] = [];

  constructor(text: string, kept?: Kept) {
    this.document = new FakeDocument(text);
    this.server = new Server(
      this.document,
      {
        post: (message) => {
          this.said.push(message);
          this.wire.push(() => this.toPage(message));
        },
        log: (what) => this.logged.push(what),
        run: async () => {
          await this.document.onUndo();
        },
        openText: () => {
          this.opened++;
        },
        looked: () => void this.compute(),
      },
      fill,
      (template) => template,
    );
    this.document.onChange = () => {
      this.server.changed();
      void this.compute();
    };
    this.client = this.load(kept);
  }

  private async compute(): Promise<void> {
    const analysis = await this.document.analysis();
    if (this.server.tellNoticed(analysis)) this.server.tellResults(settled(analysis));
  }

  static async open(text: string): Promise<Bench> {
    const bench = new Bench(text);
    await bench.settle();
    return bench;
  }

  /** One whose page looks at the readings. */
  static async looking(text: string): Promise<Bench> {
    const bench = await Bench.open(text);
    bench.client.see(0, bench.client.lines.length, 0);
    await bench.settle();
    return bench;
  }

  /** What the page shows as the colour difference of a row. */
  deltaE({ line }: Place): string | undefined {
    return this.client.resultOf(line)?.figures[0]?.value;
  }

  /** The page is loaded anew. */
  load(kept?: Kept): Client {
    this.client = new Client(
      (message) => {
        const copy = JSON.parse(JSON.stringify(message)) as FromPage;
        this.asked.push(copy);
        this.wire.push(() => this.server.receive(copy));
      },
      kept && (JSON.parse(JSON.stringify(kept)) as Kept),
    );
    return this.client;
  }

  private toPage(message: FromHost): void {
    if (this.lost.has(message.kind)) return;
    const read = readFromHost(JSON.parse(JSON.stringify(message)));
    if (!read) throw new Error(`not understood: ${JSON.stringify(message).slice(0, 200)}`);
    this.client.receive(read);
  }

  /** Lets some messages arrive, and does not wait for what follows from them. */
  async deliver(count: number): Promise<void> {
    for (let i = 0; i < count && this.wire.length > 0; i++) {
      this.wire.shift()!();
      await Promise.resolve();
    }
  }

  /** Lets everything arrive that is on its way. */
  async settle(): Promise<void> {
    for (let quiet = 0; quiet < 3; quiet++) {
      while (this.wire.length > 0) {
        this.wire.shift()!();
        quiet = 0;
        await Promise.resolve();
      }
      await new Promise((resolve) => setImmediate(resolve));
      if (this.wire.length > 0) quiet = 0;
    }
  }

  /** The place of a cell in the first row that starts so. */
  cell(start: string, slot: string): Place {
    const line = this.client.lines.find((each) => isRow(each) && each.view.text.trimStart().startsWith(start));
    if (!line) throw new Error(`no row ${start}`);
    return { line, slot };
  }

  type(place: Place, text: string): ReturnType<Client['commit']> {
    this.client.go(place);
    this.client.type(place, text);
    return this.client.commit(place);
  }

  /** Whether the page shows just the text that the document has. */
  get isTrue(): boolean {
    return this.client.lines.map(({ view }) => view.text).join('\n') === this.document.source.lines.map(({ text }) => text).join('\n');
  }
}

export const edited = (text: string, ...edits: readonly (readonly [from: string, to: string])[]): string =>
  edits.reduce((t, [from, to]) => {
    const at = t.indexOf(from);
    if (at < 0) throw new Error(`"${from}" does not stand there`);
    return applyEdits(t, [{ span: [at, at + from.length], text: to }]);
  }, text);

export const DAY = `nitbook 1

session 2026-03-14
  title: Halden Aurora 55
  | A note.
display aurora "Halden Aurora 55"
signal sdr
  range: limited
  depth: 10
mode cinema "Cinema, as shipped"
  Picture / Light output: 38
  Picture / Gamma: 2.4
mode game from cinema
  Picture / Light output: 50
  Picture / Gamma: ~
  Motion / Smoothing: ?
target dark
  space: bt709
  curve: power 2.4
  white: d65

greyscale grey "As shipped"
  mode: cinema
  target: dark
  signal: sdr
    level   Y         x        y
         0  <0.003    -        -
        20  2.54      0.3130   0.3283
        30  ?         ?        ?
  # the lamp was on
        40  ?         ?        ?
       100  119.6     0.3089   0.3248
contrast deep
    patch   Y
    white   ?
    black   ?
`;
