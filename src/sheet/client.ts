import { Ahead } from './ahead';
import { Known } from './known';
import { cellOf, type Held, type HeldRow, isRow, Paper, type Place } from './paper';
import {
  type Answer,
  type FromHost,
  type FromPage,
  type Kept,
  type LineView,
  type Op,
  type PatchMessage,
  PROTO,
  type PreviewView,
  type Results,
  type RowResult,
  type Settings,
  type StateMessage,
} from './protocol';
import { readTyped } from './typed';

/** Something typed that does not stand in the file, over what does. */
export interface Draft extends Place {
  readonly text: string;
  /** What the file had there when typing began, or when it was last decided on. */
  readonly was: string;
  readonly is: 'typing' | 'sent' | 'refused';
  readonly seq?: number;
  readonly why?: string;
  /** It was said that the file has something else by now: the next commit means it. */
  readonly isWarned?: true;
}

export interface Preview {
  readonly id: number;
  readonly place: Place;
  readonly text: string;
  readonly answers: { readonly decimalComma?: boolean; readonly repeats?: boolean };
  readonly view?: PreviewView;
  readonly refused?: string;
}

/** What the commit of a cell came to. */
export type Committed = 'nothing' | 'sent' | 'asked' | 'previewed' | 'waits';

/** So long an edit may go without an answer, in milliseconds. */
export const PATIENCE = 2000;

/**
 * The page's side of the protocol: what it knows of the file, what is typed over it, and what is on its way. It knows no DOM and no clock, so
 * that a test can be its host.
 */
export class Client extends Paper {
  eol: 'LF' | 'CRLF' = 'LF';
  readonly = true;
  words: Readonly<Record<string, string>> = {};
  settings: Settings = { timeStamps: false };
  readonly known = new Known(this);
  place: Place | undefined;
  /** The row that the last reading was typed into. */
  last: HeldRow | undefined;
  preview: Preview | undefined;
  /** A comma that it must be said of what it is. */
  comma: { readonly place: Place; readonly typed: string; readonly mended: string } | undefined;
  decimalComma = false;
  /** Why the last gesture that was no typing was refused. */
  notice = '';
  inStep = true;

  private epoch = '';
  private seq = 0;
  private previews = 0;
  private isResyncing = false;
  /** Steps that were asked to be taken back or done again, whose changes have not come yet. */
  private undoing = 0;
  private kept: Kept | undefined;
  private looked = '';
  private readonly drafts = new Map<string, Draft>();
  private readonly ahead = new Ahead((id, { line, slot, text }) => {
    this.post({ kind: 'foresee', epoch: this.epoch, base: this.version, id, at: this.at(line), column: slot, text });
  });
  private readonly pending = new Map<number, Extract<FromPage, { kind: 'edit' }>>();
  /** What is to be done once an edit is made. */
  private readonly afterwards = new Map<number, () => void>();
  /** Edits on their way that lead to another place. */
  private readonly leading = new Set<number>();

  constructor(
    private readonly post: (message: FromPage) => void,
    kept?: Kept,
  ) {
    super();
    this.kept = kept;
    this.decimalComma = kept?.comma ?? false;
    const place = kept?.place;
    this.post({ kind: 'ready', proto: PROTO, ...(place ? { draft: { line: place.line, column: place.slot } } : {}) });
  }

  /** The number of the edit that was sent last. */
  get sent(): number {
    return this.seq;
  }

  get isOpen(): boolean {
    return this.epoch !== '';
  }

  receive(message: FromHost): void {
    if (message.kind === 'state') this.take(message);
    else if (message.epoch !== this.epoch) return;
    else if (message.kind === 'patch') this.patch(message);
    else if (message.kind === 'ack' || message.kind === 'nack') this.answered(message);
    else if (message.kind === 'results') this.known.tellResults(message);
    else if (message.kind === 'noticed') this.known.tellNoticed(message);
    else if (message.kind === 'standings') this.known.standings = message.version === this.version ? message : this.known.standings;
    else if (message.kind === 'figures') this.known.figures = message;
    else if (message.kind === 'previewed') this.previewed(message);
    else if (message.kind === 'foreseen') this.ahead.answered(message.id, message.row);
    else if (message.kind === 'settings') {
      this.settings = message.settings;
      this.readonly = message.readonly;
    } else if (message.version === this.version) this.reveal(message.line, message.column);
  }

