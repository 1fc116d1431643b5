import { describe, expect, test } from 'vitest';
import { REASONS, type Reason, type Value } from '../../src/measure/value';
import { fill, type Phrase } from '../../src/text/message';
import { ownWords, PSEUDO, unsaid } from '../editor/pseudo';
import { correcting, GRID_ROWS, grid, held, LIT, lit, pairs, solid, spectra } from './benchCases';
import { analysed, type Bench, result, session, table, valueIn, whyNot } from './tools';
import { MASTERED } from './trackingCases';

const P24 = 'space: bt709\ncurve: power 2.4';
const grey = (...rows: (string | number)[][]) => table('greyscale grey', 'level Y x y', rows);
const plain = grey([0, 0.05, '-', '-'], [50, 20, 0.3127, 0.329], [100, 100, 0.3127, 0.329]);
const of = (runs: string, name: string, bench: Bench = {}, id?: string): Value => valueIn(result(runs, bench, id), name);
const colours = table('patches colours', 'R G B Y x y', [[50, 50, 50, 20, 0.3127, 0.329]]);
const twin = (id: string, ...rows: (string | number)[][]) => table(`greyscale ${id}`, 'level Y x y', rows);

const PQ = { target: 'space: bt2020\ncurve: pq' };
const tracked = (...rows: (string | number)[][]) => table('tracking hdr', 'level Y', rows);

const ALL_FOUR = ['white', 'red', 'green', 'blue'] as const;
const fix = (rows: Parameters<typeof correcting>[0]) => of(correcting(rows), 'condition', {}, 'fix');
const sides = (name: string, x: number, y: number): (string | number)[] => [name, 100, x, y, 100, x, y];
const flat = [sides('white', 0.3, 0.3), sides('red', 0.2, 0.2), sides('green', 0.3, 0.3), sides('blue', 0.4, 0.4)];
const near = [sides('white', 0.31, 0.31), sides('red', 0.34, 0.3), sides('green', 0.3, 0.34), sides('blue', 0.3, 0.3)];
const lamp = (rows: readonly (string | number)[][], name = 'x@white') => of(spectra(rows, 'nm white'), name);
const cube = [0, 50, 100].flatMap((r) => [0, 50, 100].flatMap((g) => [0, 50, 100].map((b) => [r, g, b, 1, 0.3, 0.3])));

