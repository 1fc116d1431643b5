import type { Dimension, ValueType } from './valueTypes';

/** One property of a kind of block. This table is what completion, hovers, findings and the format's reference are made from. */
export interface PropertySpec {
  readonly type: ValueType;
  readonly about: string;
  /** May be written several times in a block. */
  readonly many?: true;
}

/** What the names in a block are: the format's own, or the user's (then the format's own start with a point). */
export type NameOwner = 'format' | 'user';

export interface BlockSpec {
  readonly about: string;
  readonly names: NameOwner;
  /** Whether other blocks refer to it by id: `required`, `optional` (called by its keyword without one), `date` for the session. */
  readonly id: 'required' | 'optional' | 'date' | 'none';
  readonly link?: 'from' | 'like';
  readonly properties: Readonly<Record<string, PropertySpec>>;
  /** What a name of the user's own takes. */
  readonly userNames?: ValueType;
  readonly table?: TableSpec;
}

/** The columns of a run (or of a correction). */
export interface TableSpec {
  /** Columns that say which patch a row is: rows with the same key are readings of the same patch. */
  readonly keys: readonly string[];
  /** Columns without which nothing is computed; an inner list means one of. */
  readonly needs: readonly (readonly string[])[];
  /** All columns the run reads. Quoted columns are free where `free` says so. */
  readonly columns: Readonly<Record<string, ColumnSpec>>;
  readonly free?: string;
  readonly example: string;
}

export type ColumnSpec =
  | { readonly holds: 'word' }
  /** A drive: per cent without a unit, a code with one such as [8bit]. */
  | { readonly holds: 'drive' }
  | { readonly holds: 'quantity'; readonly dimension: Dimension; readonly unit: string }
  | { readonly holds: 'number' };

const text: ValueType = { is: 'text' };
const date: ValueType = { is: 'date' };
const quantity = (dimension: Dimension, bare?: string): ValueType =>
  bare === undefined ? { is: 'quantity', dimension } : { is: 'quantity', dimension, bare };
const idOf = (keyword: 'mode' | 'target' | 'meter' | 'signal' | 'spectrum'): ValueType => ({ is: 'id', of: keyword });
const choice = (...of: string[]): ValueType => ({ is: 'choice', of });
const p = (type: ValueType, about: string): PropertySpec => ({ type, about });

export const SPACE_IDS = ['bt709', 'srgb', 'p3-d65', 'p3-dci', 'bt2020', 'bt601-525', 'bt601-625'] as const;
export const RATINGS = ['none', 'slight', 'clear', 'strong', 'pass', 'fail', 'not applicable'] as const;
export const AUTOMATIC = ['ambient sensor', 'energy saving', 'dynamic contrast', 'dynamic tone mapping'] as const;

const drive: ColumnSpec = { holds: 'drive' };
const word: ColumnSpec = { holds: 'word' };
const plain: ColumnSpec = { holds: 'number' };
const measured = (dimension: Dimension, unit: string): ColumnSpec => ({ holds: 'quantity', dimension, unit });
const luminance = measured('luminance', 'cd/m2');
/** How a reading is written in any run: `Y x y`, `X Y Z`, `Y u' v'`, or `Y` alone, with a time where it matters. */
export const READING_COLUMNS = {
  Y: luminance,
  x: plain,
  y: plain,
  X: luminance,
  Z: luminance,
  "u'": plain,
  "v'": plain,
  t: measured('duration', 's'),
} as const;
const READING = [['Y']] as const;
const COLOUR = [['Y'], ['x', 'X', "u'"]] as const;

