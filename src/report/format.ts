import type { Judgement, Verdict } from '../judge/limits';
import type { MeasureSpec } from '../measure/specs';
import { REASONS, type Value } from '../measure/value';
import type { Bound } from '../text/limitText';
import { fill, type Message, plainNumber } from '../text/message';

/** How numbers, verdicts and limits are written, for every report alike. */

/** What stands for a figure that has no number. */
export const NONE = '—';

const GLYPHS: Readonly<Record<Exclude<Verdict, 'no-number'>, string>> = { within: '·', undecided: '≈', beyond: '▲' };

/** A verdict as word and glyph; empty where there is none. */
export const verdictText = (verdict: Verdict): string => (verdict === 'no-number' ? '' : `${verdict} ${GLYPHS[verdict]}`);

/** `within ·, aim met`: the verdict by the limit, and by the aim where that says more. */
export function judgementText({ verdict, aim }: Judgement): string {
  const aimText = aim === 'within' ? 'aim met' : verdict === 'no-number' && aim !== 'no-number' ? `aim ${AIM_WORDS[aim]}` : '';
  return [verdictText(verdict), aimText].filter((part) => part !== '').join(', ');
}

const AIM_WORDS = { beyond: 'missed', undecided: `undecided ${GLYPHS.undecided}` } as const;

/** A number with the decimals it is shown with; thousands are never grouped and zero has no sign. */
export function numberText(v: number, decimals: number): string {
  const text = v.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}

/** `:1` and `°` stand close, other units after a blank. */
const withUnit = (text: string, unit: string): string => (unit === '' ? text : `${text}${/^[:°]/.test(unit) ? '' : ' '}${unit}`);

type Shown = Pick<MeasureSpec, 'unit' | 'decimals'>;

/** A figure with its unit: `4.06`, `at least 40166:1`, `1.02 to 1.05` where a black that could not be seen leaves two ends. */
export function valueText(value: Value, { unit, decimals }: Shown): string {
  if (!value.ok) return NONE;
  if (value.ends) {
    const [low, high] = value.ends.map((end) => numberText(end, decimals)) as [string, string];
    if (low !== high) return withUnit(`${low} to ${high}`, unit);
  }
  const bound = value.bound ? `${value.bound.replace('-', ' ')} ` : '';
  return bound + withUnit(numberText(value.v, decimals), unit);
}

/** An aim or limit: `3`, `±0.1`, `100 ±5 %`, `-5..5`. */
function boundText({ low, high }: Bound, spec: MeasureSpec, centre: number): string {
  if (low !== undefined) return withUnit(`${plainNumber(low)}..${plainNumber(high)}`, spec.unit);
  if (spec.direction !== 'nearer') return withUnit(plainNumber(high), spec.unit);
  const about = centre === 0 || Number.isNaN(centre) ? '' : `${plainNumber(Number(centre.toFixed(spec.decimals)))} `;
  return withUnit(`${about}±${plainNumber(high)}`, spec.unit);
}

export interface LimitTexts {
  readonly limit: string;
  readonly aim: string;
}

/** Limit and aim, each empty where there is none; limits that are not the defaults say where they are from. */
export function limitTexts(spec: MeasureSpec, { limits, centre }: Judgement): LimitTexts {
  const from = !limits || limits.from === 'default' ? '' : ` (${limits.from})`;
  return {
    limit: limits?.limit ? boundText(limits.limit, spec, centre) + from : '',
    aim: limits?.aim ? boundText(limits.aim, spec, centre) + (limits.limit ? '' : from) : '',
  };
}

/** `limit 3 (session), aim 1`. */
export function limitLine(spec: MeasureSpec, judgement: Judgement): string {
  const { limit, aim } = limitTexts(spec, judgement);
  return [limit && `limit ${limit}`, aim && `aim ${aim}`].filter((part) => part !== '').join(', ');
}

/** Why there is no number, to read after "not computed:". */
export const whyText = (why: Message): string => fill(REASONS[why.code as keyof typeof REASONS] ?? why.code, why.args);

/** A count with its noun: `1 error`, `2 errors`. */
export const counted = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? '' : 's'}`;

/**
 * Text from a file for a screen: control characters, line separators and marks that turn the direction of reading are shown as U+FFFD, so
 * that a title can neither drive a terminal nor hide what it says.
 */
export const visible = (text: string): string => text.replace(UNSAFE, '\uFFFD');

const UNSAFE = /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u061C\u200E\u200F\u202A-\u202E\u2066-\u2069]/gu;
