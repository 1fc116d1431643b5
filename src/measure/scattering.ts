import { statistics } from '../algorithms/statistics';
import type { Interval } from '../uncertainty/interval';
import { normalQuantile } from '../uncertainty/normal';
import { deviationInterval, meanInterval, medianInterval } from '../uncertainty/scatter';
import { statedErrors } from './errors';
import type { RunResult } from './result';
import type { Samples } from './samples';

/** Kinds of run whose readings share the accuracy in per cent that their meter states. */
const SHARING = new Set(['power', 'repeats']);

/**
 * The interval of a figure of readings that were taken again and again; of one patch, or of all. Undefined for fewer readings than it needs.
 */
export function scatterInterval(result: RunResult, id: string, patch?: number): Interval | undefined {
  const c = result.context as Samples;
  const lists = id === 'sd.x' ? c.x : id === 'sd.y' ? c.y : c.values;
  const list = patch === undefined ? lists.flat() : lists[patch]!;
  const found = statistics(list);
  if (!found.ok || !found.v.spread) return undefined;
  const { n, mean, median, spread } = found.v;
  switch (id) {
    case 'mean':
      return shared(result, mean, meanInterval(mean, spread.sd, n));
    case 'median': {
      const interval = medianInterval(list);
      return interval && shared(result, median, interval);
    }
    case 'se':
      return times(deviationInterval(spread.sd, n), 1 / Math.sqrt(n));
    case 'sd.percent':
      return times(deviationInterval(spread.sd, n), 100 / mean);
    default:
      return deviationInterval(spread.sd, n);
  }
}

const times = ([lo, hi]: Interval, by: number): Interval => [by * lo, by * hi];

/** With what all readings of the meter share, added as squares: the scatter does not show it. */
function shared({ session, run }: RunResult, v: number, [lo, hi]: Interval): Interval {
  const accuracy = SHARING.has(run.kind) ? (statedErrors(session, run.meter)?.meter.accuracy?.Y ?? 0) : 0;
  const common = 0.5 * accuracy * v * normalQuantile(0.975);
  return [v - Math.hypot(v - lo, common), v + Math.hypot(hi - v, common)];
}
