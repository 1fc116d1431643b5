import { expect } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import type { RunResult } from '../../src/measure/result';
import type { Value } from '../../src/measure/value';
import { type Analysis, analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';

/** What a test session is made of; each part is written in full or left to what most tests want. */
export interface Bench {
  readonly target?: string;
  readonly signal?: string;
  readonly meter?: string;
}

const indented = (lines: string): string => lines.replace(/^/gm, '  ');

/** A session that no finding but those of its runs comes from. */
export const session = (runs: string, { target, signal, meter }: Bench = {}): string =>
  `nitbook 1

session 2026-03-14
display
  firmware: 1.0
meter probe
${indented(meter ?? 'floor: 0.003 cd/m2\nspread: 0.0004 xy, 0.5 %')}
signal sdr
${indented(signal ?? 'window: 10 %')}
mode cinema
  .automatic: ambient sensor off, energy saving off, dynamic contrast off, dynamic tone mapping off
${target === '' ? '' : `target dark\n${indented(target ?? 'space: bt709\ncurve: power 2.4\nwhite: d65\nluminance: 120 cd/m2')}\n`}
${runs}
`;

export const analysed = (text: string): Analysis => analyse(SessionText.read(text), NO_CONFIG);

/** The result of the run of an id (or of the only one) in a session made of these runs. */
export function result(runs: string, bench: Bench = {}, id?: string): RunResult {
  const { results } = analysed(session(runs, bench));
  const found = results.find(({ run }) => id === undefined || run.id === id);
  if (!found) throw new Error(`no run ${id ?? ''}`);
  return found;
}

/** `de@30`, `hue.de@red`, `balance`: the value of a measure as a reference names it. */
export function valueIn(of: RunResult, name: string): Value {
  const [id, key] = name.split('@') as [string, string?];
  return of.value(id, key === undefined ? [] : key.split(','));
}

export function number(of: RunResult, name: string): number {
  const value = valueIn(of, name);
  if (!value.ok) throw new Error(`${name}: ${value.why.code}`);
  return value.v;
}

/** Expects a value to round to the digits that `written` has. */
export function expectValue(of: RunResult, name: string, written: string): void {
  const decimals = (written.split('.')[1] ?? '').length;
  expect(number(of, name).toFixed(decimals), name).toBe(written);
}

export const whyNot = (value: Value): string | undefined => (value.ok ? undefined : value.why.code);

/** A run as text: its head, its column line and its rows. */
export const table = (head: string, columns: string, rows: readonly (readonly (string | number)[])[]): string =>
  [
    ...head.split('\n').map((line, i) => (i === 0 ? line : `  ${line}`)),
    `    ${columns}`,
    ...rows.map((row) => `    ${row.join('  ')}`),
  ].join('\n');
