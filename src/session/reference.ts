import { fill, type Message, type Say } from '../text/message';
import type { Span } from '../text/span';

/** What a reference in a review, on the command line or in the archive names, such as `aurora.nitbook#grey.de@90`. All parts decoded. */
export interface Reference {
  /** Relative to the text that refers, or from the workspace folder with a leading `/`; empty for the session at hand. */
  readonly path: string;
  /** At least one. */
  readonly ids: readonly string[];
  /** Names joined by `.`; empty when the block itself is meant. */
  readonly measure: string;
  readonly keys: readonly string[];
}

/** The mistakes of a reference and their sentences. */
export const REFERENCE_MISTAKES = {
  'reference-hash': 'Expected # between the session file and what is meant in it, such as aurora.nitbook#grey.de.max.',
  'reference-file': 'Expected a file that ends in .nitbook before the #, found "{found}".',
  'reference-absolute': 'Expected a path from here, or one from the workspace folder that starts with /, found "{found}".',
  'reference-segment': 'Expected the name of a folder or file, with ../ at the start only, found "{found}".',
  'reference-character': '"{found}" cannot stand here as it is: write {mended}.',
  'reference-encoding': 'Expected % and two hexadecimal digits, together UTF-8, found "{found}".',
  'reference-id': 'Expected an id, a letter and then letters, digits or -, found "{found}".',
  'reference-name': 'Expected a name, a small letter and then small letters, digits or -, found "{found}".',
  'reference-key': 'Expected a key after @ and after each comma, such as @90 or @red,100.',
} as const;

export interface ReferenceMistake extends Message {
  readonly code: keyof typeof REFERENCE_MISTAKES;
  /** Of the text of the reference; never empty, unless that text is. */
  readonly span: Span;
}

export type ReferenceReading =
  | { readonly ok: true; readonly reference: Reference }
  | { readonly ok: false; readonly mistakes: readonly [ReferenceMistake, ...ReferenceMistake[]] };

export const referenceSentence = (mistake: ReferenceMistake, say: Say = fill): string =>
  say(REFERENCE_MISTAKES[mistake.code], mistake.args);

/**
 * Reads `path#ids{.name}[@key{,key}]`. The text is divided before each part is decoded, once, so that an encoded mark never divides. A path
 * that leaves the workspace is read, as it is not known here where that lies; one that names a drive or a scheme, or hides a folder in an
 * encoded segment, is not.
 * @returns the reference, or its mistakes in the order of the text, at most one for each part.
 */
export function readReference(text: string): ReferenceReading {
  const hash = text.indexOf('#');
  if (hash < 0) return { ok: false, mistakes: [{ code: 'reference-hash', args: {}, span: [0, text.length] }] };
  const at = firstOf('@', text, hash + 1, text.length);
  const dot = firstOf('.', text, hash + 1, at);
  const parts = new Parts(text);
  const path = parts.path(hash);
  const ids = parts.list([hash + 1, dot], '+', (span) => parts.matching(span, ID, 'reference-id'));
  const names = dot === at ? [] : parts.list([dot + 1, at], '.', (span) => parts.matching(span, NAME, 'reference-name'));
  const keys = at === text.length ? [] : parts.list([at + 1, text.length], ',', (span) => parts.key(span));
  const [first, ...rest] = parts.mistakes;
  if (first) return { ok: false, mistakes: [first, ...rest] };
  return { ok: true, reference: { path, ids, measure: names.join('.'), keys } };
}

/**
 * Writes a reference: everything but letters, digits and `- . _` is encoded. What is no Unicode text (half of a surrogate pair) is written
 * as U+FFFD, as it has no UTF-8.
 */
export function writeReference({ path, ids, measure, keys }: Reference): string {
  const file = path.split('/').map(encoded).join('/');
  const names = measure === '' ? '' : `.${encoded(measure)}`;
  return `${file}#${ids.map(encoded).join('+')}${names}${keys.length === 0 ? '' : `@${keys.map(encoded).join(',')}`}`;
}

