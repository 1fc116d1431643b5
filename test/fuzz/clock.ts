import type { Step } from './targets';

export interface Slowest {
  readonly name: string;
  readonly ms: number;
  /** What it may take, for inputs of at most `MOST_CHARACTERS`. */
  readonly most: number;
}

export const NONE: Slowest = { name: '', ms: 0, most: 1 };

/** While one types nothing may take long; reports compute all figures of a day, on the command line with all intervals. */
const mostMs = (name: string): number => (/^(?:summary|nitbook) /.test(name) ? 1000 : 200);

export const isSlower = (a: Slowest, b: Slowest): boolean => a.ms / a.most > b.ms / b.most;

/** A way to measure: says how long ago it was started. */
export type Watch = () => () => number;

export const wall: Watch = () => {
  const start = performance.now();
  return () => performance.now() - start;
};

/** What others do on the machine is not counted. Asking for it costs as much as many a step. */
export const atWork: Watch = () => {
  const before = process.cpuUsage();
  return () => {
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1000;
  };
};

/** Measures the steps of a case. */
export class Clock {
  ms = 0;
  slowest = NONE;

  constructor(private readonly watch: Watch) {}

  readonly step: Step = (name, step) => {
    const elapsed = this.watch();
    const stop = () => {
      const ms = elapsed();
      this.ms += ms;
      const one: Slowest = { name, ms, most: mostMs(name) };
      if (isSlower(one, this.slowest)) this.slowest = one;
    };
    const result = step();
    if (result instanceof Promise) void result.then(stop, stop);
    else stop();
    return result;
  };
}
