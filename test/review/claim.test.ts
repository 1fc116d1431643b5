import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { claimsOf, readClaim } from '../../src/review/claim';
import { held, type Known, reach } from '../../src/review/match';
import { ENGLISH, notationOf } from '../../src/review/notation';
import { unlinkedFigures } from '../../src/review/prose';
import { rewritten, softened } from '../../src/review/rewrite';
import { scaleBetween, unitAt } from '../../src/review/units';
import { Written } from '../../src/review/written';

const number = (text: string, unit?: string) => {
  const claim = readClaim(text, unit === undefined ? {} : { unit });
  return claim.is === 'number' ? claim.number : undefined;
};

describe('a number in a claim', () => {
  it('has its digits, its whole and its unit in their places', () => {
    const text = 'about −1,043.50 cd/m² of it';
    const { digits, whole, ...rest } = number(text)!;
    expect([text.slice(...digits), text.slice(...whole)]).toEqual(['1,043.50', '−1,043.50 cd/m²']);
    expect(rest).toEqual({ value: -1043.5, half: 0.005, sign: '−', decimals: 2, group: ',', times: 1, unit: 'cd/m²' });
  });

  it.each([
    ['1.2 million:1', 1.2e6, 5e4, ':1'],
    ['40k:1', 4e4, 500, ':1'],
    ['3 thousand', 3000, 500, ''],
    ['.5', 0.5, 0.05, ''],
    ['+2 %', 2, 0.5, '%'],
    ['5 minutes', 5, 0.5, 'min'],
    ['60°', 60, 0.5, '°'],
    ['505nits', 505, 0.5, 'nits'],
    ['(2.9)', 2.9, 0.05, ''],
    ['“2.9”', 2.9, 0.05, ''],
  ])('%s', (text, value, half, unit) => {
    expect(number(text)).toMatchObject({ value, unit });
    expect(number(text)!.half).toBeCloseTo(half, 9);
  });

  it('is over one in words, where a contrast is meant', () => {
    expect(number('1,043 to 1', ':1')).toMatchObject({ value: 1043, unit: ':1' });
    expect(number('1,043 to one', ':1')).toMatchObject({ value: 1043, unit: ':1' });
    expect(readClaim('1043 to 1').is).toBe('range');
  });

  it.each(['Δu′v′ of 0.004', "Δu'v' 0.004", 'Duv 0.004', 'ΔE ITP 0.004', 'dE 0.004', 'u′v′: 0.004'])(
    'is found behind the name of a figure: %s',
    (text) => {
      expect(number(text)?.value).toBe(0.004);
    },
  );

  it.each([
    '2160p',
    '1st',
    'the 10th',
    '4K',
    'HDR10',
    'CTA-861',
    '16:9',
    '4:2:0',
    '2.14.8',
    '2026-03-14',
    '10-bit',
    '20-point',
    'Rec. 709',
    'CIE 1931',
    'ST 2084',
    'm2',
  ])('is none in the name %s', (name) => {
    expect(readClaim(`it is ${name} here`).is).toBe('none');
    expect(number(`2.9 with ${name} here`)?.value).toBe(2.9);
  });

  it('is not made of properties that every object has', () => {
    for (const word of ['constructor', '__proto__', 'toString'])
      expect(readClaim(`${word} 3`)).toMatchObject({ is: 'number', relation: 'equal' });
  });
});

describe('a unit', () => {
  it('stands behind a number, with a blank or without, and ends where its word does', () => {
    expect(unitAt('5 cd/m²', 1)).toEqual({ unit: 'cd/m²', end: 7 });
    expect(unitAt('5%', 1)).toEqual({ unit: '%', end: 2 });
    expect(unitAt('5 per cent', 1)).toEqual({ unit: '%', end: 10 });
    expect(unitAt('5 means', 1)).toBeUndefined();
    expect(unitAt('5:15', 1)).toBeUndefined();
  });

  it('scales to another of its kind', () => {
    expect(scaleBetween('min', 's')).toBe(60);
    expect(scaleBetween('%', '')).toBe(0.01);
    expect(scaleBetween('%', '%')).toBe(1);
    expect(scaleBetween('K', 's')).toBeNaN();
    expect(scaleBetween('', 's')).toBe(1);
    // One footlambert is 3.4262591 cd/m² (NIST SP 811, appendix B.8).
    expect(scaleBetween('fL', 'cd/m²')).toBeCloseTo(3.426259, 6);
  });
});

describe('a notation', () => {
  it.each([
    ['en', '.', ','],
    ['de', ',', '.'],
    ['fr', ',', '\u202f'],
  ])('of %s is that of its language', (language, decimal, group) => {
    // Unicode CLDR, number symbols.
    expect(notationOf(language)).toMatchObject({ decimal, group });
  });

  it('with an apostrophe takes either', () => {
    for (const text of ["1'043.5", '1’043.5'])
      expect(readClaim(text, {}, notationOf('de-CH'))).toMatchObject({ is: 'number', number: { value: 1043.5 } });
    expect(readClaim("1'043").is).toBe('unclear');
  });
});

