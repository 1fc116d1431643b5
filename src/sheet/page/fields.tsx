import type { Held, Place } from '../paper';
import type { BlockView, FieldView, FindingView, TakenView } from '../protocol';
import type { Desk } from './desk';

interface Props {
  readonly desk: Desk;
  /** For a run, whose table is what matters. */
  readonly folded?: boolean;
}

/** What a block says beside readings, in the format's own words: its own properties, those taken over, notes, and what is not read. */
export function Fields({ desk, folded = false }: Props) {
  const { client, word } = desk;
  const block = client.blocks[client.block];
  const lines = client.linesOf(client.block);
  const head = lines[0];
  if (!block || !head) return null;
  const specs = new Map(client.offers.fields.map((field) => [field.name, field]));
  const columns = lines.findIndex(({ view }) => view.is === 'columns' && !view.struck);
  const live = new Set<string>();
  const own = lines.flatMap((line, i) => {
    const { view } = line;
    const noticed = client.known.findingsIn(line);
    if (view.is === 'property') {
      const isFirst = !view.struck && !live.has(view.name);
      if (!view.struck) live.add(view.name);
      return [<Property key={line.id} {...{ desk, block, line, specs, noticed, isFirst }} />];
    }
    if (block.table && columns >= 0 && i > columns) return [];
    if (view.is === 'note' && i > 0) return [<Note key={line.id} desk={desk} line={line} />];
    const isText = view.is === 'comment' || view.is === 'other' || view.is === 'held' || view.is === 'conflict' || view.is === 'version';
    return isText ? [<Text key={line.id} desk={desk} line={line} noticed={noticed} />] : [];
  });
  const taken = block.taken.filter(({ name }) => !live.has(name));
  const body = (
    <div class="fields">
      {own}
      {taken.map((each) => (
        <Taken key={`=${each.name}`} {...{ desk, head, specs }} taken={each} />
      ))}
      {!client.readonly && !block.void && block.keyword !== '' && <Add {...{ desk, block, head, specs, live }} />}
    </div>
  );
  if (!folded) return <section class="block">{body}</section>;
  const known = lines.flatMap(({ view }) =>
    view.is === 'property' && !view.struck && view.state === 'text' ? [`${view.name}: ${view.value}`] : [],
  );
  return (
    <details class="folded" open={client.place !== undefined && client.place.slot === 'value'}>
      <summary>
        {word('properties')} <span>{[...known, ...taken.map(({ name, value }) => `${name}: ${value}`)].join(' · ')}</span>
      </summary>
      {body}
    </details>
  );
}

const specOf = (specs: ReadonlyMap<string, FieldView>, name: string): FieldView | undefined => specs.get(name) ?? specs.get('');

interface InputProps {
  readonly desk: Desk;
  readonly place: Place;
  readonly name: string;
  readonly spec: FieldView | undefined;
  readonly placeholder?: string;
  readonly isOwn: boolean;
}

function Input({ desk, place, name, spec, placeholder = '', isOwn }: InputProps) {
  const { client } = desk;
  const shown = client.shown(place);
  const list = `choices ${name}`;
  const choices = spec?.choices ?? [];
  const commit = () => {
    client.commit(place);
    desk.done();
  };
  return (
    <>
      <input
        value={isOwn ? shown : (client.draft(place)?.text ?? '')}
        placeholder={placeholder}
        readOnly={client.readonly}
        title={isOwn ? shown : placeholder}
        aria-label={name}
        autocomplete="off"
        spellcheck={false}
        list={choices.length > 0 ? list : undefined}
        onFocus={() => {
          if (client.place?.line !== place.line || client.place.slot !== place.slot) {
            // What is typed elsewhere is written, or has to be decided on first.
            if (desk.leave()) client.go(place);
            else queueMicrotask(() => desk.focus(true));
          }
          desk.done();
        }}
        onInput={({ currentTarget }) => {
          client.type(place, currentTarget.value);
          desk.done();
        }}
        onBlur={() => {
          // Of the whole window: then it stays half typed.
          if (document.hasFocus()) commit();
        }}
        onKeyDown={(event) => {
          if (event.key === 'Enter' && !event.isComposing) {
            event.preventDefault();
            commit();
            if (client.draft(place)?.is !== 'typing') nextField(event.currentTarget);
          } else if (event.key === 'Escape' && client.revert(place)) {
            event.preventDefault();
            desk.done();
          } else if (event.altKey && (event.key === 'ArrowUp' || event.key === 'ArrowDown')) {
            event.preventDefault();
            desk.blockBy(event.key === 'ArrowUp' ? -1 : 1);
          }
        }}
      />
      {choices.length > 0 && (
        <datalist id={list}>
          {choices.map((choice) => (
            <option key={choice} value={choice} />
          ))}
        </datalist>
      )}
    </>
  );
}

