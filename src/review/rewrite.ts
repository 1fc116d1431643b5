import { applyEdits, type Span, type TextEdit } from '../text/span';
import { type Clear, type Relation, readClaim, type WrittenNumber } from './claim';
import { held, isOnSide, isSaid, type Known, numbersOf, saidOf, scaleOf } from './match';
import type { Mention } from './mention';
import type { Notation } from './notation';
import type { Written } from './written';

/** A way to write a claim: edits of the document, and the text of the claim after them. */
export interface Rewritten {
  readonly text: string;
  readonly edits: readonly TextEdit[];
}

/**
 * A claim with the number that the figure has now: as many digits, the same comparison, unit and grouping. Undefined where no number in the
 * place of the written one makes it hold.
 */
export const rewritten = (label: Written, claim: Clear, known: Known, notation: Notation): Rewritten | undefined =>
  sound(label, claimEdits(label.text, claim, known, notation), known, notation);

/** A claim of a round number that holds once it says "about". */
export function softened(label: Written, claim: Clear, known: Known, notation: Notation): Rewritten | undefined {
  if (claim.is !== 'number' || claim.relation !== 'equal' || !label.text.slice(...claim.number.digits).endsWith('0')) return undefined;
  const span: Span = [claim.number.whole[0], claim.number.digits[1]];
  return sound(label, [{ span, text: `${notation.words.written.about} ${label.text.slice(...span)}` }], known, notation);
}

/** The edits in their document, where the claim holds after them. */
function sound(label: Written, edits: readonly TextEdit[], known: Known, notation: Notation): Rewritten | undefined {
  if (edits.length === 0) return undefined;
  const text = applyEdits(label.text, edits);
  const again = readClaim(text, known, notation);
  if ((again.is !== 'number' && again.is !== 'range') || held(again, known) !== 'holds') return undefined;
  const placed = edits.flatMap((edit) => {
    const span = label.spanOf(edit.span);
    return span ? [{ span, text: edit.text }] : [];
  });
  return placed.length === edits.length ? { text, edits: placed } : undefined;
}

/** Edits in the places of the claim; none where a figure knows no end. */
function claimEdits(text: string, claim: Clear, known: Known, notation: Notation): readonly TextEdit[] {
  const { sided } = claim;
  // What turned to the other side gets the other word, not a sign.
  const isTurned =
    sided !== undefined && (isSaid(claim, known) ? saidOf(claim, known).v < 0 : !isOnSide(sided.side, numbersOf(claim), known));
  const words = isTurned ? [{ span: sided.span, text: turned(text.slice(...sided.span), notation) }] : [];
  const of = saidOf(claim, known);
  const sign = isTurned && isSaid(claim, known) ? -1 : 1;
  const [v, a, b] = [of.v, ...(of.interval ?? [of.v, of.v])].map((end) => sign * end) as [number, number, number];
  const sizes = { v, low: Math.min(a, b), high: Math.max(a, b) };
  // Of a bound only its end can be claimed.
  const end =
    known.isBound && claim.is === 'number' && claim.relation === 'equal'
      ? sizes.high === Number.POSITIVE_INFINITY
        ? 'at-least'
        : 'at-most'
      : undefined;
  const numbers = claim.is === 'range' ? widened(claim, sizes, known) : aimed({ ...claim, relation: end ?? claim.relation }, sizes, known);
  if (numbers.some(({ steps }) => !Number.isFinite(steps))) return [];
  const prefix = end === undefined ? '' : `${notation.words.written[end]} `;
  const edits = numbers.map(
    ({ written, steps }): TextEdit => ({
      span: [written.whole[0], written.digits[1]],
      text: prefix + numberText(written, steps, notation),
    }),
  );
  return [...edits, ...words].sort((p, q) => p.span[0] - q.span[0]);
}

interface Sizes {
  readonly v: number;
  readonly low: number;
  readonly high: number;
}

interface Aimed {
  readonly written: WrittenNumber;
  /** How many times what one more in its last digit is. */
  readonly steps: number;
}

