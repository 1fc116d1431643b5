import { line as lineOf } from 'd3-shape';
import { visible } from '../report/format';
import type { Dash, Point } from './figure';
import type { Box } from './layout';
import type { Theme } from './theme';

/** A place in a picture, px. */
export type At = readonly [x: number, y: number];

/** px */
export const DOT = 3;

/** An SVG text as it is written. */
export class Picture {
  private readonly parts: string[] = [];

  constructor(readonly theme: Theme) {}

  get text(): string {
    return this.parts.join('');
  }

  /** Text that is SVG already. */
  raw(svg: string): void {
    this.parts.push(svg);
  }

  write(text: string, x: number, y: number, attributes = ''): void {
    this.parts.push(`<text x="${px(x)}" y="${px(y)}"${attributes}>${escaped(text)}</text>`);
  }

  /** A text with the ground behind it, for places where lines pass. */
  writeClear(text: string, x: number, y: number, attributes = ''): void {
    this.write(text, x, y, ` stroke="${this.theme.surface}" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke"${attributes}`);
  }

  line(points: readonly At[], attributes: string): void {
    const d = path(points as [number, number][]);
    if (d) this.parts.push(`<path d="${d}"${attributes}/>`);
  }

  /** A straight line of one or more pixels that keeps to them. */
  rule([x0, y0]: At, [x1, y1]: At, attributes: string): void {
    this.parts.push(`<path d="M${x0 === x1 ? half(x0) : px(x0)} ${half(y0)}${x0 === x1 ? `V${half(y1)}` : `H${px(x1)}`}"${attributes}/>`);
  }

  rect({ x, y, width, height }: Box, attributes: string): void {
    this.parts.push(`<rect x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(height)}"${attributes}/>`);
  }

  /** Begins a group. */
  open(attributes: string): void {
    this.parts.push(`<g${attributes}>`);
  }

  close(): void {
    this.parts.push('</g>');
  }

  /** Begins the group of a mark. */
  openMark({ id, row, name, faint }: Point): void {
    const shown = row === undefined ? '' : ` data-row="${escaped(row)}"`;
    this.parts.push(`<g data-mark="${escaped(id)}"${shown}${faint ? ' opacity="0.5"' : ''}><title>${escaped(name)}</title>`);
  }
}

const path = lineOf().digits(2);

export const DASHES: Readonly<Record<Dash, string>> = { solid: '', long: '7 3', dot: '1.5 3', 'dash-dot': '9 3 1.5 3' };

export const dashed = (dash: Dash): string => (DASHES[dash] === '' ? '' : ` stroke-dasharray="${DASHES[dash]}"`);

export const clamped = (v: number, low: number, high: number): number => Math.min(Math.max(v, low), high);

/** Hundredths of a pixel are more than an eye sees, and less than machines differ by. */
export const px = (v: number): string => String(Math.round(v * 100) / 100 + 0);

/** The middle of a pixel, where a line of one pixel is sharp. */
const half = (v: number): string => String(Math.round(v - 0.5) + 0.5);

/** Text of a file as text of a picture. */
export const escaped = (text: string): string => visible(text).replace(/[&<>"']/g, (mark) => ENTITIES[mark]!);

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };
