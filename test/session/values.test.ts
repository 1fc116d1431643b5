import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDate, readValue, type TypedValue } from '../../src/session/values';
import { type Dimension, UNITS, type ValueType } from '../../src/session/valueTypes';
import { blockSpec, KEYWORDS, RUN_KINDS } from '../../src/session/vocabulary';
import { fill, worded } from '../../src/text/message';

const asText = ({ is, ...rest }: ValueType): string =>
  [is, ...Object.values(rest as Record<string, string | readonly string[]>).map((v) => (typeof v === 'string' ? v : v.join(' | ')))].join(
    ' ',
  );

const SPACES = 'bt709 | srgb | p3-d65 | p3-dci | bt2020 | bt601-525 | bt601-625';

/** All properties but those of runs, with their types; `…` is what a name of the user's own takes. */
const TYPES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  session: {
    title: 'text',
    by: 'text',
    room: 'quantities illuminance | temperature',
    'warm-up': 'quantity duration',
    review: 'path',
    continues: 'path',
    note: 'text',
  },
  display: {
    maker: 'text',
    size: 'quantity length',
    panel: 'text',
    resolution: 'text',
    firmware: 'text',
    serial: 'text',
    unit: 'text',
    hours: 'quantity hours h',
    price: 'quantity money',
    note: 'text',
  },
  meter: {
    kind: 'choice colorimeter | spectroradiometer | luminance meter | camera | light sensor | power meter',
    serial: 'text',
    checked: 'date',
    floor: 'quantity luminance cd/m2',
    spread: 'quantities chromaticity | percent',
    accuracy: 'quantities chromaticity | percent',
    'dark-offset': 'quantity luminance cd/m2',
    contact: 'choice on screen | off screen',
    distance: 'quantity length',
    spot: 'quantity angle',
    note: 'text',
  },
  correction: { meter: 'id meter', reference: 'id meter', mode: 'id mode', spectra: 'id spectrum', note: 'text' },
  signal: {
    range: 'choice limited | full',
    depth: 'quantity bits bit',
    chroma: 'choice RGB | 4:4:4 | 4:2:2 | 4:2:0',
    container: `choice ${SPACES}`,
    refresh: 'quantity frequency Hz',
    window: 'quantity percent %',
    surround: 'quantity percent %',
    'mastering-peak': 'quantity luminance cd/m2',
    'max-cll': 'quantity luminance cd/m2',
    'max-fall': 'quantity luminance cd/m2',
    note: 'text',
  },
  mode: { '.input': 'text', '.scope': 'scope', '.preset': 'text', '.automatic': 'switches', '.note': 'text', '…': 'text' },
  target: {
    space: `choice ${SPACES}`,
    curve: 'curve',
    white: 'white',
    luminance: 'quantity luminance cd/m2',
    'roll-off': 'choice none | eetf',
    note: 'text',
  },
  limits: { '…': 'limit' },
  observations: {
    '.mode': 'id mode',
    '.signal': 'id signal',
    '.distance': 'quantity length',
    '.room': 'quantities illuminance | temperature',
    '…': 'rating',
  },
};

const RUN: Readonly<Record<string, string>> = {
  mode: 'id mode',
  target: 'id target',
  meter: 'id meter',
  signal: 'id signal',
  firmware: 'text',
  taken: 'date',
  stimulus: 'quantity percent %',
  order: 'text',
  repeat: 'choice adjacent | all',
  drift: 'choice report | correct',
  settle: 'quantity duration',
  window: 'quantity percent %',
  level: 'quantity percent %',
  distance: 'quantity length',
  note: 'text',
};

