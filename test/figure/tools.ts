import { readFileSync } from 'node:fs';
import { NO_CONFIG } from '../../src/config/config';
import type { Axis, Figure, Mark, Panel, Point, Series } from '../../src/figure/figure';
import { figureFor, figureMistakeText } from '../../src/figure/figures';
import { type Analysis, analyse, settled } from '../../src/project/analysis';
import { readReference } from '../../src/session/reference';
import { SessionText } from '../../src/session/sessionText';

export const EXAMPLES = ['aurora-55', 'meadow-65', 'bench-mistakes', 'hdr-mistakes'];

const read = new Map<string, Analysis>();

/** With its second phase, as it is shown wherever there is time. */
export function example(name: string): Analysis {
  let analysis = read.get(name);
  if (!analysis) {
    const text = readFileSync(new URL(`../../examples/${name}.nitbook`, import.meta.url), 'utf8');
    analysis = settled(analyse(SessionText.read(text), NO_CONFIG));
    read.set(name, analysis);
  }
  return analysis;
}

/** The figure of `#grey.balance`. */
export function figure(analysis: Analysis, ref: string): Figure {
  const reading = readReference(ref);
  if (!reading.ok) throw new Error(ref);
  const found = figureFor(analysis, reading.reference);
  if (!found.ok) throw new Error(figureMistakeText(found.mistake));
  return found.figure;
}

/** Why there is no such figure. */
export function mistake(analysis: Analysis, ref: string): string | undefined {
  const reading = readReference(ref);
  if (!reading.ok) throw new Error(ref);
  const found = figureFor(analysis, reading.reference);
  return found.ok ? undefined : figureMistakeText(found.mistake);
}

export const seriesIn = ({ panels }: Figure): Series[] => panels.flatMap(marksOf).filter((mark) => mark.is === 'series');

export const pointsIn = (figure: Figure): Point[] => seriesIn(figure).flatMap(({ points }) => points);

const marksOf = (panel: Panel): Mark[] => [...panel.marks, ...(panel.aside ? marksOf(panel.aside) : [])];

const n = (v: number): string => String(Number(v.toPrecision(4)));

/** A figure in words, for a reader to see at a glance what it has come to be: every mark, of a series its first and last readings. */
export function described(figure: Figure): string {
  return [
    figure.title,
    figure.against,
    figure.summary,
    ...figure.panels.flatMap((panel) => panelText(panel, '')),
    ...figure.notes.map((note) => `note: ${note}`),
    `table: ${figure.table.head.join(' | ')}`,
    ...shortened(figure.table.rows.map(({ cells }) => cells.join(' | '))).map((line) => `  ${line}`),
  ].join('\n');
}

function panelText(panel: Panel, indent: string): string[] {
  return [
    `${indent}panel ${panel.id}${panel.title === undefined ? '' : ` "${panel.title}"`}: ${axisText(panel.x)} × ${axisText(panel.y)}`,
    ...panel.marks.flatMap((mark) => markText(mark).map((line) => `${indent}  ${line}`)),
    ...(panel.aside ? ['  beside it', ...panelText(panel.aside, `${indent}  `)] : []),
  ];
}

const axisText = ({ title, scale, domain }: Axis): string => `${title || '–'} (${scale} ${n(domain[0])}..${n(domain[1])})`;

function markText(mark: Mark): string[] {
  switch (mark.is) {
    case 'rule':
      return [
        `${mark.role} at ${mark.along} ${n(mark.at)}${mark.extent ? ` for ${mark.extent.map(n).join('..')}` : ''}${mark.label ? ` "${mark.label}"` : ''}`,
      ];
    case 'band':
      return [`${mark.role} band ${mark.along} ${mark.between.map(n).join('..')}`];
    case 'outline':
      return [`${mark.role} ${mark.id}: ${mark.points.length} corners${mark.label ? ` "${mark.label}"` : ''}`];
    case 'cells':
      return [`cells ${mark.id}`, ...shortened(mark.points.map(({ x, y, label }) => `(${x}, ${y}) ${label}`)).map((line) => `  ${line}`)];
    case 'series': {
      const look = [mark.ink, mark.dash, mark.joined ? 'line' : '', mark.shape].filter((part) => part !== '').join(' ');
      return [
        `${mark.id}: ${look}${mark.label ? ` "${mark.label}"` : ''}`,
        ...shortened(mark.points.map(pointText)).map((line) => `  ${line}`),
      ];
    }
  }
}

const pointText = ({ x, y, name, row, label, bound, faint, from }: Point): string =>
  `(${n(x)}, ${n(y)}) ${name}${row ? ` [${row}]` : ''}${from ? ` from (${from.map(n).join(', ')})` : ''}${label ? ` "${label}"` : ''}${bound ? ` ${bound}` : ''}${faint ? ' faint' : ''}`;

/** The first two and the last of many. */
const shortened = (lines: readonly string[]): readonly string[] => (lines.length <= 4 ? lines : [...lines.slice(0, 2), '…', lines.at(-1)!]);
