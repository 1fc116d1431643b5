import type { Env, MarkdownIt, StateCore, Token } from 'markdown-it';
import { figureFor } from '../figure/figures';
import { judgementText, limitLine, measuredText } from '../report/format';
import { figureTitle } from '../report/summary';
import { phrase, type Say } from '../text/message';
import { drawingHtml, type HtmlOptions, NARROW, partHtml, WIDE } from './fences/htmlForm';
import { type Instruction, isFence, readFence } from './fences/language';
import { html } from './html';
import { mayRefer } from './markdown';
import { nameOf } from './places';
import { type Showing, type Shown, shownOf, type Told, told } from './shown';

export interface PluginOptions extends HtmlOptions {
  /** How the document is shown that is rendered in an environment; undefined for one of which nothing is known. */
  showing(env: Env | undefined): Showing | undefined;
  /** What stands around a claim in the place of a link to its session; when left out the link stays, and is marked. */
  around?(told: Told, env: Env | undefined): readonly [before: string, after: string];
}

/** What tokens carry that this program shows. */
interface Own {
  readonly target: string;
  readonly text: string;
  /** Of the tokens that were there: those of other plugins stay. */
  readonly attributes?: { readonly class: string; readonly title: string };
  after?: string | undefined;
}

/**
 * Shows the references of reviews: links as claims with their status, images and fenced blocks as what they ask for. Synchronous, and from
 * tokens alone, as the previews of editors keep them from one rendering to the next.
 */
export function showReferences(md: MarkdownIt, options: PluginOptions): MarkdownIt {
  const { rules } = md.renderer;
  md.core.ruler.after('inline', 'nitbook', markTokens);

  const { link_open: before, link_close: after } = rules;
  rules.link_open = (tokens, i, given, env, self) => {
    const token = tokens[i]!;
    const own = ownOf(token);
    const showing = own && options.showing(env);
    if (showing) {
      const claim = told('link', own.target, own.text, showing);
      const around = options.around?.(claim, env);
      own.after = around?.[1];
      if (around) return around[0];
      markLink(token, own, claim, showing.say);
    }
    return before ? before(tokens, i, given, env, self) : self.renderToken(tokens, i, given);
  };
  rules.link_close = (tokens, i, given, env, self) => {
    const own = ownOf(tokens[i]!);
    if (own?.after !== undefined) return own.after;
    return after ? after(tokens, i, given, env, self) : self.renderToken(tokens, i, given);
  };

  rules.nitbook_fence = (tokens, i, given, env, self) => {
    const token = tokens[i]!;
    const showing = options.showing(env);
    if (!showing) return rules.fence ? rules.fence(tokens, i, given, env, self) : self.renderToken(tokens, i, given);
    const shown = shownOf(token.content, showing, token.meta?.isCautioned === true);
    // Once, however often the same tokens are rendered.
    if (!/\bnitbook\b/.test(String(token.attrGet('class') ?? ''))) token.attrJoin('class', 'nitbook');
    return `<div${self.renderAttrs(token)}>${shown.map((each) => shownHtml(each, showing.say, options)).join('')}</div>\n`;
  };
  rules.nitbook_figure = (tokens, i, given, env, self) => {
    const token = tokens[i]!;
    const { target, text } = ownOf(token)!;
    const alternative = self.renderInlineAsText(token.children ?? [], given, env);
    const showing = options.showing(env);
    const drawn = showing
      ? figureHtml(told('image', target, text, showing), alternative, token.block, showing.say, options)
      : html(alternative);
    const element = token.block ? 'figure' : 'span';
    return `<${element}${self.renderAttrs(token)}>${drawn}</${element}>${token.block ? '\n' : ''}`;
  };
  return md;
}

const ownOf = ({ meta }: Token): Own | undefined => meta?.nitbook as Own | undefined;

/** Finds what refers to sessions among the tokens of a document, before other plugins change its texts. */
function markTokens({ tokens }: StateCore): void {
  let isCautioned = false;
  for (let i = 0; i < tokens.length; i++) {
    const token = tokens[i]!;
    if (token.type === 'fence' && isFence(token.info, token.content)) {
      token.type = 'nitbook_fence';
      token.meta = { ...token.meta, isCautioned };
      isCautioned ||= readFence(token.content).groups.some(([{ instruction }]) => instruction === 'cautions');
    } else if (token.type === 'inline') {
      markInline(token.children ?? []);
      const image = aloneIn(token);
      // A figure that is all of a paragraph stands by itself.
      if (image && tokens[i - 1]?.type === 'paragraph_open' && !tokens[i - 1]!.hidden) {
        image.block = true;
        image.map = tokens[i - 1]!.map;
        tokens.splice(i - 1, 3, image);
        i--;
      }
    }
  }
}

function aloneIn({ children }: Token): Token | undefined {
  const shown = (children ?? []).filter(({ type, content }) => type !== 'softbreak' && !(type === 'text' && content.trim() === ''));
  return shown.length === 1 && shown[0]!.type === 'nitbook_figure' ? shown[0] : undefined;
}

