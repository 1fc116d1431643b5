import { NO_CONFIG } from '../../src/config/config';
import { type Analysis, analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { Bench, p3InBt2020, type Rows, type Setup, steps } from '../display/bench';
import { type Block, sessionText } from '../display/layout';
import { map, type Triple } from '../display/light';
import { aurora, meadow, type Panel } from '../display/panels';
import { type Picture, pictureOf, shippedPicture } from '../display/screen';
import { auroraCinema, automaticOff, cinemaSettings } from '../display/sessions';
import { codeOf, type Link } from '../display/signal';

export const reading = ['Y', 'x', 'y'] as const;
export const TWENTY_ONE = steps(0, 100, 5);

/** A display as a reader meets it: one panel, in one state. */
export interface Subject {
  readonly name: string;
  readonly panel: Panel;
  readonly picture: Picture;
  readonly exponent: number;
}

const adjusted = {
  [aurora.name]: {
    'Picture / Light output': '39',
    'Colour / Gamut': 'BT.709',
    'White / Gain red': '-5',
    'White / Gain blue': '-14',
    'White / Offset red': '-3',
    'White / Offset blue': '3',
  },
  [meadow.name]: {
    'Picture / Gamma fine': '-5',
    'Colour / Gamut': 'BT.709',
    'White / Gain red': '3',
    'White / Gain blue': '-15',
    'White / Offset red': '-3',
    'White / Offset blue': '3',
  },
};

const shipped = {
  [aurora.name]: auroraCinema,
  [meadow.name]: { 'Picture / Light output': '24', 'Picture / Gamma': '2.2', 'Picture / Gamma fine': '0', ...cinemaSettings },
};

const subject = (panel: Panel, name: string, changes: Readonly<Record<string, string>>): Subject => ({
  name: `${panel.name}, ${name}`,
  panel,
  picture: pictureOf(panel, { ...shipped[panel.name], ...changes }),
  exponent: panel === aurora ? 2.4 : 2.2,
});

/** Both panels as shipped, as adjusted, and set so that near-black is raised or crushed, or that the curve is not that of the target. */
export const SUBJECTS: readonly Subject[] = [aurora, meadow].flatMap((panel) => [
  subject(panel, 'as shipped', {}),
  subject(panel, 'as adjusted', adjusted[panel.name]!),
  subject(panel, 'near-black raised', { 'White / Offset red': '30', 'White / Offset green': '30', 'White / Offset blue': '30' }),
  subject(panel, 'near-black crushed', { 'White / Offset red': '-30', 'White / Offset green': '-30', 'White / Offset blue': '-30' }),
  subject(panel, 'gamma 1.8', { 'Picture / Gamma': '1.8' }),
  subject(panel, 'gamma 2.8', { 'Picture / Gamma': '2.8' }),
  subject(panel, 'a strong tint', { 'White / Gain red': '-40', 'White / Gain blue': '40' }),
]);

export const TEN: Link = { range: 'limited', depth: 10 };
export const EIGHT: Link = { range: 'limited', depth: 8 };

const COLOURS: Readonly<Record<string, Triple>> = {
  white: [255, 255, 255],
  black: [0, 0, 0],
  skin: [198, 146, 112],
  deep: [104, 68, 54],
  sky: [120, 168, 214],
  leaf: [84, 118, 52],
  cherry: [170, 32, 48],
  ink: [38, 44, 92],
  night: [12, 10, 16],
  'dark-red': [40, 2, 4],
  'dark-blue': [3, 2, 38],
  red: [255, 0, 0],
  green: [0, 255, 0],
  blue: [0, 0, 255],
};

export const setupOf = (of: Subject, link: Link = TEN): Setup => ({ picture: of.picture, link, exponent: of.exponent });

/** Runs of every kind that suspicions speak of, without a mistake in them. */
export function cleanRuns(of: Subject, seed: string): readonly Block[] {
  const bench = new Bench({ panel: of.panel, seed: `${of.name} ${seed}`, minutesOn: 60 });
  const setup = setupOf(of);
  const eight = setupOf(of, EIGHT);
  const codes = Object.fromEntries(Object.entries(COLOURS).map(([name, rgb]) => [name, map(rgb, (n) => codeOf(n / 255, EIGHT))]));
  const hdr: Setup = { picture: shippedPicture(of.panel, 'hdr'), link: TEN };
  const run = (header: string, columns: readonly string[], rows: Rows, properties = {}): Block => ({ header, properties, columns, rows });
  return [
    run('greyscale grey', ['level', ...reading], bench.run('grey').greyscale(setup, [100, ...TWENTY_ONE])),
    run('greyscale repeats', ['level', ...reading], bench.run('repeats').greyscale(setup, [0, 5, 5, 5, 20, 20, 50, 50, 100, 100, 100]), {
      mode: 'other',
    }),
    run('greyscale near-black', ['level', ...reading], bench.run('near-black').greyscale(eight, [100, ...steps(0, 10, 1)]), {
      signal: 'eight',
    }),
    run('saturation sat', ['hue', 'sat', ...reading], bench.run('sat').saturation(setup, 75, [0, 25, 50, 75, 100]), { stimulus: '75 %' }),
    run('patches colours', ['patch', 'R[8bit]', 'G[8bit]', 'B[8bit]', ...reading], bench.run('colours').patches(eight, codes), {
      signal: 'eight',
    }),
    run(
      'gamut gamut',
      ['patch', ...reading],
      bench.run('gamut').gamut(setup, (colour) => colour),
    ),
    run('greyscale pq', ['level', ...reading], bench.run('pq').greyscale(hdr, TWENTY_ONE), {
      target: 'pq-2020',
      signal: 'hdr-1000',
      mode: 'film',
    }),
    run('gamut p3', ['patch', ...reading], bench.run('p3').gamut(hdr, p3InBt2020), { target: 'pq-p3', signal: 'hdr-1000', mode: 'film' }),
    run('window peak', ['window', 'Y'], bench.run('peak').windows(hdr, [1, 2, 5, 10, 18, 25, 50, 75, 100]), {
      target: 'pq-2020',
      signal: 'hdr-1000',
      mode: 'film',
    }),
    run('contrast fields', ['patch', 'Y'], bench.run('dark').contrast(setup)),
  ];
}

/** A session of one mode and signal per kind of picture, held against the target that was aimed at. */
export function sessionOf(of: Pick<Subject, 'exponent'>, runs: readonly Block[], sdr: Link = TEN): string {
  const signal = (link: Link) => ({ range: link.range, depth: `${link.depth}`, container: 'bt709', window: '10 %' });
  const usual = { mode: 'cinema', target: 'dark', signal: 'ten', meter: 'probe' };
  return sessionText([
    { header: 'session 2026-03-14' },
    { header: 'display', properties: { firmware: '1.0' } },
    { header: 'meter probe', properties: { floor: '0.003 cd/m2', spread: '0.0004 xy, 0.5 %' } },
    { header: 'signal ten', properties: signal(sdr) },
    { header: 'signal eight', properties: signal(EIGHT) },
    { header: 'signal hdr-1000', properties: { range: 'limited', depth: '10', container: 'bt2020', 'mastering-peak': '1000 cd/m2' } },
    { header: 'mode cinema', properties: { '.automatic': automaticOff } },
    { header: 'mode other', properties: { '.automatic': automaticOff } },
    { header: 'mode film', properties: { '.automatic': automaticOff } },
    { header: 'target dark', properties: { space: 'bt709', curve: `power ${of.exponent}`, white: 'd65' } },
    { header: 'target pq-2020', properties: { space: 'bt2020', curve: 'pq', white: 'd65' } },
    { header: 'target pq-p3', properties: { space: 'p3-d65', curve: 'pq', white: 'd65' } },
    ...runs.map((run) => ({ ...run, properties: { ...usual, ...run.properties } })),
  ]);
}

export const analysed = (text: string): Analysis => analyse(SessionText.read(text), NO_CONFIG);

/** `code line:column "what is underlined"` of every finding. */
export function said(text: string): string[] {
  const source = SessionText.read(text);
  return analysed(text).findings.map(({ code, span }) => {
    const line = source.lineAt(span[0]);
    return `${code} ${line + 1}:${span[0] - source.lineStart(line) + 1} "${text.slice(...span)}"`;
  });
}
