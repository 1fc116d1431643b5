import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { figureAcross } from '../../src/figure/across';
import { figureMistakeText } from '../../src/figure/figures';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { example, figure, pointsIn, seriesIn } from './tools';

const part = (name: string, id: string, measure: string, ids: readonly string[] = ['grey']) => ({
  analysis: example(name),
  id,
  title: id.toUpperCase(),
  reference: { ids, measure, keys: [] },
});

const drawn = (...parts: Parameters<typeof figureAcross>[0]) => {
  const reading = figureAcross(parts);
  if (!reading.ok) throw new Error(figureMistakeText(reading.mistake));
  return reading.figure;
};

const aurora = (measure: string, ids?: readonly string[]) => part('aurora-55', 'aurora', measure, ids);
const meadow = (measure: string, ids?: readonly string[]) => part('meadow-65', 'meadow', measure, ids);

describe('A figure of several sessions', () => {
  it('calls each run by its session, and shows the readings that it has by itself', () => {
    const both = drawn(aurora('curve'), meadow('curve'));
    expect(both.title).toMatch(/^Largest luminance error: AURORA [\d.]+ %, MEADOW [\d.]+ %$/);
    expect(both.runs).toEqual(['aurora/grey', 'meadow/grey']);
    expect(seriesIn(both).flatMap(({ label }) => label ?? [])).toEqual(['AURORA', 'MEADOW']);
    for (const [name, id] of [
      ['aurora-55', 'aurora'],
      ['meadow-65', 'meadow'],
    ] as const) {
      const own = pointsIn(figure(example(name), '#grey.curve')).map(({ x, y }) => [x, y]);
      const shown = pointsIn(both).flatMap(({ run, x, y }) => (run === `${id}/grey` ? [[x, y]] : []));
      expect(shown).toEqual(own);
    }
  });

  it('judges each run by the limits of its own session', () => {
    const text = `${example('meadow-65').source.text}limits\n  greyscale.balance.r: limit 50\n  greyscale.balance.g: limit 50\n  greyscale.balance.b: limit 50\n`;
    const lenient = { ...meadow('balance'), analysis: analyse(SessionText.read(text), NO_CONFIG) };
    const notWithin = (...parts: Parameters<typeof drawn>) => [
      ...new Set(pointsIn(drawn(...parts)).flatMap(({ run, name }) => (/beyond|undecided/.test(name) ? [run] : []))),
    ];
    expect(notWithin(meadow('balance'), aurora('balance'))).toEqual(['meadow/grey', 'aurora/grey']);
    expect(notWithin(lenient, aurora('balance'))).toEqual(['aurora/grey']);
    expect(notWithin(aurora('balance'), lenient)).toEqual(['aurora/grey']);
  });

  it('tells several runs of a session apart', () => {
    const three = drawn(aurora('de', ['grey', 'grey-tuned']), meadow('de'));
    expect(three.table.rows.map(({ cells }) => cells[0])).toContain('AURORA, As adjusted');
    expect(new Set(three.table.rows.map(({ cells }) => cells[0])).size).toBe(3);
    expect(new Set(pointsIn(three).map(({ id }) => id)).size).toBe(pointsIn(three).length);
  });

  it('of one session is its own figure', () => {
    expect(drawn(aurora('balance'))).toEqual(figure(example('aurora-55'), '#grey.balance'));
  });

  it('says what does not go together', () => {
    const why = (...parts: Parameters<typeof figureAcross>[0]) => {
      const reading = figureAcross(parts);
      return reading.ok ? undefined : figureMistakeText(reading.mistake);
    };
    expect(why(aurora('de'), meadow('de', ['sat']))).toMatch(/runs of one kind: "aurora\/grey" is a greyscale run, "meadow\/sat"/);
    expect(why(aurora('de'), meadow('de', ['gray']))).toMatch(/There is no run "meadow\/gray"/);
  });
});
