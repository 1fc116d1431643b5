import { isHdrRun, type Judgement, judgeValue } from '../judge/limits';
import { withInterval } from '../measure/intervals';
import type { RunResult } from '../measure/result';
import { type MeasureSpec, measureSpec, ROW_LIMITS } from '../measure/specs';
import type { Value } from '../measure/value';
import type { Analysis } from '../project/analysis';
import type { Block } from '../session/block';
import { keyLabel, readingsToTake } from '../session/blockProblems';
import type { PropertyLine } from '../session/line';
import type { Session } from '../session/session';
import type { Severity } from '../text/codes';
import { fill, type Say } from '../text/message';
import { whyText } from './format';

/** One figure of a run, or of one of its rows, with what it is judged by. */
export interface Figure {
  readonly id: string;
  /** Empty for a figure of the run. */
  readonly key: readonly string[];
  /** Of the numbers of the key, part by part: `%`, `lx`; empty for words and for numbers without one. */
  readonly units: readonly string[];
  readonly spec: MeasureSpec;
  readonly value: Value;
  readonly judgement: Judgement;
}

/** What a figure is called in tables and limits: `de.max`, `peak@10`. */
export const figureName = ({ id, key }: Pick<Figure, 'id' | 'key'>): string => (key.length === 0 ? id : `${id}@${key.join(',')}`);

/** What it is called in words: `ΔE 2000 maximum`, `Peak @10 %`. */
export const figureTitle = ({ spec, key, units }: Pick<Figure, 'spec' | 'key' | 'units'>, say: Say = fill): string => {
  const parts = key.map((part, i) => `${part}${units[i] === undefined || units[i] === '' || units[i] === '°' ? '' : ' '}${units[i] ?? ''}`);
  return key.length === 0 ? say(spec.title) : `${say(spec.title)} @${parts.join(',')}`;
};

export interface Named {
  readonly id: string;
  readonly title: string;
}

export interface RunSummary {
  readonly id: string;
  readonly kind: string;
  readonly title: string;
  readonly mode?: Named;
  readonly signal?: Named;
  readonly meter?: Named;
  /** Where they differ from those of the display and the session. */
  readonly firmware?: string;
  readonly taken?: string;
  /** Empty when nothing is judged against anything. */
  readonly against: string;
  /** Why the whole run has no figures. */
  readonly why?: string;
  /** All figures of the run, and those of rows that have a limit of their own, in the order of the table of measures. */
  readonly figures: readonly Figure[];
  readonly headline: readonly Figure[];
  /** How many more there would be, of more rows than a headline has room for. */
  readonly more: number;
  /** Sentences on what the run shows, beside its figures. */
  readonly says: readonly string[];
  readonly toTake: number;
  /** The key of the first row with a reading still to take. */
  readonly firstToTake?: string;
  readonly result: RunResult;
}

export interface Summary {
  readonly title: string;
  readonly date?: string;
  readonly display?: Named;
  readonly firmware?: string;
  readonly room?: string;
  readonly warmUp?: string;
  /** Those that runs were taken with. */
  readonly meters: readonly Named[];
  readonly runs: readonly RunSummary[];
  readonly observations: readonly Observations[];
  readonly toTake: number;
  readonly findings: Readonly<Record<Severity, number>>;
}

/** What eyes saw: topics of the user's own, and what is written of each. */
export interface Observations {
  readonly mode?: Named;
  readonly signal?: Named;
  readonly distance?: string;
  readonly seen: readonly { readonly topic: string; readonly is: string }[];
}

