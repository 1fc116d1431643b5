import { describe, expect, it } from 'vitest';
import { figuresOf } from '../../src/figure/figures';
import { analysed, session, table } from '../measure/tools';
import { example, figure, mistake } from './tools';

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
    expect(mistake(aurora, '#sat+sat-tuned+sat.hues')).toBe('The run "sat" is named twice.');
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
