import type { Env, MarkdownIt } from 'markdown-it';
import type { Mention } from './mention';

export type Target = Pick<Mention, 'target' | 'targetSpan' | 'isPlain'>;

/** A label is no longer than this (CommonMark 0.31.2, link labels). */
const LONGEST_LABEL = 1000;

/** Where the targets of a document stand that links name by a label: `[peak]: aurora.nitbook#hdr-window.peak`. */
export class Definitions {
  private places: ReadonlyMap<string, Target> | undefined;

  /** @param env what the reader of blocks found */
  constructor(
    private readonly markdown: MarkdownIt,
    private readonly text: string,
    private readonly env: Env,
  ) {}

  /** What a label, as the reader of Markdown keeps it, stands for. */
  get(label: string): Target | undefined {
    this.places ??= this.find();
    return this.places.get(label);
  }

  /** The reader does not say where it found them, so that they are looked for by what they say. */
  private find(): ReadonlyMap<string, Target> {
    const { markdown, text, env } = this;
    const found = new Map<string, Target>();
    const references = env.references ?? {};
    for (let end = text.indexOf(']:'); end >= 0; end = text.indexOf(']:', end + 2)) {
      const start = text.slice(Math.max(0, end - LONGEST_LABEL), end).lastIndexOf('[');
      if (start < 0) continue;
      const label = markdown.utils.normalizeReference(text.slice(Math.max(0, end - LONGEST_LABEL) + start + 1, end));
      if (found.has(label) || !Object.hasOwn(references, label)) continue;
      let at = end + 2;
      while (/\s/.test(text[at] ?? '')) at++;
      const read = markdown.helpers.parseLinkDestination(text, at, text.length);
      if (read.ok && read.str === references[label]!.href) found.set(label, targetAt(text, at, read));
    }
    return found;
  }
}

/** A target as it is written at a place of a text, perhaps in angle brackets. */
export function targetAt(text: string, at: number, { pos, str }: { readonly pos: number; readonly str: string }): Target {
  const inside = text[at] === '<' ? 1 : 0;
  const targetSpan = [at + inside, pos - inside] as const;
  return { target: str, targetSpan, isPlain: text.slice(...targetSpan) === str };
}
