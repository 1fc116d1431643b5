import type { Keyword } from '../session/vocabulary';

/** Which way a measure is better: none means that it is only reported. */
export type Direction = 'smaller' | 'larger' | 'nearer' | 'report';

export interface Limits {
  readonly aim?: number;
  readonly limit?: number;
}

/**
 * One measure of one kind of run. Everything said about it (completion, help, limits, tables, documentation) is made from here; how it is
 * computed is in the kernel of its run.
 */
export interface MeasureSpec {
  readonly title: string;
  readonly unit: string;
  readonly direction: Direction;
  /** A figure of the whole run, of one row (`@key`), or both. */
  readonly scope: 'run' | 'row' | 'both';
  /** What `nearer` is nearer to; 0 when left out. A colour temperature is nearer to that of its target's white. */
  readonly centre?: number;
  readonly sdr?: Limits;
  readonly hdr?: Limits;
  /** Where aim and limit come from. */
  readonly source?: string;
  /** One line: what it is, over which rows. */
  readonly about: string;
  /** The column that its key is of, where it is not the whole key of a row. */
  readonly by?: string;
  /** Decimals it is shown with. */
  readonly decimals: number;
}

const CP = 'common practice, no source';

type Scope = MeasureSpec['scope'];

/** Makes the records of one scope; the scope stays in the type, so that each kernel must answer for just its own. */
const scoped =
  <S extends Scope>(scope: S) =>
  (
    title: string,
    unit: string,
    decimals: number,
    direction: Direction,
    about: string,
    rest: Pick<MeasureSpec, 'sdr' | 'hdr' | 'source' | 'centre' | 'by'> = {},
  ): MeasureSpec & { readonly scope: S } => ({ scope, title, unit, decimals, direction, about, ...rest });

const run = scoped('run');
const row = scoped('row');
const both = scoped('both');

const always = (aim: number | undefined, limit: number | undefined, source: string = CP) => {
  const limits: Limits = { ...(aim === undefined ? {} : { aim }), ...(limit === undefined ? {} : { limit }) };
  return { sdr: limits, hdr: limits, source };
};

/** The differences that every run of colours has, by row; averages and maxima are given for the first and for ΔE ITP. */
const DIFFERENCES = {
  de: row('ΔE 2000', '', 2, 'smaller', 'colour difference CIEDE2000 from the target, Lab with the target white (ISO/CIE 11664-6)'),
  'de.ab': row('ΔE*ab', '', 2, 'report', 'colour difference CIE 1976 in Lab (CIE 15)'),
  'de.94': row('ΔE 94', '', 2, 'report', 'colour difference CIE 1994, graphic-arts weights; not symmetric, the target is the reference'),
  'de.uv': row('ΔE*uv', '', 2, 'report', 'colour difference CIE 1976 in Luv (CIE 15)'),
  'de.itp': row('ΔE ITP', '', 2, 'smaller', 'colour difference ΔE ITP in absolute luminance (ITU-R BT.2124)'),
  'delta.uv': row("Δu'v'", '', 4, 'report', "distance of the chromaticity from the target's in u'v' (CIE 15)"),
  'delta.uvstar': row('Δu*v*', '', 2, 'report', "chromaticity difference Δu*v* at the reading's lightness (EBU Tech 3320)"),
} as const;

const PARTS = {
  'delta.l': row('ΔL*', '', 2, 'report', 'lightness of the reading less that of the target'),
  'delta.c': row('ΔC*ab', '', 2, 'report', 'chroma of the reading less that of the target'),
  'delta.h': row('ΔH*', '', 2, 'report', 'hue difference in units of ΔE, signed: 2·√(C₁C₂)·sin(Δh/2)'),
  'delta.h.angle': row('Δh', '°', 1, 'report', 'hue angle of the reading less that of the target'),
} as const;