  /** The block in hand. */
  get block(): number {
    return this.place ? this.blockAt(this.indexOf(this.place.line)) : 0;
  }

  private get head(): Held | undefined {
    return this.lines[this.startOf(this.block)];
  }

  // What is typed

  draft({ line, slot }: Place): Draft | undefined {
    return this.drafts.get(keyOf(line, slot));
  }

  get typed(): readonly Draft[] {
    return [...this.drafts.values()];
  }

  /** What is to be seen in a slot: what was typed, else what the file has. */
  shown(place: Place): string {
    return this.draft(place)?.text ?? this.written(place);
  }

  /** Whether the file got something else while this was being typed. */
  isContested(draft: Draft): boolean {
    return draft.is !== 'sent' && !draft.line.gone && this.written(draft) !== draft.was && this.written(draft) !== draft.text;
  }

  type(place: Place, text: string): void {
    if (this.readonly) return;
    const known = this.draft(place);
    this.comma = undefined;
    // What is typed anew while an edit is on its way is measured by that edit.
    const was = known ? (known.is === 'sent' ? known.text : known.was) : this.written(place);
    this.put({ ...place, text, was, is: 'typing' });
    this.foresee(place, text);
  }

  /** Asks what a row would give with a reading, as far as that has been typed and can be written as it is. */
  private foresee(place: Place, typed: string): void {
    const column = this.column(place);
    if (!column || column.words) return;
    const read = readTyped(typed, 'numbers', this.decimalComma);
    if (read.is === 'cell' && read.text !== '' && read.text !== this.written(place))
      this.ahead.want({ ...place, text: read.text, after: this.seq });
  }

  /** Lets go of what was typed; the file's own is seen again. */
  revert(place: Place): boolean {
    this.comma = undefined;
    const known = this.draft(place);
    if (!known || known.is === 'sent') return false;
    this.ahead.drop(place);
    return this.drafts.delete(keyOf(place.line, place.slot));
  }

  /** Sends what was typed in a slot; asks first where it must be said what is meant. */
  commit(place: Place): Committed {
    const draft = this.draft(place);
    if (!draft || draft.is === 'sent' || draft.line.gone) return 'nothing';
    // It is meant for a place that is not there yet.
    if (this.leading.size > 0 && isSame(place, this.place)) return 'waits';
    if (this.isContested(draft) && !draft.isWarned) {
      this.put({ ...draft, isWarned: true });
      return 'asked';
    }
    const { line } = place;
    if (!isRow(line)) return this.commitText(place, draft);
    const read = readTyped(draft.text, this.column(place)?.words ? 'words' : 'numbers', this.decimalComma);
    if (read.is === 'rows') {
      this.look(place, draft.text);
      return 'previewed';
    }
    if (read.is === 'comma') {
      if (this.comma?.place.line !== line || this.comma.place.slot !== place.slot) {
        this.comma = { place, typed: draft.text, mended: read.mended };
        return 'asked';
      }
      this.comma = undefined;
      this.decimalComma = true;
      return this.commit(place);
    }
    const written = this.written(place);
    if (read.text === written || (read.text === '' && written === '?')) return this.dropped(place);
    this.last = line;
    return this.sendDraft({ ...draft, text: read.text }, { do: 'setCell', at: this.at(line), column: place.slot, text: read.text });
  }

