import { describe, expect, it } from 'vitest';
import { xyzOf } from './light';
import { commonError, type Measured, noCommonError, read, tripodMeter, written } from './meter';
import { normal, stream } from './random';

const readings = (Y: number, n: number): Measured[] => {
  const chance = stream(`meter ${Y}`);
  const xyz = xyzOf([0.3127, 0.329], Y);
  return Array.from({ length: n }, () => read(tripodMeter, xyz, noCommonError, chance));
};
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
const deviation = (values: readonly number[]): number => {
  const m = mean(values);
  return Math.sqrt(values.reduce((sum, v) => sum + (v - m) ** 2, 0) / (values.length - 1));
};

describe('chance', () => {
  it('is the same for the same name and another for another', () => {
    const draw = (name: string): number[] => Array.from({ length: 5 }, stream(name));
    expect(draw('a')).toEqual(draw('a'));
    expect(draw('a')).not.toEqual(draw('b'));
  });
  it('is standard normal', () => {
    const chance = stream('normal');
    const values = Array.from({ length: 40_000 }, () => normal(chance));
    expect(Math.abs(mean(values))).toBeLessThan(4 / Math.sqrt(40_000));
    expect(deviation(values)).toBeCloseTo(1, 1.6);
    const inside = values.filter((v) => Math.abs(v) < 1.96).length / values.length;
    expect(Math.abs(inside - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / 40_000));
  });
});

describe('the meter', () => {
  const n = 20_000;
  // Four standard errors of a standard deviation, σ/√(2n).
  const tolerance = 4 / Math.sqrt(2 * n);

  it.each([100, 1, 0.1, 0.01])('repeats as its model says at %f cd/m²', (Y) => {
    const all = readings(Y, n);
    const sigmaY = Math.sqrt(0.005 ** 2 + (0.0006 / Y) ** 2);
    const sigmaXy = 0.0004 * Math.sqrt(1 + 0.5 / Y);
    expect(Math.abs(deviation(all.map((r) => r.Y / Y)) / sigmaY - 1)).toBeLessThan(tolerance);
    expect(Math.abs(deviation(all.map((r) => r.x)) / sigmaXy - 1)).toBeLessThan(tolerance);
    expect(Math.abs(deviation(all.map((r) => r.y)) / sigmaXy - 1)).toBeLessThan(tolerance);
    expect(Math.abs(mean(all.map((r) => r.Y / Y)) - 1)).toBeLessThan((4 * sigmaY) / Math.sqrt(n));
    expect(Math.abs(mean(all.map((r) => r.x)) - 0.3127)).toBeLessThan((4 * sigmaXy) / Math.sqrt(n));
  });

  it('has an error common to a session', () => {
    const sessions = Array.from({ length: 5000 }, (_, i) => commonError(tripodMeter, stream(`session ${i}`)));
    const within = 4 / Math.sqrt(2 * 5000);
    expect(Math.abs(deviation(sessions.map((s) => s.Y)) / 0.01 - 1)).toBeLessThan(within);
    expect(Math.abs(deviation(sessions.map((s) => s.x)) / 0.001 - 1)).toBeLessThan(within);
    expect(Math.abs(deviation(sessions.map((s) => s.y)) / 0.001 - 1)).toBeLessThan(within);
  });

  it('writes Y to 4 significant figures and x, y to 4 decimals', () => {
    const Y = (value: number): string => written(tripodMeter, { Y: value, x: 0.3, y: 0.33333 }).Y;
    expect([119.64, 1178.4, 12_345.6, 6.7, 0.085129, 0.0031236, 99.999, 0.99999].map(Y)).toEqual([
      '119.6',
      '1178',
      '12350',
      '6.700',
      '0.08513',
      '0.003124',
      '100.0',
      '1.000',
    ]);
    expect(written(tripodMeter, { Y: 1, x: 0.3, y: 0.33333 })).toEqual({ Y: '1.000', x: '0.3000', y: '0.3333' });
  });

  it('writes <0.003 below its floor', () => {
    const dark = { Y: '<0.003', x: '-', y: '-' };
    expect(written(tripodMeter, { Y: 0.0029, x: 0.3, y: 0.3 })).toEqual(dark);
    expect(written(tripodMeter, { Y: -0.0002, x: 0.3, y: 0.3 })).toEqual(dark);
    expect(written(tripodMeter, { Y: 0.003, x: 0.3, y: 0.3 }).Y).toBe('0.003000');
  });
});
