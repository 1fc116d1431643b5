import { judgeValue } from '../judge/limits';
import { knownComparison } from '../measure/comparison';
import type { RunResult } from '../measure/result';
import { MEASURES, type MeasuredKind, type MeasureSpec } from '../measure/specs';
import { without } from '../measure/value';
import { changedText } from '../report/changes';
import { valueText } from '../report/format';
import { figureOf, figureTitle, type Figure as Judged } from '../report/summary';
import { phrase, tabled } from '../text/message';
import type { Mark, Point, Series, Tick } from './figure';
import { againstOf, type Builder, runLabel, type Subject, words } from './subject';

/** What adjusting changed: of every measure that has a limit, then and now, in shares of its limit. */
export const change: Builder = {
  id: 'change',
  kinds: Object.keys(MEASURES) as MeasuredKind[],
  runs: [2, 2],
  build(subject) {
    const [before, after] = subject.results as readonly [RunResult, RunResult];
    const rows = rowsOf(subject, before, after);
    if (rows.length === 0) return without('no-rows');
    const most = Math.max(1, ...rows.flatMap(({ then, now }) => [then.share, now.share]));
    const end = Math.min(most * 1.06, FARTHEST);
    const names = rows.map(({ title }, at): Tick => ({ at, label: title }));
    const numbers = rows.map(
      ({ then, now, changed }, at): Tick => ({
        at,
        label: `${then.text} → ${now.text}${changed === false ? ' ≈' : ''}`,
      }),
    );
    const isCompared = rows.some(({ changed }) => changed !== undefined);
    const labels = [runLabel(subject, before), runLabel(subject, after)] as const;
    const series = [
      seriesOf(
        subject,
        before,
        rows.map(({ then }) => then),
        0,
        labels[0],
      ),
      seriesOf(
        subject,
        after,
        rows.map(({ then, now }) => ({ ...now, from: then.share })),
        1,
        labels[1],
      ),
    ];
    const aims: Mark[] = rows.flatMap(({ aim }, i): Mark[] =>
      aim === undefined
        ? []
        : [
            {
              is: 'rule',
              along: 'x',
              at: aim,
              role: 'aim',
              extent: [i - 0.3, i + 0.3],
            },
          ],
    );
    const within = (of: 'then' | 'now') => rows.filter((row) => row[of].verdict === 'within').length;
    const args = {
      count: rows.length,
      after: within('now'),
      before: within('then'),
      changed: rows.filter(({ changed }) => changed).length,
    };
    const answer =
      args.after === args.before
        ? phrase('{after} of {count} measures within their limits, as before', args)
        : phrase('{after} of {count} measures within their limits, {before} before', args);
    return {
      id: 'change',
      runs: [before.run.id, after.run.id],
      title: words(
        subject,
        !isCompared
          ? answer
          : args.changed === 0
            ? phrase('{answer}; none shown to have changed', { answer })
            : phrase('{answer}; {changed} shown to have changed', { ...args, answer }),
      ),
      against: againstOf(subject),
      summary: rows
        .map(({ title, then, now }) =>
          words(subject, phrase('{title}: {before} before, {after} after.', { title, before: then.text, after: now.text })),
        )
        .join(' '),
      notes: [
        words(subject, phrase('Hollow: {before}. Filled: {after}. Thin strokes: aims.', { before: labels[0], after: labels[1] })),
        ...rows
          .filter(({ changed }) => changed === false)
          .slice(0, 1)
          .map(({ said }) => words(subject, phrase('≈: {said}.', { said }))),
      ],
      panels: [
        {
          id: 'change',
          x: { title: words(subject, phrase('share of the limit')), scale: 'linear', domain: [0, end] },
          y: { title: '', scale: 'names', domain: [rows.length - 0.5, -1], ticks: names, second: { title: '', ticks: numbers } },
          marks: [
            { is: 'rule', along: 'x', at: 1, role: 'limit', label: words(subject, phrase('limit')) },
            ...aims,
            series[1]!,
            series[0]!,
          ],
        },
      ],
      flow: 'column',
      table: {
        head: [words(subject, phrase('measure')), ...labels, ...(isCompared ? [words(subject, phrase('change'))] : [])],
        rows: rows.map(({ title, then, now, said }) => ({
          run: after.run.id,
          cells: [title, then.text, now.text, ...(isCompared ? [said] : [])],
        })),
      },
    };
  },
};

