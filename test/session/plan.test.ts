import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatEdits } from '../../src/session/layout';
import { cellCount, cellText } from '../../src/session/line';
import { blockLabels } from '../../src/session/nodes';
import { type Intent, plan, REFUSALS } from '../../src/session/plan';
import { SessionText } from '../../src/session/sessionText';
import { tableOf } from '../../src/session/table';
import { applyEdits, type TextEdit } from '../../src/text/span';
import { CANONICAL, sessionLike } from './sessions';

const V = 'nitbook 1\n';
const RUN = `${V}greyscale g
  mode: m  # whose
    level   Y         x        y
         0  <0.003    -        -
        30  6.70      0.3099   0.3279  | as it came  # seen
        40  ?
`;

const planned = (text: string, intent: Intent): readonly TextEdit[] | string => {
  const answer = plan(SessionText.read(text), intent);
  return 'code' in answer ? answer.code : answer;
};
/** The text after a gesture. */
function done(text: string, intent: Intent): string {
  const edits = planned(text, intent);
  if (typeof edits === 'string') throw new Error(`${edits} for ${JSON.stringify(intent)}`);
  return applyEdits(text, edits);
}
/** The lines that a gesture leaves unlike before. */
function changed(text: string, intent: Intent): string[] {
  const before = text.split('\n');
  return done(text, intent)
    .split('\n')
    .filter((line) => !before.includes(line));
}
const cell = (line: number, column: string, text: string, block = 'g'): Intent => ({ do: 'setCell', block, line, column, text });

describe('a cell', () => {
  it('takes and leaves blanks so that the next one keeps its stop', () => {
    expect(changed(RUN, cell(4, 'Y', '6.701'))).toEqual(['        30  6.701     0.3099   0.3279  | as it came  # seen']);
    expect(changed(RUN, cell(4, 'Y', '6'))).toEqual(['        30  6         0.3099   0.3279  | as it came  # seen']);
    expect(planned(RUN, cell(4, 'Y', '6.701'))).toEqual([{ span: [RUN.indexOf('6.70') + 4, RUN.indexOf('6.70') + 5], text: '1' }]);
  });
  it('pushes the next one when it is wide, and lets it back', () => {
    const wide = done(RUN, cell(4, 'Y', '6.70000001'));
    expect(wide.split('\n')[5]).toBe('        30  6.70000001  0.3099  0.3279  | as it came  # seen');
    expect(done(wide, cell(4, 'Y', '6.70'))).toBe(RUN);
  });
  it('of the first column stands at the right when it is a number', () => {
    expect(changed(RUN, cell(4, 'level', '5'))).toEqual(['         5  6.70      0.3099   0.3279  | as it came  # seen']);
  });
  it('left empty is still to take', () => {
    expect(changed(RUN, cell(4, 'x', ' '))).toEqual(['        30  6.70      ?        0.3279  | as it came  # seen']);
  });
  it('behind a short row is reached with ?', () => {
    expect(changed(RUN, cell(5, 'y', '0.33'))).toEqual(['        40  ?         ?        0.33']);
  });
  it('of a row between tabs leaves the tabs', () => {
    const text = `${V}greyscale g\n\tlevel\tY\tx\n\t30\t6.70\t0.31\t# c\n\t40\n\t50\t\t0.31\n`;
    expect(changed(text, cell(2, 'Y', '6.7000001'))).toEqual(['\t30\t6.7000001\t0.31\t# c']);
    expect(changed(text, cell(3, 'x', '0.3'))).toEqual(['\t40\t?\t0.3']);
    expect(changed(text, cell(4, 'Y', '5'))).toEqual(['\t50\t5\t0.31']);
  });
  it('of a row with stops of its own keeps the next one where it is', () => {
    const text = `${V}greyscale g\n  level Y x\n  30   6.70   0.31\n`;
    expect(changed(text, cell(2, 'Y', '6.7'))).toEqual(['  30   6.7    0.31']);
    expect(changed(text, cell(2, 'Y', '6.7012'))).toEqual(['  30   6.7012  0.31']);
    expect(changed(text, cell(2, 'level', '100'))).toEqual(['  100  6.70   0.31']);
  });
  it('is quoted when it is a word that would fall apart', () => {
    const text = `${V}contrast c\n    patch   Y\n    white   119\n`;
    for (const [typed, written] of [
      ['light grey', '"light grey"'],
      ['a:', '"a:"'],
      ['~', '"~"'],
      ['#2', '"#2"'],
      ['a"b c', '"a\\"b c"'],
      ['"grey"', '"grey"'],
      ['55"', '55"'],
    ]) {
      expect(
        changed(text, cell(2, 'patch', typed!, 'c'))[0]
          ?.trim()
          .replace(/ +119$/, ''),
        typed,
      ).toBe(written);
    }
  });
  it('may be a slip, which is then said where it stands', () => {
    expect(changed(RUN, cell(4, 'Y', '6,70'))).toEqual(['        30  6,70      0.3099   0.3279  | as it came  # seen']);
  });
  it('is refused when it would not be one cell', () => {
    for (const text of ['6.70 0.31', '|', '6\n7', '6 # x', '"open', '6\t7'])
      expect(planned(RUN, cell(4, 'Y', text)), text).toBe('plan-text');
    expect(planned(RUN, cell(4, 'level', '~'))).toBe('plan-text');
  });
  it('is refused where there is none', () => {
    expect(planned(RUN, cell(4, 'Q', '5'))).toBe('plan-column');
    expect(planned(RUN, cell(1, 'Y', '5'))).toBe('plan-line');
    expect(planned(RUN, cell(99, 'Y', '5'))).toBe('plan-line');
    expect(planned(RUN, cell(4, 'Y', '5', 'h'))).toBe('plan-block');
    expect(planned(RUN, cell(0, 'Y', '5', 'file'))).toBe('plan-block');
  });
});

