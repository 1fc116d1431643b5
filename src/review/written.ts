import { ascending } from '../text/ascending';
import type { Span } from '../text/span';

/** Stands in prose for what is no prose. */
export const OTHER = '\uFFFC';

/** A text as it is read, without marks of emphasis, escapes and entities, that knows where it is written. */
export class Written {
  /** Where each part starts in `text`, where it is written, and whether letter by letter. */
  private readonly parts: { readonly at: number; readonly span: Span; readonly isPlain: boolean }[] = [];
  private read = '';

  get text(): string {
    return this.read;
  }

  add(text: string, span: Span, isPlain: boolean): void {
    if (text === '') return;
    this.parts.push({ at: this.read.length, span, isPlain });
    this.read += text;
  }

  /** Where a part of the text is written; undefined when marks stand in it, so that it is no one piece. */
  spanOf([from, to]: Span): Span | undefined {
    const first = ascending(this.parts.length, (i) => this.parts[i]!.at <= from) - 1;
    const last = ascending(this.parts.length, (i) => this.parts[i]!.at < to) - 1;
    if (first < 0 || last < first) return undefined;
    for (let i = first; i < last; i++) if (this.parts[i]!.span[1] !== this.parts[i + 1]!.span[0]) return undefined;
    const start = this.placeIn(first, from);
    const end = this.placeIn(last, to);
    return start === undefined || end === undefined ? undefined : [start, end];
  }

  private placeIn(index: number, offset: number): number | undefined {
    const { at, span, isPlain } = this.parts[index]!;
    if (isPlain) return span[0] + offset - at;
    const end = this.parts[index + 1]?.at ?? this.read.length;
    return offset === at ? span[0] : offset === end ? span[1] : undefined;
  }
}