/** What is to be said of a session, as data with its sentences in a language; every form of report is made from it. */
export function summarise(analysis: Analysis, say: Say = fill): Summary {
  const { session, results, toTake } = analysis;
  const display = session.first('display');
  const findings = { error: 0, warning: 0, info: 0 };
  for (const { severity } of analysis.findings) findings[severity]++;
  return {
    title: session.text(session.first('session'), 'title') ?? '',
    ...some('date', session.date?.text),
    ...some('display', display && named(display)),
    ...some('firmware', session.text(display, 'firmware')),
    ...some('room', writtenIn(session, session.first('session'), 'room')),
    ...some('warmUp', writtenIn(session, session.first('session'), 'warm-up')),
    meters: [...new Set(results.flatMap(({ run }) => run.meter ?? []))].map(named),
    runs: results.map((result) => summariseRun(analysis, result, say)),
    observations: session.all('observations').map((block) => observed(session, block)),
    toTake,
    findings,
  };
}

function summariseRun(analysis: Analysis, result: RunResult, say: Say): RunSummary {
  const { session } = analysis;
  const { run } = result;
  const { count, first } = readingsToTake(run.block);
  const taken = session.value(run.block, 'taken');
  const { shown, more } = headlineOf(analysis, result);
  const says = result.says(say);
  // That the readings are corrected is the first of the sentences, and part of what a run is against.
  const isTold = result.against.target !== undefined && result.against.corrected !== undefined;
  return {
    id: run.id,
    kind: run.kind,
    title: run.title,
    ...some('mode', run.mode && named(run.mode)),
    ...some('signal', run.signal && named(run.signal)),
    ...some('meter', run.meter && named(run.meter)),
    ...some('firmware', session.text(run.block, 'firmware')),
    ...some('taken', taken?.is === 'date' ? taken.date.text : undefined),
    against: result.againstText(say),
    ...some('why', result.absent && whyText(result.absent.why, say)),
    figures: figures(analysis, result),
    headline: shown,
    more,
    says: isTold ? says.slice(1) : says,
    toTake: count,
    ...some('firstToTake', first && keyLabel(run.block, run.block.row(first.line))),
    result,
  };
}

function observed(session: Session, block: Block): Observations {
  const meant = (keyword: 'mode' | 'signal') => {
    const found = session.all(keyword).find(({ name }) => name === session.text(block, `.${keyword}`));
    return found && named(found);
  };
  return {
    ...some('mode', meant('mode')),
    ...some('signal', meant('signal')),
    ...some('distance', writtenIn(session, block, '.distance')),
    seen: [...session.properties(block)]
      .filter(([topic]) => !topic.startsWith('.') && !topic.startsWith('x-'))
      .map(([topic, { line }]) => ({ topic, is: writtenValue(line) })),
  };
}

/** The value of a property as it is written; `?` where it is still to note. */
export const writtenValue = ({ value }: PropertyLine): string =>
  value.is === 'text' || value.is === 'string' ? value.text : value.is === 'to-note' ? '?' : '';

function writtenIn(session: Session, block: Block | undefined, name: string): string | undefined {
  const property = block && session.properties(block).get(name);
  return property && writtenValue(property.line);
}

const named = (block: Block): Named => ({ id: block.name, title: block.header?.title?.text ?? '' });

const some = <K extends string, V>(key: K, value: V | undefined): { [k in K]?: V } =>
  (value === undefined ? {} : { [key]: value }) as { [k in K]?: V };

/** A figure with its judgement. The id must be one of the run's measures. */
export function figureOf(
  { config }: Pick<Analysis, 'config'>,
  result: RunResult,
  id: string,
  key: readonly string[] = [],
  value: Value = result.value(id, key),
): Figure {
  const spec = measureSpec(result.run.kind, id)!;
  const judgement = judgeValue(result.session, config, result, id, key, value);
  return {
    id,
    key,
    units: key.map((part, i) => (Number.isNaN(Number(part)) ? '' : unitOf(result, spec, i))),
    spec,
    // Of rows there are many, and the interval of one that nothing is held to has to be asked for.
    value: key.length === 0 || judgement.limits ? withInterval(result, id, key, value) : value,
    judgement,
  };
}

