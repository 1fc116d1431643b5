import { describe, expect, it } from 'vitest';
import type { Axis, Figure, Panel } from '../../src/figure/figure';
import { layoutOf } from '../../src/figure/layout';
import { spreadOut } from '../../src/figure/placing';
import { deviationDomain, place, signedText } from '../../src/figure/scale';
import { shortened, textWidth, wrapped } from '../../src/figure/textWidth';
import { example, figure } from './tools';

const axis = (domain: readonly [number, number], rest: Partial<Axis> = {}): Axis => ({ title: '', scale: 'linear', domain, ...rest });

describe('an axis', () => {
  it('lies between two pixels, also turned round', () => {
    const x = place(axis([0, 100]), 40, 240, true);
    expect([x.at(0), x.at(25), x.at(100)]).toEqual([40, 90, 240]);
    const y = place(axis([-5, 5]), 200, 0, false);
    expect([y.at(-5), y.at(0), y.at(5)]).toEqual([200, 100, 0]);
  });

  it('is as long for equal ratios where it is logarithmic', () => {
    const { at } = place(axis([1, 100], { scale: 'log' }), 0, 200, true);
    expect([at(1), at(10), at(100)].map((v) => v.toFixed(6))).toEqual(['0.000000', '100.000000', '200.000000']);
  });

  it('has as many ticks as their labels leave room for', () => {
    const labels = (domain: readonly [number, number], length: number, rest?: Partial<Axis>) =>
      place(axis(domain, rest), 0, length, true).ticks.map(({ label }) => label);
    expect(labels([0, 100], 600)).toEqual(['0', '10', '20', '30', '40', '50', '60', '70', '80', '90', '100']);
    expect(labels([0, 100], 120)).toEqual(['0', '50', '100']);
    expect(labels([-4, 4], 300, { signed: true })).toEqual(['−4', '−2', '0', '+2', '+4']);
    expect(labels([1, 1000], 600, { scale: 'log' })).toEqual(['1', '2', '5', '10', '20', '50', '100', '200', '500', '1000']);
    expect(labels([1, 1000], 150, { scale: 'log' })).toEqual(['1', '10', '100', '1000']);
    expect(labels([0, 0.012], 300)).toEqual(['0.000', '0.005', '0.010']);
  });

  it('of deviations has room for all that is judged, its limits and 0, and not for what lies far outside', () => {
    const [low, high] = deviationDomain([1, 3], [40, -4], [-5, 5]);
    expect(low).toBeCloseTo(-5.6);
    expect(high).toBeCloseTo(5.6);
  });

  it('writes deviations with their sign, and nothing before 0', () => {
    expect([signedText(3.75, 1), signedText(-0.4, 1), signedText(-0.04, 1), signedText(0.04, 1)]).toEqual(['+3.8', '−0.4', '0.0', '0.0']);
  });
});

describe('texts without a font to ask', () => {
  it('are wrapped between words, a unit staying with its number, and end in an ellipsis past the last line', () => {
    expect(wrapped('Blue up to 11 % high at every level', 16, 130)).toEqual(['Blue up to 11 %', 'high at every', 'level']);
    expect(wrapped('Blue up to 11 % high at every level', 16, 110)).toEqual(['Blue up to', '11 % high at', 'every level']);
    const [first, second, ...none] = wrapped('one two three four five six seven', 16, 80, { most: 2 });
    expect([first, second!.endsWith('…'), none]).toEqual(['one two', true, []]);
    expect(textWidth(second!, 16)).toBeLessThanOrEqual(80);
  });

  it('are cut where they do not fit', () => {
    expect(shortened('short', 12, 200)).toBe('short');
    expect(shortened('far too long a name for this', 12, 60)).toMatch(/^far.*…$/);
  });

  it('are about as wide as East Asian marks are, and marks above letters take no room', () => {
    expect(textWidth('画面', 10)).toBeGreaterThan(textWidth('ab', 10));
    expect(textWidth('é', 10)).toBe(textWidth('e', 10));
  });
});

