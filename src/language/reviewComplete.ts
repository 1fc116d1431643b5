import { figuresOf } from '../figure/figures';
import type { RunResult } from '../measure/result';
import type { Analysis } from '../project/analysis';
import { valueText } from '../report/format';
import { figureOf } from '../report/summary';
import { type Fragment, rowsOf, supports } from '../review/candidates';
import { claimsOf } from '../review/claim';
import type { Notation } from '../review/notation';
import { fragmentText, pathText } from '../review/places';
import { fill, type Say } from '../text/message';
import type { Span } from '../text/span';
import { shown } from './markdown';

/** A part of a reference that may be written. */
export interface ReferencePart {
  readonly label: string;
  readonly insert: string;
  readonly replace: Span;
  readonly kind: 'session' | 'block' | 'measure' | 'figure' | 'property' | 'row';
  /** What it is now, or what it is called. */
  readonly detail: string;
  /** Markdown; empty where there is no more to say. */
  readonly documentation: string;
  readonly sortText: string;
  /** Whether more is to follow. */
  readonly goesOn: boolean;
}

/** The target of a link that an offset stands in, as far as it is written. */
export interface OpenTarget {
  readonly is: 'link' | 'image';
  /** The text of the link. */
  readonly label: string;
  /** From the start of the target to the offset. */
  readonly typed: string;
  readonly offset: number;
  /** Behind the offset. */
  readonly rest: string;
}

/** Longer targets are none of a person's. */
const LONGEST = 1000;

/**
 * The target of a link or image around an offset, which need not be closed yet: from `](` to the offset without a blank or a bracket.
 * Undefined where there is none.
 */
export function targetAround(text: string, offset: number): OpenTarget | undefined {
  const before = text.slice(Math.max(0, offset - LONGEST), offset);
  const mark = before.lastIndexOf('](');
  if (mark < 0) return undefined;
  const bracket = before[mark + 2] === '<' ? 1 : 0;
  const typed = before.slice(mark + 2 + bracket);
  if (/[\s()<>]/.test(typed)) return undefined;
  const labelStart = before.lastIndexOf('[', mark);
  return {
    is: before[labelStart - 1] === '!' ? 'image' : 'link',
    label: labelStart < 0 ? '' : before.slice(labelStart + 1, mark),
    typed,
    offset,
    rest: /^[^\s()<>]*/.exec(text.slice(offset, offset + LONGEST))![0],
  };
}

/** From the start of what is typed of a part to where the part ends, before one of the marks. */
function replacing({ offset, rest }: OpenTarget, typed: string, marks: string): Span {
  let length = 0;
  while (length < rest.length && !marks.includes(rest[length]!)) length++;
  return [offset - typed.length, offset + length];
}

/** A session that a review can name: its path as it is written from there. */
export interface NamedSession {
  readonly path: string;
  readonly detail: string;
}

/** A list is for choosing from. */
const MOST = 300;

/** The sessions, where no `#` is written yet. */
export function sessionParts(target: OpenTarget, sessions: readonly NamedSession[]): readonly ReferencePart[] {
  const { typed, rest } = target;
  if (typed.includes('#')) return [];
  const [start, end] = replacing(target, typed, '#');
  return sessions.slice(0, MOST).map(({ path, detail }, i) => ({
    label: path,
    insert: `${pathText(path)}#`,
    // What is behind a # stays.
    replace: [start, rest.includes('#') ? end + 1 : end],
    kind: 'session',
    detail,
    documentation: '',
    sortText: sortText(i),
    goesOn: true,
  }));
}

const sortText = (i: number): string => String(i).padStart(4, '0');

/** What may follow in the session that the path before the `#` names: what supports the text of the link comes first. */
export function fragmentParts(analysis: Analysis, target: OpenTarget, notation: Notation, say: Say = fill): readonly ReferencePart[] {
  const { typed } = target;
  const fragment = typed.slice(typed.indexOf('#') + 1);
  const at = fragment.indexOf('@');
  const dot = fragment.indexOf('.');
  const isInIds = at < 0 && dot < 0;
  const ids = fragment.slice(0, dot < 0 ? (at < 0 ? fragment.length : at) : dot).split('+');
  const parts = isInIds
    ? blockParts(analysis, target, ids)
    : at >= 0
      ? rowParts(analysis, target, notation, { ids, measure: fragment.slice(dot + 1, at), keys: [] }, fragment.slice(at + 1), say)
      : target.is === 'image'
        ? chartParts(analysis, target, ids, fragment.slice(dot + 1))
        : nameParts(analysis, target, notation, ids[0]!, fragment.slice(dot + 1), say);
  return parts.slice(0, MOST).map((part, i) => ({ ...part, sortText: sortText(i) }));
}

type Part = Omit<ReferencePart, 'sortText'>;

