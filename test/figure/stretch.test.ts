import { describe, expect, it } from 'vitest';
import { isOpen, stretchOf, whereOf } from '../../src/figure/stretch';
import { fill } from '../../src/text/message';

const levels = (...values: readonly number[]) => values.map((v, i) => ({ v, at: String(20 + 10 * i) }));

describe('the stretch where a line lies off', () => {
  const said = (room: number, ...values: readonly number[]): string | undefined => {
    const found = stretchOf(levels(...values), room);
    if (!found) return undefined;
    const where = whereOf(found);
    return `${found.alike === undefined ? `up to ${found.worst.v}` : found.alike} ${fill(where.template, where.args)}`;
  };

  it('is none where everything lies within the room, its edge included', () => {
    expect(said(2, 1, -2, 2, 0)).toBeUndefined();
    expect(said(2)).toBeUndefined();
  });

  it('goes from the worst both ways as long as it is off in the same direction', () => {
    expect(said(2, 0, 3, 3.5, 3, 1, 3)).toBe('3 from 30 to 50 %');
    expect(said(2, 0, 1, 3, 4, 4.1)).toBe('4 from 40 % up');
    expect(said(2, 4, -3, 0)).toBe('4 at 20 %');
    expect(said(2, 3, 3.2, 3.1)).toBe('3.1 at every level');
    expect(said(2, 3, 3.2, 0)).toBe('3.2 from 20 to 30 %');
  });

  it('is spoken of with one number where all of it is much alike, else with its worst', () => {
    expect(said(2, 0, 4, 4.8, 4.2)).toBe('4.2 from 30 % up');
    expect(said(2, 0, 2.5, 4, 8)).toBe('up to 8 from 30 % up');
    expect(said(2, 0, -2.5, -4, -8)).toBe('up to -8 from 30 % up');
    expect(said(2, 0, -3.9, -4, -4.1)).toBe('-4 from 30 % up');
  });

  it('is that of the first of equally bad ones', () => {
    expect(said(2, 5, 0, 5)).toBe('5 at 20 %');
  });
});

describe('what is said of deviations whose intervals are known', () => {
  const open = (...deviations: readonly (readonly [v: number, low: number, high: number])[]) => {
    const list = deviations.map(([v, ...ci], i) => ({ v, at: String(i), ci }));
    return isOpen(stretchOf(list, 2), list, 2);
  };

  it('stays open while the interval of the worst reaches into the room, or that of any within out of it', () => {
    expect(open([5, 3, 7], [0, -3, 3])).toBe(false);
    expect(open([5, 1, 9])).toBe(true);
    expect(open([-5, -7, -3])).toBe(false);
    expect(open([1, 0, 2], [-1, -2, 0])).toBe(false);
    expect(open([1, 0, 2], [-1, -2.1, 0])).toBe(true);
  });

  it('is decided by the numbers alone where no interval is known', () => {
    expect(isOpen(stretchOf(levels(5), 2), levels(5), 2)).toBe(false);
    expect(isOpen(undefined, levels(1, 2), 2)).toBe(false);
  });
});