describe('the vocabulary', () => {
  it.each(KEYWORDS)('types every property of %s', (keyword) => {
    const spec = blockSpec(keyword)!;
    const listed = Object.fromEntries(Object.entries(spec.properties).map(([name, { type }]) => [name, asText(type)]));
    if (spec.userNames) listed['…'] = asText(spec.userNames);
    const run = keyword === 'tuning' ? { ...RUN, control: 'control' } : RUN;
    expect(listed).toEqual(RUN_KINDS.includes(keyword) ? run : TYPES[keyword]);
  });
  it('knows the kinds of run of the format', () => {
    expect(RUN_KINDS).toEqual(
      'greyscale saturation patches gamut window tracking contrast uniformity endurance angles volume spectrum lag power repeats reflectance tuning'.split(
        ' ',
      ),
    );
  });
  it('says of every property and block what it is', () => {
    for (const keyword of KEYWORDS) {
      expect(blockSpec(keyword)!.about, keyword).not.toBe('');
      for (const [name, { about }] of Object.entries(blockSpec(keyword)!.properties)) expect(about, `${keyword} ${name}`).toMatch(/\w/);
    }
  });
  it('has example columns that each run takes, with all that it needs', () => {
    for (const keyword of KEYWORDS) {
      const table = blockSpec(keyword)!.table;
      if (!table) continue;
      const names = [...table.example.matchAll(/"[^"]*"|[^ ]+/g)].map(([name]) => name.replace(/\[.*$/, ''));
      for (const any of table.needs)
        expect(
          any.some((name) => names.includes(name)),
          `${keyword} needs ${any}`,
        ).toBe(true);
      for (const name of names) expect(table.free !== undefined || Object.hasOwn(table.columns, name), `${keyword} ${name}`).toBe(true);
    }
  });
});

interface Samples {
  readonly type: ValueType;
  /** Values and what they are read as. */
  readonly takes: readonly (readonly [string, unknown])[];
  /** Values refused, and the mend proposed, if any. */
  readonly refuses: readonly (readonly [string, string?])[];
}

/** A missing type does not compile. */
const SAMPLES: Readonly<Record<ValueType['is'], Samples>> = {
  text: { type: { is: 'text' }, takes: [[' anything: 1,5 # at all ', { text: 'anything: 1,5 # at all' }]], refuses: [] },
  id: { type: { is: 'id', of: 'mode' }, takes: [['cinema', { text: 'cinema' }]], refuses: [] },
  path: {
    type: { is: 'path' },
    takes: [['reviews/aurora 55.md', { text: 'reviews/aurora 55.md' }]],
    refuses: [['reviews\\aurora.md', 'reviews/aurora.md']],
  },
  choice: {
    type: { is: 'choice', of: ['limited', 'full'] },
    takes: [['limited', { text: 'limited' }]],
    refuses: [['Limited', 'limited'], ['video'], [''], ['limited full']],
  },
  date: {
    type: { is: 'date' },
    takes: [
      ['2026-03-14', { date: { text: '2026-03-14', day: 20526 } }],
      ['2024-02-29 23:59', { date: { text: '2024-02-29 23:59', day: 19782 } }],
    ],
    refuses: [
      ['2026-3-14'],
      ['14.03.2026'],
      ['2026-02-29'],
      ['1900-02-29'],
      ['2026-13-01'],
      ['2026-00-01'],
      ['2026-01-00'],
      ['2026-04-31'],
      ['2026-03-14 24:00'],
      ['2026-03-14 12:60'],
      ['2026-03-14T12:00'],
    ],
  },
  quantity: {
    type: { is: 'quantity', dimension: 'luminance', bare: 'cd/m2' },
    takes: [
      ['120', { quantity: { dimension: 'luminance', value: 120, unit: 'cd/m2', note: '' } }],
      ['120 cd/m²', { quantity: { dimension: 'luminance', value: 120, unit: 'cd/m²', note: '' } }],
      ['1e2nits', { quantity: { dimension: 'luminance', value: 100, unit: 'nits', note: '' } }],
    ],
    refuses: [['0,5 cd/m2', '0.5 cd/m2'], ['120 cd'], ['120 cd/m2 or so'], ['bright'], [''], ['-'], ['120 lx'], ['120 toString']],
  },
  quantities: {
    type: { is: 'quantities', dimensions: ['illuminance', 'temperature'] },
    takes: [
      [
        '0.02 lx at the screen, 21 °C, curtains drawn',
        {
          list: [
            { dimension: 'illuminance', value: 0.02, unit: 'lx', note: 'at the screen' },
            { dimension: 'temperature', value: 21, unit: '°C', note: '' },
          ],
        },
      ],
    ],
    refuses: [['dark'], ['0,02 lx, 21 °C', '0.02 lx, 21 °C'], ['0.02 lx, 21 K'], ['0,02 lx, 21 K'], ['0.02']],
  },
  switches: {
    type: { is: 'switches' },
    takes: [
      [
        'ambient sensor off, dynamic contrast  on',
        {
          list: [
            { name: 'ambient sensor', on: false },
            { name: 'dynamic contrast', on: true },
          ],
        },
      ],
    ],
    refuses: [['off'], ['ambient sensor'], ['ambient sensor Off'], ['ambient sensor off,'], ['']],
  },
  scope: { type: { is: 'scope' }, takes: [['HDMI #2, HDR, 60 Hz', { list: ['HDMI #2', 'HDR', '60 Hz'] }]], refuses: [] },
  curve: {
    type: { is: 'curve' },
    takes: [
      ['power 2.4', { curve: { kind: 'power', exponent: 2.4, overBlack: false } }],
      ['power  2.2 over black', { curve: { kind: 'power', exponent: 2.2, overBlack: true } }],
      ['bt1886', { curve: { kind: 'bt1886' } }],
      ['srgb', { curve: { kind: 'srgb' } }],
      ['pq', { curve: { kind: 'pq' } }],
      ['hlg', { curve: { kind: 'hlg' } }],
    ],
    refuses: [
      ['2.4', 'power 2.4'],
      ['2,4'],
      ['BT.1886', 'bt1886'],
      ['PQ', 'pq'],
      ['power'],
      ['power 0.4'],
      ['power 24'],
      ['power 2.4 over'],
      ['power 2,4', 'power 2.4'],
      ['power 2.4x'],
      [''],
    ],
  },
  white: {
    type: { is: 'white' },
    takes: [
      ['d65', { white: { id: 'd65' } }],
      ['0.3127 0.3290', { white: { xy: [0.3127, 0.329] } }],
    ],
    refuses: [
      ['D65', 'd65'],
      ['6500 K'],
      ['0.3127'],
      ['0.7 0.4'],
      ['0 0.3'],
      ['0,3127 0,3290', '0.3127 0.3290'],
      ['0.3127x 0.3290y'],
      [''],
    ],
  },
  limit: {
    type: { is: 'limit' },
    takes: [
      ['aim 1, limit 3', { aim: { high: 1 }, limit: { high: 3 } }],
      ['limit -5..5', { limit: { low: -5, high: 5 } }],
      ['aim ±0.002', { aim: { high: 0.002 } }],
    ],
    refuses: [['3'], ['aim 1 limit 3'], ['limit 5..-5'], ['aim 1, aim 2'], ['aim 1,5, limit 3', 'aim 1.5, limit 3'], ['aim'], ['']],
  },
  rating: {
    type: { is: 'rating' },
    takes: [
      ['slight, one clip only', { rating: 'slight', note: 'one clip only' }],
      ['not applicable', { rating: 'not applicable', note: '' }],
    ],
    refuses: [['Slight'], ['a little'], ['slight one clip'], ['']],
  },
  control: {
    type: { is: 'control' },
    takes: [
      ['"Gain red" -50..50 step 1', { name: 'Gain red', low: -50, high: 50, step: 1 }],
      ['"A \\"b\\"" 0..1 step 0.05', { name: 'A "b"', low: 0, high: 1, step: 0.05 }],
      ['"Ge\u0301n" 0..1 step 1', { name: 'G\u00e9n', low: 0, high: 1, step: 1 }],
    ],
    refuses: [
      ['Gain red -50..50 step 1'],
      ['"" 0..1 step 1'],
      ['"G" 0..1'],
      ['"G" 1..1 step 1'],
      ['"G" 0..1 step 0'],
      ['"G" 0..1 step 1 x'],
      ['"G'],
      ['"G" 0..1,5 step 1', '"G" 0..1.5 step 1'],
    ],
  },
};

describe.each(Object.entries(SAMPLES))('a value of type %s', (is, { type, takes, refuses }) => {
  it.each(takes)('takes %j', (text, value) => {
    expect(readValue(type, text)).toEqual({ ok: true, value: { is: (value as TypedValue).is ?? resultOf(is), ...(value as object) } });
  });
  if (refuses.length > 0) {
    it.each(refuses.map(([text, mended]) => ({ text, mended })))('refuses $text', ({ text, mended }) => {
      const reading = readValue(type, text);
      expect(reading).toMatchObject({ ok: false });
      expect(reading.ok ? '' : worded(reading.expected, fill)).toMatch(/\w/);
      expect('mended' in reading ? reading.mended : undefined).toBe(mended);
      if (mended !== undefined) expect(readValue(type, mended)).toMatchObject({ ok: true });
    });
  }
});

/** What a type's values are read as, where that is called otherwise than the type. */
function resultOf(is: string): string {
  if (is === 'id' || is === 'path' || is === 'choice') return 'text';
  return is === 'scope' ? 'list' : is;
}

/** One value of each dimension, in its base unit. A missing dimension does not compile. */
const DIMENSIONS: Readonly<Record<Dimension, readonly [string, number, refused: string]>> = {
  luminance: ['1 fL', 3.4262590996353905, '1 lx'],
  illuminance: ['0.02 lux', 0.02, '0.02 cd/m2'],
  temperature: ['21 °C', 21, '21 K'],
  duration: ['45 min', 2700, '45 minutes'],
  length: ['55 in', 1.397, '55"'],
  angle: ['2 deg', 2, '2 rad'],
  frequency: ['50 Hz', 50, '50 fps'],
  percent: ['10%', 10, '10 pc'],
  chromaticity: ["0.0004 u'v'", 0.0004, '0.0004 uv'],
  bits: ['10 bit', 10, '10 bytes'],
  hours: ['61 h', 61, '61 d'],
  money: ['1899 GBP', 1899, '1899 pounds'],
  power: ['120 W', 120, '120 kW'],
};

describe.each(Object.entries(DIMENSIONS))('a quantity of %s', (dimension, [text, value, refused]) => {
  const type: ValueType = { is: 'quantity', dimension: dimension as Dimension };
  it(`takes ${text}, and a unit of no other kind`, () => {
    const reading = readValue(type, text);
    expect(reading).toMatchObject({ ok: true, value: { quantity: { dimension } } });
    if (reading.ok && reading.value.is === 'quantity') expect(reading.value.quantity.value).toBeCloseTo(value, 12);
    expect(readValue(type, refused)).toMatchObject({ ok: false });
    expect(readValue(type, '5')).toMatchObject({ ok: false });
  });
});

describe('units', () => {
  it('have factors above 0, the first of each dimension being 1', () => {
    for (const units of Object.values(UNITS)) {
      const factors = Object.values(units);
      expect(factors.every((f) => f > 0)).toBe(true);
      expect(factors[0] ?? 1).toBe(1);
    }
  });
});

describe('dates', () => {
  it('count days as the calendar does', () => {
    fc.assert(
      fc.property(fc.integer({ min: -700_000, max: 2_900_000 }), (day) => {
        const text = new Date(day * 86_400_000).toISOString();
        // Years outside 0000 … 9999 have no four digits.
        if (!/^\d{4}-/.test(text)) return;
        expect(readDate(text.slice(0, 10))).toEqual({ text: text.slice(0, 10), day });
      }),
      { seed: 20260314, numRuns: 2000 },
    );
  });
});

describe('any text as any type', () => {
  it('is read or refused, and what a refusal proposes is read', () => {
    const types = fc.constantFrom(...Object.values(SAMPLES).map((s) => s.type));
    const text = fc.array(
      fc.oneof(
        fc.string({ unit: 'binary', maxLength: 3 }),
        fc.constantFrom(
          'power',
          'aim',
          'limit',
          'step',
          '"',
          '..',
          ',',
          ', ',
          '1',
          '2.4',
          '-',
          '±',
          ' ',
          'over black',
          'cd/m2',
          '%',
          'on',
          'off',
          'd65',
        ),
      ),
      { maxLength: 8 },
    );
    fc.assert(
      fc.property(
        types,
        text.map((parts) => parts.join(' '.repeat(parts.length % 2))),
        (type, raw) => {
          const reading = readValue(type, raw);
          if (!reading.ok && reading.mended !== undefined) expect(readValue(type, reading.mended)).toMatchObject({ ok: true });
        },
      ),
      { seed: 20260314, numRuns: 3000 },
    );
  });
});
