import { limitsFor } from '../judge/limits';
import type { Levels } from '../measure/greyscale';
import type { RunResult } from '../measure/result';
import { type Against, describeAgainst } from '../measure/scaling';
import type { MeasuredKind, MeasureSpec } from '../measure/specs';
import type { Value } from '../measure/value';
import type { Analysis } from '../project/analysis';
import { verdictText } from '../report/format';
import { figureOf } from '../report/summary';
import { blockLabels } from '../session/nodes';
import type { NodeId } from '../text/finding';
import type { Bound } from '../text/limitText';
import { type Arg, allOf, type Phrase, phrase, plainNumber, type Say, worded } from '../text/message';
import { enveloped, MOST_POINTS } from './envelope';
import type { Band, Figure, Ink, Point, Rule, Series } from './figure';
import { deviationDomain } from './scale';
import type { Deviation } from './stretch';

/** What a figure is made of. */
export interface Subject {
  readonly analysis: Analysis;
  /** At least one, of one kind, in the order of the reference; all of them computed. */
  readonly results: readonly RunResult[];
  readonly say: Say;
}

/** How one figure is made. */
export interface Builder {
  /** What a reference names it by; unique among those of a kind. */
  readonly id: string;
  readonly kinds: readonly MeasuredKind[];
  /** Of how many runs, from and to; of any number when left out. */
  readonly runs?: readonly [least: number, most: number];
  /** Whether it is another view of a figure: there for who asks for it. */
  readonly variant?: boolean;
  /** The figure, or why there is nothing to be shown. */
  readonly build: (subject: Subject) => Figure | Extract<Value, { ok: false }>;
}

/** A phrase in the words of the figure. */
export const words = ({ say }: Subject, of: Arg): string => worded(of, say);

/** What a run is called beside others: its title where it has one of its own. */
export function runLabel({ results }: Subject, { run }: RunResult): string {
  const isOwn = run.title !== '' && !results.some((other) => other.run !== run && other.run.title === run.title);
  return isOwn ? run.title : run.id;
}

/** Which runs are shown, and what they are against: what they have in common, where their whites were read apart. */
export function againstOf(subject: Subject): string {
  const { results, say } = subject;
  const runs = allOf(results.map(({ run }) => (run.title === '' ? run.id : `${run.id} (${run.title})`)));
  const texts = (of: (against: Against) => Against) =>
    [...new Set(results.map((result) => describeAgainst(of(result.against), say)))].filter((text) => text !== '');
  const whole = texts((against) => against);
  const apart = texts(({ target, space, curve, white, corrected }) => ({
    ...(target !== undefined && { target }),
    ...(space !== undefined && { space }),
    ...(curve !== undefined && { curve }),
    ...(white !== undefined && { white }),
    ...(corrected !== undefined && { corrected }),
  }));
  if (whole.length === 0) return words(subject, runs);
  if (whole.length === 1) return words(subject, phrase('{runs}, against {against}', { runs, against: whole[0]! }));
  if (apart.length === 1) return words(subject, phrase('{runs}, against {against}, each with its own white', { runs, against: apart[0]! }));
  return words(subject, phrase('{runs}, against {against}', { runs, against: apart.join('; ') }));
}

/** So many answers are read one after the other. */
const MOST_ANSWERS = 2;

/**
 * The answer of each run, behind what the run is called where there are several; of many that of the worst alone.
 * @param badness how bad the answer of each run is
 */
export function titleOf(subject: Subject, answers: readonly Phrase[], badness: readonly number[] = []): string {
  const said = answers.map((answer) => words(subject, answer));
  const [first, ...others] = said;
  if (others.length === 0) return first!;
  if (others.every((one) => one === first))
    return words(
      subject,
      others.length === 1
        ? phrase('Both: {answer}', { answer: first! })
        : phrase('All {count}: {answer}', { count: said.length, answer: first! }),
    );
  const named = said.map((answer, i) => words(subject, phrase('{run}: {answer}', { run: runLabel(subject, subject.results[i]!), answer })));
  if (said.length <= MOST_ANSWERS || badness.length < said.length) return named.join('; ');
  const worst = badness.reduce((most, v, i) => (v > badness[most]! ? i : most), 0);
  return words(subject, phrase('The worst of {count} is {answer}', { count: said.length, answer: named[worst]! }));
}

