import type { MeasureSpec } from '../measure/specs';
import type { Value } from '../measure/value';
import { figureText, numberText } from '../report/format';
import type { Figure } from '../report/summary';
import type { Block } from '../session/block';
import type { Session } from '../session/session';
import type { Quantity } from '../session/values';
import { UNITS } from '../session/valueTypes';
import { type Arg, phrase, tabled } from '../text/message';
import type { Axis, Measured } from './claim';
import type { Known } from './match';
import { namesIn } from './names';
import type { Notation } from './notation';
import { isAlike } from './units';

/** Measures whose value below 0 says that the display is too dark, that its colours are too pale, or only that something is less. */
const LIGHT = /^(?:curve(?:\.stops|\.worst|\.worst\.stops)?|nearblack\.stops|drift|bias|gain|stops|worst|(?:hue\.)?delta\.l)$/;

const CHROMA = /^(?:hue\.)?delta\.c$/;
const PLAIN = /^(?:curve\.exponent|(?:hue\.)?delta\.h(?:\.angle)?)$/;
/** Other measures that are no quantity of the display itself but tell by how much it differs, or readings do. */
const DIFFERENCES =
  /(?:^|\.)(?:d[ce]|delta|duv|duvstar|drift|nonuniformity|metadata|chain|rms|sd|se|check|shift)(?:\.|$)|^stops\.|^nearblack\.(?:stops|dc|duv)$/;

function axisOf(id: string, { title }: Pick<MeasureSpec, 'title'>): Axis | undefined {
  if (LIGHT.test(id)) return 'light';
  if (CHROMA.test(id)) return 'chroma';
  // Others of this name are distances in u'v'.
  if (/^Duv\b/.test(title)) return 'green';
  return PLAIN.test(id) ? 'plain' : undefined;
}

/** What is known of a measure before its value. */
export function measuredOf(id: string, spec: Pick<MeasureSpec, 'title' | 'unit' | 'about'>): Measured & { readonly unit: string } {
  const axis = axisOf(id, spec);
  return {
    unit: spec.unit,
    isDifference: axis !== undefined || DIFFERENCES.test(id),
    names: namesIn(`${spec.title} ${spec.about}`),
    ...(axis ? { axis } : {}),
  };
}

/** What is known of a figure; undefined when it has no number. */
export function knownOf({ id, spec, value, judgement }: Figure): Known | undefined {
  if (!value.ok) return undefined;
  const { v, bound } = value;
  const measured = measuredOf(id, spec);
  const centre = id === 'cct' && Number.isFinite(judgement.centre) ? { centre: judgement.centre } : {};
  return {
    v,
    ...intervalOf(value, measured),
    ...(bound ? { isBound: true } : {}),
    ...measured,
    ...centre,
  };
}

function intervalOf({ v, bound, ends, ci }: Extract<Value, { ok: true }>, measured: Measured): Pick<Known, 'interval'> {
  if (bound === 'at-least') return { interval: [ci?.[0] ?? v, Number.POSITIVE_INFINITY] };
  if (bound === 'at-most') return { interval: [leastOf(measured), ci?.[1] ?? v] };
  const interval = ci ?? ends;
  return interval ? { interval } : {};
}

/**
 * The least that a figure can be: of a luminance, a ratio or a share 0, of an error in per cent all of it, and of one in stops, as of each other
 * error with a sign, nothing, for the logarithm of a black that reads 0 has no end.
 */
export function leastOf({ unit, axis }: Measured): number {
  if (unit === 'stops' || (axis !== undefined && unit !== '%')) return Number.NEGATIVE_INFINITY;
  return axis === undefined ? 0 : -100;
}

/** The numbers that a property holds, each in the unit it is written in. */
export function numbersIn(session: Session, block: Block, name: string): readonly Known[] {
  const value = session.value(block, name) ?? session.value(block, `.${name}`);
  switch (value?.is) {
    case 'quantity':
      return [ofQuantity(value.quantity)];
    case 'quantities':
      return value.list.map(ofQuantity);
    case 'curve':
      return value.curve.kind === 'power' ? [{ v: value.curve.exponent, unit: '', isDifference: false }] : [];
    default:
      return [];
  }
}

function ofQuantity({ dimension, value, unit }: Quantity): Known {
  const units = UNITS[dimension];
  return { v: value / (Object.hasOwn(units, unit) ? units[unit]! : 1), unit, isDifference: false };
}

/** The number that one with a unit can mean: the one of that kind, else the only one. */
export const numberFor = (numbers: readonly Known[], unit: string): Known | undefined =>
  numbers.find((known) => isAlike(unit, known.unit)) ?? (numbers.length === 1 && unit === '' ? numbers[0] : undefined);

/** A figure as it is now, with the decimals of the claim where those are more than usual; of a bound the end that can be claimed. */
export function nowOf(judged: Figure, decimals = 0): Arg {
  const { spec, value } = judged;
  if (!value.ok) return '';
  if (value.bound) {
    const figure = figureText(judged).replace(/^at (?:least|most) /, '');
    return value.bound === 'at-least' ? phrase('at least {figure}', { figure }) : phrase('at most {figure}', { figure });
  }
  const shown = Math.max(spec.decimals, Math.min(decimals, MOST_DECIMALS));
  const [low, high] = (value.ends ?? [value.v, value.v]).map((end) => numberText(end, shown)) as [string, string];
  return withUnit(low === high ? numberText(value.v, shown) : phrase('{low} to {high}', { low, high }), spec.unit);
}

/** The same for the text of a review. */
export const writtenFigure = (figure: Figure, { decimal, words: { written } }: Notation): string =>
  figureText(figure)
    .replace(/(?<=\d)\.(?=\d)/g, decimal)
    .replace(/^at least\b/, written['at-least'])
    .replace(/^at most\b/, written['at-most']);

const MOST_DECIMALS = 6;

const withUnit = (number: Arg, unit: string): Arg =>
  unit === '' ? number : tabled(/^[:°]/.test(unit) ? '{number}{unit}' : '{number} {unit}', { number, unit: tabled(unit) });
