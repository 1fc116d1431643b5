import type { Token } from 'markdown-it';
import type { Span } from '../text/span';
import { linesOf, type SourceLine } from './blockText';
import { isFence } from './fences/language';
import type { Mention } from './mention';
import { Written } from './written';

/** A fenced block ` ```nitbook ` of a document. */
export interface FenceText {
  readonly content: string;
  /** Where each of its lines starts in its document. */
  readonly starts: readonly number[];
  /** The references in its lines. */
  readonly mentions: readonly Mention[];
  /** All of it, from the start of its first line to the end of its last one. */
  readonly span: Span;
  /** What it stands in, at the start of each of its lines: the marks of a quotation, the blanks of a list. */
  readonly inside: string;
}

/** A fenced block that asks for something of this program; undefined for another. */
export function fenceIn({ info, content, map }: Token, lines: readonly SourceLine[]): FenceText | undefined {
  if (!map || !isFence(info, content)) return undefined;
  // What the block stands in is before its lines.
  const ends = lines.slice(map[0] + 1, map[1]).map(({ start, text }) => start + text.length);
  const first = lines[map[0]]!;
  const before = first.text.slice(0, first.text.search(/`{3}|~{3}/));
  return {
    ...fenceText(content, ends),
    span: [first.start, ends.at(-1) ?? first.start + first.text.length],
    inside: before.replace(/[^>]/g, ' '),
  };
}

/** @param ends where each line ends in its document; those of the content itself when left out */
export function fenceText(
  content: string,
  ends: readonly number[] = linesOf(content, 0).map(({ start, text }) => start + text.length),
): FenceText {
  const lines = content.split('\n').slice(0, ends.length);
  return {
    content,
    starts: lines.map((text, i) => ends[i]! - text.length),
    span: [0, content.length],
    inside: '',
    mentions: lines.flatMap((text, i) => instructionsIn(text, ends[i]! - text.trimStart().length, ends[i]!)),
  };
}

function instructionsIn(text: string, start: number, end: number): readonly Mention[] {
  return [...text.trimStart().matchAll(/\S+/g)].map(({ 0: target, index }): Mention => {
    const targetSpan: Span = [start + index, start + index + target.length];
    const span: Span = [start, end];
    const label = new Written();
    label.add(text.trimStart(), span, true);
    return { is: 'instruction', span, label, labelSpan: span, target, targetSpan, isPlain: true };
  });
}