/** Enter means next here too. */
function nextField(input: HTMLInputElement): void {
  const all = [...document.querySelectorAll<HTMLInputElement>('.fields input')];
  const next = all[all.indexOf(input) + 1];
  next?.focus();
  next?.select();
}

interface PropertyProps {
  readonly desk: Desk;
  readonly block: BlockView;
  readonly line: Held;
  readonly specs: ReadonlyMap<string, FieldView>;
  readonly noticed: readonly FindingView[];
  /** The one of its name that counts. */
  readonly isFirst: boolean;
}

function Property({ desk, block, line, specs, noticed, isFirst }: PropertyProps) {
  const { client, word } = desk;
  const { view } = line;
  if (view.is !== 'property') return null;
  const { name, state } = view;
  if (view.struck || !isFirst) return <Text desk={desk} line={line} noticed={noticed} />;
  const place = { line, slot: 'value' };
  const spec = specOf(specs, name);
  const parent = block.taken.find((each) => each.name === name);
  const remove = (op: 'removeProperty') => {
    client.send({ do: op, at: client.at(line), name });
    desk.done();
  };
  const takeOut = () => {
    client.send({ do: 'setProperty', at: client.at(line), name, value: '~' });
    desk.done();
  };
  return (
    <div class={['field', state, parent ? 'over' : 'own', client.place?.line === line ? 'in-hand' : ''].join(' ')}>
      <span class="name" title={spec?.about}>
        {name}
      </span>
      <Input {...{ desk, place, name, spec }} isOwn />
      <span class="aside">
        {state === 'to-note' && <em>{word('still-to-note')}</em>}
        {parent && state !== 'removed' && <span>{word('instead-of', { value: parent.value, id: parent.from })}</span>}
        {parent && state === 'removed' && <span>{word('taken-out', { value: parent.value, id: parent.from })}</span>}
        {view.tail !== '' && <span class="behind">{view.tail}</span>}
        <Drafted desk={desk} place={place} />
        <Noticed desk={desk} line={line} noticed={noticed} />
      </span>
      {!client.readonly && (
        <span class="do">
          {parent && state !== 'removed' && (
            <button type="button" class="quiet" onClick={takeOut}>
              {word('take-out')}
            </button>
          )}
          <button type="button" class="quiet" onClick={() => remove('removeProperty')}>
            {parent ? word('own-again', { id: parent.from }) : word('remove-line')}
          </button>
        </span>
      )}
    </div>
  );
}

interface TakenProps {
  readonly desk: Desk;
  readonly head: Held;
  readonly specs: ReadonlyMap<string, FieldView>;
  readonly taken: TakenView;
}

/** A property that holds by another block: typing here makes it this one's own. */
function Taken({ desk, head, specs, taken: { name, value, state, from } }: TakenProps) {
  const { client, word } = desk;
  const place = { line: head, slot: `=${name}` };
  const spec = specOf(specs, name);
  return (
    <div class={`field taken ${state}`}>
      <span class="name" title={spec?.about}>
        {name}
      </span>
      <Input {...{ desk, place, name, spec }} placeholder={state === 'to-note' ? '?' : value} isOwn={false} />
      <span class="aside">
        {word('taken-from', { id: from })}
        <Drafted desk={desk} place={place} />
      </span>
      {!client.readonly && (
        <span class="do">
          <button
            type="button"
            class="quiet"
            onClick={() => {
              client.send({ do: 'setProperty', at: client.at(head), name, value: '~' });
              desk.done();
            }}
          >
            {word('take-out')}
          </button>
        </span>
      )}
    </div>
  );
}

