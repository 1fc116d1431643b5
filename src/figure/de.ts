import type { Coloured } from '../measure/colours';
import type { RunResult } from '../measure/result';
import { without } from '../measure/value';
import { numberText } from '../report/format';
import { counted, type Forms, type Phrase, phrase, plainNumber } from '../text/message';
import { verdictOfInterval } from '../uncertainty/conformity';
import type { Axis, Mark, Panel, Point, Series } from './figure';
import { type Rooms, roomMarks, roomsOf } from './rooms';
import { type Drawn, drawn, levelsOf, type Row, tableRows } from './rows';
import { struckOf } from './struck';
import { againstOf, type Builder, endLabel, inkOf, runHead, runLabel, type Subject, titleOf, words } from './subject';

interface Metric {
  readonly id: 'de' | 'de.itp';
  readonly name: string;
  /** The measure whose aim and limit are drawn. */
  readonly limits: 'de.max' | 'de.itp.avg';
}

const DE2000: Metric = { id: 'de', name: 'ΔE 2000', limits: 'de.max' };
const DE_ITP: Metric = { id: 'de.itp', name: 'ΔE ITP', limits: 'de.itp.avg' };

/** So many are labelled with their numbers. */
const LABELLED = 3;
/** More patches than this have no room for a line of their own with their name. */
const MOST_NAMES = 48;

/** Which colours are off, and by how much: by level of a grey, else by patch in the order of the file. */
export const de: Builder = {
  id: 'de',
  kinds: ['greyscale', 'tracking', 'saturation', 'patches'],
  build(subject) {
    const { results } = subject;
    const metric = results.every((result) => hasAny(result, 'de')) ? DE2000 : DE_ITP;
    if (!results.some((result) => hasAny(result, metric.id))) return without('no-colour');
    const rooms = roomsOf(subject, results[0]!, metric.limits);
    const places = placesOf(subject, results);
    const lines = results.map((result) => lineOf(subject, result, metric, places));
    const named = new Map(results.map((result) => [result, places.of(result).written]));
    const most = lines.flatMap(judgedOf).reduce((p, { y }) => Math.max(p, y), (rooms.limit?.high ?? rooms.aim?.high ?? 1) * 1.1);
    const end = judgedOf(lines.at(-1)!).reduce((p, { y, ci }) => Math.max(p, ci?.[1] ?? y), most);
    const size: Axis = { title: metric.name, scale: 'linear', domain: [0, end * 1.06] };
    const along: 'x' | 'y' = places.isByName ? 'x' : 'y';
    const isOfAverage = metric.limits === 'de.itp.avg';
    const limits = roomMarks(subject, rooms, isOfAverage ? words(subject, phrase('(average)')) : '').map(
      (mark): Mark => ({ ...mark, along }),
    );
    const panel: Panel = {
      id: 'de',
      x: places.isByName ? size : places.axis,
      y: places.isByName ? places.axis : size,
      marks: [
        ...limits,
        ...joinedBefore(
          lines.map(({ series }) => series),
          along,
        ),
        ...lines.flatMap(({ result, series }) =>
          struckOf(subject, result, series, (other) => lineOf(subject, other, metric, places).series),
        ),
      ],
    };
    return {
      id: 'de',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        lines.map((line) => answerOf(line, metric, rooms)),
        {
          what: results.some((result) => kneeOf(result) !== undefined)
            ? phrase('Worst {metric} up to the knee', { metric: metric.name })
            : phrase('Worst {metric}', { metric: metric.name }),
          of: lines.map((line) => worstOf(line)[0]?.y ?? Number.NaN),
          text: (v) => numberText(v, 1),
          last: countOf(lines.at(-1)!, metric, rooms),
        },
      ),
      against: againstOf(subject),
      summary: lines.map((line) => summaryOf(subject, line, metric)).join(' '),
      notes: [],
      panels: [panel],
      flow: 'column',
      table: {
        head: [...runHead(subject), places.head, metric.name],
        rows: tableRows(subject, lines, ({ patch, y }, result) => [named.get(result)!(patch), numberText(y, 2)]),
      },
    };
  },
};

const colouredOf = ({ context }: RunResult): Coloured => context as Coloured;

const hasAny = (result: RunResult, id: string): boolean => result.rows(id)?.some((v) => Number.isFinite(v)) === true;

