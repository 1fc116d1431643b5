import { describe, expect, it } from 'vitest';
import { unitOf } from '../../src/review/candidates';
import { type Claim, readClaim } from '../../src/review/claim';
import { held, type Known } from '../../src/review/match';
import { namesIn } from '../../src/review/names';
import { notationOf } from '../../src/review/notation';

/**
 * What a text claims of a figure, and whether it does: each line follows from the sentence of the format that stands above it, worked out by
 * hand. An `interval` is what is known of the figure beside its point value.
 */
type Status = 'holds' | 'wrong' | 'undecided' | 'notation' | 'none' | Extract<Claim, { readonly is: 'unclear' }>['why'];
type Rest = Partial<Omit<Known, 'v'>> & { readonly language?: string };
type Line = readonly [text: string, value: number, status: Status, rest?: Rest];

function statusOf(text: string, v: number, { language = 'en', ...rest }: Rest = {}): Status {
  const claim = readClaim(text, { isDifference: rest.axis !== undefined, ...rest }, notationOf(language));
  // Where a line names no unit the figure is in that of its text.
  if (claim.is === 'number' || claim.is === 'range') return held(claim, { v, unit: unitOf(claim), ...rest });
  return claim.is === 'unclear' ? claim.why : claim.is;
}

const between = (low: number, high: number): Rest => ({ interval: [low, high] });
const CONTRAST: Rest = { unit: ':1' };
const PERCENT: Rest = { unit: '%' };
const SIGNED: Rest = { unit: '%', axis: 'light' };

