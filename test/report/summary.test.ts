import { describe, expect, it } from 'vitest';
import { figureName, headline, rowsOf, summarise } from '../../src/report/summary';
import { figureLine, lensText, summaryText } from '../../src/report/text';
import { analysed, configured, small } from './sessions';

const session = analysed(small);

describe('the summary of a session', () => {
  it('is a bench report of few lines a run: what it was taken with, is against, and says', () => {
    expect(summaryText(session, 'aurora.nitbook')).toBe(`Halden Aurora 55, bench day
aurora.nitbook, 2026-03-14
display aurora "Halden Aurora 55", firmware 2.14.8
meter probe "Tripod colorimeter"

greyscale grey  As shipped
  mode cinema "Cinema, as shipped", signal sdr, meter probe
  against dark: BT.709, power 2.4, D65, white 120 cd/m² (stated by dark)
  1 reading still to take, the first at 40
    ΔE 2000 average        0.32                   within ·, aim met   limit 3, aim 1
    ΔE 2000 maximum        0.64                   within ·            limit 1 (session), aim 0.5
    Balance                97.5 %                 within ·            limit 100 ±5 %, aim 100 ±2 %
    Exponent from target   —                                          not computed: it needs at least 2 rows from 10 to 90 %
    ΔE 2000 @30 %          0.64                   beyond ▲            limit 0.6 (session)

contrast pair
  mode cinema-tuned, signal sdr, meter probe, taken 2026-03-15
    Contrast, sequential   at least 40000:1       within ·, aim met   limit 500:1, aim 2000:1
    Black                  at most 0.0030 cd/m²   within ·, aim met   limit 0.4 cd/m², aim 0.05 cd/m²

window peaks  Peak by area
  mode cinema "Cinema, as shipped", signal hdr, meter probe
    Peak @10 %             800 cd/m²              within ·            limit 500 cd/m², aim 1000 cd/m²
    Full field             600 cd/m²

tuning lamp
  mode cinema "Cinema, as shipped", signal sdr, meter probe
    not computed: the run is kept; its figures are not computed by this version

1 reading still to take.
Findings: 1 warning, 2 info.
`);
  });

  it('counts findings by severity and readings still to take', () => {
    const { findings, toTake, runs } = summarise(session);
    expect({ findings, toTake }).toEqual({ findings: { error: 0, warning: 1, info: 2 }, toTake: 1 });
    expect(runs.map(({ id, toTake: open }) => [id, open])).toEqual([
      ['grey', 1],
      ['pair', 0],
      ['peaks', 0],
      ['lamp', 0],
    ]);
  });

  it('says so when there is nothing in the file', () => {
    expect(summaryText(analysed(''), 'empty.nitbook')).toBe('empty.nitbook\n\nNo runs.\nFindings: none.\n');
  });

  it('judges by the limits of the folder where the session has none', () => {
    const config = configured('{ "limits": { "contrast.sequential": "limit 50000", "greyscale.de.max": "limit 9" } }');
    const text = summaryText(analysed(small, config), 'aurora.nitbook');
    expect(text).toContain('Contrast, sequential   at least 40000:1       undecided ≈         limit 50000:1 (folder)\n');
    expect(text).toContain('ΔE 2000 maximum        0.64                   within ·            limit 1 (session), aim 0.5\n');
  });

  it('gives rows that a limit names as figures of their own, and no more than can be looked for', () => {
    const figures = (limits: string) => {
      const text = small.replace('limits\n', `limits\n${limits}`);
      return summarise(analysed(text)).runs[2]!.figures.map(figureName);
    };
    expect(figures('  window.peak@100: limit 500\n  window.peak@7: limit 500\n')).toEqual([
      'peak',
      'peak@10',
      'peak@100',
      'full',
      'full.share',
    ]);
    const many = Array.from({ length: 5000 }, (_, i) => `  window.peak@${i + 101}: limit 500\n`).join('');
    expect(figures(many)).toEqual(['peak', 'peak@10', 'full', 'full.share']);
  });

  it('has the room and what eyes saw', () => {
    const text = summaryText(
      analysed(`nitbook 1
session 2026-03-14
  room: 0.02 lx at the screen, 21 °C
  warm-up: 45 min
mode cinema "Cinema"
observations
  .mode: cinema
  .distance: 2.4 m
  Banding, dark sky: slight, vertical
  Flicker: ?
~ Halo: clear
`),
      'a.nitbook',
    );
    expect(text).toContain('2026-03-14\nroom 0.02 lx at the screen, 21 °C\nwarm-up 45 min\n');
    expect(text).toContain(`observations
  mode cinema "Cinema", from 2.4 m
    Banding, dark sky   slight, vertical
    Flicker             still to note
`);
    expect(text).not.toContain('Halo');
  });

  it('says once why no figure of a run can be had, and how many there is no room for', () => {
    const run = (rows: string) => `nitbook 1\nsession 2026-03-14\nmeter probe\nspectrum s\n    nm  ${rows}`;
    const backwards = summaryText(analysed(run('white red\n    500 1 1\n    510 2 2\n    505 1 1\n')), 'a.nitbook');
    expect(backwards).toContain('spectrum s\n  meter probe\n    not computed: wavelengths rise from row to row, and 505 nm does not\n');
    const five = summaryText(analysed(run('a b c d e\n    500 1 1 1 1 1\n    550 2 2 2 2 2\n    600 1 1 1 1 1\n')), 'a.nitbook');
    expect(five).toContain('    y @d ');
    expect(five).not.toContain('x @e');
    expect(five).toContain('\n    and 2 more of its rows\n');
  });

  it('tells the firmware that is not noted', () => {
    expect(summaryText(analysed('nitbook 1\nsession 2026-01-01\ndisplay tv\n'), 'a.nitbook')).toContain('display tv, firmware not noted\n');
  });

  it('shows what would drive a terminal, or turn its text about, as U+FFFD', () => {
    const hostile = small
      .replace('Halden Aurora 55, bench day', '\u001B[31mred\u0007 \u009B2J\u202Ered')
      .replace('"As shipped"', '"\u001B]0;title\u0007"');
    const text = summaryText(analysed(hostile), 'a\u001B[2J.nitbook');
    expect(text).toContain('\uFFFD[31mred\uFFFD \uFFFD2J\uFFFDred\n');
    expect(text).toContain('a\uFFFD[2J.nitbook');
    expect([...text].filter((c) => c !== '\n' && /[\p{Cc}\u202E]/u.test(c))).toEqual([]);
  });
});