describe('a strike', () => {
  const strike = (line: number, on = true, block = 'g'): Intent => ({ do: 'strike', block, line, on });
  it('moves nothing in a row', () => {
    expect(changed(RUN, strike(4))).toEqual(['  ~     30  6.70      0.3099   0.3279  | as it came  # seen']);
    expect(done(done(RUN, strike(4)), strike(4, false))).toBe(RUN);
    expect(planned(RUN, strike(4))).toEqual([{ span: [RUN.indexOf('        30') + 2, RUN.indexOf('        30') + 3], text: '~' }]);
  });
  it('is put before a property, a head, and a row with little room', () => {
    expect(changed(RUN, strike(1))).toEqual(['  ~ mode: m  # whose']);
    expect(changed(RUN, strike(0))).toEqual(['~ greyscale g']);
    expect(changed(`${V}greyscale g\n level Y\n 30 5`, strike(2))).toEqual([' ~ 30 5']);
    for (const line of [0, 1]) expect(done(done(RUN, strike(line)), strike(line, false))).toBe(RUN);
  });
  it('is no edit when it is there already', () => {
    expect(planned(RUN, strike(4, false))).toEqual([]);
  });
  it('is refused for what is not read', () => {
    expect(planned(`${RUN}# c\n`, strike(6))).toBe('plan-line');
  });
});

