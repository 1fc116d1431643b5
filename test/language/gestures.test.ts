import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { isRefusal, refusalText } from '../../src/language/answers';
import {
  addLevels,
  addRepeats,
  duplicateRun,
  insertTime,
  nextOpen,
  openPlaces,
  rowLayout,
  rowLayoutAbove,
  strikeAndTakeAgain,
  toggleStrike,
} from '../../src/language/gestures';
import { textFindings } from '../../src/session/findings';
import { formatEdits } from '../../src/session/layout';
import { sessionOf } from '../../src/session/session';
import { SessionText } from '../../src/session/sessionText';
import { applyEdits, type Span } from '../../src/text/span';
import { analysed } from '../report/sessions';
import { examples, sessionLike } from '../session/sessions';
import { at, changed, cut, edited, slippedRuns } from './cursor';

const V = 'nitbook 1\n';
const RUN = `${V}greyscale g
  mode: ?
    level   Y         x        y
       100  119.6     0.3089   0.3248
         0  <0.003    -        -
        30  6.70      ?        0.3279
  ~     40  ?         ?        ?
       100  ?
contrast c
    patch   Y
    white   ?
`;

describe('the next thing to take', () => {
  it('comes behind the cursor, and from the top again', () => {
    const source = SessionText.read(RUN);
    const places = openPlaces(source);
    expect(places.map(({ is, block, name, key, span }) => `${is} ${block} ${key} ${name} "${cut(RUN, span)}"`)).toEqual([
      'property g  mode "?"',
      'reading g 30 x "?"',
      'reading g 100 Y "?"',
      'reading g 100 x ""',
      'reading c white Y "?"',
    ]);
    const visited: number[] = [];
    for (let place = nextOpen(source, 0)!; visited.length < 6; place = nextOpen(source, place.span[0])!) visited.push(place.span[0]);
    expect(visited).toEqual([...places.map(({ span }) => span[0]), places[0]!.span[0]]);
    expect(nextOpen(source, 0, 'reading')).toEqual(places[1]);
    expect(nextOpen(source, RUN.length, 'reading')).toEqual(places[1]);
    expect(nextOpen(source, Number.NaN)).toEqual(places[0]);
  });
  it('is nothing in a session that is done, or in what is struck out', () => {
    expect(nextOpen(SessionText.read(V), 0)).toBeUndefined();
    expect(nextOpen(SessionText.read(`${V}~ greyscale g\n    level Y\n    5 ?\n`), 0)).toBeUndefined();
  });
  test('is counted as the analysis counts it', () => {
    for (const text of examples) {
      const analysis = analysed(text);
      const runs = new Set(analysis.session.runs.map(({ id }) => id));
      const rows = new Set(
        openPlaces(analysis.source).flatMap(({ is, block, span }) =>
          is === 'reading' && runs.has(block) ? [analysis.source.lineAt(span[0])] : [],
        ),
      );
      expect(rows.size).toBe(analysis.toTake);
    }
  });
});

describe('the layout of a row', () => {
  it('is that of the row being left, and of no other line', () => {
    const { source, text, offset } = at(`${V}greyscale g\n mode: m\n    level Y   x\n 30   6.70 0.31\n‸`);
    expect(changed(text, rowLayoutAbove(source, offset))).toEqual(['        30  6.70      0.31']);
    expect(rowLayout(source, 1)).toEqual([]);
    expect(rowLayout(source, 2)).toEqual([]);
    expect(changed(text, rowLayout(source, 3))).toEqual(['    level   Y         x']);
    expect(rowLayout(source, 99)).toEqual([]);
    expect(rowLayoutAbove(source, -5)).toEqual([]);
  });
});

const span = (text: string, from: string, to = from): Span => [text.indexOf(from), text.indexOf(to, text.indexOf(from)) + to.length];

