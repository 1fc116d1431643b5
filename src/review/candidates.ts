import { figuresOf } from '../figure/figures';
import type { RunResult } from '../measure/result';
import type { Analysis } from '../project/analysis';
import { resolveReference } from '../project/resolve';
import { figureOf, headline } from '../report/summary';
import type { Reference } from '../session/reference';
import { ascending } from '../text/ascending';
import { nearest } from '../text/neighbour';
import type { ClaimOf, Clear } from './claim';
import { knownOf, numberFor, numbersIn } from './known';
import { held, reach } from './match';
import { isAlike } from './units';

/** What a reference names in its session. */
export type Fragment = Pick<Reference, 'ids' | 'measure' | 'keys'>;

/** A figure of a run by its number, without what it is judged by. */
interface Listed {
  readonly result: RunResult;
  readonly id: string;
  /** Empty for a figure of the run. */
  readonly key: readonly string[];
  readonly v: number;
}

/** Runs with more rows than this are looked at as a whole only. */
const MOST_ROWS = 1000;

const ofRuns = new WeakMap<RunResult, ReadonlyMap<string, readonly Listed[]>>();
const ofSessions = new WeakMap<Analysis, ReadonlyMap<string, readonly Listed[]>>();

/** All figures of a run by their unit. Made once for a run as it stands. */
function figuresIn(result: RunResult): ReadonlyMap<string, readonly Listed[]> {
  let byUnit = ofRuns.get(result);
  if (!byUnit) {
    const found = new Map<string, Listed[]>();
    for (const [id, { scope, unit }] of Object.entries(result.specs)) {
      const list = found.get(unit) ?? [];
      found.set(unit, list);
      const value = scope === 'row' ? undefined : result.value(id);
      if (value?.ok) list.push({ result, id, key: [], v: value.v });
      if (scope !== 'run') list.push(...rowsOf(result, id).map((row) => ({ result, id, ...row })));
    }
    byUnit = found;
    ofRuns.set(result, byUnit);
  }
  return byUnit;
}

/** Those of all runs of a session, from the smallest to the largest. */
function figuresOfAll(analysis: Analysis): ReadonlyMap<string, readonly Listed[]> {
  let byUnit = ofSessions.get(analysis);
  if (!byUnit) {
    const found = new Map<string, Listed[]>();
    for (const result of analysis.results) {
      for (const [unit, list] of figuresIn(result)) {
        const all = found.get(unit);
        if (all) all.push(...list);
        else found.set(unit, [...list]);
      }
    }
    for (const list of found.values()) list.sort((p, q) => p.v - q.v);
    byUnit = found;
    ofSessions.set(analysis, byUnit);
  }
  return byUnit;
}

/** The rows of a measure that have a figure, each key once. */
export function rowsOf(result: RunResult, id: string): readonly { readonly key: readonly string[]; readonly v: number }[] {
  const { context } = result;
  const list = result.rows(id);
  if (!context || !list || context.patches.count > MOST_ROWS) return [];
  const by = result.specs[id]?.by?.split(',') ?? context.keys;
  if (by.length === 0) return [];
  const seen = new Set<string>();
  const rows: { key: readonly string[]; v: number }[] = [];
  for (let i = 0; i < context.patches.count; i++) {
    const key = result.keyOf(i, by);
    if (context.patches.revisit[i] || !Number.isFinite(list[i]!) || seen.has(key.join())) continue;
    seen.add(key.join());
    rows.push({ key, v: list[i]! });
  }
  return rows;
}

/** Whether what a reference names supports a claim. */
export function supports(analysis: Analysis, fragment: Fragment, claimOf: ClaimOf): boolean {
  const resolution = resolveReference(analysis, { path: '', ...fragment });
  if (!resolution.ok) return false;
  if (resolution.is === 'figure') {
    const figure = figureOf(analysis, resolution.result, resolution.id, fragment.keys, resolution.value);
    const known = knownOf(figure);
    const claim = claimOf(known ?? {});
    return known !== undefined && isClear(claim) && held(claim, known) === 'holds';
  }
  const claim = claimOf({ isDifference: false });
  if (!isClear(claim)) return false;
  const known = numberFor(numbersIn(analysis.session, resolution.block, resolution.name), unitOf(claim));
  return known !== undefined && held(claim, known) === 'holds';
}

export const isClear = (claim: { readonly is: string }): claim is Clear => claim.is === 'number' || claim.is === 'range';

export const unitOf = (claim: Clear): string => (claim.is === 'number' ? claim.number.unit : claim.to.unit);

const firsts = new WeakMap<RunResult, ReadonlySet<string>>();

/** The names of the headline figures of a run. */
function headlines(analysis: Analysis, result: RunResult): ReadonlySet<string> {
  let names = firsts.get(result);
  if (!names) {
    names = new Set(headline(analysis, result).map(({ id, key }) => `${id}@${key.join()}`));
    firsts.set(result, names);
  }
  return names;
}

/** More that are near enough in number are not looked at. */
const MOST_NEAR = 100;

/**
 * The figures of a session that a text can mean, by their number and unit: headlines first, then those of whole runs.
 * @param mayBe by the name and the unit of a measure, and its run
 */
