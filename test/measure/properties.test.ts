import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import type { RunResult } from '../../src/measure/result';
import { measureSpec } from '../../src/measure/specs';
import { REASONS, type Reason, type Value } from '../../src/measure/value';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { fill } from '../../src/text/message';
import { type Pair, uvOf, xyzOf } from '../display/light';
import { expectValue, number, result, session, table, valueIn } from './tools';

const AURORA = readFileSync(new URL('../../examples/aurora-55.nitbook', import.meta.url), 'utf8');

/** Every value that a result can be asked for: measures of the run, and of its first rows. */
function valuesOf(run: RunResult): Map<string, Value> {
  const found = new Map<string, Value>();
  for (const id of Object.keys(run.specs)) {
    const spec = measureSpec(run.run.kind, id)!;
    if (spec.scope !== 'row') found.set(id, run.value(id));
    if (spec.scope === 'run' || !run.context) continue;
    for (let i = 0; i < Math.min(run.context.patches.count, 6); i++) {
      const key = run.keyOf(i, spec.by === undefined ? run.context.keys : [spec.by]);
      found.set(`${id}@${key.join()}`, run.value(id, key));
    }
  }
  return found;
}

const pick = <T>(...of: T[]): fc.Arbitrary<T> => fc.constantFrom(...of);
const positive = (max: number) => fc.double({ min: 0, max, noNaN: true }).map((n) => String(Number(n.toPrecision(4))));
const luminance = fc.oneof(
  { weight: 6, arbitrary: positive(200) },
  { weight: 3, arbitrary: pick('<0.003', '>200', '?', '-', '0', '-0.1', '1e-300', '1e300', 'x', '0.0001', '0,5') },
);
const chromaticity = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: 0.05, max: 0.7, noNaN: true }).map((n) => n.toFixed(4)) },
  { weight: 2, arbitrary: pick('?', '-', '0', '1', '-0.1', '0.3127', '0.3290', 'y') },
);
const level = fc.oneof(
  { weight: 4, arbitrary: positive(110) },
  { weight: 4, arbitrary: pick('0', '5', '10', '50', '90', '100', '?', '10%', '-2', 'x') },
);
const anyTarget = fc
  .record({
    space: pick('bt709', 'p3-d65', 'bt2020', 'bt601-525'),
    curve: pick('power 2.4', 'power 2.2 over black', 'bt1886', 'srgb', 'pq', 'hlg'),
    white: pick('d65', 'dci', '0.28 0.29', '0.2 0.6'),
    luminance: pick('', 'luminance: 120 cd/m2', 'luminance: 1000 cd/m2'),
  })
  .map(({ space, curve, white, luminance }) =>
    [`space: ${space}`, `curve: ${curve}`, `white: ${white}`, luminance].filter(Boolean).join('\n'),
  );
const anySignal = pick('window: 10 %', 'range: limited\ndepth: 8', 'range: full\ndepth: 10', 'range: full');
const head = (kind: string) => pick(`${kind} run`, `${kind} run\nrepeat: all`, `${kind} run\nstimulus: 75 %`);
const rowsOf = (...cells: fc.Arbitrary<string>[]) => fc.array(fc.tuple(...cells), { minLength: 1, maxLength: 12 });
const tableOf = (kind: string, columns: fc.Arbitrary<string>, ...cells: fc.Arbitrary<string>[]) =>
  fc.tuple(head(kind), columns, rowsOf(...cells)).map(([name, names, rows]) => table(name, names, rows));