function blockParts(analysis: Analysis, target: OpenTarget, ids: readonly string[]): readonly Part[] {
  const { session, results } = analysis;
  const before = ids.slice(0, -1);
  const first = results.find(({ run }) => run.id === before[0]);
  const runs = results.filter(({ run }) => !before.includes(run.id) && (before.length === 0 || run.kind === first?.run.kind));
  const replace = replacing(target, ids.at(-1)!, '.+@');
  // What is written behind stays.
  const point = target.rest.slice(replace[1] - target.offset).startsWith('.') ? '' : '.';
  const run = ({ run: { id, kind, title } }: RunResult): Part => ({
    label: id,
    insert: id + point,
    replace,
    kind: 'block',
    detail: [kind, title].filter((part) => part !== '').join(' · '),
    documentation: '',
    goesOn: true,
  });
  if (target.is === 'image' || before.length > 0) return runs.map(run);
  const others = session.live.filter(
    (block) => !block.isRun && session.byName.get(block.name) === block && referable(analysis, block.name).length > 0,
  );
  return [
    ...runs.map(run),
    ...others.map(
      (block): Part => ({
        label: block.name,
        insert: block.name + point,
        replace,
        kind: 'block',
        detail: [block.keyword!, block.header?.title?.text ?? ''].filter((part) => part !== '').join(' · '),
        documentation: '',
        goesOn: true,
      }),
    ),
  ];
}

/** The properties of a block that a reference can name, each with its text. */
function referable({ session }: Analysis, id: string): readonly { readonly name: string; readonly text: string }[] {
  const block = session.byName.get(id);
  if (!block) return [];
  return [...session.properties(block)].flatMap(([written, { line }]) => {
    const name = written.replace(/^\./, '');
    const isText = line.value.is === 'text' || line.value.is === 'string';
    return isText && /^[a-z][a-z0-9-]*$/.test(name) ? [{ name, text: (line.value as { readonly text: string }).text }] : [];
  });
}

function chartParts(analysis: Analysis, target: OpenTarget, ids: readonly string[], typed: string): readonly Part[] {
  return figuresOf(analysis, ids).map((id) => ({
    label: id,
    insert: id,
    replace: replacing(target, typed, '@'),
    kind: 'figure',
    detail: '',
    documentation: '',
    goesOn: false,
  }));
}

/** Measures with what they are now, those of rows with the number of their rows; then properties. */
function nameParts(analysis: Analysis, target: OpenTarget, notation: Notation, id: string, typed: string, say: Say): readonly Part[] {
  const result = analysis.results.find(({ run }) => run.id === id);
  const replace = replacing(target, typed, '@');
  const claimOf = claimsOf(target.label, notation);
  const measures = Object.entries(result?.specs ?? {}).flatMap(([measure, spec]): (Part & { readonly fits: boolean })[] => {
    const about = { documentation: `**${shown(say(spec.title))}** — ${shown(say(spec.about))}.`, replace, kind: 'measure' as const };
    const value = spec.scope === 'row' ? undefined : figureOf(analysis, result!, measure).value;
    const whole = value?.ok
      ? [
          {
            ...about,
            label: measure,
            insert: measure,
            detail: valueText(value, spec, say),
            goesOn: false,
            fits: supports(analysis, { ids: [id], measure, keys: [] }, claimOf),
          },
        ]
      : [];
    const count = spec.scope === 'run' ? 0 : rowsOf(result!, measure).length;
    const rows =
      count === 0
        ? []
        : [{ ...about, label: `${measure}@`, insert: `${measure}@`, detail: say('{count} rows', { count }), goesOn: true, fits: false }];
    return [...whole, ...rows];
  });
  const properties = referable(analysis, id).map(
    ({ name, text }): Part => ({ label: name, insert: name, replace, kind: 'property', detail: text, documentation: '', goesOn: false }),
  );
  return [...measures.filter(({ fits }) => fits), ...measures.filter(({ fits }) => !fits)]
    .map(({ fits: _, ...part }) => part)
    .concat(properties);
}

function rowParts(
  analysis: Analysis,
  target: OpenTarget,
  notation: Notation,
  fragment: Fragment,
  typed: string,
  say: Say,
): readonly Part[] {
  const result = analysis.results.find(({ run }) => run.id === fragment.ids[0]);
  const spec = result?.specs[fragment.measure];
  if (!result || !spec) return [];
  const claimOf = claimsOf(target.label, notation);
  const rows = rowsOf(result, fragment.measure).map(({ key }) => {
    const value = result.value(fragment.measure, key);
    const named = { ...fragment, keys: key };
    return {
      fits: supports(analysis, named, claimOf),
      part: {
        label: key.join(','),
        insert: fragmentText(named).slice(fragmentText(fragment).length + 1),
        replace: replacing(target, typed, ''),
        kind: 'row',
        detail: valueText(value, spec, say),
        documentation: '',
        goesOn: false,
      } satisfies Part,
    };
  });
  return [...rows.filter(({ fits }) => fits), ...rows.filter(({ fits }) => !fits)].map(({ part }) => part);
}
