import type { BlockDifference, CellDifference, PropertyDifference, RowDifference, RowKey } from '../session/difference';
import { counted, type Forms, fill, type Phrase, phrase, type Say, worded } from '../text/message';
import { shownText, signedText } from './changes';
import { type Difference, type FigureChange, matters, type RunDifference } from './difference';
import { figureText, NONE, numberText, verdictText, visible, whyText } from './format';
import { escaped, table } from './markdown';
import { figureTitle } from './summary';

/** What the two versions are called. */
export interface Versions {
  /** What they are versions of, where their names do not say it. */
  readonly title?: string;
  readonly before: string;
  readonly after: string;
}

type Shown = (text: string) => string;

/** What changed, as a note for the bench: every block with what is said of it otherwise, and the figures that moved. Ends with a line end. */
export function differenceAsText(difference: Difference, { title, before, after }: Versions, say: Say = fill): string {
  const head = [...(title === undefined ? [] : [visible(title)]), visible(`${before} → ${after}`)];
  const sections = difference.sections.map(({ block, run }) => {
    const [name, ...lines] = [headText(block, run, say), ...(block ? blockLines(block, visible, say) : [])];
    const figures = run ? [...toldFigures(run).map((figure) => figureLine(figure, say)), ...restLines(run, say)] : [];
    return [visible(name!), ...[...lines, ...figures].map((line) => `  ${visible(line)}`)];
  });
  const notes = noteLines(difference, say);
  return `${[head, ...sections, ...(notes.length === 0 ? [] : [notes])].map((part) => part.join('\n')).join('\n\n')}\n`;
}

/** The same as Markdown. Ends with a line end. */
export function differenceAsMarkdown(difference: Difference, { title, before, after }: Versions, say: Say = fill): string {
  const sections = difference.sections.flatMap(({ block, run }) => [
    `## ${escaped(headText(block, run, say))}`,
    ...(block
      ? [
          blockLines(block, escaped, say)
            .map((line) => `- ${line}`)
            .join('\n'),
        ]
      : []),
    ...(run ? [figureTable(toldFigures(run), say), escaped(restLines(run, say).join(' '))] : []),
  ]);
  const versions = `${escaped(before)} → ${escaped(after)}`;
  const parts = [
    ...(title === undefined ? [`# ${versions}`] : [`# ${escaped(title)}`, versions]),
    ...sections,
    escaped(noteLines(difference, say).join(' ')),
  ];
  return `${parts.filter((part) => part !== '').join('\n\n')}\n`;
}

const toldFigures = ({ figures }: RunDifference): readonly FigureChange[] => figures.filter(({ isTold }) => isTold);

function headText(block: BlockDifference | undefined, run: RunDifference | undefined, say: Say): string {
  if (!block) return `${run!.after.run.kind} ${run!.after.run.id}`;
  const name = [block.keyword, block.id || (block.after ?? block.before)?.header?.date?.text].filter((part) => part).join(' ');
  const is = block.is === 'changed' ? undefined : worded(BLOCK_WORDS[block.is], say);
  const isLasting = block.is === 'added' || block.is === 'removed';
  const said = [
    block.was === undefined ? '' : say('called {id} before', { id: block.was }),
    is ?? '',
    isLasting && block.void ? say('struck out') : '',
    isLasting && block.count > 0 ? worded(counted(block.count, ROWS), say) : '',
  ].filter((part) => part !== '');
  return [name, said.join(', ')].filter((part) => part !== '').join(': ');
}

const BLOCK_WORDS: Readonly<Record<Exclude<BlockDifference['is'], 'changed'>, Phrase>> = {
  added: phrase('added'),
  removed: phrase('removed'),
  struck: phrase('struck out'),
  restored: phrase('no longer struck out'),
};

const ROWS: Forms = ['1 row', '{count} rows'];

/** More changed rows than this are counted. */
const MOST_ROWS = 40;
/** So many rows that were taken, added, removed or struck out together stand in one line. */
const FEW = 3;