const anyRun = fc.oneof(
  tableOf(
    'greyscale',
    pick('level Y x y', 'level[8bit] Y x y', "level Y u' v'", 'level[10bit] Y[fL] x y'),
    level,
    luminance,
    chromaticity,
    chromaticity,
  ),
  tableOf('greyscale', pick('level X Y Z'), level, luminance, luminance, luminance),
  tableOf(
    'saturation',
    pick('hue sat Y x y'),
    pick('red', 'blue', 'cyan', 'white', 'black', 'orange', '?'),
    level,
    luminance,
    chromaticity,
    chromaticity,
  ),
  tableOf('patches', pick('R G B Y x y', 'R[8bit] G[8bit] B[8bit] Y x y'), level, level, level, luminance, chromaticity, chromaticity),
  tableOf('gamut', pick('patch Y x y'), pick('red', 'green', 'blue', 'white', 'black', 'other'), luminance, chromaticity, chromaticity),
  tableOf('window', pick('window Y'), pick('1', '10', '50', '100', '?', 'x'), luminance),
  tableOf('tracking', pick('level Y x y', 'level[10bit] Y x y'), level, luminance, chromaticity, chromaticity),
  tableOf(
    'uniformity',
    pick('row col Y x y'),
    pick('1', '2', '3', '?', 'x'),
    pick('1', '2', '3', 'x'),
    luminance,
    chromaticity,
    chromaticity,
  ),
  tableOf('endurance', pick('t[s] Y', 't[min] Y'), pick('0', '30', '60', '600', '-5', '?', 'x'), luminance),
  tableOf(
    'angles',
    pick('angle direction Y x y'),
    pick('0', '30', '-30', '60', '120', 'x'),
    pick('up', 'across', '-'),
    luminance,
    chromaticity,
    chromaticity,
  ),
  tableOf(
    'volume',
    pick('R G B Y x y'),
    pick('0', '50', '100', 'x'),
    pick('0', '50', '100'),
    pick('0', '50', '100'),
    luminance,
    chromaticity,
    chromaticity,
  ),
  tableOf('spectrum', pick('nm white red', 'nm'), pick('380', '400', '500', '500', '700', '900', '?', 'x'), positive(2), positive(2)),
  tableOf('lag', pick('place lag', 'place lag[s]'), pick('top', 'centre', '?'), luminance),
  tableOf('power', pick('patch power', 'patch power t'), pick('white', 'black'), luminance),
  tableOf('repeats', pick('patch Y x y'), pick('white', 'grey'), luminance, chromaticity, chromaticity),
  tableOf('reflectance', pick('patch illuminance Y'), pick('white', 'black'), pick('0', '100', '500', '-5', 'x'), luminance),
  tableOf(
    'correction',
    pick('patch ref.Y ref.x ref.y Y x y'),
    pick('white', 'red', 'green', 'blue', 'yellow'),
    luminance,
    chromaticity,
    chromaticity,
    luminance,
    chromaticity,
    chromaticity,
  ),
  tableOf('contrast', pick('patch Y'), pick('white', 'black', 'checker-white', 'checker-black'), luminance),
);

