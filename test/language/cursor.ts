import fc from 'fast-check';
import { SessionText } from '../../src/session/sessionText';
import type { Message } from '../../src/text/message';
import { applyEdits, type Span, type TextEdit } from '../../src/text/span';

/** A text with a cursor in it, ‸: the text without it, and where it stood. */
export function at(marked: string): { readonly source: SessionText; readonly text: string; readonly offset: number } {
  const offset = marked.indexOf('‸');
  if (offset < 0) throw new Error(`no cursor in ${marked}`);
  const text = marked.slice(0, offset) + marked.slice(offset + 1);
  return { source: SessionText.read(text), text, offset };
}

export const cut = (text: string, span: Span): string => text.slice(...span);

/** The text after edits; the code of a refusal otherwise. */
export const edited = (text: string, answer: readonly TextEdit[] | Message): string =>
  'code' in answer ? answer.code : applyEdits(text, answer);

/** The lines of the text after edits that it did not have before; the code of a refusal otherwise. */
export function changed(text: string, answer: readonly TextEdit[] | Message): string[] | string {
  if ('code' in answer) return answer.code;
  const before = text.split(/\r\n|\r|\n/);
  return applyEdits(text, answer)
    .split(/\r\n|\r|\n/)
    .filter((line) => !before.includes(line));
}

const RUNS = `nitbook 1
session 2026-03-14
mode cinema "As shipped"
  Gamma: 2.4
mode tuned from cinema
greyscale grey "Shipped"
  mode: cinema
  note: ?
    level   Y         x        y
       100  119.6     0.3089   0.3248
         0  <0.003    -        -
  ~     30  67        0.3099   0.3279  | decimal slip
        30  6.70      0.3099   0.3279  # c
        40  ?
       100  ?         ?        ?

saturation sat like grey
  mode: tuned
    hue     sat     Y         x        y
    red     50      44.1      0.4432   0.3310
    red     100     ?         ?        ?
    "my blue"  100  5         0.15     0.06

# windows
window peak
\twindow\tY
\t100\t163
\t10\t?
contrast black like peak
    patch   Y
    white   ?
tuning red like grey
    "Gain red"  Y         x        y
             0  100       0.3      0.3
`;

const SLIPS = ['', '', '?', '~ ', '-', '\t', '  ', '"', '0,3', '5', '100', '\r\n', '\n', '# ', '| ', 'mode', ': ', '<', 'red', '  ?'];

/** A session of small runs with up to three slips in it, its line ends any, and an offset within a run: where gestures meet rows. */
export const slippedRuns: fc.Arbitrary<{ readonly text: string; readonly offset: number }> = fc
  .record({
    slips: fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(3), fc.constantFrom(...SLIPS)), { maxLength: 3 }),
    eol: fc.constantFrom('\n', '\n', '\r\n', '\r'),
    where: fc.double({ min: 0.12, max: 1, noNaN: true }),
  })
  .map(({ slips, eol, where }) => {
    let text = RUNS;
    for (const [at, removed, put] of slips) {
      const from = Math.trunc(at * text.length);
      text = text.slice(0, from) + put + text.slice(from + removed);
    }
    if (eol !== '\n') text = text.replaceAll('\r\n', '\n').replaceAll('\n', eol);
    return { text, offset: Math.trunc(where * text.length) };
  });