describe('a strike', () => {
  it('takes all rows and properties of a selection, and brings them back together', () => {
    const source = SessionText.read(RUN);
    const selection = span(RUN, 'mode: ?', '30  6.70');
    const struck = edited(RUN, toggleStrike(source, selection));
    expect(struck.split('\n').slice(1, 8)).toEqual([
      'greyscale g',
      '  ~ mode: ?',
      '    level   Y         x        y',
      '  ~    100  119.6     0.3089   0.3248',
      '  ~      0  <0.003    -        -',
      '  ~     30  6.70      ?        0.3279',
      '  ~     40  ?         ?        ?',
    ]);
    expect(edited(struck, toggleStrike(SessionText.read(struck), span(struck, 'mode: ?', '30  6.70')))).toBe(RUN);
  });
  it('of whole lines ends before the next one', () => {
    const start = RUN.indexOf('         0');
    expect(changed(RUN, toggleStrike(SessionText.read(RUN), [start, RUN.indexOf('        30')]))).toEqual([
      '  ~      0  <0.003    -        -',
    ]);
  });
  it('of a head voids the block', () => {
    expect(changed(RUN, toggleStrike(SessionText.read(RUN), span(RUN, 'contrast')))).toEqual(['~ contrast c']);
  });
  it('is refused where there is nothing to strike', () => {
    expect(toggleStrike(SessionText.read(RUN), [0, 3])).toEqual({ code: 'no-line', args: {} });
    expect(toggleStrike(SessionText.read('nitbook 2\nmode m\n'), [11, 11])).toEqual({ code: 'version-newer', args: { version: 2 } });
  });
});

describe('taking again', () => {
  it('is one gesture for all rows of a selection', () => {
    const source = SessionText.read(RUN);
    expect(changed(RUN, strikeAndTakeAgain(source, span(RUN, '<0.003', '6.70')))).toEqual([
      '  ~      0  <0.003    -        -',
      '         0  ?         ?        ?',
      '  ~     30  6.70      ?        0.3279',
      '        30  ?         ?        ?',
    ]);
    expect(changed(RUN, addRepeats(source, span(RUN, '119.6')))).toEqual(['       100  ?         ?        ?']);
    expect(addRepeats(source, span(RUN, 'contrast'))).toEqual({ code: 'no-row', args: {} });
  });
});

