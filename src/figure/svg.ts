import type { Figure } from './figure';
import { drawLabels } from './labels';
import { type Box, layoutOf, NOTE_SIZE, type PanelLayout, type Size, TEXT_SIZE, TITLE_SIZE, yTitleAbove } from './layout';
import { drawBand, drawCells, drawOutline, drawRule, drawSeries } from './marks';
import { escaped, Picture, px } from './picture';
import { Placing } from './placing';
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
  const { width, height, title, against, notes, panels } = layoutOf(figure, size);
  const picture = new Picture(theme);
  picture.raw(
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${px(width)} ${px(height)}" width="${px(width)}" height="${px(height)}" role="img"` +
      ` data-figure="${escaped(figure.id)}" font-family="${theme.font}" font-size="${TEXT_SIZE}" fill="${theme.text}">` +
      `<title>${escaped(figure.title)}</title><desc>${escaped(figure.summary)}</desc>`,
  );
  picture.rect({ x: 0, y: 0, width, height }, ` fill="${theme.surface}"`);
  for (const { text, x, y } of title) picture.write(text, x, y, ` font-size="${TITLE_SIZE}" font-weight="600"`);
  for (const { text, x, y } of against) picture.write(text, x, y, ` fill="${theme.muted}"`);
  for (const panel of panels) drawPanel(picture, panel);
  for (const { text, x, y } of notes) picture.write(text, x, y, ` font-size="${NOTE_SIZE}" fill="${theme.muted}"`);
  picture.raw('</svg>\n');
  return picture.text;
}

function drawPanel(picture: Picture, layout: PanelLayout): void {
  const { panel, frame, aside } = layout;
  const placing = new Placing(frame, labelRoom(layout));
  picture.open(` data-panel="${escaped(panel.id)}"`);
  for (const mark of panel.marks) if (mark.is === 'band') drawBand(picture, layout, mark);
  drawAxes(picture, layout);
  for (const mark of panel.marks) {
    if (mark.is === 'rule') drawRule(picture, layout, mark, placing);
    else if (mark.is === 'outline') drawOutline(picture, layout, mark, placing);
    else if (mark.is === 'cells') drawCells(picture, layout, mark);
  }
  for (const mark of panel.marks) if (mark.is === 'series') drawSeries(picture, layout, mark, placing);
  drawLabels(picture, layout, placing);
  picture.close();
  if (aside) drawPanel(picture, aside);
}

/** Where labels may stand: in the frame and in the margin right of it. */
function labelRoom({ box, frame }: PanelLayout): Box {
  const x = frame.x - 2;
  return { x, y: frame.y - 5, width: box.x + box.width + 4 - x, height: frame.height + 7 };
}

function drawAxes(picture: Picture, { panel, box, frame, x, y, sharesY, showsSecond }: PanelLayout): void {
  const { grid, muted } = picture.theme;
  const [right, bottom] = [frame.x + frame.width, frame.y + frame.height];
  if (panel.title !== undefined) picture.write(shortened(panel.title, TEXT_SIZE, box.width, true), box.x, box.y + 13, ' font-weight="600"');
  if (!panel.marks.some(({ is }) => is === 'cells')) {
    picture.open(` stroke="${grid}" stroke-width="1"`);
    for (const { at } of y.ticks) picture.rule([frame.x, y.at(at)], [right, y.at(at)], '');
    if (panel.equal !== undefined) for (const { at } of x.ticks) picture.rule([x.at(at), frame.y], [x.at(at), bottom], '');
    else for (const { at } of x.ticks) picture.rule([x.at(at), bottom], [x.at(at), bottom + 4], '');
    if (y.axis.scale !== 'names') picture.rule([frame.x, bottom], [right, bottom], '');
    picture.close();
  }
  picture.open(` font-size="${TICK_SIZE}" fill="${muted}"`);
  if (!sharesY)
    for (const { at, label } of y.ticks)
      picture.write(shortened(label, TICK_SIZE, frame.x - box.x - 6), frame.x - 7, y.at(at) + 4, ' text-anchor="end"');
  for (const { at, label } of x.ticks) picture.write(label, x.at(at), bottom + 18, ' text-anchor="middle"');
  picture.write(shortened(x.axis.title, TICK_SIZE, box.width), right, bottom + 34, ' text-anchor="end"');
  if (!sharesY && y.axis.title !== '')
    picture.write(shortened(y.axis.title, TICK_SIZE, box.width), box.x, frame.y - yTitleAbove(panel, box.width));
  drawSecond(picture, { frame, x, y, showsSecond });
  picture.close();
}

/** The other reading of an axis, on the other side: as many of its ticks as have room. */
function drawSecond(picture: Picture, { frame, x, y, showsSecond }: Pick<PanelLayout, 'frame' | 'x' | 'y' | 'showsSecond'>): void {
  const right = frame.x + frame.width;
  const second = x.axis.second;
  if (second) {
    picture.write(second.title, right, frame.y - 26, ' text-anchor="end"');
    let free = Number.NEGATIVE_INFINITY;
    for (const { at, label } of second.ticks) {
      const half = textWidth(label, TICK_SIZE) / 2;
      if (x.at(at) - half < free) continue;
      free = x.at(at) + half + 8;
      picture.write(label, x.at(at), frame.y - 8, ' text-anchor="middle"');
      picture.rule([x.at(at), frame.y - 4], [x.at(at), frame.y], ` stroke="${picture.theme.grid}"`);
    }
  }
  if (showsSecond) for (const { at, label } of y.axis.second?.ticks ?? []) picture.write(label, right + 7, y.at(at) + 4);
}
