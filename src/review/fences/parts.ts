import type { Figure } from '../../figure/figure';
import type { Analysis } from '../../project/analysis';
import type { Reference } from '../../session/reference';
import type { Code } from '../../text/codes';
import type { Args, Say } from '../../text/message';
import type { Notation } from '../notation';

/** What a fenced block comes to, as data; all texts as they are, to be escaped where they are shown. */
export type Part = Table | Facts | Drawing | Cautions;

export interface Table {
  readonly is: 'table';
  readonly caption: string;
  /** The first stands over the names of the rows. */
  readonly head: readonly string[];
  readonly groups: readonly Group[];
  /** What the numbers are against, and what marks in the cells say. */
  readonly notes: readonly string[];
}

export interface Group {
  readonly title?: string;
  readonly about?: string;
  readonly rows: readonly Row[];
}

export interface Row {
  /** With the title of its group before it, where that is part of it: "Picture / Gamma". */
  readonly name: string;
  readonly whole?: string;
  readonly cells: readonly Cell[];
}

export interface Cell {
  readonly text: string;
  /** `changed`: own, and other than what is taken over; `absent`: there is nothing to show. */
  readonly look?: 'changed' | 'absent' | 'beyond' | 'undecided';
  /** Behind the text: a verdict. */
  readonly mark?: string;
}

export interface Facts {
  readonly is: 'facts';
  readonly title: string;
  readonly facts: readonly Fact[];
}

export interface Fact {
  readonly label: string;
  readonly texts: readonly string[];
}

export interface Drawing {
  readonly is: 'drawing';
  readonly figure: Figure;
}

export interface Cautions {
  readonly is: 'cautions';
  readonly title: string;
  readonly sentences: readonly string[];
}

/** A line of a block whose reference leads to blocks of a session. */
export interface Led {
  readonly reference: Reference;
  /** Of the session. */
  readonly path: string;
  readonly analysis: Analysis;
}

export type LedGroup = readonly [Led, ...Led[]];

/** In which words and numbers parts are made. */
export interface Manner {
  readonly say: Say;
  readonly notation: Notation;
}

/** A part, or what is mistaken in one of the lines that it would be made of. */
export type Making = { readonly ok: true; readonly part: Part } | Mistaken;

export interface Mistaken {
  readonly ok: false;
  /** Its number among the lines. */
  readonly at: number;
  readonly code: Code;
  readonly args: Args;
}

export const made = (part: Part): Making => ({ ok: true, part });

export const mistaken = (at: number, code: Code, args: Args): Mistaken => ({ ok: false, at, code, args });

/** A figure as a text has it: with the sign for minus, and with the decimal mark of the folder's language. */
export function figureWords(text: string, { notation: { decimal } }: Manner): string {
  const signed = text.replace(/(?<![\p{L}\p{N}])-(?=\d)/gu, '−');
  return decimal === '.' ? signed : signed.replace(/(?<=\d)\.(?=\d)/g, decimal);
}