function markInline(tokens: readonly Token[]): void {
  const open: { readonly token: Token; text: string }[] = [];
  for (const token of tokens) {
    const { type, content } = token;
    if (type === 'link_open') open.push({ token, text: '' });
    else if (type === 'link_close') {
      const link = open.pop();
      const target = String(link?.token.attrGet('href') ?? '');
      if (!link || link.token.markup === 'autolink' || !mayRefer(target)) continue;
      const attributes = { class: String(link.token.attrGet('class') ?? ''), title: String(link.token.attrGet('title') ?? '') };
      const nitbook: Own = { target, text: link.text, attributes };
      link.token.meta = { ...link.token.meta, nitbook };
      token.meta = { ...token.meta, nitbook };
    } else if (type === 'image') {
      const target = String(token.attrGet('src') ?? '');
      if (!mayRefer(target)) continue;
      token.type = 'nitbook_figure';
      token.attrs = [['class', 'nitbook-figure']];
      token.meta = { ...token.meta, nitbook: { target, text: content } satisfies Own };
    } else if (open.length > 0) open.at(-1)!.text += type === 'softbreak' || type === 'hardbreak' ? ' ' : content;
  }
}

function markLink(token: Token, { attributes }: Own, claim: Told, say: Say): void {
  const classes = [attributes?.class, 'nitbook-claim', `nitbook-${claim.checked.status}`].filter((part) => part);
  const titles = [attributes?.title, claimText(claim, say)].filter((part) => part);
  token.attrSet('class', classes.join(' '));
  token.attrSet('title', titles.join('\n'));
}

/** What is to be said of a claim: what is wrong with it, else what it rests on. */
export function claimText({ checked, says }: Told, say: Say): string {
  if (says.length > 0) return says.join(' ');
  const { status, figure, property, path, reference } = checked;
  if (status === 'pending') return say('{file} is being read', { file: path === undefined ? '' : nameOf(path) });
  if (property)
    return say('{what} is {now}.', {
      what: phrase('{name} of {id}', { name: property.name, id: property.block.name }),
      now: property.text,
    });
  if (!figure || !reference) return '';
  const judged = [judgementText(figure.judgement, say), limitLine(figure.spec, figure.judgement, say)]
    .filter((part) => part !== '')
    .join('; ');
  const what = phrase('{title} of {run}', { title: figureTitle(figure, say), run: reference.ids[0]! });
  const now = measuredText(figure, say);
  return judged === '' ? say('{what} is {now}.', { what, now }) : say('{what} is {now} ({judged}).', { what, now, judged });
}

/** @param isBlock whether it stands by itself, with a caption and numbers below; in a line there is room for the drawing alone */
function figureHtml({ checked, says }: Told, alternative: string, isBlock: boolean, say: Say, options: PluginOptions): string {
  const { status, analysis, reference, path } = checked;
  if (status === 'pending')
    return pendingHtml(say('{file} is being read', { file: path === undefined ? '' : nameOf(path) }), PENDING.figure);
  const reading = status === 'pointing' && analysis && reference ? figureFor(analysis, reference, say) : undefined;
  if (reading?.ok) return isBlock ? drawingHtml(reading.figure, options, alternative) : drawingHtml(reading.figure);
  return problemHtml(alternative, says.join(' '));
}

function shownHtml(shown: Shown, say: Say, options: PluginOptions): string {
  switch (shown.is) {
    case 'part':
      return partHtml(shown.part, options);
    case 'problem':
      return `<p>${problemHtml(shown.line, shown.sentence)}</p>`;
    case 'pending': {
      const { instruction, target } = shown.group[0];
      const file = target?.text.split('#')[0] ?? '';
      return pendingHtml(say('{file} is being read', { file: nameOf(file) }), PENDING[instruction]);
    }
  }
}

const problemHtml = (line: string, sentence: string): string =>
  `<span class="nitbook-problem"><code>${html(line)}</code> ${html(sentence)}</span>`;

/** About how tall what is still to be read will be, px. */
const PENDING: Readonly<Record<Instruction, number>> = {
  figure: 430,
  settings: 720,
  summary: 600,
  compare: 420,
  method: 480,
  cautions: 160,
};

/** Keeps the place of what is still to be read, so that nothing moves when it comes. A picture, as a page may forbid sizes in its styles. */
const pendingHtml = (text: string, height: number): string =>
  [WIDE, NARROW]
    .map(
      (width) =>
        `<span class="nitbook-${width === WIDE ? 'wide' : 'narrow'}"><svg class="nitbook-pending" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img"><title>${html(text)}</title>` +
        `<rect x="0.5" y="0.5" width="${width - 1}" height="${height - 1}" fill="none" stroke="currentColor" stroke-opacity="0.2"/>` +
        `<text x="14" y="28" fill="currentColor" fill-opacity="0.7">${html(text)}</text></svg></span>`,
    )
    .join('');
