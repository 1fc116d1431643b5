import { describe, expect, it } from 'vitest';
import { figuresOf } from '../../src/figure/figures';
import { svgOf } from '../../src/figure/svg';
import { analysed, session, table } from '../measure/tools';
import { example, figure, mistake, seriesIn } from './tools';

const aurora = example('aurora-55');

describe('a reference to a figure', () => {
  it('names one figure of one run, or of several of a kind over each other', () => {
    expect(figure(aurora, '#grey.balance')).toMatchObject({ id: 'balance', runs: ['grey'] });
    expect(figure(aurora, '#grey+grey-tuned.balance')).toMatchObject({ id: 'balance', runs: ['grey', 'grey-tuned'] });
    expect(figure(aurora, '#gamut-p3.chromaticity.xy').panels[0]!.x.title).toBe('x');
    expect(figure(aurora, '#track-4000.eotf').panels[0]!.x.scale).toBe('log');
  });

  it('says what is wrong with it, and what is near', () => {
    expect(mistake(aurora, '#gray.balance')).toBe('There is no run "gray" in this session. Perhaps grey?');
    expect(mistake(aurora, '#cinema.balance')).toMatch(
      /^"cinema" is a mode block: figures are of runs\. There is probe-fix, grey, sat, colours, .* …\.$/,
    );
    expect(mistake(aurora, '#grey.balence')).toBe('A greyscale run has no figure "balence". Perhaps balance?');
    expect(mistake(aurora, '#grey.map')).toBe(
      'A greyscale run has no figure "map". There is balance, curve, de, chromaticity, chromaticity.xy, nearblack.',
    );
    expect(mistake(aurora, '#grey')).toBe('Name a figure of "grey", such as #grey.balance.');
    expect(mistake(aurora, '#grey+grey-tuned')).toBe('Name a figure of "grey", such as #grey+grey-tuned.change.');
    expect(mistake(aurora, '#grey+sat.de')).toBe('A figure is of runs of one kind: "grey" is a greyscale run, "sat" a saturation run.');
    expect(mistake(aurora, '#grey+grey.balance')).toBe('The run "grey" is named twice.');
    expect(mistake(aurora, '#grey.balance@50')).toBe('A figure shows all rows: it takes no @.');
    expect(mistake(aurora, '#grey.change')).toBe('The figure "change" is of two runs, the earlier first.');
    expect(mistake(aurora, '#sat+sat-tuned+sat.drift')).toBe('The run "sat" is named twice.');
    expect(mistake(aurora, '#spd.spectrum')).toBeUndefined();
  });

  it('to a figure that cannot be drawn says why, as of a measure that cannot be computed', () => {
    const open = analysed(session(table('greyscale grey', 'level Y x y', [[50, '?', '?', '?']])));
    expect(mistake(open, '#grey.balance')).toBe(
      `The figure "balance" of "grey" cannot be drawn: no row has a colour reading (Y with x and y, X and Z, or u' and v').`,
    );
    const untargeted = analysed(session(table('greyscale grey', 'level Y x y', [[50, 22, 0.3127, 0.329]]), { target: '' }));
    expect(mistake(untargeted, '#grey.balance')).toBe(
      'The figure "balance" of "grey" cannot be drawn: the run has no target (write "target: …" and a target block).',
    );
    const tuning = analysed(session('tuning lamp\n    "Gain red"  Y  x  y\n    0  70  0.3127  0.329'));
    expect(mistake(tuning, '#lamp.balance')).toBe('There are no figures of tuning runs.');
  });

  it('is offered only where there is something to be drawn', () => {
    const luminances = analysed(
      session(
        table('greyscale grey', 'level Y', [
          [0, 0.003],
          [50, 22.7],
          [100, 120],
        ]),
      ),
    );
    expect(figuresOf(luminances, ['grey'])).toEqual(['curve']);
    expect(figuresOf(luminances, ['none'])).toEqual([]);
  });
});

