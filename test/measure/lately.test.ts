import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { fromSame, rowByRow } from '../../src/measure/lately';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { session, stream } from '../bench/data';

/** All figures of the run and of each of its rows, from a text changed or read anew. */
function figures(source: SessionText): readonly unknown[] {
  const [result] = analyse(source, NO_CONFIG).results;
  const ids = ['de', 'de.itp', 'delta.c'] as const;
  return [result!.value('de.avg'), result!.value('de.max'), result!.value('de.itp.avg'), ...ids.map((id) => Array.from(result!.rows(id)!))];
}

/** Fills the memory with other lists, so that what is computed next takes nothing over: else the text read anew would share a mistake. */
function forget(): void {
  for (let k = 0; k < 20; k++) {
    const lists = [new Float64Array(256)];
    rowByRow(`other ${k}`, lists, () => 0);
    fromSame(`other ${k}`, lists, () => 0);
  }
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
      const taken = figures(changed);
      forget();
      expect(taken).toEqual(figures(fresh));
      expect(taken).not.toEqual(first);
    });
  }
});

describe('a figure a row', () => {
  const numbers = (at: number, n: number) => Float64Array.from({ length: 300 }, (_, i) => (i === at ? n : i));

  /** The rows that are computed. */
  function computed(what: string, from: readonly Float64Array[]): number[] {
    const rows: number[] = [];
    const list = rowByRow(what, from, (row) => {
      rows.push(row);
      return from.reduce((sum, one) => sum + one[row]!, 0);
    });
    expect(list).toEqual(Float64Array.from(from[0]!, (_, i) => from.reduce((sum, one) => sum + one[i]!, 0)));
    return rows;
  }

  it('is computed where a number of the row is another, and no other', () => {
    const from = [numbers(0, 0), numbers(0, 0)] as const;
    forget();
    expect(computed('a', from)).toHaveLength(300);
    expect(computed('a', from)).toEqual([]);
    expect(computed('a', [numbers(7, 1), from[1]])).toEqual([7]);
    expect(computed('a', [numbers(7, 1), numbers(8, 2)])).toEqual([8]);
    expect(computed('a', [numbers(9, 1), from[1]])).toEqual([7, 8, 9]);
    expect(computed('a', [numbers(9, 1), numbers(5, Number.NaN)])).toEqual([5]);
  });

  it('is computed for another figure, or another number of rows', () => {
    const from = [numbers(0, 0)];
    forget();
    computed('a', from);
    expect(computed('b', from)).toHaveLength(300);
    expect(computed('a', [numbers(0, 0).subarray(1)])).toHaveLength(299);
  });
});

it('what comes of whole lists is taken over for the same lists alone', () => {
  const lists = [new Float64Array(300), new Float64Array(300)] as const;
  const made = (what: string, from: readonly Float64Array[]) => fromSame(what, from, () => ({}));
  const first = made('a', lists);
  expect(made('a', lists)).toBe(first);
  expect(made('b', lists)).not.toBe(first);
  expect(made('a', [lists[0], lists[1].slice()])).not.toBe(first);
  expect(made('a', lists)).toBe(first);
});

/** All that is said of a session: findings, what figures are against, all figures of its runs and of their rows. */
function everything(source: SessionText): unknown {
  const { findings, results } = analyse(source, NO_CONFIG);
  return [
    findings,
    results.map((result) => [
      result.absent ?? result.againstText,
      Object.keys(result.specs).map((id) => [id, result.value(id), Array.from(result.rows(id) ?? [])]),
    ]),
  ];
}