/** The number, in steps of its last digit, by which a comparison holds of a figure in such steps. */
const AIMS: Readonly<Record<Relation, (of: Sizes) => number>> = {
  equal: ({ v }) => Math.round(v),
  about: ({ v }) => Math.round(v),
  nearly: ({ v }) => Math.floor(v) + 1,
  'just-over': ({ v }) => Math.ceil(v) - 1,
  under: ({ high }) => Math.floor(high) + 1,
  over: ({ low }) => Math.ceil(low) - 1,
  'at-most': ({ high }) => Math.ceil(high - 0.5),
  'at-least': ({ low }) => Math.floor(low + 0.5),
};

const inSteps = ({ v, low, high }: Sizes, known: Known, written: WrittenNumber): Sizes => {
  const step = 2 * written.half * scaleOf(known, written);
  return { v: v / step, low: low / step, high: high / step };
};

function aimed({ relation, number }: Extract<Clear, { is: 'number' }>, sizes: Sizes, known: Known): readonly Aimed[] {
  const steps = AIMS[relation](inSteps(sizes, known, number));
  // "Over −0.001 nits" holds, and says nothing.
  return steps < 0 && sizes.v >= 0 ? [] : [{ written: number, steps }];
}

/** The end that a figure lies beyond, moved as far as it has to be. */
function widened({ from, to }: Extract<Clear, { is: 'range' }>, sizes: Sizes, known: Known): readonly Aimed[] {
  const [low, high] = [inSteps(sizes, known, from).low, inSteps(sizes, known, to).high];
  const stepsOf = ({ value, half }: WrittenNumber) => value / (2 * half);
  return [
    ...(low < stepsOf(from) - 0.5 ? [{ written: from, steps: Math.floor(low + 0.5) }] : []),
    ...(high > stepsOf(to) + 0.5 ? [{ written: to, steps: Math.ceil(high - 0.5) }] : []),
  ];
}

function numberText({ decimals, group, sign }: WrittenNumber, steps: number, { decimal }: Notation): string {
  const [whole, fraction] = (Math.abs(steps) / 10 ** decimals).toFixed(decimals).split('.') as [string, string?];
  const grouped = group === '' ? whole : groupsOf(whole).join(group);
  const minus = steps >= 0 ? (sign === '+' && steps > 0 ? sign : '') : sign === '' || sign === '+' ? '−' : sign;
  return `${minus}${grouped}${fraction === undefined ? '' : decimal + fraction}`;
}

const groupsOf = (digits: string): string[] => (digits.length <= 3 ? [digits] : [...groupsOf(digits.slice(0, -3)), digits.slice(-3)]);

/** The word for the other side: "too dark" for "too bright". */
function turned(words: string, notation: Notation): string {
  const last = words.split(/\s/).at(-1)!;
  const pair = notation.words.opposites.find((each) => each.includes(last.toLowerCase()));
  const other = pair?.find((word) => word !== last.toLowerCase()) ?? last;
  const cased = last.charAt(0) === last.charAt(0).toUpperCase() ? other.charAt(0).toUpperCase() + other.slice(1) : other;
  return words.slice(0, words.length - last.length) + cased;
}

/** Edits that leave only a part of the text of a link linked. */
export function narrowed(text: string, { span, labelSpan }: Pick<Mention, 'span' | 'labelSpan'>, part: Span): readonly TextEdit[] {
  const close = text.slice(labelSpan[1], span[1]);
  // "[label]" and "[label][]" name their definition by what they say.
  const target = close === ']' || close === '][]' ? `][${text.slice(...labelSpan)}]` : close;
  const edits: TextEdit[] = [
    { span: [span[0], labelSpan[0]], text: '' },
    { span: [part[0], part[0]], text: '[' },
    { span: [part[1], part[1]], text: target },
    { span: [labelSpan[1], span[1]], text: '' },
  ];
  // Where the part starts or ends with the text, the mark stays.
  return edits.filter(({ span: [from, to], text: put }) => from !== to || put !== '');
}
