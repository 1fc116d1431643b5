import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { knownComparison } from '../../src/measure/comparison';
import { knownInterval, knownIntervals } from '../../src/measure/intervals';
import { type Analysis, analyse, intervals, isSettled, settled } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';

const HEAD = `nitbook 1
session 2026-03-14
display aurora
  firmware: 1
meter probe
signal sdr
  range: limited
  depth: 10
mode cinema
mode game
target dark
  space: bt709
  curve: power 2.4
  white: d65

`;

const GREY = (id: string, like: string, mode: string, white: string) =>
  `greyscale ${id}${like}\n${mode}    level   Y         x        y\n       100  ${white}     0.3127   0.3290\n\n`;

const SATURATION = `saturation sat
  mode: cinema
    hue     sat     Y         x        y
    red     100     25.4      0.6398   0.3299
`;

/** ΔE of the saturation run, or the reason why there is none. */
function figureOf(source: SessionText): number | string {
  const value = analyse(source, NO_CONFIG)
    .results.find(({ run }) => run.id === 'sat')!
    .value('de.avg');
  return value.ok ? value.v : value.why.code;
}

/** The same from the text read anew. */
const afresh = (source: SessionText): number | string => figureOf(SessionText.read(source.text));

function edited(source: SessionText, from: string, to: string): SessionText {
  const at = source.text.indexOf(from);
  expect(at, from).toBeGreaterThanOrEqual(0);
  return source.change([{ span: [at, at + from.length], text: to }]);
}

describe('what is taken over from an earlier version', () => {
  it('is not, where the white of a run comes from a greyscale that is like another whose mode changes', () => {
    const text = HEAD + GREY('base', '', '  mode: game\n', '90.0') + GREY('lender', ' like base', '', '120.0') + SATURATION;
    const before = SessionText.read(text);
    expect(figureOf(before)).toBe('no-white');
    const lent = edited(before, '  mode: game', '  mode: cinema');
    expect(figureOf(lent)).toBe(afresh(lent));
    expect(figureOf(lent)).toBe('white-ambiguous');
  });

  it('follows the white that a greyscale lends', () => {
    const before = SessionText.read(HEAD + GREY('grey', '', '  mode: cinema\n', '120.0') + SATURATION);
    const first = figureOf(before);
    const brighter = edited(before, '120.0', '150.0');
    expect(figureOf(brighter)).toBe(afresh(brighter));
    expect(figureOf(brighter)).not.toBe(first);
  });

  it('is the whole result of a run, when a line comes in above it', () => {
    const before = SessionText.read(HEAD + GREY('grey', '', '  mode: cinema\n', '120.0') + SATURATION);
    const [grey] = analyse(before, NO_CONFIG).results;
    const after = before.change([{ span: [10, 10], text: '# a remark\n' }]);
    expect(analyse(after, NO_CONFIG).results[0]).toBe(grey);
  });

  it('is not, where a target, meter or limit is another', () => {
    const before = SessionText.read(HEAD + GREY('grey', '', '  mode: cinema\n', '120.0') + SATURATION);
    figureOf(before);
    const other = edited(before, 'power 2.4', 'power 2.2');
    expect(figureOf(other)).toBe(afresh(other));
    const wider = edited(other, 'bt709', 'p3-d65');
    expect(figureOf(wider)).toBe(afresh(wider));
  });
});

describe('the second phase', () => {
  const WITH_SPREAD = HEAD.replace('meter probe\n', 'meter probe\n  spread: 0.0004 xy, 0.5 %\n  accuracy: 0.002 xy, 2 %\n');
  const TWO = WITH_SPREAD + GREY('grey', '', '  mode: cinema\n', '120.0') + GREY('tuned', ' like grey', '  mode: game\n', '124.0');
  const analysed = (source: SessionText) => analyse(source, NO_CONFIG);
  const known = ({ results }: Analysis) => results.map((result) => knownIntervals(result) !== undefined);
  const whites = ({ results }: Analysis) =>
    results.map((result) => {
      const told = knownInterval(result, 'white.luminance', []);
      if (!told?.ok) throw new Error('no interval');
      return told.ci;
    });

  it('is taken over with the results of runs that stay as they are, and done again for the others', () => {
    const before = SessionText.read(TWO);
    expect(isSettled(settled(analysed(before)))).toBe(true);
    expect(isSettled(analysed(before.change([{ span: [10, 10], text: '# a remark\n' }])))).toBe(true);

    // Greyscales lend white, so both hang on the readings of both; on those of a saturation run neither does.
    const after = edited(before, '124.0', '125.0');
    expect(known(analysed(after))).toEqual([false, false]);
    const more = before.change([{ span: [TWO.length, TWO.length], text: SATURATION }]);
    expect(known(settled(analysed(more)))).toEqual([true, true, true]);
    const other = analysed(edited(more, '25.4', '25.5'));
    expect(known(other)).toEqual([true, true, false]);
    expect(isSettled(other)).toBe(false);
    expect(isSettled(settled(other))).toBe(true);
  });

  it('dropped half way keeps the runs that are done, and goes on to the same end', () => {
    const all = settled(analysed(SessionText.read(TWO)));
    const [first, second] = all.results;
    expect(knownComparison(first!, second!)).toBeDefined();

    for (let steps = 1; ; steps++) {
      const analysis = analysed(SessionText.read(TWO));
      const work = intervals(analysis);
      let isDone = false;
      for (let i = 0; i < steps && !isDone; i++) isDone = work.next().done === true;
      if (isDone) break;
      work.return();
      expect(isSettled(analysis)).toBe(false);
      expect(whites(settled(analysis))).toEqual(whites(all));
    }
  });

  it('is only of the runs that are wanted', () => {
    const analysis = analysed(SessionText.read(TWO));
    settled(analysis, [analysis.results[1]!]);
    expect(known(analysis)).toEqual([false, true]);
  });

  it('has the same intervals after an edit as in the text read anew', () => {
    const before = SessionText.read(TWO);
    settled(analysed(before));
    const wider = edited(before, 'accuracy: 0.002 xy, 2 %', 'accuracy: 0.002 xy, 4 %');
    const [lo, hi] = whites(settled(analysed(wider)))[0]!;
    expect([lo, hi]).toEqual(whites(settled(analysed(SessionText.read(wider.text))))[0]);
    // Half of 4 % and 0.5 % in quadrature, times 1.96 (the ends of 95 %), of 120 cd/m².
    expect((hi - lo) / 2).toBeCloseTo(120 * 1.959964 * Math.hypot(0.02, 0.005), 2);
  });
});
