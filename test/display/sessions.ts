import { Bench, p3InBt2020, type Setup, steps } from './bench';
import { type Block, type Properties, sessionText } from './layout';
import { between, map, pqSignal, spaces, type Triple, times } from './light';
import { filterMeter, spectroMeter } from './meter';
import { aurora, meadow, type Panel } from './panels';
import { pictureOf, shippedPicture } from './screen';
import { codeOf, type Link } from './signal';
import { spectraRows } from './spectra';

export const ten: Link = { range: 'limited', depth: 10 };
export const automaticOff = 'ambient sensor off, energy saving off, dynamic contrast off, dynamic tone mapping off';

/** Colours of our own choice, as 8-bit full-range codes: skins, plants, earths, skies, cloths and greys. */
const colours: Readonly<Record<string, Triple>> = {
  white: [255, 255, 255],
  'skin-pale': [236, 200, 180],
  'skin-tan': [198, 146, 112],
  'skin-deep': [104, 68, 54],
  sky: [120, 168, 214],
  sea: [36, 104, 132],
  leaf: [84, 118, 52],
  moss: [106, 112, 64],
  grass: [124, 168, 60],
  brick: [158, 70, 54],
  rust: [186, 96, 40],
  sand: [214, 190, 146],
  wheat: [228, 206, 112],
  plum: [94, 48, 88],
  lilac: [178, 158, 206],
  rose: [214, 112, 134],
  cherry: [170, 32, 48],
  lemon: [238, 222, 66],
  teal: [40, 140, 134],
  ink: [38, 44, 92],
  slate: [92, 104, 116],
  'grey-40': [102, 102, 102],
  'grey-70': [179, 179, 179],
};

/** Mastering peaks that both displays are told, cd/m². */
const MASTERING = [1000, 4000, 10_000] as const;
/** HDR reference white first and last, by which runs are compared. */
const TRACKED = [58, ...steps(0, 100, 5), 58];
/** Levels at which the field is looked over, per cent. */
const UNIFORM = [5, 50, 100] as const;
/** PQ signal in the BT.2020 container of a colour of P3 whose white has 200 cd/m². */
const p3At = (colour: Triple): Triple => map(times(between(spaces.p3, spaces.bt2020), colour), (n) => pqSignal(200 * Math.max(0, n)));

interface Day {
  readonly panel: Panel;
  readonly seed: string;
  readonly minutesOn: number;
  readonly head: readonly Block[];
  /** Settings as shipped, and what adjusting changed. */
  readonly shipped: Properties;
  readonly adjusted: Properties;
  readonly hdr: Properties;
  readonly target: { readonly name: string; readonly properties: Properties; readonly exponent: number };
  /** The 8-bit link that the colour patches and the near-black levels are sent by. */
  readonly eight: { readonly name: string; readonly link: Link };
  readonly mastering: number;
  /** Seconds after which a white that stands still is read. */
  readonly held: readonly number[];
  /** Whether the reference side of the meter's correction is read as colours or as spectra. */
  readonly reference: 'colours' | 'spectra';
  readonly limits?: Properties;
  readonly observations: Properties;
  readonly remarks: readonly string[];
}