describe('the line beside a run', () => {
  it('gives its headline figures with their verdicts', () => {
    expect(lensText(session, 'grey')).toBe(
      'ΔE 2000 average 0.32 within ·; ΔE 2000 maximum 0.64 within ·; Balance 97.5 % within ·; Exponent from target —',
    );
    expect(lensText(session, 'peaks')).toBe('Peak @10 %: 800 cd/m² within ·; Full field 600 cd/m²');
    expect(lensText(session, 'lamp')).toBe('not computed: the run is kept; its figures are not computed by this version');
    expect(lensText(session, 'nobody')).toBeUndefined();
    const hostile = analysed('nitbook 1\nlag delay\n    place lag\n    "a\u0007b" 9.7\n    top 9\n');
    expect(lensText(hostile, 'delay')).toContain('@a\uFFFDb');
  });

  it('picks the figures that the target of the run asks for', () => {
    const names = (text: string, id: string) => {
      const analysis = analysed(text);
      return headline(analysis, analysis.results.find(({ run }) => run.id === id)!).map(figureName);
    };
    const gamut = (space: string, curve = 'pq') =>
      `nitbook 1\ntarget t\n  space: ${space}\n  curve: ${curve}\ngamut g\n    patch Y x y\n    red 1 .6 .3\n`;
    expect(names(gamut('bt709'), 'g')).toEqual(['coverage.bt709.uv', 'additivity']);
    expect(names(gamut('p3-d65'), 'g')).toEqual(['coverage.p3.uv', 'additivity']);
    expect(names(gamut('bt2020'), 'g')).toEqual(['coverage.p3.uv', 'coverage.bt2020.uv', 'additivity']);
    const lags = (rows: string) => names(`nitbook 1\nlag l\n    place lag[ms]\n${rows}`, 'l');
    expect(lags('    top 9\n    top 10\n')).toEqual(['mean', 'sd', 'n']);
    expect(lags('    top 9\n    bottom 24\n')).toEqual(['mean', 'mean@top', 'mean@bottom', 'n']);
    const nearBlack = small.replace(
      '        30  6.70      0.3099   0.3279\n',
      '         2  0.02      0.3099   0.3279\n         5  0.10  .31 .33\n',
    );
    expect(names(nearBlack, 'grey')).toEqual(['de.max', 'nearblack.first', 'nearblack.stops', 'nearblack.dc']);
    const hdr = small.replace('curve: power 2.4', 'curve: pq');
    expect(names(hdr, 'grey')).toEqual(['de.itp.avg', 'de.itp.max', 'balance']);
    expect(names(small.replace('        10  800\n', ''), 'peaks')).toEqual(['peak', 'full']);
  });
});

describe('one figure in a line', () => {
  it('says number, verdict, limits, and what it is against', () => {
    const { runs } = summarise(session);
    expect(figureLine(runs[0]!.figures.find(({ id }) => id === 'de.max')!, runs[0]!.result)).toBe(
      'ΔE 2000 maximum 0.64 — within ·; limit 1 (session), aim 0.5; against dark: BT.709, power 2.4, D65, white 120 cd/m² (stated by dark)',
    );
    expect(figureLine(runs[2]!.figures.find(({ id }) => id === 'full')!, runs[2]!.result)).toBe('Full field 600 cd/m²');
  });
});

describe('rows', () => {
  it('stand under the key of a reference, groups of rows behind them; revisits are left out', () => {
    const { results } = analysed(`nitbook 1
target t
  space: bt709
  curve: power 2.4
  luminance: 100 cd/m2
saturation s
    hue  sat  Y     x       y
    red  50   20    0.4400  0.3300
    red  100  15    0.6000  0.3300
    red  50   20.1  0.4400  0.3300
`);
    const rows = rowsOf(results[0]!);
    expect(
      rows.map(({ key, values }) => [key.join(','), Object.keys(values).filter((id) => id.startsWith('hue.') || id === 'de')]),
    ).toEqual([
      ['red,50', ['de']],
      ['red,100', ['de']],
      ['red', ['hue.de', 'hue.delta.l', 'hue.delta.c', 'hue.delta.h']],
    ]);
    const [half, full, hue] = rows;
    expect(hue!.values['hue.de']).toBeCloseTo((half!.values.de! + full!.values.de!) / 2, 10);
  });
});
