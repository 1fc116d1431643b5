import { line as pathOf } from 'd3-shape';
import { visible } from '../report/format';
import type { Band, Cells, Figure, Ink, Outline, Panel, Point, Rule, Series } from './figure';
import { type Box, END_LEADER, type Layout, layoutOf, NOTE_SIZE, type PanelLayout, type Size, TEXT_SIZE, TITLE_SIZE } from './layout';
import { Placing, spreadOut } from './placing';
import { TICK_SIZE } from './scale';
import { shortened, textWidth } from './textWidth';
import { BY_PAGE, type Theme } from './theme';

export interface SvgOptions extends Size {
  /** Colours that stand in the picture itself; those of the page that it is in when left out. */
  readonly theme?: Theme;
}

/**
 * A figure as SVG text: the same text for the same figure and size, wherever it is made. Presentation attributes alone, as a page may
 * forbid styles. Each reading has its `data-mark` (and `data-row`, the row it shows), each line its `data-series`, and the label at its
 * end `data-end`.
 */
export function svgOf(figure: Figure, { theme = BY_PAGE, ...size }: SvgOptions): string {
  const layout = layoutOf(figure, size);
  return new Picture(figure, layout, theme).text;
}

const DASHES = { solid: '', long: '7 3', dot: '1.5 3', 'dash-dot': '8 3 1.5 3' } as const;

/** px */
const DOT = 3;
/** With more of them a line shows its readings without dots. */
const MOST_DOTS = 150;

class Picture {
  private readonly parts: string[] = [];

  constructor(
    private readonly figure: Figure,
    private readonly layout: Layout,
    private readonly theme: Theme,
  ) {}

  get text(): string {
    const { figure, layout, theme, parts } = this;
    const { width, height } = layout;
    parts.push(
      `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${px(width)} ${px(height)}" width="${px(width)}" height="${px(height)}" role="img"` +
        ` data-figure="${escaped(figure.id)}" font-family="var(--nitbook-font,system-ui,-apple-system,'Segoe UI',Roboto,'Helvetica Neue',Arial,sans-serif)"` +
        ` font-size="${TEXT_SIZE}" fill="${theme.text}">`,
      `<title>${escaped(figure.title)}</title><desc>${escaped(figure.summary)}</desc>`,
      `<rect width="${px(width)}" height="${px(height)}" fill="${theme.surface}"/>`,
    );
    for (const { text, x, y } of layout.title) this.write(text, x, y, ` font-size="${TITLE_SIZE}" font-weight="600"`);
    for (const { text, x, y } of layout.against) this.write(text, x, y, ` fill="${theme.muted}"`);
    for (const panel of layout.panels) this.panel(panel);
    for (const { text, x, y } of layout.notes) this.write(text, x, y, ` font-size="${NOTE_SIZE}" fill="${theme.muted}"`);
    parts.push('</svg>\n');
    return parts.join('');
  }

  private write(text: string, x: number, y: number, attributes = ''): void {
    this.parts.push(`<text x="${px(x)}" y="${px(y)}"${attributes}>${escaped(text)}</text>`);
  }

  /** A text with the ground behind it, for places where lines pass. */
  private writeClear(text: string, x: number, y: number, attributes = ''): void {
    const { surface } = this.theme;
    this.write(text, x, y, ` stroke="${surface}" stroke-width="3" stroke-linejoin="round" paint-order="stroke"${attributes}`);
  }

  private stroke(points: readonly (readonly [number, number])[], attributes: string, closed = false): void {
    const d = pathOf().digits(2)(points as [number, number][]);
    if (d) this.parts.push(`<path d="${d}${closed ? 'Z' : ''}"${attributes}/>`);
  }

  private panel(layout: PanelLayout): void {
    const { panel, frame } = layout;
    this.parts.push(`<g data-panel="${escaped(panel.id)}">`);
    const placing = new Placing(frame);
    for (const mark of panel.marks) if (mark.is === 'band') this.band(layout, mark);
    this.axes(layout);
    for (const mark of panel.marks) {
      if (mark.is === 'rule') this.rule(layout, mark);
      else if (mark.is === 'outline') this.outline(layout, mark, placing);
      else if (mark.is === 'cells') this.cells(layout, mark);
    }
    for (const mark of panel.marks) if (mark.is === 'series') this.series(layout, mark, placing);
    this.labels(layout, placing);
    this.parts.push('</g>');
  }

