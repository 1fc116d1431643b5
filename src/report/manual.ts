import { METHOD_WORDS, methodOf, NO_METHOD } from '../measure/methods';
import { MEASURES, type MeasureSpec, ROW_LIMITS } from '../measure/specs';
import { UNITS, type ValueType } from '../session/valueTypes';
import { BLOCKS, type BlockSpec, type ColumnSpec, READING_COLUMNS } from '../session/vocabulary';
import { CODES } from '../text/codes';
import { type Arg, allOf, fill, phrase, worded } from '../text/message';

/**
 * The reference pages, made from the tables that the program itself works from: they cannot say anything else than it does.
 * Each is a whole Markdown page.
 */

const MADE = '<!-- Made by `npm run docs` from the tables in src. Edit those. -->';

const cell = (text: string): string => text.replaceAll('|', '\\|');

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map(cell).join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

/** What a type of value takes. */
export function typeInWords(type: ValueType): Arg {
  switch (type.is) {
    case 'text':
      return phrase('text');
    case 'choice':
      return phrase('one of {words}', { words: type.of.map((word) => `\`${word}\``) });
    case 'date':
      return phrase('a date, `2026-03-14` or `2026-03-14 15:30`');
    case 'path':
      return phrase('a path with `/`');
    case 'quantity':
      return type.bare === undefined
        ? numberInWords(type.dimension)
        : phrase('{number}; {unit} may be left out', { number: numberInWords(type.dimension), unit: `\`${type.bare}\`` });
    case 'quantities':
      return allOf(type.dimensions.map(numberInWords));
    case 'id':
      return phrase('the id of a {keyword}', { keyword: `\`${type.of}\`` });
    case 'switches':
      return phrase('a list such as `ambient sensor off, energy saving off`');
    case 'scope':
      return phrase('a list of words');
    case 'curve':
      return '`power N`, `power N over black`, `bt1886`, `srgb`, `pq`, `hlg`';
    case 'white':
      return phrase('`d65` and its like, or x and y such as `0.3127 0.3290`');
    case 'limit':
      return phrase('`aim A, limit B`, or ranges such as `limit -5..5`');
    case 'rating':
      return phrase('`none`, `slight`, `clear`, `strong`, `pass`, `fail` or `not applicable`, then a comma and free text');
    case 'control':
      return '`"Name" low..high step s`';
  }
}

function numberInWords(dimension: keyof typeof UNITS): Arg {
  const units = Object.keys(UNITS[dimension]);
  return units.length === 0
    ? phrase('a number with its unit (a currency)')
    : phrase('a number with its unit ({units})', { units: units.map((unit) => `\`${unit}\``) });
}

function columnInWords(column: ColumnSpec): string {
  switch (column.holds) {
    case 'word':
      return 'a word, or words in quotation marks';
    case 'drive':
      return 'per cent; a code with `[8bit]`, `[10bit]`, `[12bit]` or `[16bit]`';
    case 'number':
      return 'a number';
    case 'quantity': {
      const others = Object.keys(UNITS[column.dimension]).filter((unit) => unit !== column.unit);
      return others.length === 0 ? column.unit : `${column.unit}; ${others.map((unit) => `\`[${unit}]\``).join(', ')} on request`;
    }
  }
}

const BLOCK_LIST = Object.entries(BLOCKS as Readonly<Record<string, BlockSpec>>);
const RUN_PROPERTIES = BLOCKS.greyscale.properties;

const inEnglish = (type: ValueType): string => worded(typeInWords(type), fill);

const propertyRows = (properties: BlockSpec['properties']): string[][] =>
  Object.entries(properties).map(([name, { type, about, many }]) => [
    `\`${name}\``,
    inEnglish(type),
    many ? `${about} (may be repeated)` : about,
  ]);

const propertyTable = (rows: readonly (readonly string[])[]): string => table(['property', 'takes', 'is'], rows);

/** Every kind of block with its properties and columns. What all runs share stands once. */
export function blocksPage(): string {
  const sections = BLOCK_LIST.map(([keyword, spec]) => {
    const id = { required: ' ID ["title"]', optional: ' [ID] ["title"]', date: ' DATE', none: '' }[spec.id];
    const link = spec.link ? ` [${spec.link} ID]` : '';
    const parts = [`## \`${keyword}${id}${link}\``, `${spec.about[0]!.toUpperCase()}${spec.about.slice(1)}.`];
    const isRun = Object.hasOwn(spec.properties, 'stimulus');
    const own = Object.entries(spec.properties).filter(([name]) => !isRun || !Object.hasOwn(RUN_PROPERTIES, name));
    const rows = propertyRows(Object.fromEntries(own));
    if (spec.userNames) rows.push(['*any name*', inEnglish(spec.userNames), "a name of the user's own"]);
    if (rows.length > 0) parts.push(propertyTable(rows));
    if (spec.table) {
      const needed = spec.table.needs.map((any) => any.map((name) => `\`${name}\``).join(' or ')).join(', ');
      parts.push(`Columns, as in \`${spec.table.example}\`; needed: ${needed || 'none'}.`);
      const known = Object.entries(spec.table.columns).filter(([name]) => !isRun || !Object.hasOwn(READING_COLUMNS, name));
      const columns = known.map(([name, column]) => [`\`${name}\``, columnInWords(column)]);
      if (spec.table.free) columns.push(['*any other*', spec.table.free]);
      if (columns.length > 0) parts.push(table(['column', 'takes'], columns));
    }
    return parts.join('\n\n');
  });
  const shared = [
    '## All runs',
    'A run takes these properties, and these columns for its readings, besides its own:',
    propertyTable(propertyRows(RUN_PROPERTIES)),
    table(
      ['column', 'takes'],
      Object.entries(READING_COLUMNS).map(([name, column]) => [`\`${name}\``, columnInWords(column)]),
    ),
  ];
  return `${[MADE, '# Blocks of a session', ...sections, ...shared].join('\n\n')}\n`;
}