describe('adding levels', () => {
  const levels = (marked: string, list: string): string[] | string => {
    const { source, text, offset } = at(marked);
    const answer = addLevels(source, offset, list);
    if (isRefusal(answer)) return refusalText(answer);
    const result = edited(text, answer).split(/\r\n|\r|\n/);
    const lines = text.split(/\r\n|\r|\n/);
    expect(result.filter((line) => lines.includes(line)).length, 'the rows that were there stay as they were').toBeGreaterThanOrEqual(
      lines.length,
    );
    return result.slice(result.findIndex((line) => /^ +(level|hue|window|patch)/.test(line))).filter((line) => line !== '');
  };
  const row = (level: string | number, rest = ' ?         ?        ?') => `${String(level).padStart(10)} ${rest}`;

  it('puts them in the order of the rows, around a white that stands first and one that is repeated', () => {
    const run = `${V}greyscale g‸
    level   Y         x        y
       100  1         1        1
         0  2         2        2
  ~     30  3         3        3
        30  4         4        4
        30  5         5        5
       100  6         6        6
`;
    expect(levels(run, '0..100 step 20, 30, 25')).toEqual([
      '    level   Y         x        y',
      row(100, ' 1         1        1'),
      row(0, ' 2         2        2'),
      row(20),
      row(25),
      '  ~     30  3         3        3',
      row(30, ' 4         4        4'),
      row(30, ' 5         5        5'),
      row(40),
      row(60),
      row(80),
      row(100, ' 6         6        6'),
    ]);
  });
  it('follows rows that fall', () => {
    expect(levels(`${V}window w‸\n    window  Y\n       100  1\n        50  2\n         1  3\n`, '0.5, 10, 25, 1')).toEqual([
      '    window  Y',
      '       100  1',
      '        50  2',
      '        25  ?',
      '        10  ?',
      '         1  3',
      '       0.5  ?',
    ]);
  });
  it('before the first row, into an empty run, and into one without columns', () => {
    expect(levels(`${V}window w‸\n    window  Y\n        50  2\n`, '5, 1')).toEqual([
      '    window  Y',
      '         1  ?',
      '         5  ?',
      '        50  2',
    ]);
    expect(levels(`${V}window w‸\n    window  Y\n`, '5, 1')).toEqual(['    window  Y', '         5  ?', '         1  ?']);
    expect(levels(`${V}tracking t‸\n  mode: m\n\n`, '2 steps')).toEqual(['    level   Y         x        y', row(0), row(100)]);
  });
  it('of the hue of the row at the cursor', () => {
    const run = (where: string) =>
      `${V}saturation s\n    hue     sat     Y\n    red     50      1${where}\n    red     100     1\n    blue    100     1\n`;
    const lines = ['    hue     sat     Y', '    red     50      1', '    red     100     1', '    blue    100     1'];
    expect(levels(run('‸'), '50, 75')).toEqual(lines.toSpliced(2, 0, '    red     75      ?'));
    expect(levels(run('').replace('blue', 'blu‸e'), '75')).toEqual(lines.toSpliced(3, 0, '    blue    75      ?'));
    expect(levels(`${V}saturation s‸\n    hue     sat     Y\n`, '75')).toBe('Put the cursor on a row: which hue is meant?');
  });
  it('in the unit of the column', () => {
    const run = `${V}greyscale g‸\n    level[10bit]  Y\n              64  1\n`;
    expect(levels(run, '64..68 step 2')).toEqual([
      '    level[10bit]  Y',
      '              64  1',
      '              66  ?',
      '              68  ?',
    ]);
    expect(levels(run, '21 steps')).toBe('"21 steps" is in per cent, and the column level[10bit] is not: write its numbers.');
  });
  it('with the line ends of the file', () => {
    const { source, text, offset } = at(`${V}window w‸\n    window  Y\n        50  2\n`.replaceAll('\n', '\r\n'));
    expect(edited(text, addLevels(source, offset, '60'))).toBe(`${text}        60  ?\r\n`);
  });
  it('is no edit when all are there', () => {
    const { source, offset } = at(`${V}window w‸\n    window  Y\n        50  2\n`);
    expect(addLevels(source, offset, '50')).toEqual([]);
  });
  it.each([
    [`${V}mode m‸`, '5', 'There is no run here that is not struck out: put the cursor in one.'],
    [`${V}~ window w‸`, '5', 'There is no run here that is not struck out: put the cursor in one.'],
    [`${V}contrast c‸\n    patch Y\n`, '5', 'The rows of c are not told apart by one level: a contrast run takes none here.'],
    [
      `${V}window c‸\n    window Y\n`,
      'a few',
      'Expected "0..100 step 5", "21 steps", "near-black", or a list of them and of numbers such as "100, 0..100 step 10", found "a few".',
    ],
  ])('is refused: %j', (marked, list, sentence) => expect(levels(marked, list)).toBe(sentence));
});

