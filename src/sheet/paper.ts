import { changes, type Lines } from './lines';
import type { At, BlockView, ColumnView, LineSplice, LineView, Model, PatchMessage, RowView } from './protocol';

/** A line as the page holds it: the same object for as long as it is the same line, whatever is written in it. */
export interface Held {
  readonly id: number;
  view: LineView;
  gone: boolean;
}

export type HeldRow = Held & { view: RowView };
export const isRow = (line: Held | undefined): line is HeldRow => line?.view.is === 'row';

/**
 * Where a hand can be: a slot of a line, which is a column of a row, `value` of a property, `note` of a note, and `=NAME` of a head for a
 * property that the block does not have itself.
 */
export interface Place {
  readonly line: Held;
  readonly slot: string;
}

/** The file as the page holds it: of one version, as the host has told it. */
export class Paper {
  version = -1;
  lines: readonly Held[] = [];
  blocks: readonly BlockView[] = [];
  private ids = 0;
  private starts: readonly number[] = [];
  /** The lines of the block that was asked for last. */
  private cut: { readonly of: readonly Held[]; readonly block: number; readonly lines: readonly Held[] } | undefined;

  /** The index of a line in the file. */
  indexOf(line: Held): number {
    return this.lines.indexOf(line);
  }

  /** The first line of each block. */
  startOf(block: number): number {
    return this.starts[block] ?? 0;
  }

  blockAt(index: number): number {
    let at = 0;
    while (at + 1 < this.blocks.length && this.startOf(at + 1) <= index) at++;
    return at;
  }

  blockOf(line: Held): BlockView | undefined {
    return this.blocks[this.blockAt(this.indexOf(line))];
  }

  /** The lines of a block. */
  linesOf(block: number): readonly Held[] {
    if (this.cut?.block !== block || this.cut.of !== this.lines) {
      const start = this.startOf(block);
      this.cut = { of: this.lines, block, lines: this.lines.slice(start, start + (this.blocks[block]?.lines ?? 0)) };
    }
    return this.cut.lines;
  }

  /** A line as the host finds it again. */
  at(line: Held): At {
    const index = this.indexOf(line);
    return { block: this.blocks[this.blockAt(index)]?.label ?? '', line: Math.max(index, 0), text: line.view.text };
  }

  /** What the file has in a slot. */
  written({ line, slot }: Place): string {
    const { view } = line;
    if (view.is === 'row') return cellOf(view, this.cellIndex(line, slot));
    if (view.is === 'property') return shownValue(view.state, view.value);
    if (view.is === 'note') return view.note;
    if (slot.startsWith('=')) {
      const taken = this.blockOf(line)?.taken.find(({ name }) => name === slot.slice(1));
      return taken ? shownValue(taken.state, taken.value) : '';
    }
    return '';
  }

  column({ line, slot }: Place): ColumnView | undefined {
    return isRow(line) ? this.blockOf(line)?.columns.find(({ name, read }) => read && name === slot) : undefined;
  }

  private cellIndex(line: Held, slot: string): number {
    return this.blockOf(line)?.columns.findIndex(({ name, read }) => read && name === slot) ?? -1;
  }

  /** A place of an earlier page: the same line of its block, if it is about the same; else the one of its block that reads so. */
  protected find({ block, line, text, slot }: At & { readonly slot: string }): Place | undefined {
    const held = this.lines[line];
    if (held?.view.text === text) return { line: held, slot };
    const index = this.blocks.findIndex(({ label }) => label === block);
    const lines = this.linesOf(index < 0 ? this.blocks.length : index);
    // Written in meanwhile, it is about the same still, and another one may read now as it did.
    if (held && lines.includes(held) && keyText(held.view) === firstWord(text)) return { line: held, slot };
    const alike = lines.filter(({ view }) => view.text === text);
    return alike.length === 1 ? { line: alike[0]!, slot } : undefined;
  }

  /** Takes the whole file anew; lines that were held before are found again in it. */
  protected lay(version: number, { lines, blocks }: Model): void {
    if (this.lines.length > 0) this.carry(lines);
    else this.lines = lines.map((view) => this.hold(view));
    this.blocks = blocks;
    this.version = version;
    this.count();
  }

  private carry(views: readonly LineView[]): void {
    const told = (all: readonly LineView[]): Lines => ({
      lines: all.map(({ text }) => ({ text, eol: '' })),
      kin: (line) => `${all[line]!.is} ${keyText(all[line]!)}`,
    });
    let shift = 0;
    const splices = changes(told(this.lines.map(({ view }) => view)), told(views)).map(({ at, remove, put }) => {
      const from = at + shift;
      shift += put - remove;
      return { at, remove, put: views.slice(from, from + put) };
    });
    this.splice(splices);
    this.lines.forEach((line, i) => {
      line.view = views[i]!;
    });
  }

  /** Takes a change; returns the lines that were written in or are gone. */
  protected follow({ to, lines, blocks }: PatchMessage): readonly Held[] {
    const touched = this.splice(lines);
    const views = [...this.blocks];
    for (const { at, remove, put } of blocks.toReversed()) views.splice(at, remove, ...put);
    this.blocks = views;
    this.version = to;
    this.count();
    return touched;
  }

  private splice(splices: readonly LineSplice[]): readonly Held[] {
    const { lines } = this;
    const all: Held[] = [];
    const touched: Held[] = [];
    let from = 0;
    for (const { at, remove, put } of splices) {
      for (; from < at; from++) all.push(lines[from]!);
      for (let i = 0; i < remove; i++) {
        const line = lines[from++]!;
        touched.push(line);
        if (remove !== put.length) line.gone = true;
        else {
          line.view = put[i]!;
          all.push(line);
        }
      }
      if (remove !== put.length) all.push(...put.map((view) => this.hold(view)));
    }
    for (; from < lines.length; from++) all.push(lines[from]!);
    this.lines = all;
    return touched;
  }

  protected hold(view: LineView): Held {
    return { id: ++this.ids, view, gone: false };
  }

  private count(): void {
    let at = 0;
    this.starts = this.blocks.map(({ lines }) => {
      const start = at;
      at += lines;
      return start;
    });
  }
}

export const cellOf = ({ text, ends }: RowView, cell: number): string =>
  cell < 0 ? '' : cell * 2 < ends.length ? text.slice(ends[cell * 2], ends[cell * 2 + 1]) : '?';

const shownValue = (state: string, value: string): string => (state === 'to-note' ? '?' : state === 'removed' ? '~' : value);

const firstWord = (text: string): string => /[^\s~]\S*/.exec(text)?.[0] ?? '';

/** What a line is about, as far as the line itself says: a row's first cell, a property's name. */
const keyText = (view: LineView): string =>
  view.is === 'property' ? view.name : view.is === 'row' ? cellOf(view, 0) : firstWord(view.text);
