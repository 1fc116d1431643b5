import type { Axis, Figure, Panel } from './figure';
import { type Placed, place, TICK_SIZE } from './scale';
import { textWidth, wrapped } from './textWidth';

/** A rectangle in a picture, px. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Size {
  readonly width: number;
  /** As tall as the figure wants to be when left out. */
  readonly height?: number;
}

export interface PanelLayout {
  readonly panel: Panel;
  /** All of it, with titles and labels. */
  readonly box: Box;
  /** Where marks stand. */
  readonly frame: Box;
  readonly x: Placed;
  readonly y: Placed;
  /** Whether the labels of the vertical axis are those of the panel before. */
  readonly sharesY: boolean;
  /** Whether there is room for the second scale of the vertical axis. */
  readonly showsSecond: boolean;
  readonly aside?: PanelLayout;
}

export interface Line {
  readonly text: string;
  readonly x: number;
  /** Baseline. */
  readonly y: number;
}

export interface Layout {
  readonly width: number;
  readonly height: number;
  readonly title: readonly Line[];
  readonly against: readonly Line[];
  readonly notes: readonly Line[];
  readonly panels: readonly PanelLayout[];
}

export const TITLE_SIZE = 16;
export const TEXT_SIZE = 12.5;
export const NOTE_SIZE = 11.5;

const PAD = 14;
const GAP = 18;
/** Below this a panel says nothing any more. */
const LEAST_PANEL = { width: 160, height: 120 };
const LEAST_WIDTH = 200;
const STEPS = { title: 21, against: 17, note: 16 };

/** Where everything of a figure comes to lie. */
export function layoutOf(figure: Figure, { width: wanted, height: given }: Size): Layout {
  const width = Math.max(LEAST_WIDTH, wanted);
  const room = width - 2 * PAD;
  const titleTop = PAD + 14;
  const title = lines(wrapped(figure.title, TITLE_SIZE, room, { bold: true }), titleTop, STEPS.title);
  const againstTop = titleTop + title.length * STEPS.title - 2;
  const against = lines(wrapped(figure.against, TEXT_SIZE, room), againstTop, STEPS.against);
  const top = againstTop + against.length * STEPS.against - 2;
  const noteTexts = figure.notes.flatMap((note) => wrapped(note, NOTE_SIZE, room, { most: 4 }));
  const bottom = noteTexts.length * STEPS.note + (noteTexts.length > 0 ? 14 : 8);

  const columns = columnsOf(figure, room);
  const across = (room - GAP * (columns - 1)) / columns;
  const rows = Array.from({ length: Math.ceil(figure.panels.length / columns) }, (_, r) =>
    figure.panels.slice(r * columns, (r + 1) * columns),
  );
  const isColumn = figure.flow === 'column' && rows.length > 1;
  const wants = rows.map((row) => Math.max(...row.map((panel) => naturalHeight(panel, across, isColumn ? IN_COLUMN : 1))));
  const gaps = GAP * (rows.length - 1);
  const natural = top + sum(wants) + gaps + bottom;
  const height = Math.round(Math.max(given ?? natural, top + bottom + gaps + rows.length * LEAST_PANEL.height));
  const share = (height - top - bottom - gaps) / sum(wants);

  let y = top;
  const placed = rows.flatMap((row, r) => {
    const tall = wants[r]! * share;
    const boxes = row.map(
      (panel, c): Slot => ({
        panel,
        box: { x: PAD + c * (across + GAP), y, width: across, height: tall },
        sharesY: c > 0 && isSame(panel.y, row[c - 1]!.y),
      }),
    );
    y += tall + GAP;
    return boxes;
  });
  // Frames that stand below each other begin and end at the same places.
  const margins = columns === 1 ? placed.map(marginsOf) : [];
  const least = { left: Math.max(0, ...margins.map(({ left }) => left)), right: Math.max(0, ...margins.map(({ right }) => right)) };
  const panels = placed.map((slot) => panelLayout(slot, least));
  const notes = lines(noteTexts, height - 10 - STEPS.note * (noteTexts.length - 1), STEPS.note);
  return { width, height, title, against, notes, panels };
}

