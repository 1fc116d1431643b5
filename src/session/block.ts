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
    this.#since = old && { old: new WeakRef(old), ...shared(old.lines, lines) };
    const first = lines[0];
    this.header = first?.kind === 'header' ? first : undefined;
    const word = this.header?.keyword.text;
    this.keyword = word !== undefined && isKeyword(word) ? word : undefined;
    this.spec = word === undefined ? undefined : blockSpec(word);
    this.name = this.header?.id?.text ?? word ?? '';
    const properties: number[] = [];
    const rows: number[] = [];
    const problems: number[] = [];
    let columns: number | undefined;
    let conflicted = false;
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i]!;
      if (line.kind === 'row') rows.push(i);
      else if (line.kind === 'property') properties.push(i);
      else if (line.kind === 'columns' && !line.struck) columns ??= i;
      else if (line.kind === 'conflict') conflicted = true;
      if (line.problems.length > 0) problems.push(i);
    }
    this.propertyLines = properties;
    this.rowLines = rows;
    this.problemLines = problems;
    this.columnsLine = columns;
    this.conflicted = conflicted;
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
