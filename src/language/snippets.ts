import { laidOut } from '../session/layout';
import { readLine } from '../session/readLine';
import { RUN_REFERENCES, type Session } from '../session/session';
import { inBlock, START } from '../session/state';
import { blockSpec, type Keyword, RATINGS } from '../session/vocabulary';
import { fill, type Say } from '../text/message';

/** Text with stops, in the syntax of TextMate and of the Language Server Protocol: a number and its text, or a choice; `$0` comes last. */
export type Snippet = string;

/** Text in a snippet that shall stand for itself. */
export const literal = (text: string): string => text.replace(/[\\$}]/g, '\\$&');

export const stop = (n: number, text: string): string => `\${${n}:${literal(text)}}`;
export const choice = (n: number, of: readonly string[]): string =>
  `\${${n}|${of.map((text) => text.replace(/[\\$},|]/g, '\\$&')).join(',')}|}`;

/** The editor's own variables: the core has no clock. */
const TODAY = `\${1:$CURRENT_YEAR-$CURRENT_MONTH-$CURRENT_DATE}`;
const SWITCH = ['off', 'on'];

/** Blocks that are no runs, line by line. */
const WRITTEN: Readonly<Partial<Record<Keyword, (say: Say, idOf: (usual: string) => string) => readonly string[]>>> = {
  session: (say) => [
    `session ${TODAY}`,
    `  title: ${stop(2, say('what the day is for'))}`,
    `  room: ${stop(3, '0.02')} lx ${say('at the screen')}, ${stop(4, '21')} °C`,
    `  warm-up: ${stop(5, '45')} min`,
  ],
  display: (say, idOf) => [
    `display ${stop(1, idOf('screen'))} "${stop(2, say('Maker and model'))}"`,
    `  size: ${stop(3, '55')} in`,
    `  firmware: ${stop(4, '?')}`,
    `  unit: ${stop(5, 'retail')}`,
  ],
  meter: (_, idOf) => [
    `meter ${stop(1, idOf('probe'))}`,
    `  kind: ${choice(2, ['colorimeter', 'spectroradiometer', 'luminance meter', 'camera', 'light sensor', 'power meter'])}`,
    `  checked: ${stop(3, '?')}`,
    `  floor: ${stop(4, '0.003')} cd/m2`,
    `  spread: ${stop(5, '0.0004')} xy, ${stop(6, '0.5')} %`,
  ],
  signal: (_, idOf) => [
    `signal ${stop(1, idOf('sdr'))}`,
    `  range: ${choice(2, ['limited', 'full'])}`,
    `  depth: ${choice(3, ['10', '8', '12'])}`,
    `  window: ${stop(4, '10')} %`,
  ],
  mode: (say, idOf) => [
    `mode ${stop(1, idOf('cinema'))} "${stop(2, say('As shipped'))}"`,
    `  .automatic: ambient sensor ${choice(3, SWITCH)}, energy saving ${choice(4, SWITCH)}, dynamic contrast ${choice(5, SWITCH)}, dynamic tone mapping ${choice(6, SWITCH)}`,
    `  ${stop(7, say('Picture / Light output'))}: ${stop(8, '?')}`,
  ],
  target: (_, idOf) => [
    `target ${stop(1, idOf('dark'))}`,
    `  space: ${choice(2, ['bt709', 'p3-d65', 'bt2020', 'srgb'])}`,
    `  curve: ${choice(3, ['power 2.4', 'power 2.2', 'bt1886', 'srgb', 'pq', 'hlg'])}`,
    `  white: ${choice(4, ['d65', 'd50', 'd93', 'dci'])}`,
  ],
  limits: () => ['limits', `  ${stop(1, 'greyscale.de.max')}: aim ${stop(2, '2')}, limit ${stop(3, '4')}`],
  observations: (say) => ['observations', `  ${stop(1, say('Banding'))}: ${choice(2, RATINGS)}`],
};

/** Usual ids of runs, where the kind itself is long or says too little. */
const RUN_IDS: Readonly<Partial<Record<Keyword, string>>> = {
  greyscale: 'grey',
  saturation: 'sat',
  patches: 'colours',
  window: 'windows',
  tracking: 'hdr',
  uniformity: 'uniform',
  endurance: 'hold',
};

/** A whole block of a kind, with stops where it is to be filled in. A run names those blocks of which the session has several. */
export function blockSnippet(session: Session, keyword: Keyword, say: Say = fill): Snippet {
  const idOf = (usual: string): string => freeId(session, usual);
  const written = WRITTEN[keyword];
  if (written) return written(say, idOf).join('\n');
  const head =
    keyword === 'correction'
      ? `correction ${stop(1, idOf('probe-fix'))}`
      : `${keyword} ${stop(1, idOf(RUN_IDS[keyword] ?? keyword))} "${stop(2, say('As shipped'))}"`;
  return [
    head,
    ...(keyword === 'correction' ? pairOfMeters(session) : ownReferences(session)),
    ...controls(keyword, say),
    literal(columnsLine(keyword)),
    '    $0',
  ].join('\n');
}

/** An id that no block of the session has. */
function freeId({ byName }: Session, usual: string): string {
  let n = 1;
  while (byName.has(n === 1 ? usual : `${usual}-${n}`)) n++;
  return n === 1 ? usual : `${usual}-${n}`;
}

const idsOf = (session: Session, keyword: Keyword): readonly string[] =>
  [...new Set(session.all(keyword).map((block) => block.name))].slice(0, 20);

function pairOfMeters(session: Session): string[] {
  const ids = idsOf(session, 'meter');
  const [meter, reference] =
    ids.length < 2 ? [stop(2, ids[0] ?? 'probe'), stop(3, 'spectro')] : [choice(2, ids), choice(3, [...ids.slice(1), ids[0]!])];
  return [`  meter: ${meter}`, `  reference: ${reference}`];
}

const ownReferences = (session: Session): string[] =>
  RUN_REFERENCES.flatMap((reference, i) => {
    const ids = idsOf(session, reference);
    return ids.length < 2 ? [] : [`  ${reference}: ${choice(i + 3, ids)}`];
  });

/** The columns of a tuning run are controls, which it has to name. */
const controls = (keyword: Keyword, say: Say): string[] =>
  keyword === 'tuning' ? [say('Gain red'), say('Gain blue')].map((name) => `  control: "${name}" -50..50 step 1`) : [];

/** The usual column line of a run, laid out; empty for a block without a table. */
export function columnsLine(keyword: string): string {
  const example = blockSpec(keyword)?.table?.example;
  if (example === undefined) return '';
  const line = readLine(`    ${example}`, '\n', inBlock(START, keyword));
  return laidOut(line, line.kind === 'columns' ? line : undefined);
}
