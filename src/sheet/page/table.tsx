import { Component, createRef } from 'preact';
import { cellOf, type Held, type HeldRow, isRow } from '../paper';
import type { BlockView, ColumnView, FindingView, RowResult } from '../protocol';
import type { Desk } from './desk';
import { Field } from './patch';

/** Rows beyond those in view that are drawn, so that none is missing while it scrolls. */
const BEYOND = 8;

/** Lines that stand among the rows, in their place. */
const IN_TABLE: ReadonlySet<string> = new Set(['row', 'comment', 'note', 'conflict', 'held', 'other']);

interface State {
  readonly top: number;
  readonly height: number;
  readonly row: number;
}

/** The run in hand: one row a patch. Of thousands of rows only those in view are there. */
export class Table extends Component<{ readonly desk: Desk }, State> {
  override state: State = { top: 0, height: 600, row: 28 };
  private readonly box = createRef<HTMLDivElement>();
  private readonly observer = new ResizeObserver(() => this.measure());
  private shown: Held | undefined;

  override componentDidMount(): void {
    this.observer.observe(this.box.current!);
    this.componentDidUpdate();
  }

  override componentWillUnmount(): void {
    this.observer.disconnect();
  }

  override componentDidUpdate(): void {
    this.measure();
    this.reveal();
    this.see();
  }

  private measure(): void {
    const box = this.box.current;
    if (!box) return;
    const height = box.clientHeight;
    const row = Number.parseFloat(getComputedStyle(box).getPropertyValue('--row')) || 28;
    if (height !== this.state.height || row !== this.state.row) this.setState({ height, row });
  }

  /** Scrolls to the row in hand when another one is than before; a row more to either side stays in view. */
  private reveal(): void {
    const box = this.box.current;
    const { place } = this.props.desk.client;
    if (!box || !place || place.line === this.shown) return;
    this.shown = place.line;
    const index = this.items().indexOf(place.line);
    if (index < 0) return;
    const { row } = this.state;
    const top = index * row;
    // The head stands over the first row.
    const room = box.clientHeight - row;
    if (top - row < box.scrollTop) box.scrollTop = top - row;
    else if (top + 2 * row > box.scrollTop + room) box.scrollTop = top + 2 * row - room;
  }

  private items(): readonly Held[] {
    const { client } = this.props.desk;
    const lines = client.linesOf(client.block);
    if (lines !== this.lines) {
      this.lines = lines;
      this.inTable = inTable(lines);
    }
    return this.inTable;
  }

  private lines: readonly Held[] = [];
  private inTable: readonly Held[] = [];
  /** Says what is in view, and how wide the figures beside it are. */
  private see(): void {
    const { client } = this.props.desk;
    const items = this.items();
    const [from, to] = this.range(items.length);
    const [first, last] = [items[from], items[to - 1]];
    const start = client.startOf(client.block);
    client.see(first ? client.indexOf(first) : start, last ? client.indexOf(last) + 1 : start + 1, pictureWidth());
  }

  private range(count: number): [number, number] {
    const { top, height, row } = this.state;
    const from = Math.max(0, Math.floor(top / row) - BEYOND);
    return [Math.min(from, count), Math.min(count, Math.ceil((top + height) / row) + BEYOND)];
  }

  override render() {
    const { desk } = this.props;
    const { client } = desk;
    const block = client.blocks[client.block];
    if (!block) return null;
    const items = this.items();
    const [from, to] = this.range(items.length);
    const heads = client.run?.heads ?? [];
    const shown = items.slice(from, to);
    const keys = block.columns.filter(({ key }) => key).length;
    return (
      // biome-ignore lint/a11y/noStaticElementInteractions: the keys go to the table in it, as scrolling is the box's
      <div
        class="grid"
        ref={this.box}
        onScroll={({ currentTarget }) => this.setState({ top: currentTarget.scrollTop })}
        onKeyDown={(event) => gridKey(event, desk)}
      >
        <table
          // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: a table with a cell in hand is a grid (WAI-ARIA)
          role="grid"
          aria-label={block.label}
          aria-rowcount={items.length + 1}
          aria-readonly={client.readonly}
          aria-activedescendant={isRow(client.place?.line) ? 'in-hand' : undefined}
          tabIndex={0}
        >
          <Head desk={desk} columns={block.columns} keys={keys} heads={heads} />
          <Space height={from * this.state.row} />
          <tbody>
            {shown.map((line, i) =>
              isRow(line) && block.columns.length > 0 ? (
                <Row
                  key={line.id}
                  {...{ desk, block, line, keys }}
                  rowIndex={from + i + 2}
                  figures={heads.length}
                  result={client.resultOf(line)}
                  findings={client.known.findingsIn(line)}
                />
              ) : (
                <Plain key={line.id} desk={desk} line={line} rowIndex={from + i + 2} span={block.columns.length + heads.length + 3} />
              ),
            )}
          </tbody>
          <Space height={(items.length - to) * this.state.row} />
        </table>
      </div>
    );
  }
}

