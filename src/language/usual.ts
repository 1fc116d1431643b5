import type { Keyword } from '../session/vocabulary';

/** Rows of a run by their keys, one part a key column, in the order in which they are read. */
export interface Plan {
  readonly title: string;
  readonly keys: readonly (readonly string[])[];
}

const steps = (from: number, to: number, by: number): number[] =>
  Array.from({ length: Math.round((to - from) / by) + 1 }, (_, i) => from + i * by);

const levels = (title: string, list: readonly number[]): Plan => ({ title, keys: list.map((level) => [String(level)]) });
const words = (title: string, list: readonly string[]): Plan => ({ title, keys: list.map((word) => [word]) });

const HUES = ['red', 'green', 'blue', 'cyan', 'magenta', 'yellow'] as const;
const saturations = (title: string, list: readonly number[]): Plan => ({
  title,
  keys: HUES.flatMap((hue) => list.map((sat) => [hue, String(sat)])),
});
const grid = (title: string, rows: number, columns: number): Plan => ({
  title,
  keys: steps(1, rows, 1).flatMap((row) => steps(1, columns, 1).map((col) => [String(row), String(col)])),
});

const greys = [
  levels('11 steps', steps(0, 100, 10)),
  levels('21 steps', steps(0, 100, 5)),
  levels('near-black', [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 100]),
];

/** Which rows a kind of run usually has (common practice, no source); the shorter plan of those that fit comes first. */
export const USUAL_PLANS: Readonly<Partial<Record<Keyword, readonly Plan[]>>> = {
  greyscale: greys,
  tracking: greys,
  saturation: [saturations('hues in steps of 25 %', [25, 50, 75, 100]), saturations('hues in steps of 20 %', [20, 40, 60, 80, 100])],
  gamut: [words('primaries and white', ['red', 'green', 'blue', 'white']), words('hues and white', [...HUES, 'white'])],
  window: [levels('windows', [1, 2, 5, 10, 25, 50, 100]), levels('windows, finely', [1, 2, 5, 10, 18, 25, 35, 50, 75, 100])],
  contrast: [
    words('white and black', ['white', 'black']),
    words('with a checkerboard', ['white', 'black', 'checker-white', 'checker-black']),
  ],
  uniformity: [grid('3 by 3 places', 3, 3), grid('5 by 5 places', 5, 5)],
  angles: [levels('angles', [0, 15, 30, 45, 60])],
  correction: [words('matrix and check colours', ['white', 'red', 'green', 'blue', 'yellow', 'cyan', 'magenta', 'grey'])],
};

/** What is often written for a property, by `block.property` (common practice, no source); `run.` stands for any kind of run. */
export const USUAL_VALUES: Readonly<Record<string, readonly string[]>> = {
  'signal.depth': ['8', '10', '12'],
  'signal.refresh': ['24 Hz', '50 Hz', '60 Hz', '120 Hz'],
  'signal.window': ['10 %', '18 %', '100 %'],
  'signal.surround': ['0 %', '20 %', '50 %'],
  'signal.mastering-peak': ['1000 cd/m2', '4000 cd/m2', '10000 cd/m2'],
  'target.luminance': ['100 cd/m2', '120 cd/m2', '80 cd/m2'],
  'run.stimulus': ['75 %', '100 %', '50 %'],
  'run.level': ['100 %', '50 %', '20 %', '5 %'],
  'session.warm-up': ['45 min', '60 min', '30 min'],
};

export const USUAL_CURVES = ['power 2.4', 'power 2.2', 'power 2.4 over black', 'bt1886', 'srgb', 'pq', 'hlg'] as const;