const encoded = (part: string): string =>
  encodeURIComponent(part.replace(/\p{Cs}/gu, '\uFFFD')).replace(
    /[!~*'()]/g,
    (mark) => `%${mark.charCodeAt(0).toString(16).toUpperCase()}`,
  );

const ID = /^[A-Za-z][A-Za-z0-9-]*$/;
const NAME = /^[a-z][a-z0-9-]*$/;
/** RFC 3986, section 3.1; a drive letter looks the same. */
const SCHEME = /^[A-Za-z][A-Za-z0-9+.-]*:/;
/** What is no `unreserved` (RFC 3986, section 2.3), and no start of an encoded byte. */
const NO_KEY = /[^A-Za-z0-9._~%-]/u;
/** What is no `pchar` (RFC 3986, section 3.3) but for the colon, which is a drive or stream to some, nor a visible character beyond ASCII. */
const NO_SEGMENT = /[^A-Za-z0-9._~%!$&'()*+,;=@\P{ASCII}-]|[\p{Cs}\p{Cc}\p{Z}]/u;
/** What would divide a path, or end it for some system, once it is decoded. */
const DIVIDES = /^\.{1,2}$|[/\\\p{Cc}]/u;

/** The parts of one reference, read to their values; what is wrong with them is gathered. */
class Parts {
  readonly mistakes: ReferenceMistake[] = [];

  constructor(private readonly text: string) {}

  path(end: number): string {
    const { text } = this;
    if (end === 0) return '';
    const outside = SCHEME.exec(text.slice(0, end))?.[0] ?? (text.startsWith('//') ? '//' : undefined);
    if (outside !== undefined) return this.refuse('reference-absolute', [0, outside.length], outside);
    let start = 0;
    if (text[0] === '/') start = 1;
    else while (text.startsWith('../', start)) start += 3;
    const before = this.mistakes.length;
    const path = text.slice(0, start) + this.list([start, end], '/', (span) => this.segment(span)).join('/');
    if (this.mistakes.length > before) return '';
    if (SCHEME.test(path)) return this.refuse('reference-absolute', [0, firstOf('/', text, 0, end)], path);
    return path.endsWith('.nitbook') ? path : this.refuse('reference-file', [0, end], path);
  }

  private segment(span: Span): string {
    const segment = this.decoded(span, NO_SEGMENT);
    if (segment === undefined) return '';
    return segment === '' || DIVIDES.test(segment) ? this.refuse('reference-segment', span, this.text.slice(...span)) : segment;
  }

  key(span: Span): string {
    if (span[0] === span[1]) return this.refuse('reference-key', span, '');
    return this.decoded(span, NO_KEY) ?? '';
  }

  matching(span: Span, grammar: RegExp, code: ReferenceMistake['code']): string {
    const found = this.decoded(span);
    return found === undefined || grammar.test(found) ? (found ?? '') : this.refuse(code, span, found);
  }

  list(span: Span, separator: string, read: (span: Span) => string): string[] {
    const found: string[] = [];
    for (let start = span[0]; ; ) {
      const end = firstOf(separator, this.text, start, span[1]);
      found.push(read([start, end]));
      if (end === span[1]) return found;
      start = end + 1;
    }
  }

  /** Decodes one part; undefined, with its mistake, when a byte is badly encoded or a character may not stand for itself. */
  private decoded([start, end]: Span, forbidden?: RegExp): string | undefined {
    const raw = this.text.slice(start, end);
    const bad = forbidden?.exec(raw);
    if (bad) {
      this.refuse('reference-character', [start + bad.index, start + bad.index + bad[0].length], bad[0], encoded(bad[0]));
      return undefined;
    }
    const broken = /%(?![0-9A-Fa-f]{2})/.exec(raw);
    if (broken) {
      this.refuse('reference-encoding', [start + broken.index, Math.min(start + broken.index + 3, end)]);
      return undefined;
    }
    // By runs of bytes, so that what is told is the run that is not UTF-8.
    let text = '';
    let at = 0;
    for (const run of raw.matchAll(/(?:%[0-9A-Fa-f]{2})+/g)) {
      const bytes = utf8(run[0]);
      if (bytes === undefined) {
        this.refuse('reference-encoding', [start + run.index, start + run.index + run[0].length]);
        return undefined;
      }
      text += raw.slice(at, run.index) + bytes;
      at = run.index + run[0].length;
    }
    return text + raw.slice(at);
  }

  private refuse(code: ReferenceMistake['code'], [start, end]: Span, found = this.text.slice(start, end), mended?: string): '' {
    // Nothing stands where something is missing: the mark before it is shown instead.
    const span: Span = [start === end && start > 0 ? start - 1 : start, end];
    this.mistakes.push({ code, args: mended === undefined ? { found } : { found, mended }, span });
    return '';
  }
}

function firstOf(mark: string, text: string, start: number, end: number): number {
  const at = text.indexOf(mark, start);
  return at < 0 || at > end ? end : at;
}

function utf8(escapes: string): string | undefined {
  try {
    return decodeURIComponent(escapes);
  } catch {
    return undefined;
  }
}
