import { stat } from 'node:fs/promises';
import { extname, join } from 'node:path';
import type { Figure } from '../figure/figure';
import { figureFor, figureMistakeText, figuresOf } from '../figure/figures';
import { svgOf } from '../figure/svg';
import { THEMES } from '../figure/theme';
import { type Analysis, settled } from '../project/analysis';
import { Folder } from '../project/folder';
import { visible } from '../report/format';
import { type Reference, readReference, referenceSentence } from '../session/reference';
import { CannotRun, DiskFiles, makeFolder, rootOf, say, slashed, unread, writeNew } from './io';
import { pngOf } from './png';
import { isSession } from './targets';

export const FIGURE_FORMS = ['svg', 'png'] as const;
export const FIGURE_THEMES = Object.keys(THEMES) as readonly (keyof typeof THEMES)[];

export interface FigureOptions {
  readonly output?: string;
  readonly width: number;
  readonly height?: number;
  readonly scale: number;
  readonly format?: (typeof FIGURE_FORMS)[number];
  readonly theme: keyof typeof THEMES;
  readonly root?: string;
}

/** Draws the figure that a reference names, or all of a run or of a session. Without a file to write to, one figure goes to the terminal; several are listed. */
export async function figure(text: string, options: FigureOptions): Promise<number> {
  const { analysis, refs } = await wanted(text, options.root);
  settled(
    analysis,
    analysis.results.filter(({ run }) => refs.some(({ ids }) => ids.includes(run.id))),
  );
  const figures = refs.map((ref) => ({ ref, figure: drawn(analysis, ref, text) }));
  if (figures.length === 0) throw new CannotRun(`${text}: nothing in it can be drawn`);
  const { output } = options;
  if (output === undefined) {
    if (options.format === 'png') throw new CannotRun('PNG goes to a file: say which with -o, such as -o balance.png');
    const [only, ...others] = figures;
    if (others.length === 0) say(svg(only!.figure, options));
    else for (const { ref, figure } of figures) say(`#${nameOf(ref)}  ${visible(figure.title)}\n`);
    return 0;
  }
  const isFolder = await leadsToFolder(output);
  const form = options.format ?? (isFolder ? 'svg' : formOf(output));
  if (!isFolder && figures.length > 1)
    throw new CannotRun(
      `${text}: these are ${figures.length} figures, and ${output} is one file: name a folder that ends in /, such as -o figures/`,
    );
  if (isFolder) await makeFolder(output);
  for (const { ref, figure } of figures) {
    const file = isFolder ? join(output, `${nameOf(ref)}.${form}`) : output;
    const drawing = svg(figure, options);
    await writeNew(file, form === 'svg' ? drawing : await pngOf(drawing, options.scale));
    say(`${visible(file)}\n`);
  }
  return 0;
}

const svg = (figure: Figure, { width, height, theme }: FigureOptions): string =>
  svgOf(figure, { width, ...(height !== undefined && { height }), theme: THEMES[theme] });

type Wanted = Pick<Reference, 'ids' | 'measure' | 'keys'>;

const nameOf = ({ ids, measure }: Wanted): string => `${ids.join('+')}.${measure}`;

/** What a reference names: a figure, all figures of its runs, or all of the session. */
async function wanted(text: string, given: string | undefined): Promise<{ readonly analysis: Analysis; readonly refs: readonly Wanted[] }> {
  if (!text.includes('#')) {
    const root = await rootOf(given);
    const path = slashed(text);
    const read = await new Folder(new DiskFiles(given === undefined ? undefined : root), root).session(path);
    if (!read.ok) throw new CannotRun(unread(read, read.path === path ? text : read.path));
    if (!isSession(path)) throw new CannotRun(`${text}: expected a .nitbook file`);
    const { analysis } = read;
    const runs = [...new Set(analysis.results.map(({ run }) => run.id))];
    return { analysis, refs: runs.flatMap((id) => allOf(analysis, [id])) };
  }
  const reading = readReference(text);
  if (!reading.ok) throw new CannotRun(`${text}: ${reading.mistakes.map((mistake) => referenceSentence(mistake)).join(' ')}`);
  const { reference } = reading;
  if (reference.path === '') throw new CannotRun(`${text}: expected a session file before the #, such as aurora.nitbook#grey.balance`);
  const root = await rootOf(given);
  const read = await new Folder(new DiskFiles(root), root).resolve(reference, slashed('.'));
  if (!read.ok) throw new CannotRun(unread(read, isSession(read.path) ? reference.path : read.path));
  const { analysis } = read;
  if (reference.measure !== '') return { analysis, refs: [reference] };
  const refs = allOf(analysis, reference.ids);
  // A reference without figures has the reason of one that names none.
  return { analysis, refs: refs.length === 0 ? [reference] : refs };
}

const allOf = (analysis: Analysis, ids: readonly string[]): Wanted[] =>
  figuresOf(analysis, ids).map((measure) => ({ ids, measure, keys: [] }));

function drawn(analysis: Analysis, ref: Wanted, text: string): Figure {
  const reading = figureFor(analysis, ref);
  if (!reading.ok) throw new CannotRun(`${text}: ${figureMistakeText(reading.mistake)}`);
  return reading.figure;
}

/** A folder is one that is there, or a name that ends like one. */
async function leadsToFolder(output: string): Promise<boolean> {
  if (/[\\/]$/.test(output)) return true;
  return (await stat(output).catch(() => undefined))?.isDirectory() ?? false;
}

function formOf(output: string): (typeof FIGURE_FORMS)[number] {
  const form = FIGURE_FORMS.find((one) => extname(output).toLowerCase() === `.${one}`);
  if (!form)
    throw new CannotRun(
      `${output}: expected a file that ends in ${FIGURE_FORMS.map((one) => `.${one}`).join(' or ')}, or a folder that ends in /`,
    );
  return form;
}