function blockLines({ properties, columns, rows, isReordered }: BlockDifference, shown: Shown, say: Say): string[] {
  const lines: string[] = [];
  const gathered = new Map<RowDifference['is'], RowDifference[]>();
  for (const row of rows) gathered.set(row.is, [...(gathered.get(row.is) ?? []), row]);
  const isGathered = ({ is }: RowDifference) => is === 'taken' || (GATHERED.includes(is) && gathered.get(is)!.length > FEW);
  const singly = rows.filter((row) => !isGathered(row));
  for (const [is, some] of gathered) if (isGathered(some[0]!)) lines.push(manyRows(is, some, shown, say));
  lines.push(...singly.slice(0, MOST_ROWS).map((row) => rowLine(row, shown, say)));
  if (singly.length > MOST_ROWS) lines.push(worded(counted(singly.length - MOST_ROWS, MORE_ROWS), say));
  return [
    ...properties.map((property) => propertyLine(property, shown, say)),
    ...(columns ? [arrow(say('columns'), columns[0], columns[1], shown)] : []),
    ...lines,
    ...(isReordered ? [say('rows in another order')] : []),
  ];
}

const GATHERED: readonly RowDifference['is'][] = ['added', 'removed', 'struck', 'restored'];
const MORE_ROWS: Forms = ['and 1 more row.', 'and {count} more rows.'];

const arrow = (name: string, from: string | undefined, to: string | undefined, shown: Shown): string =>
  `${shown(name)}: ${from === undefined || from === '' ? NONE : shown(from)} → ${to === undefined || to === '' ? NONE : shown(to)}`;

const propertyLine = ({ of, name, from, to }: PropertyDifference, shown: Shown, say: Say): string =>
  arrow(of === 'property' ? name : worded(HEAD_WORDS[of], say), from, to, shown);

const HEAD_WORDS: Readonly<Record<Exclude<PropertyDifference['of'], 'property'>, Phrase>> = {
  title: phrase('title'),
  date: phrase('date'),
  link: phrase('taken over'),
};

const ROW_WORDS: Readonly<Record<RowDifference['is'], Phrase>> = {
  changed: phrase('changed'),
  mended: phrase('mended, unless it is mistyped now'),
  again: phrase('taken again, the reading before struck out'),
  taken: phrase('taken'),
  reopened: phrase('to take again'),
  added: phrase('added'),
  removed: phrase('removed'),
  struck: phrase('struck out'),
  restored: phrase('no longer struck out'),
  rekeyed: phrase('the reading that stood at {row}'),
};

const keyText = (key: RowKey, say: Say): string =>
  key.length === 0 ? say('row') : key.map(({ text, unit }) => `${text}${unit === '' || unit === '°' ? '' : ' '}${unit}`).join(' ');

const MOST_KEYS = 12;

/** `taken: 40 %, 50 % (2 rows)`. */
function manyRows(is: RowDifference['is'], rows: readonly RowDifference[], shown: Shown, say: Say): string {
  const keys = [...new Set(rows.map(({ key }) => keyText(key, say)))];
  const some = [...keys.slice(0, MOST_KEYS), ...(keys.length > MOST_KEYS ? ['…'] : [])].map(shown).join(', ');
  return `${worded(ROW_WORDS[is], say)}: ${some} (${worded(counted(rows.length, ROWS), say)})`;
}

function rowLine({ is, key, was, struck, cells }: RowDifference, shown: Shown, say: Say): string {
  const name = shown(keyText(key, say));
  const values = cells.map((cell) => cellText(cell, shown)).join(', ');
  if (is === 'rekeyed') {
    const said = say('the reading that stood at {row}', { row: shown(keyText(was!, say)) });
    return `${name}: ${[said, values].filter((part) => part !== '').join('; ')}`;
  }
  const how = [
    is === 'changed' || is === 'reopened' ? '' : worded(ROW_WORDS[is], say),
    struck && is !== 'struck' ? say('struck out') : '',
  ].filter((part) => part !== '');
  if (GATHERED.includes(is)) return `${name}: ${how.join(', ')}${values === '' ? '' : `: ${values}`}`;
  return `${name}: ${[values, how.join(', ')].filter((part) => part !== '').join('; ')}`;
}

const cellText = ({ column, from, to }: CellDifference, shown: Shown): string =>
  from === '' || to === '' ? `${shown(column)} ${shown(from + to)}` : `${shown(column)} ${shown(from)} → ${shown(to)}`;