  private commitText(place: Place, draft: Draft): Committed {
    const { line, slot } = place;
    const { view } = line;
    const text = draft.text.trim();
    if (text === this.written(place)) return this.dropped(place);
    if (view.is === 'note') return this.sendDraft(draft, { do: 'setNote', at: this.at(line), text });
    const name = view.is === 'property' ? view.name : slot.slice(1);
    if (view.is !== 'property' && text === '') return this.dropped(place);
    return this.sendDraft(draft, { do: 'setProperty', at: this.at(line), name, value: text });
  }

  private dropped(place: Place): Committed {
    this.ahead.drop(place);
    this.drafts.delete(keyOf(place.line, place.slot));
    return 'nothing';
  }

  private sendDraft(draft: Draft, op: Op): Committed {
    this.ahead.drop(draft);
    this.put({ line: draft.line, slot: draft.slot, text: draft.text, was: draft.was, is: 'sent', seq: this.send(op) });
    return 'sent';
  }

  private put(draft: Draft): void {
    this.drafts.set(keyOf(draft.line, draft.slot), draft);
  }

  // What is sent

  send(op: Op, afterwards?: () => void): number {
    const seq = ++this.seq;
    const message = { kind: 'edit', epoch: this.epoch, base: this.version, seq, op } as const;
    this.notice = '';
    this.undoing = 0;
    this.pending.set(seq, message);
    if (afterwards) this.afterwards.set(seq, afterwards);
    this.post(message);
    return seq;
  }

  /**
   * Sends an edit that leads to a place. What is typed before it is there was meant for it; a hand that has gone elsewhere meanwhile stays
   * where it is.
   */
  private sendTo(op: Op, goal: () => Place | undefined): number {
    const from = this.place;
    const had = from && this.draft(from);
    const seq = this.send(op, () => {
      const to = goal();
      if (!to || !(from?.line.gone || isSame(this.place, from))) return;
      const typed = from && !had && !isSame(from, to) ? this.draft(from) : undefined;
      if (typed?.is === 'typing') {
        this.put({ ...to, text: typed.text, was: this.written(to), is: 'typing' });
        this.drafts.delete(keyOf(typed.line, typed.slot));
      }
      this.go(to);
    });
    this.leading.add(seq);
    return seq;
  }

  get isWaiting(): boolean {
    return this.pending.size > 0;
  }

  /** Whether the answer to this edit has not come yet. */
  isOnItsWay(seq: number): boolean {
    return this.pending.has(seq);
  }

  /** Takes the latest step back, or does it again, and goes to where that shows. */
  undo(kind: 'undo' | 'redo'): void {
    this.undoing++;
    this.post({ kind, epoch: this.epoch });
  }

  /** Saves once all that is on its way is written. */
  save(): void {
    this.post({ kind: 'save', epoch: this.epoch });
  }

  /** An edit has gone too long without an answer. */
  late(): void {
    if (this.pending.size > 0) this.inStep = false;
  }

  /** Asks for everything anew, and for the answers that did not come. */
  resync(): void {
    if (this.isResyncing) return;
    this.isResyncing = true;
    this.post({ kind: 'resync', epoch: this.epoch });
  }

  /** Says what is in hand and in view, so that its results come; they come again by themselves when the text changes. */
  see(from: number, to: number, width: number): void {
    if (!this.place || this.version < 0) return;
    const at = this.indexOf(this.place.line);
    const column = isRow(this.place.line) ? this.place.slot : '';
    const key = `${at} ${from} ${to} ${width} ${column}`;
    if (key === this.looked) return;
    this.looked = key;
    this.post({ kind: 'look', epoch: this.epoch, version: this.version, at, from, to, width, ...(column ? { column } : {}) });
  }

  openText(line: Held, column?: string): void {
    const index = Math.max(this.indexOf(line), 0);
    this.post({ kind: 'openText', epoch: this.epoch, version: this.version, line: index, ...(column ? { column } : {}) });
  }

