import type { RunResult } from '../measure/result';
import { measureSpec } from '../measure/specs';
import { REASONS, type Value } from '../measure/value';
import type { Block } from '../session/block';
import type { Reference } from '../session/reference';
import { type Arg, allOf, fill, type Message, type Phrase, phrase, phraseOf, type Say } from '../text/message';
import { nearest, neighbour } from '../text/neighbour';
import type { Analysis } from './analysis';

/** What a reference in a session means: a figure (which may have no number, and says why), or the text of a property. */
export type Resolution =
  | { readonly ok: true; readonly is: 'figure'; readonly result: RunResult; readonly id: string; readonly value: Value }
  | { readonly ok: true; readonly is: 'text'; readonly block: Block; readonly name: string; readonly text: string }
  | { readonly ok: false; readonly mistake: ResolutionMistake };

export interface ResolutionMistake extends Message {
  readonly code: keyof typeof RESOLUTION_MISTAKES;
}

/** What a reference can get wrong about a session, and what is near. */
export const RESOLUTION_MISTAKES = {
  'several-runs': 'A figure is of one run: {ids} together make a chart.',
  'no-block': 'There is no "{id}" in this session.{neighbour}',
  'measure-needed': '"{id}" is a {keyword} run: a figure of it needs a measure{neighbour}.',
  'property-needed': '"{id}" is a {keyword} block: name one of its properties{neighbour}.',
  'no-measure': 'A {keyword} run has no measure "{name}".{neighbour}',
  'not-computed': 'The figures of {keyword} runs are not computed by this version.',
  'no-property': 'The {keyword} block "{id}" has no property "{name}".{neighbour}',
  'to-note': '"{name}" of "{id}" is still to be noted.',
  'text-key': '"{name}" of "{id}" is a text: it has no rows, and takes no @.',
  key: '"{name}" of "{id}": {reason}.',
} as const;

export const mistakeText = (mistake: ResolutionMistake, say: Say = fill): string => say(RESOLUTION_MISTAKES[mistake.code], mistake.args);

/** Whether a figure is lacking by a mistake of the reference, not of the readings: a row that was not read can be all that is missing. */
const isOfReference = (why: Message, keys: readonly string[]): boolean =>
  why.code === 'key-needed' || why.code === 'key-surplus' || (why.code === 'no-row' && keys.length > 0);

/** Finds what a reference names in the session it leads to. Numbers of a key match by value; nothing is interpolated. */
export function resolveReference(analysis: Analysis, { ids, measure: name, keys }: Reference): Resolution {
  const { session, results } = analysis;
  const id = ids[0]!;
  if (ids.length > 1) return mistaken('several-runs', { ids: allOf(ids) });
  const block = session.byName.get(id);
  if (!block) {
    const runs = session.runs.map((run) => run.id);
    return mistaken('no-block', { id, neighbour: near(id, session.byName.keys(), runs) });
  }
  const keyword = block.keyword!;
  const result = results.find(({ run }) => run.block === block);
  const measures = result ? Object.keys(result.specs) : [];
  if (name === '' && result && measures.length > 0) {
    return mistaken('measure-needed', { id, keyword, neighbour: such(id, measures) });
  }
  const properties = [...session.properties(block).keys()];
  if (name === '') return mistaken('property-needed', { id, keyword, neighbour: such(id, properties.filter(isName)) });
  if (result && measureSpec(result.run.kind, name)) {
    const value = result.value(name, keys);
    if (value.ok || !isOfReference(value.why, keys)) return { ok: true, is: 'figure', result, id: name, value };
    return mistaken('key', { id, name, reason: phraseOf(REASONS, value.why) });
  }
  const property = textOf(analysis, block, name, keys);
  if (property) return property;
  if (!result) return mistaken('no-property', { id, keyword, name, neighbour: near(name, properties, properties.filter(isName)) });
  if (measures.length === 0) return mistaken('not-computed', { keyword });
  return mistaken('no-measure', { keyword, name, neighbour: near(name, measures, alike(name, measures)) });
}

/** A property that holds for a block, in the words of the file; where names are the user's own, the format's start with a point. */
function textOf({ session }: Analysis, block: Block, name: string, keys: readonly string[]): Resolution | undefined {
  const properties = session.properties(block);
  const property = properties.get(name) ?? properties.get(`.${name}`);
  if (!property) return undefined;
  const { value } = property.line;
  if (value.is !== 'text' && value.is !== 'string') return mistaken('to-note', { id: block.name, name });
  if (keys.length > 0) return mistaken('text-key', { id: block.name, name });
  return { ok: true, is: 'text', block, name, text: value.text };
}

const mistaken = (code: ResolutionMistake['code'], args: Message['args']): Resolution => ({ ok: false, mistake: { code, args } });

const MOST_NAMED = 6;

const listed = (names: readonly string[]): Phrase => {
  const args = { names: names.slice(0, MOST_NAMED) };
  return names.length > MOST_NAMED ? phrase(' There is {names} …', args) : phrase(' There is {names}.', args);
};

/** The one that was most likely meant, else what there is. */
function near(word: string, candidates: Iterable<string>, known: readonly string[]): Arg {
  const found = nearest(word, candidates);
  if (found !== undefined) return neighbour(found);
  return known.length === 0 ? '' : listed(known);
}

/** What can stand in a reference as a name. */
const isName = (name: string): boolean => /^\.?[a-z][a-z0-9-]*$/.test(name);

const such = (id: string, names: readonly string[]): Arg =>
  names.length === 0
    ? ''
    : phrase(', such as {reference}', { reference: `#${id}.${(names.includes('de.max') ? 'de.max' : names[0]!).replace(/^\./, '')}` });

/** Measures that begin as a word does: `de.maximum` is near `de.max` to a reader, though not by its letters. */
const alike = (word: string, measures: readonly string[]): readonly string[] => {
  const first = word.split('.')[0]!;
  const found = measures.filter((measure) => measure.split('.')[0] === first);
  return found.length > 0 ? found : measures;
};
