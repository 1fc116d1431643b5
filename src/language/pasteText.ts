import { trimBlanks } from '../text/blanks';

/** The text of a spreadsheet's clipboard or of a CSV file, as cells. */

export type Separator = 'tab' | 'semicolon' | 'comma' | 'blanks';

export interface PastedTable {
  readonly separator: Separator;
  /** Rows that hold something, with their line in the text, from 1. Cells without blanks around them. */
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
  /** Whether a comma may part cells as well as decimals, so that cells cannot be told before someone says which. */
  readonly isUnclear: boolean;
}

/**
 * Divides a text into cells: at tabs where there are any, else at semicolons, else at commas, else at blanks. Cells in quotation marks may
 * hold all of these (RFC 4180).
 * @param decimalComma whether commas are decimal ones; where it is not known and commas may be both, the table is unclear
 */
export function pastedTable(text: string, decimalComma: boolean | undefined): PastedTable {
  const content = text.replace(/^\uFEFF/, '');
  const comma = commas(content);
  const separator: Separator = content.includes('\t')
    ? 'tab'
    : content.includes(';')
      ? 'semicolon'
      : comma === 'part' || (comma === 'either' && decimalComma === false)
        ? 'comma'
        : 'blanks';
  const rows = separator === 'blanks' ? atBlanks(content) : separated(content, MARKS[separator]);
  return {
    separator,
    rows: rows.filter(({ cells }) => cells.some((cell) => cell !== '')),
    isUnclear: (separator === 'blanks' || separator === 'comma') && comma === 'either' && decimalComma === undefined,
  };
}

const MARKS = { tab: '\t', semicolon: ';', comma: ',' } as const;

/** What the commas of a text without tabs and semicolons do: all of them could be decimal ones, or some cannot. */
function commas(text: string): 'none' | 'part' | 'either' {
  if (!text.includes(',')) return 'none';
  return text.split(/[ \r\n]+/).every((word) => !word.includes(',') || /^[<>+\u2212-]?\d*,\d+%?$/.test(word)) ? 'either' : 'part';
}

function atBlanks(text: string): PastedTable['rows'] {
  return text.split(/\r\n|\r|\n/).map((line, i) => ({ line: i + 1, cells: line.split(' ').filter((cell) => cell !== '') }));
}

/** RFC 4180 with any separator: "" in quotation marks is one of them, and line ends there belong to the cell. */
function separated(text: string, mark: string): PastedTable['rows'] {
  const rows: { line: number; cells: string[] }[] = [];
  let cells: string[] = [];
  let line = 1;
  let start = 1;
  let at = 0;
  while (at <= text.length) {
    let cell = '';
    while (text[at] === ' ') at++;
    if (text[at] === '"') {
      for (at++; at < text.length; at++) {
        if (text[at] === '"' && text[at + 1] !== '"') break;
        if (text[at] === '"') at++;
        else if (text[at] === '\n') line++;
        cell += text[at];
      }
      at++;
    }
    const from = at;
    while (at < text.length && text[at] !== mark && text[at] !== '\n' && text[at] !== '\r') at++;
    cells.push(trimBlanks(cell + text.slice(from, at)));
    if (text[at] === mark && at < text.length) {
      at++;
      continue;
    }
    rows.push({ line: start, cells });
    cells = [];
    at += text[at] === '\r' && text[at + 1] === '\n' ? 2 : 1;
    start = ++line;
  }
  return rows;
}
