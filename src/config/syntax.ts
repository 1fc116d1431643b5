import { createScanner, type ParseError, printParseErrorCode, type SyntaxKind } from 'jsonc-parser';
import { type Phrase, phrase } from '../text/message';
import type { Span } from '../text/span';

/** How deep brackets may stand in each other. The parser calls itself once a level: unbounded, a hostile file would exhaust the stack. */
export const MAX_DEPTH = 64;

type ErrorName = ReturnType<typeof printParseErrorCode>;

const SENTENCES: Readonly<Record<ErrorName, Phrase>> = {
  InvalidSymbol: phrase('Expected a text in double quotes, a number, true, false, null, [ or {'),
  InvalidNumberFormat: phrase('Expected a number such as 12 or 0.5'),
  PropertyNameExpected: phrase('Expected a name in double quotes'),
  ValueExpected: phrase('Expected a value'),
  ColonExpected: phrase('Expected a colon between a name and its value'),
  CommaExpected: phrase('Expected a comma before this'),
  CloseBraceExpected: phrase('Expected } at the end of the object'),
  CloseBracketExpected: phrase('Expected ] at the end of the list'),
  EndOfFileExpected: phrase('Expected nothing more: the file holds one object'),
  InvalidCommentToken: phrase('Expected no comment here'),
  UnexpectedEndOfComment: phrase('The comment is not closed: expected */'),
  UnexpectedEndOfString: phrase('The text is not closed on this line: expected "'),
  UnexpectedEndOfNumber: phrase('The number breaks off: expected a digit'),
  InvalidUnicode: phrase('Expected four hexadecimal digits after \\u'),
  InvalidEscapeCharacter: phrase('Expected one of " \\ / b f n r t u after \\'),
  InvalidCharacter: phrase('A text takes no control characters: write \\t for a tab, \\u0007 for others'),
  '<unknown ParseErrorCode>': phrase('Expected JSON with comments'),
};

export interface SyntaxMistake {
  readonly span: Span;
  /** The sentence, without its full stop. */
  readonly expected: Phrase;
}

/** The first bracket that stands deeper than `MAX_DEPTH`. */
export function firstTooDeep(text: string): Span | undefined {
  const scanner = createScanner(text, true);
  // A bracket is closed by its own kind alone: the parser, too, passes over the others, and so is never deeper than this.
  const closers: SyntaxKind[] = [];
  for (let token = scanner.scan(); token !== END; token = scanner.scan()) {
    if (token === closers.at(-1)) closers.pop();
    else if (token === OPEN_BRACE || token === OPEN_BRACKET) {
      const start = scanner.getTokenOffset();
      if (closers.push(token === OPEN_BRACE ? CLOSE_BRACE : CLOSE_BRACKET) > MAX_DEPTH) return [start, start + 1];
    }
  }
  return undefined;
}

// The library declares its kinds as ambient constants, which a file compiled by itself cannot name.
const OPEN_BRACE: SyntaxKind = 1;
const CLOSE_BRACE: SyntaxKind = 2;
const OPEN_BRACKET: SyntaxKind = 3;
const CLOSE_BRACKET: SyntaxKind = 4;
const END: SyntaxKind = 17;

/** Mistakes inside a text, which the parser tells by the whole of its token. */
const IN_TEXT: ReadonlySet<ErrorName> = new Set(['InvalidUnicode', 'InvalidEscapeCharacter', 'InvalidCharacter']);
/** Mistakes after which the parser often stumbles over the next word as well. */
const STUMBLES: ReadonlySet<ErrorName> = new Set([
  'InvalidSymbol',
  'UnexpectedEndOfString',
  'UnexpectedEndOfComment',
  'UnexpectedEndOfNumber',
]);

/** The offsets of texts and numbers that are not as they were meant: nothing is to be made of them. */
export const brokenTokens = (errors: readonly ParseError[]): Set<number> =>
  new Set(
    errors.flatMap(({ error, offset }) => {
      const name = printParseErrorCode(error);
      return IN_TEXT.has(name) || name === 'UnexpectedEndOfString' || name === 'UnexpectedEndOfNumber' ? [offset] : [];
    }),
  );

/** The parser's errors in words, once a mistake: without what it says only because of the error before. */
export function syntaxMistakes(text: string, errors: readonly ParseError[]): SyntaxMistake[] {
  const found: SyntaxMistake[] = [];
  let before: ParseError | undefined;
  /** Where the last stumble ended; errors that follow it with only blanks between are its echoes. */
  let stumbledTo: number | undefined;
  for (const error of errors) {
    const name = printParseErrorCode(error.error);
    const span: Span = [Math.min(error.offset, text.length), Math.min(error.offset + error.length, text.length)];
    if (stumbledTo !== undefined && !onlyBlanks(text, stumbledTo, span[0])) stumbledTo = undefined;
    const echo =
      stumbledTo !== undefined ||
      error.offset === before?.offset ||
      (name === 'ValueExpected' && before !== undefined && printParseErrorCode(before.error) === 'PropertyNameExpected') ||
      (name === 'EndOfFileExpected' && before !== undefined);
    if (!echo) {
      if (IN_TEXT.has(name)) found.push(...mistakesInText(text, span));
      else found.push({ span, expected: SENTENCES[name] });
    }
    if (stumbledTo !== undefined || STUMBLES.has(name)) stumbledTo = span[1];
    before = error;
  }
  return found;
}

function onlyBlanks(text: string, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (!' \t\r\n'.includes(text[at]!)) return false;
  return true;
}

/**
 * Escapes as JSON has them (RFC 8259, section 7), or in the groups what is none: `\u` without its digits, another `\`, a control character
 * (of Cc, as JSON allows U+007F to U+009F).
 */
const ESCAPES = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})|(\\u[0-9a-fA-F]{0,3})|(\\.?)|([^\P{Cc}\x7f-\x9f])/gsu;

function mistakesInText(text: string, span: Span): SyntaxMistake[] {
  const found: SyntaxMistake[] = [];
  for (const match of text.slice(...span).matchAll(ESCAPES)) {
    const [whole, unicode, escaped, control] = match;
    const name = unicode ? 'InvalidUnicode' : escaped ? 'InvalidEscapeCharacter' : control ? 'InvalidCharacter' : undefined;
    const start = span[0] + match.index;
    if (name) found.push({ span: [start, start + whole.length], expected: SENTENCES[name] });
  }
  return found;
}
