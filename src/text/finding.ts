import type { Code, Severity } from './codes';
import { CODES } from './codes';
import { fill, type Message, type Say } from './message';
import type { Span, TextEdit } from './span';

/** Something noticed in a line: its spans count from the line's own start, so that it stays true when lines are put in above. */
export interface Problem {
  readonly code: Code;
  readonly span: Span;
  readonly args: Message['args'];
  readonly mends: readonly LocalMend[];
}

/** A way to put a problem right, inside its own line. */
export interface LocalMend {
  readonly args: Message['args'];
  readonly edits: readonly TextEdit[];
}

/** Names a place of the tree that survives edits elsewhere: `grey`, `grey/row/3/Y`, `cinema/property/.input`. */
export type NodeId = string & { readonly _?: 'node' };

export interface Mend {
  /** In English: `mendTitle` of the finding's code and these arguments. */
  readonly title: string;
  readonly args: Message['args'];
  readonly edits: readonly TextEdit[];
}

/** Something noticed in a text: where, how grave, in which words, and what would put it right. Spans are absolute. */
export interface Finding {
  readonly code: Code;
  readonly severity: Severity;
  readonly args: Message['args'];
  readonly at: NodeId;
  readonly span: Span;
  readonly mends: readonly Mend[];
}

export const problem = (code: Code, span: Span, args: Message['args'] = {}, mends: readonly LocalMend[] = []): Problem => ({
  code,
  span,
  args,
  mends,
});

/** The sentence of a finding or problem. */
export const sentence = (of: { readonly code: Code; readonly args: Message['args'] }, say: Say = fill): string =>
  say(CODES[of.code].sentence, of.args);

/** The title of a mend of a code; the code's own template, or a plain replacement. */
export const mendTitle = (code: Code, args: Message['args'], say: Say = fill): string => say(CODES[code].mend ?? PLAIN_MEND, args);

export const PLAIN_MEND = 'Write {mended}';
