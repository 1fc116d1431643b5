import type { Analysis } from '../project/analysis';
import { cellCount, cellSpan, type Line } from '../session/line';
import { beforeAnyBlock, columnsMet } from '../session/state';
import { blockSpec, KEYWORDS, type Keyword } from '../session/vocabulary';
import { skipBlanks, words } from '../text/blanks';
import { fill, type Say } from '../text/message';
import { type Span, shifted } from '../text/span';
import { nameItems } from './completeNames';
import { columnItems, rowItems } from './completeTable';
import { valueItems } from './completeValues';
import { type Completion, type Item, idItems, type Site, wordEnd, wordStart } from './completion';
import { type FolderUse, NO_USE } from './folderUse';
import { type Place, placeAt } from './places';
import { blockSnippet } from './snippets';
import { LINKS } from './words';

export type { Completion, CompletionKind } from './completion';

/** A list is for choosing from; longer ones come from files that no bench writes. */
const MOST = 500;

/** What may be written at an offset, the likeliest first. Total: any number is an offset, and there may be nothing to offer. */
export function completions(analysis: Analysis, offset: number, use: FolderUse = NO_USE, say: Say = fill): readonly Completion[] {
  const { source } = analysis;
  const place = placeAt(source, offset);
  const start = source.lineStart(place.first + place.line);
  return itemsAt(analysis, place, use, say)
    .slice(0, MOST)
    .map(({ label, insert, snippet, replace, kind, detail, documentation }, i) => ({
      label,
      insert: insert ?? label,
      snippet: snippet ?? false,
      replace: shifted(replace, start),
      kind,
      detail: detail ?? '',
      documentation: documentation ?? '',
      sortText: String(i).padStart(4, '0'),
    }));
}

const WITHOUT_OFFERS: ReadonlySet<Line['kind']> = new Set<Line['kind']>(['comment', 'note', 'conflict', 'held', 'version']);

function itemsAt(analysis: Analysis, { block, line, on, at }: Place, use: FolderUse, say: Say): readonly Item[] {
  if (WITHOUT_OFFERS.has(on.kind) || isBehind(on, at)) return [];
  const { text } = on;
  const start = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  const content = skipBlanks(text, start);
  const from = Math.min(on.struck ? skipBlanks(text, content + 1) : content, at);
  const site: Site = { analysis, use, say, block, line, on, at, from };
  if (on.kind === 'header') return headerItems(site);
  const isInside = on.kind === 'property' || on.kind === 'row' || on.kind === 'columns';
  if (!isInside && (at <= start || content === start)) return hasBlank(text.slice(from, at)) ? [] : keywordItems(site);
  return beforeAnyBlock(on.before) || !block.spec ? [] : insideItems(site);
}

/** Whether an offset stands in a comment or remark behind the content of a line. */
function isBehind(line: Line, at: number): boolean {
  const end = contentEnd(line);
  const between = line.text.slice(end, at);
  return between.includes('#') || (line.kind === 'row' && between.includes('|'));
}

function contentEnd(line: Line): number {
  switch (line.kind) {
    case 'header':
      return Math.max(...[line.keyword, line.id, line.date, line.title, line.link?.id].map((word) => word?.span[1] ?? 0));
    case 'property':
      return Math.max(line.name.span[1], line.value.span[1]);
    case 'row':
      return cellSpan(line, cellCount(line) - 1)[1];
    case 'columns':
      return line.columns[line.columns.length - 1]!.span[1];
    default:
      // A `#` glued to a word is part of it; one apart is at most the start of a comment.
      return Math.max(line.text.search(/[ \t\u00a0\u2007\u202f\u3000]#/), 0) || line.text.length;
  }
}

/** Kinds of blocks; the whole of one where nothing else is in the line. */
function keywordItems({ analysis, say, block, on, at, from }: Site): readonly Item[] {
  const { text } = on;
  const end = wordEnd(text, at);
  const isAlone = skipBlanks(text, end) === text.length;
  const replace: Span = [from, end];
  // A file has one of each of these.
  const isOffered = (keyword: Keyword): boolean => {
    const first = keyword === 'session' || keyword === 'display' ? analysis.session.first(keyword) : undefined;
    return first === undefined || first === block;
  };
  const items = KEYWORDS.filter(isOffered).map((keyword): Item => {
    const about = { detail: say(blockSpec(keyword)!.about) };
    return isAlone
      ? { label: keyword, insert: blockSnippet(analysis.session, keyword, say), snippet: true, replace, kind: 'block', ...about }
      : { label: keyword, replace, kind: 'block', ...about };
  });
  const isFirst = beforeAnyBlock(on.before) && !analysis.source.blocks[0]!.lines.some(({ kind }) => kind === 'version');
  return isFirst
    ? [{ label: 'nitbook 1', replace, kind: 'block', detail: say('the version of the format: the first line of a session') }, ...items]
    : items;
}

/** Behind the keyword of a head: what it takes over from. */
function headerItems(site: Site): readonly Item[] {
  const { analysis, say, block, on, at } = site;
  if (on.kind !== 'header') return [];
  const { keyword, link } = on;
  const { text } = on;
  if (at < keyword.span[0]) return [];
  if (at <= keyword.span[1]) return keywordItems({ ...site, from: keyword.span[0] });
  const word = block.spec?.link;
  if (!word) return [];
  const from = wordStart(text, at, keyword.span[1]);
  const replace: Span = [from, wordEnd(text, at)];
  const before = words(text.slice(keyword.span[1], from));
  if (before.at(-1) === word) {
    const alike = word === 'like' ? analysis.session.runs.map((run) => run.block) : analysis.session.all(block.keyword!);
    return idItems(
      alike.filter((other) => other !== block),
      replace,
    );
  }
  // Behind the id; of a kind that needs none, behind the keyword as well.
  const isPlace = before.length > 0 || block.spec?.id === 'optional';
  if (link || !isPlace) return [];
  return [{ label: word, insert: `${word} `, replace, kind: 'value', detail: say(LINKS[word]) }];
}

function insideItems(site: Site): readonly Item[] {
  const { block, on, at } = site;
  if (on.kind === 'property') {
    const colon = colonOf(on.text, on.name.span[1]);
    return at > colon ? valueItems(site, on, colon) : at <= on.name.span[1] ? nameItems(site, on) : [];
  }
  if (!block.spec!.table) return nameItems(site);
  if (columnsMet(on.before)) return rowItems(site);
  const typed = on.text.slice(site.from, at);
  const isFirstWord = !hasBlank(typed) && !typed.includes('[');
  if (on.kind === 'columns') return isFirstWord && on.columns.length === 1 ? [...columnItems(site), ...nameItems(site)] : columnItems(site);
  return isFirstWord ? [...nameItems(site), ...columnItems(site)] : columnItems(site);
}

const colonOf = (text: string, from: number): number => {
  const colon = text.indexOf(':', from);
  return colon < 0 ? text.length : colon;
};

const hasBlank = (text: string): boolean => wordEnd(text, 0) < text.length;
