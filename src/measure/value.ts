import { REFUSALS, type Result } from '../algorithms/result';
import { type Args, counted, type Forms, type Message, type Phrase } from '../text/message';

/**
 * One computed figure, or why there is none. `bound` says that the true figure lies beyond `v` (a contrast over a black that the meter
 * could not see is at least `v`). `ends` are the figures for a black of 0 and of the meter's floor, where the black could not be seen.
 * `ci` is where the true figure lies, 0.95, where that is known: it holds both ends, and one side of a bound is open.
 */
export type Value =
  | {
      readonly ok: true;
      readonly v: number;
      readonly bound?: 'at-least' | 'at-most';
      readonly ends?: readonly [number, number];
      readonly ci?: readonly [number, number];
    }
  | { readonly ok: false; readonly why: Message };

export const figure = (v: number): Value => ({ ok: true, v });

/** No figure, and why: a key of `REASONS` with its arguments. */
export const without = (code: Reason, args: Args = {}): { readonly ok: false; readonly why: Message } => ({
  ok: false,
  why: { code, args },
});

/** What an algorithm computed as a figure, or its refusal. */
export const figureOf = <T>(result: Result<T>, of: (v: T) => number): Value => (result.ok ? figure(of(result.v)) : result);

/** A finite number as a figure; anything else as the absence that the caller knows the reason of. */
export const figureOr = (v: number, code: Reason, args: Args = {}): Value => (Number.isFinite(v) ? figure(v) : without(code, args));

/** The absence of a figure that wants more rows than there are; `which` says what kind of rows. */
export const tooFew = (count: number, which: Phrase) => without('too-few', { rows: counted(count, ROWS_NEEDED), which });

export const ROWS_NEEDED: Forms = ['at least one row', 'at least {count} rows'];

/** A figure for each of two things that may be so, from the smaller to the larger; the first is shown. Alike ones are no ends. */
export function between(value: Value, other: Value): Value {
  if (!value.ok || !other.ok || value.v === other.v) return value;
  return { ...value, ends: value.v < other.v ? [value.v, other.v] : [other.v, value.v] };
}

/**
 * One figure over another: where either is only a bound the ratio is one too, and where their bounds pull apart nothing is known.
 * Figures are 0 or more here, as luminances are.
 */
export function ratio(over: Extract<Value, { ok: true }>, under: Extract<Value, { ok: true }>): Value | undefined {
  const swapped = under.bound && (under.bound === 'at-least' ? 'at-most' : 'at-least');
  if (over.bound && swapped && over.bound !== swapped) return undefined;
  const bound = over.bound ?? swapped;
  return { ok: true, v: over.v / under.v, ...(bound ? { bound } : {}) };
}

/** Why a figure cannot be computed. Each reads after "not computed:" and says what is needed. */
export const REASONS = {
  ...REFUSALS,
  'no-target': 'the run has no target (write "target: …" and a target block)',
  'target-incomplete': 'the target {target} does not say its {lacks}',
  'no-white': 'there is no white to scale by: the target states no luminance, and there is no reading of full white in {where}',
  'white-ambiguous':
    'there is no white to scale by: the target states no luminance, and {count} greyscale runs of this mode and signal could give it',
  'no-black': 'the target curve stands on the black of the display, and there is no black reading',
  'black-ambiguous':
    'the target curve stands on the black of the display, and {count} greyscale runs of this mode and signal could give it',
  'black-zero': 'black reads 0, and nothing can be divided by it: write the floor of the meter, such as <0.003',
  'no-colour': "no row has a colour reading (Y with x and y, X and Z, or u' and v')",
  'no-rows': 'there is no complete row for it',
  'no-row': 'there is no row {key}{neighbours}',
  'row-open': 'row {key} is still to take, or holds nothing that can be read',
  'row-unseen': 'row {key} lies below the floor or over the range of the meter',
  'row-colour': 'row {key} has no colour reading',
  'row-zero': 'a row at level 0 has no such figure: black is judged apart',
  'row-hue': '{hue} is none of {hues}: the row has no target',
  'row-neutral': 'a neutral has no hue, whose angle could be compared',
  'row-outside': 'it holds for rows {which} only',
  'key-needed': 'it belongs to a row: write {id}@ and the key of the row',
  'key-surplus': 'it belongs to the whole run and takes no @',
  'too-few': 'it needs {rows} {which}',
  'far-from-planckian': 'the chromaticity is too far from the Planckian locus for a colour temperature to mean anything',
  'driven-narrower': 'the patches were driven in {driven}, which does not hold {wider}: what the display could show of it was not seen',
  'wrong-curve': 'it holds for {expected} targets only, and the target is {found}',
  'signal-range': 'code values need the range of the signal (limited or full), and the signal does not say it',
  'no-patch': 'it needs the patch {patch}',
  'no-measure': 'a {kind} run has no measure {id}',
  'no-table': 'the run has no column line',
  'no-columns': 'the run has no column {columns}',
  later: 'the run is kept; its figures are not computed by this version',
  'no-spread': 'the meter does not say its spread',
  'drift-alone': 'the drift is taken out by a white that is read at least twice, and there is none',
  'no-mastering': 'the signal does not say its mastering peak',
  'clip-none': 'the display still tells levels apart at {level} %, the highest tested',
  'clip-falls': 'the display gets darker again towards {level} %, the highest level tested',
  'above-knee': 'row {key} lies above the knee, where a roll-off is no error',
  'one-reading': 'a single reading says nothing of its scatter',
  'no-peak': 'the spectrum has no peak that stands out',
  'correction-second': 'the correction {other} is for the same meter and mode, and it is the one that is used',
  'no-reference': 'it has no readings of the reference (columns ref.Y, ref.x and ref.y), and names no spectra',
  'no-spectra': 'there is no spectrum run {id}',
  'no-further': 'it needs a colour beside white, red, green and blue, such as yellow or a grey: those four are met by construction',
  'no-mid-saturation':
    'the panel has a white emitter: it needs a colour that is about half saturated, which such a panel mixes from other light than its primaries',
  'met-by-construction': 'a correction meets the chromaticities of white, red, green and blue by construction',
  'no-sibling': 'it compares runs that differ in nothing but the mastering peak of their signals, and there is no other',
} as const;

export type Reason = keyof typeof REASONS;
