import type { ComponentChildren } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Preview } from '../client';
import type { Desk, Question } from './desk';

interface DialogProps {
  readonly title: string;
  /** Whether what it is about has not come yet: until then no key does anything but Esc. */
  readonly waits?: boolean;
  readonly close: () => void;
  readonly children: ComponentChildren;
}

/** A panel over the sheet that has the keyboard until it is closed. */
function Panel({ title, waits, close, children }: DialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  // Before it is painted: a key that comes then is the panel's already.
  useLayoutEffect(() => {
    dialog.current?.showModal();
    if (waits) dialog.current?.focus();
  }, []);
  return (
    <dialog
      ref={dialog}
      tabIndex={-1}
      aria-label={title}
      onCancel={(event) => {
        event.preventDefault();
        close();
      }}
    >
      <h2>{title}</h2>
      {children}
    </dialog>
  );
}

/** What goes where, before it goes. */
export function PastePanel({ desk, preview }: { readonly desk: Desk; readonly preview: Preview }) {
  const { client, word } = desk;
  const { view, refused, answers } = preview;
  const close = (isMeant: boolean) => {
    client.closePreview(isMeant);
    desk.done();
    queueMicrotask(() => desk.focus(true));
  };
  const answer = (name: 'decimalComma' | 'repeats', value: boolean) => {
    client.look(preview.place, preview.text, { ...answers, [name]: value });
    desk.done();
  };
  const block = client.blockOf(preview.place.line)?.label ?? '';
  const question = view?.questions[0];
  const names = view?.columns.flatMap(({ to }) => to ?? []) ?? [];
  const put = useRef<HTMLButtonElement>(null);
  const form = useRef<HTMLFormElement>(null);
  const isThere = view !== undefined || refused !== undefined;
  // What is to be seen comes when the panel is open already: then Enter puts it in, or answers the question.
  useLayoutEffect(() => {
    if (isThere) (put.current ?? form.current?.parentElement?.querySelector('button'))?.focus();
  }, [view, refused]);
  return (
    <Panel title={word('paste', { run: block })} waits={!isThere} close={() => close(false)}>
      {refused && <p class="warning">{refused}</p>}
      {!refused && !view && <p>{word('paste-waiting')}</p>}
      {question && (
        <fieldset class="ask">
          <legend>{word(question === 'decimalComma' ? 'paste-comma' : 'paste-repeats')}</legend>
          <button type="button" onClick={() => answer(question, true)}>
            {word(question === 'decimalComma' ? 'paste-comma-yes' : 'paste-repeats-yes')}
          </button>
          <button type="button" onClick={() => answer(question, false)}>
            {word(question === 'decimalComma' ? 'paste-comma-no' : 'paste-repeats-no')}
          </button>
        </fieldset>
      )}
      {view && view.rows.length > 0 && (
        <div class="pasted">
          <table>
            <thead>
              <tr>
                <td />
                {names.map((name) => (
                  <th scope="col" key={name}>
                    {name}
                  </th>
                ))}
                <td />
              </tr>
            </thead>
            <tbody>
              {view.rows.map(({ line, does, cells, why }) => (
                <tr key={line} class={does}>
                  <td>{word('line', { line })}</td>
                  {names.map((name) => (
                    <td key={name}>{cells[name] ?? ''}</td>
                  ))}
                  <td class="does">{why ?? word(does)}</td>
                </tr>
              ))}
            </tbody>
          </table>
          {view.more > 0 && <p>{word('paste-more', { count: view.more })}</p>}
        </div>
      )}
      {view && (
        <ul class="left">
          {view.columns.flatMap(({ title, why }, i) =>
            why ? [<li key={title}>{`${word('column-left-out', { column: title || i + 1 })}: ${why}`}</li>] : [],
          )}
          {view.left.map(({ line, text, why }) => (
            <li key={`${line} ${text}`}>{`${word('line', { line })}, ${text}: ${why}`}</li>
          ))}
        </ul>
      )}
      {view && view.puts === 0 && question !== 'decimalComma' && <p>{word('paste-nothing-goes')}</p>}
      <form
        ref={form}
        class="do"
        onSubmit={(event) => {
          event.preventDefault();
          close(true);
        }}
      >
        {view && view.puts > 0 && (
          <button type="submit" ref={put}>
            {word('ok')}
          </button>
        )}
        <button type="button" onClick={() => close(false)}>
          {word('cancel')}
        </button>
      </form>
    </Panel>
  );
}

/** The questions of a few words. */
export function Ask({ desk, question }: { readonly desk: Desk; readonly question: Question }) {
  const { client, word } = desk;
  const block = client.blockOf(question.head);
  const close = () => desk.ask(undefined);
  const run = block?.label ?? '';
  /** The edit that the answer has become: what was typed stays until it is made. */
  const sent = useRef(0);
  const [refused, setRefused] = useState('');
  useLayoutEffect(() => {
    if (sent.current === 0 || client.isOnItsWay(sent.current)) return;
    sent.current = 0;
    if (client.notice === '') close();
    else setRefused(client.notice);
  });
  if (question.is === 'duplicate') {
    const { modes = [], adjusted } = client.offers;
    const choose = (mode: string | undefined) => {
      client.duplicate(question.head, mode);
      close();
      desk.done();
    };
    const own = client.linesOf(client.block).find(({ view }) => view.is === 'property' && view.name === 'mode' && !view.struck);
    const current = own?.view.is === 'property' ? own.view.value : (block?.taken.find(({ name }) => name === 'mode')?.value ?? '');
    return (
      <Panel title={word('duplicate-for')} close={close}>
        <div class="choices">
          {modes
            .filter(({ id }) => id !== current)
            .map(({ id, title }) => (
              <button type="button" key={id} onClick={() => choose(id)}>
                <b>{id}</b> {title}
              </button>
            ))}
          {adjusted && (
            <button type="button" onClick={() => choose(undefined)}>
              {word('duplicate-adjusted', { id: adjusted, from: current || '—' })}
            </button>
          )}
        </div>
        <form class="do" method="dialog">
          <button type="button" onClick={close}>
            {word('cancel')}
          </button>
        </form>
      </Panel>
    );
  }
  const columns = question.is === 'row' ? question.columns : [];
  const put = (text: string): number => {
    if (question.is === 'levels') return client.addRows(question.head, text);
    if (question.is === 'note') return client.send({ do: 'setNote', at: client.at(question.head), text });
    const words = text.split(/\s+/);
    return client.addRows(question.head, Object.fromEntries(columns.map((name, i) => [name, words[i] ?? '?'])));
  };
  const title =
    question.is === 'levels'
      ? word('levels-of', { run })
      : question.is === 'note'
        ? word('add-note')
        : word('patch-of', { run, columns: columns.join(' ') });
  return (
    <Panel title={title} close={close}>
      <form
        class="do"
        onSubmit={(event) => {
          event.preventDefault();
          const text = (event.currentTarget.elements.namedItem('answer') as HTMLInputElement).value.trim();
          if (text === '') close();
          else if (sent.current === 0) {
            sent.current = put(text);
            desk.done();
          }
        }}
      >
        {refused !== '' && <p class="warning">{refused}</p>}
        <input name="answer" aria-label={title} autofocus autocomplete="off" spellcheck={false} />
        <button type="submit">{word('add')}</button>
        <button type="button" onClick={close}>
          {word('cancel')}
        </button>
      </form>
    </Panel>
  );
}
