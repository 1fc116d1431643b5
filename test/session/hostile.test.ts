import { describe, expect, it } from 'vitest';
import { textFindings } from '../../src/session/findings';
import { formatEdits } from '../../src/session/layout';
import { plan } from '../../src/session/plan';
import { SessionText } from '../../src/session/sessionText';
import { applyEdits } from '../../src/text/span';

const N = 100_000;
const RUN = 'nitbook 1\ngreyscale g\n    level Y x y\n    ';
const MODE = 'nitbook 1\nmode m\n  ';
const many = (n: number, line: (i: number) => string): string => `nitbook 1\n${Array.from({ length: n }, (_, i) => line(i)).join('\n')}`;
const fill = (unit: string, length = N / 4): string => unit.repeat(length / unit.length);

/** The lines that can be made of each unit, by name. */
const inLines = (units: readonly string[], lines: (unit: string) => Readonly<Record<string, string>>): Record<string, () => string> =>
  Object.fromEntries(
    units.flatMap((unit) => Object.entries(lines(unit)).map(([name, text]) => [`${name} of ${JSON.stringify(unit)}`, () => text] as const)),
  );

/** Shapes that a loop in a loop would take minutes for; each is read, said, laid out and read again after a change. */
const SHAPES: Readonly<Record<string, () => string>> = {
  ...inLines(['"', '#', ':', '|', '\t', '~', '<', '-', '[', ']', '\\', '：', '= ', '"a'], (unit) => ({
    row: `${RUN}30 ${fill(unit, N)}`,
    'first line': fill(unit, N),
    property: `${MODE}a: ${fill(unit)}`,
    name: `${MODE}a ${fill(unit)}`,
    head: `nitbook 1\nmode m ${fill(unit)}`,
    'column line': `nitbook 1\ntuning t\n    Y ${fill(unit)}`,
  })),
  ...inLines(
    ['"" ', '# ', ' #', ': ', '| ', '~ ', '< ', '< 1 ', '- 1 ', '[ ', 'a ', 'y ', '? ', 'a\t\t', '0,3 ', '\\"', 'Y [a] ', 'u′ ', '1e'],
    (unit) => ({
      row: `${RUN}30 ${fill(unit)}`,
      table: `nitbook 1\ntuning t\n    Y ${fill(unit)}\n    1 ${fill(unit)}`,
    }),
  ),
  ...Object.fromEntries(
    ['1,', '1 ', '1, ', '1..', 'on, ', '"', '\\', 'power ', 'aim 1, ', '-', '\u00a0'].map((unit) => [
      `values of ${JSON.stringify(unit)}`,
      () =>
        [
          'target t',
          'curve',
          'white',
          'luminance',
          'space',
          'session',
          'room',
          'warm-up',
          'mode m',
          '.automatic',
          '.scope',
          'limits',
          'a',
          'observations',
          'b',
          'meter p',
          'checked',
          'tuning t2',
          'control',
        ]
          .map((name) =>
            /^(target|session|mode|limits|observations|meter|tuning)/.test(name)
              ? name
              : `  ${name}: power 1 "a${fill(unit)}\n  ${name}: ${fill(unit)}1`,
          )
          .join('\n'),
    ]),
  ),
  'line ends': () => fill('\n', N),
  'carriage returns': () => fill('\r', N),
  'a line of one letter': () => fill('a', N),
  'a line of one digit': () => `${RUN}${fill('9', N)}`,
  'each block from the one above': () => many(3000, (i) => `mode m${i} from m${i - 1}\n  a: ${i}`),
  'each block from the one below': () => many(3000, (i) => `mode m${i} from m${i + 1}`),
  'all blocks in one circle': () => many(3000, (i) => `mode m${i} from m${(i + 1) % 3000}`),
  'one id for all blocks': () => many(4000, () => 'mode m'),
  'many displays': () => many(4000, (i) => `display d${i}`),
  'blocks without ids': () => many(4000, () => 'mode'),
  'references to nothing': () => many(3000, (i) => `mode m${i}\ngreyscale g${i} like q${i}\n  mode: n${i}\n  target: t${i}`),
  'runs that say nothing of many': () => many(3000, (i) => `mode m${i}\ntarget t${i}\nmeter p${i}\nsignal s${i}\ngreyscale g${i}`),
  'one property again and again': () => MODE + Array.from({ length: 4000 }, (_, i) => `a: ${i}`).join('\n  '),
  'settings of many names': () => MODE + Array.from({ length: 4000 }, (_, i) => `a${i}: ?`).join('\n  '),
  'rows with something to say each': () => RUN + Array.from({ length: 4000 }, (_, i) => `${i},5 < 3 "a`).join('\n    '),
  'rows without columns': () => `nitbook 1\ngreyscale g\n${many(4000, (i) => `    ${i} 5`)}`,
  'many columns over many short rows': () => `nitbook 1\ntuning t\n    Y ${fill('"a" ')}\n${'    1 2\n'.repeat(4000)}`,
  'many columns of their own names': () =>
    `nitbook 1\nspectrum s\n    nm ${Array.from({ length: 4000 }, (_, i) => `c${i}`).join(' ')}\n    500 ${fill('0,3 ')}`,
  'merges in merges': () => many(4000, (i) => (i % 3 ? '<<<<<<<' : '>>>>>>>')),
  'heads in the wrong place': () => many(4000, (i) => `  mode m${i}`),
};

describe('hostile shapes take their time by their length alone', () => {
  it.each(Object.entries(SHAPES))('%s', (_, make) => {
    const text = make();
    const source = SessionText.read(text);
    expect(source.lines.map((line) => line.text + line.eol).join('')).toBe(text);
    expect(textFindings(source).every((f) => f.span[0] <= f.span[1] && f.span[1] <= text.length)).toBe(true);
    const laid = applyEdits(text, formatEdits(source));
    expect(formatEdits(SessionText.read(laid))).toEqual([]);
    const at = text.length >> 1;
    const changed = source.change([{ span: [at, at + 1], text: '~' }]);
    expect(changed.lines).toHaveLength(SessionText.read(changed.text).lines.length);
    plan(source, { do: 'setCell', block: 'g', line: 2, column: 'Y', text: '5' });
    plan(source, { do: 'setProperty', block: 'm', name: 'a', value: 'b' });
  });
});
