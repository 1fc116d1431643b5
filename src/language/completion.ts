import type { Analysis } from '../project/analysis';
import type { Block } from '../session/block';
import type { Line } from '../session/line';
import { isBlank } from '../text/blanks';
import type { Say } from '../text/message';
import type { Span } from '../text/span';
import type { FolderUse } from './folderUse';

/** What may be written at an offset. */
export interface Completion {
  readonly label: string;
  readonly insert: string;
  /** Whether `insert` has stops (`snippets.ts`) rather than being plain text. */
  readonly snippet: boolean;
  /** Within one line, and holding the offset. */
  readonly replace: Span;
  readonly kind: CompletionKind;
  /** A few words beside the label, plain. */
  readonly detail: string;
  /** Markdown; empty where there is no more to say. */
  readonly documentation: string;
  /** Sorts the list as it is meant. */
  readonly sortText: string;
}

export type CompletionKind = 'block' | 'property' | 'setting' | 'measure' | 'value' | 'unit' | 'id' | 'column' | 'row';

/** A completion while its line is looked at: `replace` counts from the line's start, and the order is that of the list. */
export interface Item {
  readonly label: string;
  /** The label where it is left out. */
  readonly insert?: string;
  readonly snippet?: boolean;
  readonly replace: Span;
  readonly kind: CompletionKind;
  readonly detail?: string;
  readonly documentation?: string;
}

/** What the makers of lists know of the place. */
export interface Site {
  readonly analysis: Analysis;
  readonly use: FolderUse;
  readonly say: Say;
  readonly block: Block;
  /** The line within its block. */
  readonly line: number;
  readonly on: Line;
  readonly at: number;
  /** Where the content of the line starts, behind blanks and the `~` of a line that is struck out; at most `at`. */
  readonly from: number;
}

/** The ids of blocks, each once, with their titles. */
export function idItems(blocks: readonly Block[], replace: Span): readonly Item[] {
  const seen = new Set<string>();
  return blocks.flatMap((block): Item[] => {
    if (seen.has(block.name)) return [];
    seen.add(block.name);
    const title = block.header?.title?.text ?? '';
    return [{ label: block.name, replace, kind: 'id', detail: [block.keyword ?? '', title].filter((part) => part !== '').join(' · ') }];
  });
}

/** Where the word around an offset starts, not before `from`. */
export function wordStart(text: string, at: number, from: number): number {
  let start = at;
  while (start > from && !isBlank(text.charCodeAt(start - 1))) start--;
  return start;
}

/** Where it ends. */
export function wordEnd(text: string, at: number): number {
  let end = at;
  while (end < text.length && !isBlank(text.charCodeAt(end))) end++;
  return end;
}