/** Farther out than this many limits a mark stands at the edge. */
const FARTHEST = 4;

/** Of a limit of 0 nothing more is a share. */
const OFF_SCALE = 2 * FARTHEST;

interface Side {
  readonly id: string;
  readonly share: number;
  readonly text: string;
  readonly verdict: string;
  readonly from?: number;
}

interface Row {
  readonly title: string;
  readonly then: Side;
  readonly now: Side;
  /** The aim, in shares of the limit. */
  readonly aim?: number;
  /** Whether it is more than the errors of the meter make, once that is known; and in words. */
  readonly changed?: boolean;
  readonly said: string;
}

/** The measures that have a limit, and a figure in both runs. */
function rowsOf(subject: Subject, before: RunResult, after: RunResult): Row[] {
  const compared = new Map(knownComparison(before, after)?.map((one) => [one.id, one]));
  return Object.entries(after.specs).flatMap(([id, { scope }]) => {
    if (scope === 'row') return [];
    const [then, now] = [before, after].map((result) => sideOf(subject, result, id));
    if (!then || !now) return [];
    const aim = aimOf(subject, after, id);
    const one = compared.get(id);
    return [
      {
        title: figureTitle(figureOf(subject.analysis, after, id), subject.say),
        then,
        now,
        ...(aim !== undefined && { aim }),
        ...(one?.change.ok && { changed: one.change.changed }),
        said: one ? changedText(one, subject.say) : '',
      },
    ];
  });
}

function sideOf(subject: Subject, result: RunResult, id: string): Side | undefined {
  const number = figureOf(subject.analysis, result, id);
  const share = number.value.ok ? shareOf(number, number.value.v) : undefined;
  return share === undefined
    ? undefined
    : { id, share, text: valueText(number.value, number.spec, subject.say), verdict: number.judgement.verdict };
}

/** How much of its limit a figure takes: 1 is the limit. Undefined without one. */
function shareOf({ spec, judgement: { limits, centre } }: Pick<Judged, 'spec' | 'judgement'>, v: number): number | undefined {
  const limit = limits?.limit;
  if (!limit) return undefined;
  return size(spec, v, centre, limit.low, limit.high);
}

function size({ direction }: MeasureSpec, v: number, centre: number, low: number | undefined, high: number): number | undefined {
  const [part, whole] =
    low !== undefined
      ? [Math.abs(v - (low + high) / 2), (high - low) / 2]
      : direction === 'larger'
        ? [high, v]
        : direction === 'nearer'
          ? [Math.abs(v - centre), high]
          : [v, high];
  if (whole === 0 && part > 0) return OFF_SCALE;
  const share = whole === 0 && part <= 0 ? 0 : part / whole;
  return Number.isFinite(share) ? Math.max(0, share) : undefined;
}

function aimOf({ analysis: { config } }: Subject, result: RunResult, id: string): number | undefined {
  const spec = result.specs[id]!;
  const { limits, centre } = judgeValue(result.session, config, result, id, [], result.value(id));
  const { aim, limit } = limits ?? {};
  if (!aim || !limit) return undefined;
  const end = spec.direction === 'nearer' && aim.low === undefined ? centre + aim.high : aim.high;
  return size(spec, end, centre, limit.low, limit.high);
}

function seriesOf(subject: Subject, result: RunResult, sides: readonly Side[], r: 0 | 1, label: string): Series {
  const points = sides.map(
    ({ id, share, text, from }, at): Point => ({
      id: `${result.run.id}/change/${id}`,
      x: share,
      y: at,
      ...(from !== undefined && { from: [Math.min(from, FARTHEST), at] as const }),
      run: result.run.id,
      key: [],
      name: words(subject, phrase('{title}, {run}: {value}', { title: tabled(result.specs[id]!.title), run: label, value: text })),
    }),
  );
  return {
    is: 'series',
    id: `${result.run.id}/change`,
    ink: r === 0 ? 'muted' : 'text',
    dash: 'solid',
    joined: false,
    along: 'x',
    shape: r === 0 ? 'hollow' : 'dot',
    points,
  };
}
