import Markdown, { type Env, type MarkdownIt, type Token } from 'markdown-it';
import { scrolled } from '../fences/htmlForm';
import { html } from '../html';
import { mayRefer } from '../markdown';

/** Files that a document shows or leads to, as it writes their paths: from its own folder, or from the root with a leading `/`. */
export interface Wanted {
  readonly images: readonly string[];
  readonly documents: readonly string[];
}

/** What becomes of them: an address for each. What is left out is shown as text. */
export interface Assets {
  readonly images: ReadonlyMap<string, string>;
  readonly documents: ReadonlyMap<string, string>;
}

/** What is gathered while a document is rendered. */
export interface Reading extends Env {
  readonly slugs: Map<string, number>;
  /** Tags that are shown as text. */
  readonly tags: Set<string>;
  /** Paths and addresses that are shown as text, or as a link in the place of an image. */
  readonly left: Set<string>;
}

export const newReading = (): Reading => ({ slugs: new Map(), tags: new Set(), left: new Set() });

const NO_ASSETS: Assets = { images: new Map(), documents: new Map() };

export function wantedBy(text: string): Wanted {
  const images = new Set<string>();
  const documents = new Set<string>();
  const walk = (tokens: readonly Token[]): void => {
    for (const token of tokens) {
      const target = String(token.attrGet('src') ?? token.attrGet('href') ?? '');
      const path = mayRefer(target) ? undefined : pathOf(target);
      if (path !== undefined && token.type === 'image') images.add(path);
      else if (path?.endsWith('.md') && token.type === 'link_open') documents.add(path);
      walk(token.children ?? []);
    }
  };
  walk(publisher(NO_ASSETS).parse(withoutFrontMatter(text), {}));
  return { images: [...images], documents: [...documents] };
}

/**
 * A reader of Markdown for pages that are published: nothing that a document says can run, or be fetched when its page is opened. Addresses
 * are those of the web and of mail; of HTML only a few tags that set text are taken for what they are.
 */
export function publisher({ images, documents }: Assets): MarkdownIt {
  const md = new Markdown({ html: true });
  const { rules } = md.renderer;
  rules.link_open = (tokens, i, options, env, self) => {
    const token = tokens[i]!;
    const href = String(token.attrGet('href') ?? '');
    const path = pathOf(href);
    const found = path === undefined ? undefined : documents.get(path);
    const address =
      found === undefined ? (isOutward(href) ? href : undefined) : found + (href.includes('#') ? href.slice(href.indexOf('#')) : '');
    if (address === undefined) {
      closing(tokens, i).meta = { isText: true };
      (env as Reading).left?.add(href);
      return '';
    }
    token.attrSet('href', address);
    return self.renderToken(tokens, i, options);
  };
  rules.link_close = (tokens, i, options, _, self) => (tokens[i]!.meta?.isText ? '' : self.renderToken(tokens, i, options));
  rules.image = (tokens, i, options, env, self) => {
    const token = tokens[i]!;
    const src = String(token.attrGet('src') ?? '');
    const alternative = self.renderInlineAsText(token.children ?? [], options, env);
    const found = images.get(pathOf(src) ?? '');
    if (found !== undefined) return `<img src="${html(found)}" alt="${html(alternative)}">`;
    (env as Reading).left?.add(src);
    const shown = html(alternative === '' ? src : alternative);
    return isOutward(src) ? `<a href="${html(src)}">${shown}</a>` : shown;
  };
  rules.heading_open = (tokens, i, options, env, self) => {
    tokens[i]!.attrSet('id', slugOf(plainText(tokens[i + 1]!), (env as Reading).slugs ?? new Map()));
    return self.renderToken(tokens, i, options);
  };
  // The corner of a table is the head of nothing.
  rules.th_open = (tokens, i, options, _, self) => {
    if (tokens[i + 1]?.content !== '') return self.renderToken(tokens, i, options);
    tokens[i + 2]!.tag = 'td';
    return '<td>';
  };
  rules.table_open = () => TABLE[0];
  rules.table_close = () => TABLE[1];
  rules.html_block = (tokens, i, _, env) => {
    const shown = tagsIn(tokens[i]!.content, env as Reading);
    return shown.trim() === '' ? '' : `<p>${shown.trim()}</p>\n`;
  };
  rules.html_inline = (tokens, i, _, env) => tagsIn(tokens[i]!.content, env as Reading);
  return md;
}

const TABLE = scrolled('Table', '<table>\n|</table>').split('|') as [string, string];

const closing = (tokens: readonly Token[], open: number): Token => tokens.find(({ type }, i) => i > open && type === 'link_close')!;

/** Whether an address leads to the web, to mail, or to a place of the page itself. */
const isOutward = (address: string): boolean => /^(?:https?:\/\/|mailto:|#)/i.test(address);

/** The path of a file beside a document; undefined for another address. */
export function pathOf(address: string): string | undefined {
  const path = address.split(/[?#]/)[0]!;
  if (path === '' || path.startsWith('//') || /^[a-z][a-z0-9+.-]*:/i.test(path)) return undefined;
  try {
    const decoded = decodeURIComponent(path);
    // Some systems part folders by it.
    return decoded.includes('\\') ? undefined : decoded;
  } catch {
    return undefined;
  }
}

/** Tags that set text and say nothing else. */
const INERT = /^<\/?(?:br|wbr|sub|sup|kbd|small|mark|abbr|del|ins)\s*\/?>$/i;

/** HTML as text, but for comments and tags that are inert. */
const tagsIn = (text: string, { tags }: Reading): string =>
  text.replace(/<!--[\s\S]*?(?:-->|$)/g, '').replace(/<[^<>]*>|[&<>"']/g, (found) => {
    if (INERT.test(found)) return found;
    if (found.length > 1) tags?.add(found);
    return html(found);
  });

/** A place in a page by the words of its heading, as hosts of Markdown have it. */
function slugOf(heading: string, used: Map<string, number>): string {
  const slug = heading
    .trim()
    .toLowerCase()
    .replace(/[^\p{L}\p{N}\p{M}\p{Pc}\s-]/gu, '')
    .replace(/\s/g, '-');
  const count = used.get(slug) ?? 0;
  used.set(slug, count + 1);
  return count === 0 ? slug : `${slug}-${count}`;
}

/** The words of a heading. */
export const plainText = ({ children, content, type }: Token): string =>
  children ? children.map(plainText).join('') : type === 'softbreak' ? ' ' : content;

/** What stands between `---` lines at the start of a document is for other programs. */
export const withoutFrontMatter = (text: string): string => text.replace(/^\uFEFF?---[ \t]*\r?\n[\s\S]*?\r?\n---[ \t]*(?:\r?\n|$)/, '');
