import type { Outline, Point, Rule, Series } from './figure';
import { type Box, END_LEADER, type PanelLayout, TEXT_SIZE } from './layout';
import { placeOf, ruleEnds, whiskerEnds } from './marks';
import { type At, DOT, dashed, escaped, type Picture, px } from './picture';
import { type Placing, spreadOut } from './placing';
import { TICK_SIZE } from './scale';
import { shortened, textWidth } from './textWidth';

const HEIGHT = 15;
/** Between the labels of a column. */
const STEP = 16;

/** All labels of a panel: those that must be found first, so that they have the best places. */
export function drawLabels(picture: Picture, layout: PanelLayout, placing: Placing): void {
  const { marks } = layout.panel;
  const series = marks.filter((mark) => mark.is === 'series');
  drawEnds(
    picture,
    layout,
    series.filter(({ labelled, points }) => labelled === 'end' && points.length > 0),
    placing,
  );
  const rules = marks.filter((mark) => mark.is === 'rule' && mark.label !== undefined) as Rule[];
  // A limit lies farther out than its aim: where both are close the aim's label would take the only free place, beside the limit.
  for (const rule of rules.toSorted((a, b) => Number(b.role === 'limit') - Number(a.role === 'limit')))
    drawRuleLabel(picture, layout, rule, placing);
  for (const { points } of series)
    for (const point of points) if (point.label !== undefined) drawPointLabel(picture, layout, point, placing);
  for (const one of series)
    if (one.labelled === 'near' && one.label !== undefined) {
      // From the far end backwards, where lines part.
      const places = one.points.map((point) => placeOf(layout, point)).reverse();
      drawNear(picture, one.label, places, placing, ` fill="${picture.theme[one.ink]}" data-end="${escaped(one.id)}"`);
    }
  for (const mark of marks) if (mark.is === 'outline' && mark.label !== undefined) drawOutlineLabel(picture, layout, mark, placing);
}

/** Labels in a column right of the frame, each led to from the end of its line. */
function drawEnds(picture: Picture, layout: PanelLayout, series: readonly Series[], placing: Placing): void {
  const { box, frame } = layout;
  const right = frame.x + frame.width;
  const ends = series.map(({ points }) => placeOf(layout, points.at(-1)!));
  const heights = spreadOut(
    ends.map(([, y]) => y),
    STEP,
    frame.y + 2,
    frame.y + frame.height - 2,
  );
  const left = right + END_LEADER;
  series.forEach(({ id, ink, dash, label = '' }, i) => {
    const [x, y] = ends[i]!;
    const turn = Math.max(x + DOT + 2, right + 3);
    picture.raw(
      `<path d="M${px(x + DOT + 2)} ${px(y)}H${px(turn)}L${px(left - 4)} ${px(heights[i]!)}" fill="none" stroke="${picture.theme[ink]}"${dashed(dash)}/>`,
    );
    const shown = shortened(label, TEXT_SIZE, box.x + box.width - left);
    picture.write(shown, left, heights[i]! + 4.5, ` data-end="${escaped(id)}"`);
    placing.occupy({ x: left, y: heights[i]! - HEIGHT / 2, width: textWidth(shown, TEXT_SIZE), height: HEIGHT });
  });
}

function drawRuleLabel(picture: Picture, layout: PanelLayout, rule: Rule, placing: Placing): void {
  const { label, pair } = rule;
  const lines = [rule, ...(pair === undefined ? [] : [{ ...rule, at: pair }])].flatMap((line) => {
    const ends = ruleEnds(layout, line);
    return ends ? [ends] : [];
  });
  if (lines.length === 0) return;
  const fill = picture.theme[rule.ink ?? (rule.role === 'limit' ? 'text' : 'muted')];
  const width = textWidth(label!, TICK_SIZE);
  // The places of one line and of the other are equally near.
  const places = lines.map((ends) => rulePlaces(ends, width));
  draw(picture, label!, places, placing, ` fill="${fill}"`);
}