  private axes({ panel, box, frame, x, y, sharesY }: PanelLayout): void {
    const { grid, muted } = this.theme;
    const bottom = frame.y + frame.height;
    const right = frame.x + frame.width;
    if (panel.title !== undefined) this.write(shortened(panel.title, TEXT_SIZE, box.width), box.x, box.y + 13, ' font-weight="600"');
    const isGrid = panel.marks.some(({ is }) => is === 'cells');
    if (!isGrid) {
      this.parts.push(`<g stroke="${grid}" stroke-width="1">`);
      for (const { at } of y.ticks) this.parts.push(`<path d="M${px(frame.x)} ${half(y.at(at))}H${px(right)}"/>`);
      for (const { at } of x.ticks) this.parts.push(`<path d="M${half(x.at(at))} ${px(bottom)}v4"/>`);
      if (y.axis.scale !== 'names') this.parts.push(`<path d="M${px(frame.x)} ${half(bottom)}H${px(right)}"/>`);
      this.parts.push('</g>');
    }
    this.parts.push(`<g font-size="${TICK_SIZE}" fill="${muted}">`);
    if (!sharesY)
      for (const tick of y.ticks)
        this.write(shortened(tick.label, TICK_SIZE, frame.x - box.x - 6), frame.x - 7, y.at(tick.at) + 4, ' text-anchor="end"');
    for (const tick of x.ticks) this.write(tick.label, x.at(tick.at), bottom + 18, ' text-anchor="middle"');
    if (x.axis.title !== '') this.write(shortened(x.axis.title, TICK_SIZE, frame.width), right, bottom + 34, ' text-anchor="end"');
    const above = frame.y - (x.axis.second ? 38 : 0);
    if (y.axis.title !== '' && !sharesY) this.write(shortened(y.axis.title, TICK_SIZE, box.width), box.x, above - 7);
    const { second } = x.axis;
    if (second) {
      this.write(second.title, right, frame.y - 26, ' text-anchor="end"');
      for (const tick of second.ticks) this.write(tick.label, x.at(tick.at), frame.y - 8, ' text-anchor="middle"');
    }
    if (y.axis.second) for (const tick of y.axis.second.ticks) this.write(tick.label, right + 7, y.at(tick.at) + 4);
    this.parts.push('</g>');
  }

  private band({ frame, x, y }: PanelLayout, { along, between, role, extent }: Band): void {
    const [a, b] = between.map((v) =>
      clamped(
        along === 'y' ? y.at(v) : x.at(v),
        along === 'y' ? frame.y : frame.x,
        along === 'y' ? frame.y + frame.height : frame.x + frame.width,
      ),
    ) as [number, number];
    const other = along === 'y' ? x : y;
    const [from, to] = extent
      ? (extent.map((v) => other.at(v)) as [number, number])
      : along === 'y'
        ? [frame.x, frame.x + frame.width]
        : [frame.y, frame.y + frame.height];
    const [x0, x1, y0, y1] = along === 'y' ? [from, to, a, b] : [a, b, from, to];
    this.parts.push(
      `<rect x="${px(Math.min(x0, x1))}" y="${px(Math.min(y0, y1))}" width="${px(Math.abs(x1 - x0))}" height="${px(Math.abs(y1 - y0))}" fill="${this.theme.text}" fill-opacity="${role === 'aim' ? 0.07 : 0.04}"/>`,
    );
  }

  private rule(layout: PanelLayout, rule: Rule): void {
    const ends = ruleEnds(layout, rule);
    if (!ends) return;
    const { text, muted } = this.theme;
    const look = {
      zero: `stroke="${text}" stroke-width="1"`,
      aim: `stroke="${muted}" stroke-width="0.8"`,
      limit: `stroke="${text}" stroke-width="1.6"`,
      place: `stroke="${muted}" stroke-width="1" stroke-dasharray="3 3"`,
    }[rule.role];
    const [[x0, y0], [x1, y1]] = ends;
    this.parts.push(`<path d="M${half(x0)} ${half(y0)}L${half(x1)} ${half(y1)}" ${look}/>`);
  }

  private outline(layout: PanelLayout, { role, points, closed, id }: Outline, placing: Placing): void {
    const { text, muted } = this.theme;
    const look = {
      target: `stroke="${text}" stroke-width="1"`,
      reference: `stroke="${muted}" stroke-width="1" stroke-dasharray="5 3"`,
      locus: `stroke="${muted}" stroke-width="0.8"`,
      fit: `stroke="${muted}" stroke-width="1.2" stroke-dasharray="2 3"`,
    }[role];
    for (const piece of piecesOf(layout, closed ? [...points, points[0]!] : points)) {
      this.stroke(piece, ` data-outline="${escaped(id)}" fill="none" ${look}`);
      placing.keepLineClear(piece);
    }
  }

