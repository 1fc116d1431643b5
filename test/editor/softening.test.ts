import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { keyOf, softened, unfinished } from '../../src/editor/softening';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';

const head = `nitbook 1

session 2026-03-14
meter probe
  spread: 0.0004 xy, 0.5 %
target dark
  space: bt709
  curve: power 2.4
  white: d65
  luminance: 120 cd/m2
display aurora
  firmware: 1
greyscale faint
    level   Y
         0  -1
`;
const below = `
greyscale rising
    level   Y
        20  2.54
        40  13.3
        60  35.4
`;
const found = (text: string) => {
  const source = SessionText.read(text);
  return { source, findings: analyse(source, NO_CONFIG).findings };
};
const severities = (findings: ReturnType<typeof found>['findings'], code: string) =>
  findings.filter((finding) => finding.code === code).map(({ severity }) => severity);

describe('Softening', () => {
  const before = found(head + below);
  const settled = new Set(before.findings.map((finding) => keyOf(before.source, finding)));
  const typing = found(`${head + below}        80  0,7\n`);
  const line = typing.source.lines.findIndex(({ text }) => text.includes('0,7'));

  it('makes what a half-typed line gives an information, and nothing else', () => {
    const soft = softened(typing.findings, typing.source, new Set([line]), settled);
    expect(severities(typing.findings, 'decimal-comma')).toEqual(['warning']);
    expect(severities(soft, 'decimal-comma')).toEqual(['info']);
    expect(severities(soft, 'reading-negative')).toEqual(['error']);
    expect(soft.map(({ span, code }) => [code, ...span])).toEqual(typing.findings.map(({ span, code }) => [code, ...span]));
  });

  it('makes what it throws on other lines of its block an information too', () => {
    const { source, findings } = found(head + below.replace('        40', '        40  1\n        40'));
    const typed = source.lines.findIndex(({ text }) => text.endsWith('40  1'));
    const other = findings.filter(({ span, severity }) => severity === 'warning' && source.lineAt(span[0]) > typed);
    expect(other.length).toBeGreaterThan(0);
    const soft = softened(findings, source, new Set([typed]), settled);
    expect(soft.filter(({ span, severity }) => severity !== 'info' && source.lineAt(span[0]) >= typed)).toEqual([]);
  });

  it('leaves what was said before the typing as it was, wherever it now stands', () => {
    const { source, findings } = found(head.replace('    level', '  x-note: a line put in above\n    level') + below);
    const typed = source.lines.findIndex(({ text }) => text.includes('x-note'));
    expect(severities(softened(findings, source, new Set([typed]), settled), 'reading-negative')).toEqual(['error']);
  });

  it('goes on behind the last cell of a row that lacks some, until it is whole or left', () => {
    const text = `${head}${below}        80  9\n  ~     90  1\n        95  1   | lamp\n       100  1  \n`
      .replace('        20  2.54', '        20')
      .replace('faint\n    level   Y', 'faint\n    level   Y  x');
    const { source } = found(text);
    const line = (part: string) => source.lines.findIndex(({ text: each }) => each.includes(part));
    const behind = (part: string, by = 0) => ({ line: line(part), character: source.lines[line(part)]!.text.trimEnd().length + by });
    const soft = (cursor: { line: number; character: number }) => [...unfinished(source, [cursor])];
    expect(soft(behind('        20'))).toEqual([line('        20')]);
    expect(soft(behind('         0  -1'))).toEqual([line('         0  -1')]);
    expect(soft(behind('        20', -1))).toEqual([]);
    // Whole rows, those struck out, with a remark behind them, and lines that are no rows.
    for (const part of ['        40', '        80  9', '  ~     90', '        95', '       100  1', 'level', 'firmware']) {
      expect(soft(behind(part)), part).toEqual([]);
    }
    expect(soft({ line: 10_000, character: 0 })).toEqual([]);
  });

  it('does nothing while nothing is typed', () => {
    expect(softened(typing.findings, typing.source, new Set(), settled)).toBe(typing.findings);
  });
});
