import type { Problem } from '../text/finding';
import type { Span } from '../text/span';
import type { State } from './state';

/** What all lines have. Spans count from the line's start. */
export interface LineBase {
  /** The line without its end. */
  readonly text: string;
  readonly eol: '' | '\n' | '\r\n' | '\r';
  readonly before: State;
  readonly after: State;
  /** Struck out by the `~` before it: kept for the record, left out of every computation. */
  readonly struck: boolean;
  readonly problems: readonly Problem[];
}

/** A line without content of its own: blank, comment, note, the marks of a merge and the lines held between them, or unread text. */
export interface PlainLine extends LineBase {
  readonly kind: 'blank' | 'comment' | 'note' | 'conflict' | 'held' | 'other';
}

export interface VersionLine extends LineBase {
  readonly kind: 'version';
  readonly version: number;
  readonly at: Span;
}

/** A piece of text and where it stands. */
export interface Word {
  readonly text: string;
  readonly span: Span;
}

export interface HeaderLine extends LineBase {
  readonly kind: 'header';
  readonly keyword: Word;
  readonly id?: Word;
  readonly date?: Word;
  readonly title?: Word;
  readonly link?: { readonly word: 'from' | 'like'; readonly at: Span; readonly id: Word };
}

export type PropertyValue =
  | { readonly is: 'text' | 'string'; readonly text: string; readonly span: Span }
  /** `?`, still to be noted; `~`, taken out of what was inherited; nothing behind the colon. */
  | { readonly is: 'to-note' | 'removed' | 'absent'; readonly span: Span };

export interface PropertyLine extends LineBase {
  readonly kind: 'property';
  readonly name: Word;
  readonly quoted: boolean;
  readonly value: PropertyValue;
}

export interface ColumnName extends Word {
  readonly name: string;
  readonly unit?: string;
  readonly quoted: boolean;
}

export interface ColumnsLine extends LineBase {
  readonly kind: 'columns';
  readonly columns: readonly ColumnName[];
}

export enum CellKind {
  Number,
  Below,
  Above,
  None,
  ToTake,
  String,
  Word,
  Empty,
}

/** A table row. Its cells lie in two flat lists, as there may be tens of thousands of rows. */
export interface RowLine extends LineBase {
  readonly kind: 'row';
  /** Start, end and kind of each cell. */
  readonly cells: readonly number[];
  /** The number of each cell: of `<n` and `>n` too; NaN where there is none. */
  readonly values: readonly number[];
  readonly remark?: Word;
}

export type Line = PlainLine | VersionLine | HeaderLine | PropertyLine | ColumnsLine | RowLine;

export const cellCount = (row: RowLine): number => row.values.length;
export const cellSpan = (row: RowLine, cell: number): Span => [row.cells[cell * 3]!, row.cells[cell * 3 + 1]!];
export const cellKind = (row: RowLine, cell: number): CellKind => row.cells[cell * 3 + 2]!;
export const cellText = (row: RowLine, cell: number): string => row.text.slice(row.cells[cell * 3]!, row.cells[cell * 3 + 1]!);
/** The word a cell holds, for comparing (in NFC): a quoted one without its quotation marks. */
export const cellWord = (row: RowLine, cell: number): string => {
  const raw = cellText(row, cell);
  return (cellKind(row, cell) === CellKind.String ? unquoted(raw) : raw).normalize('NFC');
};

/** A quoted string's content: quotation marks off, `\` before a character taken away. */
export const unquoted = (raw: string): string =>
  raw.slice(1, raw.endsWith('"') && raw.length > 1 ? -1 : undefined).replace(/\\(.)/gsu, '$1');

export const quoted = (content: string): string => `"${content.replace(/["\\]/g, '\\$&')}"`;

/** The offset behind the closing quotation mark of the string that starts at `at`; -1 when it is not closed before `end`. */
export function stringEnd(text: string, at: number, end: number): number {
  for (let i = at + 1; i < end; i++) {
    const code = text.charCodeAt(i);
    if (code === 92) i++;
    else if (code === 34) return i + 1;
  }
  return -1;
}