  private cells({ frame, x, y }: PanelLayout, { points }: Cells): void {
    const [w, h] = [Math.abs(x.at(1) - x.at(0)), Math.abs(y.at(1) - y.at(0))];
    const { text } = this.theme;
    for (const point of points) {
      const [cx, cy] = [x.at(point.x), y.at(point.y)];
      this.open(point);
      this.parts.push(
        `<rect x="${px(cx - w / 2 + 1)}" y="${px(cy - h / 2 + 1)}" width="${px(w - 2)}" height="${px(h - 2)}" fill="${point.tint < 0 ? this.theme.blue : this.theme.red}" fill-opacity="${px(0.6 * Math.abs(point.tint))}" stroke="${this.theme.grid}"/>`,
      );
      this.write(point.label, cx, cy + 4.5, ` text-anchor="middle" fill="${text}"`);
      this.parts.push('</g>');
    }
    void frame;
  }

  /** Begins the group of a mark. */
  private open({ id, row, name }: Point, attributes = ''): void {
    this.parts.push(
      `<g data-mark="${escaped(id)}"${row === undefined ? '' : ` data-row="${escaped(row)}"`}${attributes}><title>${escaped(name)}</title>`,
    );
  }

  private series(layout: PanelLayout, series: Series, placing: Placing): void {
    const { frame, x, y } = layout;
    const colour = this.theme[series.ink];
    const { points, shape, joined, envelope } = series;
    this.parts.push(`<g data-series="${escaped(series.id)}" stroke="${colour}" fill="${colour}">`);
    if (joined) {
      const dash = DASHES[series.dash];
      for (const piece of piecesOf(
        layout,
        points.map((point) => [point.x, point.y]),
      )) {
        this.stroke(
          piece,
          ` fill="none" stroke-width="${envelope ? 1 : 1.8}" stroke-linejoin="round"${dash && !envelope ? ` stroke-dasharray="${dash}"` : ''}`,
        );
        placing.keepLineClear(piece);
      }
    }
    if (!joined || points.length <= MOST_DOTS) {
      const radius = points.length > MOST_DOTS ? 1.5 : DOT;
      for (const point of points) {
        const at: readonly [number, number] = [x.at(point.x), clamped(y.at(point.y), frame.y, frame.y + frame.height)];
        this.open(point, point.faint ? ' opacity="0.5"' : '');
        this.point(layout, point, at, shape, radius);
        this.parts.push('</g>');
        placing.keepClear({ x: at[0] - radius - 1, y: at[1] - radius - 1, width: 2 * radius + 2, height: 2 * radius + 2 });
      }
    }
    this.parts.push('</g>');
  }

  private point({ frame, x, y }: PanelLayout, point: Point, [cx, cy]: readonly [number, number], shape: Series['shape'], r: number): void {
    if (point.from)
      this.parts.push(
        `<path d="M${px(x.at(point.from[0]))} ${px(y.at(point.from[1]))}L${px(cx)} ${px(cy)}" fill="none" stroke-width="1.2"/>`,
      );
    if (point.ci) {
      const [low, high] = point.ci.map((v) => clamped(y.at(v), frame.y, frame.y + frame.height)) as [number, number];
      this.parts.push(
        `<path d="M${px(cx)} ${px(low)}V${px(high)}M${px(cx - 3)} ${px(low)}h6M${px(cx - 3)} ${px(high)}h6" fill="none" stroke-width="1"/>`,
      );
    }
    const beyond =
      y.at(point.y) < frame.y - 0.5
        ? -1
        : y.at(point.y) > frame.y + frame.height + 0.5
          ? 1
          : point.bound === 'at-most'
            ? 1
            : point.bound === 'at-least'
              ? -1
              : 0;
    if (beyond !== 0)
      this.parts.push(
        `<path d="M${px(cx - r - 1)} ${px(cy - beyond * r)}h${2 * r + 2}L${px(cx)} ${px(cy + beyond * (r + 2))}Z" stroke="none"/>`,
      );
    else if (shape === 'cross')
      this.parts.push(`<path d="M${px(cx - 5)} ${px(cy)}h10M${px(cx)} ${px(cy - 5)}v10" fill="none" stroke-width="1.2"/>`);
    else if (shape === 'hollow')
      this.parts.push(`<circle cx="${px(cx)}" cy="${px(cy)}" r="${r}" fill="${this.theme.surface}" stroke-width="1.2"/>`);
    else if (shape === 'dot') this.parts.push(`<circle cx="${px(cx)}" cy="${px(cy)}" r="${r}" stroke="none"/>`);
  }