describe('a run for another mode', () => {
  const TEXT = `${V}mode cinema "As shipped"
mode tuned "As adjusted" from cinema
saturation sat "Shipped"
  mode: cinema
  taken: 2026-03-14 15:30
  note: with the light on
    hue     sat     Y         x        y
    red     50      1         0.4      0.3
  ~ red     100     9         0.6      0.3
    "my red"  100   2         0.6      0.3
    red     50      3         0.4      0.3

# About what follows
limits
`;
  it('is like it, with the same rows to take', () => {
    const { source, text, offset } = at(TEXT.replace('Shipped"\n', 'Shipped"‸\n'));
    const answer = duplicateRun(source, offset, 'tuned');
    if (isRefusal(answer)) throw new Error(answer.code);
    const made = edited(text, answer.edits);
    expect(made).toBe(
      TEXT.replace(
        '\n\n#',
        `

saturation sat-tuned "As adjusted" like sat
  mode: tuned
  taken: ?
  note: ~
    hue     sat     Y         x        y
    red     50      ?         ?        ?
    "my red"  100   ?         ?        ?
    red     50      ?         ?        ?

#`,
      ),
    );
    const source2 = SessionText.read(made);
    expect(formatEdits(source2).every(({ span: [start] }) => start < made.indexOf('sat-tuned'))).toBe(true);
    expect(sessionOf(source2).runs[1]!.mode?.name).toBe('tuned');
    const again = duplicateRun(source2, offset, 'tuned');
    expect(isRefusal(again) ? again.code : again.id).toBe('sat-tuned-2');
  });
  it.each<[string, string, string | undefined, string]>([
    ['mode ci‸nema', 'tuned', undefined, 'no-run'],
    ['lag ‸sat', 'dark', undefined, 'no-mode'],
    ['lag ‸sat', 'cinema', 'sat', 'id-taken'],
    ['lag ‸sat', 'cinema', 'a b', 'id-form'],
    ['lag sat\nlag ‸sat', 'cinema', undefined, 'run-second'],
  ])('is refused: %s for %s', (run, mode, id, code) => {
    const { source, offset } = at(`${V}mode cinema\n${run}\n`);
    const answer = duplicateRun(source, offset, mode, id);
    expect(isRefusal(answer) && answer.code).toBe(code);
  });
});

describe('the time', () => {
  const NOW = '2026-03-14 15:30';
  const timed = (marked: string): string[] | string => {
    const { source, text, offset } = at(V + marked);
    return changed(text, insertTime(source, offset, NOW));
  };
  it.each<[string, string[]]>([
    ['lag g‸\n  mode: m\n', [`  taken: ${NOW}`]],
    ['lag g\n  taken: ?‸  # c\n', [`  taken: ${NOW}  # c`]],
    ['lag g\n    place  lag\n    a  1‸  # c\n', ['    a  1  | 15:30  # c']],
    ['lag g\n    place  lag\n  ~ a  1  | odd‸\n', ['  ~ a  1  | odd, 15:30']],
    ['lag g\n    place  lag\n    a  1  |‸\n', ['    a  1  | 15:30']],
    ['lag g\n  | note ‸\n', ['  | note 15:30']],
    ['lag g\n  | be‸fore\n', ['  | be 15:30 fore']],
    ['‸# c\n', ['# 15:30 c']],
    ['meter m\n  checked‸: ?\n', [`  checked: ${NOW}`]],
    ['session‸\n', ['session 2026-03-14']],
    ['session 2026-01-01‸ # c\n', ['session 2026-03-14 # c']],
  ])('%j', (marked, lines) => expect(timed(marked)).toEqual(lines));
  it('is refused where it has no place, and when it is none', () => {
    expect(timed('mode m‸\n')).toBe('time-place');
    const { source, offset } = at(`${V}lag g‸`);
    for (const time of ['15:30', '2026-03-14', '2026-02-30 15:30', 'now', '2026-03-14 15:30\n'])
      expect(insertTime(source, offset, time)).toEqual({ code: 'time-form', args: { found: time } });
  });
});

test('gestures change no line but their own, and never throw, whatever the text and offset', () => {
  const where = fc.double({ min: -0.1, max: 1.1, noNaN: true });
  fc.assert(
    fc.property(
      fc.oneof({ weight: 9, arbitrary: sessionLike }, { weight: 1, arbitrary: fc.constantFrom(...examples) }),
      where,
      where,
      (text, a, b) => {
        const source = SessionText.read(text);
        const [from, to] = [Math.trunc(a * text.length), Math.trunc(b * text.length)];
        const duplicate = duplicateRun(source, from, 'cinema');
        const answers = [
          toggleStrike(source, [from, to]),
          strikeAndTakeAgain(source, [from, to]),
          addRepeats(source, [from, to]),
          addLevels(source, from, '0..100 step 10, near-black'),
          isRefusal(duplicate) ? duplicate : duplicate.edits,
          insertTime(source, from, '2026-03-14 15:30'),
          rowLayoutAbove(source, from),
        ];
        for (const answer of answers) {
          if (isRefusal(answer)) {
            expect(refusalText(answer)).not.toMatch(/\{[a-z]+\}|^[a-z-]+$/);
            continue;
          }
          const result = applyEdits(text, answer);
          expect(SessionText.read(result).lines.length).toBeGreaterThanOrEqual(source.lines.length);
          textFindings(SessionText.read(result));
        }
        nextOpen(source, from);
        const levelled = answers[3]!;
        if (isRefusal(levelled)) return;
        const again = SessionText.read(applyEdits(text, levelled));
        expect(addLevels(again, Math.max(0, Math.min(from, text.length)), '0..100 step 10, near-black'), 'levels are added once').toEqual(
          [],
        );
      },
    ),
    { seed: 20260314, numRuns: 150 },
  );
});

