import { clippedLine } from './clipping';
import type { Band, Cells, Outline, Point, Rule, Series } from './figure';
import type { PanelLayout } from './layout';
import { type At, clamped, DOT, dashed, escaped, type Picture, px } from './picture';
import type { Placing } from './placing';

/** With more of them a line shows its readings without dots. */
const MOST_DOTS = 150;

export function drawBand(picture: Picture, { frame, x, y }: PanelLayout, { along, between, role, extent }: Band): void {
  const upright = along === 'x';
  const [own, other] = upright ? [x, y] : [y, x];
  const [low, size] = upright ? [frame.x, frame.width] : [frame.y, frame.height];
  const [a, b] = between.map((v) => clamped(own.at(v), low, low + size)) as [number, number];
  const [c, d] = extent ? (extent.map((v) => other.at(v)) as [number, number]) : [other.from, other.to];
  const [x0, x1, y0, y1] = upright ? [a, b, c, d] : [c, d, a, b];
  const box = { x: Math.min(x0, x1), y: Math.min(y0, y1), width: Math.abs(x1 - x0), height: Math.abs(y1 - y0) };
  picture.rect(box, ` fill="${picture.theme.text}" fill-opacity="${role === 'aim' ? 0.06 : 0.03}"`);
}

/** Where a rule begins and ends; undefined where it lies outside. */
export function ruleEnds({ frame, x, y }: PanelLayout, { along, at, extent }: Rule): readonly [At, At] | undefined {
  const upright = along === 'x';
  const [own, other] = upright ? [x, y] : [y, x];
  const [low, size] = upright ? [frame.x, frame.width] : [frame.y, frame.height];
  const [otherLow, otherSize] = upright ? [frame.y, frame.height] : [frame.x, frame.width];
  const v = own.at(at);
  if (!(v >= low - 0.5 && v <= low + size + 0.5)) return undefined;
  const [a, b] = extent
    ? (extent.map((e) => clamped(other.at(e), otherLow, otherLow + otherSize)) as [number, number])
    : [otherLow, otherLow + otherSize];
  return upright
    ? [
        [v, a],
        [v, b],
      ]
    : [
        [a, v],
        [b, v],
      ];
}

export function drawRule(picture: Picture, layout: PanelLayout, rule: Rule, placing: Placing): void {
  const ends = ruleEnds(layout, rule);
  if (!ends) return;
  const { text, muted } = picture.theme;
  const look = {
    zero: ` stroke="${text}" stroke-width="1"`,
    aim: ` stroke="${muted}" stroke-width="0.8"`,
    limit: ` stroke="${text}" stroke-width="1.8"`,
    place: ` stroke="${rule.ink ? picture.theme[rule.ink] : muted}" stroke-width="1" stroke-dasharray="4 3"`,
  }[rule.role];
  picture.rule(...ends, look);
  placing.keepLineClear(ends);
}

export function drawOutline(picture: Picture, layout: PanelLayout, { id, role, points, closed }: Outline, placing: Placing): void {
  const { text, muted } = picture.theme;
  const look = {
    target: ` stroke="${text}" stroke-width="1"`,
    hull: ` stroke="${text}" stroke-width="1.8"`,
    reference: ` stroke="${muted}" stroke-width="1.2" stroke-dasharray="6 3"`,
    locus: ` stroke="${muted}" stroke-width="0.8"`,
    fit: ` stroke="${muted}" stroke-width="1.4" stroke-dasharray="2 3"`,
  }[role];
  const placed = (closed ? [...points, points[0]!] : points).map(([x, y]): At => [layout.x.at(x), layout.y.at(y)]);
  for (const piece of clippedLine(placed, layout.frame)) {
    picture.line(piece, ` data-outline="${escaped(id)}" fill="none"${look}`);
    placing.keepLineClear(piece);
  }
}

export function drawCells(picture: Picture, { x, y }: PanelLayout, { points }: Cells): void {
  const { red, blue, grid } = picture.theme;
  const [width, height] = [Math.abs(x.at(1) - x.at(0)) - 3, Math.abs(y.at(1) - y.at(0)) - 3];
  for (const point of points) {
    const [cx, cy] = [x.at(point.x), y.at(point.y)];
    picture.openMark(point);
    const box = { x: cx - width / 2, y: cy - height / 2, width, height };
    picture.rect(box, ` rx="2" fill="${point.tint < 0 ? blue : red}" fill-opacity="${px(0.45 * Math.abs(point.tint))}" stroke="${grid}"`);
    picture.write(point.label, cx, cy + 4.5, ' text-anchor="middle"');
    picture.close();
  }
}

export function drawSeries(picture: Picture, layout: PanelLayout, series: Series, placing: Placing): void {
  const { frame, x, y } = layout;
  const { points, joined, envelope } = series;
  const colour = picture.theme[series.ink];
  picture.open(` data-series="${escaped(series.id)}" stroke="${colour}" fill="${colour}"`);
  if (joined || envelope) {
    const look = envelope || series.trail ? ' stroke-width="1" stroke-opacity="0.5"' : ` stroke-width="1.8"${dashed(series.dash)}`;
    for (const stretch of stretches(points))
      for (const piece of clippedLine(
        stretch.map((point): At => [x.at(point.x), y.at(point.y)]),
        frame,
      )) {
        picture.line(piece, ` fill="none" stroke-linejoin="round"${look}`);
        placing.keepLineClear(piece);
      }
  }
  if (!joined || points.length <= MOST_DOTS) {
    const r = points.length > MOST_DOTS ? 1.5 : DOT;
    for (const point of points) {
      const at = placeOf(layout, point);
      picture.openMark(point);
      drawPoint(picture, layout, series, point, at, r);
      picture.close();
      if (point.from) placing.keepLineClear([fromOf(layout, point.from), at]);
      const whisker = whiskerEnds(layout, point, series.along);
      if (whisker) placing.keepLineClear(whisker);
      placing.keepClear({ x: at[0] - r - 1, y: at[1] - r - 1, width: 2 * r + 2, height: 2 * r + 2 });
    }
  }
  picture.close();
}