/** The head of a table column that says the run, where there are several. */
export const runHead = (subject: Subject): readonly string[] => (subject.results.length > 1 ? [words(subject, phrase('run'))] : []);

export const runCell = (subject: Subject, result: RunResult): readonly string[] =>
  subject.results.length > 1 ? [runLabel(subject, result)] : [];

/** The node of the row that a patch begins with. */
export function rowsOfBlock({ analysis: { source } }: Subject, { run, context }: RunResult): (patch: number) => NodeId {
  const label = blockLabels(source)[source.blocks.indexOf(run.block)] ?? run.id;
  return (patch) => `${label}/row/${context!.patches.first[patch]!}`;
}

/** The ink of each run of an overlay: of two, the earlier is grey and the later dark; more have inks of their own. */
export function inkOf({ results }: Subject, i: number): Pick<Series, 'ink' | 'dash'> {
  if (results.length === 1) return { ink: 'text', dash: 'solid' };
  if (results.length === 2) return i === 0 ? { ink: 'muted', dash: 'long' } : { ink: 'text', dash: 'solid' };
  const inks: readonly Ink[] = ['text', 'a', 'b', 'c', 'd'];
  const dashes = ['solid', 'long', 'dot', 'dash-dot'] as const;
  return { ink: inks[i % inks.length]!, dash: dashes[i % dashes.length]! };
}

/** What an aim or limit lets through, in the unit of the measure; open to one side unless it is a range. */
export interface Room {
  readonly low?: number;
  readonly high?: number;
}

export interface Rooms {
  readonly aim?: Room;
  readonly limit?: Room;
}

/** The aim and limit of a measure of a run. `centre` is what a `nearer` measure is nearer to; 0 for one that is shown as a deviation. */
export function roomsOf(
  { analysis: { session, config } }: Subject,
  result: RunResult,
  id: string,
  centre = 0,
  key: readonly string[] = [],
): Rooms {
  const spec = result.specs[id];
  const found = spec && limitsFor(session, config, result, id, key);
  const room = (bound: Bound | undefined): Room | undefined => bound && spec && roomOf(bound, spec, centre);
  const [aim, limit] = [room(found?.aim), room(found?.limit)];
  return { ...(aim && { aim }), ...(limit && { limit }) };
}

function roomOf({ low, high }: Bound, { direction, centre: own = 0 }: MeasureSpec, centre: number): Room {
  if (low !== undefined) return { low: low - own + centre, high: high - own + centre };
  if (direction === 'larger') return { low: high };
  return direction === 'nearer' ? { low: centre - high, high: centre + high } : { high };
}

/** The ends of aim and limit, for the domain of an axis. */
const roomEnds = ({ aim, limit }: Rooms): readonly number[] =>
  [aim?.low, aim?.high, limit?.low, limit?.high].filter((v) => v !== undefined);

/** How far from 0 is still near enough: by the aim, else the limit. */
export const roomSize = ({ aim, limit }: Rooms): number | undefined => {
  const room = aim ?? limit;
  return room && Math.max(Math.abs(room.low ?? 0), Math.abs(room.high ?? 0));
};

/** Lines, and the band between them, for aim and limit along y. */
export function roomMarks(subject: Subject, { aim, limit }: Rooms, unit: string, extent?: readonly [number, number]): (Rule | Band)[] {
  const some = extent ? { extent } : {};
  const marks = (role: 'aim' | 'limit', room: Room | undefined): (Rule | Band)[] => {
    if (!room) return [];
    const { low, high } = room;
    const band: Band[] =
      role === 'aim' && low !== undefined && high !== undefined ? [{ is: 'band', along: 'y', between: [low, high], role, ...some }] : [];
    const rules = [high, low].flatMap((at, i): Rule[] =>
      at === undefined
        ? []
        : [
            {
              is: 'rule',
              along: 'y',
              at,
              role,
              ...some,
              ...((i === 0 || high === undefined) && { label: roomText(subject, role, room, unit) }),
            },
          ],
    );
    return [...band, ...rules];
  };
  return [...marks('aim', aim), ...marks('limit', limit)];
}

