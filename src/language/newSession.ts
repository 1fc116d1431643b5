import type { Plan, PlanBlock, PlanRun } from '../config/plans';
import type { Block } from '../session/block';
import { formatEdits, refusesRewriting } from '../session/layout';
import { quoted } from '../session/line';
import { plan as planned } from '../session/plan';
import { type Session, sessionOf } from '../session/session';
import { SessionText } from '../session/sessionText';
import { readDate } from '../session/values';
import type { Keyword } from '../session/vocabulary';
import { fill, type Message, phraseOf, type Say, worded } from '../text/message';
import { applyEdits } from '../text/span';
import { isRefusal, refusal } from './answers';
import { freeId, nextOpen, openRows } from './gestures';
import { lastOwnLine } from './places';
import { columnsText, emptyRun, newRow } from './rows';

/** The text of a new session, in its layout, with what is still to take and to note. */
export interface NewSession {
  readonly text: string;
  /** Where the first of it stands. */
  readonly cursor: number;
}

/**
 * A session as a plan has it.
 * @param wanted.date `2026-03-14`
 * @param wanted.display what the display is called, in one line; may be empty
 */
export function newSession(wanted: { readonly date: string; readonly display: string; readonly plan: Plan }): NewSession | Message {
  const { date, display, plan } = wanted;
  return written('\n', () => {
    const ids = new Set([...plan.blocks, ...plan.runs].map(({ id }) => id));
    return [
      'nitbook 1',
      '',
      `session ${dayOf(date)}`,
      ...properties('session', { title: '?', by: '?', room: '?', 'warm-up': '?' }),
      head('display', idOf(display, ids), display),
      ...properties('display', { maker: '?', size: '?', panel: '?', firmware: '?', unit: '?' }),
      ...plan.blocks.flatMap((block) => [planHead(block), ...properties(block.kind, block.properties)]),
      ...plan.runs.flatMap((run) => ['', planHead(run), ...properties(run.kind, run.properties), ...plannedRows(run)]),
      '',
    ];
  });
}

/** Why a run is repeated after a firmware update. */
export const REPEAT_REASONS = {
  curve: 'the curve and the balance of grey are what an update changes first',
  tone: 'tone mapping may roll off elsewhere',
  peak: 'limits of brightness by window size may have moved',
  black: 'dimming and the level of black may have moved',
  colour: 'colour management may have changed',
  lasting: 'limits of brightness over time may have moved',
  time: 'processing may take longer or shorter',
  power: 'limits of brightness change what is drawn',
} as const;

/**
 * Kinds of runs that an update can change, in the order to repeat them; those of glass and panel (uniformity, angles, reflectance, spectrum)
 * stay as they were. Common practice, no source.
 */
const REPEATED: ReadonlyMap<Keyword, keyof typeof REPEAT_REASONS> = new Map([
  ['greyscale', 'curve'],
  ['tracking', 'tone'],
  ['window', 'peak'],
  ['contrast', 'black'],
  ['gamut', 'colour'],
  ['saturation', 'colour'],
  ['patches', 'colour'],
  ['volume', 'colour'],
  ['endurance', 'lasting'],
  ['lag', 'time'],
  ['power', 'power'],
] as const satisfies readonly (readonly [Keyword, keyof typeof REPEAT_REASONS])[]);

export interface RunToRepeat {
  readonly id: string;
  readonly kind: Keyword;
  readonly title: string;
  readonly why: Message;
}

export const repeatReasonText = (why: Message, say: Say = fill): string => worded(phraseOf(REPEAT_REASONS, why), say);

/** The runs of a session to repeat after a firmware update, the most telling first. */
export const runsToRepeat = (source: SessionText): readonly RunToRepeat[] =>
  blocksToRepeat(sessionOf(source)).map((block) => ({
    id: block.name,
    kind: block.keyword!,
    title: block.header?.title?.text ?? '',
    why: { code: REPEATED.get(block.keyword!)!, args: {} },
  }));

