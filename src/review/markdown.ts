import Markdown, { type Env, type Token } from 'markdown-it';
import { BlockText, linesOf } from './blockText';
import { Definitions } from './definitions';
import { inlineOf, stepRule } from './inline';
import { type FenceText, fenceIn } from './instructions';
import type { Mention } from './mention';
import type { Written } from './written';

export type { Mention } from './mention';

/** What a document says to this program. */
export interface ReviewText {
  readonly text: string;
  /** In the order of the text. */
  readonly mentions: readonly Mention[];
  /** Paragraphs, headings and cells, `OTHER` standing for links, images and code in them. */
  readonly prose: readonly Written[];
  /** Blocks that ask for tables and figures. */
  readonly fences: readonly FenceText[];
}

const MARK = '.nitbook#';

/** Whether it is worth reading a document: every reference names a file and something in it. */
export const mayRefer = (text: string): boolean => text.includes(MARK);

/** Longer documents are not read: the reader of Markdown is not linear for all that anybody could write. */
export const LONGEST_REVIEW = 500_000;

// As the previews of VS Code read Markdown: CommonMark with the tables and the strikethrough of GFM. Every address is a link, as what is
// wrong with it is to be said.
const markdown = new Markdown({ html: true });
markdown.validateLink = () => true;
markdown.normalizeLink = (address) => address;
markdown.inline.ruler.before('text', 'step', stepRule);
// It joins texts that stand in several places.
markdown.inline.ruler2.disable('fragments_join');

/**
 * Finds the references of a Markdown document. Total: any text is a document. Nothing is found in code, in HTML, and in what only looks like
 * a link. A document without references has no prose.
 */
export function readReview(text: string): ReviewText {
  if (!mayRefer(text) || text.length > LONGEST_REVIEW) return { text, mentions: [], prose: [], fences: [] };
  // A byte order mark is no text, yet editors write it.
  const shift = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  const lines = linesOf(text.slice(shift).replaceAll('\0', '\uFFFD'), shift);
  const env: Env = {};
  const tokens: Token[] = [];
  markdown.block.parse(lines.map((line) => line.text).join('\n'), markdown, env, tokens);
  const definitions = new Definitions(markdown, text, env);
  const mentions: Mention[] = [];
  const prose: Written[] = [];
  const fences: FenceText[] = [];
  let row: { readonly line: number; readonly at: number } | undefined;
  for (const token of tokens) {
    if (token.type === 'tr_open') row = token.map ? { line: token.map[0], at: 0 } : undefined;
    else if (token.type === 'fence') {
      const fence = fenceIn(token, lines);
      if (fence) fences.push(fence);
    } else if (token.type === 'inline') {
      const from = token.map ? { line: token.map[0], at: 0 } : row;
      if (!from) continue;
      const block = new BlockText(token.content, lines, from);
      // The next cell of a row stands behind this one.
      if (!token.map) row = { line: from.line, at: block.end };
      const inline = inlineOf(markdown, block, env, definitions);
      mentions.push(...inline.mentions);
      prose.push(inline.prose);
    }
  }
  const found = [...mentions, ...fences.flatMap((fence) => fence.mentions)]
    .filter(({ target }) => mayRefer(target))
    .sort((a, b) => a.span[0] - b.span[0] || b.span[1] - a.span[1]);
  return { text, mentions: found, prose: found.length === 0 ? [] : prose, fences };
}
