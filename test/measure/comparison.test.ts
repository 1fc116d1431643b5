import { describe, expect, test } from 'vitest';
import { type Compared, compareRuns, knownComparison, pairsOf } from '../../src/measure/comparison';
import type { RunResult } from '../../src/measure/result';
import { finish } from '../../src/uncertainty/covariance';
import { analysed, session, table } from './tools';

const STATED = 'floor: 0.003 cd/m2\nspread: 0.0004 xy, 0.5 %\naccuracy: 0.002 xy, 2 %';

interface Plan {
  readonly meter?: string;
  readonly target?: string;
  readonly head?: string;
}

/** A run in cinema and one as adjusted. */
function runs(before: string, after: string, { meter = STATED, target, head = '' }: Plan = {}): readonly RunResult[] {
  const text = session(`${head}${before}\n\n${after}`, { meter, ...(target === undefined ? {} : { target }) });
  return analysed(text.replace('mode cinema\n', 'mode cinema\nmode tuned from cinema\nmode game\n')).results;
}

function change(list: readonly RunResult[], id: string): Compared {
  const [before, after] = list.slice(-2) as [RunResult, RunResult];
  const found = finish(compareRuns(before, after)).find((one) => one.id === id);
  if (!found) throw new Error(`no ${id}`);
  return found;
}

const whiteRun = (head: string, Y: number, x = 0.3127) => table(head, 'level Y x y', [[100, Y, x, 0.329]]);

describe('before and after with one meter', () => {
  const pair = (Y: number, x?: number, plan?: Plan) =>
    runs(whiteRun('greyscale a\nmode: cinema', 120), whiteRun('greyscale b like a\nmode: tuned', Y, x), plan);

  test('what its readings share cancels: 2 % more light is shown by a meter that knows light to 2 %', () => {
    const { from, to, change: found } = change(pair(122.4), 'white.luminance');
    if (!found.ok) throw new Error('no interval');
    expect([from, to]).toEqual([120, 122.4]);
    expect(found.difference).toBeCloseTo(2.4, 12);
    expect(found.changed).toBe(true);
    // The spread of both, and the accuracy of the difference alone.
    expect((found.interval[1] - found.interval[0]) / 2).toBeCloseTo(1.959964 * Math.hypot(0.6, 0.612, 0.024), 2);
  });

  test('a difference within the spread is not shown', () => {
    const { change: found } = change(pair(120.9), 'white.luminance');
    expect(found).toMatchObject({ ok: true, changed: false });
  });

  test('a colour temperature that moved by 190 K has changed though neither is known to 100 K', () => {
    const { change: found } = change(pair(120, 0.3105), 'cct');
    if (!found.ok) throw new Error('no interval');
    expect(found.changed).toBe(true);
    expect(found.interval[1] - found.interval[0]).toBeLessThan(160);
  });

  test('the mean of rows that are clearly off and then less is changed', () => {
    const rows = (by: number) => [20, 40, 60, 80, 100].map((level) => [level, 120 * (level / 100) ** 2.4, 0.3127 + by, 0.329 - by]);
    const list = runs(
      table('greyscale a\nmode: cinema', 'level Y x y', rows(0.02)),
      table('greyscale b like a\nmode: tuned', 'level Y x y', rows(0.012)),
    );
    const { change: found } = change(list, 'de.avg');
    expect(found).toMatchObject({ ok: true, changed: true });
  });

  test('is without interval where the meter states no spread, with the difference all the same', () => {
    const { change: found } = change(pair(122.4, undefined, { meter: 'floor: 0.003 cd/m2' }), 'white.luminance');
    expect(found).toMatchObject({ ok: false, why: { code: 'no-spread' } });
    expect(found.difference).toBeCloseTo(2.4, 12);
  });

  test('leaves bounds out', () => {
    const contrast = (id: string, mode: string) =>
      table(`contrast ${id}\nmode: ${mode}`, 'patch Y', [
        ['white', 120],
        ['black', '<0.003'],
      ]);
    const [before, after] = runs(contrast('a', 'cinema'), contrast('b', 'tuned')) as [RunResult, RunResult];
    expect(finish(compareRuns(before, after)).map(({ id }) => id)).toEqual(['white']);
  });

  test('dropped half way leaves nothing', () => {
    const [before, after] = pair(122.4) as [RunResult, RunResult];
    const slices = compareRuns(before, after);
    expect(slices.next().done).toBe(false);
    slices.return(undefined as never);
    expect(knownComparison(before, after)).toBeUndefined();
    const list = finish(compareRuns(before, after));
    expect(knownComparison(before, after)).toBe(list);
    expect(finish(compareRuns(before, after))).toBe(list);
  });
});

describe('a run is compared', () => {
  const ids = (list: readonly RunResult[]) => {
    const pairs = pairsOf(list);
    return list.map((run) => pairs.find(([, after]) => after === run)?.[0].run.id);
  };
  const contrast = (head: string) => table(head, 'patch Y', [['white', 120]]);

  test('with the one that it is like, in another mode', () => {
    expect(ids(runs(contrast('contrast a\nmode: cinema'), contrast('contrast b like a\nmode: tuned')))).toEqual([undefined, 'a']);
  });

  test('with one of a mode that its own is from, where it is like none', () => {
    const head = `${contrast('contrast g\nmode: game')}\n\n`;
    expect(ids(runs(contrast('contrast a\nmode: cinema'), contrast('contrast b\nmode: tuned'), { head }))[2]).toBe('a');
  });

  test('with none where there is a choice', () => {
    const head = `${contrast('contrast z\nmode: cinema')}\n\n`;
    expect(ids(runs(contrast('contrast a\nmode: tuned'), contrast('contrast b\nmode: game'), { head }))).toEqual([
      undefined,
      'z',
      undefined,
    ]);
  });

  test('never with one of its own mode, of another target, meter or signal, or further down', () => {
    expect(ids(runs(contrast('contrast a\nmode: cinema'), contrast('contrast b like a')))).toEqual([undefined, undefined]);
    const other = runs(contrast('contrast a\nmode: cinema\nsignal: none'), contrast('contrast b like a\nmode: tuned\nsignal: sdr'));
    expect(ids(other)).toEqual([undefined, undefined]);
  });
});
