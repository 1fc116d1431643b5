import { applyEdits, type TextEdit } from '../text/span';
import { Block } from './block';
import type { Line } from './line';
import { readLine } from './readLine';
import { eachLine, type RawLine, splitLines } from './splitLines';
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
    since?: Since,
  ) {
    this.offsets = offsetsOf(lines, since && { ...since, old: since.old.offsets });
    this.blockStarts = startsOf(lines, since);
    this.blocks = blocksOf(lines, this.blockStarts, since);
  }

  static read(text: string): SessionText {
    const lines: Line[] = [];
    let state: State = START;
    eachLine(text, (raw, eol) => {
      const line = readLine(raw, eol, state);
      lines.push(line);
      state = line.after;
    });
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
    const read: Line[] = [];
    let state = this.lines[first]!.before;
    const take = (line: Line): void => {
      read.push(line);
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
    const lines = this.lines.slice(0, first).concat(read, this.lines.slice(next));
    return new SessionText(text, lines, { old: this, from: first, to: first + read.length });
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

/** What a version is made of besides the one before: its lines from `from` to `to`. Those around them are the old ones. */
interface Since<T = SessionText> {
  readonly old: T;
  readonly from: number;
  readonly to: number;
}

function offsetsOf(lines: readonly Line[], since?: Since<Int32Array>): Int32Array {
  const offsets = new Int32Array(lines.length + 1);
  const { from, to } = since ?? { from: 0, to: lines.length };
  if (since) offsets.set(since.old.subarray(0, from + 1));
  for (let i = from; i < to; i++) offsets[i + 1] = offsets[i]! + lines[i]!.text.length + lines[i]!.eol.length;
  if (since) {
    const up = since.old.length - offsets.length;
    const grown = offsets[to]! - since.old[to + up]!;
    for (let i = to + 1; i < offsets.length; i++) offsets[i] = since.old[i + up]! + grown;
  }
  return offsets;
}

function startsOf(lines: readonly Line[], since?: Since): number[] {
  const { from, to } = since ?? { from: 0, to: lines.length };
  const up = since ? since.old.lines.length - lines.length : 0;
  const old = since?.old.blockStarts ?? [];
  const starts = [0, ...old.filter((start) => start > 0 && start < from)];
  for (let i = Math.max(1, from); i < to; i++) if (lines[i]!.kind === 'header') starts.push(i);
  for (const start of old) if (start > up && start >= to + up) starts.push(start - up);
  return starts;
}

function blocksOf(lines: readonly Line[], starts: readonly number[], since?: Since): Block[] {
  const known = new Map(since?.old.blocks.map((block) => [block.lines[0], block]));
  const ended = new Map(since?.old.blocks.map((block) => [block.lines.at(-1), block]));
  const { from, to } = since ?? { from: 0, to: 0 };
  return starts.map((start, k) => {
    const end = starts[k + 1] ?? lines.length;
    const old = known.get(lines[start]);
    let same = old?.lines.length === end - start;
    // Outside the part read anew, lines that follow each other did so before.
    for (let i = Math.max(start, from); same && i < Math.min(end, to); i++) same = lines[i] === old!.lines[i - start];
    // A block whose head was edited is still known by its last line.
    return same ? old! : new Block(lines.slice(start, end), old ?? ended.get(lines[end - 1]));
  });
}

/**
 * A copy that does not keep the text it was cut from alive: engines make a slice a window on its parent, and a line cut from each version
 * of a long session would hold all versions in memory.
 */
const detached = (text: string): string => (text.length < 13 ? text : JSON.parse(JSON.stringify(text)));