const summed = (de: { avg: readonly [number, number]; max: readonly [number, number] }) =>
  ({
    'de.avg': run('ΔE 2000 average', '', 2, 'smaller', 'mean of ΔE 2000 over the rows', always(...de.avg)),
    'de.max': run('ΔE 2000 maximum', '', 2, 'smaller', 'largest ΔE 2000 of the rows', always(...de.max)),
    'de.itp.avg': run('ΔE ITP average', '', 2, 'smaller', 'mean of ΔE ITP over the rows; 1 is a threshold of sight, not a tolerance', {
      hdr: { aim: 3, limit: 8 },
      source: CP,
    }),
    'de.itp.max': run('ΔE ITP maximum', '', 2, 'report', 'largest ΔE ITP of the rows'),
  }) as const;

const COLOURS = {
  ...DIFFERENCES,
  ...PARTS,
} as const;

const BY_SPECTRUM = { by: 'spectrum' } as const;
const BY_LUX = { by: 'illuminance' } as const;

/** Statistics of one quantity (JCGM 100:2008, 4.2); of the run where all readings are of one thing, of a row with its key. */
const sampled = (
  what: string,
  unit: string,
  decimals: number,
  ofMean: Pick<MeasureSpec, 'sdr' | 'hdr' | 'source'> = {},
  mean: Direction = 'report',
) =>
  ({
    mean: both('Mean', unit, decimals, mean, `mean of the ${what} readings`, ofMean),
    median: both('Median', unit, decimals, 'report', `middle of the ${what} readings`),
    sd: both('Standard deviation', unit, decimals + 1, 'report', 'sample standard deviation; a single reading has none'),
    se: both('Standard error', unit, decimals + 1, 'report', 'standard deviation of the mean'),
    n: both('Readings', '', 0, 'report', `how many ${what} readings there are`),
  }) as const;

