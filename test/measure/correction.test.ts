import { describe, expect, test } from 'vitest';
import { NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { d65, type Triple, xyOf, xyzOf } from '../display/light';
import { correcting, METERS, pairs } from './benchCases';
import { analysed, number, result, session, table } from './tools';

const FOUR = pairs(['white', 'red', 'green', 'blue']);
/** What the meter of the pairs reads where the reference reads this. */
const misread = ([X, Y, Z]: Triple): Triple => [1.01 * X + 0.01 * Y, 0.005 * X + 0.99 * Y + 0.004 * Z, 0.01 * Y + 1.03 * Z];
const row = (level: number, xyz: Triple) => [level, ...[xyz[1], ...xyOf(xyz)].map((v) => v.toPrecision(12))];
const GREY = [100, 50].map((level) => row(level, misread(xyzOf(d65, 120 * (level / 100) ** 2.4))));
const grey = (head = 'greyscale grey\nmeter: probe', rows: readonly (readonly (string | number)[])[] = GREY) =>
  table(head, 'level Y x y', rows);

describe('a correction', () => {
  test('gives readings of its meter as the reference would have read them, and keeps them as they were', () => {
    const run = result(`${correcting(FOUR)}\n${grey()}`, {}, 'grey');
    expect(number(run, 'de.max')).toBeLessThan(1e-6);
    const { Y, raw } = run.context!.patches;
    expect(Y[0]).toBeCloseTo(120, 8);
    expect(raw!.Y[0]).toBeCloseTo(misread(xyzOf(d65, 120))[1], 8);
    expect(run.says()).toEqual(['The readings are corrected by fix.']);
    expect(run.againstText()).toContain('readings corrected by fix');
  });

  test('leaves those of another meter, and is left out where it is refused', () => {
    const other = result(`${correcting(FOUR)}\n${grey('greyscale grey\nmeter: spectro')}`, {}, 'grey');
    expect(other.context!.patches.raw).toBeUndefined();
    expect(number(other, 'de.max')).toBeGreaterThan(0.5);
    const refused = result(`${correcting(FOUR.slice(0, 3))}\n${grey()}`, {}, 'grey');
    expect(refused.context!.patches.raw).toBeUndefined();
    expect(refused.says()).toEqual([]);
  });

  test('holds for its mode, where it names one', () => {
    const modes = 'mode film\n  .automatic: ambient sensor off, energy saving off, dynamic contrast off, dynamic tone mapping off\n';
    const text = (mode: string) =>
      `${modes}${correcting(FOUR, 'correction fix\nmeter: probe\nreference: spectro\nmode: cinema')}\n${grey(`greyscale grey\nmeter: probe\nmode: ${mode}`)}`;
    expect(result(text('cinema'), {}, 'grey').says()).toHaveLength(1);
    expect(result(text('film'), {}, 'grey').says()).toHaveLength(0);
  });

  test('takes a luminance without a chromaticity for that of a white', () => {
    const white = misread(xyzOf(d65, 300))[1];
    const run = result(`${correcting(FOUR)}\n${table('window w\nmeter: probe', 'window Y', [[10, white.toPrecision(12)]])}`, {}, 'w');
    expect(number(run, 'peak')).toBeCloseTo(300, 8);
  });

  test('leaves what was below the floor or over the range', () => {
    const run = result(`${correcting(FOUR)}\n${grey(undefined, [[0, '<0.003', '-', '-'], ...GREY])}`, {}, 'grey');
    expect(run.value('black')).toEqual({ ok: true, v: 0.003, bound: 'at-most' });
  });

  test('is a run of its own in the report, with its checks', () => {
    const { results } = analysed(session(`${correcting(pairs(['white', 'red', 'green', 'blue', 'sand']))}\n${grey()}`));
    expect(results.map(({ run }) => run.id)).toEqual(['fix', 'grey']);
    expect(number(results[0]!, 'check')).toBeLessThan(1e-9);
  });

  test('hangs together with its runs: what is typed in one changes the other', () => {
    const before = SessionText.read(session(`${correcting(FOUR)}\n${grey()}`));
    const de = (source: SessionText) => analyse(source, NO_CONFIG).results.at(-1)!.value('de.max');
    de(before);
    const at = before.text.indexOf('    red');
    const after = before.change([{ span: [at, at + 4], text: '  ~ ' }]);
    expect(de(after)).toEqual(de(SessionText.read(after.text)));
    expect(de(after)).not.toEqual(de(before));
  });
});

describe('a correction by spectra', () => {
  /** Bars of light 30 nm wide at 1 nm: red, green and blue, and white as their sum. */
  const lines = (step: number) =>
    Array.from({ length: Math.floor(300 / step) + 1 }, (_, i) => {
      const nm = 400 + i * step;
      const bar = (centre: number) => Math.exp(-(((nm - centre) / 12) ** 2));
      const [r, g, b] = [bar(620), bar(535), bar(455)];
      return [nm, r + g + b, r, g, b].map((v) => Number(v.toPrecision(9)));
    });
  const text = (step: number) => {
    const spectra = table('spectrum spd\nmeter: spectro', 'nm white red green blue', lines(step));
    const shown = analysed(session(`${METERS}${spectra}`)).results[0]!;
    const rows = ['white', 'red', 'green', 'blue'].map((name) => {
      const xyz = ['X', 'Y', 'Z'].map((id) => number(shown, `${id}@${name}`)) as unknown as Triple;
      return [name, ...[misread(xyz)[1], ...xyOf(misread(xyz))].map((v) => v.toPrecision(12))];
    });
    return { spectra, rows, white: ['X', 'Y', 'Z'].map((id) => number(shown, `${id}@white`)) as unknown as Triple };
  };

  test.each([1, 5])('takes chromaticities from columns at %d nm, and leaves luminance as it was read', (step) => {
    const { spectra, rows, white } = text(step);
    const head = 'correction fix\nmeter: probe\nspectra: spd';
    const target = `space: bt709\ncurve: power 2.4\nwhite: ${xyOf(white)
      .map((v) => v.toFixed(9))
      .join(' ')}`;
    const runs = `${correcting(rows, head, 'patch Y x y')}\n${spectra}\n${grey(undefined, [row(100, misread(white))])}`;
    const run = result(runs, { target }, 'grey');
    expect(number(run, 'delta.uv@100')).toBeLessThan(1e-7);
    expect(number(run, 'white.luminance')).toBeCloseTo(misread(white)[1], 4);
  });

  test('changes when the spectra do', () => {
    const { spectra, rows, white } = text(5);
    const head = 'correction fix\nmeter: probe\nspectra: spd';
    const before = SessionText.read(
      session(`${correcting(rows, head, 'patch Y x y')}\n${spectra}\n${grey(undefined, [row(100, misread(white))])}`),
    );
    const uv = (source: SessionText) => analyse(source, NO_CONFIG).results.at(-1)!.value('delta.uv', ['100']);
    uv(before);
    const at = before.text.indexOf('    620');
    const after = before.change([{ span: [at, at + 4], text: '  ~ ' }]);
    expect(uv(after)).toEqual(uv(SessionText.read(after.text)));
    expect(uv(after)).not.toEqual(uv(before));
  });
});

describe('drift', () => {
  const rows = (drift: string) =>
    result(
      table(`greyscale grey\ndrift: ${drift}`, 'level Y x y', [
        [100, 120, 0.3127, 0.329],
        [50, (22.7357 * 0.975).toPrecision(12), 0.3127, 0.329],
        [100, 114, 0.3127, 0.329],
      ]),
    );

  test('is taken out where the run says so: straight between one white and the next', () => {
    const run = rows('correct');
    // Half way from 120 to 114 the white is 117, so that the reading there is worth 120/117 of itself.
    expect(run.context!.patches.Y[1]).toBeCloseTo((22.7357 * 0.975 * 120) / 117, 9);
    expect(run.context!.patches.raw!.Y[1]).toBeCloseTo(22.7357 * 0.975, 9);
    expect(run.says()).toEqual(['The drift of white is taken out of the readings.']);
    expect(number(run, 'drift')).toBeCloseTo(-5, 9);
  });

  test('is reported alone otherwise', () => {
    const run = rows('report');
    expect(run.context!.patches.raw).toBeUndefined();
    expect(run.says()).toEqual([]);
    expect(number(run, 'drift')).toBeCloseTo(-5, 9);
  });

  test.each([
    ['gamut g\ndrift: correct', 'patch Y x y', ['white', 100, 0.3127, 0.329], ['red', 20, 0.64, 0.33], ['white', 90, 0.3127, 0.329]],
    [
      'saturation s\ndrift: correct',
      'hue sat Y x y',
      ['white', 0, 100, 0.3127, 0.329],
      ['red', 100, 20, 0.64, 0.33],
      ['white', 0, 90, 0.3127, 0.329],
    ],
    [
      'patches p\ndrift: correct',
      'R G B Y x y',
      [100, 100, 100, 100, 0.3127, 0.329],
      [100, 0, 0, 20, 0.64, 0.33],
      [100, 100, 100, 90, 0.3127, 0.329],
    ],
  ])('of "%s" is told by its own white', (head, columns, ...lines) => {
    const run = result(table(head, columns, lines as (string | number)[][]));
    expect(run.context!.patches.Y[1]).toBeCloseTo((20 * 100) / 95, 9);
  });
});
