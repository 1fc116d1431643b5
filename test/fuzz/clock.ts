import type { Step } from './targets';

/** A step of a case, and how long it took. */
export interface Timed {
  readonly name: string;
  readonly ms: number;
}

export interface Slowest extends Timed {
  /** What it may take, for inputs of at most `MOST_CHARACTERS`. */
  readonly most: number;
}

export const NONE: Slowest = { name: '', ms: 0, most: 1 };

/**
 * What is computed with intervals is longer work by its nature: it is held to its pieces, between which an editor types on. Of sessions as
 * people make them a piece takes 1 ms; of 3,000 levels of grey, which are all read again for it, 11 ms. The command line drives it to its
 * end, for all rows as well.
 */
function mostMs(name: string): number {
  if (name === SECOND_PHASE) return 20;
  if (name.startsWith('nitbook ')) return 1000;
  return 200;
}

export const SECOND_PHASE = 'a piece of the second phase';

export const isSlower = (a: Slowest, b: Slowest): boolean => a.ms / a.most > b.ms / b.most;

/** A way to measure: says how long ago it was started. */
export type Watch = () => () => number;

export const wall: Watch = () => {
  const start = performance.now();
  return () => performance.now() - start;
};

/**
 * A step takes no longer than the clock says, which counts what others do on the machine, and none longer than the process was at work, which
 * counts its threads beside the one that steps: the less of both. Asking for it costs as much as many a step.
 */
export const atWork: Watch = () => {
  const before = process.cpuUsage();
  const elapsed = wall();
  return () => {
    const { user, system } = process.cpuUsage(before);
    return Math.min((user + system) / 1000, elapsed());
  };
};

/** Measures the steps of a case. */
export class Clock {
  readonly steps: Timed[] = [];

  constructor(private readonly watch: Watch) {}

  readonly step: Step = (name, step) => {
    const elapsed = this.watch();
    const stop = () => void this.steps.push({ name, ms: elapsed() });
    const result = step();
    if (result instanceof Promise) void result.then(stop, stop);
    else stop();
    return result;
  };
}

/**
 * The slowest step of a case, by what it may take. Of a case that was run again each step counts with its shortest time: what disturbs a
 * machine, or the collection of garbage, hits another step each time.
 */
export function slowestOf(runs: readonly (readonly Timed[])[]): Slowest {
  let slowest = NONE;
  runs[0]!.forEach(({ name }, i) => {
    const times = runs.flatMap((steps) => (steps[i]?.name === name ? [steps[i].ms] : []));
    const one = { name, ms: Math.min(...times), most: mostMs(name) };
    if (isSlower(one, slowest)) slowest = one;
  });
  return slowest;
}