  /** Asks what pasting a text at a place would do. */
  look(place: Place, text: string, answers: Preview['answers'] = {}): void {
    const id = ++this.previews;
    this.preview = { id, place, text, answers };
    const at = this.at(place.line);
    this.post({ kind: 'preview', epoch: this.epoch, base: this.version, id, at, column: place.slot, text, answers });
  }

  /** Pastes what was looked at, or lets go of it. */
  closePreview(isMeant: boolean): void {
    const { preview } = this;
    this.preview = undefined;
    if (!preview || !isMeant) return;
    const { place, text, answers } = preview;
    if (isRow(place.line)) this.last = place.line;
    const op = { do: 'paste', at: this.at(place.line), column: place.slot, text, answers } as const;
    const seq = this.sendTo(op, () => this.nextOpenIn(this.block, place));
    const draft = this.draft(place);
    if (draft) this.put({ ...draft, is: 'sent', seq });
  }

  /** Strikes a row out and takes it again, or adds a repeat, and goes to the reading to take. */
  again(does: 'takeAgain' | 'addRepeat', row: HeldRow): void {
    this.sendTo({ do: does, at: this.at(row) }, () => {
      const block = this.blockAt(this.indexOf(row));
      const slot = this.blocks[block]?.columns.findLast(({ read }) => read)?.name ?? '';
      return this.nextOpenIn(block, { line: row, slot });
    });
  }

  /** The run again for another mode; goes to it. */
  duplicate(head: Held, mode: string | undefined): void {
    const known = new Set(this.blocks.map(({ label }) => label));
    const at = this.at(head);
    this.sendTo(mode === undefined ? { do: 'duplicateAdjusted', at } : { do: 'duplicate', at, mode }, () => {
      const made = this.blocks.findIndex(({ label, table }) => table && !known.has(label));
      return made < 0 ? undefined : this.entry(made);
    });
  }

  /** Rows to take, by their levels or, of one, by its cells; goes to the first reading to take. Gives the number of the edit. */
  addRows(head: Held, rows: string | Readonly<Record<string, string>>): number {
    const at = this.at(head);
    const op = typeof rows === 'string' ? ({ do: 'addLevels', at, levels: rows } as const) : ({ do: 'addRow', at, cells: rows } as const);
    return this.sendTo(op, () => this.nextOpenIn(this.blockAt(this.indexOf(head))));
  }

  // Where to go

  go(place: Place | undefined): void {
    if (place) this.place = place;
  }

  /** The next reading to take behind a place: in its run, then in the runs behind it, then from the start of the file. */
  nextOpen(from: Place): Place | undefined {
    return this.nextOpenIn(this.block, from) ?? this.nextBlock(1, (block) => this.nextOpenIn(block));
  }

  /** The next one in a run behind a place of it, round the run; without a place its first one. */
  nextOpenIn(block: number, from?: Place): Place | undefined {
    const view = this.blocks[block];
    if (!view?.table || view.void) return undefined;
    const lines = this.linesOf(block);
    const cells = view.columns.flatMap(({ name, read }, cell) => (read ? [{ name, cell }] : []));
    const first = from ? Math.max(lines.indexOf(from.line), 0) : 0;
    const after = from ? cells.findIndex(({ name }) => name === from.slot) + 1 : 0;
    // The line of the place comes twice: its cells behind the place first, those before it last.
    for (let n = 0; n <= lines.length; n++) {
      const line = lines[(first + n) % lines.length];
      if (!isRow(line) || line.view.struck) continue;
      const { kinds } = line.view;
      const [start, end] = n === 0 ? [after, cells.length] : [0, n === lines.length ? after : cells.length];
      for (let i = start; i < end; i++) {
        const { name, cell } = cells[i]!;
        if ((kinds[cell] ?? '?') === '?' && this.draft({ line, slot: name })?.is !== 'sent') return { line, slot: name };
      }
    }
    return undefined;
  }

  /** What blocks give that come after (or before) the one in hand, the first of it, round the file. */
  nextBlock<T>(step: 1 | -1, of: (block: number) => T | undefined): T | undefined {
    const count = this.blocks.length;
    for (let n = 1; n < count; n++) {
      const found = of((this.block + step * n + n * count) % count);
      if (found !== undefined) return found;
    }
    return undefined;
  }

