import { readFileSync } from 'node:fs';
import fc from 'fast-check';

export const EXAMPLES = ['test/session/canonical.nitbook', 'examples/bench-mistakes.nitbook'].map((path) => readFileSync(path, 'utf8'));

const PIECES = [
  ...['\n', '\r', '\t', '\ufeff', '\u202e', '  ', '\n    ', '"', '|', '#', '# ', '~ ', ': ', ',', '[', '$', '{', '`', '*', '<b>', '[x](y)'],
  ...['0 ', '<0.1 ', 'mode ', 'like ', '\nlimits\n  ', '\ntuning\n  '],
];

export interface Broken {
  readonly text: string;
  /** Any offset, also outside of the text and no number at all, and those about what was put in. */
  readonly offsets: readonly number[];
}

/** An example with marks and words put in where they do not belong. */
export const broken: fc.Arbitrary<Broken> = fc
  .tuple(fc.constantFrom(...EXAMPLES), fc.array(fc.tuple(fc.nat(6000), fc.constantFrom(...PIECES)), { maxLength: 6 }), fc.nat(7000))
  .map(([example, puts, offset]) => {
    let text = example;
    for (const [at, piece] of puts) text = text.slice(0, at) + piece + text.slice(at);
    const near = puts.flatMap(([at, piece]) => [at, at + piece.length]);
    return { text, offsets: [offset, offset - 50, -1, Number.NaN, Number.POSITIVE_INFINITY, ...near] };
  });
