import { corrected } from '../algorithms/correction';
import { xyzToXy } from '../colour/chromaticity';
import type { Vec3 } from '../colour/vector';
import type { Correcting } from '../measure/correction';
import { without } from '../measure/value';
import { numberText, valueText } from '../report/format';
import { type Phrase, phrase } from '../text/message';
import type { Point, Series, Tick } from './figure';
import { roomMarks, roomsOf } from './rooms';
import { againstOf, type Builder, rowsOfBlock, type Subject, titleOf, words } from './subject';

/** What a correction of the meter does, colour by colour: how far from the reference before and after. */
export const residual: Builder = {
  id: 'residual',
  kinds: ['correction'],
  runs: [1, 1],
  build(subject) {
    const result = subject.results[0]!;
    const { pairs, correction, nameOf, patches } = result.context as Correcting;
    if (!correction.ok) return correction;
    const matrix = correction.v;
    const nodeOf = rowsOfBlock(subject, result);
    const rows = Array.from({ length: patches.count }, (_, i) => i).flatMap((i) => {
      const name = nameOf(i);
      const pair = pairs.get(name);
      return pair
        ? [
            {
              name,
              row: nodeOf(i),
              isFurther: Number.isFinite(result.rows('check')![i]!),
              before: apart(pair.instrument, pair.reference),
              after: apart(corrected(matrix, pair.instrument), pair.reference),
            },
          ]
        : [];
    });
    if (rows.length === 0) return without('no-rows');
    const names = rows.map(({ name }, at): Tick => ({ at, label: name }));
    const point = (at: number, side: 'before' | 'after'): Point => {
      const { name, row, isFurther, ...apartBy } = rows[at]!;
      return {
        id: `${result.run.id}/${side}/${name}`,
        x: apartBy[side],
        y: at,
        ...(side === 'after' && { from: [apartBy.before, at] as const }),
        row,
        run: result.run.id,
        key: [name],
        name: words(
          subject,
          side === 'before'
            ? phrase('{name} as shown by the meter: {distance}', { name, distance: numberText(apartBy.before, 4) })
            : phrase('{name} corrected: {distance}', { name, distance: numberText(apartBy.after, 4) }),
        ),
        ...(!isFurther && { faint: true }),
      };
    };
    const series = (['after', 'before'] as const).map(
      (side): Series => ({
        is: 'series',
        id: `${result.run.id}/${side}`,
        ink: side === 'after' ? 'text' : 'muted',
        dash: 'solid',
        joined: false,
        along: 'x',
        shape: side === 'after' ? 'dot' : 'hollow',
        points: rows.map((_, at) => point(at, side)),
      }),
    );
    const rooms = roomsOf(subject, result, 'check');
    const most = Math.max(rooms.limit?.high ?? 0, ...rows.flatMap(({ before, after }) => [before, after]));
    return {
      id: 'residual',
      runs: [result.run.id],
      title: titleOf(subject, [answerOf(subject)]),
      against: againstOf(subject),
      summary: rows
        .map(({ name, before, after }) =>
          words(
            subject,
            phrase('{name}: {before} before, {after} after.', { name, before: numberText(before, 4), after: numberText(after, 4) }),
          ),
        )
        .join(' '),
      notes: [words(subject, phrase('Hollow: as shown by the meter. Filled: corrected. Faint: met by construction.'))],
      panels: [
        {
          id: 'residual',
          x: { title: words(subject, phrase('distance from the reference in x, y')), scale: 'linear', domain: [0, most * 1.08] },
          y: {
            title: '',
            scale: 'names',
            domain: [rows.length - 0.5, -1],
            ticks: names,
            second: { title: '', ticks: rows.map(({ after, isFurther }, at) => ({ at, label: isFurther ? numberText(after, 4) : '' })) },
          },
          marks: [...roomMarks(subject, rooms, '').map((mark) => ({ ...mark, along: 'x' as const })), ...series],
        },
      ],
      flow: 'column',
      table: {
        head: [words(subject, phrase('colour')), words(subject, phrase('as shown by the meter')), words(subject, phrase('corrected'))],
        rows: rows.map(({ name, row, before, after }) => ({
          run: result.run.id,
          row,
          cells: [name, numberText(before, 4), numberText(after, 4)],
        })),
      },
    };
  },
};

function apart(a: Vec3, b: Vec3): number {
  const [p, q] = [xyzToXy(a), xyzToXy(b)];
  return Math.hypot(p[0] - q[0], p[1] - q[1]);
}

function answerOf(subject: Subject): Phrase {
  const result = subject.results[0]!;
  const check = result.value('check');
  const { nameOf } = result.context as Correcting;
  const list = result.rows('check')!;
  const worst = list.findIndex((v) => check.ok && v === check.v);
  if (!check.ok || worst < 0) return phrase('Met where it was made; no further colour tells how good it is');
  return phrase('Further colours within {distance} of the reference in x, y, the worst {name}', {
    distance: valueText(check, result.specs.check!, subject.say),
    name: nameOf(worst),
  });
}
