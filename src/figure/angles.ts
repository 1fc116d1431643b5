import type { FromTheSide } from '../measure/angles';
import type { RunResult } from '../measure/result';
import { without } from '../measure/value';
import { numberText, valueText } from '../report/format';
import { type Phrase, phrase, plainNumber } from '../text/message';
import type { Dash, Ink, Mark, Panel, Series } from './figure';
import { roomMarks, roomsOf } from './rooms';
import { drawn } from './rows';
import { againstOf, type Builder, endLabel, runCell, runHead, runLabel, runLook, type Subject, titleOf, words } from './subject';

/** How the picture holds from the side: its luminance, and below it its tint. */
export const angles: Builder = {
  id: 'angles',
  kinds: ['angles'],
  build(subject) {
    const { results } = subject;
    const kept = results.flatMap((result) => linesOf(subject, result, 'kept'));
    const shift = results.flatMap((result) => linesOf(subject, result, 'shift')).filter(({ points }) => points.length > 0);
    if (kept.every(({ points }) => points.length === 0)) return without('no-axis');
    const all = kept.flatMap(({ points }) => points.map(({ x }) => x));
    const x = {
      title: words(subject, phrase('angle from the axis, °')),
      scale: 'linear',
      domain: [Math.min(0, ...all) - 2, Math.max(0, ...all) + 2],
    } as const;
    const half: Mark = { is: 'rule', along: 'y', at: 50, role: 'place', label: words(subject, phrase('half')) };
    const luminance: Panel = {
      id: 'kept',
      x: { ...x, ...(shift.length > 0 && { title: '' }) },
      y: {
        title: words(subject, phrase('luminance, % of that on the axis')),
        scale: 'linear',
        domain: [0, Math.max(105, ...kept.flatMap(({ points }) => points.map(({ y }) => y)))],
      },
      marks: [half, ...kept],
    };
    const rooms = roomsOf(subject, results[0]!, 'duv', 0, ['30']);
    const reached = (side: number) => all.some((angle) => angle * side >= 30);
    const lines = [1, -1]
      .filter(reached)
      .flatMap((side, i) =>
        roomMarks(subject, rooms, words(subject, phrase('at 30°')), side > 0 ? [26, 34] : [-34, -26]).map(
          (mark): Mark => (i === 0 || mark.is !== 'rule' ? mark : withoutLabel(mark)),
        ),
      );
    const most = Math.max(rooms.limit?.high ?? 0, ...shift.flatMap(({ points }) => points.map(({ y }) => y)));
    const tint: Panel = {
      id: 'shift',
      x,
      y: { title: words(subject, phrase("tint, Δu'v' from the axis")), scale: 'linear', domain: [0, most * 1.1] },
      share: 0.7,
      marks: [...lines, ...shift.map((one): Mark => unlabelled(one))],
    };
    return {
      id: 'angles',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        results.map((result) => answerOf(subject, result)),
      ),
      against: againstOf(subject),
      summary: results.map((result) => `${runLabel(subject, result)}: ${words(subject, answerOf(subject, result))}.`).join(' '),
      notes: [],
      panels: shift.length > 0 ? [luminance, tint] : [luminance],
      flow: 'column',
      table: {
        head: [
          ...runHead(subject),
          words(subject, phrase('angle, °')),
          words(subject, phrase('luminance, % of that on the axis')),
          "Δu'v'",
        ],
        rows: results.flatMap((result) => {
          const [luminances, shifts] = [result.rows('kept')!, result.rows('shift')!];
          return Array.from(luminances, (_, i) => i)
            .filter((i) => Number.isFinite(luminances[i]!))
            .map((i) => ({
              run: result.run.id,
              cells: [
                ...runCell(subject, result),
                result.keyOf(i).join(' '),
                numberText(100 * luminances[i]!, 1),
                Number.isFinite(shifts[i]!) ? numberText(shifts[i]!, 4) : '',
              ],
            }));
        }),
      },
    };
  },
};

const withoutLabel = <T extends { readonly label?: string }>({ label: _, ...rest }: T): Omit<T, 'label'> => rest;
const unlabelled = ({ label: _, labelled: __, ...rest }: Series): Series => rest;

const INKS: readonly (readonly [Ink, Dash])[] = [
  ['text', 'solid'],
  ['a', 'long'],
  ['b', 'dot'],
  ['c', 'dash-dot'],
];

/** A line for each direction of a run; of several runs the ink is that of the run. */
function linesOf(subject: Subject, result: RunResult, measure: 'kept' | 'shift'): Series[] {
  const c = result.context as FromTheSide;
  const isOne = subject.results.length === 1;
  const look = runLook(subject, result);
  return c.directions.map(({ patches }, d): Series => {
    const word = result.run.table.columns.has('direction')
      ? (result.keyOf(patches.find((i) => c.angles[i] !== 0) ?? patches[0]!)[1] ?? '')
      : '';
    const label = [isOne ? '' : endLabel(subject, result), word].filter((part) => part !== '').join(', ');
    const [ink, dash] = INKS[d % INKS.length]!;
    return drawn(
      subject,
      { ...look, dash, ...(isOne && { ink }), ...(label !== '' && { label, labelled: 'end' }) },
      {
        result,
        id: measure,
        series: `${result.run.id}/${measure}${word && `/${word}`}`,
        patches: [...patches].sort((p, q) => c.angles[p]! - c.angles[q]!),
        x: (i) => c.angles[i]!,
        y: (v) => (measure === 'kept' ? 100 * v : v),
        name: (i, { v }) => `${plainNumber(c.angles[i]!)}°: ${measure === 'kept' ? `${numberText(100 * v, 1)} %` : numberText(v, 4)}`,
      },
    ).series;
  });
}

/** `Half of the light is left at 38°; tint 0.008 in u'v' at 30°`. */
function answerOf(subject: Subject, result: RunResult): Phrase {
  const [half, duv] = [result.value('half'), result.value('duv', ['30'])];
  const args = {
    half: half.ok ? valueText({ ok: true, v: half.v }, result.specs.half!, subject.say) : '',
    tint: duv.ok ? numberText(duv.v, 4) : '',
  };
  if (!half.ok) return duv.ok ? phrase("Tint {tint} in u'v' at 30°", args) : phrase('Luminance from the side');
  if (half.bound)
    return duv.ok
      ? phrase("More than half of the light is left at {half}; tint {tint} in u'v' at 30°", args)
      : phrase('More than half of the light is left at {half}', args);
  return duv.ok
    ? phrase("Half of the light is left at {half}; tint {tint} in u'v' at 30°", args)
    : phrase('Half of the light is left at {half}', args);
}