/** On the line, at its ends and between, above it and below; of an upright line beside it, from the top down. */
function rulePlaces([[x0, y0], [x1, y1]]: readonly [At, At], width: number): Box[] {
  const box = (x: number, y: number): Box => ({ x, y, width, height: HEIGHT });
  if (y0 === y1) {
    const room = Math.max(0, x1 - x0 - width - 8);
    const along = [0, 1, 0.5, 0.25, 0.75].flatMap((share) => [
      box(x0 + 4 + share * room, y0 - HEIGHT - 1),
      box(x0 + 4 + share * room, y0 + 2),
    ]);
    return [...along, box(x1 + 5, y0 - HEIGHT / 2), box(x0 - 5 - width, y0 - HEIGHT / 2)];
  }
  const top = Math.min(y0, y1);
  const count = Math.max(1, Math.floor(Math.abs(y1 - y0) / STEP));
  return Array.from({ length: count }, (_, i) => top + 2 + STEP * i).flatMap((y) => [box(x0 + 5, y), box(x0 - 5 - width, y)]);
}

/** On a line with a name, beside its interval: a label must not stray to the next one. */
function drawPointLabel(picture: Picture, layout: PanelLayout, point: Point, placing: Placing): void {
  const [x, y] = placeOf(layout, point);
  const { axis } = layout.y;
  const width = textWidth(point.label!, TICK_SIZE);
  const isNamed = axis.scale === 'names' && Math.abs(axis.domain[1] - axis.domain[0]) > 2;
  const [low, high] = (isNamed && whiskerEnds(layout, point, 'x')) || [[x], [x]];
  const places = isNamed
    ? [high[0] + DOT + 4, low[0] - DOT - 4 - width].map((left): Box => ({ x: left, y: y - HEIGHT / 2, width, height: HEIGHT }))
    : around(x, y, width);
  draw(picture, point.label!, [places], placing, '');
}

function drawOutlineLabel(picture: Picture, { frame, x, y }: PanelLayout, { points, label, role }: Outline, placing: Placing): void {
  const fill = role === 'hull' ? picture.theme.text : picture.theme.muted;
  const placed = points.map(([vx, vy]): At => [x.at(vx), y.at(vy)]);
  const inside = placed.filter(([px, py]) => px >= frame.x && px <= frame.x + frame.width && py >= frame.y && py <= frame.y + frame.height);
  drawNear(picture, label!, inside, placing, ` fill="${fill}"`);
}

function drawNear(picture: Picture, label: string, places: readonly At[], placing: Placing, attributes = ''): void {
  draw(picture, label, [places.flatMap(([x, y]) => around(x, y, textWidth(label, TICK_SIZE)))], placing, attributes);
}

function draw(picture: Picture, label: string, places: readonly (readonly Box[])[], placing: Placing, attributes: string): void {
  const found = placing.take(...places);
  if (found) picture.writeClear(label, found.x, found.y + 12, ` font-size="${TICK_SIZE}"${attributes}`);
}

/** Around a mark, the sides where an eye looks first. */
function around(x: number, y: number, width: number): Box[] {
  const gap = DOT + 4;
  const box = (left: number, top: number): Box => ({ x: left, y: top, width, height: HEIGHT });
  const middle = y - HEIGHT / 2;
  return [
    box(x + gap, middle),
    box(x - width / 2, y - gap - HEIGHT),
    box(x - gap - width, middle),
    box(x - width / 2, y + gap),
    box(x + gap - 2, y - gap - HEIGHT + 3),
    box(x - gap - width + 2, y - gap - HEIGHT + 3),
    box(x + gap - 2, y + gap - 3),
    box(x - gap - width + 2, y + gap - 3),
    box(x - width / 2, y - gap - 2 * HEIGHT),
    box(x - width / 2, y + gap + HEIGHT),
    box(x - gap - width + 2, y - gap - 2 * HEIGHT),
    box(x + gap - 2, y - gap - 2 * HEIGHT),
  ];
}
