import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { isRefusal } from '../../src/language/answers';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { type Desk, locate, opEdits } from '../../src/sheet/ops';
import type { At, Op } from '../../src/sheet/protocol';
import { Trail } from '../../src/sheet/trail';
import { readTyped } from '../../src/sheet/typed';
import { DAY, edited } from './bench';

const lineOf = (text: string, start: string): number => text.split(/\r\n|\n/).findIndex((line) => line.trimStart().startsWith(start));

type Ask = Op extends infer O ? (O extends { at: At } ? Omit<O, 'at'> : never) : never;

/** The text after a gesture on the first line that starts so, or why it is refused. */
function done(text: string, start: string, ask: Ask, desk: Partial<Desk> = {}): string {
  const source = SessionText.read(text);
  const line = lineOf(text, start);
  expect(line, start).toBeGreaterThanOrEqual(0);
  const edits = opEdits({ source, ...desk }, { ...ask, at: { block: '', line, text: source.lines[line]!.text } } as Op, line);
  return isRefusal(edits) ? edits.code : source.change(edits).text;
}

describe('Gestures of the sheet', () => {
  it('write a cell, and leave the rest byte for byte', () => {
    expect(done(DAY, '40', { do: 'setCell', column: 'Y', text: '13.3' })).toBe(edited(DAY, ['40  ?   ', '40  13.3']));
  });

  it('stamp a row with its last reading, in the same edit', () => {
    const text = edited(DAY, ['40  ?         ?        ?', '40  13.3      0.31     ?']);
    const stamp = '2026-03-14 15:30';
    expect(done(text, '40', { do: 'setCell', column: 'y', text: '0.3271' }, { stamp })).toBe(
      edited(text, ['0.31     ?', '0.31     0.3271  | 15:30']),
    );
    expect(done(DAY, '40', { do: 'setCell', column: 'Y', text: '13.3' }, { stamp })).not.toContain('15:30');
    expect(done(DAY, '20', { do: 'setCell', column: 'Y', text: '2.55' }, { stamp })).not.toContain('15:30');
  });

  it('strike out and take again, and add a repeat', () => {
    expect(done(DAY, '20', { do: 'takeAgain' })).toBe(
      edited(DAY, ['        20  2.54      0.3130   0.3283\n', '  ~     20  2.54      0.3130   0.3283\n        20  ?         ?        ?\n']),
    );
    expect(done(DAY, '100', { do: 'addRepeat' })).toBe(edited(DAY, ['0.3248\n', '0.3248\n       100  ?         ?        ?\n']));
    expect(done(DAY, '20', { do: 'strike', on: true })).toBe(edited(DAY, ['        20  2.54', '  ~     20  2.54']));
  });

  it('add levels and rows', () => {
    expect(done(DAY, 'greyscale', { do: 'addLevels', levels: '50' })).toContain('40  ?         ?        ?\n        50  ?');
    expect(done(DAY, 'contrast', { do: 'addRow', cells: { patch: 'checker-white' } })).toContain('black   ?\n    checker-white  ?\n');
  });

  it('duplicate a run for a mode that is there, or for one as adjusted that takes its settings over', () => {
    expect(done(DAY, 'greyscale', { do: 'duplicate', mode: 'game' })).toContain('\n\ngreyscale grey-game like grey\n  mode: game\n');
    const text = done(DAY, 'greyscale', { do: 'duplicateAdjusted' });
    const [mode, run] = [
      'mode cinema-adjusted "Cinema, as adjusted" from cinema',
      'greyscale grey-cinema-adjusted "Cinema, as adjusted" like grey',
    ];
    expect(text.split('\n').filter((line) => !DAY.split('\n').includes(line))).toEqual(
      [
        mode,
        run,
        '  mode: cinema-adjusted',
        '        20  ?         ?        ?',
        '       100  ?         ?        ?',
        '         0  ?         ?        ?',
      ].sort((a, b) => text.indexOf(a) - text.indexOf(b)),
    );
    expect(text.indexOf(mode)).toBeLessThan(text.indexOf('mode game'));
    expect(done(text, 'greyscale grey-cinema', { do: 'duplicateAdjusted' })).toContain('mode cinema-adjusted-adjusted');
    expect(
      done(DAY.replace(/mode (?!:)[\s\S]*target dark/, 'target dark').replace('  mode: cinema\n', ''), 'greyscale', {
        do: 'duplicateAdjusted',
      }),
    ).toBe('no-mode');
  });

  it('keep the run apart from its mode where the run stands first', () => {
    const text = 'nitbook 1\ngreyscale grey\n  mode: m\n    level   Y\n        20  1\n\nmode m\n';
    const after = done(text, 'greyscale', { do: 'duplicateAdjusted' });
    expect(after).toBe(
      `${text.trimEnd()}\nmode m-adjusted "As adjusted" from m\n`.replace(
        '        20  1\n',
        '        20  1\n\ngreyscale grey-m-adjusted "As adjusted" like grey\n  mode: m-adjusted\n    level   Y\n        20  ?\n',
      ),
    );
  });

  it('write, add and take out notes', () => {
    expect(done(DAY, '| A note.', { do: 'setNote', text: 'Another.' })).toBe(edited(DAY, ['A note.', 'Another.']));
    expect(done(DAY, '| A note.', { do: 'setNote', text: '' })).toBe(edited(DAY, ['  | A note.\n', '']));
    expect(done(DAY, 'session', { do: 'setNote', text: 'One more # not a comment' })).toBe(
      edited(DAY, ['| A note.\n', '| A note.\n  | One more # not a comment\n']),
    );
    expect(done(DAY, '| A note.', { do: 'setNote', text: 'two\nlines' })).toBe('note-form');
    expect(done('nitbook 1\r\nsession 2026-03-14', 'session', { do: 'setNote', text: 'x' })).toBe(
      'nitbook 1\r\nsession 2026-03-14\r\n  | x',
    );
  });

  it('take over a mend of what was noticed, and refuse one that is gone', () => {
    const text = edited(DAY, ['2.54', '2,54']);
    const { source, findings } = analyse(SessionText.read(text), NO_CONFIG);
    const finding = findings.find(({ span }) => text.slice(...span) === '2,54')!;
    const start = finding.span[0] - source.lineStart(source.lineAt(finding.span[0]));
    expect(done(text, '20', { do: 'mend', code: finding.code, start, nth: 0 }, { source, findings })).toBe(DAY);
    expect(done(text, '20', { do: 'mend', code: finding.code, start: start + 1, nth: 0 }, { source, findings })).toBe('mend-gone');
    expect(done(text, '20', { do: 'mend', code: finding.code, start, nth: 9 }, { source, findings })).toBe('mend-gone');
  });

  it('paste only once it is said what the commas are', () => {
    const rows = '40 13,3 0,3121 0,3280';
    expect(done(DAY, '30', { do: 'paste', column: 'Y', text: rows, answers: {} })).toBe('paste-question');
    expect(done(DAY, '30', { do: 'paste', column: 'Y', text: rows, answers: { decimalComma: true } })).toContain(
      '40  13.3      0.3121   0.3280\n',
    );
  });

  it('change nothing in a session of a newer version', () => {
    expect(done(DAY.replace('nitbook 1', 'nitbook 2'), '20', { do: 'takeAgain' })).toBe('version-newer');
  });
});