function blocksToRepeat(session: Session): Block[] {
  const order = [...REPEATED.keys()];
  return namedRuns(session)
    .filter(({ keyword }) => REPEATED.has(keyword!))
    .sort((a, b) => order.indexOf(a.keyword!) - order.indexOf(b.keyword!));
}

const namedRuns = (session: Session): Block[] =>
  session.runs.map(({ block }) => block).filter((block) => session.byName.get(block.name) === block);

/** What a session takes along into the one that goes on from it: what was measured, with what, and against what. */
const TAKEN_ALONG: ReadonlySet<Keyword> = new Set<Keyword>(['display', 'meter', 'correction', 'signal', 'mode', 'target', 'limits']);

/** Properties of a run that are of its readings, not of what is to be read. */
const OF_READINGS: ReadonlySet<string> = new Set(['taken', 'firmware', 'note']);

/**
 * A session that goes on from an earlier one: the same display, meters and their corrections, signals, modes, targets and limits, and its
 * runs with their rows to take again, each with all of its properties. Under another firmware only the runs that it can change, the most
 * telling first. What is struck out stays behind.
 * @param wanted.date of the new session, `2026-03-14`
 * @param wanted.path of the earlier one, as the new one sees it
 * @param wanted.firmware of the display now; to be noted when left out
 */
export function continueSession(
  earlier: SessionText,
  wanted: { readonly date: string; readonly path: string; readonly firmware?: string },
): NewSession | Message {
  const refused = refusesRewriting(earlier);
  if (refused) return refused;
  const session = sessionOf(earlier);
  const first = session.first('session');
  const before = session.text(session.first('display'), 'firmware');
  const isUpdated = wanted.firmware !== undefined && wanted.firmware !== before;
  return written(earlier.eol, () => {
    if (wanted.path === '' || wanted.path.includes('\\')) throw new Refused(refusal('path-form', { path: wanted.path }));
    const own = first ? session.properties(first) : new Map();
    const kept = (name: string) => rawValue(own.get(name)?.line);
    const along = session.live.filter((block) => TAKEN_ALONG.has(block.keyword!) && session.byName.get(block.name) === block);
    const runs = isUpdated ? blocksToRepeat(session) : namedRuns(session);
    return [
      'nitbook 1',
      '',
      `session ${dayOf(wanted.date)}`,
      ...properties('session', { title: '?', by: kept('by') ?? '?', room: '?', 'warm-up': kept('warm-up') ?? '?', continues: wanted.path }),
      ...along.flatMap((block) => (block.keyword === 'display' ? displayNow(block, wanted.firmware) : copied(block))),
      ...runs.flatMap((block) => ['', ...runAgain(session, block)]),
      '',
    ];
  });
}

/** Thrown inside this file only, so that each line can be written as if the one before had gone well. */
class Refused extends Error {
  constructor(readonly said: Message) {
    super(said.code);
  }
}

const must = <T extends object | string>(answer: T | Message): T => {
  if (typeof answer === 'object' && isRefusal(answer)) throw new Refused(answer);
  return answer as T;
};

function written(eol: string, lines: () => readonly string[]): NewSession | Message {
  try {
    const raw = SessionText.read(lines().join(eol));
    const text = applyEdits(raw.text, formatEdits(raw));
    return { text, cursor: nextOpen(SessionText.read(text), 0)?.span[0] ?? text.length };
  } catch (error) {
    if (error instanceof Refused) return error.said;
    throw error;
  }
}

function dayOf(date: string): string {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date) || !readDate(date)) throw new Refused(refusal('date-form', { found: date }));
  return date;
}

/** The head of a block, checked by reading it. */
function head(keyword: string, id: string, title = '', link = ''): string {
  const line = [keyword, id, ...(title === '' ? [] : [quoted(title)]), ...(link === '' ? [] : [link])]
    .filter((part) => part !== '')
    .join(' ');
  const read = SessionText.read(`nitbook 1\n${line}`).blocks[1];
  const isAsked = read?.lines.length === 1 && (read.header?.id?.text ?? '') === id && (read.header?.title?.text ?? '') === title;
  if (!isAsked) throw new Refused(refusal('title-form', { title }));
  return line;
}