  /** Where a block is entered: at its first reading to take, else its first row, else its head. */
  entry(block: number): Place | undefined {
    const lines = this.linesOf(block);
    const open = this.nextOpenIn(block);
    if (open) return open;
    const row = lines.find(isRow);
    const column =
      this.blocks[block]?.columns.find(({ read, key }) => read && !key) ?? this.blocks[block]?.columns.find(({ read }) => read);
    if (row && column) return { line: row, slot: column.name };
    const property = lines.find(({ view }) => view.is === 'property' && !view.struck);
    if (property) return { line: property, slot: 'value' };
    return lines[0] && { line: lines[0], slot: '' };
  }

  // What comes back

  keep(): Kept {
    const kept = ({ line, slot }: Place) => ({ ...this.at(line), slot });
    return {
      v: 1,
      ...(this.place ? { place: kept(this.place) } : {}),
      drafts: this.typed.map((draft) => ({ ...kept(draft), typed: draft.text, was: draft.was })),
      comma: this.decimalComma,
    };
  }

  private restore({ place, drafts }: Kept): void {
    const found = place && this.find(place);
    if (found) this.place = found;
    for (const kept of drafts) {
      // Without its line it is kept as what was typed for a line that is gone.
      const gone: Held = { ...this.hold({ is: 'other', text: kept.text }), gone: true };
      const at = this.find(kept) ?? { line: gone, slot: kept.slot };
      if (at.line.gone || this.written(at) !== kept.typed) this.put({ ...at, text: kept.typed, was: kept.was, is: 'typing' });
    }
  }

  // What the host says

  private take(message: StateMessage): void {
    const { epoch, version, model, eol, readonly, words, settings } = message;
    const isAgain = epoch === this.epoch;
    const place = this.place && { ...this.place, index: this.indexOf(this.place.line) };
    this.epoch = epoch;
    this.eol = eol;
    this.readonly = readonly;
    this.words = words;
    this.settings = settings;
    this.isResyncing = false;
    this.undoing = 0;
    this.looked = '';
    this.known.clear();
    this.ahead.clear();
    this.lay(version, model);
    if (this.kept) this.restore(this.kept);
    this.kept = undefined;
    this.settle(place?.index ?? 0);
    this.place ??= this.first();
    // Edits of an earlier epoch met a host that is gone: what was typed stays as typed.
    if (!isAgain) {
      this.pending.clear();
      this.leading.clear();
      this.afterwards.clear();
      for (const draft of this.typed) if (draft.is === 'sent') this.put({ ...draft, is: 'typing' });
    }
    this.inStep = true;
    for (const edit of this.pending.values()) this.post(edit);
  }

  /** The first run with a reading to take, else the first run, else the first block. */
  private first(): Place | undefined {
    const blocks = this.blocks.map((_, i) => i);
    const open = blocks.find((i) => this.nextOpenIn(i)) ?? blocks.find((i) => this.blocks[i]!.table) ?? Math.min(1, blocks.length - 1);
    return this.entry(open);
  }

  private patch(message: PatchMessage): void {
    if (this.isResyncing) return;
    if (message.from !== this.version) {
      this.resync();
      return;
    }
    const index = this.place ? this.indexOf(this.place.line) : 0;
    const before = this.undoing > 0 && message.own === undefined ? new Map(this.lines.map((line) => [line, line.view])) : undefined;
    this.known.touched(this.follow(message));
    this.known.moved(message.blocks);
    this.ahead.changed();
    if (before) {
      this.undoing--;
      this.goToChange(before);
    }
    this.settle(index);
  }

