import type { Message } from '../text/message';

/**
 * One computed figure, or why there is none. `bound` says that the true figure lies beyond `v` (a contrast over a black that the meter
 * could not see is at least `v`). `ends` are the figures for a black of 0 and of the meter's floor, where the black could not be seen.
 */
export type Value =
  | { readonly ok: true; readonly v: number; readonly bound?: 'at-least' | 'at-most'; readonly ends?: readonly [number, number] }
  | { readonly ok: false; readonly why: Message };

export const figure = (v: number): Value => ({ ok: true, v });

/** No figure, and why: a key of `REASONS` with its arguments. */
export const without = (code: Reason, args: Message['args'] = {}): { readonly ok: false; readonly why: Message } => ({
  ok: false,
  why: { code, args },
});

/** A finite number as a figure; anything else as the absence that the caller knows the reason of. */
export const figureOr = (v: number, code: Reason, args: Message['args'] = {}): Value =>
  Number.isFinite(v) ? figure(v) : without(code, args);

/** Why a figure cannot be computed. Each reads after "not computed:" and says what is needed. */
export const REASONS = {
  'no-target': 'the run has no target (write "target: …" and a target block)',
  'target-incomplete': 'the target {target} does not say its {lacks}',
  'no-white': 'there is no white to scale by: the target states no luminance and {where} has no white reading',
  'white-ambiguous':
    'there is no white to scale by: the target states no luminance, and {count} greyscale runs of this mode and signal could give it',
  'no-black': 'the target curve stands on the black of the display, and there is no black reading',
  'no-colour': "no row has a colour reading (Y with x and y, X and Z, or u' and v')",
  'no-rows': 'there is no complete row for it',
  'no-row': 'there is no row {key}{neighbours}',
  'row-open': 'row {key} is still to take, or holds nothing that can be read',
  'row-zero': 'a row at level 0 has no such figure: black is judged apart',
  'key-needed': 'it belongs to a row: write {id}@ and the key of the row',
  'key-surplus': 'it belongs to the whole run and takes no @',
  'too-few': 'it needs at least {count} rows {which}',
  'far-from-planckian': 'the chromaticity is too far from the Planckian locus for a colour temperature to mean anything',
  'driven-narrower': 'the patches were driven in {driven}, which does not hold {wider}: what the display could show of it was not seen',
  'wrong-curve': 'it holds for {expected} targets only, and the target is {found}',
  'signal-range': 'code values need the range of the signal (limited or full), and the signal does not say it',
  'no-patch': 'it needs the patch {patch}',
  'no-measure': 'a {kind} run has no measure {id}',
  'no-table': 'the run has no column line',
  later: 'the run is kept; its figures are not computed by this version',
  'no-spread': 'the meter does not say its spread',
} as const;

export type Reason = keyof typeof REASONS;