/** Everything the notebook may notice. */
export function findingsPage(): string {
  const rows = Object.entries(CODES).map(([code, spec]) => [
    `\`${code}\``,
    spec.severity,
    spec.trigger,
    spec.range,
    spec.mend ? `“${spec.mend}”` : '',
  ]);
  return [
    MADE,
    '# Findings',
    'Each has a stable code. A folder may change how grave it takes one, or leave it out: `"findings": { "firmware-missing": "off" }` in `nitbook.jsonc`.',
    table(['code', 'severity', 'when', 'underlined', 'mend'], rows),
    '',
  ].join('\n\n');
}

const bound = (value: number | undefined): string => (value === undefined ? '–' : String(value));

function limitsInWords(spec: Pick<MeasureSpec, 'sdr' | 'hdr'>, part: 'aim' | 'limit'): string {
  const [sdr, hdr] = [spec.sdr?.[part], spec.hdr?.[part]];
  if (sdr === hdr) return bound(sdr);
  return sdr === undefined ? `HDR ${bound(hdr)}` : hdr === undefined ? `SDR ${bound(sdr)}` : `SDR ${bound(sdr)}, HDR ${bound(hdr)}`;
}

/** How the interval of a measure is told, of the run and of a row. */
function intervalInWords(kind: string, id: string, { scope }: MeasureSpec): string {
  const told = (of: 'run' | 'row'): string => {
    const method = methodOf(kind, id, of);
    return method.by === 'none' ? '–' : method.by;
  };
  const [run, row] = [told('run'), told('row')];
  return scope === 'both' && run !== row ? `${run}; @ ${row}` : scope === 'row' ? row : run;
}

/** The methods, and the measures that have none. */
function intervalsSection(): string {
  const none = new Map<string, string[]>();
  for (const [kind, specs] of Object.entries<Readonly<Record<string, MeasureSpec>>>(MEASURES))
    for (const [id, { scope }] of Object.entries(specs)) {
      const method = methodOf(kind, id, scope === 'row' ? 'row' : 'run');
      if (method.by === 'none') none.set(NO_METHOD[method.why], [...(none.get(NO_METHOD[method.why]) ?? []), `\`${kind}.${id}\``]);
    }
  return [
    '## Intervals',
    'Where the true figure lies in 95 of 100 cases, with 0.025 at either end, by what the meter states: `spread`, one standard deviation of each reading by itself, which repeats narrow with their number; and `accuracy`, an expanded uncertainty (k = 2) of what all readings of the meter share (JCGM 100). In the dark a reading spreads by the floor of the meter over 3.29 as well. With an interval a verdict is a claim (JCGM 106): `within` when all of it lies inside the limit, `beyond` when all of it lies outside, else `undecided`. A meter that states no spread gives no intervals, and the number alone is judged; one that states no accuracy gives those of its spread. A correction is taken as it is: its own uncertainty is not known, and the accuracy of the meter is that of the corrected reading.',
    table(
      ['method', 'how, and its known limits'],
      Object.entries(METHOD_WORDS).map(([by, words]) => [`\`${by}\``, words]),
    ),
    'No interval, whatever the meter states:',
    [...none].map(([why, names]) => `- ${why}: ${names.join(', ')}.`).join('\n'),
    'Between two runs of one kind, meter, signal and target in two modes, a difference has an interval too, in which what both share cancels as far as both respond to it alike; of the largest of rows, a figure that goes by rank, and one from the scatter of readings, nothing cancels. A change that is not shown may have happened all the same.',
  ].join('\n\n');
}

/** Every measure by kind of run. */
export function measuresPage(): string {
  const sections = Object.entries(MEASURES as Readonly<Record<string, Readonly<Record<string, MeasureSpec>>>>).map(([kind, specs]) => {
    const rows = Object.entries(specs).map(([id, spec]) => [
      `\`${kind}.${id}\`${spec.scope === 'run' ? '' : spec.scope === 'row' ? ' @' : ' (@)'}`,
      spec.title,
      spec.unit,
      spec.about,
      spec.direction === 'report' ? '–' : spec.direction,
      limitsInWords(spec, 'aim'),
      limitsInWords(spec, 'limit'),
      spec.source ?? '',
      intervalInWords(kind, id, spec),
    ]);
    return `## ${kind}\n\n${table(['measure', 'title', 'unit', 'what it is', 'better', 'aim', 'limit', 'source of the limits', 'interval'], rows)}`;
  });
  const rowLimits = Object.entries(ROW_LIMITS).map(
    ([id, spec]) => `- \`${id}\`: aim ${limitsInWords(spec, 'aim')}, limit ${limitsInWords(spec, 'limit')} (${spec.source}).`,
  );
  return [
    MADE,
    '# Measures',
    '`@` marks a figure of a row: `#grey.de@90`; `(@)` one that a run and its rows have. A reference is the file, `#`, the id of the run, a point and the measure without its kind.',
    sections.join('\n\n'),
    '## Limits of single rows',
    rowLimits.join('\n'),
    intervalsSection(),
    '',
  ].join('\n\n');
}

/** The pages by the file they are kept in. */
export const PAGES: Readonly<Record<string, () => string>> = {
  'syntaxes/blocks.md': blocksPage,
  'syntaxes/findings.md': findingsPage,
  'syntaxes/measures.md': measuresPage,
};
