import { isMeasured, type MeasuredKind, type MeasureId } from './specs';

/** How the interval of a figure is told from what the meter says of its errors: keys of `METHOD_WORDS`. */
export type Method =
  /**
   * `straight`: no interval where the figure is near a fold. `most`: what it can be at most. For figures that go by the rank of readings,
   * `together`: all err alike; or `slope`: only the one that has the rank counts.
   */
  | {
      readonly by: 'readings';
      readonly straight?: true;
      readonly most?: number;
      readonly together?: true;
      readonly slope?: true;
    }
  | { readonly by: 'length' | 'scatter' }
  | { readonly by: 'row' | 'average'; readonly of: string }
  /** `all`: over all rows that count; else over those that the kernel picks when it is asked again. */
  | { readonly by: 'largest'; readonly of: string; readonly all?: true }
  | {
      readonly by: 'farthest';
      readonly of: readonly string[];
      /** Of the rows; the figure has its own `shift` from there. */
      readonly centre: number;
      readonly shift?: number;
      readonly all?: true;
      /** What the rows share moves them alike. */
      readonly alike?: true;
    }
  | { readonly by: 'share'; readonly of: 'full' | 'least' }
  | { readonly by: 'none'; readonly why: NoMethod };

/** A name for the luminance of every reading, where a row figure is meant. */
export const LUMINANCE = 'luminance';

/** What each method does, and where its limits lie: for a manual. */
export const METHOD_WORDS: Readonly<Record<Exclude<Method['by'], 'none'>, string>> = {
  readings:
    'Every reading is moved by its uncertainty, one after the other, then all by what they share, and the figure is computed again. Known limits: where the figure does not rise or fall steadily over that range, or goes by the rank of readings, its interval is cautious; in runs of more than 64 patches, patches are moved in groups with signs by chance, so that the part of their spread is good to a quarter; and of a display whose primaries are those of the reference to within the uncertainty of the meter, coverage is seen too low by chance, and the upper end of its interval with it.',
  length:
    'A distance is the length of an error vector, whose interval comes from the non-central χ² distribution. Known limit: the metric has to be nearly straight over the noise.',
  row: 'The interval of that row, as a distance.',
  average:
    'From the mean error vector up to the root mean square of the distances. Known limit: the lower end is far below where rows err in different directions, the upper end above where distances differ much.',
  largest:
    'Between the largest lower and the largest upper end of all rows, taken so that all of them hold at once. Known limit: cautious.',
  farthest:
    'The same for figures that lie on either side of what they should be: the size of the largest deviation, with the sign that was seen. Known limit: cautious; where the largest deviations on either side are alike, the sign is by chance.',
  share: 'The least or the full luminance and the largest one, each with its interval, over each other. Known limit: cautious.',
  scatter:
    "From the scatter of the readings: Student's t for a mean, χ² for a deviation, ranks for a median. Known limit: readings that share an error do not show it; of luminances and powers the accuracy of the meter is added.",
};

/** Why a figure has no interval whatever the meter says: each reads after "no interval:". */
export const NO_METHOD = {
  counted: 'it is a count or a place, and no reading',
  tested: 'it is one of the levels that were shown, and changes from one to the next',
  hypothesis: 'it is compared with the same under other assumptions, and with no limit',
  fitted: 'it describes a model that was fitted to the readings',
  threshold: 'it is told by a threshold that holds the spread of the meter already',
  pairs: 'it is the largest of all pairs of readings',
  solid: 'a solid takes too long to be computed again for every reading',
  spectral: 'no meter states the uncertainty of its spectra',
  condition: 'it describes the matrix, and is compared with a bound of practice',
} as const;

export type NoMethod = keyof typeof NO_METHOD;

type Methods = Method | { readonly run: Method; readonly row: Method };

const READINGS: Method = { by: 'readings' };
const LENGTH: Method = { by: 'length' };
const SCATTER: Method = { by: 'scatter' };
const none = (why: NoMethod): Method => ({ by: 'none', why });
const averageOf = (of: string): Method => ({ by: 'average', of });
const largestOf = (of: string): Method => ({ by: 'largest', of });
const largestOfAll = (of: string): Method => ({ by: 'largest', of, all: true });
const farthestOf = (of: readonly string[], centre: number): Method => ({ by: 'farthest', of, centre });
const TOGETHER: Method = { by: 'readings', together: true };
const SLOPE: Method = { by: 'readings', slope: true };
const COVERAGE: Method = { by: 'readings', most: 100 };
const brightest: Method = { by: 'farthest', of: [LUMINANCE], centre: 0, all: true, alike: true };

const DISTANCES = {
  de: LENGTH,
  'de.ab': LENGTH,
  'de.94': LENGTH,
  'de.uv': LENGTH,
  'de.itp': LENGTH,
  'delta.uv': LENGTH,
  'delta.uvstar': LENGTH,
} as const;