describe('a row to take', () => {
  it('comes under the one it repeats, with the same key', () => {
    expect(changed(RUN, { do: 'addRepeat', block: 'g', line: 3 })).toEqual(['         0  ?         ?        ?']);
    expect(done(RUN, { do: 'addRepeat', block: 'g', line: 3 }).split('\n')[5]).toBe('         0  ?         ?        ?');
  });
  it('comes in one gesture with the strike', () => {
    const text = done(RUN, { do: 'strikeAndTakeAgain', block: 'g', line: 4 });
    expect(text.split('\n').slice(5, 7)).toEqual([
      '  ~     30  6.70      0.3099   0.3279  | as it came  # seen',
      '        30  ?         ?        ?',
    ]);
    expect(planned(RUN, { do: 'strikeAndTakeAgain', block: 'g', line: 4 })).toHaveLength(2);
  });
  it('keeps all keys, and the controls of a tuning run', () => {
    const sat = `${V}saturation s\n    hue     sat     Y\n    red     50      44.1\n`;
    expect(changed(sat, { do: 'addRepeat', block: 's', line: 2 })).toEqual(['    red     50      ?']);
    const tuning = `${V}tuning t\n    "Gain red"  Y         x        y\n    -3          119       0.31     0.33`;
    expect(done(tuning, { do: 'addRepeat', block: 't', line: 2 })).toBe(`${tuning}\n            -3  ?         ?        ?`);
  });
  it('comes under the last one, by its columns', () => {
    expect(done(RUN, { do: 'addRow', block: 'g', cells: { x: '0.31', level: '50' } })).toBe(
      `${RUN.trimEnd()}\n        50  ?         0.31     ?\n`,
    );
    expect(done(`${V}contrast c\n    patch   Y`, { do: 'addRow', block: 'c', cells: { patch: 'light grey' } })).toBe(
      `${V}contrast c\n    patch   Y\n    "light grey"  ?`,
    );
  });
  it('takes the line ends of the file', () => {
    const text = RUN.replaceAll('\n', '\r\n');
    expect(done(text, { do: 'addRow', block: 'g', cells: { level: '50' } })).toBe(
      `${text.trimEnd()}\r\n        50  ?         ?        ?\r\n`,
    );
    expect(done(text.trimEnd(), { do: 'addRow', block: 'g', cells: { level: '50' } })).toBe(
      `${text.trimEnd()}\r\n        50  ?         ?        ?`,
    );
  });
  it('is refused without columns, for a column that is not there, and for two cells in one', () => {
    expect(planned(`${V}greyscale g\n`, { do: 'addRow', block: 'g', cells: {} })).toBe('plan-columns');
    expect(planned(RUN, { do: 'addRow', block: 'g', cells: { z: '1' } })).toBe('plan-column');
    expect(planned(RUN, { do: 'addRow', block: 'g', cells: { Y: '1 2' } })).toBe('plan-text');
  });
});

describe('a property', () => {
  const set = (name: string, value: string, block = 'g'): Intent => ({ do: 'setProperty', block, name, value });
  it('changes where it stands, with what is behind it', () => {
    expect(changed(RUN, set('mode', 'cinema'))).toEqual(['  mode: cinema  # whose']);
    expect(changed(RUN, set('mode', '?'))).toEqual(['  mode: ?  # whose']);
    expect(changed(RUN, set('mode', ''))).toEqual(['  mode:  # whose']);
    expect(changed(`${V}mode m\n  a:`, set('a', '5', 'm'))).toEqual(['  a: 5']);
  });
  it('is added under the last one, or under the head', () => {
    expect(done(RUN, set('taken', '2026-03-15'))).toBe(RUN.replace('# whose\n', '# whose\n  taken: 2026-03-15\n'));
    expect(done(`${V}mode m`, set('Aspect 16:9', 'Full', 'm'))).toBe(`${V}mode m\n  Aspect 16:9: Full`);
  });
  it('is quoted where it would be read as something else', () => {
    expect(changed(`${V}mode m\n`, set('Screen: Overscan', 'off', 'm'))).toEqual(['  "Screen: Overscan": off']);
    expect(changed(`${V}mode m\n`, set('a', 'HDMI # 2', 'm'))).toEqual(['  a: "HDMI # 2"']);
    expect(changed(`${V}mode m\n`, set('a', '"x', 'm'))).toEqual(['  a: "\\"x"']);
    expect(changed(`${V}mode m\n`, set('a', 'HDMI #2', 'm'))).toEqual(['  a: HDMI #2']);
    expect(changed(`${V}mode m\n`, set('# a', 'b', 'm'))).toEqual(['  "# a": b']);
  });
  it('passes over a struck one', () => {
    expect(changed(`${V}mode m\n  ~ a: 1\n  a: 2`, set('a', '3', 'm'))).toEqual(['  a: 3']);
  });
  it('is refused over two lines, or without a name', () => {
    expect(planned(RUN, set('mode', 'a\nb'))).toBe('plan-text');
    expect(planned(RUN, set('', 'a'))).toBe('plan-text');
  });
  it('is taken away with its line', () => {
    expect(done(RUN, { do: 'removeProperty', block: 'g', name: 'mode' })).toBe(RUN.replace('  mode: m  # whose\n', ''));
    expect(done(`${V}mode m\r\n  a: b`, { do: 'removeProperty', block: 'm', name: 'a' })).toBe(`${V}mode m`);
    expect(planned(RUN, { do: 'removeProperty', block: 'g', name: 'target' })).toBe('plan-property');
  });
});