/** `3.40 → 5.12`, with the unit once. */
function fromTo({ before, after }: FigureChange, say: Say): string {
  const [from, to] = [before.value, after.value];
  const isPlain = from.ok && to.ok && !from.bound && !to.bound && !from.ends && !to.ends;
  return isPlain
    ? `${numberText(from.v, after.spec.decimals)} → ${figureText(after, say)}`
    : `${figureText(before, say)} → ${figureText(after, say)}`;
}

/** `beyond ▲ (was undecided ≈)`; what it is judged as, where that was another. Else whether the aim is met, where it was not so before. */
function verdictChange({ before, after }: FigureChange, say: Say): string {
  const [was, is] = [before.judgement, after.judgement];
  if (was.verdict !== is.verdict) {
    const [from, to] = [verdictText(was.verdict, say), verdictText(is.verdict, say)];
    if (to === '') return say('was {verdict}', { verdict: from });
    return from === '' ? to : say('{verdict} (was {before})', { verdict: to, before: from });
  }
  if (was.aim === is.aim) return '';
  return is.aim === 'within' ? say('aim met now') : was.aim === 'within' ? say('aim met no longer') : '';
}

/** Why it is another: what the meter shows of it, or what makes it exact. */
function reasonText({ before, after, by, isShown }: FigureChange, say: Say): string {
  if (!after.value.ok) return before.value.ok ? say('not computed: {why}', { why: whyText(after.value.why, say) }) : '';
  if (by === 'again') return isShown === undefined ? '' : shownText(isShown, say);
  return worded(BY[by], say);
}

const BY: Readonly<Record<'mended' | 'rows' | 'else', Phrase>> = {
  mended: phrase('by the mended reading'),
  rows: phrase('by the rows that count'),
  else: phrase('by the same readings'),
};

const titleOf = ({ after }: FigureChange, say: Say): string => `${figureTitle(after, say)}${after.key.length === 0 ? '' : ':'}`;

/** `ΔE 2000 maximum 3.40 → 5.12, beyond ▲ (was undecided ≈), changed`. */
const figureLine = (change: FigureChange, say: Say): string =>
  [`${titleOf(change, say)} ${fromTo(change, say)}`, verdictChange(change, say), reasonText(change, say)]
    .filter((part) => part !== '')
    .join(', ');

function figureTable(figures: readonly FigureChange[], say: Say): string {
  if (figures.length === 0) return '';
  const rows = figures.map((change) => {
    const { before, after, difference, interval } = change;
    return [
      escaped(figureTitle(after, say)),
      escaped(figureText(before, say)),
      escaped(figureText(after, say)),
      difference === undefined ? NONE : escaped(signedText(difference, interval, after.spec, say)),
      [closeGlyphs(verdictChange(change, say)), escaped(reasonText(change, say))].filter((part) => part !== '').join(', '),
    ];
  });
  return table([say('Measure'), say('Before'), say('After'), say('Difference'), say('Change')], rows);
}

/** In a narrow column no glyph stands alone. */
const closeGlyphs = (text: string): string => text.replace(/ (?=[·≈▲])/g, '\u00a0');

const UNSHOWN: Forms = [
  '1 more figure moved by no more than the meter can show.',
  '{count} more figures moved by no more than the meter can show.',
];
const OTHERS: Forms = ['1 more figure moved that nothing is held to.', '{count} more figures moved that nothing is held to.'];

/** How many figures moved of which nothing is told. Those whose numbers read the same are no matter. */
function restLines({ figures }: RunDifference, say: Say): string[] {
  const rest = figures.filter(({ isTold, before, after }) => !isTold && figureText(before) !== figureText(after));
  const unshown = rest.filter(({ isShown }) => isShown === false).length;
  const others = rest.length - unshown;
  return [...(unshown > 0 ? [worded(counted(unshown, UNSHOWN), say)] : []), ...(others > 0 ? [worded(counted(others, OTHERS), say)] : [])];
}

function noteLines(difference: Difference, say: Say): string[] {
  const { sections, isIdentical } = difference;
  if (isIdentical) return [say('No differences.')];
  if (!matters(difference)) return [say('No differences that matter: only comments, notes, blanks or the writing of numbers.')];
  const isJudged = sections.some(({ run }) => run?.figures.some(({ interval }) => interval !== undefined));
  return isJudged
    ? [
        say(
          'Readings that both versions have cannot differ by chance: what is "changed" is more than the readings that were taken again can differ by.',
        ),
      ]
    : [];
}