describe('a row that is struck out', () => {
  const text = (rows: string) =>
    session(`greyscale grey\n    level Y x y\n${rows}window win\n    window Y\n    10  810\n  ~ 25  60\n    25  430\n`);
  const rows = '    20  2.5  0.3127  0.329\n  ~ 30  67  0.3127  0.329\n    30  6.7  0.3127  0.329\n    100  120  0.3127  0.329\n';
  const struck = analysed(text(rows));

  it('is shown hollow and faint where it would lie, beside the reading that stands in its place', () => {
    const series = seriesIn(figure(struck, '#grey.curve')).find(({ id }) => id === 'grey/curve/struck')!;
    expect(series).toMatchObject({ joined: false, shape: 'hollow' });
    // Constructed: ten times 6.7 cd/m² over 120 · 0.3^2.4 cd/m².
    expect(series.points.map(({ x, y, row, faint }) => [x, y.toFixed(0), row, faint])).toEqual([
      [30, (100 * (67 / 6.6722 - 1)).toFixed(0), 'grey/row/1', true],
    ]);
    expect(series.points[0]!.name).toMatch(/^30 %: \+904\.\d % beyond ▲ \(struck out\)$/);
    expect(
      seriesIn(figure(struck, '#win.curve'))
        .find(({ id }) => id === 'win/peak/struck')!
        .points.map(({ x, y }) => [x, y]),
    ).toEqual([[25, 60]]);
  });

  it('changes nothing of what is said and judged', () => {
    const without = analysed(text(rows.replace(/^ {2}~.*\n/m, '')));
    for (const ref of ['#grey.curve', '#grey.balance', '#grey.de']) {
      expect(figure(struck, ref).title).toBe(figure(without, ref).title);
      expect(figure(struck, ref).table.rows.map(({ cells }) => cells)).toEqual(figure(without, ref).table.rows.map(({ cells }) => cells));
    }
  });
});

describe('a line', () => {
  const gapsOf = (ref: string, runs: string) =>
    seriesIn(figure(analysed(session(runs)), ref)).flatMap(({ points, joined }) =>
      joined ? points.flatMap(({ gap, x }) => (gap ? [x] : [])) : [],
    );
  const greys = (...rows: readonly string[]) => `greyscale grey\n    level Y x y\n${rows.join('\n')}\n`;
  const [ten, fifty, full] = ['    10  0.478  0.3127  0.329', '    50  22.7  0.3127  0.329', '    100  120  0.3127  0.329'];

  it('has a gap where a level is still to be read, or struck out with nothing in its place', () => {
    const open = '    30  ?  ?  ?';
    const struck = '  ~ 30  67  0.3127  0.329';
    for (const missing of [open, struck]) {
      expect(gapsOf('#grey.balance', greys(ten, missing, fifty, full))).toEqual([50, 50, 50]);
      // The deviation, and the small curve beside it.
      expect(gapsOf('#grey.curve', greys(ten, missing, fifty, full)).filter((x) => x !== 50)).toEqual([]);
      expect(gapsOf('#grey.curve', greys(ten, missing, fifty, full)).length).toBeGreaterThan(0);
    }
    expect(gapsOf('#win.curve', 'window win\n    window Y\n    2  900\n    5  ?\n    10  810\n  ~ 25  60\n    100  430\n')).toEqual([
      10, 100,
    ]);
  });

  it('has none where a reading stands in the place of the struck one, nor before the first and behind the last', () => {
    const again = ['  ~ 50  227  0.3127  0.329', fifty];
    expect(gapsOf('#grey.balance', greys(ten, ...again, full))).toEqual([]);
    expect(gapsOf('#grey.balance', greys('    5  ?  ?  ?', ten, fifty, '    100  ?  ?  ?'))).toEqual([]);
  });

  it('is drawn in parts', () => {
    const lines = (...rows: readonly string[]) => {
      const svg = svgOf(figure(analysed(session(greys(...rows))), '#grey.balance'), { width: 720 });
      return /data-series="grey\/blue"[^>]*>((?:<path[^>]*>)*)/.exec(svg)![1]!.match(/<path/g)?.length ?? 0;
    };
    const twenty = '    20  2.5  0.3127  0.329';
    expect(lines(ten, twenty, fifty, full)).toBe(1);
    expect(lines(ten, twenty, '    30  ?  ?  ?', fifty, full)).toBe(2);
  });
});
