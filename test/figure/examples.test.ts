import { describe, expect, it } from 'vitest';
import type { Figure } from '../../src/figure/figure';
import { BUILDERS, figureFor, figuresOf } from '../../src/figure/figures';
import { svgOf } from '../../src/figure/svg';
import { textWidth } from '../../src/figure/textWidth';
import { LIGHT } from '../../src/figure/theme';
import type { Analysis } from '../../src/project/analysis';
import { blockLabels } from '../../src/session/nodes';
import { EXAMPLES, example, pointsIn } from './tools';

/** The figures that a run of a kind has when it holds all that such a run can hold. */
const FULL: Readonly<Record<string, readonly string[]>> = {
  greyscale: ['balance', 'curve', 'de', 'chromaticity', 'nearblack'],
  saturation: ['de', 'drift', 'chromaticity'],
  patches: ['de', 'chromaticity'],
  gamut: ['chromaticity'],
  window: ['curve'],
  tracking: ['tracking', 'de', 'chromaticity'],
  contrast: ['contrast'],
  uniformity: ['map', 'tint'],
  endurance: ['time'],
  angles: ['angles'],
  volume: ['volume'],
  spectrum: ['spectrum'],
  lag: ['readings'],
  power: ['readings'],
  repeats: ['readings'],
  reflectance: ['light'],
  correction: ['residual'],
};

interface Drawn {
  readonly ref: string;
  readonly figure: Figure;
}

/** Every figure of every run, every other view of one, and pairs of runs of a kind over each other. */
function all(analysis: Analysis): Drawn[] {
  const found: Drawn[] = [];
  const add = (ids: readonly string[], measure: string) => {
    const reading = figureFor(analysis, { ids, measure, keys: [] });
    if (reading.ok) found.push({ ref: `#${ids.join('+')}.${measure}`, figure: reading.figure });
  };
  const { results } = analysis;
  for (const { run } of results) {
    for (const { id, kinds } of BUILDERS) if ((kinds as readonly string[]).includes(run.kind)) add([run.id], id);
    const other = results.find((one) => one.run !== run && one.run.kind === run.kind);
    if (other) for (const { id, kinds } of BUILDERS) if ((kinds as readonly string[]).includes(run.kind)) add([run.id, other.run.id], id);
  }
  return found;
}

describe.each(['aurora-55', 'meadow-65'])('the example %s', (name) => {
  const analysis = example(name);

  it('has of every run the figures that such a run can have', () => {
    for (const { run } of analysis.results) {
      // A greyscale in steps of 5 % has two levels near black: too few for a figure of their own.
      const isCoarse = run.kind === 'greyscale' && run.id !== 'near-black';
      expect([run.id, figuresOf(analysis, [run.id])]).toEqual([run.id, FULL[run.kind]!.filter((id) => !(isCoarse && id === 'nearblack'))]);
    }
    expect(new Set(analysis.results.map(({ run }) => run.kind))).toEqual(new Set(Object.keys(FULL)));
  });

  it('has the change from one run to the next of its kind', () => {
    expect(figuresOf(analysis, ['grey', 'grey-tuned'])).toEqual(['change', 'balance', 'curve', 'de', 'chromaticity']);
    expect(figuresOf(analysis, ['track-1000', 'track-4000', 'track-10000'])).toEqual(['tracking', 'de', 'chromaticity']);
    expect(figuresOf(analysis, ['grey', 'sat'])).toEqual([]);
  });
});

describe.each(EXAMPLES)('every figure of %s', (name) => {
  const analysis = example(name);
  const figures = all(analysis);

  it('says what it answers, in words that are filled', () => {
    for (const { ref, figure } of figures)
      for (const text of [figure.title, figure.against, figure.summary, ...figure.notes, ...pointsIn(figure).map((point) => point.name)]) {
        expect(text, ref).not.toMatch(/\{|\}|NaN|undefined|Infinity|\[object/);
        expect(figure.title, ref).not.toBe('');
      }
  });

  it('has finite marks with names of their own, and leads each to a row that is there', () => {
    const { source } = analysis;
    const rows = new Map(blockLabels(source).map((label, i) => [label, source.blocks[i]!.rowLines.length]));
    for (const { ref, figure } of figures) {
      const points = pointsIn(figure);
      for (const { x, y, row } of points) {
        expect(Number.isFinite(x + y), ref).toBe(true);
        const [label, word, at] = (row ?? '').split('/') as [string, string?, string?];
        if (row !== undefined) expect(word === 'row' && Number(at) < rows.get(label)!, `${ref} ${row}`).toBe(true);
      }
      const ids = points.map(({ id }) => id);
      expect(new Set(ids).size, ref).toBe(ids.length);
    }
  });

  it('has rows in its table as wide as its head', () => {
    for (const { ref, figure } of figures)
      for (const { cells } of figure.table.rows) expect([ref, cells.length]).toEqual([ref, figure.table.head.length]);
  });

  it.each([360, 720])('is sound SVG without labels over each other at %d px', (width) => {
    for (const { ref, figure } of figures) {
      const svg = svgOf(figure, { width, theme: LIGHT });
      expect(svg, ref).not.toMatch(/NaN|Infinity|undefined/);
      expect(svg.match(/<g[ >]/g)?.length ?? 0, ref).toBe(svg.match(/<\/g>/g)?.length ?? 0);
      expect(overlapping(svg), `${ref} at ${width}`).toEqual([]);
    }
  });
});

interface Label {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Pairs of texts that lie over each other, by what they say. */
function overlapping(svg: string): string[] {
  let size = 12.5;
  const labels: Label[] = [];
  for (const [, group, attributes, text] of svg.matchAll(/<g font-size="([\d.]+)"|<\/g>|<text([^>]*)>([^<]*)<\/text>/g)) {
    if (group !== undefined) size = Number(group);
    if (text === undefined) continue;
    const number = (name: string, other: number) => Number(new RegExp(`${name}="(-?[\\d.]+)"`).exec(attributes!)?.[1] ?? other);
    const own = number('font-size', size);
    // A little less than a font takes, so that touching is no overlap.
    const width = 0.88 * textWidth(text.replace(/&[a-z#0-9]+;/g, 'x'), own);
    const anchor = /text-anchor="(\w+)"/.exec(attributes!)?.[1];
    const left = number('x', 0) - (anchor === 'end' ? width : anchor === 'middle' ? width / 2 : 0);
    const y = number('y', 0);
    labels.push({ text, left, right: left + width, top: y - 0.7 * own, bottom: y });
  }
  const found: string[] = [];
  labels.forEach((a, i) => {
    for (const b of labels.slice(i + 1))
      if (a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom) found.push(`${a.text} / ${b.text}`);
  });
  return found;
}