/** The lines of a block that its table shows: all of those behind its column line, and rows before it. */
function inTable(lines: readonly Held[]): readonly Held[] {
  const columns = lines.findIndex(({ view }) => view.is === 'columns' && !view.struck);
  return lines.filter(({ view }, i) => view.is === 'row' || (i > columns && IN_TABLE.has(view.is)));
}

/** The room for figures beside the run, in steps, so that a pane that is being drawn wider does not ask for each pixel. */
const pictureWidth = (): number => Math.floor((document.querySelector('.pictures')?.clientWidth ?? 0) / 20) * 20;

/** In place of the rows that are not there. */
const Space = ({ height }: { readonly height: number }) => (
  <tbody aria-hidden="true">
    <tr style={{ height: `${height}px` }} />
  </tbody>
);

interface HeadProps {
  readonly desk: Desk;
  readonly columns: readonly ColumnView[];
  readonly keys: number;
  readonly heads: readonly { readonly title: string; readonly about: string }[];
}

/** Widths hang on the heads alone: rows come and go while it scrolls. The target stands behind what says the patch. */
function Head({ desk: { word }, columns, keys, heads }: HeadProps) {
  const width = ({ name, words, head }: ColumnView) => `${Math.max(words ? 13 : name === 'Y' ? 9 : 8, head.length + 2)}ch`;
  const cols = columns.map((column, i) => <col key={`${i} ${column.head}`} style={{ width: width(column) }} />);
  const cells = columns.map(({ key, words, head }, i) => (
    <th scope="col" class={`${key ? 'key' : 'cell'} ${words ? 'words' : ''}`} key={`${i} ${head}`}>
      {head}
    </th>
  ));
  return (
    <>
      <colgroup>
        <col class="colour" />
        {cols.toSpliced(keys, 0, <col class="target" key="target" />)}
        {heads.map(({ title }) => (
          <col class="figure" key={title} />
        ))}
        <col class="says" />
      </colgroup>
      <thead>
        <tr aria-rowindex={1}>
          <th scope="col" class="colour">
            <span class="hidden">{word('patch')}</span>
          </th>
          {cells.toSpliced(
            keys,
            0,
            <th scope="col" class="target" key="target">
              {word('target-of')}
            </th>,
          )}
          {heads.map(({ title, about }) => (
            <th scope="col" class="figure" key={title} title={about}>
              {title}
            </th>
          ))}
          <th scope="col" class="says">
            <span class="hidden">{word('note')}</span>
          </th>
        </tr>
      </thead>
    </>
  );
}

function gridKey(event: KeyboardEvent, desk: Desk): void {
  if (!(event.target instanceof HTMLTableElement)) return;
  const steps: Readonly<Record<string, number>> = { ArrowUp: -1, ArrowDown: 1, PageUp: -10, PageDown: 10 };
  const by = steps[event.key];
  if (by !== undefined) {
    event.preventDefault();
    desk.step(by);
  } else if (event.key === 'ArrowLeft' || event.key === 'ArrowRight') {
    event.preventDefault();
    desk.across(event.key === 'ArrowLeft' ? -1 : 1);
  } else if ((event.key.length === 1 || event.key === 'Enter') && !event.ctrlKey && !event.metaKey && !event.altKey) {
    // What is typed goes where typing goes: this very key too.
    document.querySelector<HTMLElement>('.entry input')?.focus();
  }
}

interface PlainProps {
  readonly desk: Desk;
  readonly line: Held;
  readonly rowIndex: number;
  readonly span: number;
}

const Plain = ({ desk: { word }, line: { view }, rowIndex, span }: PlainProps) => (
  <tr class="text" aria-rowindex={rowIndex}>
    <td class={view.is} colSpan={span} title={view.is === 'other' ? word('kept-as-is') : undefined}>
      {view.text.trim()}
    </td>
  </tr>
);