function day(plan: Day): string {
  const { panel, target, eight } = plan;
  const bench = new Bench({ ...plan, meter: filterMeter });
  const hdrSignal = `hdr-${plan.mastering}`;
  const setup = (settings: Properties, link = ten): Setup => ({ picture: pictureOf(panel, settings), link, exponent: target.exponent });
  const cinema = plan.shipped;
  const tuned = { ...plan.shipped, ...plan.adjusted };
  // The curve of an HDR picture is the signal's: its mode takes the gamma settings out.
  const hdrSettings = Object.fromEntries(Object.entries({ ...cinema, ...plan.hdr }).filter(([, value]) => value !== '~'));
  const hdr: Setup = {
    picture: pictureOf(panel, hdrSettings, { ...shippedPicture(panel, 'hdr'), mastering: plan.mastering }),
    link: ten,
  };

  const levels = [100, ...steps(0, 100, 5)];
  const nearBlack = [100, ...steps(0, 10, 1)];
  const codes = Object.fromEntries(Object.entries(colours).map(([name, rgb]) => [name, map(rgb, (n) => codeOf(n / 255, eight.link))]));
  const reading = ['Y', 'x', 'y'];
  const codeColumns = ['patch', 'R[8bit]', 'G[8bit]', 'B[8bit]', ...reading];

  const runs: Block[] = [
    {
      header: 'greyscale grey "As shipped"',
      properties: { mode: 'cinema', target: target.name, meter: 'probe', signal: 'sdr', settle: '3 s' },
      columns: ['level', ...reading],
      rows: bench.run('grey').greyscale(setup(cinema), levels),
    },
    {
      header: 'saturation sat "As shipped" like grey',
      properties: { stimulus: '75 %' },
      columns: ['hue', 'sat', ...reading],
      rows: bench.run('sat').saturation(setup(cinema), 75, [25, 50, 75, 100]),
    },
    {
      header: 'patches colours "As shipped" like grey',
      properties: { signal: eight.name },
      columns: codeColumns,
      rows: bench.run('colours').patches(setup(cinema, eight.link), codes),
    },
    {
      header: 'gamut gamut-709 like grey',
      columns: ['patch', ...reading],
      rows: bench.run('gamut-709').gamut(setup(cinema), (colour) => colour),
    },
    {
      header: 'contrast contrast-sdr like grey',
      properties: { signal: 'sdr-field' },
      columns: ['patch', 'Y'],
      rows: bench.run('contrast-sdr').contrast(setup(cinema)),
    },
    {
      header: 'greyscale grey-tuned "As adjusted" like grey',
      properties: { mode: 'cinema-tuned' },
      columns: ['level', ...reading],
      rows: bench.wait(25).run('grey-tuned').greyscale(setup(tuned), levels),
    },
    {
      header: 'greyscale near-black "As adjusted" like grey-tuned',
      properties: { signal: eight.name },
      columns: ['level', ...reading],
      rows: bench.run('near-black').greyscale(setup(tuned, eight.link), nearBlack),
    },
    {
      header: 'saturation sat-tuned "As adjusted" like sat',
      properties: { mode: 'cinema-tuned' },
      columns: ['hue', 'sat', ...reading],
      rows: bench.run('sat-tuned').saturation(setup(tuned), 75, [25, 50, 75, 100]),
    },
    {
      header: 'patches colours-tuned "As adjusted" like colours',
      properties: { mode: 'cinema-tuned' },
      columns: codeColumns,
      rows: bench.run('colours-tuned').patches(setup(tuned, eight.link), codes),
    },
    {
      header: 'gamut gamut-p3 "P3 in BT.2020"',
      properties: { mode: 'cinema-hdr', target: 'p3', meter: 'probe', signal: hdrSignal, stimulus: '100 %' },
      columns: ['patch', ...reading],
      rows: bench.wait(10).run('gamut-p3').gamut(hdr, p3InBt2020),
    },
    {
      header: 'window hdr-window "Peak by area"',
      properties: { mode: 'cinema-hdr', target: 'hdr', meter: 'probe', signal: hdrSignal, stimulus: '100 %' },
      columns: ['window', 'Y'],
      rows: bench.run('hdr-window').windows(hdr, [1, 2, 5, 10, 18, 25, 50, 75, 100]),
    },
  ];

  const mastered = (peak: number): Setup => ({ ...hdr, picture: { ...hdr.picture, mastering: peak } });
  const field = { mode: 'cinema-tuned', signal: 'sdr-field' };
  const [lowest, ...others] = MASTERING.filter((peak) => peak !== plan.mastering);
  const masteringRuns = [plan.mastering, lowest!, ...others];
  const trackingId = (peak: number) => `track-${peak}`;
  const whites = { white: p3At([1, 1, 1]), red: p3At([1, 0, 0]), green: p3At([0, 1, 0]), blue: p3At([0, 0, 1]) };
  const pairColours = {
    ...whites,
    yellow: p3At([1, 1, 0]),
    cyan: p3At([0, 1, 1]),
    magenta: p3At([1, 0, 1]),
    grey: p3At([0.2, 0.2, 0.2]),
    sand: p3At([1, 0.55, 0.35]),
  };
  const bySpectra = plan.reference === 'spectra';

  bench.wait(10);
  const hdrRuns: Block[] = [
    ...masteringRuns.map(
      (peak, i): Block => ({
        header: `tracking ${trackingId(peak)} "Mastered at ${peak} cd/m²"${i === 0 ? '' : ` like ${trackingId(plan.mastering)}`}`,
        properties: i === 0 ? { mode: 'cinema-hdr', target: 'hdr', meter: 'probe', signal: hdrSignal } : { signal: `hdr-${peak}` },
        columns: ['level', ...reading],
        rows: bench.run(trackingId(peak)).greyscale(mastered(peak), TRACKED),
      }),
    ),
    {
      header: `contrast contrast-hdr like ${trackingId(plan.mastering)}`,
      columns: ['patch', 'Y'],
      rows: bench
        .run('contrast-hdr')
        .contrast({ ...hdr, window: 0.1 })
        .slice(0, 2),
    },
    {
      header: `endurance hold "White that stands still" like ${trackingId(plan.mastering)}`,
      properties: { stimulus: '100 %' },
      columns: ['t[s]', 'Y'],
      rows: bench.wait(10).run('hold').endurance(hdr, plan.held),
    },
  ];
  const placeRuns: Block[] = UNIFORM.map(
    (level): Block => ({
      header: `uniformity field-${level} "${level} % grey"`,
      properties: { ...field, target: target.name, meter: 'probe', level: `${level} %` },
      columns: ['row', 'col', ...reading],
      rows: bench.wait(2).run(`field-${level}`).uniformity(setup(tuned), level, 5, 5),
    }),
  );
  const restRuns: Block[] = [
    {
      header: 'angles side "To the side, 80 % grey"',
      properties: { mode: 'cinema-tuned', target: target.name, meter: 'probe', signal: 'sdr', level: '80 %' },
      columns: ['angle', ...reading],
      rows: bench.run('side').angles(setup(tuned), 80, [-60, -45, -30, -15, 0, 15, 30, 45, 60]),
    },
    {
      header: 'volume solid like side',
      properties: { level: '~' },
      columns: ['R', 'G', 'B', ...reading],
      rows: bench.run('solid').volume(setup(tuned), [0, 50, 100]),
    },
    {
      header: 'repeats again "The meter on a steady grey" like side',
      properties: { level: '50 %' },
      columns: ['patch', ...reading],
      rows: bench.run('again').repeats(setup(tuned), 'grey-50', 50, 10),
    },
    {
      header: 'reflectance daylight "Under light from the side"',
      properties: { ...field, target: target.name, meter: 'probe' },
      columns: ['patch', 'illuminance', 'Y'],
      rows: bench.run('daylight').reflectance(setup(tuned), [0, 100, 300]),
    },
    {
      header: 'lag delay "Game mode off"',
      properties: { mode: 'cinema-tuned', target: target.name, meter: 'clock', signal: 'sdr' },
      columns: ['place', 'lag[ms]'],
      rows: bench.run('delay').lag(5),
    },
    {
      header: 'power draw like delay',
      properties: { meter: 'plug', signal: 'sdr-field' },
      columns: ['patch', 'power'],
      rows: bench.run('draw').power(setup(tuned), { white: 100, 'grey-50': 50, black: 0 }),
    },
    {
      header: 'spectrum spd "Colours at 200 cd/m², mW/(sr·m²·nm)"',
      properties: { mode: 'cinema-hdr', target: 'hdr', meter: 'spectro', signal: hdrSignal },
      columns: ['nm', ...Object.keys(bySpectra ? pairColours : whites)],
      rows: spectraRows(
        panel,
        Object.values(bySpectra ? pairColours : whites).map((rgb) => bench.shown(hdr, rgb)),
      ),
    },
  ];
  const correction: Block = {
    header: 'correction probe-fix "For Cinema HDR"',
    properties: { meter: 'probe', reference: 'spectro', mode: 'cinema-hdr', ...(bySpectra ? { spectra: 'spd' } : {}) },
    columns: ['patch', ...(bySpectra ? [] : ['ref.Y', 'ref.x', 'ref.y']), ...reading],
    rows: bench
      .run('probe-fix')
      .pairs(hdr, pairColours, spectroMeter)
      .map(([name, ...cells]) => [name!, ...(bySpectra ? cells.slice(3) : cells)]),
  };

  // Read last and written beside its kind.
  const hlgRun: Block = {
    header: 'tracking track-hlg "HLG, peak of the display"',
    properties: { mode: 'cinema-hdr', target: 'hlg', meter: 'probe', signal: 'hlg-10bit' },
    columns: ['level', ...reading],
    rows: bench.run('track-hlg').greyscale({ ...hdr, picture: { ...hdr.picture, transfer: 'hlg' } }, [75, ...steps(0, 100, 5), 75]),
  };

  const pc = eight.link.range === 'full';
  const head: Block[] = [
    ...plan.head,
    {
      header: 'meter probe "Tripod colorimeter"',
      properties: {
        kind: 'colorimeter',
        checked: '2025-11-02',
        floor: '0.003 cd/m2',
        spread: '0.0004 xy, 0.5 %',
        accuracy: '0.002 xy, 2 %',
      },
    },
    { header: 'meter spectro "Reference"', properties: { kind: 'spectroradiometer', checked: '2025-09-18', floor: '0.05 cd/m2' } },
    { header: 'meter clock "Light sensor at the screen"', properties: { kind: 'light sensor' } },
    { header: 'meter plug "Power meter at the socket"', properties: { kind: 'power meter' } },
    { header: 'signal sdr', properties: { range: 'limited', depth: '10', container: 'bt709', window: '10 %' }, apart: true },
    { header: 'signal sdr-field from sdr', properties: { window: '100 %' } },
    { header: `signal ${eight.name} from sdr`, properties: pc ? { range: 'full', depth: '8' } : { depth: '8' } },
    {
      header: `signal ${hdrSignal}`,
      properties: { range: 'limited', depth: '10', container: 'bt2020', window: '10 %', 'mastering-peak': `${plan.mastering} cd/m2` },
    },
    ...masteringRuns.slice(1).map((peak) => ({
      header: `signal hdr-${peak} from ${hdrSignal}`,
      properties: { 'mastering-peak': `${peak} cd/m2` },
    })),
    { header: 'signal hlg-10bit', properties: { range: 'limited', depth: '10', container: 'bt2020', window: '10 %' } },
    {
      header: 'mode cinema "Cinema, as shipped"',
      properties: {
        '.input': 'HDMI #2',
        '.scope': 'HDMI 2, SDR, 60 Hz',
        '.preset': 'Cinema',
        '.automatic': automaticOff,
        ...plan.shipped,
      },
      apart: true,
    },
    { header: 'mode cinema-tuned "Cinema, as adjusted" from cinema', properties: plan.adjusted },
    {
      header: 'mode cinema-hdr "Cinema HDR, as shipped" from cinema',
      properties: { '.scope': 'HDMI 2, HDR, 60 Hz', '.preset': 'Cinema HDR', ...plan.hdr },
    },
    { header: `target ${target.name}`, properties: target.properties, apart: true },
    { header: 'target p3', properties: { space: 'p3-d65', curve: 'pq', white: 'd65' } },
    { header: 'target hdr', properties: { space: 'bt2020', curve: 'pq', white: 'd65' } },
    { header: 'target hlg', properties: { space: 'bt2020', curve: 'hlg', white: 'd65' } },
    ...(plan.limits ? [{ header: 'limits', properties: plan.limits }] : []),
  ];
  const observations: Block = {
    header: 'observations',
    properties: { '.mode': 'cinema-tuned', '.distance': '2.4 m', ...plan.observations },
    notes: plan.remarks,
    apart: true,
  };
  const all = [...runs, ...hdrRuns, hlgRun, ...placeRuns, ...restRuns, correction];
  return sessionText([...head, ...all.map((run) => ({ ...run, apart: true })), observations]);
}