/** The blocks of a text, each as it is written. */
const blocksOf = (source: SessionText): string[] => source.blocks.map((block) => block.lines.map((line) => line.text + line.eol).join(''));

test('in runs with slips gestures leave the other blocks byte for byte, and are read as asked', () => {
  const made = { strike: 0, again: 0, repeat: 0, levels: 0, duplicate: 0, time: 0 };
  fc.assert(
    fc.property(slippedRuns, ({ text, offset }) => {
      const source = SessionText.read(text);
      const line = source.lineAt(offset);
      const index = source.blockAt(line);
      const live = (of: SessionText, block: number) => of.blocks[block]!.rowLines.filter((i) => !of.blocks[block]!.row(i).struck).length;
      const done = (kind: keyof typeof made, answer: ReturnType<typeof toggleStrike>): SessionText | undefined => {
        if (isRefusal(answer) || answer.length === 0) return undefined;
        made[kind]++;
        const after = SessionText.read(applyEdits(text, answer));
        const [before, now] = [blocksOf(source), blocksOf(after)];
        // The last line of a file may get its end.
        expect(now.toSpliced(index, now.length - before.length + 1)).toEqual(before.toSpliced(index, 1));
        return after;
      };
      const struck = done('strike', toggleStrike(source, [offset, offset]));
      if (struck) {
        expect(struck.lines[line]!.struck).toBe(!source.lines[line]!.struck);
        const back = SessionText.read(edited(struck.text, toggleStrike(struck, [struck.lineStart(line), struck.lineStart(line)])));
        expect(back.lines[line]!.struck).toBe(source.lines[line]!.struck);
      }
      const again = done('again', strikeAndTakeAgain(source, [offset, offset]));
      if (again) {
        expect([again.lines[line]!.struck, again.lines[line + 1]!.kind, again.lines[line + 1]!.struck]).toEqual([true, 'row', false]);
        expect(openPlaces(again).some(({ span }) => again.lineAt(span[0]) === line + 1)).toBe(true);
      }
      const repeat = done('repeat', addRepeats(source, [offset, offset]));
      if (repeat) expect(repeat.lines[line]!.text).toBe(source.lines[line]!.text);
      const levels = addLevels(source, offset, '5, 25.5, 100');
      const levelled = done('levels', levels);
      if (levelled) {
        expect(live(levelled, index) - live(source, index)).toBeGreaterThan(0);
        expect(addLevels(levelled, offset, '5, 25.5, 100')).toEqual([]);
      }
      const duplicate = duplicateRun(source, offset, 'tuned');
      const doubled = done('duplicate', isRefusal(duplicate) ? duplicate : duplicate.edits);
      if (doubled && !isRefusal(duplicate)) {
        expect(doubled.blocks[index + 1]!.name).toBe(duplicate.id);
        expect(live(doubled, index + 1)).toBe(source.blocks[index]!.columns ? live(source, index) : 0);
      }
      const timed = done('time', insertTime(source, offset, '2026-03-14 15:30'));
      if (timed) expect(timed.text).toContain('15:30');
    }),
    { seed: 20260314, numRuns: 400 },
  );
  for (const [kind, times] of Object.entries(made)) expect(times, kind).toBeGreaterThan(50);
});