const runProperties: Readonly<Record<string, PropertySpec>> = {
  mode: p(idOf('mode'), 'the mode the readings were taken in'),
  target: p(idOf('target'), 'what the readings are judged against'),
  meter: p(idOf('meter'), 'the meter that took them'),
  signal: p(idOf('signal'), 'the signal that was sent'),
  firmware: p(text, "the firmware, where it differs from the display's"),
  taken: p(date, "when, where it differs from the session's date"),
  stimulus: p(quantity('percent', '%'), 'signal level of the largest channel'),
  order: p(text, 'the order in which the patches were shown, where it is not that of the rows'),
  repeat: p(choice('adjacent', 'all'), 'which rows with the same key are repeats: adjacent ones (default), or all'),
  drift: p(choice('report', 'correct'), 'whether the drift of a repeated white is only reported (default) or corrected'),
  settle: p(quantity('duration'), 'how long each patch was shown before its reading'),
  window: p(quantity('percent', '%'), "size of the patch, where it differs from the signal's"),
  level: p(quantity('percent', '%'), 'signal level at which a run that varies something else was taken'),
  distance: p(quantity('length'), 'from the meter to the screen'),
  note: p(text, 'a remark'),
};

const run = (about: string, table: TableSpec): BlockSpec => ({
  about,
  names: 'format',
  id: 'optional',
  link: 'like',
  properties: runProperties,
  table,
});