/** Settings both displays of the maker show in the same menu. */
export const cinemaSettings = {
  'Picture / Contrast': '90',
  'Picture / Black level': '50',
  'Picture / Sharpness': '0',
  'Picture / Aspect 16:9': 'Full',
  'Colour / Saturation': '50',
  'Colour / Hue': '0',
  'Colour / Gamut': 'Auto',
  'White / Temperature': 'Warm 2',
  'White / Gain red': '0',
  'White / Gain green': '0',
  'White / Gain blue': '0',
  'White / Offset red': '0',
  'White / Offset green': '0',
  'White / Offset blue': '0',
  'Motion / Smoothing': 'off',
  'Noise / Grain filter': 'off',
};

export const auroraHead: readonly Block[] = [
  {
    header: 'session 2026-03-14',
    properties: { title: 'Halden Aurora 55, bench day', room: '0.02 lx at the screen, 21 °C', 'warm-up': '45 min' },
  },
  {
    header: 'display aurora "Halden Aurora 55"',
    properties: {
      maker: 'Halden',
      size: '55 in',
      panel: 'self-lit, white emitter',
      resolution: '3840 x 2160',
      firmware: '2.14.8',
      unit: 'retail, sealed, on loan',
      hours: '61',
      price: '1899 GBP',
    },
  },
];