const planHead = (of: PlanBlock | PlanRun): string => {
  const link = 'from' in of && of.from ? `from ${of.from}` : 'like' in of && of.like ? `like ${of.like}` : '';
  return head(of.kind, of.id, of.title, link);
};

/** Properties as the session format writes them: quoted where they would not be read else. */
const properties = (keyword: string, of: Readonly<Record<string, string>>): string[] =>
  Object.entries(of).map(([name, value]) => {
    const edits = must(planned(SessionText.read(`nitbook 1\n${keyword} x\n`), { do: 'setProperty', block: 'x', name, value }));
    return edits[0]!.text.slice(1);
  });

function plannedRows({ kind, id, columns, keys, rows }: PlanRun): string[] {
  const run = emptyRun(kind, columns);
  if (!run) throw new Refused(refusal('plan-run', { run: id, columns }));
  const names = new Set(run.columns!.columns.map(({ name }) => name));
  if (keys.some((key) => !names.has(key))) throw new Refused(refusal('plan-run', { run: id, columns }));
  return [columnsText(run.columns!), ...rows.map((row) => must(newRow(run, Object.fromEntries(row.map((cell, i) => [keys[i]!, cell])))))];
}

/** An id of the letters and digits of a title; empty when it has none. */
function idOf(title: string, taken: ReadonlySet<string>): string {
  const words = title
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9 -]/g, '')
    .split(/[ -]+/);
  const id = words
    .filter((word) => word !== '')
    .join('-')
    .replace(/^[^a-z]+/, '')
    .slice(0, 40)
    .replace(/-$/, '');
  return id === '' ? '' : freeId(id, (name) => taken.has(name));
}

type PropertyText = { readonly text: string; readonly value: { readonly is: string; readonly span: readonly [number, number] } };

/** A value as it is written; undefined where nothing is said. */
const rawValue = (line: PropertyText | undefined): string | undefined =>
  !line || line.value.is === 'absent' || line.value.is === 'removed' ? undefined : line.text.slice(...line.value.span);

/** The lines of a block that hold, as they are written. */
function copied(block: Block): string[] {
  const lines = block.lines.slice(0, lastOwnLine(block) + 1).flatMap(({ kind, struck, text }) => {
    const isKept = !struck && kind !== 'other' && kind !== 'conflict' && kind !== 'held' && kind !== 'blank';
    return isKept ? [text.replace(/^\uFEFF/, '')] : [];
  });
  return block.keyword === 'correction' ? ['', ...lines] : lines;
}

/** The display as it is now: under its firmware, and with more hours than then. */
function displayNow(block: Block, firmware = '?'): string[] {
  let source = SessionText.read(['nitbook 1', ...copied(block), ''].join('\n'));
  const changes = { firmware, ...(block.find('hours') ? { hours: '?' } : {}) };
  for (const [name, value] of Object.entries(changes)) {
    source = source.change(must(planned(source, { do: 'setProperty', block: block.name, name, value })));
  }
  return source.lines.slice(1, -1).map(({ text }) => text);
}

/** A run with all that holds for it written out, and its rows to take. */
function runAgain(session: Session, block: Block): string[] {
  const lines: string[] = [head(block.keyword!, block.header!.id?.text ?? '', block.header!.title?.text)];
  for (const [name, { line, block: from }] of session.properties(block)) {
    if (OF_READINGS.has(name)) continue;
    const alike = block.spec?.properties[name]?.many ? from.propertyLines.map((i) => from.property(i)) : [line];
    for (const each of alike) {
      if (each.struck || each.name.text !== name || rawValue(each) === undefined) continue;
      lines.push(`  ${each.text.slice(...each.name.span)}: ${rawValue(each)}`);
    }
  }
  return [...lines, ...must(openRows(block))];
}