  /** To the first cell that is not what it was. */
  private goToChange(before: ReadonlyMap<Held, LineView>): void {
    const line = this.lines.find((each) => before.get(each) !== each.view);
    if (!isRow(line)) return;
    const old = before.get(line);
    const cells = this.blockOf(line)?.columns.flatMap(({ name, read }, cell) => (read ? [{ name, cell }] : [])) ?? [];
    const changed = cells.find(({ cell }) => old?.is !== 'row' || cellOf(old, cell) !== cellOf(line.view, cell));
    const { name } = changed ?? cells.find(({ name: slot }) => slot === this.place?.slot) ?? cells[0] ?? {};
    if (name !== undefined) this.place = { line, slot: name };
  }

  /** Goes to a line near the one that the place was on, where that is gone. */
  private settle(index: number): void {
    if (this.last?.gone) this.last = undefined;
    if (!this.place?.line.gone) return;
    const { slot } = this.place;
    const block = this.blockAt(Math.min(index, this.lines.length - 1));
    const rows = this.linesOf(block).filter(isRow);
    const start = this.startOf(block);
    const near = rows.find((line) => this.indexOf(line) >= Math.min(index, start + this.linesOf(block).length)) ?? rows.at(-1);
    const hasSlot = this.blocks[block]?.columns.some(({ name, read }) => read && name === slot);
    this.place = near && hasSlot ? { line: near, slot } : this.entry(block);
  }

  private answered(answer: Answer): void {
    const { seq } = answer;
    if (!this.pending.delete(seq)) return;
    if (this.pending.size === 0) this.inStep = true;
    const afterwards = this.afterwards.get(seq);
    this.afterwards.delete(seq);
    this.leading.delete(seq);
    if (answer.kind === 'ack') afterwards?.();
    const draft = this.typed.find((each) => each.seq === seq);
    if (answer.kind === 'ack') {
      if (draft) this.drafts.delete(keyOf(draft.line, draft.slot));
    } else if (draft)
      this.put({ line: draft.line, slot: draft.slot, text: draft.text, was: this.written(draft), is: 'refused', why: answer.text });
    else this.notice = answer.text;
  }

  /** What is computed of a row: with what has been sent, where that was foreseen. */
  resultOf(line: Held): RowResult | undefined {
    for (const draft of this.drafts.values()) {
      const row = draft.line === line ? this.ahead.of(draft) : undefined;
      if (row) return row;
    }
    return this.known.resultOf(line);
  }

  /** Whether what an edit gives is known already, though it is on its way. */
  isForeseen(seq: number): boolean {
    const draft = this.typed.find((each) => each.seq === seq);
    return draft !== undefined && this.ahead.of(draft) !== undefined;
  }

  /** What is computed of the run in hand. */
  get run(): Results['run'] {
    return this.known.runOf(this.head);
  }

  /** What the block in hand can have, and be measured again for. */
  get offers(): ReturnType<Known['offersOf']> {
    return this.known.offersOf(this.head);
  }

  /** Whether what was computed last is of the block in hand. */
  get isComputed(): boolean {
    return this.known.isOf(this.head);
  }

  private previewed({ id, preview, refused }: Extract<FromHost, { kind: 'previewed' }>): void {
    if (this.preview?.id !== id) return;
    this.preview = { ...this.preview, ...(preview ? { view: preview } : {}), ...(refused !== undefined ? { refused } : {}) };
  }

  private reveal(index: number, column?: string): void {
    const line = this.lines[index];
    if (!line) return;
    const block = this.blockAt(index);
    const { columns = [] } = this.blocks[block] ?? {};
    const slot = columns.find(({ name, read }) => read && name === column) ?? columns.find(({ read, key }) => read && !key);
    if (isRow(line) && slot) this.place = { line, slot: slot.name };
    else if (line.view.is === 'property') this.place = { line, slot: 'value' };
    else this.place = this.entry(block);
  }
}

const isSame = (a: Place | undefined, b: Place | undefined): boolean => a?.line === b?.line && a?.slot === b?.slot;

const keyOf = ({ id }: Held, slot: string): string => `${id} ${slot}`;