const PIECES = [
  '505',
  '2.45',
  '1,000',
  '.5',
  ' ',
  ' ',
  'nits',
  '%',
  ':1',
  ' to ',
  ' and ',
  '–',
  '−',
  '-',
  'under ',
  'over ',
  'about ',
  'at most ',
  'nearly ',
  'too dark',
  'cool',
  'not ',
  'if ',
  'ΔE',
  '2000',
  'BT.',
  '±',
  '\u202f',
  '(',
  ',',
  '.',
  'k',
  'million',
  '\u{1F4CF}',
  'constructor',
];
const text = fc.array(fc.constantFrom(...PIECES), { maxLength: 14 }).map((pieces) => pieces.join(''));
const written = (of: string): Written => {
  const label = new Written();
  label.add(of, [0, of.length], true);
  return label;
};

describe('any text', () => {
  it('is read as a claim, with places within it', () => {
    fc.assert(
      fc.property(text, fc.constantFrom('', '%', ':1', 'cd/m²', 'K'), fc.constantFrom('en', 'de', 'fr'), (of, unit, language) => {
        const claim = readClaim(of, { unit }, notationOf(language));
        const spans =
          claim.is === 'number'
            ? [claim.number.whole, claim.number.digits]
            : claim.is === 'range'
              ? [claim.from.whole, claim.to.whole]
              : claim.is === 'unclear'
                ? claim.parts.flatMap(({ whole, digits }) => [whole, digits])
                : claim.is === 'notation'
                  ? [claim.span]
                  : [];
        for (const [start, end] of spans) {
          expect(start).toBeLessThan(end);
          expect(start).toBeGreaterThanOrEqual(0);
          expect(end).toBeLessThanOrEqual(of.length);
        }
        for (const { part } of unlinkedFigures(of, notationOf(language))) expect(of.slice(...part)).toMatch(/\d/);
      }),
      { seed: 20260314, numRuns: 3000 },
    );
  });

  it('is read once for the figures of all units, and once for contrasts, as for each of them', () => {
    const many = fc.array(fc.constantFrom('', '%', ':1', 'cd/m²', 'K'), { minLength: 2, maxLength: 5 });
    fc.assert(
      fc.property(text, many, fc.constantFrom('en', 'de', 'fr'), (of, units, language) => {
        const claimOf = claimsOf(of, notationOf(language));
        for (const unit of units) expect(claimOf({ unit })).toEqual(readClaim(of, { unit }, notationOf(language)));
      }),
      { seed: 20260314, numRuns: 1000 },
    );
    const claimOf = claimsOf('5,000 to 1', ENGLISH);
    expect(claimOf({ unit: '%' })).toBe(claimOf({ unit: 'K' }));
    expect([claimOf({ unit: ':1' }).is, claimOf({ unit: 'K' }).is]).toEqual(['number', 'range']);
  });

  it('that claims a number can be rewritten, and then holds and claims in the same way', () => {
    let count = 0;
    fc.assert(
      fc.property(
        text,
        fc.double({ min: -2000, max: 2000, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        fc.boolean(),
        (of, v, wide, isSigned) => {
          const known: Known = { v, unit: '', interval: [v - wide, v + wide], ...(isSigned ? { axis: 'light' } : {}) };
          const claim = readClaim(of, known, ENGLISH);
          if (claim.is !== 'number' && claim.is !== 'range') return;
          for (const better of [rewritten(written(of), claim, known, ENGLISH), softened(written(of), claim, known, ENGLISH)]) {
            if (!better) continue;
            count++;
            const again = readClaim(better.text, known, ENGLISH);
            if (again.is !== 'number' && again.is !== 'range') throw new Error(`"${of}" became "${better.text}"`);
            expect(held(again, known)).toBe('holds');
            expect(again.is).toBe(claim.is);
            if (again.is === 'number' && claim.is === 'number') expect(again.number.decimals).toBe(claim.number.decimals);
          }
        },
      ),
      { seed: 20260314, numRuns: 3000 },
    );
    expect(count).toBeGreaterThan(200);
  });

  it('that a figure supports reaches that figure', () => {
    fc.assert(
      fc.property(text, fc.double({ min: -1000, max: 1000, noNaN: true }), (of, v) => {
        const claim = readClaim(of, { unit: '' }, ENGLISH);
        if (claim.is !== 'range' && (claim.is !== 'number' || claim.relation !== 'equal')) return;
        if (held(claim, { v, unit: '' }) !== 'holds') return;
        const [low, high] = reach(claim, { unit: '' });
        expect(v).toBeGreaterThanOrEqual(low - 1e-6);
        expect(v).toBeLessThanOrEqual(high + 1e-6);
      }),
      { seed: 20260314, numRuns: 3000 },
    );
  });
});
