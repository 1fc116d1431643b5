import type { Value } from '../measure/value';
import { figureText, numberText } from '../report/format';
import type { Figure } from '../report/summary';
import type { Block } from '../session/block';
import type { Session } from '../session/session';
import type { Quantity } from '../session/values';
import { UNITS } from '../session/valueTypes';
import { type Arg, phrase, tabled } from '../text/message';
import type { Known } from './match';
import type { Notation } from './notation';
import { isAlike } from './units';

/** Measures whose value below 0 says that the display is too dark. */
const SIDED = /^(?:curve(?:\.stops|\.worst|\.worst\.stops)?|nearblack\.stops|drift|bias|gain|stops|worst|(?:hue\.)?delta\.l)$/;

/** What is known of a figure; undefined when it has no number. */
export function knownOf({ id, spec, value, judgement }: Figure): Known | undefined {
  if (!value.ok) return undefined;
  const { v, bound } = value;
  const centre = id === 'cct' && Number.isFinite(judgement.centre) ? { centre: judgement.centre } : {};
  return {
    v,
    ...intervalOf(value),
    ...(bound ? { isBound: true } : {}),
    unit: spec.unit,
    isSigned: SIDED.test(id),
    ...centre,
  };
}

function intervalOf({ v, bound, ends, ci }: Extract<Value, { ok: true }>): Pick<Known, 'interval'> {
  if (bound === 'at-least') return { interval: [ci?.[0] ?? v, Number.POSITIVE_INFINITY] };
  // What comes as a bound is a luminance, or a ratio of them.
  if (bound === 'at-most') return { interval: [Math.min(ci?.[1] ?? v, 0), ci?.[1] ?? v] };
  const interval = ci ?? ends;
  return interval ? { interval } : {};
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
      return value.curve.kind === 'power' ? [{ v: value.curve.exponent, unit: '' }] : [];
    default:
      return [];
  }
}

function ofQuantity({ dimension, value, unit }: Quantity): Known {
  const units = UNITS[dimension];
  return { v: value / (Object.hasOwn(units, unit) ? units[unit]! : 1), unit };
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
export const writtenFigure = (figure: Figure, { decimal }: Notation): string => figureText(figure).replace(/(?<=\d)\.(?=\d)/g, decimal);

const MOST_DECIMALS = 6;

const withUnit = (number: Arg, unit: string): Arg =>
  unit === '' ? number : tabled(/^[:°]/.test(unit) ? '{number}{unit}' : '{number} {unit}', { number, unit: tabled(unit) });