/** The parts of a line between its gaps. */
function stretches(points: readonly Point[]): readonly (readonly Point[])[] {
  const gaps = points.flatMap(({ gap }, i) => (gap ? [i] : []));
  return gaps.length === 0 ? [points] : [0, ...gaps].map((from, k) => points.slice(from, gaps[k]));
}

/** Where a mark stands; one beyond the axes stands at their edge. */
export const placeOf = ({ frame, x, y }: PanelLayout, point: Pick<Point, 'x' | 'y'>): At => [
  clamped(x.at(point.x), frame.x, frame.x + frame.width),
  clamped(y.at(point.y), frame.y, frame.y + frame.height),
];

const fromOf = (layout: PanelLayout, [x, y]: readonly [number, number]): At => placeOf(layout, { x, y });

function drawPoint(picture: Picture, layout: PanelLayout, { shape, along = 'y' }: Series, point: Point, [cx, cy]: At, r: number): void {
  const { x, y } = layout;
  const { surface } = picture.theme;
  if (point.from) {
    const [tx, ty] = point.tip ? [x.at(point.tip[0]), y.at(point.tip[1])] : [cx, cy];
    const [fx, fy] = fromOf(layout, point.from);
    picture.raw(
      `<path d="M${px(fx)} ${px(fy)}L${px(tx)} ${px(ty)}" fill="none"${point.ci ? ' stroke-width="1" stroke-opacity="0.4"' : ' stroke-width="1.4"'}/>`,
    );
  }
  if (point.ci) drawWhisker(picture, layout, point, along);
  const away = awayOf(layout, point, along);
  if (away) picture.raw(`<path d="${arrow(cx, cy, r + 1, away)}" stroke="none"/>`);
  else if (shape === 'cross')
    picture.raw(`<path d="M${px(cx - 5)} ${px(cy)}h10M${px(cx)} ${px(cy - 5)}v10" fill="none" stroke-width="1.2"/>`);
  else if (shape === 'hollow') picture.raw(`<circle cx="${px(cx)}" cy="${px(cy)}" r="${r}" fill="${surface}" stroke-width="1.4"/>`);
  else if (shape === 'dot') picture.raw(`<circle cx="${px(cx)}" cy="${px(cy)}" r="${r}" stroke="none"/>`);
}

/** Where the interval of a mark begins and ends in the picture. */
export const whiskerEnds = (layout: PanelLayout, point: Point, along: 'x' | 'y' = 'y'): readonly [At, At] | undefined =>
  point.ci && (point.ci.map((v) => placeOf(layout, { x: point.x, y: point.y, [along]: v })) as [At, At]);

/** An interval, without its bar at an end that lies beyond the axes. */
function drawWhisker(picture: Picture, layout: PanelLayout, point: Point, along: 'x' | 'y'): void {
  const ends = whiskerEnds(layout, point, along)!;
  const bars = ends.filter((end, i) => Math.abs(layout[along].at(point.ci![i]!) - end[along === 'y' ? 1 : 0]) < 0.5);
  const [[x0, y0], [x1, y1]] = ends;
  const line = along === 'y' ? `M${px(x0)} ${px(y0)}V${px(y1)}` : `M${px(x0)} ${px(y0)}H${px(x1)}`;
  const bar = ([x, y]: At): string => (along === 'y' ? `M${px(x - 3)} ${px(y)}h6` : `M${px(x)} ${px(y - 3)}v6`);
  picture.raw(`<path d="${line}${bars.map(bar).join('')}" fill="none" stroke-width="1" stroke-opacity="0.65"/>`);
}

type Side = 'left' | 'right' | 'up' | 'down';

/** To which side the truth lies: of the frame, or of what a meter could not see. */
function awayOf({ frame, x, y }: PanelLayout, point: Point, along: 'x' | 'y'): Side | undefined {
  const [cx, cy] = [x.at(point.x), y.at(point.y)];
  if (cy < frame.y - 0.5) return 'up';
  if (cy > frame.y + frame.height + 0.5) return 'down';
  if (cx < frame.x - 0.5) return 'left';
  if (cx > frame.x + frame.width + 0.5) return 'right';
  if (!point.bound) return undefined;
  if (along === 'x') return point.bound === 'at-most' ? 'left' : 'right';
  return point.bound === 'at-most' ? 'down' : 'up';
}

function arrow(x: number, y: number, r: number, side: Side): string {
  const upright = side === 'up' || side === 'down';
  const to = side === 'up' || side === 'left' ? -1 : 1;
  const corners: readonly At[] = upright
    ? [
        [x - r, y - to * r],
        [x + r, y - to * r],
        [x, y + to * (r + 1)],
      ]
    : [
        [x - to * r, y - r],
        [x - to * r, y + r],
        [x + to * (r + 1), y],
      ];
  return `M${corners.map(([cx, cy]) => `${px(cx)} ${px(cy)}`).join('L')}Z`;
}