describe('labels of one column', () => {
  it('stand where they are wanted, and move apart together where they touch', () => {
    expect(spreadOut([10, 100], 16, 0, 200)).toEqual([10, 100]);
    expect(spreadOut([50, 54], 16, 0, 200)).toEqual([44, 60]);
    expect(spreadOut([50, 50, 50], 16, 0, 200)).toEqual([34, 50, 66]);
  });

  it('stay within their column, in the order of their places', () => {
    expect(spreadOut([3, 1, 2], 10, 0, 100)).toEqual([20, 0, 10]);
    expect(spreadOut([98, 99], 10, 0, 100)).toEqual([90, 100]);
  });
});

const panel = (rest: Partial<Panel> = {}): Panel => ({ id: 'p', x: axis([0, 100]), y: axis([0, 1], { title: 'y' }), marks: [], ...rest });
const bare = (panels: readonly Panel[], flow: Figure['flow'] = 'column'): Figure => ({
  id: 'f',
  runs: [],
  title: 'T',
  against: 'a',
  summary: '',
  notes: [],
  panels,
  flow,
  table: { head: [], rows: [] },
});

describe('the layout of a figure', () => {
  it('is as tall as it wants to be, or as tall as it is told', () => {
    const own = layoutOf(bare([panel()]), { width: 720 });
    expect(own.height).toBeGreaterThan(300);
    const told = layoutOf(bare([panel()]), { width: 720, height: 500 });
    expect(told.height).toBe(500);
    expect(told.panels[0]!.frame.height - own.panels[0]!.frame.height).toBeCloseTo(500 - own.height, 0);
  });

  it('keeps everything inside, whatever the width', () => {
    const figures = [figure(example('aurora-55'), '#grey+grey-tuned.balance'), figure(example('aurora-55'), '#colours.chromaticity')];
    for (const one of figures)
      for (const width of [200, 320, 480, 720, 1400]) {
        const layout = layoutOf(one, { width });
        for (const { frame, box, aside } of layout.panels)
          for (const inner of [frame, ...(aside ? [aside.frame] : [])]) {
            expect(inner.x, `${one.id} at ${width}`).toBeGreaterThanOrEqual(box.x);
            expect(inner.x + inner.width).toBeLessThanOrEqual(layout.width);
            expect(inner.y + inner.height).toBeLessThan(layout.height);
          }
      }
  });

  it('puts panels of a row beside each other as far as there is room, in rows of equal length', () => {
    const columns = (count: number, width: number) =>
      new Set(
        layoutOf(
          bare(
            Array.from({ length: count }, (_, i) => panel({ id: String(i) })),
            'row',
          ),
          { width },
        ).panels.map(({ box }) => box.x),
      ).size;
    expect([columns(6, 720), columns(6, 1400), columns(6, 240), columns(4, 720), columns(2, 720)]).toEqual([3, 6, 1, 2, 2]);
  });

  it('lets frames of a column begin and end at the same places', () => {
    const { panels } = layoutOf(bare([panel(), panel({ id: 'q', y: axis([0, 10000], { title: 'y' }) })]), { width: 600 });
    expect(panels[0]!.frame.x).toBe(panels[1]!.frame.x);
    expect(panels[0]!.frame.width).toBe(panels[1]!.frame.width);
  });

  it('makes a unit as long on one axis as on the other: by the frame, or by the domains', () => {
    const equal = { x: axis([0, 0.6]), y: axis([0, 0.6], { title: 'v' }) };
    for (const how of ['fit', 'fill'] as const) {
      const { frame, x, y } = layoutOf(bare([panel({ ...equal, equal: how })]), { width: 700 }).panels[0]!;
      expect(x.at(0.5) - x.at(0.4)).toBeCloseTo(y.at(0.4) - y.at(0.5), 6);
      expect(frame.width > 1.2 * frame.height).toBe(how === 'fill');
    }
  });
});
