import type { Verdict } from '../judge/limits';
import type { ChangedBy } from '../measure/versions';
import type { BlockDifference, CellDifference, PropertyDifference, RowDifference } from '../session/difference';
import { type Difference, type FigureChange, matters } from './difference';
import type { Versions } from './differenceForms';
import { type Figure, figureName } from './summary';

/**
 * What changed between two versions of a session, for programs. This shape is stable: keys are only ever added. Absent things are null.
 *
 * - `matters`: whether anything but comments, notes, blanks and the writing of numbers is another; what the exit code 1 says.
 * - `blocks`: `is` "added", "removed", "struck" (out), "restored" or "changed". `was`: its id before, where it has another now. `void`: struck out.
 * - `rows`: `is` "changed", "mended" (reads like a slip put right), "again" (the reading before is struck out), "taken", "reopened" (to take again),
 *   "added", "removed", "struck", "restored" or "rekeyed" (the reading that stood at `was`).
 * - `runs`: figures that are another, or are judged otherwise, by id, and `id@key` for rows with a limit of their own. `by`: "again" where
 *   readings were taken again, "mended", "rows" (that only one version has) or "else" (the same readings, computed or judged otherwise).
 * - `interval`: where the true difference lies, 0.95; null where the difference is exact, or nothing is known of the errors. `changed`: whether it
 *   leaves out 0.
 * - `told`: whether the other forms show it.
 */
export interface JsonDifference {
  readonly before: string;
  readonly after: string;
  readonly matters: boolean;
  readonly blocks: readonly JsonBlockDifference[];
  readonly runs: readonly JsonRunDifference[];
}

export interface JsonBlockDifference {
  readonly is: BlockDifference['is'];
  readonly keyword: string;
  readonly id: string | null;
  readonly was: string | null;
  readonly void: boolean;
  readonly properties: readonly {
    readonly of: PropertyDifference['of'];
    readonly name: string;
    readonly from: string | null;
    readonly to: string | null;
  }[];
  readonly columns: readonly [before: string, after: string] | null;
  readonly rows: readonly {
    readonly is: RowDifference['is'];
    readonly key: readonly string[];
    readonly was: readonly string[] | null;
    readonly struck: boolean;
    readonly cells: readonly CellDifference[];
  }[];
  readonly reordered: boolean;
}

export interface JsonRunDifference {
  readonly before: string;
  readonly after: string;
  readonly measures: Readonly<Record<string, JsonFigureChange>>;
}

export interface JsonFigureChange {
  readonly from: number | null;
  readonly to: number | null;
  readonly unit: string;
  readonly difference: number | null;
  readonly by: ChangedBy;
  readonly interval: readonly [low: number, high: number] | null;
  readonly changed: boolean | null;
  readonly verdict: readonly [before: JsonVerdict, after: JsonVerdict];
  readonly aim: readonly [before: JsonVerdict, after: JsonVerdict];
  readonly told: boolean;
}

type JsonVerdict = Exclude<Verdict, 'no-number'> | null;

export function differenceAsJson(difference: Difference, { before, after }: Versions): JsonDifference {
  const { sections } = difference;
  return {
    before,
    after,
    matters: matters(difference),
    blocks: sections.flatMap(({ block }) => (block ? [jsonBlock(block)] : [])),
    runs: sections.flatMap(({ run }) =>
      run
        ? [
            {
              before: run.before.run.id,
              after: run.after.run.id,
              measures: Object.fromEntries(run.figures.map((figure) => [figureName(figure.after), jsonFigureChange(figure)])),
            },
          ]
        : [],
    ),
  };
}

const jsonBlock = (block: BlockDifference): JsonBlockDifference => ({
  is: block.is,
  keyword: block.keyword,
  id: block.id === '' ? null : block.id,
  was: block.was ?? null,
  void: block.void,
  properties: block.properties.map(({ of, name, from = null, to = null }) => ({ of, name, from, to })),
  columns: block.columns ?? null,
  rows: block.rows.map(({ is, key, was, struck, cells }) => ({
    is,
    key: key.map(({ text }) => text),
    was: was?.map(({ text }) => text) ?? null,
    struck,
    cells,
  })),
  reordered: block.isReordered,
});

function jsonFigureChange({ before, after, by, difference, interval, isShown, isTold }: FigureChange): JsonFigureChange {
  const numberOf = ({ value }: Figure) => (value.ok ? value.v : null);
  const both = (of: 'verdict' | 'aim') => [jsonVerdict(before.judgement[of]), jsonVerdict(after.judgement[of])] as const;
  return {
    from: numberOf(before),
    to: numberOf(after),
    unit: after.spec.unit,
    difference: difference ?? null,
    by,
    interval: interval ?? null,
    changed: isShown ?? null,
    verdict: both('verdict'),
    aim: both('aim'),
    told: isTold,
  };
}

const jsonVerdict = (verdict: Verdict): JsonVerdict => (verdict === 'no-number' ? null : verdict);