/** Every reason, what gives it, and the words it then has. */
const CASES: Readonly<Partial<Record<Reason, readonly [() => Value, string]>>> = {
  'no-target': [() => of(plain, 'de.avg', { target: '' }), 'the run has no target (write "target: …" and a target block)'],
  'target-incomplete': [() => of(plain, 'de.avg', { target: 'space: bt709' }), 'the target dark does not say its curve'],
  'no-white': [
    () => of(colours, 'de.avg', { target: P24 }),
    'there is no white to scale by: the target states no luminance, and there is no reading of full white in colours',
  ],
  'white-ambiguous': [
    () => of([colours, twin('a', [100, 100]), twin('b', [100, 101])].join('\n'), 'de.avg', { target: P24 }, 'colours'),
    'there is no white to scale by: the target states no luminance, and 2 greyscale runs of this mode and signal could give it',
  ],
  'no-black': [
    () => of(grey([100, 100, 0.3127, 0.329]), 'de.avg', { target: 'space: bt709\ncurve: bt1886' }),
    'the target curve stands on the black of the display, and there is no black reading',
  ],
  'black-ambiguous': [
    () =>
      of(
        [colours, twin('a', [0, 0.05]), twin('b', [0, 0.06])].join('\n'),
        'de.avg',
        {
          target: 'space: bt709\ncurve: power 2.4 over black\nluminance: 100 cd/m2',
        },
        'colours',
      ),
    'the target curve stands on the black of the display, and 2 greyscale runs of this mode and signal could give it',
  ],
  'black-zero': [
    () =>
      of(
        table('contrast c', 'patch Y', [
          ['white', 100],
          ['black', 0],
        ]),
        'sequential',
      ),
    'black reads 0, and nothing can be divided by it: write the floor of the meter, such as <0.003',
  ],
  'no-colour': [
    () =>
      of(
        table('greyscale grey', 'level Y', [
          [50, 20],
          [100, 100],
        ]),
        'de.avg',
      ),
    "no row has a colour reading (Y with x and y, X and Z, or u' and v')",
  ],
  'no-rows': [() => of(table('window w', 'window Y', [[10, '?']]), 'peak'), 'there is no complete row for it'],
  'no-row': [() => of(plain, 'de@40'), 'there is no row 40 (there is 0; 50)'],
  'row-open': [() => of(grey([50, '?', '?', '?']), 'de@50'), 'row 50 is still to take, or holds nothing that can be read'],
  'row-unseen': [() => of(grey([5, '<0.003', '-', '-']), 'de@5'), 'row 5 lies below the floor or over the range of the meter'],
  'row-colour': [() => of(grey([50, 20, '-', '-']), 'de@50'), 'row 50 has no colour reading'],
  'row-zero': [() => of(plain, 'de@0'), 'a row at level 0 has no such figure: black is judged apart'],
  'row-hue': [
    () => of(table('saturation s', 'hue sat Y x y', [['orange', 50, 20, 0.5, 0.4]]), 'de@orange,50'),
    'orange is none of red, green, blue, cyan, magenta, yellow: the row has no target',
  ],
  'row-neutral': [() => of(colours, 'delta.h.angle@50,50,50'), 'a neutral has no hue, whose angle could be compared'],
  'row-outside': [() => of(plain, 'exponent@100'), 'it holds for rows from 10 to 90 % that lie above black only'],
  'key-needed': [() => of(plain, 'de'), 'it belongs to a row: write de@ and the key of the row'],
  'key-surplus': [() => of(plain, 'de.max@50'), 'it belongs to the whole run and takes no @'],
  'too-few': [() => of(plain, 'exponent'), 'it needs at least 2 rows from 10 to 90 %'],
  'far-from-planckian': [
    () => of(grey([100, 100, 0.3, 0.6]), 'cct'),
    'the chromaticity is too far from the Planckian locus for a colour temperature to mean anything',
  ],
  'driven-narrower': [
    () => of(table('gamut g', 'patch x y', [['red', 0.64, 0.33]]), 'coverage.p3.uv'),
    'the patches were driven in BT.709, which does not hold P3, D65 white: what the display could show of it was not seen',
  ],
  'wrong-curve': [() => of(plain, 'de.avg', { target: 'space: bt2020\ncurve: pq' }), 'it holds for SDR targets only, and the target is PQ'],
  'signal-range': [
    () => of(table('greyscale grey', 'level[10bit] Y', [[512, 20]]), 'de.avg'),
    'code values need the range of the signal (limited or full), and the signal does not say it',
  ],
  'no-patch': [() => of(table('contrast c', 'patch Y', [['white', 100]]), 'sequential'), 'it needs the patch black'],
  'no-measure': [() => of(plain, 'peak'), 'a greyscale run has no measure peak'],
  'no-table': [() => of('greyscale grey', 'de.avg'), 'the run has no column line'],
  'no-columns': [() => of(table('greyscale grey', 'level x y', [[50, 0.3127, 0.329]]), 'de.avg'), 'the run has no column Y'],
  later: [
    () => of(table('tuning t', '"Gain" Y x y', [[0, 20, 0.3127, 0.329]]), 'mean'),
    'the run is kept; its figures are not computed by this version',
  ],
  'no-spread': [() => of(plain, 'nearblack.first', { meter: 'kind: colorimeter' }), 'the meter does not say its spread'],
  'drift-alone': [
    () => {
      const { findings } = analysed(session(plain.replace('greyscale grey', 'greyscale grey\n  drift: correct')));
      const finding = findings.find(({ code }) => code === 'not-computed')!;
      const code = Object.keys(REASONS).find((reason) => REASONS[reason as Reason] === (finding.args.reason as Phrase).template)!;
      return { ok: false, why: { code, args: {} } };
    },
    'the drift is taken out by a white that is read at least twice, and there is none',
  ],
  'no-mid-tones': [
    () => of(tracked([80, 500]), 'gain', PQ),
    'no row with a reading has a target from 5 to 100 cd/m², which tell how bright the display is set as a whole',
  ],
  'no-roll-off': [
    () => of(tracked([40, 32], [75, 980]), 'knee', PQ),
    'the display keeps to the curve of its mid-tones up to 75 %, the highest level tested',
  ],
  'no-mastering': [() => of(tracked([40, 32]), 'highlight', PQ), 'the signal does not say its mastering peak'],
  'mastering-dim': [
    () => of(tracked([40, 32], [50, 90], [55, 100]), 'highlight', { ...PQ, signal: 'mastering-peak: 100 cd/m2' }),
    'the mastering peak of 100 cd/m² leaves no highlights above 203 cd/m²',
  ],
  'clip-none': [
    () => of(tracked([40, 32], [60, 240], [80, 700]), 'clip', PQ),
    'the display still tells levels apart at 80 %, the highest tested',
  ],
  'clip-falls': [
    () => of(tracked([40, 32], [60, 240], [80, 700], [85, 705], [90, 704], [100, 500]), 'clip', PQ),
    'the display gets darker again towards 100 %, the highest level tested',
  ],
  'above-knee': [
    () =>
      of(
        table('tracking hdr', 'level Y x y', [
          [40, 32, 0.3127, 0.329],
          [100, 800, 0.3127, 0.329],
        ]),
        'de.itp@100',
        PQ,
      ),
    'row 100 lies above the knee, where a roll-off is no error',
  ],
  'no-sibling': [
    () => of(tracked([40, 32]), 'metadata', { ...PQ, signal: 'mastering-peak: 1000 cd/m2' }),
    'it compares runs that differ in nothing but the mastering peak of their signals, and there is no other',
  ],
  'too-few-rows': [() => of(table('lag l', 'lag', [['-']]), 'mean'), 'of rows with a reading it needs at least 1, and there are 0'],
  'colour-missing': [
    () => fix(pairs(['white', 'red', 'green'])),
    'the four-colour method needs white, red, green and blue from both meters; there is no blue',
  ],
  'colour-dark': [
    () => fix(pairs(ALL_FOUR).map(([name, ...cells]) => (name === 'red' ? [name, 0, ...cells.slice(1)] : [name!, ...cells]))),
    'the reading of red by the reference meter has no light to take a chromaticity from',
  ],
  'primaries-flat': [() => fix(flat), 'red, green and blue of the reference meter lie on one line'],
  'white-outside': [
    () =>
      fix(pairs(ALL_FOUR).map(([name, ...cells]) => (name === 'white' ? [name, 100, 0.64, 0.1, ...cells.slice(3)] : [name!, ...cells]))),
    'white lies outside the triangle of red, green and blue of the reference meter',
  ],
  'ill-conditioned': [() => fix(near), 'red, green and blue of the reference meter lie too close together: condition 25.1803, at most 20'],
  'correction-second': [
    () => {
      const second = table('correction more\nmeter: probe\nreference: spectro', 'patch ref.Y ref.x ref.y Y x y', pairs(ALL_FOUR));
      return of(`${correcting(pairs(ALL_FOUR))}\n${second}`, 'condition', {}, 'more');
    },
    'the correction fix is for the same meter and mode, and it is the one that is used',
  ],
  'no-reference': [
    () => of(correcting([['white', 100, 0.3127, 0.329]], 'correction fix\nmeter: probe', 'patch Y x y'), 'condition', {}, 'fix'),
    'it has no readings of the reference (columns ref.Y, ref.x and ref.y), and names no spectra',
  ],
  'no-spectra': [
    () =>
      of(correcting([['white', 100, 0.3127, 0.329]], 'correction fix\nmeter: probe\nspectra: lamp', 'patch Y x y'), 'condition', {}, 'fix'),
    'there is no spectrum run lamp',
  ],
  'no-further': [
    () => of(correcting(pairs(ALL_FOUR)), 'check', {}, 'fix'),
    'it needs a colour beside white, red, green and blue, such as yellow or a grey: those four are met by construction',
  ],
  'no-mid-saturation': [
    () => {
      const text = session(correcting(pairs([...ALL_FOUR, 'yellow']))).replace(
        'firmware: 1.0',
        'firmware: 1.0\n  panel: self-lit, white emitter',
      );
      return analysed(text).results[0]!.value('check');
    },
    'the panel has a white emitter: it needs a colour that is about half saturated, which such a panel mixes from other light than its primaries',
  ],
  'met-by-construction': [
    () => of(correcting(pairs([...ALL_FOUR, 'sand'])), 'check@red', {}, 'fix'),
    'a correction meets the chromaticities of white, red, green and blue by construction',
  ],
  'wavelengths-unsorted': [
    () =>
      lamp([
        [500, 1],
        [520, 1],
        [510, 1],
      ]),
    'wavelengths rise from row to row, and 510 nm does not',
  ],
  'wavelength-outside': [
    () =>
      lamp([
        [350, 1],
        [400, 1],
        [410, 1],
      ]),
    '350 nm lies outside 360 to 830 nm',
  ],
  'power-negative': [
    () =>
      lamp([
        [400, 1],
        [410, -1],
        [420, 1],
      ]),
    'the power at 410 nm is below 0',
  ],
  'spectrum-dark': [
    () =>
      lamp([
        [400, 0],
        [410, 0],
        [420, 0],
      ]),
    'the spectrum holds no light',
  ],
  'not-finite': [
    () =>
      lamp([
        [400, 1],
        [410, '-'],
        [420, 1],
      ]),
    'number 2 is none',
  ],
  'half-not-reached': [
    () =>
      lamp(
        [
          [400, 0.8],
          [410, 1],
          [420, 0],
        ],
        'width@white,1',
      ),
    'on one side the spectrum ends before it falls to half of the peak',
  ],
  'peaks-merged': [
    () =>
      lamp(
        [
          [400, 0],
          [410, 1],
          [420, 0.8],
          [430, 1],
          [440, 0],
        ],
        'width@white,1',
      ),
    'on one side the spectrum rises to another peak before it falls to half of this one',
  ],
  'no-peak': [
    () =>
      lamp(
        [
          [400, 1],
          [410, 1],
          [420, 1],
        ],
        'peak@white,1',
      ),
    'the spectrum has no peak that stands out',
  ],
  'grid-hole': [() => of(grid(GRID_ROWS.slice(0, 8)), 'worst'), 'the grid has no reading in row 3, column 3'],
  'no-centre': [() => of(grid(GRID_ROWS.slice(0, 6)), 'worst'), 'a grid of 2 by 3 has no cell in the centre'],
  'no-light': [() => of(grid([[1, 1, 0]], 'row col Y'), 'nonuniformity'), 'there is no luminance above 0 to compare with'],
  'no-colours': [() => of(grid([[1, 1, 9]], 'row col Y'), 'duv'), 'the reading in row 1, column 1 has no chromaticity'],
  'time-backwards': [
    () =>
      of(
        held([
          [0, 9],
          [60, 8],
          [30, 7],
        ]),
        'half',
      ),
    'time runs forward from row to row, and 30 s comes after 60 s',
  ],
  'not-settled': [
    () =>
      of(
        held([
          [0, 9],
          [60, 8],
          [90, 7],
        ]),
        'half',
      ),
    'the readings have not settled: fewer than three at the end lie within 1.5 % of each other',
  ],
  'no-drop': [
    () =>
      of(
        held([
          [0, 9],
          [60, 9],
          [90, 9],
        ]),
        'half',
      ),
    'the luminance does not fall by more than 1.5 %',
  ],
  'no-axis': [() => of(table('angles a', 'angle Y', [[30, 9]]), 'half'), 'it needs a reading at 0°'],
  'levels-few': [
    () => of(solid([[0, 0, 0, 0, 0.3, 0.3]]), 'lab'),
    'the volume needs at least three drive levels from 0 to the highest for each of R, G and B, the same for each',
  ],
  'volume-hole': [
    () => of(solid(cube.slice(0, 20)), 'lab'),
    'the volume has no reading for R 1, G 0, B 1 (7 are missing on the surface of the drive cube)',
  ],
  'volume-flat': [() => of(solid(cube), 'lab'), 'the colours enclose no volume'],
  'no-illuminance': [
    () => of(lit([['black', 100, 0.4]]), 'reflectance'),
    'it needs readings under two different illuminances, or one reading and the reflectance of the other patch',
  ],
  'light-lowers': [
    () =>
      of(
        lit([
          ['black', 0, 0.4],
          ['black', 100, 0.3],
        ]),
        'reflectance',
      ),
    'the readings fall as the illuminance rises',
  ],
  'illuminance-negative': [() => of(lit([['black', -5, 0.4]]), 'reflectance'), 'an illuminance of -5 lx does not exist'],
  'one-reading': [() => of(table('lag l', 'lag', [[20]]), 'sd'), 'a single reading says nothing of its scatter'],
  'no-common-rows': [
    () => of(MASTERED({ low: [[40, 32]], high: [[45, 55]] }), 'metadata', PQ, 'low-run'),
    'the runs have no row in common with a reading in each and a target up to 1000 cd/m²',
  ],
};