/** Where the rows of the runs stand: along levels, by name on lines of their own, or one after the other. */
interface Places {
  readonly isByName: boolean;
  readonly axis: Axis;
  readonly head: string;
  readonly of: (result: RunResult) => {
    readonly patches: readonly number[];
    readonly at: (patch: number) => number;
    /** What a row is called: a level in per cent, else a patch as the file names it. */
    readonly written: (patch: number) => string;
  };
}

function placesOf(subject: Subject, results: readonly RunResult[]): Places {
  if (isGrey(results[0]!)) {
    const title = words(subject, phrase('level, %'));
    return {
      isByName: false,
      axis: { title, scale: 'linear', domain: [0, 100] },
      head: title,
      of: (result) => {
        const { patches, level, written } = levelsOf(result);
        return { patches, at: level, written };
      },
    };
  }
  const countingOf = ({ context }: RunResult): number[] =>
    Array.from({ length: context!.patches.count }, (_, i) => i).filter((i) => !context!.patches.revisit[i]);
  const names = [
    ...new Set(
      results.flatMap((result) =>
        countingOf(result)
          .filter((i) => hasFigure(result, i))
          .map((i) => result.keyOf(i).join(' ')),
      ),
    ),
  ];
  const index = new Map(names.map((name, i) => [name, i]));
  const isByName = names.length <= MOST_NAMES;
  const head = words(subject, phrase('patch'));
  const of: Places['of'] = (result) => ({
    patches: countingOf(result),
    at: (i) => index.get(result.keyOf(i).join(' ')) ?? Number.NaN,
    written: (i) => result.keyOf(i).join(' '),
  });
  if (!isByName)
    return {
      isByName,
      head,
      of,
      axis: { title: words(subject, phrase('patch, in the order of the file')), scale: 'linear', domain: [-0.5, names.length - 0.5] },
    };
  return {
    isByName,
    head,
    of,
    axis: { title: '', scale: 'names', domain: [names.length - 0.5, -1], ticks: names.map((label, at) => ({ at, label })) },
  };
}

const hasFigure = (result: RunResult, patch: number): boolean => ['de', 'de.itp'].some((id) => Number.isFinite(result.rows(id)?.[patch]));

function lineOf(subject: Subject, result: RunResult, metric: Metric, places: Places): Drawn {
  const { patches, at, written } = places.of(result);
  const unit = isGrey(result) ? ' %' : '';
  const isLast = result === subject.results.at(-1);
  const { isByName } = places;
  const found = drawn(
    subject,
    {
      ...inkOf(subject, subject.results.indexOf(result)),
      ...(subject.results.length > 1 && { label: endLabel(subject, result), labelled: 'near' }),
      joined: false,
      along: isByName ? 'x' : 'y',
      shape: isLast ? 'dot' : 'hollow',
    },
    {
      result,
      id: metric.id,
      series: `${result.run.id}/${metric.id}`,
      patches,
      x: at,
      name: (i, { v }) => `${written(i)}${unit}: ${metric.name} ${numberText(v, 2)}`,
      faint: (i) => !colouredOf(result).counts(i),
    },
  );
  const worst = new Map(isLast ? worstOf(found).map(({ patch }) => [result.keyOf(patch).join(','), written(patch)]) : []);
  const points = found.series.points.map((point): Point => {
    const name = worst.get(point.key.join(','));
    const size = numberText(point.y, 2);
    const label = name === undefined ? {} : { label: isByName ? size : `${size} (${name})` };
    // Of runs over each other the last alone has whiskers: those of the others would lie on them.
    const { ci, ...rest } = point;
    const shown = { ...rest, ...(ci && isLast && { ci }), ...label };
    return isByName ? { ...shown, x: point.y, y: point.x } : shown;
  });
  return { ...found, series: { ...found.series, points } };
}

const judgedOf = ({ all }: Drawn): Row[] => all.filter(({ faint }) => !faint);

/** The largest, of alike ones the first; one pass, as there may be very many. */
function worstOf(line: Drawn): readonly Row[] {
  const worst: Row[] = [];
  for (const row of line.all) {
    if (row.faint || (worst.length === LABELLED && row.y <= worst[LABELLED - 1]!.y)) continue;
    const at = worst.findIndex(({ y }) => y < row.y);
    worst.splice(at < 0 ? worst.length : at, 0, row);
    worst.length = Math.min(worst.length, LABELLED);
  }
  return worst;
}

