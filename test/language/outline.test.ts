import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { type OutlineEntry, outline } from '../../src/language/outline';
import { standing } from '../../src/language/standing';
import { settled } from '../../src/project/analysis';
import { analysed, small } from '../report/sessions';
import { examples, sessionLike } from '../session/sessions';
import { cut } from './cursor';

/** An outline as lines: name, detail, and what is selected where that is not the name. */
const drawn = (text: string): string[] => {
  const draw = (entry: OutlineEntry, depth: number): string[] => [
    `${'  '.repeat(depth)}${entry.struck ? '~ ' : ''}${entry.name}${entry.detail && ` — ${entry.detail}`}`,
    ...entry.children.flatMap((child) => draw(child, depth + 1)),
  ];
  return outline(analysed(text)).flatMap((entry) => draw(entry, 0));
};

describe('the outline', () => {
  it('shows blocks, properties and tables, and how runs stand', () => {
    expect(drawn(small).filter((line) => !line.startsWith('  '))).toEqual([
      'session 2026-03-14',
      'display aurora — Halden Aurora 55',
      'meter probe — Tripod colorimeter',
      'signal sdr',
      'signal hdr — from sdr',
      'mode cinema — Cinema, as shipped',
      'mode cinema-tuned — from cinema',
      'target dark',
      'limits',
      'greyscale grey — beyond ▲; 1 reading still to take; As shipped',
      'contrast pair — within ·',
      'window peaks — within ·; Peak by area',
      'tuning lamp',
    ]);
    expect(drawn(small).slice(-7)).toEqual([
      '  mode — cinema',
      '  signal — hdr',
      '  window Y — 2 rows',
      'tuning lamp',
      '  mode — cinema',
      '  signal — sdr',
      '  "Gain red" Y x y — 1 row',
    ]);
  });

  it('shows what is struck out, what is unknown, and no characters that hide', () => {
    const text = 'nitbook 1\n~ mode a "x\u202ey"\n  Gamma: 2.2\nSoup\n  x: 1\nmode b\n  ~ Gamma: 2.2\n  "": 1\nlag\n    place lag\n';
    expect(drawn(text)).toEqual([
      '~ mode a — struck out; x\ufffdy',
      '  ~ Gamma — 2.2',
      'Soup',
      '  x — 1',
      'mode b',
      '  ~ Gamma — 2.2',
      '  "" — 1',
      'lag',
      '  place lag — 0 rows',
    ]);
  });

  it('spans a block to its last line, without what is about the next', () => {
    const text = 'nitbook 1\nmode a\n  Gamma: 2.2\n# of a\n\n# about b\nmode b # tail\n';
    const [a, b] = outline(analysed(text));
    expect(cut(text, a!.span)).toBe('mode a\n  Gamma: 2.2\n# of a');
    expect(cut(text, a!.children[0]!.span)).toBe('Gamma: 2.2');
    expect(cut(text, a!.children[0]!.selection)).toBe('Gamma');
    expect(cut(text, b!.span)).toBe('mode b # tail');
    expect(cut(text, b!.selection)).toBe('b');
  });

  test('nests, with a name for all and selections inside, whatever the text', () => {
    fc.assert(
      fc.property(fc.oneof(sessionLike, fc.constantFrom(...examples)), (text) => {
        const check = (entries: readonly OutlineEntry[], [from, to]: readonly [number, number]): void => {
          let last = from;
          for (const { span, selection, name, children } of entries) {
            expect(name).not.toBe('');
            expect(span[0]).toBeGreaterThanOrEqual(last);
            expect(selection[0]).toBeGreaterThanOrEqual(span[0]);
            expect(selection[1]).toBeLessThanOrEqual(span[1]);
            expect(span[1]).toBeLessThanOrEqual(to);
            last = span[0];
            check(children, span);
          }
        };
        check(outline(analysed(text)), [0, text.length]);
      }),
      { seed: 20260314, numRuns: 40 },
    );
  });
});

test('a byte order mark is one at the start of the file; further down it is part of a name, and selected with it', () => {
  for (const { span, selection } of outline(analysed('\ufeffmode a\n\ufeff  range: limited\n')).flatMap(({ children }) => children))
    expect([span, selection]).toEqual([
      [8, 25],
      [8, 16],
    ]);
});

describe('how a session stands', () => {
  it('counts readings to take, properties to note, and measures by verdict', () => {
    const { runs, ...counts } = standing(analysed(small));
    expect(counts).toEqual({ toTake: 1, toNote: 1, beyond: expect.any(Number), undecided: 0, findings: expect.anything() });
    expect([...runs].map(([block, { verdict, beyond, toTake }]) => [block.name, verdict, beyond > 0, toTake])).toEqual([
      ['grey', 'beyond', true, 1],
      ['pair', 'within', false, 0],
      ['peaks', 'within', false, 0],
      ['lamp', 'no-number', false, 0],
    ]);
    expect(counts.beyond).toBe([...runs.values()].reduce((sum, run) => sum + run.beyond, 0));
  });

  test('of a session is counted again once its intervals are there', () => {
    const analysis = analysed(small.replace('floor: 0.003 cd/m2', 'floor: 0.003 cd/m2\n  spread: 0.004 xy, 5 %'));
    const before = standing(analysis);
    expect(before.undecided).toBe(0);
    const after = standing(settled(analysis));
    expect(after.undecided).toBeGreaterThan(0);
    expect(after.beyond).toBeLessThan(before.beyond);
    expect(standing(analysis)).toBe(after);
  });
});