describe('whatever is written', () => {
  test('a value that is there is finite, lies between its ends, and one that is not says why in full', () => {
    fc.assert(
      fc.property(anyRun, anyTarget, anySignal, (run, target, signal) => {
        for (const [name, value] of valuesOf(result(run, { target, signal }))) {
          if (!value.ok) {
            expect(value.why.code, name).toMatch(/^[a-z-]+$/);
            expect(fill(REASONS[value.why.code as Reason], value.why.args), name).not.toMatch(/NaN|undefined|Infinity/);
            continue;
          }
          expect(Number.isFinite(value.v), `${name} is ${value.v}`).toBe(true);
          if (!value.ends) continue;
          const [low, high] = value.ends;
          expect(low < high && (value.v === low || value.v === high), `${name}: ${value.v} in ${low}..${high}`).toBe(true);
        }
      }),
      { numRuns: 600, seed: 20260314 },
    );
  });

  test('the figures and findings of a changed text are those of the text read anew', () => {
    const place = fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true });
    const edit = fc.tuple(place, pick(0, 1, 2, 40), pick('', '1', '0.3', '\n', '?', '<', '~ ', 'greyscale more\n', '  repeat: all\n', '#'));
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
        let source = SessionText.read(AURORA);
        analyse(source, NO_CONFIG);
        for (const [at, taken, put] of edits) {
          const from = Math.floor(at * source.text.length);
          source = source.change([{ span: [from, Math.min(from + taken, source.text.length)], text: put }]);
          const changed = analyse(source, NO_CONFIG);
          const fresh = analyse(SessionText.read(source.text), NO_CONFIG);
          expect(changed.findings).toEqual(fresh.findings);
          const main = ({ results }: typeof fresh) =>
            results.map((run) => [
              run.run.id,
              run.againstText(),
              run.value('de.avg'),
              run.value('exponent'),
              run.value('additivity'),
              run.value('peak'),
              run.value('sequential'),
            ]);
          expect(main(changed)).toEqual(main(fresh));
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('a line put in', () => {
  const before = SessionText.read(AURORA);
  const first = analyse(before, NO_CONFIG);
  const insert = (at: number, text: string) => analyse(before.change([{ span: [at, at], text }]), NO_CONFIG);

  test('above all runs leaves every result the object it was', () => {
    const after = insert(AURORA.indexOf('session 2026'), '# a remark\n');
    expect(after.results.every((run, i) => run === first.results[i])).toBe(true);
  });

  test('into a run leaves those before and behind it the objects they were, when it is no greyscale', () => {
    const at = AURORA.indexOf('\n', AURORA.indexOf('contrast contrast-sdr')) + 1;
    const after = insert(at, '  note: dusk\n');
    const changed = after.results.filter((run, i) => run !== first.results[i]).map(({ run }) => run.id);
    expect(changed).toEqual(['contrast-sdr']);
  });
});

const ROWS = [
  ['0', '0.04', '0.2800', '0.2900'],
  ['10', '0.52', '0.3100', '0.3250'],
  ['50', '23.1', '0.3110', '0.3280'],
  ['80', '70.9', '0.3140', '0.3310'],
  ['100', '121', '0.3120', '0.3270'],
] as const;
const names = ['de.avg', 'de.max', 'de.itp.avg', 'balance', 'exponent', 'curve.worst', 'nearblack.dc', 'duvstar.max', 'de@50', 'cct@80'];
const all = (run: RunResult) => names.map((name) => number(run, name));
const BENCH = { target: 'space: bt709\ncurve: bt1886' };
const Yxy = all(result(table('greyscale grey', 'level Y x y', ROWS), BENCH));
const same = (run: RunResult, digits = 12) => {
  for (const [i, v] of all(run).entries()) expect(v / Yxy[i]!).toBeCloseTo(1, digits);
};

describe('the columns of a run', () => {
  test.each([
    [[3, 0, 2, 1], 'y level x Y'],
    [[1, 2, 3, 0], 'Y x y level'],
  ])('may stand in any order: %o', (order, columns) => {
    same(
      result(
        table(
          'greyscale grey',
          columns,
          ROWS.map((row) => order.map((i) => row[i]!)),
        ),
        BENCH,
      ),
    );
  });

  test('may stand beside others that no run reads', () => {
    same(
      result(
        table(
          'greyscale grey',
          'hum level Y odd x y t',
          ROWS.map(([l, Y, x, y]) => ['7', l, Y, 'word', x, y, '3']),
        ),
        BENCH,
      ),
    );
  });

  test("may hold one colour as Y x y, X Y Z or Y u' v', in cd/m² or fL", () => {
    const digits = (n: number) => n.toPrecision(16);
    const xyz = ROWS.map(([l, Y, x, y]) => [l, ...xyzOf([Number(x), Number(y)], Number(Y)).map(digits)]);
    same(result(table('greyscale grey', 'level X Y Z', xyz), BENCH), 9);
    const uv = ROWS.map(([l, Y, x, y]) => [l, Y, ...uvOf([Number(x), Number(y)] as Pair).map(digits)]);
    same(result(table('greyscale grey', "level Y u' v'", uv), BENCH), 9);
    // 1 fL = 1/π cd/ft².
    const fL = ROWS.map(([l, Y, x, y]) => [l, digits(Number(Y) * Math.PI * 0.3048 ** 2), x, y]);
    same(result(table('greyscale grey', 'level Y[fL] x y', fL), BENCH), 9);
  });

  test('may hold levels as codes of the signal', () => {
    const signal = 'range: limited\ndepth: 10';
    const codes = { 0: 64, 10: 152, 50: 502, 80: 765, 100: 940 } as const;
    const percent = result(table('greyscale grey', 'level Y x y', ROWS), { ...BENCH, signal });
    const inCodes = result(
      table(
        'greyscale grey',
        'level[10bit] Y x y',
        ROWS.map(([l, ...rest]) => [codes[Number(l) as 0], ...rest]),
      ),
      {
        ...BENCH,
        signal,
      },
    );
    for (const name of names.slice(0, 8)) expect(number(inCodes, name)).toBe(number(percent, name));
  });
});

describe('rows of one key', () => {
  const grey = (rows: readonly (readonly (string | number)[])[], head = 'greyscale grey') => result(table(head, 'level Y x y', rows));
  const D65 = ['0.3127', '0.3290'] as const;

  test('side by side are repeats: their mean is taken', () => {
    expectValue(
      grey([
        [50, 20, ...D65],
        [50, 24, ...D65],
        [100, 120, ...D65],
      ]),
      'curve@50',
      ((22 / (120 * 0.5 ** 2.4) - 1) * 100).toFixed(6),
    );
  });

  test('keep the colour of the repeat that has one', () => {
    const run = grey([
      [50, 20, '0.3127', '0.3290'],
      [50, 24, '-', '-'],
      [100, 120, ...D65],
    ]);
    expect(number(run, 'delta.uv@50')).toBeCloseTo(0, 12);
    expect(valueIn(run, 'de@50')).toMatchObject({ ok: true });
  });

  test('struck ones take no part and part no repeats', () => {
    const run = grey([
      [50, 20, ...D65],
      ['~ 50', 999, ...D65],
      [50, 24, ...D65],
      [100, 120, ...D65],
    ]);
    expect(number(run, 'curve.stops@50')).toBeCloseTo(Math.log2(22 / (120 * 0.5 ** 2.4)), 12);
    expect(run.context!.patches.count).toBe(2);
  });

  test('further apart are revisits, which serve the drift alone', () => {
    const run = grey([
      [100, 120, ...D65],
      [50, 20, ...D65],
      [100, 90, '0.3000', '0.3000'],
    ]);
    expectValue(run, 'white.luminance', '120');
    expectValue(run, 'drift', '-25.0');
    expect(number(run, 'de.max')).toBe(number(run, 'de@50'));
  });

  test('are all repeats where the run says so, and drift all the same', () => {
    const run = grey(
      [
        [100, 120, ...D65],
        [50, 20, ...D65],
        [100, 90, ...D65],
        [50, 24, ...D65],
      ],
      'greyscale grey\nrepeat: all',
    );
    expectValue(run, 'white.luminance', '105');
    expectValue(run, 'drift', '-25.0');
    expect(number(run, 'curve.stops@50')).toBeCloseTo(Math.log2(22 / (120 * 0.5 ** 2.4)), 12);
  });
});

describe('readings that the meter could not see', () => {
  const grey = (...rows: (string | number)[][]) => result(table('greyscale grey', 'level Y x y', rows));

  test('over the range make a white that is a bound and scales nothing', () => {
    const run = grey([50, 20, '0.3127', '0.3290'], [100, '>100', '-', '-']);
    expect(valueIn(run, 'white.luminance')).toEqual({ ok: true, v: 100, bound: 'at-least' });
    expect(valueIn(run, 'exponent')).toMatchObject({ ok: false, why: { code: 'no-patch' } });
  });

  test('over the range make a peak that is at least so much, and a full field that is at most so large a share', () => {
    const run = result(
      table('window peak', 'window Y', [
        ['1', '300'],
        ['10', '>500'],
        ['100', '200'],
      ]),
    );
    expect(valueIn(run, 'peak')).toEqual({ ok: true, v: 500, bound: 'at-least' });
    expect(valueIn(run, 'peak@10')).toEqual({ ok: true, v: 500, bound: 'at-least' });
    expect(valueIn(run, 'peak@1')).toEqual({ ok: true, v: 300 });
    expect(valueIn(run, 'full.share')).toEqual({ ok: true, v: 0.4, bound: 'at-most' });
  });

  test('below the floor give the exponent both ends', () => {
    const rows = (black: string) => [
      [0, black, '-', '-'],
      [10, 0.5, '-', '-'],
      [50, 23, '-', '-'],
      [100, 120, '-', '-'],
    ];
    const value = valueIn(grey(...rows('<0.003')), 'exponent');
    expect(value).toEqual({
      ok: true,
      v: number(grey(...rows('0')), 'exponent'),
      ends: [number(grey(...rows('0')), 'exponent'), number(grey(...rows('0.003')), 'exponent')],
    });
  });

  test('below the floor crush near-black by at least what the floor is below the target', () => {
    const at = (level: number) => 120 * (level / 100) ** 2.4;
    const run = grey([5, '<0.003', '-', '-'], [10, at(10).toPrecision(12), '-', '-'], [1, '<0.003', '-', '-']);
    const value = valueIn(run, 'nearblack.stops');
    if (!value.ok) throw new Error(value.why.code);
    expect(value.bound).toBe('at-most');
    expect(value.v).toBeCloseTo(Math.log2(0.003 / at(5)) / 2, 9);
  });
});

describe('targets for HDR', () => {
  test('of PQ refuse ΔE 2000 by row and run and give ΔE ITP, whatever the white of the display', () => {
    const grey = (white: number) =>
      result(
        table('greyscale grey', 'level Y x y', [
          [50, 92, 0.3127, 0.329],
          [75, white, 0.31, 0.329],
          [100, white, 0.3127, 0.329],
        ]),
        {
          target: 'space: bt2020\ncurve: pq',
        },
      );
    const run = grey(700);
    expect(valueIn(run, 'de.max')).toMatchObject({ ok: false, why: { code: 'wrong-curve', args: { expected: 'SDR', found: 'PQ' } } });
    expect(valueIn(run, 'de@50')).toMatchObject({ ok: false, why: { code: 'wrong-curve' } });
    expect(number(run, 'de.itp@50')).toBe(number(grey(900), 'de.itp@50'));
    expect(number(run, 'target@50')).toBeCloseTo(92.2457, 3);
    expect(run.againstText()).toBe('dark: BT.2020, PQ, white of the space, white 700 cd/m² (read in grey)');
  });

  test('of HLG take the white of the display as the nominal peak: 75 % is 203 cd/m² at 1,000 (BT.2408)', () => {
    const run = result(
      table('greyscale grey', 'level Y x y', [
        [75, 203, 0.3127, 0.329],
        [100, 1000, 0.3127, 0.329],
      ]),
      {
        target: 'space: bt2020\ncurve: hlg',
      },
    );
    expect(Math.abs(number(run, 'target@75') - 203)).toBeLessThan(0.5);
    expect(number(run, 'target@100')).toBeCloseTo(1000, 3);
  });

  test('of PQ without a white leave out what is told by lightness', () => {
    const run = result(table('patches colours', 'R G B Y x y', [[50, 50, 50, 92, 0.31, 0.329]]), { target: 'space: bt2020\ncurve: pq' });
    expect(valueIn(run, 'delta.uvstar@50,50,50').ok).toBe(false);
    expect(valueIn(run, 'delta.uv@50,50,50').ok).toBe(true);
  });
});

test('of two runs of one id a reference means the first', () => {
  const window = (Y: number) => table('window peak', 'window Y', [[10, Y]]);
  const { results } = analyse(SessionText.read(session(`${window(800)}\n${window(700)}`)), NO_CONFIG);
  expect(results.map(({ run }) => run.id)).toEqual(['peak', 'peak']);
  expect(number(results[0]!, 'peak')).toBe(800);
  expect(number(results[1]!, 'peak')).toBe(700);
});
