import { scaleLinear, scaleLog } from 'd3-scale';
import { plainNumber } from '../text/message';
import type { Axis, Tick } from './figure';
import { textWidth } from './textWidth';

/** An axis as it lies in a picture, px. */
export interface Placed {
  readonly axis: Axis;
  readonly from: number;
  readonly to: number;
  readonly at: (v: number) => number;
  readonly ticks: readonly Tick[];
}

/** Size of the labels of ticks, px. */
export const TICK_SIZE = 12;

/** px that a tick and its label want of a vertical axis. */
const ROOM = 38;

/** Lays an axis between two pixels. Horizontal ones have as many ticks as their labels leave room for. */
export function place(axis: Axis, from: number, to: number, horizontal: boolean): Placed {
  const at = positions(axis, from, to);
  const length = Math.abs(to - from);
  const ticks = horizontal
    ? roomy(axis, length, (list) => apart(list, at, (tick) => textWidth(tick.label, TICK_SIZE) + 22))
    : roomy(axis, length, (list) => axis.scale === 'names' || apart(list, at, () => Math.min(ROOM - 8, TICK_SIZE + 6)));
  return { axis, from, to, at, ticks };
}

function positions({ scale, domain }: Axis, from: number, to: number): (v: number) => number {
  const scaled = (scale === 'log' ? scaleLog() : scaleLinear()).domain([...domain]).range([from, to]);
  return (v) => scaled(v);
}

/** The most ticks of those an axis can have that have room. */
function roomy(axis: Axis, length: number, fits: (list: readonly Tick[]) => boolean): readonly Tick[] {
  if (axis.ticks) return thinned(axis.ticks, fits);
  if (axis.scale === 'log') {
    const found = [LOG_STEPS[0]!, LOG_STEPS[1]!, LOG_STEPS[2]!]
      .map((steps) => logTicks(axis, steps))
      .find((list) => list.length > 1 && fits(list));
    return found ?? thinned(logTicks(axis, [1]), fits);
  }
  const scale = scaleLinear().domain([...axis.domain]);
  for (let count = Math.max(2, Math.floor(length / ROOM)); count > 1; count--) {
    const values = scale.ticks(count);
    const list = numbered(values, axis.signed === true);
    if (fits(list)) return list;
  }
  return numbered(scale.ticks(2), axis.signed === true);
}

/** Every tick, or every second, third, … of those that are given. */
function thinned(ticks: readonly Tick[], fits: (list: readonly Tick[]) => boolean): readonly Tick[] {
  for (let every = 1; every < ticks.length; every++) {
    const list = ticks.filter((_, i) => i % every === 0);
    if (fits(list)) return list;
  }
  return ticks.slice(0, 1);
}

function apart(list: readonly Tick[], at: (v: number) => number, room: (tick: Tick) => number): boolean {
  const places = list.map((tick) => ({ at: at(tick.at), room: room(tick) })).sort((p, q) => p.at - q.at);
  return places.every((place, i) => i === 0 || place.at - places[i - 1]!.at >= (place.room + places[i - 1]!.room) / 2);
}

const LOG_STEPS = [[1, 2, 5], [1, 3], [1]] as const;

function logTicks({ domain }: Axis, steps: readonly number[]): Tick[] {
  const [low, high] = domain[0] < domain[1] ? domain : [domain[1], domain[0]];
  const ticks: Tick[] = [];
  for (let power = Math.floor(Math.log10(low)); power <= Math.ceil(Math.log10(high)); power++)
    for (const step of steps) {
      const at = Number(`${step}e${power}`);
      if (at >= low * (1 - 1e-9) && at <= high * (1 + 1e-9)) ticks.push({ at, label: plainNumber(at) });
    }
  return ticks;
}

function numbered(values: readonly number[], signed: boolean): Tick[] {
  const step = values.length > 1 ? Math.abs(values[1]! - values[0]!) : 1;
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return values.map((at) => ({ at, label: signed ? signedText(at, decimals) : minus(at.toFixed(decimals)) }));
}

const minus = (text: string): string => (Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−'));

/** A deviation with its sign: `+3.8`, `−0.4`, `0`. */
export function signedText(v: number, decimals: number): string {
  const text = minus(v.toFixed(decimals));
  return Number(v.toFixed(decimals)) > 0 ? `+${text}` : text;
}

/** A domain with a little room at both ends. */
export function padded(low: number, high: number, share = 0.06): readonly [number, number] {
  const room = share * (high - low) || Math.abs(high) * share || 1;
  return [low - room, high + room];
}

/**
 * A domain for deviations: all of it for those that are judged, and for the room they have; others may lie outside, to be shown at the edge.
 * @param rooms ends of aim and limit
 */
export function deviationDomain(judged: readonly number[], others: readonly number[], rooms: readonly number[]): readonly [number, number] {
  // As many as there are rows: more than can be arguments.
  const most = [...(judged.length > 0 ? judged : others), ...rooms].reduce((p, v) => Math.max(p, Math.abs(v)), Number.NEGATIVE_INFINITY);
  let [low, high] = [0, 0];
  const show = (v: number): void => {
    low = Math.min(low, v);
    high = Math.max(high, v);
  };
  for (const v of judged) show(v);
  for (const v of rooms) show(v);
  for (const v of others) if (Math.abs(v) <= 1.5 * most) show(v);
  return padded(low, high);
}
