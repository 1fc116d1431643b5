import type { NodeId } from '../text/finding';

/**
 * A figure as data: one question, its answer as the title, and the marks that show it. Everything is in the units of the axes; where a mark
 * comes to lie in a picture is known to `layout.ts` alone. Plain data throughout, so that it can be sent to a page.
 */
export interface Figure {
  /** What a reference names it by: `balance`. */
  readonly id: string;
  /** The runs it shows, in the order of the reference. */
  readonly runs: readonly string[];
  /** The answer: "Blue 4 % high from 70 % up". */
  readonly title: string;
  /** What it is against, and what was measured. */
  readonly against: string;
  /** What is to be seen, for who cannot see it. */
  readonly summary: string;
  /** What has to be known to read it, such as the factor of error vectors. */
  readonly notes: readonly string[];
  readonly panels: readonly Panel[];
  /** How panels stand: below each other, or beside each other as far as there is room. */
  readonly flow: 'column' | 'row';
  readonly table: Table;
}

export interface Panel {
  /** Unique within its figure. */
  readonly id: string;
  readonly title?: string;
  readonly x: Axis;
  readonly y: Axis;
  /** Whether a unit is as long on one axis as on the other: in a frame that fits the domains, or with domains that grow to fill the frame. */
  readonly equal?: 'fit' | 'fill';
  /** How much of the height it takes beside others of a column; 1 when left out. */
  readonly share?: number;
  /** Drawn one over the other, in this order. */
  readonly marks: readonly Mark[];
  /** A small panel beside it: the same from farther away, or closer. */
  readonly aside?: Panel;
}

export interface Axis {
  /** What runs along it, with its unit. */
  readonly title: string;
  readonly scale: 'linear' | 'log' | 'names';
  /** From and to; a pair that falls turns the axis round. Of names, from −0.5 to their number less 0.5. */
  readonly domain: readonly [from: number, to: number];
  /** Where they are not the scale's own. */
  readonly ticks?: readonly Tick[];
  /** Whether numbers are deviations, which have their sign. */
  readonly signed?: boolean;
  /** Another reading of the same axis, on the opposite side. */
  readonly second?: { readonly title: string; readonly ticks: readonly Tick[] };
}

export interface Tick {
  readonly at: number;
  readonly label: string;
}

/** What a mark is drawn with. Channels have their own inks, runs of an overlay others. */
export type Ink = 'red' | 'green' | 'blue' | 'text' | 'muted' | 'a' | 'b' | 'c' | 'd';
export type Dash = 'solid' | 'long' | 'dot' | 'dash-dot';

export type Mark = Series | Rule | Band | Outline | Cells;

/** Readings, or what was computed from them: a mark a row, joined by a line or not. */
export interface Series {
  readonly is: 'series';
  /** Unique within its figure: `grey/blue`. */
  readonly id: string;
  readonly ink: Ink;
  readonly dash: Dash;
  /** What it is called: at the end of its line, else beside one of its readings. */
  readonly label?: string;
  readonly labelled?: 'end' | 'near';
  readonly joined: boolean;
  /** A line that only says the order of its readings. */
  readonly trail?: boolean;
  /** The axis that intervals and bounds lie along; y when left out. */
  readonly along?: 'x' | 'y';
  /** Reading = dot, target = cross, an earlier reading = hollow. */
  readonly shape: 'dot' | 'cross' | 'hollow' | 'none';
  readonly points: readonly Point[];
  /** Only the lowest and highest of so many rows are kept (see `envelope.ts`). */
  readonly envelope?: { readonly of: number };
}

export interface Point {
  /** Unique within its figure, and the same in the next version of the session as long as the row keeps its key: `grey/blue/70`. */
  readonly id: string;
  readonly x: number;
  readonly y: number;
  /** Interval of what is shown. */
  readonly ci?: readonly [low: number, high: number];
  /** The reading lies beyond the range of the meter: the truth lies below or above. */
  readonly bound?: 'at-most' | 'at-least';
  /** Where a line to this mark begins: the target of a reading, the value before. */
  readonly from?: readonly [x: number, y: number];
  /** Where that line ends, where it is magnified; at the mark when left out. */
  readonly tip?: readonly [x: number, y: number];
  /** The row it shows, as `SessionText.spanOf` finds it. */
  readonly row?: NodeId;
  readonly run: string;
  /** The key of its row, as a reference writes it. */
  readonly key: readonly string[];
  /** What it says, in words. */
  readonly name: string;
  /** Written beside it. */
  readonly label?: string;
  /** Shown, and not judged. */
  readonly faint?: boolean;
  /** Between the mark before and this one something is still to be read: no line joins them. */
  readonly gap?: boolean;
}

/** A straight line at one value of an axis: neutral, aim, limit, the place of something found. */
export interface Rule {
  readonly is: 'rule';
  readonly along: 'x' | 'y';
  readonly at: number;
  readonly role: 'zero' | 'aim' | 'limit' | 'place';
  /** Of the run that it belongs to, where there are several. */
  readonly ink?: Ink;
  readonly label?: string;
  /** Where the other line of the pair is that the label speaks of: it may stand there as well. */
  readonly pair?: number;
  /** How far it goes along the other axis; all of it when left out. */
  readonly extent?: readonly [from: number, to: number];
}

/** The range that an aim or a limit lets through; its edges are `Rule`s. */
export interface Band {
  readonly is: 'band';
  readonly along: 'x' | 'y';
  readonly between: readonly [from: number, to: number];
  readonly role: 'aim' | 'limit';
  readonly extent?: readonly [from: number, to: number];
}

/** A line that shows no rows: the spectrum locus, a triangle of primaries, a target's curve. */
export interface Outline {
  readonly is: 'outline';
  readonly id: string;
  readonly role: 'target' | 'hull' | 'reference' | 'locus' | 'fit';
  readonly points: readonly (readonly [x: number, y: number])[];
  readonly closed: boolean;
  readonly label?: string;
}

/** The fields of a grid, each with a number. */
export interface Cells {
  readonly is: 'cells';
  readonly id: string;
  readonly points: readonly (Point & {
    readonly label: string;
    /** −1 … 1: how far from the middle. */
    readonly tint: number;
  })[];
}

export interface Table {
  readonly head: readonly string[];
  /** The first 2,000; a note says of how many. */
  readonly rows: readonly { readonly run: string; readonly row?: NodeId; readonly cells: readonly string[] }[];
}