/** Reasons of the algorithms that their callers here never give: each is tested with its algorithm. */
const OF_ALGORITHMS_ALONE: readonly string[] = ['lengths-differ', 'no-uncertainty', 'peak-unknown', 'grid-repeated', 'angle-repeated'];

test('every reason has its case', () => {
  expect([...Object.keys(CASES), ...OF_ALGORITHMS_ALONE].sort()).toEqual(Object.keys(REASONS).sort());
});

/** Of blocks and patches in the cases. */
const IDS = ownWords('grey orange lamp');

describe.each(Object.entries(CASES))('the reason %s', (code, [make, words]) => {
  test(`reads "${words}"`, () => {
    const value = make();
    if (value.ok) throw new Error(`${value.v}`);
    expect(value.why.code).toBe(code);
    expect(fill(REASONS[code as Reason], value.why.args)).toBe(words);
    expect(unsaid(PSEUDO(REASONS[code as Reason], value.why.args), IDS)).toEqual([]);
  });
});

describe('a missing row', () => {
  const run = result(
    table('saturation s', 'hue sat Y x y', [
      ['red', 25, 20, 0.4, 0.33],
      ['red', 50, 20, 0.5, 0.33],
      ['blue', 50, 20, 0.2, 0.2],
    ]),
  );
  const words = (name: string, of = run) => {
    const value = valueIn(of, name);
    return value.ok ? 'there' : fill(REASONS[value.why.code as Reason], value.why.args);
  };
  test('names those of its hue, else all', () => {
    expect(words('de@red,75')).toBe('there is no row red,75 (there is red,25; red,50)');
    expect(words('de@green,75')).toBe('there is no row green,75 (there is red,25; red,50; blue,50)');
  });
  test('names the nearest by the first of its numbers', () => {
    const codes = result(
      table('patches codes', 'R G B Y x y', [
        [20, 30, 40, 20, 0.3, 0.33],
        [90, 30, 40, 20, 0.3, 0.33],
        [10, 30, 40, 20, 0.3, 0.33],
      ]),
    );
    expect(words('de@15,30,40', codes)).toBe('there is no row 15,30,40 (there is 10,30,40; 20,30,40)');
    const open = table('angles side', 'angle Y', [
      ['y', 5],
      [0, 9],
      [45, 3],
    ]);
    expect(words('kept@60', result(open))).toBe('there is no row 60 (there is 0; 45)');
  });
  test('is one by value, not by its digits', () => {
    expect(words('de@red,50.0')).toBe('there');
    expect(words('de@red,5e1')).toBe('there');
    expect(words('de@red,')).toBe('there is no row red, (there is red,25; red,50)');
  });
});