interface RowProps {
  readonly desk: Desk;
  readonly block: BlockView;
  readonly line: HeldRow;
  readonly rowIndex: number;
  readonly keys: number;
  readonly figures: number;
  readonly result: RowResult | undefined;
  readonly findings: readonly FindingView[];
}

function Row({ desk, block, line, rowIndex, keys, figures, result, findings }: RowProps) {
  const { client } = desk;
  const { view } = line;
  const isInHand = client.place?.line === line;
  const target = (
    <td class="target" key="target" title={result?.target?.xy}>
      {view.struck ? '' : result?.target?.Y || result?.target?.xy}
    </td>
  );
  return (
    <tr
      class={`${view.struck || block.void ? 'struck' : ''} ${isInHand ? 'in-hand' : ''}`}
      aria-rowindex={rowIndex}
      aria-selected={isInHand}
    >
      <td class="colour">{!view.struck && <Field desk={desk} patch={desk.patchOf(line)} field={result?.field} />}</td>
      {block.columns
        .map((column, cell) => <Cell key={`${cell} ${column.head}`} {...{ desk, line, column, cell, findings }} />)
        .toSpliced(keys, 0, target)}
      {Array.from({ length: figures }, (_, i) => {
        const figure = result?.figures[i];
        return (
          <td
            class={`figure ${figure?.verdict ?? ''}`}
            key={i}
            title={figure ? [figure.interval, figure.judged, figure.limit].filter((part) => part).join('; ') : undefined}
          >
            {figure && (
              <>
                <b>{figure.value}</b> <span class="interval">{figure.interval}</span> <span class="word">{figure.word}</span>
              </>
            )}
          </td>
        );
      })}
      <td class="says">
        <Says {...{ desk, block, line, result, findings }} />
      </td>
    </tr>
  );
}

interface CellProps {
  readonly desk: Desk;
  readonly line: HeldRow;
  readonly column: ColumnView;
  readonly cell: number;
  readonly findings: readonly FindingView[];
}

function Cell({ desk, line, column, cell, findings }: CellProps) {
  const { client, word } = desk;
  const { view } = line;
  const { name: slot, read, key, words } = column;
  const isInHand = read && client.place?.line === line && client.place.slot === slot;
  const draft = read ? client.draft({ line, slot }) : undefined;
  const [start = 0, end = 0] = [view.ends[cell * 2], view.ends[cell * 2 + 1]];
  const noticed = findings.find((finding) => finding.severity !== 'info' && finding.start < end && finding.end > start);
  const isOpen = read && !view.struck && (view.kinds[cell] ?? '?') === '?' && !draft;
  const classes = [
    key ? 'key' : 'cell',
    words && 'words',
    isOpen && 'open',
    isInHand && 'in-hand',
    draft?.is,
    draft && client.isContested(draft) && 'contested',
    noticed?.severity,
    !read && 'unread',
  ];
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: its keys are those of the grid
    <td
      id={isInHand ? 'in-hand' : undefined}
      class={classes.filter((name) => name).join(' ')}
      title={noticed?.text}
      onClick={read ? () => desk.to({ line, slot }) : undefined}
    >
      {draft?.text ?? cellOf(view, cell)}
      {isOpen && <span class="hidden">{word('still-to-take')}</span>}
    </td>
  );
}

/** What is to be said of a row: what was noticed with its mend, else which way it is off; and what stands behind its cells. */
function Says({ desk, block, line, result, findings }: Pick<RowProps, 'desk' | 'block' | 'line' | 'result' | 'findings'>) {
  const finding = findings.find(({ severity }) => severity !== 'info');
  const { struck, text, ends } = line.view;
  const behind = text.slice(ends[Math.min(block.columns.length * 2, ends.length) - 1]).trim();
  const { role, way, off } = result ?? {};
  const said = (of: string | undefined) => [role, struck ? '' : of].filter((part) => part).join('; ');
  return (
    <>
      {finding ? (
        <>
          {!desk.client.readonly &&
            finding.mends.map((mend, nth) => (
              <button type="button" class="mend" tabIndex={-1} key={mend} onClick={() => desk.mend(line, finding.code, finding.start, nth)}>
                {mend}
              </button>
            ))}
          <span class={`finding ${finding.severity}`} title={finding.text}>
            {finding.text}
          </span>
        </>
      ) : (
        <span class="off" title={said(off)}>
          {said(way)}
        </span>
      )}
      {behind !== '' && <span class="behind">{behind}</span>}
    </>
  );
}
