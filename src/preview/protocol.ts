import { either, flag, list, type Of, object, record, type Shape, text, whole, word } from '../text/shape';

/** What the preview of figures and its page say to each other. The host draws; the page shows, and says what is looked at. */
export const PROTO = 1;

/** What a preview shows; small, so that the workbench can keep it through a reload. */
const place = object(
  {
    v: word(1),
    /** Of the session. */
    uri: text,
    /** Whether the run stays when the cursor goes elsewhere. */
    pinned: flag,
    /** Runs that are laid over the one shown. */
    beside: list(text),
    /** How wide pictures are, in per cent of the pane. */
    zoom: whole,
  },
  { run: text },
);
export type Place = Of<typeof place>;

const cells = list(text);
/** Of `row`, what the text calls it. */
const tableRow = object({ cells }, { row: text });

const figure = object({
  id: text,
  title: text,
  /** The figure as a picture that takes its colours from the page. */
  svg: text,
  /** Whether it is another view of a figure above. */
  variant: flag,
  head: cells,
  rows: list(tableRow),
});
export type FigureView = Of<typeof figure>;

const runEntry = object({ id: text, label: text });
export type RunEntry = Of<typeof runEntry>;

const view = object(
  {
    file: text,
    runs: list(runEntry),
    /** Those of the kind of the run that is shown. */
    others: list(runEntry),
    figures: list(figure),
    measures: object({ head: cells, rows: list(object({ cells, verdict: text })) }),
  },
  { run: object({ id: text, title: text, about: list(text), says: list(text), against: text }) },
);
export type View = Of<typeof view>;

const fromPage = either(
  /** `width` is that of a picture at 100 %, px. */
  object({ kind: word('ready'), proto: whole, width: whole }),
  object({ kind: word('width'), width: whole }),
  object({ kind: word('choose') }, { run: text, pinned: flag, beside: list(text), zoom: whole }),
  /** A mark is pointed at, or no longer; `go` puts the cursor there. */
  object({ kind: word('point') }, { row: text }),
  object({ kind: word('go'), row: text }),
  object({ kind: word('save', 'copyText', 'copyReference', 'draw'), figure: text }),
  object({ kind: word('saveAll') }),
  /** What `draw` was asked for: PNG as base64, or nothing where the page could not. */
  object({ kind: word('drawn'), id: whole }, { png: text }),
  object({ kind: word('copied'), done: flag }),
);
export type FromPage = Of<typeof fromPage>;

const fromHost = either(
  object({ kind: word('show'), words: record(text), place, view }, { here: text }),
  /** The row of the cursor. */
  object({ kind: word('here') }, { row: text }),
  /** A picture with colours of its own to be made PNG of, to be copied or to be sent back under this number. */
  object({ kind: word('draw'), svg: text, width: whole, height: whole, to: word('host', 'clipboard'), id: whole }),
);
export type FromHost = Of<typeof fromHost>;

const checked =
  <T>(shape: Shape<T>) =>
  (data: unknown): T | undefined =>
    shape(data) ? data : undefined;

/** What the other side said; undefined for what is no such message, which is to be logged and ignored. */
export const readFromPage = checked(fromPage);
export const readFromHost = checked(fromHost);
/** What was kept of a preview; undefined for what is no such thing, or of another version. */
export const readPlace = checked(place);