  /** Labels last, so that they know what they must keep clear of. */
  private labels(layout: PanelLayout, placing: Placing): void {
    const { panel, frame } = layout;
    this.endLabels(layout);
    for (const mark of panel.marks) {
      if (mark.is !== 'rule' || mark.label === undefined) continue;
      const ends = ruleEnds(layout, mark);
      if (!ends) continue;
      const width = textWidth(mark.label, TICK_SIZE);
      const found = placing.take(rulePlaces(ends, width, frame));
      if (found)
        this.writeClear(
          mark.label,
          found.x,
          found.y + 12,
          ` font-size="${TICK_SIZE}" fill="${mark.role === 'limit' ? this.theme.text : this.theme.muted}"`,
        );
    }
    for (const mark of panel.marks) {
      if (mark.is !== 'series') continue;
      for (const point of mark.points) if (point.label !== undefined) this.pointLabel(layout, point, point.label, placing);
    }
    for (const mark of panel.marks) {
      if (mark.is !== 'outline' || mark.label === undefined) continue;
      const width = textWidth(mark.label, TICK_SIZE);
      const places = mark.points.flatMap(([vx, vy]) => around(layout.x.at(vx), layout.y.at(vy), width));
      const found = placing.take(places);
      if (found) this.writeClear(mark.label, found.x, found.y + 12, ` font-size="${TICK_SIZE}" fill="${this.theme.muted}"`);
    }
  }

  private pointLabel({ frame, x, y }: PanelLayout, point: Point, label: string, placing: Placing): void {
    const found = placing.take(around(x.at(point.x), clamped(y.at(point.y), frame.y, frame.y + frame.height), textWidth(label, TICK_SIZE)));
    if (found) this.writeClear(label, found.x, found.y + 12, ` font-size="${TICK_SIZE}"`);
  }

  private endLabels({ panel, box, frame, x, y }: PanelLayout): void {
    const ended = panel.marks.flatMap((mark) => {
      const last = mark.is === 'series' && mark.joined && mark.label !== undefined ? mark.points.at(-1) : undefined;
      return last ? [{ series: mark as Series, x: x.at(last.x), y: clamped(y.at(last.y), frame.y, frame.y + frame.height) }] : [];
    });
    const heights = spreadOut(
      ended.map((one) => one.y),
      16,
      frame.y + 4,
      frame.y + frame.height - 4,
    );
    const left = frame.x + frame.width + END_LEADER;
    ended.forEach(({ series, x: fromX, y: fromY }, i) => {
      const at = heights[i]!;
      const dash = DASHES[series.dash];
      this.parts.push(
        `<path d="M${px(fromX + DOT + 2)} ${px(fromY)}L${px(Math.max(fromX, frame.x + frame.width) + DOT + 3)} ${px(fromY)}L${px(left - 4)} ${px(at)}" fill="none" stroke="${this.theme[series.ink]}"${dash ? ` stroke-dasharray="${dash}"` : ''}/>`,
      );
      this.write(shortened(series.label!, TEXT_SIZE, box.x + box.width - left), left, at + 4.5, ` data-end="${escaped(series.id)}"`);
    });
  }
}

/** Where a rule begins and ends; undefined where it lies outside. */
function ruleEnds(
  { frame, x, y }: PanelLayout,
  { along, at, extent }: Rule,
): readonly [readonly [number, number], readonly [number, number]] | undefined {
  const right = frame.x + frame.width;
  const bottom = frame.y + frame.height;
  if (along === 'y') {
    const py = y.at(at);
    if (!(py >= frame.y - 0.5 && py <= bottom + 0.5)) return undefined;
    const [x0, x1] = extent ? (extent.map((v) => clamped(x.at(v), frame.x, right)) as [number, number]) : [frame.x, right];
    return [
      [x0, py],
      [x1, py],
    ];
  }
  const px0 = x.at(at);
  if (!(px0 >= frame.x - 0.5 && px0 <= right + 0.5)) return undefined;
  const [y0, y1] = extent ? (extent.map((v) => clamped(y.at(v), frame.y, bottom)) as [number, number]) : [bottom, frame.y];
  return [
    [px0, y0],
    [px0, y1],
  ];
}

