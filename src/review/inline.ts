import Markdown, { type Env, type MarkdownIt, type StateInline, type Token } from 'markdown-it';
import type { Span } from '../text/span';
import type { BlockText } from './blockText';
import { type Definitions, type Target, targetAt } from './definitions';
import type { Mention } from './mention';
import { OTHER, Written } from './written';

/** What a block of text holds: its links and images, and its words. */
export interface Inline {
  readonly mentions: readonly Mention[];
  readonly prose: Written;
}

/** Where a link or an image stands in the content of its block. */
interface Place {
  readonly token: Token;
  readonly label: Span;
  readonly start: number;
  end: number;
}

/** The state of the library's reader, which also keeps where the tokens stand that it makes. */
class Placing extends Markdown.StateInline {
  /** Of texts, escapes, entities, code and line ends. */
  readonly spans = new Map<Token, Span>();
  readonly places = new Map<Token, Place>();
  /** Those whose end is where the reader goes on. */
  private ending: Place[] = [];
  private readonly opened: Place[] = [];
  /** Where the text starts that has no token yet. */
  private pendingFrom = 0;
  /** Behind the marks of emphasis that were made in this step. */
  private marked: Token | undefined;

  /** At the start of a step of the reader. */
  step(): void {
    for (const place of this.ending) place.end = this.pos;
    this.ending = [];
    this.marked = undefined;
    if (this.pending === '') this.pendingFrom = this.pos;
  }

  override pushPending(): Token {
    const { pending, pendingFrom } = this;
    const token = super.pushPending();
    this.spans.set(token, [pendingFrom, pendingFrom + pending.length]);
    return token;
  }

  override push(type: string, tag: string, nesting: -1 | 0 | 1): Token {
    const token = super.push(type, tag, nesting);
    const { pos } = this;
    if (type === 'link_open') {
      const place = { token, label: [pos, this.posMax] as const, start: pos - 1, end: this.posMax };
      this.places.set(token, place);
      this.opened.push(place);
    } else if (type === 'link_close') {
      const place = this.opened.pop();
      if (place) this.ending.push(place);
    } else if (type === 'image') {
      const place = { token, label: [pos + 2, pos + 2] as const, start: pos, end: pos };
      this.places.set(token, place);
      this.ending.push(place);
    } else {
      // Several marks of emphasis come from one step.
      const before = this.marked && this.spans.get(this.marked);
      const start = before && this.marked ? before[0] + this.marked.content.length : pos;
      this.spans.set(token, [start, start]);
      if (type === 'text') this.marked = token;
    }
    return token;
  }
}

/** Comes before all other rules, so that it is called wherever the reader goes on. */
export function stepRule(state: StateInline, silent: boolean): boolean {
  if (!silent && state instanceof Placing) state.step();
  return false;
}

/** Reads the text of a block. */
export function inlineOf(markdown: MarkdownIt, block: BlockText, env: Env, definitions: Definitions): Inline {
  const state = new Placing(block.content, markdown, env, []);
  markdown.inline.tokenize(state);
  state.step();
  for (const rule of markdown.inline.ruler2.getRules('')) rule(state);
  return new Words(markdown, block, state, definitions).read();
}

/** Puts the tokens of a block together again. */
class Words {
  private readonly mentions: Mention[] = [];
  private readonly prose = new Written();
  /** Of the links that are open here, the innermost last. */
  private readonly labels: { readonly place: Place; readonly label: Written }[] = [];

  constructor(
    private readonly markdown: MarkdownIt,
    private readonly block: BlockText,
    private readonly state: Placing,
    private readonly definitions: Definitions,
  ) {}

  read(): Inline {
    for (const token of this.state.tokens) this.take(token);
    return { mentions: this.mentions, prose: this.prose };
  }

  private take(token: Token): void {
    const [start] = this.state.spans.get(token) ?? [0];
    const { content, markup } = token;
    switch (token.type) {
      case 'text':
        this.add(content, [start, start + content.length], true);
        break;
      case 'text_special':
        this.add(content, [start, start + markup.length], false);
        break;
      case 'softbreak':
      case 'hardbreak':
        this.add(' ', [start, start + 1], false);
        break;
      case 'code_inline':
        this.code(content, start + markup.length);
        break;
      case 'link_open':
        this.labels.push({ place: this.state.places.get(token)!, label: new Written() });
        break;
      case 'link_close': {
        const { place, label } = this.labels.pop()!;
        if (place.token.markup !== 'autolink') this.mention('link', place, place.label, label);
        this.other();
        break;
      }
      case 'image':
        this.image(this.state.places.get(token)!);
        break;
    }
  }

  private add(text: string, span: Span, isPlain: boolean): void {
    const at = this.block.spanOf(span);
    (this.labels.at(-1)?.label ?? this.prose).add(text, at.span, isPlain && at.isPlain);
  }

  /** In a link code is a way to set its text; in prose it is something else than prose. */
  private code(content: string, start: number): void {
    if (this.labels.length === 0) {
      this.other();
      return;
    }
    // One blank at each end is none of the code.
    const from = this.block.content.startsWith(content, start) ? start : start + 1;
    this.add(content, [from, from + content.length], this.block.content.startsWith(content, from));
  }

  private image(place: Place): void {
    const { content } = place.token;
    const span: Span = [place.label[0], place.label[0] + content.length];
    const at = this.block.spanOf(span);
    const label = new Written();
    label.add(content, at.span, at.isPlain);
    this.mention('image', place, span, label);
    this.other();
  }

  private other(): void {
    if (this.labels.length === 0) this.prose.add(OTHER, [0, 0], false);
  }

  private mention(is: 'link' | 'image', { token, start, end }: Place, label: Span, written: Written): void {
    const target = this.target(token, label[1], end);
    if (!target) return;
    const labelSpan = this.block.spanOf(label).span;
    this.mentions.push({ is, span: this.block.spanOf([start, end]).span, label: written, labelSpan, ...target });
  }

  /** What stands behind a label, or what its definition says. */
  private target({ meta, attrs }: Token, labelEnd: number, end: number): Target | undefined {
    const label: unknown = meta?.label;
    if (typeof label === 'string') {
      const href = String(attrs?.find(([name]) => name === 'href' || name === 'src')?.[1] ?? '');
      return this.definitions.get(label) ?? { target: href, targetSpan: this.block.spanOf([labelEnd, end]).span, isPlain: false };
    }
    const { content } = this.block;
    let at = labelEnd + 2;
    while (/\s/.test(content[at] ?? '')) at++;
    const read = this.markdown.helpers.parseLinkDestination(content, at, end);
    if (!read.ok) return undefined;
    const { target, targetSpan, isPlain } = targetAt(content, at, read);
    const place = this.block.spanOf(targetSpan);
    return { target, targetSpan: place.span, isPlain: isPlain && place.isPlain };
  }
}
