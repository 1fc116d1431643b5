import { applyEdits, type Span, type TextEdit } from '../text/span';
import { Block } from './block';
import type { Line } from './line';
import { readLine } from './readLine';
import { type RawLine, splitLines } from './splitLines';
import { START, type State } from './state';

/**
 * One version of a session's text with its lines and blocks. Never throws, loses no character: the lines joined are the text. A changed
 * version shares every line and block that the edit did not touch, so that what was computed from them stands.
 */
export class SessionText {
  readonly blocks: readonly Block[];
  /** The number of the first line of each block. */
  readonly blockStarts: readonly number[];
  private readonly offsets: Int32Array;

  private constructor(
    readonly text: string,
    readonly lines: readonly Line[],
    previous?: { readonly blocks: readonly Block[]; readonly changed: Span },
  ) {
    const offsets = new Int32Array(lines.length + 1);
    for (let i = 0, at = 0; i < lines.length; i++) {
      const line = lines[i]!;
      at += line.text.length + line.eol.length;
      offsets[i + 1] = at;
    }
    this.offsets = offsets;
    const blocks: Block[] = [];
    const starts: number[] = [];
    const known = new Map(previous?.blocks.map((block) => [block.lines[0], block]));
    const ended = new Map(previous?.blocks.map((block) => [block.lines.at(-1), block]));
    const close = (from: number, to: number): void => {
      if (from === to && from > 0) return;
      const old = known.get(lines[from]);
      let same = old !== undefined && old.lines.length === to - from;
      // Outside the part read anew, lines that follow each other did so before.
      const stop = Math.min(to, previous?.changed[1] ?? 0);
      for (let i = Math.max(from, previous?.changed[0] ?? 0); same && i < stop; i++) same = lines[i] === old!.lines[i - from];
      // A block whose head was edited is still known by its last line.
      blocks.push(same ? old! : new Block(lines.slice(from, to), old ?? ended.get(lines[to - 1])));
      starts.push(from);
    };
    let from = 0;
    for (let i = 0; i < lines.length; i++) {
      if (lines[i]!.kind !== 'header') continue;
      if (i > 0) close(from, i);
      from = i;
    }
    close(from, lines.length);
    this.blocks = blocks;
    this.blockStarts = starts;
  }

  static read(text: string): SessionText {
    const lines: Line[] = [];
    let state: State = START;
    for (const raw of splitLines(text)) {
      const line = readLine(raw.text, raw.eol, state);
      lines.push(line);
      state = line.after;
    }
    return new SessionText(text, lines);
  }

  /**
   * The text after the edits, reading anew only what they can have changed.
   * @throws RangeError when the edits overlap or leave the text (see `applyEdits`)
   */
  change(edits: readonly TextEdit[]): SessionText {
    if (edits.length === 0) return this;
    const text = applyEdits(this.text, edits);
    // From the line above, as its end may be a \r that a \n now joins.
    const first = Math.max(0, this.lineAt(edits[0]!.span[0]) - 1);
    let last = this.lineAt(edits[edits.length - 1]!.span[1]);
    const grown = text.length - this.text.length;
    let end = this.offsets[last + 1]! + grown;
    if (text.charCodeAt(end - 1) === 13 && text.charCodeAt(end) === 10) end = this.offsets[++last + 1]! + grown;

    const raw: RawLine[] = splitLines(text.slice(this.offsets[first]!, end));
    if (last < this.lines.length - 1) raw.pop();
    const lines = this.lines.slice(0, first);
    let state = this.lines[first]!.before;
    const take = (line: Line): void => {
      lines.push(line);
      state = line.after;
    };
    // A line may stand where it stood, or where the lines put in or taken out have moved it; each old one is used once.
    const shift = last - first + 1 - raw.length;
    let unused = first;
    for (const [i, { text, eol }] of raw.entries()) {
      const at = [first + i, first + i + shift].find((n) => {
        const old = n >= unused && n <= last ? this.lines[n]! : undefined;
        return old && old.before === state && old.eol === eol && old.text === text;
      });
      take(at === undefined ? readLine(detached(text), eol, state) : this.lines[at]!);
      if (at !== undefined) unused = at + 1;
    }
    let next = last + 1;
    for (; next < this.lines.length && this.lines[next]!.before !== state; next++) {
      take(readLine(this.lines[next]!.text, this.lines[next]!.eol, state));
    }
    const changed: Span = [first, lines.length];
    for (; next < this.lines.length; next++) lines.push(this.lines[next]!);
    return new SessionText(text, lines, { blocks: this.blocks, changed });
  }

  /** The number of the line that holds an offset; the last line for one behind the end. */
  lineAt(offset: number): number {
    let low = 0;
    let high = this.lines.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.offsets[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** Where a line starts; for the number of lines, the length of the text. */
  lineStart(line: number): number {
    return this.offsets[line]!;
  }

  /** The index of the block that holds a line. */
  blockAt(line: number): number {
    let low = 0;
    let high = this.blocks.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.blockStarts[middle]! <= line) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** The line end that lines put in take: the first one of the text, else LF. */
  get eol(): '\n' | '\r\n' | '\r' {
    return this.lines[0]!.eol || '\n';
  }

  /** The version the text says it is written in; 1 when it says none. */
  get version(): number {
    for (const line of this.blocks[0]!.lines) if (line.kind === 'version') return line.version;
    return 1;
  }
}

/**
 * A copy that does not keep the text it was cut from alive: engines make a slice a window on its parent, and a line cut from each version
 * of a long session would hold all versions in memory.
 */
const detached = (text: string): string => (text.length < 13 ? text : JSON.parse(JSON.stringify(text)));