const LABEL_HEIGHT = 15;

/** On the line, at its ends and between, above it and below; of an upright line beside it, from the top down. */
function rulePlaces(
  [[x0, y0], [x1, y1]]: readonly [readonly [number, number], readonly [number, number]],
  width: number,
  frame: Box,
): Box[] {
  const box = (x: number, y: number): Box => ({ x, y, width, height: LABEL_HEIGHT });
  if (y0 === y1) {
    const room = x1 - x0 - width - 8;
    return [0, 1, 0.5, 0.25, 0.75].flatMap((share) => [
      box(x0 + 4 + share * room, y0 - LABEL_HEIGHT - 1),
      box(x0 + 4 + share * room, y0 + 2),
    ]);
  }
  const top = Math.min(y0, y1);
  return Array.from({ length: Math.max(1, Math.floor(frame.height / 16)) }, (_, i) => top + 2 + 16 * i).flatMap((y) => [
    box(x0 + 5, y),
    box(x0 - 5 - width, y),
  ]);
}

/** Around a mark, the sides where an eye looks first. */
function around(x: number, y: number, width: number): Box[] {
  const box = (left: number, top: number): Box => ({ x: left, y: top, width, height: LABEL_HEIGHT });
  const middle = y - LABEL_HEIGHT / 2;
  const gap = DOT + 4;
  return [
    box(x + gap, middle),
    box(x - width / 2, y - gap - LABEL_HEIGHT),
    box(x - gap - width, middle),
    box(x - width / 2, y + gap),
    box(x + gap - 2, y - gap - LABEL_HEIGHT + 3),
    box(x - gap - width + 2, y - gap - LABEL_HEIGHT + 3),
    box(x + gap - 2, y + gap - 3),
    box(x - gap - width + 2, y + gap - 3),
  ];
}

/** A line as it is drawn, cut at the edges of the frame. */
function piecesOf({ frame, x, y }: PanelLayout, points: readonly (readonly [number, number])[]): (readonly [number, number])[][] {
  const pieces: (readonly [number, number])[][] = [];
  let open: (readonly [number, number])[] | undefined;
  const placed = points.map(([vx, vy]): readonly [number, number] => [x.at(vx), y.at(vy)]);
  for (let i = 1; i < placed.length; i++) {
    const cut = clipped(placed[i - 1]!, placed[i]!, frame);
    if (!cut) {
      open = undefined;
      continue;
    }
    const last = open?.at(-1);
    if (open && last && last[0] === cut[0][0] && last[1] === cut[0][1]) open.push(cut[1]);
    else {
      open = [...cut];
      pieces.push(open);
    }
  }
  return pieces;
}

/** The part of a straight line that lies in a box. Source: Liang and Barsky, 1984. */
function clipped(
  a: readonly [number, number],
  b: readonly [number, number],
  { x, y, width, height }: Box,
): readonly [readonly [number, number], readonly [number, number]] | undefined {
  let [from, to] = [0, 1];
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  for (const [p, q] of [
    [-dx, a[0] - x],
    [dx, x + width - a[0]],
    [-dy, a[1] - y],
    [dy, y + height - a[1]],
  ] as const) {
    if (p === 0 && q < 0) return undefined;
    if (p < 0) from = Math.max(from, q / p);
    else if (p > 0) to = Math.min(to, q / p);
    if (Number.isNaN(p) || Number.isNaN(q)) return undefined;
  }
  if (from > to) return undefined;
  const at = (t: number): readonly [number, number] => (t === 0 ? a : t === 1 ? b : [a[0] + t * dx, a[1] + t * dy]);
  return [at(from), at(to)];
}

const clamped = (v: number, low: number, high: number): number => Math.min(Math.max(v, low), high);

/** Hundredths of a pixel are more than an eye sees, and less than machines differ by. */
const px = (v: number): string => String(Math.round(v * 100) / 100 + 0);

/** The middle of a pixel, where a line of one pixel is sharp. */
const half = (v: number): string => String(Math.round(v - 0.5) + 0.5);

/** Text of a file as text of a picture. */
export const escaped = (text: string): string =>
  visible(text).replace(/[&<>"']/g, (mark) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' })[mark]!);

export type { Ink, Panel };