describe('all that is said of a long run after any edits is what is said of the text read anew', () => {
  const [head] = TEXT.split('patches colours') as [string];
  const random = stream(3);
  const one = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const WITH_BLACK = TEXT.replace(/(255 +255 +255.*)/, '$1\n    0 0 0 0.05 0.31 0.33');
  const runs: Readonly<Record<string, string>> = {
    patches: WITH_BLACK,
    'patches that take their drift out': TEXT.replace('patches colours', 'patches colours\n  drift: correct').replace(
      /(\n {4}.*){40}/g,
      (rows) => `${rows}\n    255 255 255 ${(119 + random()).toFixed(2)} 0.3127 0.3290`,
    ),
    saturation: `${head}saturation colours\n    hue sat Y x y\n${Array.from(
      { length: 300 },
      () => `    ${one(['red', 'green', 'blue', 'cyan', 'yellow', 'white', 'black'])} ${one([20, 40, 60, 80, 100])} 20.5 0.35 0.32\n`,
    ).join('')}`,
    greyscale: `${head}greyscale grey\n    level Y x y\n${Array.from(
      { length: 300 },
      (_, i) => `    ${(i / 2.99).toFixed(2)} ${(120 * (i / 299) ** 2.3 + 0.01).toPrecision(4)} 0.3127 0.3290\n`,
    ).join('')}`,
  };
  const ROW = /(\S+)( +)(\S+)( +)(\S+)$/;
  const ofRow: Readonly<Record<string, (text: string, n: number) => string>> = {
    digit: (text, n) => text.replace(/\d(?=\D*$)/, String(n)),
    brighter: (text, n) => text.replace(ROW, (_, Y: string, ...rest: string[]) => `${Number(Y) * (1 + n)}${rest.slice(0, 4).join('')}`),
    slip: (text) => text.replace(ROW, (_, Y: string, ...rest: string[]) => `${Number(Y) / 10}${rest.slice(0, 4).join('')}`),
    swap: (text) => text.replace(ROW, '$1$2$5$4$3'),
    below: (text) => text.replace(ROW, '<$1$2$3$4$5'),
    open: (text) => text.replace(ROW, '?$2$3$4$5'),
    struck: (text) => text.replace(/^ */, '  ~ '),
    key: (text, n) => text.replace(/^ +\S+/, `    ${n}`),
    twice: (text) => `${text}\n${text}`,
    gone: () => '# gone',
  };
  const ofHead: readonly (readonly [RegExp, readonly string[]])[] = [
    [/luminance: .*/, ['luminance: 120 cd/m2', 'luminance: 131 cd/m2', 'x-luminance: 1']],
    [/curve: .*/, ['curve: power 2.4', 'curve: power 2.2', 'curve: bt1886', 'curve: srgb', 'curve: hlg', 'curve: pq']],
    [/space: .*/, ['space: bt709', 'space: p3-d65']],
    [/white: .*/, ['white: d65', 'white: 0.3 0.32']],
    [/range: .*/, ['range: limited', 'range: full']],
    [/spread: .*/, ['spread: 0.0004 xy, 0.5 %', 'spread: 0.01 xy, 5 %']],
  ];
  const edit = fc.tuple(fc.constantFrom('head', 'head', ...Object.keys(ofRow)), fc.nat(), fc.nat(9));

  const replaced = (source: SessionText, pattern: RegExp, put: string): SessionText => {
    const { index, 0: found } = pattern.exec(source.text)!;
    return source.change([{ span: [index, index + found.length], text: put }]);
  };

  function edited(source: SessionText, [what, at, n]: readonly [string, number, number]): SessionText {
    if (what === 'head') {
      const [pattern, choices] = ofHead[at % ofHead.length]!;
      return replaced(source, pattern, choices[n % choices.length]!);
    }
    const rows = source.lines.flatMap((line, i) => (line.kind === 'row' ? [i] : []));
    // Often the first row, which is the white of the run, or one near it.
    const line = rows[at % (n < 3 ? 3 : rows.length)]!;
    const start = source.lineStart(line);
    const { text } = source.lines[line]!;
    return source.change([{ span: [start, start + text.length], text: ofRow[what]!(text, n) }]);
  }

  function expectAsAnew(said: readonly { readonly of: string; readonly what: unknown }[]): void {
    for (const { of, what } of said) {
      forget();
      expect(what).toEqual(everything(SessionText.read(of)));
    }
  }

  it('patches, whatever is changed of the target and of black', () => {
    let source = SessionText.read(WITH_BLACK);
    const changes = [...ofHead, [/curve: .*/, ['curve: bt1886']], [/0 0 0 0.05/, ['0 0 0 0.07']]] as const;
    const said = changes.flatMap(([pattern, choices]) =>
      choices.map((put) => {
        source = replaced(source, pattern, put);
        return { of: source.text, what: everything(source) };
      }),
    );
    expect(new Set(said.map(({ what }) => JSON.stringify(what))).size).toBeGreaterThan(10);
    expectAsAnew(said);
  });

  for (const [name, text] of Object.entries(runs)) {
    it(name, () => {
      fc.assert(
        fc.property(fc.array(edit, { minLength: 3, maxLength: 8 }), (edits) => {
          let source = SessionText.read(text);
          everything(source);
          const said = edits.map((one) => {
            source = edited(source, one);
            return { of: source.text, what: everything(source) };
          });
          expectAsAnew(said);
        }),
        { seed: 20260314, numRuns: 12 },
      );
    });
  }
});
