import { describe, expect, it } from 'vitest';
import type { Judgement } from '../../src/judge/limits';
import { measureSpec } from '../../src/measure/specs';
import { figureText, judgementText, limitLine, numberText, valueText, visible } from '../../src/report/format';
import { plainBound, writtenKey } from '../../src/report/plain';

const spec = (kind: string, id: string) => measureSpec(kind, id)!;
const judged = (rest: Partial<Judgement>): Judgement => ({ verdict: 'no-number', aim: 'no-number', centre: 0, ...rest });

describe('numbers', () => {
  it.each([
    [4.0622, 2, '4.06'],
    [-0.001, 2, '0.00'],
    [-0.0049, 4, '-0.0049'],
    [40166, 0, '40166'],
    [1e7, 1, '10000000.0'],
  ])('%d with %d decimals is %s', (v, decimals, text) => expect(numberText(v, decimals)).toBe(text));

  it('have their unit, close to or apart as the trade writes it', () => {
    expect(valueText({ ok: true, v: 827.3 }, spec('window', 'peak'))).toBe('827 cd/m²');
    expect(valueText({ ok: true, v: 2000 }, spec('contrast', 'sequential'))).toBe('2000:1');
    expect(valueText({ ok: true, v: 1.25 }, spec('saturation', 'delta.h.angle'))).toBe('1.3°');
    expect(valueText({ ok: true, v: 4.0622 }, spec('greyscale', 'de.max'))).toBe('4.06');
  });

  it('say what is only a bound, and both ends where they differ as shown', () => {
    const de = spec('greyscale', 'de.max');
    expect(valueText({ ok: true, v: 40166, bound: 'at-least' }, spec('contrast', 'sequential'))).toBe('at least 40100:1');
    expect(valueText({ ok: true, v: 40200, bound: 'at-least' }, spec('contrast', 'sequential'))).toBe('at least 40200:1');
    expect(valueText({ ok: true, v: 538.7, bound: 'at-least' }, spec('contrast', 'sequential'))).toBe('at least 538:1');
    expect(valueText({ ok: true, v: 3386, bound: 'at-most' }, spec('contrast', 'sequential'))).toBe('at most 3390:1');
    expect(valueText({ ok: true, v: 0.003, bound: 'at-most' }, spec('contrast', 'black'))).toBe('at most 0.0030 cd/m²');
    expect(valueText({ ok: true, v: 1.02, ends: [1.02, 1.05] }, de)).toBe('1.02 to 1.05');
    expect(valueText({ ok: true, v: 1.02, ends: [1.0201, 1.0204] }, de)).toBe('1.02');
    expect(valueText({ ok: false, why: { code: 'no-rows', args: {} } }, de)).toBe('—');
  });
});

describe('a judged figure', () => {
  const shown = (v: number, limits: Judgement['limits'], id = 'de.max', centre = 0) =>
    figureText({ value: { ok: true, v }, spec: spec('greyscale', id), judgement: judged({ ...(limits && { limits }), centre }) });
  const limits = { limit: { high: 3 }, aim: { high: 1 }, from: 'default' } as const;

  it('has decimals enough not to read as the aim or limit that it misses, or just meets', () => {
    expect(shown(1.0013, limits)).toBe('1.001');
    expect(shown(0.9996, limits)).toBe('0.9996');
    expect(shown(2.996, limits)).toBe('2.996');
    expect(shown(1, limits)).toBe('1.00');
    expect(shown(2.5, limits)).toBe('2.50');
    expect(shown(105.04, { limit: { high: 5 }, from: 'default' }, 'balance', 100)).toBe('105.04 %');
    expect(shown(94.96, { limit: { high: 5 }, from: 'default' }, 'balance', 100)).toBe('94.96 %');
    expect(shown(94.96, { limit: { low: 95, high: 99 }, from: 'session' }, 'balance', 100)).toBe('94.96 %');
  });

  it('has no more than three of them, and none for what is not judged', () => {
    expect(shown(1 + 1e-7, limits)).toBe('1.00000');
    expect(shown(1.0013, undefined)).toBe('1.00');
  });
});

describe('verdicts and limits', () => {
  it('are a word and a glyph, and say when the aim is met', () => {
    expect(judgementText(judged({ verdict: 'within', aim: 'within' }))).toBe('within ·, aim met');
    expect(judgementText(judged({ verdict: 'within', aim: 'beyond' }))).toBe('within ·');
    expect(judgementText(judged({ verdict: 'beyond', aim: 'beyond' }))).toBe('beyond ▲');
    expect(judgementText(judged({ verdict: 'undecided' }))).toBe('undecided ≈');
    expect(judgementText(judged({ aim: 'beyond' }))).toBe('aim missed');
    expect(judgementText(judged({}))).toBe('');
  });

  it('are written as they hold', () => {
    const limits = { limit: { high: 5 }, aim: { high: 2 }, from: 'default' } as const;
    expect(limitLine(spec('greyscale', 'balance'), judged({ limits, centre: 100 }))).toBe('limit 100 ±5 %, aim 100 ±2 %');
    expect(limitLine(spec('greyscale', 'curve'), judged({ limits }))).toBe('limit ±5 %, aim ±2 %');
    expect(limitLine(spec('greyscale', 'cct'), judged({ limits, centre: Number.NaN }))).toBe('limit ±5 K, aim ±2 K');
    expect(limitLine(spec('greyscale', 'de.max'), judged({ limits: { aim: { high: 1 }, from: 'folder' } }))).toBe('aim 1 (folder)');
    expect(limitLine(spec('greyscale', 'curve'), judged({ limits: { limit: { low: -5, high: 4 }, from: 'session' } }))).toBe(
      'limit -5..4 % (session)',
    );
  });

  it('are numbers or ranges for programs', () => {
    const balance = spec('greyscale', 'balance');
    expect(plainBound({ high: 0.3 }, balance, judged({ centre: 100.1 }))).toEqual([99.8, 100.4]);
    expect(plainBound({ low: 90, high: 110 }, balance, judged({ centre: 100 }))).toEqual([90, 110]);
    expect(plainBound({ high: 3 }, spec('greyscale', 'de.max'), judged({}))).toBe(3);
    expect(plainBound({ high: 200 }, spec('greyscale', 'cct'), judged({ centre: Number.NaN }))).toBeNull();
    expect(plainBound(undefined, balance, judged({}))).toBeNull();
  });
});

it('keys are written as references have them', () => {
  expect(writtenKey(['red', '100'])).toBe('red,100');
  expect(writtenKey(['Light skin, warm', '画'])).toBe('Light%20skin%2C%20warm,%E7%94%BB');
  expect(writtenKey([])).toBe('');
});

it('text of others keeps its letters and loses its controls', () => {
  expect(visible('画面 ΔE “é” 55"')).toBe('画面 ΔE “é” 55"');
  expect(visible('a\tb\u0000c\u2028d\u200Fe\uD800f')).toBe('a\uFFFDb\uFFFDc\uFFFDd\uFFFDe\uFFFDf');
});
