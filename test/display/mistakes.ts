import { Bench, steps } from './bench';
import { type Block, sessionText } from './layout';
import { aurora } from './panels';
import { pictureOf } from './screen';
import { auroraCinema, auroraHead, automaticOff, ten } from './sessions';

/** A fault put into a clean session, and where it shows afterwards. */
export interface PlantedFault {
  /** The kind of finding that is expected; the notebook's own code may be another word. */
  readonly code: string;
  readonly what: string;
  /** Line (from 1) and its text, once all faults are in. */
  readonly line: number;
  readonly text: string;
  /** What the finding underlines, and where it starts (from 1). */
  readonly column: number;
  readonly underlined: string;
}

/** One step of spoiling a session: in the block `block`, on the one line whose first words are `at`. */
export interface Plant {
  readonly code: string;
  readonly what: string;
  /** What is underlined, on the line where it shows. */
  readonly under: RegExp;
  readonly block: string;
  readonly at: string;
  /** The line as mistyped. */
  readonly mistype?: (line: string) => string;
  /** A line that comes after it. The fault is that line. */
  readonly add?: string;
  /** A line of the block that is left out. The fault shows at `at`. */
  readonly drop?: string;
  /** Not an edit: the session is made with the fault, which shows at `at`. */
  readonly builtIn?: true;
  /** Where it shows, if not on the line that was spoilt. */
  readonly shows?: { readonly block: string; readonly at: string };
}

export const replace =
  (from: string | RegExp, to: string | ((cell: string) => string)) =>
  (line: string): string =>
    line.replace(from, to as string);
/** A cell (counted from 0) by another of the same stop: the cells behind it keep their place where the new one fits. */
export const cell = (index: number, to: (old: string) => string) => (line: string) => {
  let i = -1;
  return line
    .replace(/\S+ */g, (part) => {
      i++;
      const old = part.trimEnd();
      return i === index
        ? to(old)
            .padEnd(Math.max(part.length - 2, 0))
            .concat('  ')
        : part;
    })
    .trimEnd();
};
const swapped = (line: string): string => line.replace(/(\d\.\d{4})( +)(\d\.\d{4})/, '$3$2$1');
export const shifted = (places: number) => (old: string) => {
  const digits = old.replace('.', '').length - 1;
  return (Number(old) * 10 ** places).toPrecision(digits);
};

