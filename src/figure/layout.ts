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
  readonly inset?: PanelLayout;
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
const LEAST_PANEL = { width: 168, height: 120 };
const LEAST_WIDTH = 200;

/** Where everything of a figure comes to lie. */
export function layoutOf(figure: Figure, { width: wanted, height: given }: Size): Layout {
  const width = Math.max(LEAST_WIDTH, wanted);
  const room = width - 2 * PAD;
  const title = linesOf(figure.title, TITLE_SIZE, room, PAD + 14, 21, true);
  const against = linesOf(figure.against, TEXT_SIZE, room, end(title, PAD + 14, 21) - 2, 17);
  const top = end(against, end(title, PAD + 14, 21), 17) - 4;
  const noteTexts = figure.notes.flatMap((note) => wrapped(note, NOTE_SIZE, room, { most: 4 }));
  const below = noteTexts.length === 0 ? 6 : 14 + noteTexts.length * 16;
  const columns = columnsOf(figure, room);
  const heights = rowsOf(figure, columns).map((row) => Math.max(...row.map((panel) => naturalHeight(panel, columnWidth(room, columns)))));
  const natural = top + heights.reduce((sum, height) => sum + height, 0) + GAP * (heights.length - 1) + below + 4;
  const height = Math.round(given === undefined ? natural : Math.max(given, top + below + heights.length * LEAST_PANEL.height));
  const scale = (height - top - below - 4 - GAP * (heights.length - 1)) / heights.reduce((sum, each) => sum + each, 0);
  let y = top;
  const panels = rowsOf(figure, columns).flatMap((row, r) => {
    const tall = heights[r]! * scale;
    const laid = row.map((panel, c) =>
      panelLayout(
        panel,
        { x: PAD + c * (columnWidth(room, columns) + GAP), y, width: columnWidth(room, columns), height: tall },
        c > 0 && sameAxis(panel.y, row[c - 1]!.y),
      ),
    );
    y += tall + GAP;
    return laid;
  });
  const notes = noteTexts.map((text, i) => ({ text, x: PAD, y: height - 8 - 16 * (noteTexts.length - 1 - i) }));
  return { width, height, title, against, notes, panels };
}

const linesOf = (text: string, size: number, room: number, y: number, step: number, bold = false): Line[] =>
  text === '' ? [] : wrapped(text, size, room, { bold }).map((line, i) => ({ text: line, x: PAD, y: y + i * step }));

const end = (lines: readonly Line[], start: number, step: number): number => (lines.length === 0 ? start : lines.at(-1)!.y + step);

const sameAxis = (a: Axis, b: Axis): boolean =>
  a.title === b.title && a.scale === b.scale && a.domain[0] === b.domain[0] && a.domain[1] === b.domain[1];

function columnsOf({ flow, panels }: Figure, room: number): number {
  if (flow === 'column') return 1;
  const most = Math.max(1, Math.min(panels.length, Math.floor((room + GAP) / (LEAST_PANEL.width + GAP))));
  // Six panels where five have room stand in two rows of three.
  return Math.ceil(panels.length / Math.ceil(panels.length / most));
}

const columnWidth = (room: number, columns: number): number => (room - GAP * (columns - 1)) / columns;

const rowsOf = ({ panels }: Figure, columns: number): Panel[][] =>
  Array.from({ length: Math.ceil(panels.length / columns) }, (_, r) => panels.slice(r * columns, (r + 1) * columns));

const NAME_ROW = 28;

function naturalHeight(panel: Panel, width: number): number {
  const around = topOf(panel) + BOTTOM;
  if (panel.y.scale === 'names') return around + NAME_ROW * Math.abs(panel.y.domain[1] - panel.y.domain[0]);
  if (panel.equal) return around + Math.min(width * 0.72, 480);
  return around + Math.min(Math.max(width * 0.46, 130), 330) * (panel.share ?? 1);
}

const BOTTOM = 40;

const topOf = ({ title, y, x }: Panel): number => (title === undefined ? 0 : 20) + (y.title === '' ? 4 : 20) + (x.second ? 38 : 0);

function panelLayout(panel: Panel, box: Box, sharesY: boolean): PanelLayout {
  const top = topOf(panel);
  const height = Math.max(20, box.height - top - BOTTOM);
  const right = rightOf(panel, box.width);
  const roughY = place(panel.y, height, 0, false);
  const left = sharesY ? 6 : Math.min(0.42 * box.width, 8 + Math.max(0, ...roughY.ticks.map(({ label }) => textWidth(label, TICK_SIZE))));
  let frame: Box = { x: box.x + left, y: box.y + top, width: Math.max(20, box.width - left - right), height };
  if (panel.equal) frame = keepingUnits(panel, frame);
  const x = place(panel.x, frame.x, frame.x + frame.width, true);
  const y = place(panel.y, frame.y + frame.height, frame.y, false);
  return { panel, box, frame, x, y, sharesY };
}

/** The largest frame in which a unit is as long on one axis as on the other. */
function keepingUnits({ x, y }: Panel, frame: Box): Box {
  const across = Math.abs(x.domain[1] - x.domain[0]);
  const up = Math.abs(y.domain[1] - y.domain[0]);
  const unit = Math.min(frame.width / across, frame.height / up);
  return { ...frame, width: unit * across, height: unit * up };
}

/** Room for the labels at the ends of lines. */
function rightOf(panel: Panel, width: number): number {
  const labels = panel.marks.flatMap((mark) => (mark.is === 'series' && mark.joined && mark.label !== undefined ? [mark.label] : []));
  const second = panel.y.second?.ticks.map(({ label }) => label) ?? [];
  const own =
    labels.length === 0 ? 0 : Math.min(0.36 * width, END_LEADER + Math.max(...labels.map((label) => textWidth(label, TEXT_SIZE))) + 4);
  return Math.max(12, own + Math.max(0, ...second.map((label) => 10 + textWidth(label, TICK_SIZE))));
}

/** From the end of a line to its label. */
export const END_LEADER = 20;