function Note({ desk, line }: { readonly desk: Desk; readonly line: Held }) {
  const { word } = desk;
  const place = { line, slot: 'note' };
  return (
    <div class="field note">
      <span class="name">{word('note')}</span>
      <Input {...{ desk, place }} name={word('note')} spec={undefined} isOwn />
      <span class="aside">
        <Drafted desk={desk} place={place} />
      </span>
    </div>
  );
}

/** A line that is no field: shown as it is, and never dropped. */
function Text({ desk, line, noticed }: { readonly desk: Desk; readonly line: Held; readonly noticed: readonly FindingView[] }) {
  const { view } = line;
  const isStruck = view.is === 'property' && view.struck;
  return (
    <div class={`field as-text ${view.is} ${isStruck ? 'struck' : ''}`}>
      <code>{view.text.trim()}</code>
      <span class="aside">
        {view.is === 'other' && desk.word('kept-as-is')} <Noticed desk={desk} line={line} noticed={noticed} />
      </span>
    </div>
  );
}

/** What stands between what was typed and the file. */
function Drafted({ desk: { client, word }, place }: { readonly desk: Desk; readonly place: Place }) {
  const draft = client.draft(place);
  if (!draft) return null;
  if (client.isContested(draft))
    return <em class="warning">{word('yours-theirs', { yours: draft.text, theirs: client.written(place) })}</em>;
  return draft.is === 'refused' ? <em class="warning">{word('refused', { why: draft.why ?? '' })}</em> : null;
}

function Noticed({ desk, line, noticed }: { readonly desk: Desk; readonly line: Held; readonly noticed: readonly FindingView[] }) {
  const finding = noticed.find(({ code }) => code !== 'property-to-note');
  if (!finding) return null;
  const { client } = desk;
  return (
    <span class={`finding ${finding.severity}`}>
      {finding.text}{' '}
      {!client.readonly &&
        finding.mends.map((mend, nth) => (
          <button
            type="button"
            class="mend"
            key={mend}
            onClick={() => {
              client.send({ do: 'mend', at: client.at(line), code: finding.code, start: finding.start, nth });
              desk.done();
            }}
          >
            {mend}
          </button>
        ))}
    </span>
  );
}

interface AddProps {
  readonly desk: Desk;
  readonly block: BlockView;
  readonly head: Held;
  readonly specs: ReadonlyMap<string, FieldView>;
  readonly live: ReadonlySet<string>;
}

function Add({ desk, block, head, specs, live }: AddProps) {
  const { client, word } = desk;
  const names = [...specs.values()].filter(({ name, many }) => name !== '' && (many || !live.has(name)));
  return (
    <form
      class="field add"
      onSubmit={(event) => {
        event.preventDefault();
        const form = event.currentTarget;
        const [name, value] = ['name', 'value'].map((field) => (form.elements.namedItem(field) as HTMLInputElement).value.trim());
        if (!name) return;
        client.send({ do: 'setProperty', at: client.at(head), name, value: value || '?' }, () => form.reset());
        desk.done();
      }}
    >
      <input name="name" aria-label={word('name')} placeholder={word('add-property')} list="names" autocomplete="off" />
      <datalist id="names">
        {names.map(({ name, about }) => (
          <option key={name} value={name}>
            {about}
          </option>
        ))}
      </datalist>
      <input name="value" aria-label={word('value')} placeholder="?" autocomplete="off" />
      <span class="do">
        <button type="submit">{word('add')}</button>
        {!block.table && (
          <button type="button" class="quiet" onClick={() => desk.ask({ is: 'note', head })}>
            {word('add-note')}
          </button>
        )}
      </span>
    </form>
  );
}