const plants: readonly Plant[] = [
  {
    code: 'firmware-missing',
    what: 'the display states no firmware',
    under: /display aurora/,
    block: 'aurora',
    at: 'display',
    drop: 'firmware',
  },
  {
    code: 'meter-check-old',
    what: 'the meter was checked more than a year before the session',
    under: /2024-11-02/,
    block: 'old-probe',
    at: 'checked',
    mistype: replace('2025', '2024'),
  },
  {
    code: 'minus-sign',
    what: 'U+2212 in a setting',
    under: /\u2212/,
    block: 'cinema-tuned',
    at: 'White / Gain blue',
    mistype: replace('-', '\u2212'),
  },
  {
    code: 'target-mismatch',
    what: 'gamma 2.2 chosen, the run is held against power 2.4',
    under: /greyscale gamma/,
    block: 'cinema-22',
    at: 'Picture / Gamma',
    mistype: replace('2.4', '2.2'),
    shows: { block: 'gamma', at: 'greyscale' },
  },
  {
    code: 'automatic-on',
    what: 'dynamic contrast is on',
    under: /dynamic contrast/,
    block: 'cinema-lively',
    at: '.automatic',
    mistype: replace('contrast off', 'contrast on'),
  },

  { code: 'decimal-slip', what: 'luminance ten times too high', under: /67\.6/, block: 'slip-up', at: '30', mistype: cell(1, shifted(1)) },
  {
    code: 'decimal-slip',
    what: 'luminance ten times too low',
    under: /3\.56/,
    block: 'slip-down',
    at: '60',
    mistype: cell(1, shifted(-1)),
  },

  { code: 'sign-apart', what: 'a blank after <', under: /< \S+/, block: 'typing', at: '0', mistype: replace('<', '< ') },
  {
    code: 'percent-in-cell',
    what: 'per cent sign in the level cell',
    under: /10%/,
    block: 'typing',
    at: '10',
    mistype: replace('    10', '   10%'),
  },
  {
    code: 'decimal-comma',
    what: 'decimal comma in x',
    under: /0,\d+/,
    block: 'typing',
    at: '20',
    mistype: cell(2, (x) => x.replace('.', ',')),
  },
  { code: 'cell-surplus', what: 'one cell too many', under: /\S+$/, block: 'typing', at: '50', mistype: (line) => `${line}   0.3251` },
  {
    code: 'cell-empty',
    what: 'two adjacent tabs, x is missing',
    under: /\t\t/,
    block: 'typing',
    at: '70',
    mistype: replace(/ {2,}(\S+) {2,}(\S+) {2,}(\S+)$/, '\t$1\t\t$3'),
  },

  { code: 'xy-swapped', what: 'x and y of a grey exchanged', under: /0\.\d{4} +0\.\d{4}/, block: 'tints', at: '40', mistype: swapped },
  {
    code: 'xy-sum',
    what: 'x + y above 1',
    under: /0\.\d{4} +0\.\d{4}/,
    block: 'tints',
    at: '50',
    mistype: cell(2, replace(/0\.3/, '0.8')),
  },
  {
    code: 'outside-locus',
    what: 'x mistyped, no light has this colour',
    under: /0\.\d{4} +0\.\d{4}/,
    block: 'tints',
    at: '60',
    mistype: cell(2, replace(/0\.3/, '0.0')),
  },
  { code: 'xy-range', what: 'y is 0', under: /0$/, block: 'tints', at: '70', mistype: cell(3, () => '0') },
  {
    code: 'xy-swapped',
    what: 'x and y of a colour exchanged',
    under: /0\.\d{4} +0\.\d{4}/,
    block: 'sat',
    at: 'green   75',
    mistype: swapped,
  },

  {
    code: 'reading-negative',
    what: 'negative luminance',
    under: /-0\.0004/,
    block: 'negative',
    at: '0',
    mistype: cell(1, () => '-0.0004'),
  },
  {
    code: 'readings-to-take',
    what: 'a reading left open',
    under: /\?/,
    block: 'negative',
    at: '40',
    mistype: replace(/\d+\.\d+ +0\.\d+ +0\.\d+$/, '?         ?        ?'),
  },
  {
    code: 'below-floor',
    what: 'a number below the floor of the meter',
    under: /0\.0021/,
    block: 'faint',
    at: '0',
    mistype: cell(1, () => '0.0021'),
  },
  {
    code: 'luminance-falls',
    what: 'darker than the level below it',
    under: /15\.37/,
    block: 'falling',
    at: '60',
    mistype: cell(1, replace(/^3/, '1')),
  },
  {
    code: 'repeats-disagree',
    what: 'the second reading of 50 % is some 9 % lower',
    under: /20\.80/,
    block: 'repeated',
    at: '50',
    mistype: cell(1, (Y) => (Number(Y) * 0.91).toPrecision(4)),
  },
  {
    code: 'white-drift',
    what: 'white at the end some 5 % below white at the start',
    under: /114\.5/,
    block: 'drifting',
    at: '100',
    mistype: cell(1, (Y) => (Number(Y) * 0.95).toPrecision(4)),
  },

  { code: 'property-unknown', what: 'a property no run has', under: /averaging/, block: 'shape', at: 'mode', add: '  averaging: 3' },
  {
    code: 'colon-wide',
    what: 'full-width colon after a property',
    under: /\uff1a/,
    block: 'shape',
    at: 'settle',
    mistype: replace(': ', '\uff1a '),
  },
  { code: 'not-indented', what: 'a row at column 0', under: /^40/, block: 'shape', at: '40', mistype: replace(/^ +/, '') },
  { code: 'column-unknown', what: 'a column no run has', under: /hum/, block: 'column', at: 'level', builtIn: true },

  {
    code: 'reference-missing',
    what: 'the run names a mode that is not there',
    under: /cinemas/,
    block: 'lost',
    at: 'mode',
    mistype: replace('cinema', 'cinemas'),
  },
  { code: 'range-mismatch', what: 'limited range shown as full', under: /greyscale range/, block: 'range', at: 'greyscale', builtIn: true },
  {
    code: 'firmware-changed',
    what: 'the adjusted run is compared with one under another firmware',
    under: /2\.15\.0/,
    block: 'after',
    at: 'mode',
    add: '  firmware: 2.15.0',
  },
  {
    code: 'id-repeated',
    what: 'a second run of the same name',
    under: /dark-room/,
    block: 'dark-room-2',
    at: 'contrast',
    mistype: replace('dark-room-2', 'dark-room'),
  },
  { code: 'minus-sign', what: 'U+2212 in a cell', under: /\u2212/, block: 'red', at: '-3', mistype: replace('-3', '\u22123') },
];