export const auroraCinema = { 'Picture / Light output': '38', 'Picture / Gamma': '2.4', ...cinemaSettings };

export const auroraDay = (): string =>
  day({
    panel: aurora,
    seed: 'aurora-55 2026-03-14',
    minutesOn: 45,
    head: auroraHead,
    shipped: auroraCinema,
    adjusted: {
      'Picture / Light output': '39',
      'Colour / Gamut': 'BT.709',
      'White / Gain red': '0',
      'White / Gain blue': '-14',
      'White / Offset red': '-3',
      'White / Offset blue': '3',
    },
    hdr: { 'Picture / Light output': '100', 'Picture / Gamma': '~' },
    target: { name: 'dark', properties: { space: 'bt709', curve: 'power 2.4', white: 'd65', luminance: '120 cd/m2' }, exponent: 2.4 },
    eight: { name: 'pc', link: { range: 'full', depth: 8 } },
    mastering: 4000,
    held: [0, 10, 20, 30, 60, 90, 120, 180, 300, 450, 600, 750, 900],
    reference: 'colours',
    limits: { 'greyscale.de.max': 'aim 1, limit 3' },
    observations: {
      'Banding, dark sky': 'slight, vertical and only on a 5 % grey field',
      'Near-black flicker': 'none',
      'Halo round subtitles': 'not applicable, no zones',
      'Dirty screen, panning pitch': 'none',
      'Motion, panning titles': 'slight, stutter at 24 fps',
      'Picture from the side': 'slight, a green cast beyond 50°',
      'Scaling, standard definition': 'pass',
      'PLUGE, bars under black': 'pass',
      'Reflections, window behind': 'clear, purple tint in daylight',
    },
    remarks: ['Looked at in the dark room after the adjusted greyscale.'],
  });