/** The unit of the numbers in a column of keys; none for codes, whose column says its bits. */
function unitOf({ run, context }: RunResult, { by }: MeasureSpec, part: number): string {
  const column = run.table.columns.get((by?.split(',') ?? context?.keys)?.[part] ?? '');
  if (column?.spec.holds === 'drive') return column.bits === undefined ? '%' : '';
  const unit = column?.spec.holds === 'quantity' ? (column.written.unit ?? column.spec.unit) : '';
  return unit === 'deg' ? '°' : unit;
}

/** More rows with limits of their own than this are not looked for: each costs a look at every row, and files come from anywhere. */
const MOST_LIMITED_ROWS = 64;

function figures(analysis: Analysis, result: RunResult): Figure[] {
  if (!result.context) return [];
  const limited = limitedRows(analysis, result.run.kind);
  return Object.entries(result.specs).flatMap(([id, { scope }]) => {
    const keys = limited.get(id) ?? [];
    const rows = keys.map((key) => result.rowOf(id, key));
    return [
      ...(scope === 'row' ? [] : [figureOf(analysis, result, id)]),
      ...keys
        // A row may be named in two ways, such as 600 and 10min.
        .filter((_, i) => rows.indexOf(rows[i]) === i)
        .map((key) => figureOf(analysis, result, id, key))
        .filter(({ value, judgement }) => value.ok && judgement.limits !== undefined),
    ];
  });
}

/** The keys of rows that some limit names, by measure: those of the session, the folder and the defaults. */
function limitedRows({ session, config }: Analysis, kind: string): ReadonlyMap<string, readonly (readonly string[])[]> {
  const names = new Set([
    ...Object.keys(ROW_LIMITS),
    ...session.all('limits').flatMap((block) => [...session.properties(block).keys()]),
    ...config.limits.keys(),
  ]);
  const found = new Map<string, string[][]>();
  let count = 0;
  for (const name of names) {
    const at = name.indexOf('@');
    if (at < 0 || !name.startsWith(`${kind}.`)) continue;
    if (count++ === MOST_LIMITED_ROWS) break;
    const id = name.slice(kind.length + 1, at);
    found.set(id, [...(found.get(id) ?? []), name.slice(at + 1).split(',')]);
  }
  return found;
}

/** More figures than this are no headline. */
const MOST_HEADLINES = 8;

/** The figures that say most of a run; none for a run whose figures are not computed. */
export const headline = (analysis: Analysis, result: RunResult): readonly Figure[] => headlineOf(analysis, result).shown;

function headlineOf(analysis: Analysis, result: RunResult): { readonly shown: readonly Figure[]; readonly more: number } {
  if (!result.context) return { shown: [], more: 0 };
  const names = headlineNames(analysis.session, result);
  const shown = names.slice(0, MOST_HEADLINES).map((name) => {
    const [id, key] = name.split('@') as [string, string?];
    return figureOf(analysis, result, id, key === undefined ? [] : key.split(','));
  });
  return { shown, more: names.length - shown.length };
}

