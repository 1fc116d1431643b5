import { useLayoutEffect, useRef } from 'preact/hooks';
import type { BlockView } from '../protocol';
import type { Desk } from './desk';

/** The bench day, block by block, with what is still to take. */
export function Day({ desk }: { readonly desk: Desk }) {
  const { client, word } = desk;
  const inHand = client.block;
  const list = useRef<HTMLUListElement>(null);
  const label = client.blocks[inHand]?.label;
  useLayoutEffect(() => list.current?.querySelector('[aria-current]')?.scrollIntoView({ block: 'nearest' }), [label]);
  const count = client.blocks.reduce((sum, block) => sum + (block.void ? 0 : block.toTake), 0);
  const inAll = word(count === 0 ? 'all-taken-in-all' : count === 1 ? 'one-to-take-in-all' : 'to-take-in-all', { count });
  return (
    <nav class="day" aria-label={word('day')}>
      <p class="count">{inAll}</p>
      <ul ref={list}>
        {client.blocks.map((block, i) => {
          if (block.keyword === '' && client.linesOf(i).every(({ view }) => view.is === 'blank' || view.is === 'version')) return null;
          const standing = client.known.standings?.blocks[i];
          return (
            <li key={`${block.label} ${i}`}>
              <button
                type="button"
                class={block.void ? 'struck' : block.table ? 'run' : ''}
                aria-current={i === inHand ? 'true' : undefined}
                onClick={() => desk.to(client.entry(i))}
              >
                <span class="keyword">{block.keyword || word('file-start')}</span>
                <span class="name">{block.name || block.date || ''}</span>
                <span class="below">
                  {block.title !== '' && <span class="title">{block.title}</span>}
                  <Stands desk={desk} block={block} verdict={standing?.verdict} words={standing?.words ?? ''} />
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </nav>
  );
}

interface StandsProps {
  readonly desk: Desk;
  readonly block: BlockView;
  readonly verdict: string | undefined;
  readonly words: string;
}

function Stands({ desk: { word }, block, verdict, words }: StandsProps) {
  if (block.void) return <span class="stands">{word('struck-out')}</span>;
  if (block.toTake > 0)
    return <span class="stands open">{word(block.toTake === 1 ? 'one-to-take' : 'to-take', { count: block.toTake })}</span>;
  if (block.toNote > 0) return <span class="stands open">{word('to-note', { count: block.toNote })}</span>;
  return words === '' ? null : <span class={`stands ${verdict}`}>{words}</span>;
}
