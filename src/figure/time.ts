import { isHeld } from '../measure/endurance';
import type { RunResult } from '../measure/result';
import { without } from '../measure/value';
import { numberText } from '../report/format';
import { type Phrase, phrase, plainNumber } from '../text/message';
import type { Mark, Rule } from './figure';
import { roomMarks, roomsOf } from './rooms';
import { type Drawn, drawn, tableRows } from './rows';
import { padded } from './scale';
import { struckOf } from './struck';
import { againstOf, type Builder, runHead, runLabel, runLook, type Subject, titleOf, words } from './subject';

/** s; from twice as much on time is shown in minutes. */
const MINUTE = 60;

/** What is left of the light of a picture that stands still. */
export const time: Builder = {
  id: 'time',
  kinds: ['endurance'],
  build(subject) {
    const { results } = subject;
    const longest = Math.max(0, ...results.flatMap((result) => Array.from(timesOf(result)).filter(Number.isFinite)));
    const unit = longest > 2 * MINUTE ? MINUTE : 1;
    const lines = results.map((result) => lineOf(subject, result, unit));
    const all = lines.flatMap((line) => line.all);
    if (all.length === 0) return without('no-rows');
    const rooms = roomsOf(subject, results[0]!, 'after', 0, ['10min']);
    const inPercent = (room: typeof rooms.aim) =>
      room && { ...(room.low !== undefined && { low: 100 * room.low }), ...(room.high !== undefined && { high: 100 * room.high }) };
    const [aim, limit] = [inPercent(rooms.aim), inPercent(rooms.limit)];
    const ten = (10 * MINUTE) / unit;
    const isLong = longest / unit >= ten;
    const limits = isLong
      ? roomMarks(subject, { ...(aim && { aim }), ...(limit && { limit }) }, words(subject, phrase('% at 10 min')), [0.9 * ten, 1.1 * ten])
      : [];
    const marks: Mark[] = [
      ...limits,
      ...(results.length === 1 ? placesOf(subject, results[0]!, unit) : []),
      ...lines.map(({ series }) => series),
      ...lines.flatMap(({ result, series }) => struckOf(subject, result, series, (other) => lineOf(subject, other, unit).series)),
    ];
    const ends = [...all.flatMap(({ y, ci = [] }) => [y, ...ci]), 100, ...(isLong ? [aim?.low ?? 100, limit?.low ?? 100] : [])];
    return {
      id: 'time',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        results.map((result) => answerOf(result)),
      ),
      against: againstOf(subject),
      summary: results
        .map((result, r) => `${runLabel(subject, result)}: ${lines[r]!.series.points.map(({ name }) => name).join(', ')}.`)
        .join(' '),
      notes: [],
      panels: [
        {
          id: 'time',
          x: {
            title: words(subject, unit === MINUTE ? phrase('time, min') : phrase('time, s')),
            scale: 'linear',
            domain: [0, (longest / unit) * 1.02],
          },
          y: {
            title: words(subject, phrase('luminance, % of the first reading')),
            scale: 'linear',
            domain: padded(Math.min(...ends), Math.max(...ends)),
          },
          marks,
        },
      ],
      flow: 'column',
      table: {
        head: [...runHead(subject), words(subject, phrase('time, s')), words(subject, phrase('luminance, % of the first reading'))],
        rows: tableRows(subject, lines, ({ x, y }) => [plainNumber(Number((x * unit).toFixed(3))), numberText(y, 1)]),
      },
    };
  },
};

const timesOf = ({ context }: RunResult): ArrayLike<number> => (context && isHeld(context) ? context.held.times : []);

function lineOf(subject: Subject, result: RunResult, unit: number): Drawn {
  const times = timesOf(result);
  const { patches } = result.context!;
  return drawn(subject, runLook(subject, result), {
    result,
    id: 'after',
    series: `${result.run.id}/after`,
    patches: Array.from({ length: patches.count }, (_, i) => i).filter((i) => !patches.revisit[i]),
    x: (i) => times[i]! / unit,
    y: (v) => 100 * v,
    name: (i, { v }) =>
      words(subject, phrase('{seconds} s: {share} %', { seconds: plainNumber(times[i]!), share: numberText(100 * v, 1) })),
  });
}

/** Where it settles, and where half of the drop is gone. */
function placesOf(subject: Subject, result: RunResult, unit: number): Rule[] {
  const [settled, half] = [result.value('settled'), result.value('half')];
  return [
    ...(settled.ok
      ? [
          {
            is: 'rule',
            along: 'y',
            at: 100 * settled.v,
            role: 'place',
            label: words(subject, phrase('settled at {share} %', { share: numberText(100 * settled.v, 1) })),
          } as const,
        ]
      : []),
    ...(half.ok
      ? [
          {
            is: 'rule',
            along: 'x',
            at: half.v / unit,
            role: 'place',
            label: words(subject, phrase('half of the drop after {time}', { time: timeText(half.v) })),
          } as const,
        ]
      : []),
  ];
}

const timeText = (seconds: number): Phrase =>
  seconds < 2 * MINUTE
    ? phrase('{time} s', { time: numberText(seconds, 0) })
    : phrase('{time} min', { time: numberText(seconds / MINUTE, 0) });

/** `Settles at 85 % after 5 min, half of the drop after 45 s`. */
function answerOf(result: RunResult): Phrase {
  const [settled, from, half, ten] = [
    result.value('settled'),
    result.value('settled.time'),
    result.value('half'),
    result.value('after', ['10min']),
  ];
  if (settled.ok && from.ok) {
    const args = { share: numberText(100 * settled.v, 0), from: timeText(from.v) };
    return half.ok
      ? phrase('Settles at {share} % after {from}, half of the drop after {half}', { ...args, half: timeText(half.v) })
      : phrase('Holds at {share} % from {from} on', args);
  }
  if (ten.ok) return phrase('{share} % left after 10 min', { share: numberText(100 * ten.v, 0) });
  const list = result.rows('after')!;
  const last = list.findLast((v) => Number.isFinite(v)) ?? Number.NaN;
  return phrase('{share} % left at the last reading, not settled', { share: numberText(100 * last, 0) });
}
