/**
 * The types a property's value can have. `plain` texts are the user's own words; all others are read, and a value that its type cannot
 * take is a finding.
 */
export type ValueType =
  | { readonly is: 'text' }
  | { readonly is: 'choice'; readonly of: readonly string[] }
  | { readonly is: 'date' }
  | { readonly is: 'path' }
  /** One number with a unit of this dimension; the unit may be left out where `bare` says which is meant. */
  | { readonly is: 'quantity'; readonly dimension: Dimension; readonly bare?: string }
  /** Several quantities of these dimensions, separated by ", ", each with free words behind. */
  | { readonly is: 'quantities'; readonly dimensions: readonly Dimension[] }
  | { readonly is: 'id'; readonly of: 'mode' | 'target' | 'meter' | 'signal' | 'spectrum' }
  | { readonly is: 'switches' }
  | { readonly is: 'scope' }
  | { readonly is: 'curve' }
  | { readonly is: 'white' }
  | { readonly is: 'limit' }
  | { readonly is: 'rating' }
  | { readonly is: 'control' };

export type Dimension =
  | 'luminance'
  | 'illuminance'
  | 'temperature'
  | 'duration'
  | 'length'
  | 'angle'
  | 'frequency'
  | 'percent'
  | 'chromaticity'
  | 'bits'
  | 'hours'
  | 'money'
  | 'power';

/** Units by dimension, and what one of them is in the dimension's first unit. */
export const UNITS: Readonly<Record<Dimension, Readonly<Record<string, number>>>> = {
  // 1 fL = 1/π cd/ft²; 1 ft = 0.3048 m exactly.
  luminance: { 'cd/m2': 1, 'cd/m²': 1, nit: 1, nits: 1, fL: 1 / (Math.PI * 0.3048 ** 2) },
  illuminance: { lx: 1, lux: 1 },
  temperature: { '°C': 1, C: 1 },
  duration: { s: 1, ms: 0.001, min: 60, h: 3600 },
  length: { m: 1, cm: 0.01, mm: 0.001, in: 0.0254 },
  angle: { '°': 1, deg: 1 },
  frequency: { Hz: 1 },
  percent: { '%': 1 },
  chromaticity: { xy: 1, "u'v'": 1 },
  bits: { bit: 1, bits: 1 },
  hours: { h: 1 },
  money: {},
  power: { W: 1 },
};