/** `aim ±2 %`, `limit 3`; the size alone without a role. */
export function roomText(subject: Subject, role: 'aim' | 'limit' | undefined, { low, high }: Room, unit: string): string {
  const isAlike = low !== undefined && high !== undefined && Math.abs(low + high) < 1e-9;
  const size = isAlike
    ? `±${plainNumber(high)}`
    : low !== undefined && high !== undefined
      ? `${plainNumber(low)}..${plainNumber(high)}`
      : plainNumber(high ?? low!);
  const text = unit === '' ? size : `${size} ${unit}`;
  if (!role) return text;
  return words(subject, role === 'aim' ? phrase('aim {size}', { size: text }) : phrase('limit {size}', { size: text }));
}

/** The domain of deviations: all of those that are judged, and the room they have. */
export function domainOf(series: readonly Series[], rooms: Rooms): readonly [number, number] {
  const points = series.flatMap((one) => one.points);
  const ys = (faint: boolean) => points.filter((point) => (point.faint === true) === faint).flatMap(({ y, ci }) => [y, ...(ci ?? [])]);
  return deviationDomain(ys(false), ys(true), roomEnds(rooms));
}

/** The judged points of a series as deviations along levels in per cent. */
export const deviationsOf = ({ points }: Pick<Series, 'points'>): Deviation[] =>
  points.filter(({ faint }) => !faint).map(({ x, y }) => ({ v: y, at: plainNumber(Number(x.toFixed(1))) }));

/** The levels of a run of greys that were read, from dark to bright. A level that was read again later is left out. */
export interface LevelsOf {
  readonly patches: readonly number[];
  /** Per cent: as written, else as sent. */
  readonly level: (patch: number) => number;
  /** As a title names it. */
  readonly written: (patch: number) => string;
}

export function levelsOf({ run, context }: RunResult): LevelsOf {
  const { patches, signals } = context as unknown as Levels;
  const column = run.table.columns.get('level')!;
  const inPercent = column.bits === undefined;
  const level = (i: number) => (inPercent ? run.table.rows[patches.first[i]!]!.values[column.cell]! : 100 * signals[i]!);
  const found: number[] = [];
  for (let i = 0; i < patches.count; i++) if (!patches.revisit[i] && Number.isFinite(signals[i]!)) found.push(i);
  found.sort((a, b) => signals[a]! - signals[b]!);
  return { patches: found, level, written: (i) => plainNumber(Number(level(i).toFixed(inPercent ? 3 : 1))) };
}

/** How the points of a series are made from the rows of a run. */
export interface Plotted {
  readonly result: RunResult;
  /** The measure shown. */
  readonly id: string;
  /** Unique within the figure: `grey/blue`. */
  readonly series: string;
  /** Along the line. */
  readonly patches: readonly number[];
  readonly x: (patch: number) => number;
  /** From the measure's value to what the axis shows; the value itself when left out. */
  readonly y?: (v: number) => number;
  /** What a point says: the place, what was found, and its verdict. */
  readonly name: (patch: number, value: Value & { readonly ok: true }, verdict: string) => string;
  readonly faint?: (patch: number) => boolean;
}

/** The points of a measure: every row that has it, or the envelope of very many. */
export function plotted(
  subject: Subject,
  { result, id, series, patches, x, y = (v) => v, name, faint }: Plotted,
): Pick<Series, 'points' | 'envelope'> {
  const list = result.rows(id)!;
  const rows = patches.filter((i) => Number.isFinite(list[i]!));
  const kept = enveloped(rows, (i) => list[i]!);
  const nodeOf = rowsOfBlock(subject, result);
  const points = kept.map((patch): Point => {
    const key = result.keyOf(patch);
    const value = result.value(id, key);
    const v = list[patch]!;
    const ci = intervalOf(value);
    const { judgement } = figureOf(subject.analysis, result, id, key, value);
    return {
      id: `${series}/${key.join(',')}`,
      x: x(patch),
      y: y(v),
      ...(ci && { ci: [y(ci[0]), y(ci[1])] as const }),
      row: nodeOf(patch),
      run: result.run.id,
      key,
      name: name(patch, { ok: true, v }, verdictText(judgement.verdict)),
      ...(faint?.(patch) && { faint: true }),
    };
  });
  return { points, ...(rows.length > MOST_POINTS && { envelope: { of: rows.length } }) };
}

/** The interval of a figure, once it has one. */
const intervalOf = (value: Value): readonly [number, number] | undefined =>
  value.ok && 'ci' in value ? (value.ci as readonly [number, number]) : undefined;
