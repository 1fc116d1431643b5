import { either, flag, list, type Of, object, record, type Shape, text, whole, word } from '../text/shape';

/**
 * What the two sides of the sheet say to each other. The host has the document, and says what stands in it; the page has hands and eyes,
 * and says what is wanted. Lines are lines of the file, of the version that a message names.
 */
export const PROTO = 1;

/** A line that an edit means: where it was in the version that the page saw, in which block, and how it read. */
const at = object({ block: text, line: whole, text });
export type At = Of<typeof at>;

const answers = object({}, { decimalComma: flag, repeats: flag });

/** All that a gesture can ask for; each is one step of undo. */
const op = either(
  object({ do: word('setCell'), at, column: text, text }),
  object({ do: word('strike'), at, on: flag }),
  object({ do: word('takeAgain', 'addRepeat'), at }),
  object({ do: word('addLevels'), at, levels: text }),
  object({ do: word('addRow'), at, cells: record(text) }),
  object({ do: word('duplicate'), at, mode: text }),
  /** For a mode that does not exist yet: the run's own, as adjusted. */
  object({ do: word('duplicateAdjusted'), at }),
  object({ do: word('paste'), at, column: text, text, answers }),
  object({ do: word('setProperty'), at, name: text, value: text }),
  object({ do: word('removeProperty'), at, name: text }),
  object({ do: word('setNote'), at, text }),
  object({ do: word('mend'), at, code: text, start: whole, nth: whole }),
);
export type Op = Of<typeof op>;
export type EditMessage = Of<typeof edit>;

const edit = object({ kind: word('edit'), epoch: text, base: whole, seq: whole, op });
const place = object({}, { line: whole, column: text });

const fromPage = either(
  object({ kind: word('ready'), proto: whole }, { draft: place }),
  edit,
  object({ kind: word('resync'), epoch: text }),
  /** What is looked at, for which results are wanted: the block of a line, the lines in view, and how wide its figures are drawn, px. */
  object({ kind: word('look'), epoch: text, version: whole, at: whole, from: whole, to: whole, width: whole }, { column: text }),
  object({ kind: word('preview'), epoch: text, base: whole, id: whole, at, column: text, text, answers }),
  /** A reading is being typed: what would its row give with it? */
  object({ kind: word('foresee'), epoch: text, base: whole, id: whole, at, column: text, text }),
  object({ kind: word('undo', 'redo', 'save'), epoch: text }),
  object({ kind: word('openText'), epoch: text, version: whole, line: whole }, { column: text }),
);
export type FromPage = Of<typeof fromPage>;

const state = word('text', 'to-note', 'removed', 'absent');

const line = either(
  /** `ends` are start and end of each cell, `kinds` a letter a cell: n number, w word, - not measured, ? to take, e empty. */
  object({ is: word('row'), text, ends: list(whole), kinds: text, struck: flag }),
  /** `tail` is what stands behind the value. */
  object({ is: word('property'), text, name: text, value: text, state, struck: flag, tail: text }),
  object({ is: word('head', 'columns'), text, struck: flag }),
  object({ is: word('note'), text, note: text }),
  object({ is: word('blank', 'comment', 'version', 'conflict', 'held', 'other'), text }),
);
export type LineView = Of<typeof line>;
export type RowView = Extract<LineView, { is: 'row' }>;
export type PropertyView = Extract<LineView, { is: 'property' }>;

const column = object({ name: text, head: text, key: flag, words: flag, free: flag, read: flag });
export type ColumnView = Of<typeof column>;

const taken = object({ name: text, value: text, state, from: text });
export type TakenView = Of<typeof taken>;

/** A block without its lines; the lines before the first head are one without a keyword. */
const block = object(
  {
    label: text,
    keyword: text,
    name: text,
    title: text,
    lines: whole,
    void: flag,
    table: flag,
    user: flag,
    toTake: whole,
    toNote: whole,
    /** By cell; none without a column line. */
    columns: list(column),
    /** What holds for it by another block, whether or not it has the name itself. */
    taken: list(taken),
  },
  { link: text, date: text },
);
export type BlockView = Of<typeof block>;

const model = object({ lines: list(line), blocks: list(block) });
export type Model = Of<typeof model>;

/** In place of `remove` things from `at` on. Of several, `at` counts in the list before the first of them; ascending and apart. */
const splice = <T>(of: Shape<T>) => object({ at: whole, remove: whole, put: list(of) });
const lineSplice = splice(line);
export type LineSplice = Of<typeof lineSplice>;

const verdict = word('within', 'beyond', 'undecided', 'no-number');

/** `word` is the verdict alone, `judged` all that is said of limit and aim. */
const figure = object({ value: text, verdict, word: text, judged: text }, { interval: text, limit: text });
export type FigureView = Of<typeof figure>;

