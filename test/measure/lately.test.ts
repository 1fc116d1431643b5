import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { session } from '../bench/data';

/** All figures of the run and of each of its rows, from a text changed or read anew. */
function figures(source: SessionText): readonly unknown[] {
  const [result] = analyse(source, NO_CONFIG).results;
  const ids = ['de', 'de.itp', 'delta.c'] as const;
  return [result!.value('de.avg'), result!.value('de.max'), result!.value('de.itp.avg'), ...ids.map((id) => Array.from(result!.rows(id)!))];
}

/** Long enough for figures and patches to be taken over from the version before. */
const TEXT = session(600);
const LINES = TEXT.split('\n');
const lineOf = (row: number) => LINES.findIndex((line) => line.startsWith('    R[8bit]')) + 1 + row;

/** The text after one line is another, through a change and read anew. */
function both(
  source: SessionText,
  line: number,
  to: (text: string) => string,
): { readonly changed: SessionText; readonly fresh: SessionText } {
  const start = source.lineStart(line);
  const { text } = source.lines[line]!;
  const changed = source.change([{ span: [start, start + text.length], text: to(text) }]);
  return { changed, fresh: SessionText.read(changed.text) };
}

describe('figures of a long run after an edit are those of the text read anew', () => {
  const edits: Readonly<Record<string, (text: string) => string>> = {
    'a digit of the luminance': (text) =>
      text.replace(/(\d)(\.\d+ +0\.\d+ +0\.\d+)$/, (_, d: string, rest: string) => `${(Number(d) + 1) % 10}${rest}`),
    'a reading that is said to be below the floor': (text) => text.replace(/ (\S+)( +0\.\d+ +0\.\d+)$/, '<$1$2'),
    'a reading taken out': (text) => text.replace(/\S+( +0\.\d+ +0\.\d+)$/, '?$1'),
    'a row struck out': (text) => `  ~ ${text.slice(4)}`,
    'a drive': (text) => text.replace(/^ +\d+/, '    77'),
    'the drive of the row above, as a repeat': (text) => {
      const [r, g, b] = LINES[lineOf(299)]!.trim().split(/ +/);
      return text.replace(/^ +\d+ +\d+ +\d+/, `    ${r}  ${g}  ${b}`);
    },
    'a row emptied': () => '',
  };

  for (const [name, edit] of Object.entries(edits)) {
    it(name, () => {
      const before = SessionText.read(TEXT);
      const first = figures(before);
      const { changed, fresh } = both(before, lineOf(300), edit);
      expect(changed.text).not.toBe(before.text);
      expect(figures(changed)).toEqual(figures(fresh));
      expect(figures(changed)).not.toEqual(first);
    });
  }

  it('edits one after the other, and the target between them', () => {
    let source = SessionText.read(TEXT);
    figures(source);
    const target = LINES.findIndex((line) => line.includes('luminance: 120'));
    for (const [line, edit] of [
      [lineOf(10), edits['a digit of the luminance']!],
      [target, (text: string) => text.replace('120', '150')],
      [lineOf(11), edits['a row struck out']!],
      [lineOf(590), edits['a reading that is said to be below the floor']!],
      [target, (text: string) => text.replace('150', '120')],
      [lineOf(12), edits['a drive']!],
    ] as const) {
      const { changed, fresh } = both(source, line, edit);
      expect(figures(changed)).toEqual(figures(fresh));
      source = changed;
    }
  });
});