describe('a row with a word where a number says what was read', () => {
  const worded = (column: number) => GRID_ROWS.map((row, i) => (i === 3 ? row.map((cell, at) => (at === column ? 'left' : cell)) : row));

  test('is no place of a grid: the hole that it leaves is called by numbers', () => {
    for (const column of [0, 1]) {
      const found = of(grid(worded(column)), 'worst');
      expect(!found.ok && found.why, `column ${column}`).toEqual({ code: 'grid-hole', args: { row: 2, column: 1 } });
    }
  });

  test('leaves a grid that is whole without it', () => {
    const more = grid([...GRID_ROWS, ['left', 1, 50]]);
    expect(of(more, 'worst')).toEqual(of(grid(), 'worst'));
    expect(whyNot(of(more, 'share@left,1'))).toBe('row-open');
  });

  test('has no illuminance that could be a negative one', () => {
    expect(whyNot(of(lit([...LIT, ['black', 'dim', 1]]), 'contrast@dim'))).toBe('row-open');
  });
});

describe('whites and blacks that are lent', () => {
  const white = [100, 100, 0.3127, 0.329] as const;

  test('come from the one greyscale of the mode and signal that has a white: a near-black run beside it is none', () => {
    const runs = [colours, twin('full', [50, 20, 0.3127, 0.329], [...white]), twin('near-black', [0, 0.05], [2, 0.06])].join('\n');
    const run = result(runs, { target: P24 }, 'colours');
    expect(run.absent).toBeUndefined();
    expect(run.againstText()).toContain('white 100 cd/m² (read in full)');
  });

  test('come from the run itself before any greyscale', () => {
    const own = table('patches colours', 'R G B Y x y', [
      [100, 100, 100, 90, 0.3127, 0.329],
      [50, 50, 50, 20, 0.3127, 0.329],
    ]);
    expect(result([own, twin('full', [...white])].join('\n'), { target: P24 }, 'colours').againstText()).toContain(
      '90 cd/m² (read in colours)',
    );
  });

  test('come from the white row of a saturation run, which is no colour of it', () => {
    const run = result(
      table('saturation s', 'hue sat Y x y', [
        ['white', 0, 80, 0.29, 0.3],
        ['red', 100, 17, 0.64, 0.33],
      ]),
      { target: P24 },
    );
    expect(run.againstText()).toContain('white 80 cd/m² (read in s)');
    const [average, red] = [valueIn(run, 'de.avg'), valueIn(run, 'de@red,100')];
    expect(average).toEqual(red);
    expect(valueIn(run, 'de@white,0')).toMatchObject({ ok: true });
  });

  test('are none where the meter could not see the whole of the white', () => {
    const run = result(grey([50, 20, 0.3127, 0.329], [100, '>100', '-', '-']), { target: P24 });
    expect(run.absent?.why.code).toBe('no-white');
  });

  test('black comes with the white where the lender has one', () => {
    const target = 'space: bt709\ncurve: power 2.4 over black';
    const runs = [colours, twin('full', [0, 0.04], [...white]), twin('near-black', [0, 0.05], [2, 0.06])].join('\n');
    expect(result(runs, { target }, 'colours').againstText()).toContain('black 0.04 cd/m² (read in full)');
  });
});
