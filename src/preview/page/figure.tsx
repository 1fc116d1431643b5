import morphdom from 'morphdom';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { FigureView, FromPage } from '../protocol';
import type { Words } from '../words';
import { Numbers } from './numbers';

export interface FigureProps {
  readonly figure: FigureView;
  readonly words: Words;
  /** The row of the cursor. */
  readonly here: string | undefined;
  readonly post: (message: FromPage) => void;
}

const SIDES = 2 * 20;

/** The width of a picture at 100 %, px: wide panes do not make giants of figures. */
export const pictureWidth = (): number => Math.max(240, Math.min(900, document.documentElement.clientWidth - SIDES));

/** What tells one element of a picture from another: an unchanged mark keeps its element. */
const keyOf = (node: Node): string => {
  if (!(node instanceof Element)) return '';
  const { mark, series, panel, end, outline } = (node as SVGElement).dataset;
  if (mark !== undefined) return `mark ${mark}`;
  if (series !== undefined) return `series ${series}`;
  if (panel !== undefined) return `panel ${panel}`;
  if (end !== undefined) return `end ${end}`;
  return outline === undefined ? '' : `outline ${outline}`;
};

/** Puts a picture in place of the one that is there, and changes only what differs. */
function put(holder: HTMLElement, svg: string): void {
  const there = holder.firstElementChild;
  if (!there) {
    holder.innerHTML = svg;
    return;
  }
  for (const marked of holder.querySelectorAll('.here, .current')) unmark(marked);
  morphdom(there, svg, { getNodeKey: keyOf, onBeforeElUpdated: (from, to) => !from.isEqualNode(to) });
}

/** Without a `class` that was not there, so that it is equal to what the host draws. */
function unmark(element: Element): void {
  element.classList.remove('here', 'current');
  if (element.classList.length === 0) element.removeAttribute('class');
}

const marksIn = (holder: HTMLElement): SVGElement[] => [...holder.querySelectorAll<SVGElement>('[data-mark]')];
const markNamed = (holder: HTMLElement, name: string | undefined): SVGElement | undefined =>
  name === undefined ? undefined : marksIn(holder).find(({ dataset }) => dataset.mark === name);
const nameOf = (mark: Element | undefined): string => mark?.querySelector('title')?.textContent ?? '';

/** Where the next mark along the line is, or the one of the next line that is nearest in place. */
function stepped(marks: readonly SVGElement[], current: SVGElement | undefined, key: string): SVGElement | undefined {
  if (!current) return marks[0];
  const at = marks.indexOf(current);
  if (key === 'Home') return marks[0];
  if (key === 'End') return marks.at(-1);
  if (key === 'ArrowRight') return marks[at + 1];
  if (key === 'ArrowLeft') return marks[at - 1];
  const lines = [...new Set(marks.map((mark) => mark.parentElement))];
  const line = lines[lines.indexOf(current.parentElement) + (key === 'ArrowDown' ? 1 : -1)];
  const x = (mark: SVGElement) => mark.getBoundingClientRect().x;
  return marks
    .filter((mark) => line && mark.parentElement === line)
    .reduce<SVGElement | undefined>(
      (best, mark) => (best && Math.abs(x(best) - x(current)) <= Math.abs(x(mark) - x(current)) ? best : mark),
      undefined,
    );
}

const KEYS = ['ArrowRight', 'ArrowLeft', 'ArrowUp', 'ArrowDown', 'Home', 'End'];