export const meadowDay = (): string =>
  day({
    panel: meadow,
    seed: 'meadow-65 2026-04-21',
    minutesOn: 60,
    head: [
      {
        header: 'session 2026-04-21',
        properties: { title: 'Halden Meadow 65, bench day', room: '0.02 lx at the screen, 22 °C', 'warm-up': '60 min' },
      },
      {
        header: 'display meadow "Halden Meadow 65"',
        properties: {
          maker: 'Halden',
          size: '65 in',
          panel: 'backlit, zone dimming',
          resolution: '3840 x 2160',
          firmware: '1.08.3',
          unit: 'retail, bought',
          hours: '18',
          price: '1249 GBP',
        },
      },
    ],
    shipped: {
      'Picture / Light output': '24',
      'Picture / Zone dimming': 'Medium',
      'Picture / Gamma': '2.2',
      'Picture / Gamma fine': '0',
      ...cinemaSettings,
    },
    adjusted: {
      'Picture / Gamma fine': '-5',
      'Colour / Gamut': 'BT.709',
      'White / Gain red': '8',
      'White / Gain blue': '-16',
      'White / Offset red': '-3',
      'White / Offset blue': '3',
    },
    hdr: { 'Picture / Light output': '100', 'Picture / Zone dimming': 'High', 'Picture / Gamma': '~', 'Picture / Gamma fine': '~' },
    target: { name: 'dim', properties: { space: 'bt709', curve: 'power 2.2', white: 'd65' }, exponent: 2.2 },
    eight: { name: 'sdr-8bit', link: { range: 'limited', depth: 8 } },
    mastering: 1000,
    held: [0, 30, 60, 120, 300, 600, 900, 1500, 2400, 3000, 3600],
    reference: 'spectra',
    observations: {
      'Banding, dark sky': 'none',
      'Near-black flicker': 'none',
      'Halo round subtitles': 'clear, widest with white text low in the picture',
      'Dirty screen, panning pitch': 'slight',
      'Motion, panning titles': 'slight',
      'Picture from the side': 'strong, black lifts from 20° on',
      'Scaling, standard definition': 'pass',
      'PLUGE, bars under black': 'pass',
      'Reflections, window behind': 'slight',
    },
    remarks: [],
  });
