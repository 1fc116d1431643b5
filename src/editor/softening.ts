import { cellCount, cellSpan } from '../session/line';
import type { SessionText } from '../session/sessionText';
import { skipBlanks } from '../text/blanks';
import type { Finding } from '../text/finding';

/** How long a line may rest before what is said of it is meant. */
export const IDLE_MS = 1500;

/**
 * The rows that still lack cells and have a cursor behind their last one, where the next is to be written: a meter takes its time, and a
 * row is not whole before it has them all.
 */
export const unfinished = (
  source: SessionText,
  cursors: readonly { readonly line: number; readonly character: number }[],
): ReadonlySet<number> =>
  new Set(
    cursors
      .filter(({ line, character }) => {
        const row = source.lines[line];
        const { columns } = source.blocks[source.blockAt(line)] ?? {};
        if (row?.kind !== 'row' || row.struck || !columns || cellCount(row) >= columns.columns.length) return false;
        const [, end] = cellSpan(row, cellCount(row) - 1);
        return character >= end && skipBlanks(row.text, end) === row.text.length;
      })
      .map(({ line }) => line),
  );

/** What tells a finding again after lines were put in above it. */
export const keyOf = (source: SessionText, { code, span }: Finding): string => `${code} ${source.lines[source.lineAt(span[0])]!.text}`;

/**
 * Findings with those that half-typed lines give made an information at most: what is said of such a line itself, and what it throws on
 * others of its block, which is whatever was not said (`settled`, by `keyOf`) before the typing began.
 */
export function softened(
  findings: readonly Finding[],
  source: SessionText,
  typed: ReadonlySet<number>,
  settled: ReadonlySet<string>,
): readonly Finding[] {
  if (typed.size === 0) return findings;
  const blocks = new Set([...typed].map((line) => source.blockAt(line)));
  return findings.map((finding) => {
    const line = source.lineAt(finding.span[0]);
    const soft = typed.has(line) || (blocks.has(source.blockAt(line)) && !settled.has(keyOf(source, finding)));
    return soft && finding.severity !== 'info' ? { ...finding, severity: 'info' } : finding;
  });
}
