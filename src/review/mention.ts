import type { Span } from '../text/span';
import type { Written } from './written';

/** A reference that a Markdown document holds. */
export interface Mention {
  /** An instruction is a line of a fenced block ` ```nitbook `. */
  readonly is: 'link' | 'image' | 'instruction';
  /** Of the whole link, image or line. */
  readonly span: Span;
  /** What is read of it: the text of a link, the alternative text of an image, a whole line. */
  readonly label: Written;
  /** Of the label as it is written. */
  readonly labelSpan: Span;
  /** The reference, its escapes and entities read. */
  readonly target: string;
  readonly targetSpan: Span;
  /** Whether the target stands in the text letter by letter, so that places in it are places of the text. */
  readonly isPlain: boolean;
}