/** The session without its faults. */
export function cleanMistakes(): string {
  const bench = new Bench({ panel: aurora, seed: 'bench-mistakes 2026-04-02', minutesOn: 45 });
  const tunedSettings = { 'Colour / Gamut': 'BT.709', 'White / Gain red': '2', 'White / Gain blue': '-10' };
  const picture = pictureOf(aurora, auroraCinema);
  const tuned = pictureOf(aurora, { ...auroraCinema, ...tunedSettings });
  const shipped = { picture, link: ten };
  const reading = ['Y', 'x', 'y'];
  const columns = ['level', ...reading];
  const tens = steps(0, 100, 10);
  const twenties = steps(0, 100, 20);
  const grey = (
    id: string,
    title: string,
    levels: readonly number[],
    properties = {},
    setup: Parameters<Bench['greyscale']>[0] = shipped,
  ): Block => ({
    header: `greyscale ${id} "${title}" like grey`,
    properties,
    columns,
    rows: bench.run(id).greyscale(setup, levels),
  });

  const [session, display] = auroraHead;
  const head: Block[] = [
    { header: 'session 2026-04-02', properties: { ...session?.properties, title: 'Halden Aurora 55, a bad day at the bench' } },
    display!,
    ...(['probe', 'old-probe'] as const).map((id) => ({
      header: `meter ${id}`,
      properties: {
        kind: 'colorimeter',
        checked: '2025-11-02',
        floor: '0.003 cd/m2',
        spread: '0.0004 xy, 0.5 %',
        accuracy: '0.002 xy, 2 %',
      },
    })),
    { header: 'signal sdr', properties: { range: 'limited', depth: '10', container: 'bt709', window: '10 %' }, apart: true },
    {
      header: 'mode cinema "Cinema, as shipped"',
      properties: { '.input': 'HDMI #2', '.automatic': automaticOff, ...auroraCinema },
      apart: true,
    },
    { header: 'mode cinema-tuned "Cinema, as adjusted" from cinema', properties: tunedSettings },
    { header: 'mode cinema-22 from cinema', properties: { 'Picture / Gamma': '2.4' } },
    { header: 'mode cinema-lively from cinema', properties: { '.automatic': automaticOff } },
    { header: 'target dark', properties: { space: 'bt709', curve: 'power 2.4', white: 'd65' }, apart: true },
  ];
  const runs: Block[] = [
    {
      header: 'greyscale grey "Nothing wrong here"',
      properties: { mode: 'cinema', target: 'dark', meter: 'probe', signal: 'sdr' },
      columns,
      rows: bench.run('grey').greyscale(shipped, tens),
    },
    grey('slip-up', 'Decimal point one place to the right', tens),
    grey('slip-down', 'Decimal point one place to the left', tens),
    grey('typing', 'Cells mistyped', tens),
    grey('tints', 'Chromaticities mistyped', tens),
    {
      // In the mode with one greyscale: in the other it would be open which white it has.
      header: 'saturation sat like grey',
      properties: { mode: 'cinema-tuned', stimulus: '75 %' },
      columns: ['hue', 'sat', ...reading],
      rows: bench.run('sat').saturation({ ...shipped, picture: tuned }, 75, [25, 50, 75, 100]),
    },
    grey('negative', 'Below nothing', twenties),
    grey('faint', 'Below the floor', twenties),
    grey('falling', 'A wrong first digit', tens),
    grey('repeated', 'Middle grey twice', [0, 25, 50, 50, 75, 100]),
    grey('drifting', 'White first and last', [100, ...twenties]),
    grey('shape', 'Lines out of shape', twenties, { mode: 'cinema', settle: '3 s' }),
    (({ rows = [], ...run }) => ({ ...run, columns: [...columns, 'hum'], rows: rows.map((row) => [...row, '-']) }))(
      grey('column', 'A column of their own', twenties),
    ),
    grey('lost', 'Which mode?', twenties, { mode: 'cinema' }),
    grey(
      'gamma',
      'The other gamma',
      twenties,
      { mode: 'cinema-22' },
      { ...shipped, picture: pictureOf(aurora, { ...auroraCinema, 'Picture / Gamma': '2.2' }) },
    ),
    grey('lively', 'Help from the display', twenties, { mode: 'cinema-lively' }),
    grey('aged', 'The other meter', twenties, { meter: 'old-probe' }),
    grey('range', 'Wrong range', tens, {}, { ...shipped, link: { ...ten, takenAs: 'full' } }),
    grey('before', 'Before', twenties, { firmware: '2.14.8' }),
    {
      ...grey('after', 'After', twenties, { mode: 'cinema-tuned' }, { ...shipped, picture: tuned }),
      header: 'greyscale after "After" like before',
    },
    ...['dark-room', 'dark-room-2'].map((id) => ({
      header: `contrast ${id} like grey`,
      columns: ['patch', 'Y'],
      rows: bench.run(id).contrast(shipped),
    })),
    {
      header: 'tuning red like grey',
      properties: { mode: 'cinema-tuned', control: '"Gain red" -50..50 step 1', stimulus: '80 %' },
      columns: ['"Gain red"', ...reading],
      rows: [0, -3, 3].map((gain) => {
        const turned = pictureOf(aurora, { ...auroraCinema, ...tunedSettings, 'White / Gain red': `${gain}` });
        return [
          `${gain}`,
          ...(bench
            .run(`red ${gain}`)
            .greyscale({ ...shipped, picture: turned }, [80])[0]
            ?.slice(1) ?? []),
        ];
      }),
    },
  ];
  return sessionText([...head, ...runs.map((run) => ({ ...run, apart: true }))]);
}

