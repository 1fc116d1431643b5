import type { FromPage, Place, View } from '../protocol';
import type { Words } from '../words';
import { FigureBox } from './figure';
import { Numbers } from './numbers';

export interface AppProps {
  readonly words: Words;
  readonly place: Place;
  readonly view: View;
  readonly here: string | undefined;
  readonly post: (message: FromPage) => void;
}

const ZOOM_STEP = 25;

/** One column below a strip: what the run is, its figures, its measures, and what it is against. */
export function App({ words, place, view, here, post }: AppProps) {
  const { run, figures, measures } = view;
  const box = (of: (typeof figures)[number]) => <FigureBox key={of.id} figure={of} words={words} here={here} post={post} />;
  const variants = figures.filter(({ variant }) => variant);
  return (
    <>
      <Strip words={words} place={place} view={view} post={post} />
      <main>
        {run ? (
          <>
            <h1>{run.title}</h1>
            {run.about.map((line) => (
              <p class="about">{line}</p>
            ))}
            {run.says.map((line) => (
              <p>{line}</p>
            ))}
            {figures.length === 0 && <p>{words['no-figures']}</p>}
            {figures.filter(({ variant }) => !variant).map(box)}
            {variants.length > 0 && (
              <details class="variants">
                <summary>{words['more-views']}</summary>
                {variants.map(box)}
              </details>
            )}
            {measures.rows.length > 0 && (
              <section>
                <h2>{words.measures}</h2>
                <Numbers label={words.measures} head={measures.head}>
                  {measures.rows.map(({ cells: [title, ...others], verdict }) => (
                    <tr>
                      <th scope="row">{title}</th>
                      {others.map((cell, i) => (
                        <td class={i === 1 ? `verdict ${verdict}` : ''}>{cell}</td>
                      ))}
                    </tr>
                  ))}
                </Numbers>
              </section>
            )}
            {run.against !== '' && <p class="about">{run.against}</p>}
          </>
        ) : (
          <p>{words['no-run']}</p>
        )}
      </main>
    </>
  );
}

function Strip({ words, place, view: { run, runs, others }, post }: Omit<AppProps, 'here'>) {
  const beside = others.filter(({ id }) => place.beside.includes(id));
  const zoom = (by: number) => post({ kind: 'choose', zoom: place.zoom + by });
  return (
    <header class="strip">
      <label>
        <span class="hidden">{words.run}</span>
        <select
          value={run?.id ?? ''}
          disabled={runs.length === 0}
          onChange={({ currentTarget }) => post({ kind: 'choose', run: currentTarget.value, pinned: true })}
        >
          {runs.map(({ id, label }) => (
            <option value={id}>{label}</option>
          ))}
        </select>
      </label>
      <button
        type="button"
        class="pin"
        aria-pressed={place.pinned}
        title={words['pin-about']}
        disabled={!run}
        onClick={() => post({ kind: 'choose', pinned: !place.pinned })}
      >
        {words.pin}
      </button>
      <details class="beside">
        <summary>{beside.length === 0 ? words.beside : words['beside-some']?.replace('{count}', String(beside.length))}</summary>
        <div class="choices">
          {others.length === 0 && <p>{words['beside-none']}</p>}
          {others.map(({ id, label }) => (
            <label>
              <input
                type="checkbox"
                checked={place.beside.includes(id)}
                onChange={({ currentTarget }) =>
                  post({
                    kind: 'choose',
                    beside: currentTarget.checked ? [...place.beside, id] : place.beside.filter((other) => other !== id),
                  })
                }
              />
              {label}
            </label>
          ))}
        </div>
      </details>
      <span class="room" />
      <button type="button" aria-label={words.narrower} title={words.narrower} disabled={place.zoom <= 50} onClick={() => zoom(-ZOOM_STEP)}>
        −
      </button>
      <button type="button" aria-label={words.wider} title={words.wider} disabled={place.zoom >= 400} onClick={() => zoom(ZOOM_STEP)}>
        +
      </button>
      <button type="button" disabled={!run} onClick={() => post({ kind: 'saveAll' })}>
        {words['save-all']}
      </button>
    </header>
  );
}