export function meantBy(
  analysis: Analysis,
  claimOf: ClaimOf,
  most: number,
  mayBe: (id: string, unit: string, result: RunResult) => boolean,
): readonly Fragment[] {
  const found: { readonly fragment: Fragment; readonly rank: number }[] = [];
  for (const [unit, list] of figuresOfAll(analysis)) {
    const claim = claimOf({ unit });
    if (!isClear(claim)) continue;
    const [low, high] = reach(claim, { unit });
    // A word for the side may be the sign of the figure.
    const windows: readonly (readonly [number, number])[] = claim.sided
      ? [
          [low, high],
          [-high, -low],
        ]
      : [[low, high]];
    for (const [from, to] of windows) {
      const start = ascending(list.length, (i) => list[i]!.v < from);
      const end = ascending(list.length, (i) => list[i]!.v <= to);
      const near = list.slice(start, end).filter(({ id, result }) => mayBe(id, unit, result));
      for (const { result, id, key } of near.slice(0, MOST_NEAR)) {
        const fragment = { ids: [result.run.id], measure: id, keys: key };
        if (!supports(analysis, fragment, claimOf)) continue;
        found.push({ fragment, rank: headlines(analysis, result).has(`${id}@${key.join()}`) ? 0 : key.length === 0 ? 1 : 2 });
      }
    }
  }
  return found
    .sort((a, b) => a.rank - b.rank)
    .slice(0, most)
    .map(({ fragment }) => fragment);
}

/** Whether a figure of a unit can be meant by a number with another. */
export const ofUnit =
  (written: string) =>
  (_: string, unit: string): boolean =>
    isAlike(written, unit) || (written === '%' && unit === '');

const MOST_REPAIRS = 4;

/** What a reference that means nothing in its session was probably meant to be; what supports the claim comes first. */
export function repairs(analysis: Analysis, fragment: Fragment, claimOf: ClaimOf): readonly Fragment[] {
  const all = [...near(analysis, fragment), ...fitting(analysis, fragment, claimOf)];
  const seen = new Set<string>();
  const sound = all.filter((each) => {
    const name = JSON.stringify(each);
    if (seen.has(name)) return false;
    seen.add(name);
    return resolveReference(analysis, { path: '', ...each }).ok;
  });
  const fits = new Set(sound.filter((each) => supports(analysis, each, claimOf)));
  return [...sound.filter((each) => fits.has(each)), ...sound.filter((each) => !fits.has(each))].slice(0, MOST_REPAIRS);
}

/** By its letters. */
function near({ session, results }: Analysis, { ids, measure, keys }: Fragment): readonly Fragment[] {
  if (ids.length > 1) return ids.map((id) => ({ ids: [id], measure, keys }));
  const id = ids[0]!;
  const block = session.byName.get(id);
  if (!block) {
    const found = nearest(id, session.byName.keys());
    return found === undefined ? [] : [{ ids: [found], measure, keys }];
  }
  const result = results.find(({ run }) => run.block === block);
  const names = [...Object.keys(result?.specs ?? {}), ...[...session.properties(block).keys()].map((name) => name.replace(/^\./, ''))];
  if (!names.includes(measure)) {
    const found = measure === '' ? undefined : nearest(measure, names);
    const alike = names.filter((name) => measure !== '' && name.split('.')[0] === measure.split('.')[0]);
    return [...(found === undefined ? [] : [found]), ...alike.slice(0, MOST_REPAIRS)].map((name) => ({ ids, measure: name, keys }));
  }
  const rows = result ? rowsOf(result, measure) : [];
  const wanted = Number(keys[0]);
  const byNumber = Number.isNaN(wanted) ? rows.filter(({ key }) => key[0] === keys[0]) : sorted(rows, wanted);
  return [{ ids, measure, keys: [] }, ...byNumber.slice(0, 2).map(({ key }) => ({ ids, measure, keys: key }))];
}

const sorted = <T extends { readonly key: readonly string[] }>(rows: readonly T[], wanted: number): readonly T[] =>
  [...rows].sort((a, b) => Math.abs(Number(a.key[0]) - wanted) - Math.abs(Number(b.key[0]) - wanted));

/** Whether a run has a measure or a property of this name: of many runs that saves looking for what was meant in each. */
function names({ session }: Analysis, { specs, run }: RunResult, name: string): boolean {
  const properties = session.properties(run.block);
  return Object.hasOwn(specs, name) || properties.has(name) || properties.has(`.${name}`);
}

/** By the number that is claimed: other figures of the run, and the same of other runs. */
function fitting(analysis: Analysis, { ids, measure, keys }: Fragment, claimOf: ClaimOf): readonly Fragment[] {
  const id = ids[0]!;
  const result = analysis.results.find(({ run }) => run.id === id);
  if (!result)
    return analysis.results
      .filter((each) => names(analysis, each, measure))
      .map(({ run }) => ({ ids: [run.id], measure, keys }))
      .filter((each) => supports(analysis, each, claimOf));
  const isMeasure = Object.hasOwn(result.specs, measure);
  return meantBy(analysis, claimOf, MOST_REPAIRS, (name, _, of) => of === result && (!isMeasure || name === measure));
}

/** Figures that a reference to one was probably meant to be, by the letters of its runs and of its name. */
export function figuresNear(analysis: Analysis, { ids, measure }: Fragment): readonly Fragment[] {
  const runs = analysis.results.map(({ run }) => run.id);
  const meant = ids.map((id) => (runs.includes(id) ? id : nearest(id, runs)));
  if (!meant.every((id): id is string => id !== undefined)) return [];
  const names = figuresOf(analysis, meant);
  const near = names.includes(measure) ? measure : nearest(measure, names);
  const others = near === undefined ? names : [near];
  return others.slice(0, MOST_REPAIRS).map((name) => ({ ids: meant, measure: name, keys: [] }));
}
