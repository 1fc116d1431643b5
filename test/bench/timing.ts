/**
 * Runs each task in turn, round by round, so that what disturbs the machine disturbs all of them alike. Tasks are told the round, so that
 * none is given the same numbers twice running: what was computed for the last ones may not be taken over.
 */
export function timed(
  tasks: Readonly<Record<string, (round: number) => number>>,
  { rounds = 15, warmUp = 3 } = {},
): Record<string, number[]> {
  const times: Record<string, number[]> = Object.fromEntries(Object.keys(tasks).map((name) => [name, []]));
  for (let round = -warmUp; round < rounds; round++) {
    for (const [name, task] of Object.entries(tasks)) {
      const start = performance.now();
      const result = task(round + warmUp);
      const took = performance.now() - start;
      if (!Number.isFinite(result)) throw new Error(`${name} computed ${result}`);
      if (round >= 0) times[name]!.push(took);
    }
  }
  return times;
}

/**
 * Ends the task. In an editor each keystroke is one; in one long task weak references keep all versions of a text alive, and collecting
 * what can be collected is put off.
 */
export const nextTask = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

export function percentile(list: readonly number[], share: number): number {
  const sorted = [...list].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}

export const median = (list: readonly number[]): number => percentile(list, 0.5);
export const milliseconds = (ms: number): string => `${ms < 10 ? ms.toFixed(2) : ms.toFixed(1)} ms`;
export const ratio = (a: number, b: number): string => `${(a / b).toFixed(1)} ×`;

/** The power p of time ~ size^p, by least squares in logarithms. */
export function growth(points: readonly (readonly [size: number, time: number])[]): string {
  const xs = points.map(([size]) => Math.log(size));
  const ys = points.map(([, time]) => Math.log(time));
  const [mx, my] = [xs, ys].map((list) => list.reduce((a, b) => a + b) / list.length) as [number, number];
  const slope = xs.reduce((s, x, i) => s + (x - mx) * (ys[i]! - my), 0) / xs.reduce((s, x) => s + (x - mx) ** 2, 0);
  return slope.toFixed(2);
}
