import type { AppliedLimits, Judgement, Verdict } from '../judge/limits';
import type { MeasureSpec } from '../measure/specs';
import { REASONS, type Value } from '../measure/value';
import type { Bound } from '../text/limitText';
import { fill, type Message, type Phrase, phrase, phraseOf, plainNumber, type Say, worded } from '../text/message';

/** How numbers, verdicts and limits are written, for every report alike. */

/** What stands for a figure that has no number. */
export const NONE = '—';

const GLYPHS: Readonly<Record<Exclude<Verdict, 'no-number'>, string>> = { within: '·', undecided: '≈', beyond: '▲' };

const VERDICTS: Readonly<Record<Exclude<Verdict, 'no-number'>, Phrase>> = {
  within: phrase('within'),
  undecided: phrase('undecided'),
  beyond: phrase('beyond'),
};

/** A verdict as word and glyph; empty where there is none. */
export const verdictText = (verdict: Verdict, say: Say = fill): string =>
  verdict === 'no-number' ? '' : `${worded(VERDICTS[verdict], say)} ${GLYPHS[verdict]}`;

/** `within ·, aim met`: the verdict by the limit, and by the aim where that says more. */
export function judgementText({ verdict, aim }: Judgement, say: Say = fill): string {
  const isAimTold = aim === 'within' || (verdict === 'no-number' && aim !== 'no-number');
  return [verdictText(verdict, say), isAimTold ? worded(AIMS[aim], say) : ''].filter((part) => part !== '').join(', ');
}

const AIMS: Readonly<Record<Exclude<Verdict, 'no-number'>, Phrase>> = {
  within: phrase('aim met'),
  undecided: phrase('aim undecided {glyph}', { glyph: GLYPHS.undecided }),
  beyond: phrase('aim missed'),
};

/** A number with the decimals it is shown with; thousands are never grouped and zero has no sign. */
export function numberText(v: number, decimals: number): string {
  const text = v.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}

/** `:1` and `°` stand close, other units after a blank. */
const withUnit = (text: string, unit: string, say: Say): string =>
  unit === '' ? text : `${text}${STANDS_CLOSE.test(unit) ? '' : ' '}${say(unit)}`;

const STANDS_CLOSE = /^[:°]/;

type Shown = Pick<MeasureSpec, 'unit' | 'decimals'>;

/** A bound of a ratio, which a floor of one digit makes, to three digits on the safe side. */
function cautious(v: number, bound: 'at-least' | 'at-most'): number {
  const step = 10 ** Math.max(0, Math.floor(Math.log10(v)) - 2);
  return Number.isFinite(step) ? (bound === 'at-least' ? Math.floor(v / step) : Math.ceil(v / step)) * step : v;
}

/** A figure with its unit: `4.06`, `at least 40100:1`, `1.02 to 1.05` where a black that could not be seen leaves two ends. */
export function valueText(value: Value, { unit, decimals }: Shown, say: Say = fill): string {
  if (!value.ok) return NONE;
  if (value.ends) {
    const [low, high] = value.ends.map((end) => numberText(end, decimals)) as [string, string];
    if (low !== high) return withUnit(say('{low} to {high}', { low, high }), unit, say);
  }
  if (!value.bound) return withUnit(numberText(value.v, decimals), unit, say);
  const figure = withUnit(numberText(unit === ':1' ? cautious(value.v, value.bound) : value.v, decimals), unit, say);
  return value.bound === 'at-least' ? say('at least {figure}', { figure }) : say('at most {figure}', { figure });
}

interface Judged {
  readonly value: Value;
  readonly spec: MeasureSpec;
  readonly judgement: Judgement;
}

/** A judged figure as `valueText` writes it, with its own decimals; of a bound the end that can be claimed. */
export function figureText(figure: Judged, say: Say = fill): string {
  const { value, spec } = figure;
  const claimed = value.ok && value.bound && value.ci ? { ...value, v: value.ci[value.bound === 'at-least' ? 0 : 1] } : value;
  return valueText(claimed, { unit: spec.unit, decimals: decimalsOf(figure) }, say);
}

/**
 * A judged figure with its interval: `120.8 ± 2.6 cd/m²`, `1.53 (0.46 … 2.82)` where that is lopsided or ends at 0. An interval that is lost in
 * the last digit is not written.
 */
