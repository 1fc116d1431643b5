import { fill } from '../../text/message';
import { type Client, PATIENCE } from '../client';
import { cellOf, type Held, type HeldRow, isRow, type Place } from '../paper';
import type { FromHost } from '../protocol';
import type { SheetWord } from '../words';

/** A question of the sheet itself, open over it. */
export type Question =
  | { readonly is: 'levels' | 'duplicate' | 'note'; readonly head: Held }
  | { readonly is: 'row'; readonly head: Held; readonly columns: readonly string[] };

/** Keys that are in per cent where they do not say another unit. */
const IN_PERCENT: ReadonlySet<string> = new Set(['level', 'sat', 'window']);

/** What was sent: when, as what edit, and the version that it led to. */
interface Commit {
  readonly at: number;
  readonly seq: number;
  version?: number;
}

/** What hands do at the sheet, and what is drawn besides what the client knows. */
export class Desk {
  onChange: () => void = () => undefined;
  question: Question | undefined;
  /** Said when a place is gone to by key, for who cannot see it. */
  said = '';
  /** The run that Enter has just completed. */
  completed = '';
  private waiting: ReturnType<typeof setTimeout> | undefined;
  private commits: Commit[] = [];

  constructor(
    readonly client: Client,
    public large: boolean,
  ) {
    window.addEventListener('keydown', (event) => this.documentKey(event), true);
    window.addEventListener('focus', () => this.focus());
  }

  word = (word: SheetWord, args: Readonly<Record<string, string | number>> = {}): string => fill(this.client.words[word] ?? '', args);

  /** Something was done: it is drawn, and what is on its way is waited for. */
  done(): void {
    this.watch();
    this.onChange();
  }

  received(message: FromHost): void {
    const [seq, version] =
      message.kind === 'patch' ? [message.own, message.to] : message.kind === 'ack' ? [message.seq, message.version] : [];
    for (const commit of this.commits) if (commit.seq === seq) commit.version ??= version!;
    if (message.kind === 'nack') this.commits = [];
    if (message.kind === 'state' || message.kind === 'reveal') queueMicrotask(() => this.focus());
    this.watch();
  }

  /** Each commit is measured to the painting of its figures; see the performance timeline of the page. */
  drawn(): void {
    const { client } = this;
    const isShown = ({ seq, version }: Commit) => client.isForeseen(seq) || (version !== undefined && client.known.version >= version);
    const shown = this.commits.filter(isShown);
    if (shown.length === 0) return;
    this.commits = this.commits.filter((commit) => !shown.includes(commit));
    const channel = new MessageChannel();
    channel.port1.onmessage = () => {
      for (const { at } of shown) performance.measure('nitbook.figure', { start: at, end: performance.now() });
      channel.port1.close();
    };
    // A message that is posted in a frame comes when it has been painted.
    requestAnimationFrame(() => channel.port2.postMessage(0));
  }

  private watch(): void {
    clearTimeout(this.waiting);
    if (!this.client.isWaiting) return;
    this.waiting = setTimeout(() => {
      this.client.late();
      this.onChange();
    }, PATIENCE);
  }

  // Keys

  /** Keys that are the document's, wherever in the page the focus is. */
  private documentKey(event: KeyboardEvent): void {
    const key = event.key.toLowerCase();
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    if (key === 's' && !event.shiftKey) this.save(event);
    if (key !== 'z' && key !== 'y') return;
    // Undo is the document's: neither an input's own nor the workbench's may come between.
    event.preventDefault();
    event.stopPropagation();
    const { client } = this;
    const isUndo = key === 'z' && !event.shiftKey;
    const typing = client.typed.findLast(({ is }) => is !== 'sent');
    const here = client.place && client.draft(client.place);
    const dropped = isUndo && (here && here.is !== 'sent' ? here : typing);
    if (dropped) {
      client.revert(dropped);
      if (isRow(dropped.line)) client.go(dropped);
    } else client.undo(isUndo ? 'undo' : 'redo');
    this.done();
  }

  /** Enter: commits, and goes on to the next reading to take. */
  enter(at: number): void {
    const { client } = this;
    const { place } = client;
    if (!place) return;
    const wasTyped = client.draft(place) !== undefined;
    const committed = client.commit(place);
    if (committed === 'sent') this.commits.push({ at, seq: client.sent });
    if (committed === 'sent' || committed === 'nothing') {
      const next = client.nextOpenIn(client.block, place);
      if (next) this.go(next);
      else if (wasTyped) this.completed = client.blocks[client.block]?.label ?? '';
      else this.go(client.nextOpen(place) ?? place);
    }
    this.done();
  }

  /** Commits what is typed where the hand is, before it goes elsewhere; false when it has to stay. */
  leave(): boolean {
    const { client } = this;
    if (!client.place) return true;
    const committed = client.commit(client.place);
    if (committed === 'sent') this.commits.push({ at: performance.now(), seq: client.sent });
    return committed === 'nothing' || committed === 'sent';
  }

