import { Aside } from './aside';
import { Day } from './day';
import type { Desk } from './desk';
import { Fields } from './fields';
import { Ask, PastePanel } from './panels';
import { Strip } from './strip';
import { Table } from './table';

export function App({ desk }: { readonly desk: Desk }) {
  const { client } = desk;
  if (!client.isOpen) return null;
  const block = client.blocks[client.block];
  return (
    <div class="sheet">
      <Day desk={desk} />
      <main aria-label={block?.label}>
        <Notices desk={desk} />
        <Heading desk={desk} />
        {block?.table ? (
          <>
            <Fields desk={desk} folded />
            <Table desk={desk} />
          </>
        ) : (
          <Fields desk={desk} />
        )}
      </main>
      <Aside desk={desk} />
      <Strip desk={desk} />
      {client.preview && <PastePanel desk={desk} preview={client.preview} />}
      {desk.question && <Ask desk={desk} question={desk.question} />}
      <div class="hidden" aria-live="polite">
        {desk.said}
      </div>
    </div>
  );
}

function Notices({ desk }: { readonly desk: Desk }) {
  const { client, word } = desk;
  return (
    <>
      {client.readonly && <p class="notice">{word('read-only')}</p>}
      {!client.inStep && (
        <p class="notice warning" role="alert">
          {word('not-in-step')}{' '}
          <button
            type="button"
            onClick={() => {
              client.resync();
              desk.done();
            }}
          >
            {word('in-step-again')}
          </button>
        </p>
      )}
      {client.notice !== '' && (
        <p class="notice warning" role="alert">
          {client.notice}
        </p>
      )}
    </>
  );
}

function Heading({ desk }: { readonly desk: Desk }) {
  const { client, word } = desk;
  const block = client.blocks[client.block];
  const { run } = client;
  const head = client.lines[client.startOf(client.block)];
  if (!block || !head) return null;
  return (
    <header class={block.void ? 'struck' : ''}>
      <h1>
        <span class="keyword">{block.keyword || word('file-start')}</span> {block.name}
        {block.date && ` ${block.date}`} {block.title !== '' && <span class="title">{block.title}</span>}
        {block.link && <span class="link">{block.link}</span>}
      </h1>
      <button type="button" class="quiet" onClick={() => client.openText(client.place?.line ?? head, client.place?.slot)}>
        {word('open-text')}
      </button>
      {!client.readonly && block.keyword !== '' && (
        <button
          type="button"
          class="quiet"
          onClick={() => {
            client.send({ do: 'strike', at: client.at(head), on: !block.void });
            desk.done();
          }}
        >
          {word(block.void ? 'bring-back' : 'strike')}
        </button>
      )}
      {run && run.against !== '' && <p class="against">{word('against', { against: run.against })}</p>}
      {run?.why && <p class="against">{word('no-figures', { why: run.why })}</p>}
    </header>
  );
}