const sum = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

const lines = (texts: readonly string[], top: number, step: number): Line[] =>
  texts.filter((text) => text !== '').map((text, i) => ({ text, x: PAD, y: top + i * step }));

const isSame = (a: Axis, b: Axis): boolean =>
  a.title === b.title && a.scale === b.scale && a.domain[0] === b.domain[0] && a.domain[1] === b.domain[1];

function columnsOf({ flow, panels }: Figure, room: number): number {
  if (flow === 'column') return 1;
  const most = Math.max(1, Math.min(panels.length, Math.floor((room + GAP) / (LEAST_PANEL.width + GAP))));
  // Six panels where five have room stand in two rows of three.
  return Math.ceil(panels.length / Math.ceil(panels.length / most));
}

const LEAST_FRAME = 150;

const belowFrame = ({ x }: Panel): number => (x.title === '' ? 24 : 40);

const NAME_ROW = 24;
const ASIDE = { beside: 470, least: 130, most: 200, height: 170 };

/** px from the frame up to the title of the vertical axis. */
export const yTitleAbove = (panel: Panel, width: number): number => {
  const { x, y } = panel;
  if (!x.second) return 11;
  const beside =
    textWidth(y.title, TICK_SIZE) + textWidth(x.second.title, TICK_SIZE) + 16 <= width - Math.max(RIGHT, endsRoom(panel, width));
  return beside ? 26 : 44;
};

const aboveFrame = (panel: Panel, width: number): number =>
  (panel.title === undefined ? 0 : 20) + (panel.x.second || panel.y.title !== '' ? yTitleAbove(panel, width) + 14 : 6);

/** The width of a small panel beside a large one; undefined where it has to stand below. */
const besideWidth = (width: number): number | undefined =>
  width < ASIDE.beside ? undefined : Math.min(ASIDE.most, Math.max(ASIDE.least, 0.27 * width));

/** Panels below each other are lower than one alone. */
const IN_COLUMN = 0.72;

function naturalHeight(panel: Panel, width: number, share = 1): number {
  const beside = panel.aside && besideWidth(width);
  const below = panel.aside && beside === undefined ? GAP + naturalHeight(panel.aside, width) : 0;
  const main = width - (beside === undefined ? 0 : beside + GAP);
  return aboveFrame(panel, main) + belowFrame(panel) + share * frameHeight(panel, main) + below;
}

function frameHeight({ x, y, marks, equal, share = 1 }: Panel, width: number): number {
  const across = Math.abs(x.domain[1] - x.domain[0]);
  const up = Math.abs(y.domain[1] - y.domain[0]);
  // The fields of a grid are those of a screen.
  if (marks.some(({ is }) => is === 'cells')) return up * Math.min(64, Math.max(26, ((0.9 * width) / across) * 0.56));
  if (y.scale === 'names') return NAME_ROW * up + 8;
  if (equal === 'fit') return Math.min(((width - 40) * up) / across, 460);
  if (equal === 'fill') return Math.min(0.62 * width, 420);
  return Math.min(Math.max(width * 0.46, LEAST_FRAME), 320) * share;
}

/** A panel and the place that it has. */
interface Slot {
  readonly panel: Panel;
  readonly box: Box;
  readonly sharesY: boolean;
}

/** Room left and right of a frame, px. */
interface Margins {
  readonly left: number;
  readonly right: number;
}

function panelLayout({ panel, box: whole, sharesY }: Slot, least: Margins): PanelLayout {
  const { aside } = panel;
  if (!aside) return mainLayout({ panel, box: whole, sharesY }, least);
  const beside = besideWidth(whole.width);
  if (beside === undefined) {
    const below = Math.min(naturalHeight(aside, whole.width), 0.4 * whole.height);
    const box = { ...whole, height: whole.height - below - GAP };
    const asideBox = { ...whole, y: box.y + box.height + GAP, height: below };
    return { ...mainLayout({ panel, box, sharesY }, least), aside: mainLayout({ panel: aside, box: asideBox, sharesY: false }) };
  }
  const box = { ...whole, width: whole.width - beside - GAP };
  const height = Math.min(whole.height, aboveFrame(aside, beside) + belowFrame(aside) + (aside.equal ? beside : 0.8 * beside));
  const asideBox = { x: whole.x + whole.width - beside, y: whole.y, width: beside, height };
  return { ...mainLayout({ panel, box, sharesY }, least), aside: mainLayout({ panel: aside, box: asideBox, sharesY: false }) };
}

