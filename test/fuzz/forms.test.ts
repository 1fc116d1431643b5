import { describe, expect, it } from 'vitest';
import { isFormula, isRange } from './forms';

describe('what a spreadsheet would run', () => {
  it('begins with one of six characters and is no number: a blank alone, which others read as 0, is none', () => {
    for (const text of ['=1', '+', '-a', '@A1', '\t', '\t5', '\r', '\r5', '-Infinity', '-1..2', '-1..'])
      expect(isFormula(text), text).toBe(true);
    for (const text of ['', '1', '-1', '+1.5', '-.5', '-2e-7', 'a=1', "'\r"]) expect(isFormula(text), text).toBe(false);
  });

  it('is not a range of two numbers', () => {
    expect(['-5..5', '95..105', '-10..-5'].every(isRange)).toBe(true);
    expect(['-5', '-5..', '-1..2..3', '-1..=A1', '-1..\r'].some(isRange)).toBe(false);
  });
});
