import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Desk } from './desk';

/** The figures of the run in hand: its main numbers, and pictures. */
export function Aside({ desk }: { readonly desk: Desk }) {
  const { client, word } = desk;
  const start = client.startOf(client.block);
  if (!client.blocks[client.block]?.table) return null;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, for keys too
    <aside aria-label={word('figures')} tabIndex={0}>
      <dl>
        {(client.isComputed ? client.known.headline : []).map(({ title, value, verdict, judged, limit }) => (
          <div key={title}>
            <dt title={limit}>{title}</dt>
            <dd>
              <b>{value}</b> <span class={verdict}>{judged}</span>
            </dd>
          </div>
        ))}
      </dl>
      <Pictures svgs={client.known.figures?.head === start ? client.known.figures.svgs : []} />
    </aside>
  );
}

/** Pictures are parsed as documents of their own: nothing in one is a script or a style of this page. */
function Pictures({ svgs }: { readonly svgs: readonly string[] }) {
  const box = useRef<HTMLDivElement>(null);
  const text = svgs.join('');
  useLayoutEffect(() => {
    const parser = new DOMParser();
    box.current?.replaceChildren(...svgs.map((svg) => parser.parseFromString(svg, 'image/svg+xml').documentElement));
  }, [text]);
  return <div class="pictures" ref={box} />;
}
