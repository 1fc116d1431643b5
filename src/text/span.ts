/** A half-open range of UTF-16 offsets, of one version of one text. */
export type Span = readonly [start: number, end: number];

/** Replaces `span` by `text`. Lists of edits are sorted and disjoint, and all spans mean the text before the first of them. */
export interface TextEdit {
  readonly span: Span;
  readonly text: string;
}

export const shifted = (span: Span, by: number): Span => [span[0] + by, span[1] + by];

export const shiftedEdits = (edits: readonly TextEdit[], by: number): TextEdit[] =>
  edits.map((edit) => ({ span: shifted(edit.span, by), text: edit.text }));

/**
 * The text after the edits.
 * @throws RangeError when the edits overlap, are out of order or leave the text: a caller's mistake, which must not become lost text.
 */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let result = '';
  let at = 0;
  for (const { span, text: inserted } of edits) {
    if (span[0] < at || span[1] < span[0] || span[1] > text.length) {
      throw new RangeError(`edit [${span[0]}, ${span[1]}] is out of order or outside the text of length ${text.length}`);
    }
    result += text.slice(at, span[0]) + inserted;
    at = span[1];
  }
  return result + text.slice(at);
}
