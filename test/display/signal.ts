import { map, type Triple } from './light';

/** How drive travels from the pattern to the display. */
export interface Link {
  readonly range: 'limited' | 'full';
  readonly depth: 8 | 10;
  /** The range that the display takes the codes to have, where the chain is set up wrongly. */
  readonly takenAs?: 'limited' | 'full';
}

/** The code nearest to a nominal signal 0..1 (ITU-R BT.2100-2 table 9: narrow and full range). */
export function codeOf(signal: number, { range, depth }: Pick<Link, 'range' | 'depth'>): number {
  return Math.round(range === 'full' ? signal * (2 ** depth - 1) : (219 * signal + 16) * 2 ** (depth - 8));
}

/** The signal a display makes of a code; below black and above white are clipped, as displays do outside PLUGE patterns. */
export function signalOf(code: number, { range, depth, takenAs = range }: Link): number {
  const signal = takenAs === 'full' ? code / (2 ** depth - 1) : (code / 2 ** (depth - 8) - 16) / 219;
  return Math.min(1, Math.max(0, signal));
}

/** What arrives of a nominal signal, channel by channel. */
export const arrive = (nominal: Triple, link: Link): Triple => map(nominal, (signal) => signalOf(codeOf(signal, link), link));
