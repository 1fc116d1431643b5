import { keyOf } from '../measure/readings';
import { RunResult } from '../measure/result';
import { blockLabels } from '../session/nodes';
import { plan } from '../session/plan';
import { sessionOf } from '../session/session';
import type { SessionText } from '../session/sessionText';
import { phrase } from '../text/message';
import type { Point, Series } from './figure';
import { rowNode, type Subject, words } from './subject';

/** More rows than this are seldom struck out of a run, and each costs a look at the run. */
const MOST = 24;

/** A row that is struck out, and the run as it were with this row in the place of its live readings. */
interface Struck {
  readonly row: number;
  readonly result: RunResult;
}

const known = new WeakMap<RunResult, readonly Struck[]>();

function struckRows(source: SessionText, result: RunResult): readonly Struck[] {
  let found = known.get(result);
  if (!found) {
    const struck = result.run.table.rows.flatMap((row, i) => (row.struck ? [i] : []));
    found = struck.slice(0, MOST).flatMap((row) => {
      const other = instead(source, result, row);
      return other?.context ? [{ row, result: other }] : [];
    });
    known.set(result, found);
  }
  return found;
}

/** The run with one struck row live again, and the live rows of its key struck out in its place. */
function instead(source: SessionText, { run }: RunResult, row: number): RunResult | undefined {
  const label = blockLabels(source)[source.blocks.indexOf(run.block)];
  if (label === undefined) return undefined;
  const { table } = run;
  const keys = run.block.spec?.table?.keys ?? [];
  const key = keyOf(table, keys, table.rows[row]!).join('\n');
  let text = source;
  for (const [i, other] of table.rows.entries()) {
    const isAlike = i !== row && !other.struck && keyOf(table, keys, other).join('\n') === key;
    if (i !== row && !isAlike) continue;
    const edits = plan(text, { do: 'strike', block: label, line: table.lines[i]!, on: isAlike });
    if ('code' in edits) return undefined;
    text = text.change(edits);
  }
  const session = sessionOf(text);
  const block = text.blocks[source.blocks.indexOf(run.block)];
  const found = session.runs.find((one) => one.block === block);
  return found && new RunResult(session, found);
}

/**
 * What the struck rows of a run would have shown: hollow and faint, beside the line that they were taken out of.
 * @param again the same line of another state of the run
 */
export function struckOf(subject: Subject, result: RunResult, line: Series, again: (of: RunResult) => Series): Series[] {
  const nodeOf = rowNode(subject, result);
  const points = struckRows(result.session.source, result).flatMap(({ row, result: other }): Point[] => {
    const point = again(other).points.find((one) => one.row?.endsWith(`/row/${row}`));
    if (!point || !Number.isFinite(point.x + point.y)) return [];
    const { label: _, from: __, tip: ___, ci: ____, ...shown } = point;
    const name = words(subject, phrase('{name} (struck out)', { name: point.name }));
    return [{ ...shown, id: `${line.id}/struck/${row}`, run: result.run.id, row: nodeOf(row), name, faint: true }];
  });
  const { ink, dash, along } = line;
  if (points.length === 0) return [];
  return [{ is: 'series', id: `${line.id}/struck`, ink, dash, ...(along && { along }), joined: false, shape: 'hollow', points }];
}
