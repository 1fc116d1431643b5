import { describe, expect, it } from 'vitest';
import { settled } from '../../src/project/analysis';
import { differenceNow, type FigureChange } from '../../src/report/difference';
import { normal, stream } from '../display/random';
import { analysed } from '../report/sessions';

const figures = (before: string, after: string): ReadonlyMap<string, FigureChange> =>
  new Map(
    differenceNow(settled(analysed(before)), settled(analysed(after))).sections.flatMap(({ run }) =>
      (run?.figures ?? []).map((figure) => [`${run!.after.run.id}.${figure.after.id}`, figure] as const),
    ),
  );

const head = `nitbook 1
session 2026-03-14
meter probe
  kind: colorimeter
  spread: 0.0004 xy, 0.5 %
  accuracy: 0.002 xy, 2 %
signal sdr
  range: limited
  depth: 10
mode cinema
target dark
  space: bt709
  curve: power 2.4
  white: d65
`;

const contrast = (white: string, black: string) => `${head}
contrast pair
    patch   Y
    white   ${white}
    black   ${black}
`;
const Z = 1.959964;

describe('the difference of a figure between two versions', () => {
  it('has the errors of what was taken again, and of the rest what does not cancel', () => {
    // Constructed: 100/0.1 = 1000 and 100/0.11 = 909.09. Each black errs by 0.5 % on its own: 5.00 and 4.55. White is one reading in both
    // and errs by 0.5 % of the difference: 0.45. The accuracy is a common factor of white and black, and cancels in a ratio.
    const change = figures(contrast('100', '0.1'), contrast('100', '0.11')).get('pair.sequential')!;
    expect(change.by).toBe('again');
    expect(change.difference).toBeCloseTo(-90.909, 3);
    const [low, high] = change.interval!;
    const reach = Z * Math.hypot(5, 4.5455, 0.4545);
    expect((high - low) / 2 / reach).toBeCloseTo(1, 2);
    expect(change.isShown).toBe(true);
  });

  it('has of what all readings of the meter share only what does not cancel', () => {
    // Constructed: each black errs by 0.5 % on its own; the accuracy, 1 % at k = 1, is one error of both: 1 % of the difference.
    const change = figures(contrast('100', '0.1'), contrast('100', '0.11')).get('pair.black')!;
    const [low, high] = change.interval!;
    expect((high - low) / 2 / (Z * Math.hypot(0.0005, 0.00055, 0.0001))).toBeCloseTo(1, 2);
  });

  it('is wider where white was taken again as well', () => {
    // Constructed: now white errs by 0.5 % of either figure, on its own: √2 times the reach of the blacks. 100 and 100.4 are no slip.
    const change = figures(contrast('100', '0.1'), contrast('100.4', '0.11')).get('pair.sequential')!;
    const [low, high] = change.interval!;
    expect((high - low) / 2 / (Z * Math.hypot(5, 4.564, 5, 4.564))).toBeCloseTo(1, 2);
  });

  it('is not shown where two readings differ by as much by chance', () => {
    // The standard deviation of the difference is √2 · 0.5 %: 1.2 % lies within, 1.6 % beyond 1.96 of it.
    expect(figures(contrast('100', '0.1000'), contrast('100', '0.1012')).get('pair.sequential')).toMatchObject({
      isShown: false,
      isTold: false,
    });
    expect(figures(contrast('100', '0.1000'), contrast('100', '0.1016')).get('pair.sequential')).toMatchObject({
      isShown: true,
      isTold: true,
    });
  });

  it('has of a mean of repeats the part that is the same in both', () => {
    // Constructed: 0.1 alone before; the mean of 0.1 and 0.104 after. The first reading moves the figure by 1000 before and half of 980 after;
    // the second by half of 980 alone: (5 − 2.45·0.98)² and (2.45·1.02)², nearly.
    const repeated = contrast('100', '0.1').replace(/( +black .*\n)/, '$1    black   0.104\n');
    const change = figures(contrast('100', '0.1'), repeated).get('pair.sequential')!;
    const [before, after] = [100 / 0.1, 100 / 0.102];
    const own = 0.005 * (before - after * (0.05 / 0.102) * 1);
    const other = 0.005 * after * (0.052 / 0.102);
    const white = 0.005 * (before - after);
    const [low, high] = change.interval!;
    expect(change.by).toBe('again');
    expect((high - low) / 2 / (Z * Math.hypot(own, other, white))).toBeCloseTo(1, 1);
  });

  it('is exact where a slip was put right, where only rows come or go, and where the readings are the same', () => {
    expect(figures(contrast('100', '1.0'), contrast('100', '0.10')).get('pair.sequential')).toMatchObject({ by: 'mended', isTold: true });
    const grey = (rows: string, limit = '') => `${head}${limit}\ngreyscale grey\n    level   Y         x        y\n${rows}`;
    const rows = '       100  120       0.3127   0.3290\n        50  22.9      0.3110   0.3250\n';
    const more = figures(grey(rows), grey(`${rows}        70  50        0.3127   0.3290\n`)).get('grey.de.avg')!;
    expect([more.by, more.interval]).toEqual(['rows', undefined]);
    const limited = figures(grey(rows), grey(rows, 'limits\n  greyscale.de.max: limit 0.1\n')).get('grey.de.max')!;
    expect(limited).toMatchObject({ by: 'else', difference: 0, isTold: true });
  });

  it('is nothing but a number where the meter says no spread', () => {
    const silent = (text: string) => text.replace(/ {2}spread.*\n/, '');
    const change = figures(silent(contrast('100', '0.1')), silent(contrast('100', '0.11'))).get('pair.sequential')!;
    expect(change.by).toBe('again');
    expect(change.interval).toBeUndefined();
    expect(change.isTold).toBe(true);
  });

  it('follows a white that another run is scaled by', () => {
    const grey = (white: string) => `${head}
greyscale grey
    level   Y         x        y
        50  22.9      0.3110   0.3250
       100  ${white}       0.3127   0.3290
saturation sat
    hue     sat     Y         x        y
    red     100     19.0      0.6398   0.3299
`;
    const change = figures(grey('120'), grey('114')).get('sat.de.max')!;
    expect(change.by).toBe('again');
    expect(change.isShown).toBe(true);
    // The rows of the greyscale that saturation does not hang on are nothing to it.
    expect(figures(grey('120'), grey('120').replace('22.9 ', '21.3 ')).has('sat.de.max')).toBe(false);
  });

  it('calls no more than one of twenty unchanged displays changed', () => {
    // Constructed: the same light read twice, with the spread that the meter states; the rest of the run is as it was.
    const uniform = stream('versions');
    const levels = [100, 10, 30, 50, 70, 90];
    const read = (level: number): string => {
      const Y = 120 * (level / 100) ** 2.4 * (1 + 0.005 * normal(uniform));
      const [x, y] = [0.311 + 0.0004 * normal(uniform), 0.3262 + 0.0004 * normal(uniform)];
      return `    ${level}  ${Y.toPrecision(6)}  ${x.toFixed(6)}  ${y.toFixed(6)}`;
    };
    const run = (rows: readonly string[]) => `${head}\ngreyscale grey\n    level   Y         x        y\n${rows.join('\n')}\n`;
    const claimed = new Map<string, number>();
    const times = 60;
    for (let i = 0; i < times; i++) {
      const rows = levels.map(read);
      const again = [...rows];
      const at = i % levels.length;
      again[at] = read(levels[at]!);
      for (const [name, { isShown }] of figures(run(rows), run(again))) if (isShown) claimed.set(name, (claimed.get(name) ?? 0) + 1);
    }
    // Of 60 at 0.05 more than 8 come up once in 200.
    for (const [name, count] of claimed) expect(count, name).toBeLessThanOrEqual(8);
  });
});
