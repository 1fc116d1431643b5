import type { Block } from '../session/block';
import { keyLabel, readingsToTake } from '../session/blockProblems';
import { CellKind, type ColumnName, cellCount, type Line, type RowLine } from '../session/line';
import { blockLabels } from '../session/nodes';
import { type Session, sessionOf } from '../session/session';
import type { SessionText } from '../session/sessionText';
import { tableOf } from '../session/table';
import { trimBlanks } from '../text/blanks';
import { type Change, changes, type Lines } from './lines';
import type { BlockView, ColumnView, LineSplice, LineView, Model, PatchMessage, TakenView } from './protocol';

/** What a page shows of a session's text, as plain data: all lines, and what blocks say beside their lines. */
export const modelOf = (source: SessionText): Model => ({ lines: source.lines.map(lineView), blocks: blockViews(source) });

const lineViews = new WeakMap<Line, LineView>();

function lineView(line: Line): LineView {
  let view = lineViews.get(line);
  if (!view) {
    view = viewOf(line);
    lineViews.set(line, view);
  }
  return view;
}

function viewOf(line: Line): LineView {
  const { text } = line;
  switch (line.kind) {
    case 'row':
      return rowView(line);
    case 'property': {
      const { name, value, struck } = line;
      const tail = trimBlanks(text.slice(value.span[1]));
      return { is: 'property', text, name: name.text, value: 'text' in value ? value.text : '', state: stateOf(value.is), struck, tail };
    }
    case 'header':
      return { is: 'head', text, struck: line.struck };
    case 'columns':
      return { is: 'columns', text, struck: line.struck };
    case 'note':
      return { is: 'note', text, note: trimBlanks(text.slice(text.indexOf('|') + 1)) };
    default:
      return { is: line.kind, text };
  }
}

const stateOf = (is: 'text' | 'string' | 'to-note' | 'removed' | 'absent') => (is === 'string' ? 'text' : is);

const LETTERS: Readonly<Record<CellKind, string>> = {
  [CellKind.Number]: 'n',
  [CellKind.Below]: 'n',
  [CellKind.Above]: 'n',
  [CellKind.None]: '-',
  [CellKind.ToTake]: '?',
  [CellKind.String]: 'w',
  [CellKind.Word]: 'w',
  [CellKind.Empty]: 'e',
};

function rowView(row: RowLine): LineView {
  const ends: number[] = [];
  let kinds = '';
  for (let i = 0; i < cellCount(row); i++) {
    ends.push(row.cells[i * 3]!, row.cells[i * 3 + 1]!);
    kinds += LETTERS[row.cells[i * 3 + 2] as CellKind];
  }
  const { text, struck } = row;
  return { is: 'row', text, ends, kinds, struck };
}

function blockViews(source: SessionText): BlockView[] {
  const session = sessionOf(source);
  const labels = blockLabels(source);
  return source.blocks.map((block, i) => blockView(session, block, labels[i]!));
}

function blockView(session: Session, block: Block, label: string): BlockView {
  const { header, spec } = block;
  return {
    label,
    keyword: header?.keyword.text ?? '',
    name: header?.id?.text ?? '',
    title: header?.title?.text ?? '',
    lines: block.lines.length,
    void: block.void,
    table: spec?.table !== undefined,
    user: spec?.names === 'user',
    toTake: readingsToTake(block).count,
    toNote: block.void ? 0 : block.propertyLines.filter((i) => isToNote(block, i)).length,
    columns: columnViews(block),
    taken: takenViews(session, block),
    ...(header?.link ? { link: `${header.link.word} ${header.link.id.text}` } : {}),
    ...(header?.date ? { date: header.date.text } : {}),
  };
}

const isToNote = (block: Block, line: number): boolean => !block.property(line).struck && block.property(line).value.is === 'to-note';

function columnViews(block: Block): ColumnView[] {
  const { columns } = tableOf(block);
  const table = block.spec?.table;
  return (block.columns?.columns ?? []).map((written: ColumnName) => {
    const column = columns.get(written.name);
    const read = column?.written === written;
    const free = table !== undefined && !Object.hasOwn(table.columns, written.name);
    // What was tried is what a row of a tuning run is known by.
    const key = (table?.keys.includes(written.name) ?? false) || (free && block.keyword === 'tuning');
    return { name: written.name, head: written.text, read, key, words: column?.spec.holds === 'word', free };
  });
}

function takenViews(session: Session, block: Block): TakenView[] {
  const parent = session.lineage(block)[1];
  if (!parent) return [];
  return [...session.properties(parent)].map(([name, { line, block: from }]) => ({
    name,
    value: 'text' in line.value ? line.value.text : '',
    state: stateOf(line.value.is),
    from: from.name,
  }));
}

/** What became of a model from one version of the text to the next. */
export interface Patch extends Pick<PatchMessage, 'lines' | 'blocks'> {
  readonly changes: readonly Change[];
}

export function patchBetween(before: SessionText, after: SessionText): Patch {
  const made = changes(linesOf(before), linesOf(after));
  let shift = 0;
  const lines = made.map(({ at, remove, put }): LineSplice => {
    const from = at + shift;
    shift += put - remove;
    return { at, remove, put: after.lines.slice(from, from + put).map(lineView) };
  });
  return { changes: made, lines, blocks: blockPatch(blockViews(before), blockViews(after)) };
}

const linesOf = (source: SessionText): Lines => ({ lines: source.lines, kin: (line) => kin(source, line) });

/** A row is about its patch, a property about what it names; heads are told apart by their order. */
function kin(source: SessionText, line: number): string {
  const on = source.lines[line]!;
  if (on.kind === 'row') return `row ${keyLabel(source.blocks[source.blockAt(line)]!, on)}`;
  if (on.kind === 'property') return `property ${on.name.text}`;
  return on.kind === 'header' ? `header ${on.keyword.text}` : on.kind;
}

function blockPatch(before: readonly BlockView[], after: readonly BlockView[]): PatchMessage['blocks'] {
  const [old, now] = [before, after].map((views) => views.map((view) => JSON.stringify(view))) as [string[], string[]];
  const most = Math.min(old.length, now.length);
  let head = 0;
  while (head < most && old[head] === now[head]) head++;
  let tail = 0;
  while (tail < most - head && old.at(-1 - tail) === now.at(-1 - tail)) tail++;
  const remove = old.length - head - tail;
  const put = after.slice(head, after.length - tail);
  return remove === 0 && put.length === 0 ? [] : [{ at: head, remove, put }];
}
