import type { Token } from 'markdown-it';
import type { Span } from '../text/span';
import type { SourceLine } from './blockText';
import type { Mention } from './mention';
import { Written } from './written';

/** The references in the lines of a fenced block ` ```nitbook `; none of another block. */
export function instructionsIn({ info, content, map }: Token, lines: readonly SourceLine[]): readonly Mention[] {
  if (!map || info.trim().split(/\s/)[0] !== 'nitbook') return [];
  const found: Mention[] = [];
  for (const [i, text] of content.split('\n').entries()) {
    const line = lines[map[0] + 1 + i];
    if (!line) break;
    // What the block stands in is before it.
    const start = line.start + line.text.length - text.trimStart().length;
    for (const { 0: target, index } of text.trimStart().matchAll(/\S+/g)) {
      const targetSpan: Span = [start + index, start + index + target.length];
      const span: Span = [start, line.start + line.text.length];
      const label = new Written();
      label.add(text.trimStart(), span, true);
      found.push({ is: 'instruction', span, label, labelSpan: span, target, targetSpan, isPlain: true });
    }
  }
  return found;
}
