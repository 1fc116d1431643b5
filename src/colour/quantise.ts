/** How a signal is written as whole numbers. Depth in bits, 8 or more. */
export interface SignalFormat {
  readonly range: 'limited' | 'full';
  readonly depth: number;
}

/** A level as it goes down the wire: the code and the signal (0 black, 1 white) that it decodes to. */
export interface SentLevel {
  readonly code: number;
  readonly signal: number;
}

/**
 * A product such as 255 · 0.3 may fall a last bit short of the half it stands for; a hair towards the half keeps the rounding of the
 * number that was meant.
 */
const HAIR = 1e-9;

function toCode(scaledSignal: number, unit: number, format: SignalFormat): number {
  const step = 2 ** (format.depth - 8);
  const top = 2 ** format.depth - 1;
  const exact = format.range === 'limited' ? ((219 * scaledSignal) / unit + 16) * step : (top * scaledSignal) / unit;
  const code = Math.floor(exact + 0.5 + HAIR);
  return code < 0 ? 0 : Math.min(code, top);
}

/**
 * Signal (0 black, 1 white) to the nearest code, halves up. Limited: Round[(219·E + 16)·2^(n−8)]; full: Round[(2^n − 1)·E].
 * Source: ITU-R BT.709-6 item 5.3, BT.2100 Table 9.
 *
 * Above white and below black limited codes go on into head- and footroom; a signal that no code can carry takes the end of the scale,
 * 0 or 2^n − 1 (a serial interface keeps a few codes at either end for itself). NaN in, NaN out.
 */
export function signalToCode(signal: number, format: SignalFormat): number {
  return toCode(signal, 1, format);
}

/**
 * Code to signal. Limited: (D/2^(n−8) − 16)/219; full: D/(2^n − 1). Source: ITU-R BT.2100 Table 9. Nothing is cut: codes outside
 * nominal black and white give signals below 0 and above 1.
 */
export function codeToSignal(code: number, format: SignalFormat): number {
  return format.range === 'limited' ? (code / 2 ** (format.depth - 8) - 16) / 219 : code / (2 ** format.depth - 1);
}

/**
 * A nominal level in per cent as a pattern generator sends it: rounded to a code and decoded again. Near black the difference is
 * most of the reading: 1 % in 8 bits limited is code 18, 0.913 %.
 */
export function asSent(percent: number, format: SignalFormat): SentLevel {
  const code = toCode(percent, 100, format);
  return { code, signal: codeToSignal(code, format) };
}