export const BLOCKS = {
  session: {
    about: 'the bench day: when, who, in which room',
    names: 'format',
    id: 'date',
    properties: {
      title: p(text, 'what the day was for'),
      by: p(text, 'who took the readings'),
      room: p({ is: 'quantities', dimensions: ['illuminance', 'temperature'] }, 'light at the screen and temperature'),
      'warm-up': p(quantity('duration'), 'how long the display ran before the first reading'),
      review: p({ is: 'path' }, 'the Markdown file that quotes this session'),
      continues: p({ is: 'path' }, 'the session that this one goes on from'),
      note: p(text, 'a remark'),
    },
  },
  display: {
    about: 'the display on the bench; one a file',
    names: 'format',
    id: 'optional',
    properties: {
      maker: p(text, 'who makes it'),
      size: p(quantity('length'), 'diagonal'),
      panel: p(text, 'kind of panel'),
      resolution: p(text, 'pixels across and down'),
      firmware: p(text, 'the firmware the readings were taken under'),
      serial: p(text, 'serial number'),
      unit: p(text, 'how it was obtained: retail, sample, loan'),
      hours: p(quantity('hours', 'h'), 'hours of use before the session'),
      price: p(quantity('money'), 'price, with the currency'),
      note: p(text, 'a remark'),
    },
  },
  meter: {
    about: 'an instrument and what it can show',
    names: 'format',
    id: 'required',
    properties: {
      kind: p(choice('colorimeter', 'spectroradiometer', 'luminance meter', 'camera', 'light sensor', 'power meter'), 'kind of instrument'),
      serial: p(text, 'serial number'),
      checked: p(date, 'date of its last calibration or check'),
      floor: p(quantity('luminance', 'cd/m2'), 'the lowest luminance it can tell from dark'),
      spread: p({ is: 'quantities', dimensions: ['chromaticity', 'percent'] }, 'repeatability of xy and of Y, as one standard deviation'),
      accuracy: p(
        { is: 'quantities', dimensions: ['chromaticity', 'percent'] },
        'what all its readings may share, as an expanded uncertainty (k = 2)',
      ),
      'dark-offset': p(quantity('luminance', 'cd/m2'), 'its reading in the dark'),
      contact: p(choice('on screen', 'off screen'), 'whether it touches the screen'),
      distance: p(quantity('length'), 'from its lens to the screen'),
      spot: p(quantity('angle'), 'acceptance angle'),
      note: p(text, 'a remark'),
    },
  },
  correction: {
    about: 'paired readings from which the correction matrix of a meter is computed',
    names: 'format',
    id: 'optional',
    properties: {
      meter: p(idOf('meter'), 'the meter to correct'),
      reference: p(idOf('meter'), 'the meter it is compared with'),
      mode: p(idOf('mode'), 'the mode it holds for; else for all modes'),
      spectra: p(idOf('spectrum'), 'the spectrum run whose columns are the reference, by the names of the patches'),
      note: p(text, 'a remark'),
    },
    table: {
      keys: ['patch'],
      needs: [['patch'], ['Y'], ['x'], ['y']],
      columns: { patch: word, 'ref.Y': luminance, 'ref.x': plain, 'ref.y': plain, Y: luminance, x: plain, y: plain },
      example: 'patch ref.Y ref.x ref.y Y x y',
    },
  },
  signal: {
    about: 'what was sent to the display',
    names: 'format',
    id: 'required',
    link: 'from',
    properties: {
      range: p(choice('limited', 'full'), 'quantisation range (BT.709, BT.2100)'),
      depth: p(quantity('bits', 'bit'), 'bits a channel'),
      chroma: p(choice('RGB', '4:4:4', '4:2:2', '4:2:0'), 'RGB, or the chroma sampling'),
      container: p(choice(...SPACE_IDS), 'primaries that the code values are in'),
      refresh: p(quantity('frequency', 'Hz'), 'frame rate'),
      window: p(quantity('percent', '%'), 'size of the patches, as share of the screen area'),
      surround: p(quantity('percent', '%'), 'signal level around the patches'),
      'mastering-peak': p(quantity('luminance', 'cd/m2'), 'peak luminance of the mastering display, as sent in the metadata'),
      'max-cll': p(quantity('luminance', 'cd/m2'), 'MaxCLL, as sent'),
      'max-fall': p(quantity('luminance', 'cd/m2'), 'MaxFALL, as sent'),
      note: p(text, 'a remark'),
    },
  },
  mode: {
    about: 'a picture mode with its settings; the names are those of the display',
    names: 'user',
    id: 'required',
    link: 'from',
    properties: {
      '.input': p(text, 'the input of the display'),
      '.scope': p({ is: 'scope' }, 'what the settings hold for: input, format, refresh rate'),
      '.preset': p(text, 'the preset the mode starts from'),
      '.automatic': p({ is: 'switches' }, `automatic functions, each on or off: ${AUTOMATIC.join(', ')}`),
      '.note': p(text, 'a remark'),
    },
    userNames: text,
  },
  target: {
    about: 'what readings are judged against: space, curve, white, luminance',
    names: 'format',
    id: 'required',
    link: 'from',
    properties: {
      space: p(choice(...SPACE_IDS), 'primaries'),
      curve: p({ is: 'curve' }, 'power N, power N over black, bt1886, srgb, pq, hlg'),
      white: p({ is: 'white' }, "white point: d65 and its like, or x and y; else the space's own"),
      luminance: p(quantity('luminance', 'cd/m2'), "luminance of white; else the run's own 100 % reading"),
      'roll-off': p(choice('none', 'eetf'), 'how levels above the peak of the display are expected to be shown'),
      note: p(text, 'a remark'),
    },
  },
  limits: {
    about: "aims and limits of this session, before the folder's and the defaults",
    names: 'user',
    id: 'none',
    properties: {},
    userNames: { is: 'limit' },
  },
  greyscale: run('neutral levels: balance, curve and ΔE', {
    keys: ['level'],
    needs: [['level'], ...READING],
    columns: { level: drive, ...READING_COLUMNS },
    example: 'level Y x y',
  }),
  saturation: run('hues at rising saturation', {
    keys: ['hue', 'sat'],
    needs: [['hue'], ['sat'], ...COLOUR],
    columns: { hue: word, sat: measured('percent', '%'), ...READING_COLUMNS },
    example: 'hue sat Y x y',
  }),
  patches: run('any colours, by their drive', {
    keys: ['patch', 'R', 'G', 'B'],
    needs: [['R'], ['G'], ['B'], ...COLOUR],
    columns: { patch: word, R: drive, G: drive, B: drive, ...READING_COLUMNS },
    example: 'patch R G B Y x y',
  }),
  gamut: run('full-drive primaries and whatever else spans the gamut', {
    keys: ['patch'],
    needs: [['patch'], ['x', 'X', "u'"]],
    columns: { patch: word, ...READING_COLUMNS },
    example: 'patch Y x y',
  }),
  window: run('luminance by window size', {
    keys: ['window'],
    needs: [['window'], ...READING],
    columns: { window: measured('percent', '%'), ...READING_COLUMNS },
    example: 'window Y',
  }),
  tracking: run('HDR levels against PQ or HLG', {
    keys: ['level'],
    needs: [['level'], ...READING],
    columns: { level: drive, ...READING_COLUMNS },
    example: 'level Y x y',
  }),
  contrast: run('white, black, checkerboard', {
    keys: ['patch'],
    needs: [['patch'], ...READING],
    columns: { patch: word, ...READING_COLUMNS },
    example: 'patch Y',
  }),
  uniformity: run('one level over a grid of places', {
    keys: ['row', 'col'],
    needs: [['row'], ['col'], ...READING],
    columns: { row: plain, col: plain, ...READING_COLUMNS },
    example: 'row col Y x y',
  }),
  endurance: run('luminance held over time', {
    keys: ['t'],
    needs: [['t'], ...READING],
    columns: { ...READING_COLUMNS },
    example: 't[s] Y x y',
  }),
  angles: run('the picture from the side', {
    keys: ['angle', 'direction'],
    needs: [['angle'], ...READING],
    columns: { angle: measured('angle', 'deg'), direction: word, ...READING_COLUMNS },
    example: 'angle Y x y',
  }),
  volume: run('colours over the whole volume', {
    keys: ['patch', 'R', 'G', 'B'],
    needs: [['R'], ['G'], ['B'], ...COLOUR],
    columns: { patch: word, R: drive, G: drive, B: drive, ...READING_COLUMNS },
    example: 'R G B Y x y',
  }),
  spectrum: run('power by wavelength; each further column is a spectrum', {
    keys: ['nm'],
    needs: [['nm']],
    columns: { nm: plain },
    free: 'a spectrum, by the name of its patch',
    example: 'nm white',
  }),
  lag: run('time from signal to light', {
    keys: ['place'],
    needs: [['lag']],
    columns: { place: word, lag: measured('duration', 'ms') },
    example: 'place lag[ms]',
  }),
  power: run('what the display draws', {
    keys: ['patch'],
    needs: [['power']],
    columns: { patch: word, power: measured('power', 'W'), t: measured('duration', 's') },
    example: 'patch power',
  }),
  repeats: run('the same patch again and again', {
    keys: ['patch'],
    needs: [...READING],
    columns: { patch: word, ...READING_COLUMNS },
    example: 'patch Y x y',
  }),
  reflectance: run('black and white under light from the room', {
    keys: ['patch', 'illuminance'],
    needs: [['patch'], ['illuminance'], ...READING],
    columns: { patch: word, illuminance: measured('illuminance', 'lx'), ...READING_COLUMNS },
    example: 'patch illuminance Y',
  }),
  // A user's names stand in quoted columns and values here, never as property names: so the properties need no point.
  tuning: {
    ...run('control values that were tried, and what they gave', {
      keys: [],
      needs: [...COLOUR],
      columns: { ...READING_COLUMNS },
      free: 'a control, by its quoted name',
      example: '"Gain red" "Gain blue" Y x y',
    }),
    properties: {
      ...runProperties,
      control: { ...p({ is: 'control' }, '"Name" low..high step s; one line a control'), many: true },
    },
  },
  observations: {
    about: 'what eyes saw, on a fixed scale, with free words',
    names: 'user',
    id: 'optional',
    properties: {
      '.mode': p(idOf('mode'), 'the mode it was seen in'),
      '.signal': p(idOf('signal'), 'the signal it was seen with'),
      '.distance': p(quantity('length'), 'from the eye to the screen'),
      '.room': p({ is: 'quantities', dimensions: ['illuminance', 'temperature'] }, 'light at the screen'),
    },
    userNames: { is: 'rating' },
  },
} as const satisfies Record<string, BlockSpec>;

export type Keyword = keyof typeof BLOCKS;
export const KEYWORDS = Object.keys(BLOCKS) as readonly Keyword[];

export const blockSpec = (keyword: string): BlockSpec | undefined =>
  Object.hasOwn(BLOCKS, keyword) ? (BLOCKS as Record<string, BlockSpec>)[keyword] : undefined;

export const isKeyword = (word: string): word is Keyword => Object.hasOwn(BLOCKS, word);

export const RUN_KINDS = KEYWORDS.filter((k) => blockSpec(k)?.table !== undefined && k !== 'correction');
