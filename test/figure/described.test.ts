import { describe, expect, it } from 'vitest';
import { figuresOf } from '../../src/figure/figures';
import { analysed, session, table } from '../measure/tools';
import { described, figure } from './tools';

// Few readings of every kind of run, constructed: what each figure comes to stands in described/, to be read and compared.

const RUNS = [
  table('greyscale grey "As shipped"', 'level Y x y', [
    [0, '<0.003', '-', '-'],
    [5, 0.08, 0.305, 0.318],
    [10, 0.45, 0.309, 0.321],
    [50, 23.4, 0.3085, 0.3195],
    [80, 71.5, 0.307, 0.318],
    [100, 121, 0.306, 0.317],
  ]),
  table('greyscale tuned "As adjusted" like grey', 'level Y x y', [
    [0, '<0.003', '-', '-'],
    [5, 0.091, 0.3124, 0.3285],
    [10, 0.478, 0.3126, 0.3288],
    [50, 22.8, 0.3127, 0.3291],
    [80, 70.3, 0.3128, 0.329],
    [100, 120.2, 0.3126, 0.3289],
  ]),
  table('saturation sat', 'hue sat Y x y', [
    ['red', 50, 44, 0.443, 0.331],
    ['red', 100, 25.5, 0.64, 0.331],
    ['blue', 50, 23.1, 0.26, 0.241],
    ['blue', 100, 8.5, 0.151, 0.061],
  ]),
  table('patches colours', 'patch R G B Y x y', [
    ['white', 100, 100, 100, 120, 0.3127, 0.329],
    ['brick', 62, 27, 21, 8.9, 0.494, 0.346],
    ['sky', 47, 66, 84, 35, 0.2535, 0.268],
  ]),
  table('gamut gamut', 'patch Y x y', [
    ['red', 25, 0.635, 0.331],
    ['green', 85, 0.301, 0.59],
    ['blue', 9, 0.151, 0.062],
    ['white', 120, 0.311, 0.327],
  ]),
  table('window win', 'window Y', [
    [2, 640],
    [10, 612],
    [100, 140],
  ]),
  table('contrast pair', 'patch Y', [
    ['white', 120],
    ['black', '<0.003'],
  ]),
  table('uniformity field', 'row col Y x y', [
    [1, 1, 90, 0.311, 0.327],
    [1, 2, 97, 0.3125, 0.329],
    [1, 3, 92, 0.313, 0.33],
    [2, 1, 95, 0.312, 0.328],
    [2, 2, 100, 0.3127, 0.329],
    [2, 3, 101, 0.313, 0.3292],
    [3, 1, 91, 0.312, 0.328],
    [3, 2, 98, 0.3127, 0.329],
    [3, 3, 89, 0.314, 0.331],
  ]),
  table('endurance hold', 't[s] Y', [
    [0, 800],
    [30, 720],
    [60, 690],
    [120, 680],
    [300, 681],
    [600, 679],
  ]),
  table('angles side', 'angle Y x y', [
    [-45, 50, 0.306, 0.32],
    [0, 100, 0.3127, 0.329],
    [45, 48, 0.307, 0.321],
  ]),
  table('lag delay', 'place lag[ms]', [
    ['top', 5],
    ['top', 5.4],
    ['bottom', 13.2],
  ]),
  table('reflectance daylight', 'patch illuminance Y', [
    ['white', 0, 120],
    ['white', 300, 121],
    ['black', 0, 0.05],
    ['black', 300, 1.1],
  ]),
];

describe('what figures show', () => {
  const analysis = analysed(session(RUNS.join('\n')));
  const refs = [
    ...analysis.results.flatMap(({ run }) => figuresOf(analysis, [run.id]).map((name) => `${run.id}.${name}`)),
    'grey+tuned.change',
    'grey+tuned.balance',
    'grey+tuned.curve',
  ];

  it.each(refs)('%s', async (ref) => {
    await expect(`${described(figure(analysis, `#${ref}`))}\n`).toMatchFileSnapshot(`described/${ref}.txt`);
  });
});
