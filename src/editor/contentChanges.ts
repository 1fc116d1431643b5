import type { TextEdit } from '../text/span';

/** What an editor says of one change of a text; its offsets mean the text after the changes listed before it. */
export interface ContentChange {
  readonly rangeOffset: number;
  readonly rangeLength: number;
  readonly text: string;
  readonly range: { readonly start: { readonly line: number }; readonly end: { readonly line: number } };
}

/**
 * Changes that follow each other as lists of edits that follow each other. As a rule an editor lists the changes of one gesture from the
 * bottom up, and they become one list; merged gestures, of which a later one may lie further down, become one list each.
 */
export function editsOf(changes: readonly ContentChange[]): TextEdit[][] {
  const lists: TextEdit[][] = [];
  let top = -1;
  for (const { rangeOffset, rangeLength, text } of changes) {
    const edit: TextEdit = { span: [rangeOffset, rangeOffset + rangeLength], text };
    if (edit.span[1] <= top) lists[lists.length - 1]!.unshift(edit);
    else lists.push([edit]);
    top = rangeOffset;
  }
  return lists;
}

/** Where an offset is after changes that follow each other; undefined where one of them wrote over its place. */
export function offsetAfter(offset: number, changes: readonly Omit<ContentChange, 'range'>[]): number | undefined {
  let at = offset;
  for (const { rangeOffset, rangeLength, text } of changes) {
    if (rangeOffset + rangeLength <= at) at += text.length - rangeLength;
    else if (rangeOffset < at) return undefined;
  }
  return at;
}

/** The line on which each change ends, by its number after all of them, for changes listed from the bottom up. */
export function linesWritten(changes: readonly ContentChange[]): Set<number> {
  const lines = new Set<number>();
  let above = 0;
  for (const { range, text } of changes.toReversed()) {
    const added = text.split(/\r\n?|\n/).length - 1;
    lines.add(range.start.line + added + above);
    above += added - (range.end.line - range.start.line);
  }
  return lines;
}
