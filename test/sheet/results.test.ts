import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { analyse, settled } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { readFromHost } from '../../src/sheet/protocol';
import { noticedIn, picturesOf, quickResultsOf, resultsOf, standingsOf } from '../../src/sheet/results';
import { fill } from '../../src/text/message';
import { DAY, edited } from './bench';

/** The same day with a meter that says what it can. */
const METERED = edited(DAY, [
  'signal sdr\n',
  'meter probe\n  kind: colorimeter\n  spread: 0.0004 xy, 0.5 %\n  accuracy: 0.002 xy, 2 %\nsignal sdr\n',
]);

const ALL = { from: 0, to: 10_000 };
const lineOf = (text: string, start: string): number => text.split('\n').findIndex((line) => line.trimStart().startsWith(start));

function results(text: string, block: string) {
  const analysis = analyse(SessionText.read(text), NO_CONFIG);
  const view = { at: lineOf(text, block), ...ALL };
  return { analysis, ...resultsOf(analysis, view, fill), ...noticedIn(analysis, view, fill) };
}

const rowAt = (text: string, block: string, start: string) => results(text, block).rows.find(({ line }) => line === lineOf(text, start))!;

describe('What the sheet is told of a run', () => {
  it('before a reading: the patch as sent, and what should be read, as a share of a white that nobody has read yet', () => {
    // 40 % of 10 bits, limited: Round[(219 · 0.4 + 16) · 4] = 414 (BT.709-6, item 5.3); ((414/4 − 16)/219)^2.4 = 0.1106 of white.
    const { field, drive, target, figures } = rowAt(edited(DAY, ['119.6     0.3089   0.3248', '?         ?        ?']), 'greyscale', '40');
    expect(drive).toBe('Code 414 (10 bit, limited)');
    expect(target).toEqual({ Y: `${Number((100 * ((414 / 4 - 16) / 219) ** 2.4).toPrecision(4))} % of white`, xy: '0.3127 0.3290' });
    expect(field).toEqual({ hex: expect.stringMatching(/^#([0-9a-f]{2})\1\1$/), clipped: false });
    expect(figures).toEqual([null, null]);
  });

  it('with a white: the target in cd/m²', () => {
    expect(rowAt(DAY, 'greyscale', '40').target!.Y).toBe(String(Number((119.6 * ((414 / 4 - 16) / 219) ** 2.4).toPrecision(4))));
  });

  it('of a reading: the difference with its verdict by the limit of the largest, the luminance error, and the direction', () => {
    const { figures, way, off } = rowAt(DAY, 'greyscale', '20');
    expect(figures.map((figure) => figure?.word)).toEqual(['within ·', 'within ·']);
    expect(figures[0]).toMatchObject({ verdict: 'within', judged: 'within ·, aim met', limit: expect.stringContaining('limit') });
    expect(way).toBeUndefined();
    expect(off).toMatch(/by ΔE 0\.\d/);
    const wrong = rowAt(edited(DAY, ['2.54', '25.4']), 'greyscale', '20');
    expect(wrong.figures[0]).toMatchObject({ verdict: 'beyond' });
    expect(wrong.way).toBe('Too bright');
    expect(wrong.off).toMatch(/^Too bright by ΔE \d/);
  });

  it('with its interval, once that has come', () => {
    const analysis = settled(analyse(SessionText.read(METERED), NO_CONFIG));
    const { rows } = resultsOf(analysis, { at: lineOf(METERED, 'greyscale'), ...ALL }, fill);
    const [figure] = rows.find(({ line }) => line === lineOf(METERED, '20'))!.figures;
    expect(figure!.value).toMatch(/^\d+\.\d\d$/);
    expect(figure!.interval).toMatch(/^(± \d|\(\d.* … \d.*\))/);
  });

  it('at once: what is said of the rows later, but for verdicts and intervals', () => {
    const source = SessionText.read(METERED);
    const view = { at: lineOf(METERED, 'greyscale'), ...ALL };
    const { rows, headline, run } = resultsOf(analyse(source, NO_CONFIG), view, fill);
    expect(headline.length).toBeGreaterThan(0);
    const quick = quickResultsOf(SessionText.read(METERED), NO_CONFIG, view, fill)!;
    expect(quick.run).toEqual(run);
    expect(quick.rows.flatMap(({ figures }) => figures.map((figure) => figure?.word ?? ''))).toEqual(Array(10).fill(''));
    const values = (told: typeof rows) => told.map(({ figures, ...row }) => ({ ...row, figures: figures.map((figure) => figure?.value) }));
    expect(values(quick.rows)).toEqual(values(rows));
    expect(quickResultsOf(source, NO_CONFIG, { ...view, at: 0 }, fill)).toBeUndefined();
  });

  it('of repeats: the first speaks, the others say what they are', () => {
    const row = '        20  2.54      0.3130   0.3283\n';
    const text = edited(DAY, [row, row + row.replace('2.54', '2.56')]);
    const { rows } = results(text, 'greyscale');
    const [first, second] = rows.filter(({ line }) => line === lineOf(text, '20') || line === lineOf(text, '20') + 1);
    expect(first!.role).toBe('mean of 2');
    expect(second).toMatchObject({ role: 'repeat', figures: [null, null] });
  });

  it('of a finding: its sentence at its place, with the titles of its mends', () => {
    const text = edited(DAY, ['2.54', '2,54']);
    const { findings } = results(text, 'greyscale');
    const at = text.split('\n')[lineOf(text, '20')]!.indexOf('2,54');
    expect(findings).toContainEqual(
      expect.objectContaining({ line: lineOf(text, '20'), start: at, end: at + 4, mends: [expect.stringContaining('2.54')] }),
    );
  });

  it('of colours that this screen cannot show: that it cannot', () => {
    const text =
      'nitbook 1\ntarget wide\n  space: bt2020\n  curve: power 2.4\ngamut g\n  target: wide\n    patch   Y  x  y\n    red     ?  ?  ?\n    white   ?  ?  ?\n    what    ?  ?  ?\n';
    const { rows } = results(text, 'gamut');
    expect(rows.map(({ field }) => field?.clipped)).toEqual([true, false, undefined]);
    expect(rows[0]!.target).toEqual({ Y: '', xy: '0.7080 0.2920' });
  });

  it('of HDR: a field brighter than this screen goes tells so', () => {
    const text =
      'nitbook 1\ntarget hdr\n  space: bt2020\n  curve: pq\ntracking t\n  target: hdr\n    level   Y\n        30  ?\n        75  ?\n';
    expect(results(text, 'tracking').rows.map(({ field }) => field?.clipped)).toEqual([false, true]);
    // PQ is absolute: 75 % is 983 cd/m² whatever the display (SMPTE ST 2084).
    expect(results(text, 'tracking').rows[1]!.target!.Y).toBe('983.4');
  });

  it('why a run has no figures', () => {
    const text = DAY.replace('  target: dark\n', '').replace(/target dark[\s\S]*?d65\n/, '');
    expect(results(text, 'greyscale').run!.why).toContain('no target');
    expect(results(text, 'greyscale').rows[1]!.field).toBeDefined();
    expect(results(text, 'greyscale').rows[1]!.target).toBeUndefined();
  });

  it('no more rows than are in view', () => {
    const analysis = analyse(SessionText.read(DAY), NO_CONFIG);
    const first = lineOf(DAY, '20');
    const { rows } = resultsOf(analysis, { at: first, from: first, to: first + 2 }, fill);
    expect(rows.map(({ line }) => line)).toEqual([first, first + 1]);
    expect(resultsOf(analysis, { at: 9999, from: 9999, to: -5 }, fill).rows).toEqual([]);
  });

  it("of other blocks: their properties in the format's words, with what is usual", () => {
    const { fields } = results(DAY, 'target dark');
    expect(fields.find(({ name }) => name === 'curve')?.choices).toContain('power 2.4');
    expect(results(DAY, 'greyscale').fields.find(({ name }) => name === 'mode')?.choices).toEqual(['cinema', 'game']);
    expect(results(DAY, 'greyscale').adjusted).toBe('cinema-adjusted');
  });

  it('how every block stands', () => {
    const { blocks, toTake } = standingsOf(analyse(SessionText.read(DAY), NO_CONFIG), fill);
    expect(toTake).toBe(4);
    expect(blocks).toHaveLength(SessionText.read(DAY).blocks.length);
  });
});

describe('Whatever a session holds', () => {
  for (const name of ['aurora-55', 'meadow-65', 'bench-mistakes', 'hdr-mistakes']) {
    it(`${name} is told as the protocol has it, block by block`, () => {
      const source = SessionText.read(readFileSync(`examples/${name}.nitbook`, 'utf8'));
      const analysis = analyse(source, NO_CONFIG);
      let rows = 0;
      source.blocks.forEach((block, i) => {
        const line = source.blockStarts[i]!;
        const message = { kind: 'results', epoch: '1', version: 1, ...resultsOf(analysis, { at: line, ...ALL }, fill) };
        expect(readFromHost(JSON.parse(JSON.stringify(message))), block.name).toEqual(message);
        const noticed = { kind: 'noticed', epoch: '1', version: 1, ...noticedIn(analysis, { at: line, ...ALL }, fill) };
        expect(readFromHost(JSON.parse(JSON.stringify(noticed))), block.name).toEqual(noticed);
        rows += message.rows.length;
        const pictures = { kind: 'figures', epoch: '1', ...picturesOf(analysis, line, 300, fill) };
        expect(readFromHost(pictures)).toBe(pictures);
        for (const svg of pictures.svgs) expect(svg).toMatch(/^<svg /);
      });
      expect(rows).toBe(analysis.results.reduce((sum, { run }) => sum + Math.min(run.table.rows.length, 400), 0));
    });
  }
});
