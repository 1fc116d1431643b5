import { pqInverse } from '../colour/pq';
import { anyOf, type Message } from '../text/message';
import { type Clip, highlight } from './clip';
import type { EetfFit } from './eetfFit';
import type { MetadataTest } from './metadata';
import type { KneeSearch } from './tracking';

/** What a display does with highlights and with metadata, as sentences without their subject: "the display …". */
export const SAYINGS = {
  'follows-to-top': 'keeps to the curve of its mid-tones up to {level} %, the highest level tested',
  'rolls-off': 'leaves the curve of its mid-tones at {level} %, {luminance} cd/m²',
  'rolls-off-eetf':
    'rolls off as the EETF of ITU-R BT.2408 does from {from} to {peak} cd/m², starting at {start} cd/m² (within {rms} stop)',
  'rolls-off-own': 'rolls off in a way of its own, {rms} stop from the nearest EETF of ITU-R BT.2408',
  'clips-hard': 'keeps to the curve of its mid-tones nearly up to its peak and cuts off there, without a roll-off',
  'clips-from': 'shows all levels from {level} % on as {peak} cd/m²',
  'clips-nowhere': 'still tells levels apart at {level} %, the highest tested',
  'falls-at-top': 'gets darker again towards {level} %, the highest level tested, having reached {peak} cd/m²',
  'keeps-highlights': 'keeps {share} % of the highlights mastered up to {mastering} cd/m² apart',
  'keeps-highlights-at-least': 'keeps at least {share} % of the highlights mastered up to {mastering} cd/m² apart',
  'metadata-same':
    'shows the same picture whatever mastering peak it is told, {peaks} cd/m²: at most {difference} stop apart, within {threshold}',
  'metadata-follows':
    'minds the mastering peak it is told: {difference} stop between {low} and {high} cd/m² at {level} %, beyond {threshold}',
  'metadata-not-separable': 'adapts its tone mapping to the picture, so that what it makes of metadata cannot be told apart',
} as const;

export type Saying = keyof typeof SAYINGS;

const saying = (code: Saying, args: Message['args'] = {}): Message => ({ code, args });

/** An EETF describes a display that is this near to it, in stops. Common practice, no source. */
const ALIKE = 0.1;
/** A roll-off that starts this near below the peak, as a share of it, is a cut. Common practice, no source. */
const CUT = 0.9;

export interface Highlights {
  readonly knee: KneeSearch;
  /** What is not given is not spoken of. */
  readonly fit?: EetfFit;
  readonly clip?: Clip;
  /** Mastering peak that was sent, cd/m². */
  readonly mastering?: number;
}

/** A sentence needs no more digits than a reader remembers; the figures themselves keep theirs. */
const percent = (share: number): number => Math.round(1000 * share) / 10;
const light = (luminance: number): number => Number(luminance.toPrecision(3));
const stops = (d: number): number => Math.round(1000 * d) / 1000;

/**
 * What the display does with highlights: whether, where and how it leaves the curve of its mid-tones, where it clips, how much stays apart.
 * Without a clip the share is that of the highest level, with "at least". Mastering peaks up to 203 cd/m² have no highlights: no share.
 */
export function describeHighlights({ knee, fit, clip, mastering }: Highlights): readonly Message[] {
  const said: Message[] = [];
  if (!knee.found) said.push(saying('follows-to-top', { level: percent(knee.upTo) }));
  else if (fit && fit.rms <= ALIKE && fit.kneeStart.luminance >= CUT * fit.peak) said.push(saying('clips-hard'));
  else {
    said.push(saying('rolls-off', { level: percent(knee.signal), luminance: light(knee.luminance) }));
    if (fit && fit.rms <= ALIKE)
      said.push(
        saying('rolls-off-eetf', {
          from: light(fit.from),
          peak: light(fit.peak),
          start: light(fit.kneeStart.luminance),
          rms: stops(fit.rms),
        }),
      );
    else if (fit) said.push(saying('rolls-off-own', { rms: stops(fit.rms) }));
  }
  if (!clip) return said;
  if (clip.found) said.push(saying('clips-from', { level: percent(clip.signal), peak: light(clip.peak) }));
  else if (clip.falls) said.push(saying('falls-at-top', { level: percent(clip.upTo), peak: light(clip.peak) }));
  else said.push(saying('clips-nowhere', { level: percent(clip.upTo) }));
  const share =
    mastering === undefined || (!clip.found && clip.falls) ? undefined : highlight(clip.found ? clip.signal : clip.upTo, mastering);
  if (share?.ok && mastering !== undefined) {
    const whole = clip.found || clip.upTo >= pqInverse(mastering);
    said.push(saying(whole ? 'keeps-highlights' : 'keeps-highlights-at-least', { share: percent(share.v), mastering }));
  }
  return said;
}

/** What the display makes of the mastering peak it is told. */
export function describeMetadata({ says, difference, threshold, signal, between, peaks }: MetadataTest): Message {
  if (says === 'not-separable') return saying('metadata-not-separable');
  const args = { difference: stops(difference), threshold: stops(threshold) };
  if (says === 'same') return saying('metadata-same', { ...args, peaks: anyOf([peaks.slice(0, -1).join(', '), peaks.at(-1)!]) });
  return saying('metadata-follows', { ...args, low: between[0], high: between[1], level: percent(signal) });
}