/** All measures by kind of run, in the order in which a summary shows them. */
export const MEASURES = {
  greyscale: {
    'white.luminance': run('White luminance', 'cd/m²', 1, 'report', 'luminance of the 100 % row'),
    'white.duvstar': run(
      'White Δu*v*',
      '',
      2,
      'smaller',
      'Δu*v* of the 100 % row from the target white',
      always(1.3, 4, 'EBU Tech 3320 v4.1 G1/G2 §1.5.7 (through a secondary source)'),
    ),
    black: run('Black', 'cd/m²', 4, 'report', 'luminance of the 0 % row'),
    ...summed({ avg: [1, 3], max: [2, 4] }),
    'dc.avg': run('ΔE without luminance, average', '', 2, 'smaller', 'mean of ΔE 2000 with the luminance error taken out', always(1, 2)),
    'dc.max': run('ΔE without luminance, maximum', '', 2, 'smaller', 'largest ΔE 2000 with the luminance error taken out', always(2, 3)),
    balance: run(
      'Balance',
      '%',
      1,
      'nearer',
      'the channel farthest from neutral over rows from 20 % up; linear RGB in the target space, 100 = neutral',
      {
        ...always(2, 5),
        centre: 100,
      },
    ),
    cct: both(
      'Colour temperature',
      'K',
      0,
      'nearer',
      'correlated colour temperature (Ohno 2013); of the run: of the 100 % row',
      always(200, 500),
    ),
    'cct.avg': run('Colour temperature, average', 'K', 0, 'report', 'mean of the rows from 20 % up'),
    duv: both(
      'Duv from target',
      '',
      4,
      'nearer',
      "distance from the Planckian locus (Ohno 2013) less the target white's; + is greenish; of the run: of the 100 % row",
      always(0.002, 0.004),
    ),
    'duvstar.max': run(
      'Δu*v* maximum',
      '',
      2,
      'smaller',
      'largest Δu*v* of rows between 1 and 100 cd/m²',
      always(1, 1.5, 'EBU Tech 3320 v4.1 G2/G3 §1.5.5 (through a secondary source)'),
    ),
    exponent: both(
      'Exponent',
      '',
      3,
      'report',
      'exponent of the power law through white with black taken off, rows 10–90 %; least squares in logarithms',
    ),
    'exponent.raw': run('Exponent, black left in', '', 3, 'report', 'the same with the black of the display left in'),
    'curve.exponent': run(
      'Exponent from target',
      '',
      3,
      'nearer',
      'exponent less that of the target over the same rows, each with its own black taken off',
      always(0.05, 0.1, 'common practice, no source; EBU Tech 3320 G2 §1.5.4'),
    ),
    'curve.worst': run(
      'Largest luminance error',
      '%',
      1,
      'nearer',
      'luminance error of the row from 10 % up that is farthest from its target',
      always(5, 10),
    ),
    'curve.worst.stops': run('Largest luminance error', 'stops', 2, 'report', 'the same in stops'),
    'nearblack.first': run(
      'First level above black',
      '%',
      1,
      'report',
      'lowest level whose luminance can be told from black beyond three times the spread',
    ),
    'nearblack.stops': run(
      'Near-black luminance error',
      'stops',
      2,
      'report',
      'mean error of rows above 0 up to 10 %: below 0 is crushed, above is raised',
    ),
    'nearblack.dc': run(
      'Near-black tint',
      '',
      2,
      'report',
      'largest ΔE 2000 of rows up to 20 % with white at the luminance of the row: Lab with the peak white hides it',
    ),
    'nearblack.duv': run("Near-black Δu'v'", '', 4, 'report', "largest Δu'v' from the target white of rows up to 20 %"),
    drift: run('Drift of white', '%', 2, 'report', 'last reading of a repeated white less the first, in reading order'),
    'chain.written': run(
      'Curve error, signal as written',
      'stops',
      2,
      'report',
      'root mean square error of rows from 5 % up, through the 100 % row',
    ),
    'chain.limited-as-full': run(
      'Curve error, limited shown as full',
      'stops',
      2,
      'report',
      'the same if the display took limited codes for full ones',
    ),
    'chain.full-as-limited': run(
      'Curve error, full shown as limited',
      'stops',
      2,
      'report',
      'the same if the display took full codes for limited ones',
    ),
    ...DIFFERENCES,
    dc: row('ΔE without luminance', '', 2, 'smaller', "ΔE 2000 with the reading given the target's luminance"),
    'dc.adapted': row(
      'Tint at its own level',
      '',
      2,
      'report',
      'ΔE 2000 without luminance and with white at the luminance of the row: what a tint looks like near black',
    ),
    'balance.r': row(
      'Red',
      '%',
      1,
      'nearer',
      'linear red in the target space with the target white, scaled to the luminance of the reading',
      { ...always(2, 5), centre: 100 },
    ),
    'balance.g': row('Green', '%', 1, 'nearer', 'the same for green', { ...always(2, 5), centre: 100 }),
    'balance.b': row('Blue', '%', 1, 'nearer', 'the same for blue', { ...always(2, 5), centre: 100 }),
    curve: row('Luminance error', '%', 1, 'nearer', 'luminance less that of the target, in per cent of it', always(5, 10)),
    'curve.stops': row('Luminance error', 'stops', 3, 'report', 'log2 of luminance over that of the target'),
    target: row('Target luminance', 'cd/m²', 3, 'report', 'luminance of the target at the level as sent'),
  },
  saturation: {
    ...summed({ avg: [2, 4], max: [4, 8] }),
    'hue.de': row('ΔE 2000 of a hue', '', 2, 'report', 'mean ΔE 2000 of the rows of one hue, @hue', { by: 'hue' }),
    'hue.delta.l': row('ΔL* of a hue', '', 2, 'report', 'mean ΔL* of the rows of one hue, @hue', { by: 'hue' }),
    'hue.delta.c': row('ΔC*ab of a hue', '', 2, 'report', 'mean ΔC*ab of the rows of one hue, @hue', { by: 'hue' }),
    'hue.delta.h': row('ΔH* of a hue', '', 2, 'report', 'mean ΔH* of the rows of one hue, @hue', { by: 'hue' }),
    ...COLOURS,
  },
  patches: {
    ...summed({ avg: [2, 3], max: [4, 7] }),
    ...COLOURS,
  },
  gamut: {
    'coverage.bt709.xy': run(
      'Coverage of BT.709 (xy)',
      '%',
      1,
      'report',
      'share of the reference triangle that the hull of the readings holds, in xy',
    ),
    'coverage.bt709.uv': run("Coverage of BT.709 (u'v')", '%', 1, 'report', "the same in u'v'"),
    'coverage.p3.xy': run('Coverage of P3 (xy)', '%', 1, 'report', 'share of the P3 triangle that the hull of the readings holds, in xy'),
    'coverage.p3.uv': run("Coverage of P3 (u'v')", '%', 1, 'larger', "the same in u'v'", { hdr: { aim: 95, limit: 90 }, source: CP }),
    'coverage.bt2020.xy': run(
      'Coverage of BT.2020 (xy)',
      '%',
      1,
      'report',
      'share of the BT.2020 triangle that the hull of the readings holds, in xy',
    ),
    'coverage.bt2020.uv': run("Coverage of BT.2020 (u'v')", '%', 1, 'report', "the same in u'v'"),
    'area.bt709.xy': run('Area against BT.709 (xy)', '%', 1, 'report', 'area of the hull over that of the reference; no coverage'),
    'area.bt709.uv': run("Area against BT.709 (u'v')", '%', 1, 'report', "the same in u'v'"),
    'area.p3.xy': run('Area against P3 (xy)', '%', 1, 'report', 'area of the hull over that of P3; no coverage'),
    'area.p3.uv': run("Area against P3 (u'v')", '%', 1, 'report', "the same in u'v'"),
    'area.bt2020.xy': run('Area against BT.2020 (xy)', '%', 1, 'report', 'area of the hull over that of BT.2020; no coverage'),
    'area.bt2020.uv': run("Area against BT.2020 (u'v')", '%', 1, 'report', "the same in u'v'"),
    additivity: run(
      'Additivity',
      '',
      3,
      'report',
      'luminance of red, green and blue together over that of white: far below 1 with a white emitter',
    ),
    'delta.uv': row("Δu'v'", '', 4, 'report', "distance of a primary, secondary or white from that of the target space in u'v'"),
  },
  window: {
    peak: both('Peak', 'cd/m²', 0, 'larger', 'largest luminance of all windows; @w: luminance at that window'),
    full: run('Full field', 'cd/m²', 0, 'report', 'luminance at 100 %'),
    'full.share': run('Full field over peak', '', 3, 'report', 'luminance at 100 % over the peak'),
  },
  tracking: {
    'stops.avg': run(
      'Luminance error, average',
      'stops',
      2,
      'smaller',
      'mean size of log2(reading / target) over levels from ten times the floor of the meter up to the knee',
      always(0.1, 0.25),
    ),
    bias: run('Luminance bias', 'stops', 2, 'nearer', 'mean of log2(reading / target) over the same levels', always(0.1, 0.25)),
    gain: run('Gain of the mid-tones', 'stops', 2, 'report', 'median of log2(reading / target) over targets of 5 to 100 cd/m²'),
    'de.itp.avg': run(
      'ΔE ITP average',
      '',
      2,
      'smaller',
      'mean of ΔE ITP (ITU-R BT.2124) over levels from ten times the floor up to the knee',
      always(3, 8),
    ),
    'de.itp.max': run('ΔE ITP maximum', '', 2, 'report', 'largest ΔE ITP of the same levels'),
    peak: run('Peak', 'cd/m²', 0, 'report', 'largest luminance of all levels'),
    knee: run(
      'Knee',
      'cd/m²',
      0,
      'report',
      'luminance where the roll-off has taken 0.1 stop, or three times the uncertainty of the reading, off the curve of the mid-tones',
    ),
    'knee.level': run('Level of the knee', '%', 1, 'report', 'signal of the knee, interpolated between two levels'),
    clip: run(
      'Clip',
      '%',
      1,
      'report',
      'lowest level from which every reading is within 1 %, or three times its uncertainty, of the largest running median of three',
    ),
    'clip.peak': run('Luminance of the clip', 'cd/m²', 0, 'report', 'largest running median of three levels, where the display clips'),
    highlight: run(
      'Highlights kept apart',
      '',
      3,
      'report',
      'share of the range from 203 cd/m² to the mastering peak, in PQ signal, that lies below the clip',
    ),
    'eetf.knee': run('Knee of the fitted EETF', 'cd/m²', 0, 'report', 'where the nearest EETF of ITU-R BT.2408 Annex 5 starts to roll off'),
    'eetf.knee.level': run('Level of that knee', '%', 1, 'report', 'signal where the nearest EETF starts to roll off'),
    'eetf.peak': run('Peak of the fitted EETF', 'cd/m²', 0, 'report', 'luminance at which the nearest EETF ends'),
    'eetf.from': run(
      'Mastering peak of the fitted EETF',
      'cd/m²',
      0,
      'report',
      'what the display maps from, if it works as that report does',
    ),
    'eetf.rms': run(
      'Distance from the fitted EETF',
      'stops',
      3,
      'report',
      'root mean square of what is left: how far from any such roll-off',
    ),
    metadata: run(
      'Metadata difference',
      'stops',
      3,
      'report',
      'largest difference between runs that differ in the mastering peak alone, over levels up to the smallest of their peaks',
    ),
    'metadata.threshold': run(
      'Metadata threshold',
      'stops',
      3,
      'report',
      'what the largest of so many differences exceeds by chance in one case of twenty: beyond it the display follows the metadata',
    ),
    stops: row('Luminance error', 'stops', 3, 'report', 'log2 of luminance over that of the target, above the knee too'),
    'de.itp': row('ΔE ITP', '', 2, 'smaller', 'colour difference ΔE ITP in absolute luminance (ITU-R BT.2124), up to the knee'),
    'delta.uv': row("Δu'v'", '', 4, 'report', "distance of the chromaticity from the target white's in u'v' (CIE 15)"),
    target: row('Target luminance', 'cd/m²', 3, 'report', 'luminance of the target at the level as sent'),
  },
  contrast: {
    white: run('White', 'cd/m²', 1, 'report', 'luminance of white'),
    black: run('Black', 'cd/m²', 4, 'smaller', 'luminance of black', {
      sdr: { aim: 0.05, limit: 0.4 },
      hdr: { aim: 0.005, limit: 0.01 },
      source: 'aim common practice, limit EBU Tech 3320 v4.1 G2 §1.5.2; HDR EBU G1, G2 §2.4.2 (through a secondary source)',
    }),
    sequential: run(
      'Contrast, sequential',
      ':1',
      0,
      'larger',
      'luminance of white over that of black, shown one after the other',
      always(2000, 500, 'EBU Tech 3320 v4.1 G1, G2 §1.5.3 (through a secondary source)'),
    ),
    checkerboard: run(
      'Contrast, checkerboard',
      ':1',
      0,
      'larger',
      'mean luminance of the white fields over that of the black fields of one checkerboard',
      always(150, 100, 'SMPTE RP 431-2 (150: from memory)'),
    ),
  },
  uniformity: {
    nonuniformity: run('Non-uniformity', '%', 1, 'smaller', 'largest fall of luminance over the grid: 1 − min/max', {
      ...always(10, 20, 'common practice, no source; limit ISO 12646 (not verified)'),
    }),
    duv: both(
      "Δu'v' from the centre",
      '',
      4,
      'smaller',
      "largest distance of a cell's chromaticity from that of the centre in u'v' (CIE 15); @row,col: of that cell",
      always(0.004, 0.01, 'common practice, no source; limit ISO 12646 (not verified)'),
    ),
    'duv.any': run("Δu'v' of any two cells", '', 4, 'report', "largest distance of two cells in u'v'"),
    worst: run('Worst cell', '%', 1, 'report', 'luminance of the cell that is farthest from the centre, less that of the centre'),
    'worst.row': run('Row of the worst cell', '', 0, 'report', 'where that cell is, as its row is numbered'),
    'worst.col': run('Column of the worst cell', '', 0, 'report', 'where that cell is, as its column is numbered'),
    share: row('Luminance over the centre', '%', 1, 'report', 'luminance of a cell over that of the centre'),
  },
  endurance: {
    after: row('Luminance kept after', '', 3, 'larger', 'luminance over that of the first reading; @t, with or without a unit: @10min'),
    settled: run('Settled luminance kept', '', 3, 'report', 'median of the last three readings over the first, once it holds to 1 %'),
    'settled.luminance': run('Settled luminance', 'cd/m²', 1, 'report', 'median of the last three readings, once it holds to 1 %'),
    'settled.time': run(
      'Time until settled',
      's',
      0,
      'report',
      'from when on every reading is within 1 %, or three uncertainties, of that level',
    ),
    half: run(
      'Time to half of the drop',
      's',
      0,
      'report',
      'when half of the way from the first to the settled luminance is gone, interpolated',
    ),
  },
  angles: {
    half: run(
      'Angle of half luminance',
      '°',
      1,
      'larger',
      'smallest angle, over all directions, at which half of the luminance on the axis is left, interpolated',
      always(45, 30),
    ),
    duv: row(
      "Δu'v' from the axis",
      '',
      4,
      'smaller',
      "largest distance in u'v' from the chromaticity on the axis, of all directions at this angle",
      {
        by: 'angle',
      },
    ),
    kept: row('Luminance kept', '', 3, 'report', 'luminance over that on the axis'),
    shift: row("Δu'v' of a direction", '', 4, 'report', "distance in u'v' from the chromaticity on the axis"),
  },
  volume: {
    lab: run(
      'Volume covered (CIELAB)',
      '%',
      1,
      'report',
      'share of the solid of the target that the solid of the display holds, in CIELAB',
    ),
    'lab.ratio': run('Volume against the target (CIELAB)', '%', 1, 'report', 'volume of the display over that of the target; no coverage'),
    'lab.size': run('Volume (CIELAB)', 'thousand ΔE³', 0, 'report', 'volume of the display in cubic ΔE*ab'),
    ictcp: run('Volume covered (ICtCp)', '%', 1, 'report', 'the same in ICtCp, in steps of ΔE ITP (ITU-R BT.2124)'),
    'ictcp.ratio': run('Volume against the target (ICtCp)', '%', 1, 'report', 'volume of the display over that of the target; no coverage'),
    'ictcp.size': run('Volume (ICtCp)', 'thousand ΔE³', 0, 'report', 'volume of the display in cubic ΔE ITP'),
  },
  spectrum: {
    x: row('x', '', 4, 'report', 'chromaticity of a spectrum under the 2° observer (CIE 15)', BY_SPECTRUM),
    y: row('y', '', 4, 'report', 'chromaticity of a spectrum under the 2° observer (CIE 15)', BY_SPECTRUM),
    X: row('X', '', 3, 'report', '683 times the sum of power and x̄: in cd/m² where the power is in W/(sr·m²·nm)', BY_SPECTRUM),
    Y: row('Y', '', 3, 'report', '683 times the sum of power and ȳ: in cd/m² where the power is in W/(sr·m²·nm)', BY_SPECTRUM),
    Z: row('Z', '', 3, 'report', '683 times the sum of power and z̄: in cd/m² where the power is in W/(sr·m²·nm)', BY_SPECTRUM),
    cct: row('Colour temperature', 'K', 0, 'report', 'correlated colour temperature (Ohno 2013)', BY_SPECTRUM),
    duv: row('Duv', '', 4, 'report', 'distance from the Planckian locus (Ohno 2013); + is greenish', BY_SPECTRUM),
    peaks: row('Peaks', '', 0, 'report', 'how many peaks stand out by 5 % of the highest', BY_SPECTRUM),
    peak: row('Peak wavelength', 'nm', 1, 'report', 'wavelength of a peak; peaks are counted from the shortest, @white,1', {
      by: 'spectrum,peak',
    }),
    width: row('Width at half maximum', 'nm', 1, 'report', 'full width of a peak at half of its height', { by: 'spectrum,peak' }),
  },
  lag: sampled('lag', 'ms', 1, always(20, 40, 'common practice, no source; of a signal of 60 Hz'), 'smaller'),
  power: sampled('power', 'W', 1),
  repeats: {
    ...sampled('luminance', 'cd/m²', 3),
    'sd.percent': both('Standard deviation', '%', 2, 'report', 'sample standard deviation in per cent of the mean'),
    'sd.x': both('Standard deviation of x', '', 5, 'report', 'sample standard deviation of x'),
    'sd.y': both('Standard deviation of y', '', 5, 'report', 'sample standard deviation of y'),
  },
  reflectance: {
    contrast: row(
      'Contrast under light',
      ':1',
      0,
      'report',
      'white over black under the illuminance of the row, each on its own straight line',
      BY_LUX,
    ),
    white: row('White under light', 'cd/m²', 1, 'report', 'white under the illuminance of the row, on its straight line', BY_LUX),
    black: row('Black under light', 'cd/m²', 3, 'report', 'black under the illuminance of the row, on its straight line', BY_LUX),
    reflectance: run(
      'Reflectance',
      '%',
      2,
      'report',
      'π times the rise of black by illuminance: the share that comes back, were the screen matt',
    ),
    'reflectance.white': run('Reflectance of white', '%', 2, 'report', 'the same from the rise of white'),
    'black.dark': run('Black without light', 'cd/m²', 4, 'report', 'where the straight line of black begins'),
  },
  correction: {
    check: both(
      'Residual of further colours',
      '',
      4,
      'smaller',
      'largest distance in x, y of a corrected colour from the reference, over colours that had no part in the matrix',
      always(0.001, 0.003),
    ),
    luminance: row('Luminance over the reference', '', 3, 'report', 'corrected luminance over that of the reference'),
    condition: run(
      'Condition',
      '',
      1,
      'report',
      'condition number of the chromaticities of red, green and blue, the larger of both meters; at most 20',
    ),
  },
} as const satisfies Partial<Record<Keyword, Record<string, MeasureSpec>>>;

