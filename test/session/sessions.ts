import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';

// Paths from the project's folder, so that a bundle of it finds them too.
export const examples: readonly string[] = readdirSync('examples')
  .filter((name) => name.endsWith('.nitbook'))
  .sort()
  .map((name) => readFileSync(`examples/${name}`, 'utf8'));

/** The example of the format's description: in its canonical layout, without a finding but what is said to be still open. */
export const CANONICAL = readFileSync('test/session/canonical.nitbook', 'utf8');

const pick = <T>(...of: T[]): fc.Arbitrary<T> => fc.constantFrom(...of);
const chance = (text: fc.Arbitrary<string>, weight = 1): fc.Arbitrary<string> =>
  fc.oneof({ weight: 3, arbitrary: fc.constant('') }, { weight, arbitrary: text });

const blank = fc.oneof(
  { weight: 8, arbitrary: pick(' ', '  ', '    ') },
  { weight: 1, arbitrary: pick('\t', '\t\t', ' ', '\u00a0', '\u3000', ' \t') },
);
const id = pick('grey', 'sdr', 'cinema', 'dark', 'probe', 'a', 'b', 'file', 'from', 'like', 'x-1');
const keyword = pick(
  'mode',
  'target',
  'meter',
  'signal',
  'greyscale',
  'tracking',
  'saturation',
  'window',
  'tuning',
  'display',
  'session',
  'observations',
  'limits',
  'correction',
  'spectrum',
  'Unknown',
);
const cell = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: 0, max: 1000, noNaN: true }).map((n) => n.toPrecision(4)) },
  {
    weight: 4,
    arbitrary: pick(
      '-',
      '?',
      '<0.003',
      '>700',
      '0,31',
      '10%',
      '−3',
      '< 0.003',
      '− 3',
      '+ 5',
      '"Gain red"',
      '"open',
      '"a"b',
      'red',
      'x',
      '~',
      '#2',
      '|',
      '"\\',
      '<',
      '1e3',
      '.5',
      '5.',
      '12:',
    ),
  },
);
const column = pick(
  'level',
  'Y',
  'x',
  'y',
  'hue',
  'sat',
  'R',
  'G',
  'B',
  't',
  'patch',
  'ref.Y',
  'Y(fL)',
  'Y[fL]',
  'level [10bit]',
  'level[10bit]',
  'u′',
  "u'",
  '"Gain red"',
  'foo',
  'nm',
  'window',
);
const tail = chance(pick(' # note', '  ## x', ' #', '  | remark', '  | remark # note', ' |', '#no', '  # 注：'));
const value = pick(
  'limited',
  '10',
  '10 %',
  '?',
  '~',
  '',
  'HDMI #2',
  '"HDMI # 2"',
  '"open',
  '"a" b',
  'power 2.4',
  '−10',
  '"−1"',
  'power',
  'power 2.4',
  '−10',
  '"−1"',
  'd65',
  'dark',
  'probe',
  'cinema',
  '1000 cd/m2',
  '1,5 %',
  'aim 1, limit 3',
  'slight, one clip',
  'on',
  '画面',
  'a：b',
);
const name = pick(
  'range',
  'mode',
  'target',
  'meter',
  'signal',
  'curve',
  '.input',
  '.mode',
  'Picture / Aspect 16:9',
  '"Screen: x"',
  '画面 / 色温',
  'x-own',
  'white',
  'Banding',
  'depth',
  'control',
  'e\u0301',
);

const joined = (parts: fc.Arbitrary<string>, max: number): fc.Arbitrary<string> =>
  fc.array(fc.tuple(blank, parts), { minLength: 1, maxLength: max }).map((list) => list.map(([b, p], i) => (i ? b : '') + p).join(''));
const line = (...parts: fc.Arbitrary<string>[]): fc.Arbitrary<string> => fc.tuple(...parts).map((texts) => texts.join(''));
const struck = chance(pick('~', '~ ', '  ~ '));
const indent = fc.oneof({ weight: 8, arbitrary: pick('  ', '    ') }, { weight: 1, arbitrary: pick('', '\t', ' ') });

const header = line(
  chance(pick('~', '~ ', ' ')),
  keyword,
  chance(
    id.map((i) => ` ${i}`),
    9,
  ),
  chance(pick(' "Title"', ' "open', ' 2026-03-14', ' stray', ' "a\\"b"')),
  chance(fc.tuple(pick(' from ', ' like '), id).map((p) => p.join(''))),
  tail,
);
const row = line(indent, struck, joined(cell, 6), tail);
const property = line(indent, struck, name, pick(':', ': ', ' : ', '：', ':  '), value, tail);
const columns = line(indent, struck, joined(column, 5), tail);
const other = pick(
  '',
  '  ',
  '# comment',
  '  | note',
  '<<<<<<< ours',
  '=======',
  '>>>>>>> theirs',
  '||||||| base',
  'nitbook 1',
  '  mode x',
  '  prose of no kind',
  '~',
  '  ~',
  '：',
  '  ：x',
  '\ufeff',
  '  "open \\',
);

const anyLine = fc.oneof(
  { weight: 3, arbitrary: header },
  { weight: 5, arbitrary: row },
  { weight: 3, arbitrary: property },
  { weight: 2, arbitrary: columns },
  { weight: 2, arbitrary: other },
);
const eol = fc.oneof(
  { weight: 6, arbitrary: fc.constant('\n') },
  { weight: 2, arbitrary: fc.constant('\r\n') },
  { weight: 1, arbitrary: fc.constant('\r') },
);

/** What someone might have typed: mostly of the right shapes, often with a slip. */
export const plausible: fc.Arbitrary<string> = fc
  .tuple(chance(fc.constant('\ufeff')), pick('nitbook 1\n', 'nitbook 1\r\n', ''), fc.array(fc.tuple(anyLine, eol), { maxLength: 24 }))
  .map(([bom, version, lines]) => bom + version + lines.map((parts) => parts.join('')).join(''));

/** Text of any kind: all of Unicode, lone halves of pairs, marks and line ends more often than their share. */
export const anyText: fc.Arbitrary<string> = fc
  .array(
    fc.oneof(
      fc.string({ unit: 'binary', maxLength: 6 }),
      pick(...'~|#:"\\<>-?[]()=\t\r\n \u00a0：'.split(''), '\r\n', '\n    ', '\nmode a\n', '\ngreyscale g\n    level Y\n'),
    ),
    { maxLength: 40 },
  )
  .map((parts) => parts.join(''));

/** A part of an example with some of its characters changed. */
export const mutated: fc.Arbitrary<string> = fc
  .tuple(
    fc.constantFrom(...examples),
    fc.nat(),
    fc.array(
      fc.tuple(fc.nat(), fc.nat(2), fc.oneof(pick(...'~|#:",.<>-?[ \t\n\r'.split('')), fc.string({ unit: 'binary', maxLength: 2 }))),
      { minLength: 1, maxLength: 12 },
    ),
  )
  .map(([text, from, changes]) => {
    const start = from % text.length;
    let part = (start % 2 ? 'nitbook 1\n' : '') + text.slice(start, start + 1500);
    for (const [at, removed, put] of changes) {
      const place = at % (part.length + 1);
      part = part.slice(0, place) + put + part.slice(place + removed);
    }
    return part;
  });

export const sessionLike: fc.Arbitrary<string> = fc.oneof(
  { weight: 5, arbitrary: plausible },
  { weight: 2, arbitrary: mutated },
  { weight: 1, arbitrary: anyText },
);
