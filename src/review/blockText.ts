import type { Span } from '../text/span';

export interface SourceLine {
  readonly text: string;
  readonly start: number;
}

/** The lines of a text that starts at `shift` of its document. */
export function linesOf(text: string, shift: number): readonly SourceLine[] {
  const lines: SourceLine[] = [];
  let start = 0;
  for (const { 0: end, index } of text.matchAll(/\r\n|\r|\n/g)) {
    lines.push({ text: text.slice(start, index), start: start + shift });
    start = index + end.length;
  }
  lines.push({ text: text.slice(start), start: start + shift });
  return lines;
}

/** The text of a paragraph, heading or cell, as a reader of Markdown hands it out: without the marks of what it stands in. */
export class BlockText {
  /** Behind it, in the line it starts in. */
  readonly end: number;
  /** Of each line of the content: where it starts in its document; undefined where it was changed on the way. */
  private readonly starts: readonly (number | undefined)[];
  /** Where each line starts in the content. */
  private readonly offsets: readonly number[];
  private readonly lines: readonly SourceLine[];

  /** @param from the first line, and the place in it behind which a cell stands */
  constructor(
    readonly content: string,
    lines: readonly SourceLine[],
    readonly from: { readonly line: number; readonly at: number },
  ) {
    const texts = content.split('\n');
    this.lines = lines.slice(from.line, from.line + texts.length);
    let at = 0;
    this.offsets = texts.map((text) => {
      const start = at;
      at += text.length + 1;
      return start;
    });
    let end = from.at;
    this.starts = texts.map((text, i) => {
      const line = this.lines[i];
      if (!line) return undefined;
      // Blanks at the start may have been tabs.
      const core = text.trimStart();
      // Marks stand before a text, and behind that of a heading; other cells stand before and behind a cell.
      const found = from.at > 0 || texts.length === 1 ? line.text.indexOf(core, from.at) : line.text.lastIndexOf(core);
      if (found >= 0) {
        if (i === 0) end = found + core.length;
        return line.start + found - (text.length - core.length);
      }
      const escaped = core.replaceAll('|', '\\|');
      const cell = line.text.indexOf(escaped, from.at);
      if (cell >= 0) end = cell + escaped.length;
      return undefined;
    });
    this.end = end;
  }

  /** Where a part of the content stands in its document: the lines it stands in, where it was changed on the way. */
  spanOf([from, to]: Span): { readonly span: Span; readonly isPlain: boolean } {
    const [first, last] = [this.lineOf(from), this.lineOf(Math.max(from, to - 1))];
    const [start, end] = [this.starts[first], this.starts[last]];
    if (start !== undefined && end !== undefined) {
      return { span: [start + from - this.offsets[first]!, end + to - this.offsets[last]!], isPlain: first === last };
    }
    const [one, other] = [this.lines[first] ?? this.lines.at(-1)!, this.lines[last] ?? this.lines.at(-1)!];
    return { span: [one.start, other.start + other.text.length], isPlain: false };
  }

  private lineOf(offset: number): number {
    let line = this.offsets.length - 1;
    while (line > 0 && this.offsets[line]! > offset) line--;
    return line;
  }
}
