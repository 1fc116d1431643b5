/** Sessions that ask for what cannot be computed, as a stranger would type them: the runs, the figure, why not, and the finding. */
export interface RefusalCase {
  readonly what: string;
  readonly runs: string;
  /** What `nitbook value` is asked for, and the reason it gives after "not computed: ". */
  readonly asked: string;
  readonly reason: string;
  /** What `nitbook check` says of it. */
  readonly finding: string;
}

const HEAD = `nitbook 1

session 2026-03-14
display
  firmware: 1.0
meter probe
  floor: 0.003 cd/m2
  spread: 0.0004 xy, 0.5 %
meter spectro
  kind: spectroradiometer
signal sdr
  range: limited
  depth: 10
  container: bt2020
  window: 10 %
mode cinema
  .automatic: ambient sensor off, energy saving off, dynamic contrast off, dynamic tone mapping off
target dark
  space: bt709
  curve: power 2.4
  white: d65
  luminance: 120 cd/m2
`;

export const sessionOf = ({ runs }: RefusalCase): string => `${HEAD}${runs}\n`;

const WHITE = 'white  100  0.3127  0.3290  101  0.3120  0.3300';
const PAIRS = `    red    20   0.640   0.330   21   0.638   0.331
    green  70   0.300   0.600   71   0.302   0.598`;
const CORRECTION = `correction fix
  meter: probe
  reference: spectro
    patch  ref.Y  ref.x  ref.y  Y  x  y`;

export const REFUSED: readonly RefusalCase[] = [
  {
    what: 'tracking held against a power curve',
    runs: 'tracking hdr\n  meter: probe\n    level  Y\n    10  0.5\n    50  23\n    100  120',
    asked: 'hdr.bias',
    reason: 'it holds for PQ and HLG targets only, and the target is power 2.4',
    finding: 'not-computed',
  },
  {
    what: 'the peak of a window that was not read',
    runs: 'limits\n  window.peak@10: limit 500\nwindow w\n  meter: probe\n    window  Y\n    2  800\n    25  500',
    asked: 'w.peak@10',
    reason: 'there is no row 10 (there is 2; 25)',
    finding: 'limit-row',
  },
  {
    what: 'a grid with a hole',
    runs: 'uniformity field\n  meter: probe\n    row  col  Y\n    1  1  95\n    1  2  98\n    2  1  97',
    asked: 'field.nonuniformity',
    reason: 'the grid has no reading in row 2, column 2',
    finding: 'grid-hole',
  },
  {
    what: 'a correction of three colours',
    runs: `${CORRECTION}\n    ${WHITE}\n${PAIRS}`,
    asked: 'fix.condition',
    reason: 'the four-colour method needs white, red, green and blue from both meters; there is no blue',
    finding: 'correction-refused',
  },
  {
    what: 'a correction whose white lies outside the triangle',
    runs: `${CORRECTION}\n    white  100  0.5  0.15  101  0.3120  0.3300\n${PAIRS}\n    blue  7  0.15  0.06  7.2  0.151  0.061`,
    asked: 'fix.condition',
    reason: 'white lies outside the triangle of red, green and blue of the reference meter',
    finding: 'correction-refused',
  },
  {
    what: 'time that goes backwards',
    runs: 'endurance hold\n  meter: probe\n    t[s]  Y\n    0  800\n    120  780\n    60  790\n    600  700',
    asked: 'hold.after@10min',
    reason: 'time runs forward from row to row, and 60 s comes after 120 s',
    finding: 'time-backwards',
  },
  {
    what: 'wavelengths that do not rise',
    runs: 'spectrum s\n  meter: spectro\n    nm  white\n    500  1\n    510  2\n    505  1\n    520  1',
    asked: 's.x@white',
    reason: 'wavelengths rise from row to row, and 505 nm does not',
    finding: 'wavelength-order',
  },
  {
    what: 'wavelengths that no eye sees',
    runs: 'spectrum s\n  meter: spectro\n    nm  white\n    350  1\n    500  2\n    600  1',
    asked: 's.x@white',
    reason: '350 nm lies outside 360 to 830 nm',
    finding: 'wavelength-range',
  },
  {
    what: 'wavelengths beyond the red end',
    runs: 'spectrum s\n  meter: spectro\n    nm  white\n    500  1\n    600  2\n    831  1',
    asked: 's.x@white',
    reason: '831 nm lies outside 360 to 830 nm',
    finding: 'wavelength-range',
  },
  {
    what: 'a correction by spectra that do not rise',
    runs: `spectrum spd
  meter: spectro
    nm  white  red  green  blue
    450  1  0  0  1
    440  2  0  0  1
    540  3  0  1  0
    620  3  1  0  0
correction fix
  meter: probe
  reference: spectro
  spectra: spd
    patch  Y  x  y
    white  101  0.3120  0.3300
    red  21  0.638  0.331
    green  71  0.302  0.598
    blue  7.2  0.151  0.061`,
    asked: 'fix.condition',
    reason: 'wavelengths rise from row to row, and 440 nm does not',
    finding: 'correction-refused',
  },
  {
    what: 'a deviation of one reading',
    runs: 'lag l\n  meter: probe\n    place  lag[ms]\n    top  12',
    asked: 'l.sd',
    reason: 'a single reading says nothing of its scatter',
    finding: 'not-computed',
  },
  {
    what: 'coverage of BT.2020 by patches driven in P3',
    runs: `limits
  gamut.coverage.bt2020.uv: limit 60
target p3
  space: p3-d65
  curve: pq
gamut g
  target: p3
  meter: probe
    patch  Y  x  y
    red  20  0.68  0.32
    green  70  0.265  0.69
    blue  8  0.15  0.06`,
    asked: 'g.coverage.bt2020.uv',
    reason: 'the patches were driven in P3, D65 white, which does not hold BT.2020: what the display could show of it was not seen',
    finding: 'gamut-driven-narrow',
  },
];
