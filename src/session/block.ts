import { ascending } from '../text/ascending';
import type { ColumnsLine, HeaderLine, Line, PropertyLine, RowLine } from './line';
import { type BlockSpec, blockSpec, isKeyword, type Keyword, RUN_KINDS } from './vocabulary';

/** How many lines two blocks have in common at the start and, behind that, at the end. */
function shared(a: readonly Line[], b: readonly Line[]): { readonly head: number; readonly tail: number } {
  const most = Math.min(a.length, b.length);
  let head = 0;
  while (head < most && a[head] === b[head]) head++;
  let tail = 0;
  while (tail < most - head && a[a.length - 1 - tail] === b[b.length - 1 - tail]) tail++;
  return { head, tail };
}

/** Line numbers in order: the old ones but for those from `from` to `to`, of which there are others; behind them all lines have moved. */
function replaced(old: readonly number[], from: number, to: number, found: readonly number[], moved: number): readonly number[] {
  const [start, end] = [from, to].map((line) => ascending(old.length, (k) => old[k]! < line)) as [number, number];
  if (moved === 0 && found.length === end - start && found.every((line, k) => line === old[start + k])) return old;
  return [...old.slice(0, start), ...found, ...old.slice(end).map((line) => line + moved)];
}

/**
 * A head and the lines up to the next one; the lines before the first head are a block without one. Blocks know nothing of their place in
 * the file: a block whose lines have not changed is the same object in the next version, and so are the results that hang on it.
 */
export class Block {
  readonly header: HeaderLine | undefined;
  readonly keyword: Keyword | undefined;
  readonly spec: BlockSpec | undefined;
  /** What other blocks call it: its id, or its keyword when it has none. */
  readonly name: string;
  /** Line numbers within the block. */
  readonly propertyLines: readonly number[];
  readonly rowLines: readonly number[];
  readonly problemLines: readonly number[];
  readonly columnsLine: number | undefined;
  readonly conflicted: boolean;
  readonly #since: { readonly old: WeakRef<Block>; readonly head: number; readonly tail: number } | undefined;

  constructor(
    readonly lines: readonly Line[],
    old?: Block,
  ) {
    const { head, tail } = old ? shared(old.lines, lines) : { head: 0, tail: 0 };
    this.#since = old && { old: new WeakRef(old), head, tail };
    const first = lines[0];
    this.header = first?.kind === 'header' ? first : undefined;
    const word = this.header?.keyword.text;
    this.keyword = word !== undefined && isKeyword(word) ? word : undefined;
    this.spec = word === undefined ? undefined : blockSpec(word);
    this.name = this.header?.id?.text ?? word ?? '';
    const properties: number[] = [];
    const rows: number[] = [];
    const problems: number[] = [];
    for (let i = head; i < lines.length - tail; i++) {
      const line = lines[i]!;
      if (line.kind === 'row') rows.push(i);
      else if (line.kind === 'property') properties.push(i);
      if (line.problems.length > 0) problems.push(i);
    }
    const among = (numbers: readonly number[] | undefined, found: readonly number[]) =>
      old && numbers ? replaced(numbers, head, old.lines.length - tail, found, lines.length - old.lines.length) : found;
    this.propertyLines = among(old?.propertyLines, properties);
    this.rowLines = among(old?.rowLines, rows);
    this.problemLines = among(old?.problemLines, problems);
    const columns = lines.findIndex((line) => line.kind === 'columns' && !line.struck);
    this.columnsLine = columns < 0 ? undefined : columns;
    // Each of its marks is a problem of its line.
    this.conflicted = this.problemLines.some((i) => lines[i]!.kind === 'conflict');
  }

  /**
   * The block of the version before that became this one, and how many lines at its start and end are still the same objects. Not kept
   * alive by this one, so perhaps gone: what is known of it saves work, and changes no result.
   */
  get since(): { readonly old: Block; readonly head: number; readonly tail: number } | undefined {
    const old = this.#since?.old.deref();
    return old && { ...this.#since!, old };
  }

  /** A head struck out voids the block: it stays for the record and takes part in nothing. */
  get void(): boolean {
    return this.header?.struck ?? false;
  }

  get isRun(): boolean {
    return this.keyword !== undefined && RUN_KINDS.includes(this.keyword);
  }

  property(line: number): PropertyLine {
    return this.lines[line] as PropertyLine;
  }

  row(line: number): RowLine {
    return this.lines[line] as RowLine;
  }

  get columns(): ColumnsLine | undefined {
    return this.columnsLine === undefined ? undefined : (this.lines[this.columnsLine] as ColumnsLine);
  }

  /** The first live property of this name, which is the one that counts. */
  find(name: string): PropertyLine | undefined {
    for (const i of this.propertyLines) {
      const line = this.property(i);
      if (!line.struck && line.name.text === name) return line;
    }
    return undefined;
  }
}