/** Chroma and hue have a fold at grey. */
const PARTS = {
  'delta.c': { by: 'readings', straight: true },
  'delta.h': { by: 'readings', straight: true },
  'delta.h.angle': { by: 'readings', straight: true },
} as const;

const SUMMED = {
  'de.avg': averageOf('de'),
  'de.max': largestOfAll('de'),
  'de.itp.avg': averageOf('de.itp'),
  'de.itp.max': largestOfAll('de.itp'),
} as const;

const SAMPLED = { mean: SCATTER, median: SCATTER, sd: SCATTER, se: SCATTER, n: none('counted') } as const;

/** Those that are not simply by their readings. */
const METHODS: { readonly [K in MeasuredKind]: { readonly [I in MeasureId<K>]?: Methods } } = {
  greyscale: {
    ...SUMMED,
    'white.duvstar': { by: 'row', of: 'delta.uvstar' },
    'dc.avg': averageOf('dc'),
    'dc.max': largestOfAll('dc'),
    balance: farthestOf(['balance.r', 'balance.g', 'balance.b'], 100),
    'duvstar.max': largestOf('delta.uvstar'),
    'curve.worst': farthestOf(['curve'], 0),
    'curve.worst.stops': farthestOf(['curve.stops'], 0),
    'nearblack.first': none('threshold'),
    'nearblack.dc': largestOf('dc.adapted'),
    'nearblack.duv': largestOf('delta.uv'),
    'chain.written': none('hypothesis'),
    'chain.limited-as-full': none('hypothesis'),
    'chain.full-as-limited': none('hypothesis'),
    ...DISTANCES,
    dc: LENGTH,
    'dc.adapted': LENGTH,
  },
  saturation: { ...SUMMED, ...DISTANCES, ...PARTS, 'hue.de': averageOf('de') },
  patches: { ...SUMMED, ...DISTANCES, ...PARTS },
  gamut: {
    'coverage.bt709.xy': COVERAGE,
    'coverage.bt709.uv': COVERAGE,
    'coverage.p3.xy': COVERAGE,
    'coverage.p3.uv': COVERAGE,
    'coverage.bt2020.xy': COVERAGE,
    'coverage.bt2020.uv': COVERAGE,
    'delta.uv': LENGTH,
  },
  window: { peak: { run: brightest, row: READINGS }, 'full.share': { by: 'share', of: 'full' } },
  tracking: {
    'stops.avg': averageOf('stops'),
    'de.itp.avg': averageOf('de.itp'),
    'de.itp.max': largestOfAll('de.itp'),
    peak: brightest,
    gain: TOGETHER,
    clip: none('tested'),
    'clip.peak': TOGETHER,
    highlight: none('tested'),
    'eetf.knee': none('fitted'),
    'eetf.knee.level': none('fitted'),
    'eetf.peak': none('fitted'),
    'eetf.from': none('fitted'),
    'eetf.rms': none('fitted'),
    metadata: none('threshold'),
    'metadata.threshold': none('threshold'),
    'de.itp': LENGTH,
    'delta.uv': LENGTH,
  },
  contrast: {},
  uniformity: {
    nonuniformity: { by: 'share', of: 'least' },
    duv: { run: largestOfAll('duv'), row: LENGTH },
    'duv.any': none('pairs'),
    worst: { by: 'farthest', of: ['share'], centre: 100, shift: -100, all: true },
    'worst.row': none('counted'),
    'worst.col': none('counted'),
  },
  endurance: { settled: SLOPE, 'settled.luminance': SLOPE, half: SLOPE, 'settled.time': none('tested') },
  angles: { half: TOGETHER, duv: largestOfAll('shift'), shift: LENGTH },
  volume: {
    lab: none('solid'),
    'lab.ratio': none('solid'),
    'lab.size': none('solid'),
    ictcp: none('solid'),
    'ictcp.ratio': none('solid'),
    'ictcp.size': none('solid'),
  },
  spectrum: {
    x: none('spectral'),
    y: none('spectral'),
    X: none('spectral'),
    Y: none('spectral'),
    Z: none('spectral'),
    cct: none('spectral'),
    duv: none('spectral'),
    peaks: none('counted'),
    peak: none('spectral'),
    width: none('spectral'),
  },
  lag: SAMPLED,
  power: SAMPLED,
  repeats: { ...SAMPLED, 'sd.percent': SCATTER, 'sd.x': SCATTER, 'sd.y': SCATTER },
  reflectance: {},
  correction: { check: { run: largestOfAll('check'), row: LENGTH }, condition: none('condition') },
};

/** The method of a measure of a kind of run, for its figure of the run or of a row. */
export function methodOf(kind: string, id: string, scope: 'run' | 'row'): Method {
  const methods: Readonly<Record<string, Methods>> = isMeasured(kind) ? METHODS[kind] : {};
  const found = Object.hasOwn(methods, id) ? methods[id]! : READINGS;
  return 'by' in found ? found : found[scope];
}