describe('a refusal', () => {
  it('has a sentence for each of its codes', () => {
    for (const sentence of Object.values(REFUSALS)) expect(sentence).toMatch(/\{.*\.$/);
  });
  it('comes for the second block of a name only by its own label', () => {
    const text = `${V}greyscale\n    level Y\n    30 5\ngreyscale\n    level Y\n    30 5\n`;
    expect(done(text, cell(2, 'Y', '6', 'greyscale~2'))).toBe(`${text.slice(0, -2)}6\n`);
  });
});

describe('whatever the text', () => {
  const texts = fc.constantFrom(
    '6.70',
    '0.30991234',
    '?',
    '-',
    '<0.003',
    'red',
    'light grey',
    '',
    '"a"',
    '#',
    '~',
    'a: b',
    '<<<<<<<',
    '\u3000x',
    '12:',
  );
  const gestures = fc.tuple(fc.nat(), fc.nat(), fc.nat(), texts);

  function intentsOn(source: SessionText, [b, l, c, text]: readonly [number, number, number, string]): Intent[] {
    const index = b % source.blocks.length;
    const block = source.blocks[index]!;
    const label = blockLabels(source)[index]!;
    const line = l % block.lines.length;
    const names = block.columns?.columns.map((column) => column.name) ?? ['Y'];
    const column = names[c % names.length]!;
    return [
      { do: 'setCell', block: label, line: block.rowLines[l % Math.max(1, block.rowLines.length)] ?? line, column, text },
      { do: 'strike', block: label, line, on: c % 2 === 0 },
      { do: 'strikeAndTakeAgain', block: label, line },
      { do: 'addRow', block: label, cells: { [column]: text } },
      { do: 'setProperty', block: label, name: c % 2 ? 'mode' : text, value: text },
      { do: 'removeProperty', block: label, name: 'mode' },
    ];
  }

  it('a gesture touches its own line alone, keeps line ends, and reads as it was meant', () => {
    fc.assert(
      fc.property(fc.oneof(sessionLike, fc.constant(CANONICAL)), gestures, (text, gesture) => {
        const source = SessionText.read(text);
        for (const intent of intentsOn(source, gesture)) {
          const edits = plan(source, intent);
          if ('code' in edits) continue;
          const after = source.change(edits);
          const grown = after.lines.length - source.lines.length;
          expect(grown, intent.do).toBe(
            intent.do === 'strikeAndTakeAgain' || intent.do === 'addRow'
              ? 1
              : intent.do === 'removeProperty'
                ? -1
                : intent.do === 'setProperty'
                  ? grown && 1
                  : 0,
          );
          if (grown === 0) expect(after.lines.filter((line, i) => line.text !== source.lines[i]!.text).length).toBeLessThanOrEqual(1);
          if (grown === 0) expect(after.lines.map((line) => line.eol)).toEqual(source.lines.map((line) => line.eol));
          if (formatEdits(source).length === 0) expect(formatEdits(after), intent.do).toEqual([]);
          if (intent.do !== 'setCell') continue;
          const block = after.blocks[blockLabels(after).indexOf(intent.block)]!;
          const row = block.row(intent.line);
          const at = block.columns!.columns.findIndex((column) => column.name === intent.column);
          expect(row.kind).toBe('row');
          expect(cellCount(row)).toBeGreaterThan(at);
          const typed = intent.text.replace(/^\u3000/, '') || '?';
          expect([typed, `"${typed}"`]).toContain(cellText(row, at));
          expect(tableOf(block).rows).toHaveLength(source.blocks[blockLabels(source).indexOf(intent.block)]!.rowLines.length);
        }
      }),
      { seed: 20260314, numRuns: 300 },
    );
  });
});
