import { Component, createRef } from 'preact';
import { type HeldRow, isRow, type Place } from '../paper';
import type { Desk } from './desk';
import { Field } from './patch';

/** Where readings are typed: the patch that should be on screen, what should be read, the cell, and what the last reading said. */
export class Strip extends Component<{ readonly desk: Desk }> {
  private readonly input = createRef<HTMLInputElement>();
  private place: Place | undefined;

  override componentDidUpdate(): void {
    this.select();
  }

  override componentDidMount(): void {
    this.select();
    this.props.desk.focus();
  }

  /** In another cell what stands there is selected, so that typing replaces it. */
  private select(): void {
    const { client } = this.props.desk;
    const { place } = client;
    const input = this.input.current;
    if (!place || !input || (place.line === this.place?.line && place.slot === this.place.slot)) return;
    this.place = place;
    const draft = client.draft(place);
    input.value = client.shown(place) === '?' ? '' : client.shown(place);
    if (draft) input.setSelectionRange(input.value.length, input.value.length);
    else input.select();
  }

  override render() {
    const { desk } = this.props;
    const { client, word } = desk;
    const { place } = client;
    if (!place || !isRow(place.line)) return <Elsewhere desk={desk} />;
    const row = place.line;
    const result = client.resultOf(row);
    const patch = desk.patchOf(row);
    const draft = client.draft(place);
    const column = client.column(place);
    const shown = client.shown(place);
    const meant = desk.meant;
    const columns = client.blocks[client.block]?.columns.filter(({ read, key, name }) => read && (!key || name === place.slot)) ?? [];
    return (
      <footer class="entry">
        <Field desk={desk} patch={patch} field={result?.field} />
        <div class="patch">
          <b>{patch}</b>
          <span>{result?.drive ?? ''}</span>
        </div>
        <div class="target">
          <span>{word('target-of')}</span>
          <b>{result?.target?.Y ?? word('no-target')}</b>
          <span>{result?.target?.xy}</span>
        </div>
        <label class="cell">
          <span class="columns" aria-hidden="true">
            {columns.map(({ name, head }) => (
              <span key={name} aria-current={name === place.slot ? 'true' : undefined}>
                {head}
              </span>
            ))}
          </span>
          <input
            ref={this.input}
            value={shown === '?' && !draft ? '' : shown}
            placeholder="?"
            readOnly={client.readonly || !column}
            autocomplete="off"
            spellcheck={false}
            inputMode={column?.words ? 'text' : 'decimal'}
            aria-label={word('cell-of', { column: column?.head ?? place.slot, patch })}
            aria-describedby="entry-said"
            onInput={({ currentTarget }) => {
              client.type(place, currentTarget.value);
              desk.done();
            }}
            onKeyDown={(event) => entryKey(event, desk, place)}
            onPaste={(event) => paste(event, desk, place)}
          />
        </label>
        <div class="said" id="entry-said">
          <Said desk={desk} place={place} />
        </div>
        {!client.readonly && (
          <div class="actions">
            {meant && <Action keys="*" title={word('take-again', { patch: desk.patchOf(meant) })} act={() => desk.again('takeAgain')} />}
            {meant && <Action keys="+" title={word('add-repeat', { patch: desk.patchOf(meant) })} act={() => desk.again('addRepeat')} />}
            <Action keys="/" title={word('large')} act={() => desk.toggleLarge()} />
            {meant && <Action title={word(meant.view.struck ? 'bring-back' : 'strike')} act={() => desk.strike()} />}
            <More desk={desk} row={row} />
          </div>
        )}
      </footer>
    );
  }
}

/** The strip of a block without readings: the way back to them. */
function Elsewhere({ desk }: { readonly desk: Desk }) {
  const { client, word } = desk;
  const next = client.place && client.nextOpen(client.place);
  if (!next) return null;
  return (
    <footer class="entry elsewhere">
      <button type="button" onClick={() => desk.to(next)}>
        {word('next')}: {client.blockOf(next.line)?.label} {isRow(next.line) ? desk.patchOf(next.line) : ''}
      </button>
    </footer>
  );
}

/** What has to be known before the next key: a question, why something was not written, else what the last reading said. */
function Said({ desk, place }: { readonly desk: Desk; readonly place: Place }) {
  const { client, word } = desk;
  const { comma } = client;
  const draft = client.draft(place);
  if (comma && comma.place.line === place.line && comma.place.slot === place.slot)
    return <p class="question">{word('comma-question', { typed: comma.typed, mended: comma.mended })}</p>;
  const orphan = client.typed.find(({ line }) => line.gone);
  if (orphan) return <p class="warning">{word('line-gone', { yours: orphan.text })}</p>;
  if (draft && client.isContested(draft))
    return (
      <p class={draft.isWarned ? 'question' : 'warning'}>{word('yours-theirs', { yours: draft.text, theirs: client.written(place) })}</p>
    );
  if (draft?.is === 'refused') return <p class="warning">{word('refused', { why: draft.why ?? '' })}</p>;
  const label = client.blocks[client.block]?.label ?? '';
  if (desk.completed === label && desk.completed !== '') {
    const next = client.nextOpen(place);
    const to = next && client.blockOf(next.line)?.label;
    return <p class="question">{to === undefined ? word('day-done') : to === label ? '' : word('next-run', { run: label, next: to })}</p>;
  }
  // Of a row that has its reading, what that one says; while one is to take, what the last one said.
  const row = isRow(place.line) && hasReading(desk, place.line) ? place.line : client.last;
  return row ? <LastSaid desk={desk} row={row} /> : null;
}