export function measuredText(figure: Judged, say: Say = fill): string {
  const { value, spec } = figure;
  if (!value.ok || !value.ci || value.bound) return figureText(figure, say);
  const { v, ci } = value;
  const decimals = decimalsOf(figure);
  const [fall, rise] = [v - ci[0], ci[1] - v];
  const written = (n: number) => numberText(n, decimals);
  if (Math.max(fall, rise) < 0.5 * 10 ** -decimals) return figureText(figure, say);
  const isEven = written(rise) === written(fall) || (Math.abs(rise - fall) <= 0.02 * (rise + fall) && ci[0] !== 0);
  const reach = isEven ? `± ${written(Math.max(fall, rise))}` : `(${written(ci[0])} … ${written(ci[1])})`;
  // A unit that stands close stays at its number.
  return STANDS_CLOSE.test(spec.unit)
    ? `${withUnit(written(v), spec.unit, say)} ${reach}`
    : withUnit(`${written(v)} ${reach}`, spec.unit, say);
}

/** As many decimals more (three at most) as keep a figure from reading as the very aim or limit that it misses or meets by less than a digit. */
function decimalsOf({ value, spec, judgement: { limits, centre } }: Judged): number {
  let { decimals } = spec;
  if (value.ok && !value.ends && !value.bound) {
    const { v } = value;
    const isTold = (edge: number) => Math.abs(v - edge) <= 1e-9 * Math.abs(edge) || numberText(v, decimals) !== numberText(edge, decimals);
    const edges = [limits?.aim, limits?.limit].flatMap((bound) => (bound ? edgesOf(bound, spec, centre) : []));
    while (decimals < spec.decimals + 3 && !edges.every(isTold)) decimals++;
  }
  return decimals;
}

function edgesOf({ low, high }: Bound, { direction }: MeasureSpec, centre: number): readonly number[] {
  if (low !== undefined) return [low, high];
  return direction === 'nearer' ? [centre - high, centre + high] : [high];
}

/** An aim or limit: `3`, `±0.1`, `100 ±5 %`, `-5..5`. */
function boundText({ low, high }: Bound, spec: MeasureSpec, centre: number, say: Say): string {
  if (low !== undefined) return withUnit(`${plainNumber(low)}..${plainNumber(high)}`, spec.unit, say);
  if (spec.direction !== 'nearer') return withUnit(plainNumber(high), spec.unit, say);
  const about = centre === 0 || Number.isNaN(centre) ? '' : `${plainNumber(Number(centre.toFixed(spec.decimals)))} `;
  return withUnit(`${about}±${plainNumber(high)}`, spec.unit, say);
}

export interface LimitTexts {
  readonly limit: string;
  readonly aim: string;
}

/** Limit and aim, each empty where there is none; limits that are not the defaults say where they are from. */
export function limitTexts(spec: MeasureSpec, { limits, centre }: Judgement, say: Say = fill): LimitTexts {
  const written = (of: Bound | undefined, from: AppliedLimits['from']): string => {
    if (!of) return '';
    const bound = boundText(of, spec, centre, say);
    return from === 'default' ? bound : from === 'folder' ? say('{bound} (folder)', { bound }) : say('{bound} (session)', { bound });
  };
  const from = limits?.from ?? 'default';
  return { limit: written(limits?.limit, from), aim: written(limits?.aim, limits?.limit ? 'default' : from) };
}

/** `limit 3 (session), aim 1`. */
export function limitLine(spec: MeasureSpec, judgement: Judgement, say: Say = fill): string {
  const { limit, aim } = limitTexts(spec, judgement, say);
  return [limit && say('limit {bound}', { bound: limit }), aim && say('aim {bound}', { bound: aim })]
    .filter((part) => part !== '')
    .join(', ');
}

/** Why there is no number, to read after "not computed:". */
export const whyText = (why: Message, say: Say = fill): string => worded(phraseOf(REASONS, why), say);

/**
 * Text from a file for a screen: control characters, line separators and marks that turn the direction of reading are shown as U+FFFD, so
 * that a title can neither drive a terminal nor hide what it says.
 */
export const visible = (text: string): string => text.replace(UNSAFE, '\uFFFD');

const UNSAFE = /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u061C\u200E\u200F\u202A-\u202E\u2066-\u2069]/gu;
