import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SessionText } from '../../src/session/sessionText';
import { moved } from '../../src/sheet/lines';
import { modelOf, patchBetween } from '../../src/sheet/model';
import type { Model, PatchMessage } from '../../src/sheet/protocol';

const RUN = `nitbook 1

session 2026-03-14
  title: bench
greyscale grey "As shipped"
  settle: 3 s
    level   Y         x        y
        20  2.54      0.3130   0.3283
        30  6.70      0.3099   0.3279
        30  6.71      0.3099   0.3279
        40  ?         ?        ?
contrast deep
    patch   Y
    black   ?
`;

const after = (change: (text: string) => string) => patchBetween(SessionText.read(RUN), SessionText.read(change(RUN))).changes;

/** The line that each line of RUN became, by its text. */
function becomes(change: (text: string) => string, start: string): string | undefined {
  const before = RUN.split('\n');
  const now = change(RUN).split('\n');
  const line = before.findIndex((text) => text.trimStart().startsWith(start));
  expect(line, start).toBeGreaterThan(0);
  const found = moved(line, after(change));
  return found && now[found.line];
}

function patched(model: Model, { lines, blocks }: Pick<PatchMessage, 'lines' | 'blocks'>): Model {
  const splice = <T>(list: readonly T[], splices: readonly { at: number; remove: number; put: readonly T[] }[]): T[] => {
    const copy = [...list];
    for (const { at, remove, put } of splices.toReversed()) copy.splice(at, remove, ...put);
    return copy;
  };
  return { lines: splice(model.lines, lines), blocks: splice(model.blocks, blocks) };
}

describe('Lines from one version to the next', () => {
  it('an edited row is its own successor', () => {
    expect(becomes((text) => text.replace('6.70', '67'), '30  6.70')).toContain('30  67');
  });

  it('a row that moved under others is found again', () => {
    const change = (text: string) =>
      text.replace('        20  2.54', '        10  0.49      -        -\n        20  2.54').replace('title: bench\n', '');
    expect(becomes(change, '30  6.71')).toContain('6.71');
    expect(becomes(change, 'title')).toBeUndefined();
  });

  it('a row is followed by its patch where the file is laid out anew and rows come and go', () => {
    const change = (text: string) =>
      text.replace('        20  2.54      0.3130   0.3283\n', '').replace('        40  ?         ?        ?', '    35 ? ? ?\n    40 ? ? ?');
    expect(becomes(change, '40')).toBe('    40 ? ? ?');
    expect(becomes(change, '20')).toBeUndefined();
  });

  it('struck out and taken again, a row is still the struck one', () => {
    const row = '        20  2.54      0.3130   0.3283\n';
    const change = (text: string) => text.replace(row, `${row.replace('        20', '  ~     20')}        20  ?         ?        ?\n`);
    expect(becomes(change, '20')).toBe('  ~     20  2.54      0.3130   0.3283');
  });

  it('of repeats each is followed by its place', () => {
    const change = (text: string) => text.replace('6.70 ', '6.72 ').replace('6.71 ', '6.73 ');
    expect(becomes(change, '30  6.70')).toContain('6.72');
    expect(becomes(change, '30  6.71')).toContain('6.73');
  });

  it('a block that is called otherwise keeps its head', () => {
    expect(becomes((text) => text.replace('greyscale grey', 'greyscale gray'), 'greyscale')).toContain('gray');
  });

  it('rows of other patches take the place of none', () => {
    const change = (text: string) =>
      text.replace('        20  2.54      0.3130   0.3283\n        30  6.70', '        50  ?         ?        ?\n        60  6.70');
    expect(becomes(change, '20')).toBeUndefined();
  });

  it('lines that mean something else now are told anew, though their text is the same', () => {
    const before = SessionText.read(RUN);
    const at = RUN.indexOf('contrast');
    const { lines } = patchBetween(before, before.change([{ span: [at, at + 8], text: 'display' }]));
    expect(lines.map(({ at, remove, put }) => [at, remove, put.map(({ is }) => is)])).toEqual([
      [11, 4, ['head', 'other', 'other', 'blank']],
    ]);
  });

  it('a patch makes the model of the version after out of that of the version before, whatever was edited', () => {
    const parts = [
      '\n',
      '\r\n',
      '    10  1  0.3  0.3\n',
      '~ ',
      'greyscale b like grey\n',
      '?',
      'note: ~\n',
      '# x\n',
      '| y\n',
      '',
      ' ',
      '30',
    ];
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(RUN.length), fc.nat(40), fc.constantFrom(...parts)), { minLength: 1, maxLength: 4 }),
        (edits) => {
          const before = SessionText.read(RUN);
          const text = edits.reduce((t, [at, length, put]) => t.slice(0, at) + put + t.slice(at + length), RUN);
          for (const now of [SessionText.read(text), before.change([{ span: [0, RUN.length], text }])]) {
            expect(patched(modelOf(before), patchBetween(before, now))).toEqual(modelOf(now));
          }
        },
      ),
      { numRuns: 200 },
    );
  });

  it('one typed cell is one line of a patch', () => {
    const before = SessionText.read(readFileSync('examples/aurora-55.nitbook', 'utf8'));
    const at = before.text.indexOf('        30  ') + 12;
    const { lines, blocks } = patchBetween(before, before.change([{ span: [at, at + 4], text: '67.1' }]));
    expect(lines.map(({ remove, put }) => [remove, put.length])).toEqual([[1, 1]]);
    expect(blocks).toEqual([]);
  });
});