  /** What is typed is saved with the rest. While something is on its way the document may not know yet that it has to be saved. */
  save(event: KeyboardEvent): void {
    const { client } = this;
    if (!this.leave()) return;
    this.done();
    if (!client.isWaiting) return;
    event.preventDefault();
    event.stopPropagation();
    client.save();
  }

  go(place: Place | undefined): void {
    const { client } = this;
    if (!place) return;
    this.completed = '';
    client.go(place);
    this.said = isRow(place.line) ? this.word('cell-of', { column: place.slot, patch: this.patchOf(place.line) }) : '';
  }

  /** Goes to a place by mouse or key, with what was typed before committed. */
  to(place: Place | undefined): void {
    if (place && this.leave()) this.go(place);
    this.done();
    queueMicrotask(() => this.focus(true));
  }

  /** Up and down the rows of the run, in the same column. */
  step(by: number): void {
    const { client } = this;
    const { place } = client;
    if (!place) return;
    const rows: readonly Held[] = client.linesOf(client.block).filter(isRow);
    const at = rows.indexOf(place.line);
    const row = rows[Math.min(Math.max(at + by, 0), rows.length - 1)];
    if (row && row !== place.line) this.to({ line: row, slot: place.slot });
  }

  /** Across the cells of the row; false at its end, where Tab goes on as elsewhere. */
  across(by: 1 | -1): boolean {
    const { client } = this;
    const { place } = client;
    if (!place || !isRow(place.line)) return false;
    const columns = (client.blocks[client.block]?.columns ?? []).filter(({ read }) => read);
    const next = columns[columns.findIndex(({ name }) => name === place.slot) + by];
    if (!next) {
      this.leave();
      this.done();
      return false;
    }
    this.to({ line: place.line, slot: next.name });
    return true;
  }

  blockBy(step: 1 | -1): void {
    const { client } = this;
    this.to(client.nextBlock(step, (block) => (client.blocks[block]!.keyword === '' ? undefined : client.entry(block))));
  }

  /** The row that striking out and repeating mean: the one in hand once it has a reading, else the one typed last; none before that. */
  get meant(): HeldRow | undefined {
    const { client } = this;
    const line = client.place?.line;
    if (!isRow(line)) return undefined;
    const isBlank = client.blocks[client.block]?.columns.every(({ read, key }, i) => !read || key || (line.view.kinds[i] ?? '?') === '?');
    if (!isBlank) return line;
    const { last } = client;
    return last && client.blockOf(last) === client.blockOf(line) && !last.view.struck ? last : undefined;
  }

  again(does: 'takeAgain' | 'addRepeat'): void {
    const row = this.meant;
    if (row && this.leave()) this.client.again(does, row);
    this.done();
    this.focus(true);
  }

  strike(): void {
    const row = this.meant;
    if (row) this.client.send({ do: 'strike', at: this.client.at(row), on: !row.view.struck });
    this.done();
    this.focus(true);
  }

  mend(row: HeldRow, code: string, start: number, nth: number): void {
    this.client.send({ do: 'mend', at: this.client.at(row), code, start, nth });
    this.done();
    this.focus(true);
  }

  /** The first mend of the row in hand, else of the one typed last. */
  mendFirst(): void {
    const { client } = this;
    for (const row of [client.place?.line, client.last]) {
      if (!isRow(row)) continue;
      const finding = client.known.findingsIn(row).find(({ mends }) => mends.length > 0);
      if (finding) {
        this.mend(row, finding.code, finding.start, 0);
        return;
      }
    }
  }

  toggleLarge(): void {
    this.large = !this.large;
    this.onChange();
    this.focus(true);
  }

  ask(question: Question | undefined): void {
    this.question = question;
    this.onChange();
    if (!question) queueMicrotask(() => this.focus(true));
  }

  /** How a reader calls the patch of a row: `30 %`, `red 50 %`, `angle 30`; by its place where its cells do not say. */
  patchOf(row: HeldRow): string {
    const { client } = this;
    const columns = client.blockOf(row)?.columns ?? [];
    const keys = columns.flatMap((column, cell) => (column.key && column.read ? [{ ...column, cell }] : []));
    const named = keys.filter(({ name }) => name === 'patch');
    const parts = (named.length > 0 ? named : keys).map(({ head, words, cell }) => {
      const text = cellOf(row.view, cell);
      return words ? text : IN_PERCENT.has(head) ? `${text} %` : `${head} ${text}`;
    });
    if (parts.length > 0) return parts.join(' ');
    return this.word('nth-row', {
      n:
        client
          .linesOf(client.blockAt(client.indexOf(row)))
          .filter(isRow)
          .indexOf(row) + 1,
    });
  }

  /** Puts the focus where typing goes; unless it is in something of the page already, where it is not `meant` to leave that. */
  focus(meant = false): void {
    const active = document.activeElement;
    if (!meant && active && active !== document.body && active.isConnected) return;
    for (const there of ['.entry input, .field.in-hand input', '.fields input', '.entry button, .day [aria-current]']) {
      const found = document.querySelector<HTMLElement>(there);
      if (found) {
        found.focus();
        return;
      }
    }
  }
}
