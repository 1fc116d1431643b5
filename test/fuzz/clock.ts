import type { Step } from './targets';

export interface Slowest {
  readonly name: string;
  readonly ms: number;
}

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
  slowest: Slowest = { name: '', ms: 0 };

  constructor(private readonly watch: Watch) {}

  readonly step: Step = (name, step) => {
    const elapsed = this.watch();
    const stop = () => {
      const ms = elapsed();
      this.ms += ms;
      if (ms > this.slowest.ms) this.slowest = { name, ms };
    };
    const result = step();
    if (result instanceof Promise) void result.then(stop, stop);
    else stop();
    return result;
  };
}