const hasReading = ({ client }: Desk, { view }: HeldRow): boolean =>
  client.blocks[client.block]?.columns.some(({ read, key }, i) => read && !key && (view.kinds[i] ?? '?') !== '?') ?? false;

function LastSaid({ desk, row }: { readonly desk: Desk; readonly row: HeldRow }) {
  const { client } = desk;
  const result = client.resultOf(row);
  const finding = client.known.findingsIn(row).find(({ severity }) => severity !== 'info');
  const figure = result?.figures[0];
  const { heads } = client.run ?? {};
  return (
    <>
      <p class="last">
        <span>{desk.patchOf(row)}</span>
        {figure && (
          <>
            <span class="title">{heads?.[0]?.title}</span> <b class={figure.verdict}>{figure.value}</b>{' '}
            <span class="interval">{figure.interval}</span> <span class={figure.verdict}>{figure.judged}</span>
          </>
        )}
        {result?.off && <span class="off">{result.off}</span>}
      </p>
      {finding && (
        <p class={`finding ${finding.severity}`}>
          {finding.text}{' '}
          {finding.mends.map((mend, nth) => (
            <button type="button" class="mend" key={mend} onClick={() => desk.mend(row, finding.code, finding.start, nth)}>
              {mend}
            </button>
          ))}
        </p>
      )}
    </>
  );
}

function Action({ keys, title, act }: { readonly keys?: string; readonly title: string; readonly act: () => void }) {
  return (
    <button type="button" onClick={act}>
      {keys && <kbd>{keys}</kbd>} {title}
    </button>
  );
}

/** What is wanted seldom. */
function More({ desk, row }: { readonly desk: Desk; readonly row: HeldRow }) {
  const { client, word } = desk;
  const head = client.lines[client.startOf(client.block)]!;
  const columns = client.blocks[client.block]?.columns.filter(({ key, read }) => key && read) ?? [];
  const names = columns.map(({ name }) => name);
  return (
    <>
      {columns.filter(({ words }) => !words).length === 1 ? (
        <Action title={word('add-levels')} act={() => desk.ask({ is: 'levels', head: row })} />
      ) : (
        <Action title={word('add-row')} act={() => desk.ask({ is: 'row', head, columns: names })} />
      )}
      <Action title={word('duplicate-run')} act={() => desk.ask({ is: 'duplicate', head })} />
    </>
  );
}

function entryKey(event: KeyboardEvent, desk: Desk, place: Place): void {
  const { client } = desk;
  const { key } = event;
  const isPlain = !event.ctrlKey && !event.metaKey && !event.altKey;
  const isTyping = client.draft(place)?.is === 'typing';
  const done = (act: () => void) => {
    event.preventDefault();
    // The workbench would look whether the key is one of its own before it passed on what is sent.
    event.stopPropagation();
    act();
  };
  if (event.isComposing) return;
  if (key === 'Enter' && isPlain) done(() => desk.enter(event.timeStamp));
  else if (key === 'Tab' && isPlain) {
    if (desk.across(event.shiftKey ? -1 : 1)) event.preventDefault();
  } else if (key === 'Escape') {
    const orphan = client.typed.find(({ line }) => line.gone);
    if (client.revert(orphan ?? place)) {
      done(() => undefined);
      const input = event.currentTarget as HTMLInputElement;
      desk.done();
      queueMicrotask(() => input.select());
    }
  } else if (key === 'ArrowUp' || key === 'ArrowDown') {
    const by = key === 'ArrowUp' ? -1 : 1;
    if (event.altKey) done(() => desk.blockBy(by));
    else if (isPlain) done(() => desk.step(by));
  } else if ((key === 'PageUp' || key === 'PageDown') && isPlain) done(() => desk.step(key === 'PageUp' ? -10 : 10));
  else if (key === '.' && (event.ctrlKey || event.metaKey)) done(() => desk.mendFirst());
  else if (isPlain && !isTyping && !client.readonly && !client.column(place)?.words && !client.column(place)?.free) {
    if (key === '*') done(() => desk.again('takeAgain'));
    else if (key === '+') done(() => desk.again('addRepeat'));
    else if (key === '/') done(() => desk.toggleLarge());
  }
}

/** A block of cells is looked at before it goes anywhere; a single value goes into the cell. */
function paste(event: ClipboardEvent, desk: Desk, place: Place): void {
  const text = event.clipboardData?.getData('text/plain') ?? '';
  if (desk.client.readonly || !/[\t\r\n;]|\S[ ]+\S/.test(text.trim())) return;
  event.preventDefault();
  desk.client.look(place, text);
  desk.done();
}
