import { isHdrRun } from '../judge/limits';
import { MEASURE_IDS, ROW_LIMITS } from '../measure/specs';
import type { Analysis } from '../project/analysis';
import { valueText } from '../report/format';
import { typeInWords } from '../report/manual';
import { figureOf, headline } from '../report/summary';
import type { Block } from '../session/block';
import { type PropertyLine, quoted } from '../session/line';
import { readLine } from '../session/readLine';
import type { Session } from '../session/session';
import { plainNumber, type Say, worded } from '../text/message';
import type { Span } from '../text/span';
import type { Item, Site } from './completion';
import { type Counts, makerOf, mostUsed, together } from './folderUse';
import { defaultOf } from './hover';
import { shown } from './markdown';
import { defaultsText, measureOf, type NamedMeasure } from './measureCard';
import { literal, stop } from './snippets';

/** Names of properties that a block does not have yet. `line` is the property whose name is being written; it keeps its value. */
export function nameItems(site: Site, line?: PropertyLine): readonly Item[] {
  const { analysis, say, block, on, at, from } = site;
  const spec = block.spec!;
  const replace: Span = line ? line.name.span : [from, nameEnd(on.text, at)];
  if (at < replace[0] || at > replace[1]) return [];
  const own = new Set(
    block.propertyLines
      .map((i) => block.property(i))
      .filter((other) => other !== line && !other.struck)
      .map(({ name }) => name.text),
  );
  const isFree = (name: string): boolean =>
    !own.has(name) || (Object.hasOwn(spec.properties, name) && spec.properties[name]!.many === true);
  const insert = (name: string) => (line ? name : `${name}: `);
  const properties = Object.entries(spec.properties)
    .filter(([name]) => isFree(name))
    .map(([name, { type, about }]): Item => {
      const left = defaultOf(analysis, block, name);
      const documentation = [
        say('Takes {type}.', { type: typeInWords(type) }),
        ...(left === undefined ? [] : [say('When it is left out: {default}.', { default: shown(worded(left, say)) })]),
      ].join('\n\n');
      return { label: name, insert: insert(name), replace, kind: 'property', detail: say(about), documentation };
    });
  switch (block.keyword) {
    case 'limits':
      return measureItems(site, replace, own, line !== undefined);
    case 'mode':
      return [...usedNames(site, settingCounts(site), own, replace, line), ...properties];
    case 'observations':
      return [...usedNames(site, together(site.use.topics, ownTopics(analysis.session, block)), own, replace, line), ...properties];
    default:
      return properties;
  }
}

/** A name that is not followed by a colon yet ends where the line does, but for a comment: what stands there is taken for its beginning. */
const nameEnd = (text: string, at: number): number => {
  let end = at;
  while (end < text.length && text[end] !== '#' && text[end] !== ':') end++;
  while (end > at && text[end - 1] === ' ') end--;
  return end;
};

function usedNames({ on, say }: Site, counts: Counts, own: ReadonlySet<string>, replace: Span, line: PropertyLine | undefined): Item[] {
  return mostUsed(counts)
    .filter(([name]) => !own.has(name))
    .flatMap(([name, times]): Item[] => {
      const written = writtenName(name, on.before);
      if (written === undefined) return [];
      return [
        {
          label: name,
          insert: line ? written : `${written}: `,
          replace,
          kind: 'setting',
          detail: usedText(times, say),
        },
      ];
    });
}

export const usedText = (times: number, say: Say): string =>
  times === 1 ? say('used once') : times === 2 ? say('used twice') : say('used {count} times', { count: times });

/** A name as it has to be written to be read as such: in quotation marks where it must. */
function writtenName(name: string, before: Site['on']['before']): string | undefined {
  return [name, quoted(name)].find((written) => {
    const read = readLine(`  ${written}: x`, '\n', before);
    return read.kind === 'property' && !read.struck && read.name.text === name && read.value.is === 'text' && read.value.text === 'x';
  });
}

