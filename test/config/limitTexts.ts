import fc from 'fast-check';

const number = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).map(String),
  fc.integer({ min: -20, max: 20 }).map(String),
  fc.constantFrom('1.', '.5', '+2', '\u22123', '1e3', '1e\u22123', '1e', '-', '1,5', '1e999', ''),
);
const bound = fc.oneof(
  number,
  number.map((n) => `±${n}`),
  fc.tuple(number, number).map(([a, b]) => `${a}..${b}`),
);
const blank = fc.oneof({ weight: 5, arbitrary: fc.constant(' ') }, fc.constantFrom('  ', '\t', '\u00A0', '\u3000', ''));
const item = fc
  .tuple(fc.constantFrom('aim', 'limit', 'Limit'), blank, bound, fc.constantFrom('', '', ' '))
  .map(([word, between, value, after]) => word + between + value + after);

/** Texts like limits, most of them readable. */
export const limitText = fc.array(item, { minLength: 1, maxLength: 3 }).map((items) => items.join(', '));