/** Limits that hold for one row of a run only. */
export const ROW_LIMITS: Readonly<Record<string, Pick<MeasureSpec, 'sdr' | 'hdr' | 'source'>>> = {
  'window.peak@10': {
    hdr: { aim: 1000, limit: 500 },
    source: 'common practice, no source (EBU Tech 3320 §2.4.1.1 asks 1000/600/500 at 1 %)',
  },
  'endurance.after@10min': always(0.95, 0.8),
  'angles.duv@30': always(0.004, 0.01),
};

export type MeasuredKind = keyof typeof MEASURES;
export type MeasureId<K extends MeasuredKind = MeasuredKind> = keyof (typeof MEASURES)[K] & string;

export const isMeasured = (kind: string): kind is MeasuredKind => Object.hasOwn(MEASURES, kind);

/** The record of a measure, by kind of run and id; undefined when that kind has none of this id. */
export function measureSpec(kind: string, id: string): MeasureSpec | undefined {
  if (!isMeasured(kind)) return undefined;
  const specs: Readonly<Record<string, MeasureSpec>> = MEASURES[kind];
  return Object.hasOwn(specs, id) ? specs[id] : undefined;
}

/** All measures as `kind.id`, in their order. */
export const MEASURE_IDS: readonly string[] = Object.entries(MEASURES).flatMap(([kind, specs]) =>
  Object.keys(specs).map((id) => `${kind}.${id}`),
);
