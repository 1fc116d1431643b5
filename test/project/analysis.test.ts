import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
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