const rowResult = object(
  {
    line: whole,
    /** By the heads of the computed columns; null where there is no number. */
    figures: list(either(figure, (data): data is null => data === null)),
  },
  {
    field: object({ hex: text, clipped: flag }),
    drive: text,
    target: object({ Y: text, xy: text }),
    /** Which way the reading is off, where that is worth a word; and how far in each way. */
    way: text,
    off: text,
    /** How the row takes part, where that is not plain. */
    role: text,
  },
);
export type RowResult = Of<typeof rowResult>;

const finding = object({
  line: whole,
  /** Within the line. */
  start: whole,
  end: whole,
  severity: word('error', 'warning', 'info'),
  code: text,
  text,
  mends: list(text),
});
export type FindingView = Of<typeof finding>;

const headline = object({ title: text, value: text, verdict, judged: text }, { limit: text });
export type HeadlineView = Of<typeof headline>;

const field = object({ name: text, about: text, choices: list(text), many: flag });
export type FieldView = Of<typeof field>;

/**
 * Rows of the block whose head is `head`. What is told at once (`quick`) has no verdicts, which hang on intervals: those come a moment later
 * with all of it once more, so that a reading changes a verdict once.
 */
const results = object(
  { kind: word('results'), epoch: text, version: whole, head: whole, quick: flag, rows: list(rowResult), headline: list(headline) },
  { run: object({ against: text, heads: list(object({ title: text, about: text })) }, { why: text }) },
);
export type Results = Of<typeof results>;

/** What was noticed in the lines in view and above the rows, and what the block can have. */
const noticed = object(
  { kind: word('noticed'), epoch: text, version: whole, head: whole, findings: list(finding), fields: list(field) },
  { modes: list(object({ id: text, title: text })), adjusted: text },
);
export type Noticed = Of<typeof noticed>;

/** How each block stands, in the order of the file. */
const standing = object({ verdict, words: text, findings: whole });
const standings = object({ kind: word('standings'), epoch: text, version: whole, blocks: list(standing), toTake: whole });
export type StandingView = Of<typeof standing>;

/** The pictures of the run that `head` begins, as SVG. */
const figures = object({ kind: word('figures'), epoch: text, head: whole, svgs: list(text) });

const pastedRow = object({ line: whole, does: word('adds', 'fills', 'repeats', 'same', 'nothing'), cells: record(text) }, { why: text });
const preview = object({
  run: text,
  columns: list(object({ title: text }, { to: text, why: text })),
  rows: list(pastedRow),
  more: whole,
  left: list(object({ line: whole, text, why: text })),
  questions: list(word('decimalComma', 'repeats')),
  puts: whole,
});
export type PreviewView = Of<typeof preview>;

const settings = object({ timeStamps: flag });
export type Settings = Of<typeof settings>;

const fromHost = either(
  object({
    kind: word('state'),
    epoch: text,
    version: whole,
    model,
    eol: word('LF', 'CRLF'),
    readonly: flag,
    words: record(text),
    settings,
  }),
  /** `own` is the number of the page's edit that it is of. */
  object(
    { kind: word('patch'), epoch: text, from: whole, to: whole, lines: list(lineSplice), blocks: list(splice(block)) },
    { own: whole },
  ),
  object({ kind: word('ack'), epoch: text, seq: whole, version: whole }),
  /** `why` is a code, `text` the sentence. */
  object({ kind: word('nack'), epoch: text, seq: whole, why: text, text }),
  results,
  noticed,
  standings,
  figures,
  object({ kind: word('previewed'), epoch: text, id: whole }, { preview, refused: text }),
  object({ kind: word('foreseen'), epoch: text, id: whole }, { row: rowResult }),
  object({ kind: word('reveal'), epoch: text, version: whole, line: whole }, { column: text }),
  object({ kind: word('settings'), epoch: text, settings, readonly: flag }),
);
export type FromHost = Of<typeof fromHost>;

export type StateMessage = Extract<FromHost, { kind: 'state' }>;
export type PatchMessage = Extract<FromHost, { kind: 'patch' }>;
export type Answer = Extract<FromHost, { kind: 'ack' | 'nack' }>;

const keptPlace = { block: text, line: whole, text, slot: text };

const kept = object(
  { v: word(1), drafts: list(object({ ...keptPlace, typed: text, was: text })), comma: flag },
  { place: object(keptPlace) },
);
/** What comes back after the page was hidden or loaded anew: of a version, and small. */
export type Kept = Of<typeof kept>;

const checked =
  <T>(shape: Shape<T>) =>
  (data: unknown): T | undefined =>
    shape(data) ? data : undefined;

/** What the other side said; undefined for what is no such message, which is to be logged and ignored. */
export const readFromPage = checked(fromPage);
export const readFromHost = checked(fromHost);
/** What an earlier page kept, perhaps one of another version of this program: then nothing comes back but what the file has. */
export const readState = checked(object({ v: word(1), kept, large: flag }));
