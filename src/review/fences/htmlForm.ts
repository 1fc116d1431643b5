import type { Figure } from '../../figure/figure';
import { svgOf } from '../../figure/svg';
import { html } from '../html';
import type { Cautions, Cell, Facts, Group, Part, Row, Table } from './parts';

/** Widths of a figure, px: where there is room, and on a phone. A style sheet shows one of them. */
export const WIDE = 720;
export const NARROW = 360;

export interface HtmlOptions {
  /** The heading of the numbers below each figure; none when left out. */
  readonly numbers?: string;
}

/** A part of a review as HTML. No script, no style: classes alone, so that it holds under any policy of a page. */
export function partHtml(part: Part, options: HtmlOptions = {}): string {
  switch (part.is) {
    case 'table':
      return tableHtml(part);
    case 'facts':
      return factsHtml(part);
    case 'drawing':
      return `<figure class="nitbook-figure">${drawingHtml(part.figure, options)}</figure>`;
    case 'cautions':
      return cautionsHtml(part);
  }
}

/** A figure at both widths, above its caption and its numbers where they are wanted. */
export function drawingHtml(figure: Figure, { numbers }: HtmlOptions = {}, caption = ''): string {
  const drawn = [WIDE, NARROW].map(
    (width) => `<span class="nitbook-${width === WIDE ? 'wide' : 'narrow'}">${svgOf(figure, { width }).trimEnd()}</span>`,
  );
  const below = html(caption) + (numbers === undefined ? '' : numbersHtml(figure, numbers));
  return drawn.join('') + (below === '' ? '' : `<figcaption>${below}</figcaption>`);
}

function numbersHtml({ table: { head, rows } }: Figure, title: string): string {
  const body = rows.map(({ cells }) => `<tr>${cells.map((cell) => `<td>${html(cell)}</td>`).join('')}</tr>`).join('');
  const heads = head.map((name) => `<th scope="col">${html(name)}</th>`).join('');
  return `<details class="nitbook-numbers"><summary>${html(title)}</summary>${scrolled(title, `<table><thead><tr>${heads}</tr></thead><tbody>${body}</tbody></table>`)}</details>`;
}

/** Something wide that scrolls by itself; it takes the focus, so that arrow keys scroll it. */
export const scrolled = (label: string, content: string): string =>
  `<div class="nitbook-scroll" role="group" tabindex="0" aria-label="${html(label)}">${content}</div>`;

export function tableHtml({ caption, head, groups, notes }: Table): string {
  const heads = head.map((name) => `<th scope="col">${html(name)}</th>`).join('');
  const bodies = groups.map((group) => groupHtml(group, head.length)).join('');
  const table = `<table class="nitbook-table"><caption>${html(caption)}</caption><thead><tr>${heads}</tr></thead>${bodies}</table>`;
  return scrolled(caption, table) + notes.map((note) => `<p class="nitbook-note">${html(note)}</p>`).join('');
}

function groupHtml({ title, about, rows }: Group, columns: number): string {
  const described = about ? ` <span class="nitbook-about">${html(about)}</span>` : '';
  const head =
    title === undefined ? '' : `<tr class="nitbook-group"><th scope="rowgroup" colspan="${columns}">${html(title)}${described}</th></tr>`;
  return `<tbody>${head}${rows.map(rowHtml).join('')}</tbody>`;
}

const rowHtml = ({ name, cells }: Row): string => `<tr><th scope="row">${html(name)}</th>${cells.map(cellHtml).join('')}</tr>`;

function cellHtml({ text, look, mark }: Cell): string {
  const shown = html(text) + (mark === undefined ? '' : ` <span class="nitbook-mark">${html(mark)}</span>`);
  const strong = look === 'changed' ? `<strong>${shown}</strong>` : shown;
  return `<td${look === undefined ? '' : ` class="nitbook-${look}"`}>${strong}</td>`;
}

export function factsHtml({ title, facts }: Facts): string {
  const items = facts.map(
    ({ label, texts }) => `<div><dt>${html(label)}</dt>${texts.map((text) => `<dd>${html(text)}</dd>`).join('')}</div>`,
  );
  return `<div class="nitbook-facts"><p class="nitbook-title">${html(title)}</p><dl>${items.join('')}</dl></div>`;
}

const cautionsHtml = ({ title, sentences }: Cautions): string =>
  `<aside class="nitbook-care" aria-label="${html(title)}"><p class="nitbook-title">${html(title)}</p><ul>${sentences
    .map((sentence) => `<li>${html(sentence)}</li>`)
    .join('')}</ul></aside>`;