/** The session with its faults. */
export const mistakes = (): Spoilt => spoilt(cleanMistakes(), plants);

export interface Spoilt {
  readonly text: string;
  /** In the order of their lines. */
  readonly faults: readonly PlantedFault[];
}

/** A clean session with faults put in. Throws when a fault finds no line, or more than one. */
export function spoilt(clean: string, faults: readonly Plant[]): Spoilt {
  const lines: Line[] = clean.split('\n').map((text) => ({ text }));
  for (const plant of faults) spoil(lines, plant);
  return {
    text: lines.map(({ text }) => text).join('\n'),
    faults: lines.flatMap(({ text, fault }, i) => (fault ? [planted(fault, i + 1, text)] : [])),
  };
}

function planted({ code, what, under }: Plant, line: number, text: string): PlantedFault {
  const found = under.exec(text);
  if (!found) throw new Error(`${code}: nothing to underline in "${text}"`);
  return { code, what, line, text, column: found.index + 1, underlined: found[0] };
}

interface Line {
  readonly text: string;
  readonly fault?: Plant;
}

function spoil(lines: Line[], plant: Plant): void {
  const { block, at, mistype, add, drop, shows } = plant;
  // Where a key is read again, the later reading is the spoilt one.
  const reading = plant.code === 'repeats-disagree' || plant.code === 'white-drift' ? 2 : 1;
  const here = find(lines, block, at, reading);
  const put = (i: number, text: string, marked = true): void => {
    if (lines[i]?.fault) throw new Error(`${plant.code}: another fault is on the line "${lines[i].text}"`);
    lines[i] = marked ? { text, fault: plant } : { text };
  };
  const before = lines[here]!.text;
  if (mistype) {
    const after = mistype(before);
    if (after === before) throw new Error(`${plant.code}: nothing to mistype in "${before}"`);
    put(here, after, !shows);
  } else if (add) {
    lines.splice(here + 1, 0, { text: add, fault: plant });
  } else {
    put(here, before);
  }
  if (drop) lines.splice(find(lines, block, drop), 1);
  if (shows) {
    const there = find(lines, shows.block, shows.at);
    put(there, lines[there]!.text);
  }
}

/** Index of the line of a block with these first words, of which there must be `count`: the last of them. */
function find(lines: readonly Line[], block: string, words: string, count = 1): number {
  const isHeader = ({ text }: Line): boolean => /^[a-z]/.test(text);
  const first = lines.findIndex((line) => isHeader(line) && nameIn(line.text) === block);
  const next = lines.findIndex((line, i) => i > first && isHeader(line));
  const hits = lines.flatMap(({ text }, i) => {
    const inBlock = i >= first && (next < 0 || i < next);
    return inBlock && startsWith(text.trimStart(), words) ? [i] : [];
  });
  if (first < 0 || hits.length !== count) throw new Error(`${hits.length} lines start with "${words}" in ${block}`);
  return hits.at(-1)!;
}

/** What a head calls its block: the id, or the keyword of a block without one. */
const nameIn = (head: string): string | undefined => head.split(' ')[1] ?? head;

const startsWith = (line: string, words: string): boolean => line.startsWith(words) && /^(?:[: ]|$)/.test(line.slice(words.length));
