/** Writes session text in the canonical layout. Written apart from src/session, so that the formatter has something to be held against. */

export type Properties = Readonly<Record<string, string>>;
export type Row = readonly string[];

export interface Block {
  readonly header: string;
  readonly properties?: Properties;
  readonly columns?: Row;
  readonly rows?: readonly Row[];
  /** Note lines at the end, without their bar. */
  readonly notes?: readonly string[];
  /** A blank line before the block. */
  readonly apart?: boolean;
}

const stopOf = (column: string, first: boolean): number => {
  const name = column.replace(/\[.*$/, '').split('.').at(-1) ?? '';
  const usual = first ? 6 : ['Y', 'X', 'Z'].includes(name) ? 8 : ['x', 'y', "u'", "v'"].includes(name) ? 7 : 6;
  return Math.max(usual, column.length);
};

/**
 * One line of a table: the first column's numbers stand at the right of it, everything else at the left. A cell that is too wide for its
 * column moves the next one to two blanks behind it, and the line is back at its stops as soon as a cell leaves room.
 */
export function tableLine(columns: Row, cells: Row): string {
  let line = '';
  let at = 4;
  cells.forEach((cell, i) => {
    const width = stopOf(columns[i] ?? '', i === 0);
    const number = i === 0 && /^[-+]?[0-9]/.test(cell);
    line = line.padEnd(i > 0 ? Math.max(at, line.length + 2) : at) + (number ? cell.padStart(width) : cell);
    at += width + 2;
  });
  return line;
}

export function blockText({ header, properties = {}, columns, rows = [], notes = [], apart = false }: Block): string {
  const lines = apart ? ['', header] : [header];
  for (const [name, value] of Object.entries(properties)) lines.push(`  ${name}: ${value}`);
  if (columns) lines.push(tableLine(columns, columns), ...rows.map((row) => tableLine(columns, row)));
  for (const note of notes) lines.push(`  | ${note}`);
  return lines.map((line) => `${line}\n`).join('');
}

export const sessionText = (blocks: readonly Block[]): string => `nitbook 1\n\n${blocks.map(blockText).join('')}`;
