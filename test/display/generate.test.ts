import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Bench } from './bench';
import { files } from './files';
import { cleanHdrMistakes, hdrMistakes } from './hdrMistakes';
import { tableLine } from './layout';
import { cleanMistakes, mistakes } from './mistakes';
import { aurora } from './panels';
import { shippedPicture } from './screen';

const root = new URL('../../', import.meta.url);

describe('the generated sessions', () => {
  it('are the same at every call', () => {
    expect(files()).toEqual(files());
  });
  it.each(Object.entries(files()))('%s is committed as generated', (path, text) => {
    expect(readFileSync(new URL(path, root), 'utf8')).toBe(text);
  });
  it.each(Object.entries(files()).filter(([path]) => path.endsWith('.nitbook')))(
    '%s has no line end or trailing blank of its own',
    (_, text) => {
      expect(text).not.toMatch(/\r|[ \t]\n|\n\n\n/);
      expect(text).toMatch(/[^\n]\n$/);
    },
  );
});

describe('the bench', () => {
  const setup = { picture: shippedPicture(aurora), link: { range: 'limited', depth: 10 } } as const;
  const bench = (): Bench => new Bench({ panel: aurora, seed: 'bench', minutesOn: 1e6 });

  it('gives a run the same readings whatever came before it', () => {
    const alone = bench().run('grey').greyscale(setup, [0, 50, 100]);
    const after = bench();
    after.run('other').greyscale(setup, [25]);
    expect(after.run('grey').greyscale(setup, [0, 50, 100])).toEqual(alone);
  });
  it('gives repeats readings of their own, near one another', () => {
    const [first, second] = bench().run('repeats').greyscale(setup, [100, 100]);
    expect(first).not.toEqual(second);
    expect(Math.abs(Number(first![1]) / Number(second![1]) - 1)).toBeLessThan(0.04);
  });
});

describe('the layout', () => {
  it('is that of the format', () => {
    const columns = ['level', 'Y', 'x', 'y'];
    expect(tableLine(columns, columns)).toBe('    level   Y         x        y');
    expect(tableLine(columns, ['30', '6.70', '0.3099', '0.3279'])).toBe('        30  6.70      0.3099   0.3279');
    expect(tableLine(['patch', 'ref.Y', 'ref.x', 'ref.y', 'Y'], ['white', '119.1', '0.3121', '0.3284', '119.6'])).toBe(
      '    white   119.1     0.3121   0.3284   119.6',
    );
    expect(tableLine(['hue', 'sat', 'Y'], ['red', '50', '44.1'])).toBe('    red     50      44.1');
  });
  it('is back at its stops behind a wide cell', () => {
    expect(tableLine(['hue', 'sat', 'Y'], ['magenta', '50', '44.1'])).toBe('    magenta  50     44.1');
  });
});

describe('the planted faults', () => {
  const { text, faults } = mistakes();
  const lines = text.split('\n');

  it('stand where the list says', () => {
    for (const fault of faults) expect(lines[fault.line - 1]).toBe(fault.text);
    expect(new Set(faults.map(({ line }) => line)).size).toBe(faults.length);
  });
  it('are all that differs from what was measured, but for the setting that a run contradicts', () => {
    const clean = cleanMistakes().split('\n');
    const listed = new Set(faults.map(({ line }) => line));
    const kept = lines.filter((_, i) => !listed.has(i + 1));
    const foreign = kept.filter((line) => !clean.includes(line));
    expect(foreign).toEqual(['  Picture / Gamma: 2.2']);
    // One line was added for each of two faults, and one was left out.
    expect(lines.length).toBe(clean.length + 1);
  });
  it('hold one of each kind that a bench produces', () => {
    expect([...new Set(faults.map(({ code }) => code))].sort()).toEqual([
      'automatic-on',
      'below-floor',
      'cell-empty',
      'cell-surplus',
      'colon-wide',
      'column-unknown',
      'decimal-comma',
      'decimal-slip',
      'firmware-changed',
      'firmware-missing',
      'id-repeated',
      'luminance-falls',
      'meter-check-old',
      'minus-sign',
      'not-indented',
      'outside-locus',
      'percent-in-cell',
      'property-unknown',
      'range-mismatch',
      'reading-negative',
      'readings-to-take',
      'reference-missing',
      'repeats-disagree',
      'sign-apart',
      'target-mismatch',
      'white-drift',
      'xy-range',
      'xy-sum',
      'xy-swapped',
    ]);
  });
});

describe('the planted faults of the HDR session', () => {
  const { text, faults } = hdrMistakes();
  const lines = text.split('\n');

  it('stand where the list says, one a line', () => {
    for (const fault of faults) expect(lines[fault.line - 1]).toBe(fault.text);
    expect(new Set(faults.map(({ line }) => line)).size).toBe(faults.length);
  });
  it('are all that differs from what was measured', () => {
    const clean = cleanHdrMistakes().split('\n');
    const listed = new Set(faults.map(({ line }) => line));
    expect(lines.filter((line, i) => !listed.has(i + 1) && !clean.includes(line))).toEqual([]);
    // A place of a grid, an angle and a colour were left out.
    expect(lines.length).toBe(clean.length - 3);
  });
  it('hold one of each kind that runs beyond levels and colours bring', () => {
    expect([...new Set(faults.map(({ code }) => code))].sort()).toEqual([
      'correction-refused',
      'decimal-slip',
      'gamut-driven-narrow',
      'grid-hole',
      'limit-row',
      'luminance-falls',
      'not-computed',
      'power-negative',
      'quantity-range',
      'time-backwards',
      'wavelength-order',
      'wavelength-range',
    ]);
  });
});
