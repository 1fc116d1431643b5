/**
 * A sentence as data: what is said (`code`, a key of a table of templates) and what about (`args`). Screens turn it into words, in the
 * reader's language; tests and machines read the code.
 */
export interface Message {
  readonly code: string;
  readonly args: Readonly<Record<string, string | number>>;
}

/** Makes words of a template and what it is about: `fill` in English, else what puts the reader's language in the template's place. */
export type Say = (template: string, args: Message['args']) => string;

/** Fills `{name}` in a template from `args`; a name without an argument stays visible, so that a mistake is seen. */
export const fill = (template: string, args: Message['args']): string =>
  template.replace(/\{([a-zA-Z][a-zA-Z0-9]*)\}/g, (whole, name: string) => {
    const value = args[name];
    return value === undefined ? whole : typeof value === 'number' ? plainNumber(value) : value;
  });

/** A number for a sentence: at most six significant digits and no exponent in the ordinary range. */
export function plainNumber(value: number): string {
  if (!Number.isFinite(value)) return String(value);
  return String(Number(value.toPrecision(6)));
}