const TABLE: Readonly<Record<string, readonly Line[]>> = {
  'Names with digits are masked first (BT.2020, ΔE2000, D65, HDR10, 10-bit, :1)': [
    ['71.3 % of BT.2020', 71.3, 'holds', PERCENT],
    ['covers 97.1 % of BT.709', 97.1, 'holds', PERCENT],
    ['a ΔE2000 of 2.9', 2.9, 'holds'],
    ['a ΔE2000 of 2.9', 2000, 'wrong'],
    ['ΔE 2000: 2.9', 2.9, 'holds'],
    ['0.0031 from D65', 0.0031, 'holds'],
    ['over HDMI 2.1 815 nits', 815, 'holds'],
    ['via HDMI 815 nits', 815, 'holds'],
    ['815 nits in HDR10', 815, 'holds'],
    ['815 nits in HDR10+', 815, 'holds'],
    ['23.1 on a 10-bit grey', 23.1, 'holds'],
    ['1,043:1', 1043, 'holds', CONTRAST],
    ['BT.2020', 2020, 'none'],
    ['97.8 % of DCI-P3', 97.8, 'holds', PERCENT],
    ['119.6 cd/m2', 119.6, 'holds'],
    ['a ΔE of 2.9', 2.9, 'holds'],
    ['ΔE 2.9', 2.9, 'holds'],
  ],
  'A plain number holds when |value − number| ≤ half of the last written digit, closed at both ends': [
    ['2.4', 2.45, 'holds'],
    ['2.5', 2.45, 'holds'],
    ['2.5', 2.449, 'wrong'],
    ['2.4', 2.451, 'wrong'],
    ['2.4', 2.35, 'holds'],
    ['505 nits', 504.5, 'holds'],
    ['505 nits', 505.5, 'holds'],
    ['505 nits', 505.51, 'wrong'],
    ['0.0020', 0.00204, 'holds'],
    ['0.0020', 0.00206, 'wrong'],
    ['0.002', 0.00206, 'holds'],
    ['3', 3.5, 'holds'],
    ['3.0', 3.5, 'wrong'],
    ['0.1', 0.15, 'holds'],
    ['0.3', 0.25, 'holds'],
    ['−3.7 %', -3.7, 'holds', SIGNED],
    ['-3.7 %', -3.7, 'holds', SIGNED],
    ['−3.7 %', 3.7, 'wrong', SIGNED],
    ['−0.25', -0.3, 'wrong'],
  ],
  'It is judged on the point value': [
    ['2.9', 2.86, 'holds', between(2.2, 3.5)],
    ['2.9', 3.0, 'wrong', between(2.2, 3.5)],
    ['about 3', 2.9, 'holds', between(1, 5)],
    ['nearly 3', 2.9, 'holds', between(1, 5)],
  ],
  'undecided exists only for comparisons and ranges whose bound lies in the interval': [
    ['under 3', 2.8, 'undecided', between(2.6, 3.1)],
    ['under 3', 2.8, 'holds', between(2.6, 2.99)],
    ['under 3', 3.2, 'undecided', between(2.9, 3.5)],
    ['under 3', 3.2, 'wrong', between(3.1, 3.3)],
    ['over 500', 505, 'undecided', between(495, 515)],
    ['over 500', 505, 'holds', between(501, 509)],
    ['at most 3', 3.3, 'undecided', between(3.0, 3.6)],
    ['at most 3', 3.3, 'holds', between(3.2, 3.4)],
    ['at least 500', 500, 'undecided', between(499, 501)],
    ['2 to 3', 2.9, 'undecided', between(2.5, 3.6)],
    ['2 to 3', 2.5, 'holds', between(2.2, 2.9)],
    ['2 to 3', 4.2, 'wrong', between(4, 4.4)],
    ['between 2 and 3', 2.5, 'undecided', between(1, 4)],
    ['over 40,000:1', 40166, 'holds', { ...CONTRAST, interval: [40166, Number.POSITIVE_INFINITY], isBound: true }],
    ['over 50,000:1', 40166, 'undecided', { ...CONTRAST, interval: [40166, Number.POSITIVE_INFINITY], isBound: true }],
    ['under 30,000:1', 40166, 'wrong', { ...CONTRAST, interval: [40166, Number.POSITIVE_INFINITY], isBound: true }],
    ['under 0.004', 0.003, 'holds', { interval: [0, 0.003], isBound: true }],
    // What is known by a bound only has no point value.
    ['40,166:1', 40166, 'wrong', { ...CONTRAST, interval: [40166, Number.POSITIVE_INFINITY], isBound: true }],
    ['about 40,000:1', 40166, 'wrong', { ...CONTRAST, interval: [40166, Number.POSITIVE_INFINITY], isBound: true }],
  ],
  'under, below, less than, over, above, more than are strict': [
    ['under 3', 2.999, 'holds'],
    ['under 3', 3, 'wrong'],
    ['below 3', 3, 'wrong'],
    ['below 3.0', 2.96, 'holds'],
    ['less than 3', 3, 'wrong'],
    ['less than 3', 2.6, 'holds'],
    ['over 500 nits', 500, 'wrong'],
    ['over 500 nits', 500.1, 'holds'],
    ['above 500', 500, 'wrong'],
    ['more than 500', 815, 'holds'],
    ['stays below a ΔE of 3', 2.2, 'holds'],
    ['Under 3', 2.2, 'holds'],
  ],
  'at most, at least to the rounding': [
    ['at most 3', 3.5, 'holds'],
    ['at most 3', 3.51, 'wrong'],
    ['at most 3.0', 3.05, 'holds'],
    ['at most 3.0', 3.06, 'wrong'],
    ['at least 500', 499.5, 'holds'],
    ['at least 500', 499.4, 'wrong'],
    ['at least 0.85', 0.845, 'holds'],
  ],
  'about, around, roughly ± the larger of half a unit and 5 %': [
    ['about 800 nits', 760, 'holds'],
    ['about 800 nits', 840, 'holds'],
    ['about 800 nits', 759, 'wrong'],
    ['around 800 nits', 841, 'wrong'],
    ['roughly 800', 815, 'holds'],
    ['about 3', 3.5, 'holds'],
    ['about 3', 3.51, 'wrong'],
    ['about 3.0', 3.15, 'holds'],
    ['about 3.0', 3.16, 'wrong'],
  ],
  'nearly, just under in [n−10 %, n)': [
    ['nearly 1000 nits', 900, 'holds'],
    ['nearly 1000 nits', 899, 'wrong'],
    ['nearly 1000 nits', 999.9, 'holds'],
    ['nearly 1000 nits', 1000, 'wrong'],
    ['just under 60°', 59, 'holds'],
    ['just under 60°', 60.4, 'wrong'],
    ['just below 60°', 53, 'wrong'],
  ],
  'up to is equality': [
    ['up to 815 nits', 815.4, 'holds'],
    ['up to 900 nits', 815, 'wrong'],
    ['up to 800 nits', 815, 'wrong'],
  ],
  'Comparison words count only before the number': [
    ['505 nits, over the whole field', 505, 'holds'],
    ['505 nits, over the whole field', 600, 'wrong'],
    ['3 or under', 2.2, 'wrong'],
    ['2.9 above all', 2.9, 'holds'],
    // Nor do they reach over other words: what is far off says something else.
    ['over the whole screen 3.8', 4.5, 'wrong'],
    ['over the whole screen 3.8', 3.8, 'holds'],
  ],
  'direction words (too dark, too bright, cool, warm) carry the sign': [
    ['3 % too dark', -3.2, 'holds', SIGNED],
    ['3 % too dark', 3.2, 'wrong', SIGNED],
    ['3 % too bright', 3.2, 'holds', SIGNED],
    ['3 % too bright', -3.2, 'wrong', SIGNED],
    ['too dark by 0.12 stops', -0.12, 'holds', { unit: 'stops', axis: 'light' }],
    ['3 %', -3.2, 'wrong', SIGNED],
    ['−3 % too dark', -3.2, 'holds', SIGNED],
    ['−3 % too bright', -3.2, 'wrong', SIGNED],
    ['under 5 % too dark', -3.2, 'holds', SIGNED],
    ['under 5 % too dark', 2, 'wrong', SIGNED],
    ['over 5 % too dark', -3.2, 'wrong', SIGNED],
    ['over 2 % too dark', -3.2, 'holds', SIGNED],
    ['2 to 4 % too dark', -3.2, 'holds', SIGNED],
    ['2 to 4 % too bright', -3.2, 'wrong', SIGNED],
    ['a cool 6900 K', 6900, 'holds', { unit: 'K', centre: 6504 }],
    ['a warm 6900 K', 6900, 'wrong', { unit: 'K', centre: 6504 }],
    ['6210 K, too warm', 6210, 'holds', { unit: 'K', centre: 6504 }],
    ['6210 K, cool', 6210, 'wrong', { unit: 'K', centre: 6504 }],
  ],
  'Two numbers joined by and, to or a dash are a range': [
    ['2 to 3', 2.5, 'holds'],
    ['between 2 and 3', 3.4, 'holds'],
    ['2–3', 1.5, 'holds'],
    ['2-3', 1.4, 'wrong'],
    ['2 — 3', 3.6, 'wrong'],
    ['119 to 121 nits', 120.7, 'holds'],
    ['119 nits to 121 nits', 118.4, 'wrong'],
    ['345 to 347:1', 346, 'holds', CONTRAST],
    ['−0.2 to 0.3', 0, 'holds'],
    ['3 to 2', 2.5, 'holds'],
  ],
  'other multiple numbers, negations and a condition in the link are refused': [
    ['10 % window peaks at 505', 505, 'several'],
    ['505 nits on a 10 % window', 505, 'several'],
    ['2, 3 and 4', 3, 'several'],
    ['2 to 3 and 4', 3, 'several'],
    ['0.3127, 0.3290', 0.3127, 'several'],
    ['not 3', 4, 'negation'],
    ['no more than 3', 2, 'negation'],
    ["isn't over 3", 2, 'negation'],
    ['never above 3', 2, 'negation'],
    ['505 nits when warmed up', 505, 'condition'],
    ['2.9 unless tuned', 2.9, 'condition'],
    ['3 ± 1', 3, 'tolerance'],
  ],
  'nor what says another figure with the number of this one': [
    ['twice 1.5', 1.5, 'reckoning'],
    ['double the 815 nits', 815, 'reckoning'],
    ['a third of 1.5', 1.5, 'reckoning'],
    ['half of 815 nits', 815, 'reckoning'],
    ['1.5 times the limit', 1.5, 'reckoning'],
    ['815 nits less than the rival', 815, 'reckoning'],
    ['far from 815 nits', 815, 'negation'],
    ['short of 815 nits', 815, 'negation'],
    ['1.5e3', 1.5, 'unit'],
    ['815² nits', 815, 'unit'],
    ['815 mcd/m²', 815, 'unit'],
    // What is said of something else is no matter.
    ['half of the drop after 8 min', 8, 'holds', { unit: 'min' }],
    ['1043 times', 1043, 'holds', CONTRAST],
    ['815 nits, more than enough', 815, 'holds'],
    ['815 nits more than the rival', 815, 'reckoning'],
    ['more than 800 nits', 815, 'holds'],
    ['a third set at 815 nits', 815, 'holds'],
  ],
  'what compares twice, names two sides or another formula, or is said in a language without words here is refused': [
    ['under about 3', 2.9, 'comparison'],
    ['from under 2 to 3', 2.5, 'comparison'],
    ['3 % too dark here, too bright there', -3.2, 'sides', SIGNED],
    ['a ΔE 76 of 3', 3, 'name', { names: namesIn('ΔE 2000') }],
    ['moins de 3', 3, 'language', { language: 'fr' }],
    ['inte 3', 3, 'language', { language: 'sv' }],
  ],
  "1,000 is thousands and 2,9 a decimal comma only as the folder's language setting says": [
    ['1,000', 1000, 'holds'],
    ['1,000', 1, 'wrong'],
    ['1,000', 1, 'holds', { language: 'de' }],
    ['1,000', 1.001, 'wrong', { language: 'de' }],
    ['1.000', 1000, 'holds', { language: 'de' }],
    ['1.000', 1, 'holds'],
    ['2,9', 2.9, 'holds', { language: 'de' }],
    ['2,9', 2.9, 'notation'],
    ['2.9', 2.9, 'notation', { language: 'de' }],
    ['1.043,5', 1043.5, 'holds', { language: 'de' }],
    ['1,043.5', 1043.5, 'holds'],
    ['1,043.5', 1043.5, 'notation', { language: 'de' }],
    ['1\u202f043', 1043, 'holds', { language: 'fr' }],
    ['1\u00a0043', 1043, 'holds'],
    ['10,43', 1043, 'notation'],
    ['1043,500', 1043500, 'notation'],
  ],
  'Trailing zeros are digits': [
    ['1,000:1', 1043, 'wrong', CONTRAST],
    ['about 1,000:1', 1043, 'holds', CONTRAST],
    ['1,000:1', 1000.4, 'holds', CONTRAST],
    ['2.50', 2.54, 'wrong'],
    ['2.5', 2.54, 'holds'],
    ['800 nits', 815, 'wrong'],
  ],
};

describe.each(Object.entries(TABLE))('%s', (_, lines) => {
  for (const [text, value, status, rest] of lines) {
    it(`"${text}" of ${value} ${rest ? `${JSON.stringify(rest)} ` : ''}is ${status}`, () => {
      expect(statusOf(text, value, rest)).toBe(status);
    });
  }
});

describe('the table', () => {
  it('has at least 80 lines, and every status', () => {
    const lines = Object.values(TABLE).flat();
    expect(lines.length).toBeGreaterThanOrEqual(80);
    expect(new Set(lines.map(([, , status]) => status)).size).toBe(15);
  });
});
