import type { Desk } from './desk';

/** The figures of the run in hand. */
export function Aside({ desk }: { readonly desk: Desk }) {
  const { client, word } = desk;
  const run = client.results?.head === client.startOf(client.block) ? client.results.run : undefined;
  if (!client.blocks[client.block]?.table) return null;
  return (
    <aside aria-label={word('figures')}>
      <dl>
        {run?.headline.map(({ title, value, verdict, judged, limit }) => (
          <div key={title}>
            <dt title={limit}>{title}</dt>
            <dd>
              <b>{value}</b> <span class={verdict}>{judged}</span>
            </dd>
          </div>
        ))}
      </dl>
    </aside>
  );
}
