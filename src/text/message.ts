/**
 * A sentence as data: what is said (`code`, a key of a table of templates) and what about (`args`). Screens turn it into words, in the
 * reader's language; tests and machines read the code.
 */
export interface Message {
  readonly code: string;
  readonly args: Args;
}

export type Args = Readonly<Record<string, Arg>>;

/**
 * What a sentence is about. Numbers, names and texts of the file stand as they are; a phrase is put into words first, in the language of
 * the sentence that it stands in; a list is joined by commas.
 */
export type Arg = string | number | Phrase | readonly Arg[];

/** A template with what it is about: words that stand in a sentence, or a sentence before its language is known. */
export interface Phrase {
  readonly template: string;
  readonly args: Args;
}

/** Its template stands in the call as one text: from there the templates to translate are gathered. */
export const phrase = (template: string, args: Args = {}): Phrase => ({ template, args });

/** A template that stands in a table, as a phrase. */
export const tabled = (template: string, args: Args = {}): Phrase => ({ template, args });

/** A message in the words of its table. */
export const phraseOf = (table: Readonly<Record<string, string>>, { code, args }: Message): Phrase =>
  tabled(Object.hasOwn(table, code) ? table[code]! : code, args);

/** Makes words of a template and what it is about. */
export type Say = (template: string, args?: Args) => string;

/** Says templates in the language that `translated` gives them in, from the inside out. */
export function sayIn(translated: (template: string) => string): Say {
  const say: Say = (template, args = {}) =>
    translated(template).replace(PLACE, (whole, name: string) => {
      const arg = args[name];
      return arg === undefined ? whole : worded(arg, say);
    });
  return say;
}

const PLACE = /\{([a-zA-Z][a-zA-Z0-9]*)\}/g;

/** Says templates as they are written, in English; a name without an argument stays visible, so that a mistake is seen. */
export const fill: Say = sayIn((template) => template);

export function worded(arg: Arg, say: Say): string {
  if (typeof arg === 'string') return arg;
  if (typeof arg === 'number') return plainNumber(arg);
  return 'template' in arg ? say(arg.template, arg.args) : arg.map((each) => worded(each, say)).join(', ');
}

/** A template for one thing, and one for several with their `{count}`. */
export type Forms = readonly [one: string, several: string];

export const counted = (count: number, [one, several]: Forms, args: Args = {}): Phrase =>
  tabled(count === 1 ? one : several, { ...args, count: String(count) });

/** Any one of some things, one or more: `a or b or c`, so that it can stand in a list. */
export const anyOf = (things: readonly Arg[]): Arg => things.reduce((one, other) => phrase('{one} or {other}', { one, other }));

/** All of some things, one or more: `a and b and c`. */
export const allOf = (things: readonly Arg[]): Arg => things.reduce((one, other) => phrase('{one} and {other}', { one, other }));

/** A number for a sentence: at most six significant digits and no exponent in the ordinary range. */
export function plainNumber(value: number): string {
  if (!Number.isFinite(value)) return String(value);
  return String(Number(value.toPrecision(6)));
}