const frameRoom = ({ panel, box }: Slot): number => Math.max(20, box.height - aboveFrame(panel, box.width) - belowFrame(panel));

function marginsOf(slot: Slot): Margins & { readonly showsSecond: boolean } {
  const { panel, box, sharesY } = slot;
  const wide = Math.max(0, ...place(panel.y, frameRoom(slot), 0, false).ticks.map(({ label }) => textWidth(label, TICK_SIZE)));
  const left = sharesY ? 6 : Math.min(0.42 * box.width, 8 + wide);
  const ends = endsRoom(panel, box.width);
  const second = Math.max(0, ...(panel.y.second?.ticks.map(({ label }) => 10 + textWidth(label, TICK_SIZE)) ?? []));
  // The marks before the numbers beside them.
  const showsSecond = second > 0 && box.width - left - ends - second >= LEAST_SHARE * box.width;
  return { left, right: Math.max(RIGHT, ends + (showsSecond ? second : 0)), showsSecond };
}

/** Right of a frame, where half of the last label of the axis stands. */
const RIGHT = 14;
/** Of its panel a frame takes at least so much, or a second scale is left out. */
const LEAST_SHARE = 0.34;

function mainLayout(slot: Slot, least: Margins = { left: 0, right: 0 }): PanelLayout {
  const { panel, box, sharesY } = slot;
  const own = marginsOf(slot);
  const [left, right] = [Math.max(own.left, least.left), Math.max(own.right, least.right)];
  const room: Box = {
    x: box.x + left,
    y: box.y + aboveFrame(panel, box.width),
    width: Math.max(20, box.width - left - right),
    height: frameRoom(slot),
  };
  const frame = panel.equal === 'fit' ? fitted(panel, room) : room;
  const axes = panel.equal === 'fill' ? filled(panel, frame) : panel;
  const x = place(axes.x, frame.x, frame.x + frame.width, true);
  const y = place(axes.y, frame.y + frame.height, frame.y, false);
  return { panel, box, frame, x, y, sharesY, showsSecond: own.showsSecond };
}

const extentOf = ({ domain }: Axis): number => Math.abs(domain[1] - domain[0]);

/** The largest frame in which a unit is as long on one axis as on the other. */
function fitted({ x, y }: Panel, room: Box): Box {
  const unit = Math.min(room.width / extentOf(x), room.height / extentOf(y));
  return { ...room, width: unit * extentOf(x), height: unit * extentOf(y) };
}

/** The axes that show the domains of both, and more of the one that has room. */
function filled({ x, y }: Panel, { width, height }: Box): Pick<Panel, 'x' | 'y'> {
  const unit = Math.min(width / extentOf(x), height / extentOf(y));
  const grown = (axis: Axis, length: number): Axis => {
    const [from, to] = axis.domain;
    const more = (length / unit - (to - from)) / 2;
    return { ...axis, domain: [from - more, to + more] };
  };
  return { x: grown(x, width), y: grown(y, height) };
}

/** From the end of a line to its label. */
export const END_LEADER = 20;

/** Room for the labels at the ends of lines. */
function endsRoom({ marks }: Panel, width: number): number {
  const labels = marks.flatMap((mark) => (mark.is === 'series' && mark.labelled === 'end' && mark.label ? [mark.label] : []));
  return labels.length === 0 ? 0 : Math.min(0.36 * width, END_LEADER + Math.max(...labels.map((label) => textWidth(label, TEXT_SIZE))) + 2);
}