function headlineNames(session: Session, result: RunResult): readonly string[] {
  const hdr = isHdrRun(session, result);
  const isThere = (id: string) => result.value(id).ok;
  switch (result.run.kind) {
    case 'greyscale':
      if (hdr) return ['de.itp.avg', 'de.itp.max', 'balance'];
      // A run of near-black levels has no exponent, and by the peak white hides its tints.
      if (!isThere('curve.exponent') && isThere('nearblack.stops')) return ['de.max', 'nearblack.first', 'nearblack.stops', 'nearblack.dc'];
      return ['de.avg', 'de.max', 'balance', 'curve.exponent'];
    case 'saturation':
    case 'patches':
      return hdr ? ['de.itp.avg', 'de.itp.max'] : ['de.avg', 'de.max'];
    case 'gamut':
      return [...coverages(session.text(result.run.target, 'space')), 'additivity'];
    case 'window':
      return [result.value('peak', ['10']).ok ? 'peak@10' : 'peak', 'full'];
    case 'contrast':
      return ['sequential', 'black'];
    case 'tracking':
      return ['stops.avg', 'bias', ...['de.itp.avg', 'knee', 'clip'].filter(isThere)];
    case 'uniformity':
      return ['nonuniformity', 'duv'];
    case 'endurance':
      return [...(result.value('after', ['10min']).ok ? ['after@10min'] : []), 'settled', 'half'];
    case 'angles':
      return ['half', ...(result.value('duv', ['30']).ok ? ['duv@30'] : [])];
    case 'volume':
      return ['lab', 'ictcp'];
    case 'spectrum':
      return spectraIn(result).flatMap((name) => [`x@${name}`, `y@${name}`]);
    case 'lag': {
      // Places differ by design: what scatters is the readings of one.
      const places = ofEach(result, ['mean']);
      return places.length > 1 ? ['mean', ...places, 'n'] : ['mean', 'sd', 'n'];
    }
    case 'power':
      return ofEach(result, ['mean']);
    case 'repeats':
      return ofEach(result, ['mean', 'sd.percent', 'n']);
    case 'reflectance':
      return [
        'reflectance',
        ...ofEach(result, ['contrast'], ['illuminance']).filter((name) => result.value('contrast', [name.slice(9)]).ok),
      ];
    case 'correction':
      return ['check', 'condition'];
    default:
      return [];
  }
}

const spectraIn = ({ context }: RunResult): readonly string[] => [...new Set(context?.names?.map(({ spectrum }) => spectrum!))];

/** Figures of each key of the rows; of the run where it has no keys, or one. */
function ofEach(result: RunResult, ids: readonly string[], by: readonly string[] = result.context!.keys): readonly string[] {
  const { count } = result.context!.patches;
  const keys = new Set(Array.from({ length: count }, (_, i) => result.keyOf(i, by).join(',')));
  if (by.length === 0 || (keys.size === 1 && ids.every((id) => result.specs[id]?.scope === 'both'))) return ids;
  return [...keys].flatMap((key) => ids.map((id) => `${id}@${key}`));
}

/** Coverage of what the patches were driven in, as a narrower drive shows nothing of a wider space. */
function coverages(space: string | undefined): readonly string[] {
  switch (space) {
    case 'bt709':
    case 'srgb':
      return ['coverage.bt709.uv'];
    case 'p3-d65':
    case 'p3-dci':
      return ['coverage.p3.uv'];
    default:
      return ['coverage.p3.uv', 'coverage.bt2020.uv'];
  }
}

export interface RowValues {
  /** Part by part, as a reference has it behind the @. */
  readonly key: readonly string[];
  /** By measure; NaN where the row has none. */
  readonly values: Readonly<Record<string, number>>;
}

/**
 * The row figures of a run in the order of its rows, then those of a group of rows (a hue), each under the key that a reference gives.
 * Revisits of a row serve the drift only and are left out.
 */
export function rowsOf(result: RunResult): RowValues[] {
  const { context } = result;
  if (!context) return [];
  const groups = new Map<string | undefined, string[]>();
  for (const [id, { scope, by: column }] of Object.entries(result.specs)) {
    const by = column === context.keys.join() ? undefined : column;
    if (scope !== 'run' && (by !== undefined || context.keys.length > 0)) groups.set(by, [...(groups.get(by) ?? []), id]);
  }
  const own = [...groups].sort(([a], [b]) => Number(a !== undefined) - Number(b !== undefined));
  return own.flatMap(([by, ids]) => {
    const lists = ids.map((id) => [id, result.rows(id)!] as const);
    const rows: RowValues[] = [];
    const seen = new Set<string>();
    for (let i = 0; i < context.patches.count; i++) {
      if (context.patches.revisit[i]) continue;
      const key = result.keyOf(i, by === undefined ? context.keys : by.split(','));
      if (by !== undefined && seen.has(key[0]!)) continue;
      seen.add(key[0]!);
      rows.push({ key, values: Object.fromEntries(lists.map(([id, list]) => [id, list[i]!])) });
    }
    return rows;
  });
}