describe('A line that an edit means', () => {
  const source = SessionText.read(DAY);
  const at = (start: string, block = 'grey') => {
    const line = lineOf(DAY, start);
    return { block, line, text: source.lines[line]!.text };
  };

  it('of a version that is known is found where it went', () => {
    const trail = new Trail(7);
    expect(locate(source, trail, 7, at('20'))).toBe(lineOf(DAY, '20'));
    trail.add({ from: 7, to: 8, changes: [{ at: 0, remove: 0, put: 2 }], own: false });
    const later = SessionText.read(`\n\n${DAY}`);
    expect(locate(later, trail, 7, at('20'))).toBe(lineOf(DAY, '20') + 2);
    expect(locate(later, trail, 8, { ...at('20'), line: lineOf(DAY, '20') + 2 })).toBe(lineOf(DAY, '20') + 2);
  });

  it('of a version that is not known is the one of its block that reads so', () => {
    expect(locate(source, new Trail(7), 3, { ...at('20'), line: 2 })).toBe(lineOf(DAY, '20'));
    expect(locate(source, new Trail(7), 3, { ...at('20'), block: 'deep' })).toMatchObject({ code: 'moved' });
    expect(locate(source, new Trail(7), 3, { ...at('20'), block: 'nowhere' })).toMatchObject({ code: 'gone' });
    const twice = SessionText.read(DAY.replace(/( +20 {2}2.*\n)/, '$1$1'));
    expect(locate(twice, new Trail(7), 3, { ...at('20'), line: 2 })).toMatchObject({ code: 'moved' });
  });

  it('that was taken out is gone, unless it stands elsewhere in its block', () => {
    const trail = new Trail(7);
    trail.add({ from: 7, to: 8, changes: [{ at: lineOf(DAY, '20'), remove: 1, put: 0 }], own: false });
    expect(locate(SessionText.read(DAY.replace(/ +20 {2}2.*\n/, '')), trail, 7, at('20'))).toMatchObject({ code: 'gone' });
    const [row] = / +20 {2}2.*\n/.exec(DAY)!;
    const moved = DAY.replace(row, '').replace('contrast deep', `${row}contrast deep`);
    expect(locate(SessionText.read(moved), trail, 7, at('20'))).toBe(lineOf(moved, '20'));
  });

  it('is not followed further back than the trail goes', () => {
    const trail = new Trail(0);
    for (let n = 0; n < 3000; n++) trail.add({ from: n, to: n + 1, changes: [], own: true });
    expect(trail.follow(2999, 5)).toMatchObject({ line: 5 });
    expect(trail.follow(10, 5)).toBeUndefined();
  });
});

describe('What is typed', () => {
  it.each([
    ['6.70', { is: 'cell', text: '6.70' }],
    [' 6.70 ', { is: 'cell', text: '6.70' }],
    ['< 0.003', { is: 'cell', text: '<0.003' }],
    ['-', { is: 'cell', text: '-' }],
    ['', { is: 'cell', text: '' }],
    ['6,70', { is: 'comma', mended: '6.70' }],
    ['<0,003', { is: 'comma', mended: '<0.003' }],
    [',5', { is: 'comma', mended: '.5' }],
    ['1,204.5', { is: 'cell', text: '1,204.5' }],
    ['6.70 0.31 0.33', { is: 'rows' }],
    ['6,70; 0,31', { is: 'rows' }],
    ['30\t6.70', { is: 'rows' }],
    ['6.70\n13.3', { is: 'rows' }],
  ])('%j is read as what it is', (typed, expected) => {
    expect(readTyped(typed, 'numbers', false)).toEqual(expected);
  });

  it('has its comma read once it was said what commas are', () => {
    expect(readTyped('6,70', 'numbers', true)).toEqual({ is: 'cell', text: '6.70' });
  });

  it('may hold blanks and commas where the column holds words', () => {
    expect(readTyped('top, left', 'words', false)).toEqual({ is: 'cell', text: 'top, left' });
  });
});
