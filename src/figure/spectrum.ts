import type { RunResult } from '../measure/result';
import { readSpectra } from '../measure/spectra';
import { REASONS, without } from '../measure/value';
import { numberText } from '../report/format';
import { type Phrase, phrase, phraseOf, plainNumber } from '../text/message';
import type { Dash, Ink, Point, Series } from './figure';
import { againstOf, type Builder, rowNode, titleOf, words } from './subject';

const INKS: Readonly<Record<string, readonly [Ink, Dash]>> = {
  red: ['red', 'long'],
  green: ['green', 'dash-dot'],
  blue: ['blue', 'dot'],
  white: ['text', 'solid'],
};
const OTHERS: readonly (readonly [Ink, Dash])[] = [
  ['a', 'long'],
  ['b', 'dot'],
  ['c', 'dash-dot'],
  ['d', 'solid'],
];

/** What light the colours are made of. */
export const spectrum: Builder = {
  id: 'spectrum',
  kinds: ['spectrum'],
  runs: [1, 1],
  build(subject) {
    const result = subject.results[0]!;
    const read = readSpectra(result.run);
    const spectra = read.filter(({ wrong }) => !wrong);
    if (spectra.length === 0) return without('no-rows');
    const nodeOf = rowNode(subject, result);
    const rows = result.run.table.rows.flatMap((row, i) => (row.struck ? [] : [i]));
    const series = spectra.map(({ name, wavelengths, values }, s): Series => {
      const [ink, dash] = INKS[name] ?? OTHERS[s % OTHERS.length]!;
      const id = `${result.run.id}/${name}`;
      const peaks = peaksOf(result, name);
      const tallest = peaks.reduce(
        (most, peak) => (valueNear(wavelengths, values, peak) > valueNear(wavelengths, values, most) ? peak : most),
        peaks[0] ?? Number.NaN,
      );
      const points = wavelengths.map((nm, i): Point => {
        const isTop = Number.isFinite(tallest) && nearest(wavelengths, tallest) === i;
        return {
          id: `${id}/${nm}`,
          x: nm,
          y: values[i]!,
          row: nodeOf(rows[i]!),
          run: result.run.id,
          key: [name],
          name: words(subject, phrase('{name} at {nm} nm: {power}', { name, nm, power: plainNumber(values[i]!) })),
          ...(isTop && { label: `${name} ${numberText(tallest, 0)}` }),
        };
      });
      return { is: 'series', id, ink, dash, joined: true, shape: 'none', points };
    });
    const all = series.flatMap(({ points }) => points);
    return {
      id: 'spectrum',
      runs: [result.run.id],
      title: titleOf(subject, [
        answerOf(
          result,
          spectra.map(({ name }) => name),
        ),
      ]),
      against: againstOf(subject),
      summary: result.says(subject.say).join(' '),
      notes: read.flatMap(({ name, wrong }) =>
        wrong ? [words(subject, phrase('{name} is not shown: {why}.', { name, why: phraseOf(REASONS, wrong.why) }))] : [],
      ),
      panels: [
        {
          id: 'power',
          x: {
            title: words(subject, phrase('wavelength, nm')),
            scale: 'linear',
            domain: [Math.min(...all.map(({ x }) => x)), Math.max(...all.map(({ x }) => x))],
          },
          y: { title: words(subject, phrase('power, as written')), scale: 'linear', domain: [0, Math.max(...all.map(({ y }) => y)) * 1.1] },
          marks: series,
        },
      ],
      flow: 'column',
      table: {
        head: ['nm', ...spectra.map(({ name }) => name)],
        rows: rows.map((row, i) => ({
          run: result.run.id,
          row: nodeOf(row),
          cells: [plainNumber(spectra[0]!.wavelengths[i]!), ...spectra.map(({ values }) => plainNumber(values[i]!))],
        })),
      },
    };
  },
};

const nearest = (list: readonly number[], v: number): number =>
  list.reduce((best, one, i) => (Math.abs(one - v) < Math.abs(list[best]! - v) ? i : best), 0);
const valueNear = (wavelengths: readonly number[], values: readonly number[], nm: number): number => values[nearest(wavelengths, nm)] ?? 0;

/** Wavelengths of the peaks of a spectrum, from the shortest. */
function peaksOf(result: RunResult, name: string): number[] {
  const count = result.value('peaks', [name]);
  return Array.from({ length: count.ok ? count.v : 0 }, (_, i) => result.value('peak', [name, String(i + 1)])).flatMap((peak) =>
    peak.ok ? [peak.v] : [],
  );
}

/** `Peaks of white at 455, 527 and 634 nm, the narrowest 22 nm wide`. */
function answerOf(result: RunResult, names: readonly string[]): Phrase {
  const name = names.includes('white') ? 'white' : names[0]!;
  const peaks = peaksOf(result, name);
  const widths = peaks.flatMap((_, i) => {
    const width = result.value('width', [name, String(i + 1)]);
    return width.ok ? [width.v] : [];
  });
  const args = { name, peaks: peaks.map((nm) => numberText(nm, 0)), width: widths.length > 0 ? numberText(Math.min(...widths), 0) : '' };
  if (peaks.length === 0) return phrase('No peak of {name} stands out', args);
  return widths.length === 0
    ? phrase('Peaks of {name} at {peaks} nm', args)
    : phrase('Peaks of {name} at {peaks} nm, the narrowest {width} nm wide', args);
}
