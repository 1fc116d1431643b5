import { contrastLuminance } from '../measure/luminances';
import { Seen } from '../measure/readings';
import type { RunResult } from '../measure/result';
import { type Value, without } from '../measure/value';
import { valueText } from '../report/format';
import { type Phrase, phrase, plainNumber } from '../text/message';
import type { Point, Rule, Series, Tick } from './figure';
import { type Rooms, roomsOf } from './rooms';
import { againstOf, type Builder, rowsOfBlock, runLabel, type Subject, titleOf, words } from './subject';

const PAIRS = [
  { id: 'sequential', light: 'white', dark: 'black', name: phrase('one after the other') },
  { id: 'checkerboard', light: 'checker-white', dark: 'checker-black', name: phrase('checkerboard') },
] as const;

/** How far black lies below white, on a scale where equal ratios are equally long. */
export const contrast: Builder = {
  id: 'contrast',
  kinds: ['contrast'],
  build(subject) {
    const { results } = subject;
    const rows = results.flatMap((result) =>
      PAIRS.map((pair) => ({ result, pair, value: result.value(pair.id) })).filter(({ value }) => value.ok),
    );
    if (rows.length === 0) return without('no-patch', { patch: 'black' });
    const names = rows.map(({ result, pair }, at): Tick => {
      const name = words(subject, pair.name);
      return { at, label: results.length > 1 ? `${runLabel(subject, result)}, ${name}` : name };
    });
    const ratios = rows.map(({ result, pair, value }, at): Tick => ({ at, label: valueText(value, result.specs[pair.id]!, subject.say) }));
    const series = rows.map(({ result, pair }, at): Series => {
      const points = ([pair.dark, pair.light] as const).map(
        (patch, side): Point => ({
          ...readingOf(subject, result, patch),
          y: at,
          ...(side === 1 && {
            from: [readingOf(subject, result, pair.dark).x, at] as const,
          }),
        }),
      );
      return {
        is: 'series',
        id: `${result.run.id}/${pair.id}`,
        ink: 'text',
        dash: 'solid',
        joined: false,
        along: 'x',
        shape: 'dot',
        points,
      };
    });
    const all = series.flatMap(({ points }) => points);
    const rooms = roomsOf(subject, results[0]!, 'black');
    const low = Math.min(...all.map(({ x }) => x), rooms.aim?.high ?? Number.POSITIVE_INFINITY);
    const high = Math.max(...all.map(({ x }) => x));
    return {
      id: 'contrast',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        results.map((result) => answerOf(subject, result)),
      ),
      against: againstOf(subject),
      summary: results.map((result) => `${runLabel(subject, result)}: ${words(subject, answerOf(subject, result))}.`).join(' '),
      notes: [],
      panels: [
        {
          id: 'contrast',
          x: { title: words(subject, phrase('luminance, cd/m²')), scale: 'log', domain: [low / 4, high * 1.5] },
          y: { title: '', scale: 'names', domain: [rows.length - 0.3, -1], ticks: names, second: { title: '', ticks: ratios } },
          marks: [...blackLimits(subject, rooms), ...series],
        },
      ],
      flow: 'column',
      table: {
        head: ['', words(subject, phrase('black, cd/m²')), words(subject, phrase('white, cd/m²')), words(subject, phrase('contrast'))],
        rows: rows.map(({ result, pair }, at) => {
          const [dark, light] = [pair.dark, pair.light].map((patch) => readingOf(subject, result, patch));
          return {
            run: result.run.id,
            cells: [names[at]!.label, luminanceText(dark!), luminanceText(light!), ratios[at]!.label],
          };
        }),
      },
    };
  },
};

/** The aim and limit of black. */
const blackLimits = (subject: Subject, { aim, limit }: Rooms): Rule[] => [
  ...(aim?.high === undefined
    ? []
    : [
        {
          is: 'rule',
          along: 'x',
          at: aim.high,
          role: 'aim',
          label: words(subject, phrase('aim of black {luminance}', { luminance: aim.high })),
        } as const,
      ]),
  ...(limit?.high === undefined
    ? []
    : [
        {
          is: 'rule',
          along: 'x',
          at: limit.high,
          role: 'limit',
          label: words(subject, phrase('limit of black {luminance}', { luminance: limit.high })),
        } as const,
      ]),
];

const luminanceText = ({ x, bound }: Pick<Point, 'x' | 'bound'>): string =>
  `${bound === 'at-most' ? '<' : bound ? '>' : ''}${plainNumber(x)}`;

function readingOf(subject: Subject, result: RunResult, patch: string): Omit<Point, 'y'> {
  const { patches } = result.context!;
  const i = Array.from({ length: patches.count }, (_, k) => k).find(
    (k) => !patches.revisit[k] && patches.seen[k] !== Seen.None && result.keyOf(k)[0] === patch,
  )!;
  // Only pairs that have a contrast are shown.
  const { v: x, bound } = contrastLuminance(result.context!, patch) as Extract<Value, { ok: true }>;
  return {
    id: `${result.run.id}/${patch}`,
    x,
    ...(bound && { bound }),
    row: rowsOfBlock(subject, result)(i),
    run: result.run.id,
    key: [patch],
    name: words(subject, phrase('{patch}: {luminance} cd/m²', { patch, luminance: luminanceText({ x, ...(bound && { bound }) }) })),
  };
}

function answerOf(subject: Subject, result: RunResult): Phrase {
  const [sequential, checkerboard] = PAIRS.map(({ id }) => result.value(id));
  const text = (value: typeof sequential, id: 'sequential' | 'checkerboard') => valueText(value!, result.specs[id]!, subject.say);
  const args = { sequential: text(sequential, 'sequential'), checkerboard: text(checkerboard, 'checkerboard') };
  if (sequential!.ok && checkerboard!.ok) return phrase('Contrast {sequential}, on a checkerboard {checkerboard}', args);
  return sequential!.ok ? phrase('Contrast {sequential}', args) : phrase('Contrast on a checkerboard {checkerboard}', args);
}
