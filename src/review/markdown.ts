import { parse, postprocess, preprocess } from 'micromark';
import { decodeString } from 'micromark-util-decode-string';
import { normalizeIdentifier } from 'micromark-util-normalize-identifier';
import type { Event } from 'micromark-util-types';
import { ascending } from '../text/ascending';
import type { Span } from '../text/span';

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

/** What a document says to this program. */
export interface ReviewText {
  readonly text: string;
  /** In the order of the text. */
  readonly mentions: readonly Mention[];
  /** Paragraphs and headings, `OTHER` standing for links, images and code in them. */
  readonly prose: readonly Written[];
}

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

const MARK = '.nitbook#';

/** Whether it is worth reading a document: every reference names a file and something in it. */
export const mayRefer = (text: string): boolean => text.includes(MARK);

/** Longer documents are not read: the reader of Markdown is not linear for all that anybody could write. */
export const LONGEST_REVIEW = 1_000_000;

/**
 * Finds the references of a Markdown document (CommonMark). Total: any text is a document. Nothing is found in code, in HTML, and in what
 * only looks like a link.
 */
export function readReview(text: string): ReviewText {
  if (!mayRefer(text) || text.length > LONGEST_REVIEW) return { text, mentions: [], prose: [] };
  const reader = new Reader(text);
  for (const event of postprocess(
    parse()
      .document()
      .write(preprocess()(text, undefined, true)),
  ))
    reader.take(event);
  return reader.review;
}

const PROSE: ReadonlySet<string> = new Set(['paragraph', 'atxHeadingText', 'setextHeadingText']);

/** A link or image while its parts are read. */
interface Open {
  readonly is: 'link' | 'image';
  readonly label: Written;
  labelSpan: Span;
  target?: Target;
  /** What its definition is called, where the target stands in one. */
  identifier?: string;
}

type Target = Pick<Mention, 'target' | 'targetSpan' | 'isPlain'>;

/** One pass over the events of one document. */
class Reader {
  /** By the place of the link, so that they come in the order of the text whatever is in what. */
  private readonly found: { readonly open: Open; readonly span: Span }[] = [];
  private readonly instructions: Mention[] = [];
  private readonly prose: Written[] = [];
  private readonly definitions = new Map<string, Target>();
  private readonly open: Open[] = [];
  private paragraph: Written | undefined;
  private defined = '';
  private isFence = false;
  /** A byte order mark counts in the text and not in the places of the parser. */
  private readonly shift: number;

  constructor(private readonly text: string) {
    this.shift = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  }

  get review(): ReviewText {
    const mentions = this.found.flatMap(({ open, span }): Mention[] => {
      const { is, label, labelSpan } = open;
      const target = open.target ?? (open.identifier === undefined ? undefined : this.definitions.get(open.identifier));
      return target?.target.includes(MARK) ? [{ is, span, label, labelSpan, ...target }] : [];
    });
    const all = [...mentions, ...this.instructions].sort((a, b) => a.span[0] - b.span[0] || b.span[1] - a.span[1]);
    return { text: this.text, mentions: all, prose: this.prose };
  }

  take([kind, token, context]: Event): void {
    const span: Span = [token.start.offset + this.shift, token.end.offset + this.shift];
    const top = this.open.at(-1);
    if (kind === 'exit') {
      if (token.type === 'link' || token.type === 'image') this.close(span);
      else if (token.type === 'codeFenced') this.isFence = false;
      else if (PROSE.has(token.type)) this.paragraph = undefined;
      return;
    }
    if (PROSE.has(token.type)) {
      this.paragraph = new Written();
      this.prose.push(this.paragraph);
      return;
    }
    switch (token.type) {
      case 'link':
      case 'image':
        this.written?.add(OTHER, [span[0], span[0]], false);
        this.open.push({ is: token.type, label: new Written(), labelSpan: [span[0], span[0]] });
        break;
      case 'labelText':
        if (top) {
          top.labelSpan = span;
          top.identifier = normalizeIdentifier(context.sliceSerialize(token));
        }
        break;
      case 'referenceString':
        if (top) top.identifier = normalizeIdentifier(context.sliceSerialize(token));
        break;
      case 'resource':
        delete top?.identifier;
        break;
      case 'resourceDestinationString':
        if (top) top.target = this.target(span);
        break;
      case 'definitionLabelString':
        this.defined = normalizeIdentifier(context.sliceSerialize(token));
        break;
      case 'definitionDestinationString':
        if (!this.definitions.has(this.defined)) this.definitions.set(this.defined, this.target(span));
        break;
      case 'data':
        // Parts of a target, a title or an identifier are data too, and no words.
        if (this.isInWords(span)) this.written?.add(this.text.slice(...span), span, true);
        break;
      case 'characterEscapeValue':
        if (this.isInWords(span)) this.written?.add(this.text.slice(...span), [span[0] - 1, span[1]], false);
        break;
      case 'characterReference':
        if (this.isInWords(span)) this.written?.add(decodeString(this.text.slice(...span)), span, false);
        break;
      case 'codeTextData':
        // In a link code is a way to set its text; in prose it is something else than prose.
        if (top) top.label.add(this.text.slice(...span), span, true);
        else this.paragraph?.add(OTHER, span, false);
        break;
      case 'lineEnding':
      case 'hardBreakTrailing':
      case 'hardBreakEscape':
        if (this.isInWords(span)) this.written?.add(' ', span, false);
        break;
      case 'codeFencedFenceInfo':
        this.isFence = this.text.slice(...span) === 'nitbook';
        break;
      case 'codeFlowValue':
        if (this.isFence) this.instruct(span);
        break;
    }
  }

  private get written(): Written | undefined {
    return this.open.at(-1)?.label ?? this.paragraph;
  }

  private isInWords([start]: Span): boolean {
    const top = this.open.at(-1);
    return top === undefined || (start >= top.labelSpan[0] && start < top.labelSpan[1]);
  }

  private close(span: Span): void {
    const open = this.open.pop();
    if (open) this.found.push({ open, span });
  }

  private target(span: Span): Target {
    const raw = this.text.slice(...span);
    const target = decodeString(raw);
    return { target, targetSpan: span, isPlain: raw === target };
  }

  private instruct(line: Span): void {
    for (const { 0: target, index } of this.text.slice(...line).matchAll(/\S*\.nitbook#\S*/g)) {
      const targetSpan: Span = [line[0] + index, line[0] + index + target.length];
      const label = new Written();
      label.add(this.text.slice(...line), line, true);
      this.instructions.push({ is: 'instruction', span: line, label, labelSpan: line, target, targetSpan, isPlain: true });
    }
  }
}