/** Each reading of the last run led to from the one of the same row of the run before. */
function joinedBefore(series: readonly Series[], along: 'x' | 'y'): readonly Series[] {
  const [before, last] = series.length === 2 ? series : [];
  if (!before || !last) return series;
  const placed = new Map(before.points.map((point) => [point[along === 'x' ? 'y' : 'x'], point]));
  const points = last.points.map((point): Point => {
    const from = placed.get(point[along === 'x' ? 'y' : 'x']);
    return from ? { ...point, from: [from.x, from.y] } : point;
  });
  // The earlier reading over the line that leads from it.
  return [{ ...last, points }, before];
}

/** `5 of 20 levels above ΔE 3, the worst 4.06 at 95 %`. */
function answerOf(line: Drawn, metric: Metric, rooms: Rooms): Phrase {
  const [worst] = worstOf(line);
  if (!worst) return phrase('No colours');
  const args = { worst: numberText(worst.y, 1), where: placeOf(line.result, worst.patch) };
  const count = countOf(line, metric, rooms);
  if (!count) return toKnee(line.result, phrase('{metric} at most {worst} {where}', { ...args, metric: metric.name }));
  return judgedOf(line).length === 1
    ? phrase('{count}: {worst} {where}', { ...args, count })
    : phrase('{count}, the worst {worst} {where}', { ...args, count });
}

/** Above its knee, per cent of signal, a tracking run is held against nothing. */
function kneeOf(result: RunResult): number | undefined {
  const knee = result.run.kind === 'tracking' ? result.value('knee.level') : undefined;
  return knee?.ok ? knee.v : undefined;
}

function toKnee(result: RunResult, answer: Phrase): Phrase {
  const knee = kneeOf(result);
  return knee === undefined ? answer : phrase('{answer}, up to the knee at {level} %', { answer, level: numberText(knee, 0) });
}

/** `5 of 20 levels above ΔE 3`; undefined where nothing says how much is too much. */
function countOf(line: Drawn, { id, name, limits }: Metric, rooms: Rooms): Phrase | undefined {
  const judged = judgedOf(line);
  const room = limits === 'de.max' ? (rooms.limit?.high ?? rooms.aim?.high) : undefined;
  if (room === undefined) return undefined;
  const [above, open] = (['beyond', 'undecided'] as const).map(
    (verdict) => judged.filter(({ y, ci }) => verdictOfInterval(ci ?? [y, y], { high: room }) === verdict).length,
  ) as [number, number];
  const args = {
    short: id === 'de' ? 'ΔE' : name,
    room: plainNumber(room),
    count: judged.length,
    what: isGrey(line.result) ? phrase('levels') : phrase('colours'),
    above,
    open,
    within: judged.length - open,
  };
  if (judged.length === 1)
    return above > 0
      ? phrase('Above {short} {room}', args)
      : open > 0
        ? phrase('Undecided whether within {short} {room}', args)
        : phrase('Within {short} {room}', args);
  if (above === 0)
    return open === 0
      ? phrase('All {count} {what} within {short} {room}', args)
      : phrase('{within} of {count} {what} within {short} {room}, {open} undecided', args);
  return open === 0
    ? phrase('{above} of {count} {what} above {short} {room}', args)
    : phrase('{above} of {count} {what} above {short} {room}, {open} undecided', args);
}

const isGrey = ({ run }: RunResult): boolean => run.kind === 'greyscale' || run.kind === 'tracking';

const placeOf = (result: RunResult, patch: number): Phrase => {
  if (isGrey(result)) return phrase('at {level} %', { level: levelsOf(result).written(patch) });
  const key = result.keyOf(patch);
  return result.run.kind === 'saturation'
    ? phrase('in {hue} at {saturation} %', { hue: key[0]!, saturation: key[1] ?? '' })
    : phrase('in {patch}', { patch: key.join(' ') });
};

function summaryOf(subject: Subject, line: Drawn, { name }: Metric): string {
  const sizes = judgedOf(line).map(({ y }) => y);
  if (sizes.length === 0) return '';
  const mean = sizes.reduce((sum, v) => sum + v, 0) / sizes.length;
  const most = sizes.reduce((p, q) => Math.max(p, q));
  const args = {
    run: runLabel(subject, line.result),
    metric: name,
    mean: numberText(mean, 2),
    most: numberText(most, 2),
  };
  return words(subject, counted(sizes.length, SUMMARY, args));
}

const SUMMARY: Forms = ['{run}: {metric} of 1 row, {most}.', '{run}: {metric} of {count} rows, {mean} on average, {most} at most.'];