/** How often settings are used: in the folder's sessions of the maker, and in the other modes of this one. */
function settingCounts({ analysis, use, block }: Site): Counts {
  const maker = makerOf(analysis.session);
  const of = maker === undefined ? undefined : use.makers.get(maker);
  const counts = new Map<string, number>();
  for (const [name, values] of of?.settings ?? []) {
    let times = 0;
    for (const n of values.values()) times += n;
    counts.set(name, Math.max(times, 1));
  }
  return together(counts, ownNames(analysis.session, block, 'mode'));
}

function ownNames(session: Session, except: Block, keyword: 'mode' | 'observations'): Counts {
  const counts = new Map<string, number>();
  for (const block of session.all(keyword)) {
    if (block === except) continue;
    for (const i of block.propertyLines) {
      const { name, struck } = block.property(i);
      if (struck || name.text === '' || name.text.startsWith('.') || name.text.startsWith('x-')) continue;
      counts.set(name.text, (counts.get(name.text) ?? 0) + 1);
    }
  }
  return counts;
}

const ownTopics = (session: Session, block: Block): Counts => ownNames(session, block, 'observations');

const NAMES: readonly string[] = [...new Set([...MEASURE_IDS, ...Object.keys(ROW_LIMITS)])];

/** Measures with their figures in this session; those of its kinds of run first, and of these the ones that a reader looks at first. */
function measureItems({ analysis, say }: Site, replace: Span, own: ReadonlySet<string>, isNamed: boolean): readonly Item[] {
  const kinds = new Set(analysis.results.map(({ run }) => run.kind as string));
  const first = new Set(analysis.results.flatMap((result) => headline(analysis, result).map(({ id }) => `${result.run.kind}.${id}`)));
  const rank = (name: string): number => (first.has(name) ? 0 : kinds.has(name.slice(0, name.indexOf('.'))) ? 1 : 2);
  return NAMES.filter((name) => !own.has(name))
    .map((name) => ({ name, rank: rank(name) }))
    .sort((a, b) => a.rank - b.rank)
    .flatMap(({ name }): Item[] => {
      const measure = measureOf(name);
      if (!measure) return [];
      const insert = isNamed
        ? name
        : `${literal(name)}: ${boundSnippet(analysis, measure, name, 'aim', 1)}, ${boundSnippet(analysis, measure, name, 'limit', 2)}`;
      return [
        {
          label: name,
          insert,
          snippet: !isNamed,
          replace,
          kind: 'measure',
          detail: [say(measure.spec.title), currentText(analysis, measure, first.has(name), say)].filter((part) => part !== '').join(' · '),
          documentation: `${say('{about}.', { about: shown(say(measure.spec.about)) })}\n\n${defaultsText(measure, name, say)}`,
        },
      ];
    });
}

/** `aim A` and `limit B` with the numbers that hold by default, or without where there are none. */
export function boundSnippet(
  { session, results }: Analysis,
  { kind, spec }: NamedMeasure,
  name: string,
  which: 'aim' | 'limit',
  n: number,
): string {
  const { sdr, hdr } = (Object.hasOwn(ROW_LIMITS, name) ? ROW_LIMITS[name] : undefined) ?? spec;
  const run = results.find((result) => result.run.kind === kind);
  const bound = (run && isHdrRun(session, run) ? (hdr ?? sdr) : (sdr ?? hdr))?.[which];
  return `${which} ${stop(n, bound === undefined ? '' : plainNumber(bound))}`;
}

/** Figures of runs with more patches than this are looked at one by one only: all measures of such a run cost more than a list may. */
const MOST_PATCHES = 500;
const MOST_RUNS = 4;

/** What a measure is in the runs of the session: `grey 4.06, grey-tuned 1.2`. */
export function currentText(analysis: Analysis, { kind, id, key, spec }: NamedMeasure, isHeadline: boolean, say: Say): string {
  if (spec.scope === 'row' && key.length === 0) return '';
  return analysis.results
    .filter(({ run, context }) => run.kind === kind && context && (isHeadline || context.patches.count <= MOST_PATCHES))
    .slice(0, MOST_RUNS)
    .flatMap((result) => {
      const { value } = figureOf(analysis, result, id, key);
      return value.ok ? [`${result.run.id} ${valueText(value, spec, say)}`] : [];
    })
    .join(', ');
}