/** A figure, what is said of the mark in hand, what can be done with it, and its numbers. */
export function FigureBox({ figure, words, here, post }: FigureProps) {
  const holder = useRef<HTMLDivElement>(null);
  /** The mark that keys have reached, by its name in the picture: elements come and go. */
  const [current, setCurrent] = useState<string>();
  /** The mark that something is said of: the one keys have reached, or the one the pointer has moved onto since. */
  const [said, setSaid] = useState<string>();
  const [told, setTold] = useState('');
  /** Where the pointer was when it last moved. A picture that is drawn anew under a pointer at rest takes nobody's word. */
  const under = useRef<string | undefined>(undefined);
  const { id, title, svg } = figure;

  useLayoutEffect(() => {
    if (holder.current) put(holder.current, svg);
    performance.mark(`figure ${id}`);
  }, [svg]);
  useLayoutEffect(() => {
    if (!holder.current) return;
    for (const mark of marksIn(holder.current)) {
      const isHere = here !== undefined && mark.dataset.row === here;
      const isCurrent = mark.dataset.mark === current;
      if (!isHere && !isCurrent) {
        if (mark.hasAttribute('class')) unmark(mark);
        continue;
      }
      mark.classList.toggle('here', isHere);
      mark.classList.toggle('current', isCurrent);
    }
  }, [svg, here, current]);
  useLayoutEffect(() => {
    if (holder.current) setTold(nameOf(markNamed(holder.current, said)));
  }, [svg, said]);

  const point = (mark: SVGElement | undefined): void => {
    setSaid(mark?.dataset.mark);
    const row = mark?.dataset.row;
    post({ kind: 'point', ...(row === undefined ? {} : { row }) });
  };
  const markAt = (target: EventTarget | null) => (target instanceof Element ? target.closest<SVGElement>('[data-mark]') : null);
  const moveOnto = (mark: SVGElement | null): void => {
    if (!holder.current || mark?.dataset.mark === under.current) return;
    under.current = mark?.dataset.mark;
    point(mark ?? markNamed(holder.current, current));
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (!holder.current || event.ctrlKey || event.altKey || event.metaKey) return;
    const marks = marksIn(holder.current);
    const mark = markNamed(holder.current, current);
    if (event.key === 'Enter' && mark?.dataset.row !== undefined) post({ kind: 'go', row: mark.dataset.row });
    else if (event.key === 'Escape' && mark) {
      setCurrent(undefined);
      point(undefined);
    } else if (KEYS.includes(event.key)) {
      const next = stepped(marks, mark, event.key);
      if (next) {
        setCurrent(next.dataset.mark);
        point(next);
      }
    } else return;
    event.preventDefault();
  };
  const button = (word: string, message: FromPage) => (
    <button type="button" onClick={() => post(message)}>
      {words[word]}
    </button>
  );

  return (
    <article class="figure" aria-label={title} data-name={id}>
      {/* biome-ignore lint/a11y/useSemanticElements: no form is here to have a fieldset */}
      <div
        ref={holder}
        class="picture"
        role="group"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: keys go from mark to mark in it
        tabIndex={0}
        aria-label={words['figure-keys']}
        onKeyDown={onKeyDown}
        onPointerMove={({ target }) => moveOnto(markAt(target))}
        onPointerDown={({ target }) => moveOnto(markAt(target))}
        onPointerLeave={() => moveOnto(null)}
        onClick={({ target }) => {
          const row = markAt(target)?.dataset.row;
          if (row !== undefined) post({ kind: 'go', row });
        }}
        onBlur={() => {
          under.current = undefined;
          setCurrent(undefined);
          point(undefined);
        }}
      />
      <p class="told" aria-live="polite">
        {told}
      </p>
      <div class="deeds">
        {button('save', { kind: 'save', figure: id })}
        {button('copy-picture', { kind: 'draw', figure: id })}
        {button('copy-svg', { kind: 'copyText', figure: id })}
        {button('copy-reference', { kind: 'copyReference', figure: id })}
      </div>
      <FigureNumbers figure={figure} words={words} here={here} post={post} />
    </article>
  );
}

function FigureNumbers({ figure: { title, head, rows }, words, here, post }: FigureProps) {
  if (rows.length === 0) return null;
  return (
    <details>
      <summary>{words.numbers}</summary>
      <Numbers label={`${words.numbers}: ${title}`} head={head}>
        {rows.map(({ row, cells }) => (
          <tr class={row !== undefined && row === here ? 'here' : ''}>
            {cells.map((cell, i) =>
              i === 0 && row !== undefined ? (
                <th scope="row">
                  <button type="button" class="row" title={words['row-go']} onClick={() => post({ kind: 'go', row })}>
                    {cell}
                  </button>
                </th>
              ) : (
                <td>{cell}</td>
              ),
            )}
          </tr>
        ))}
      </Numbers>
    </details>
  );
}
