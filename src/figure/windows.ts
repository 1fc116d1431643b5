import { Seen } from '../measure/readings';
import type { RunResult } from '../measure/result';
import { boundOf } from '../measure/scaling';
import type { MeasureSpec } from '../measure/specs';
import { type Value, without } from '../measure/value';
import { numberText, valueText } from '../report/format';
import { figureOf } from '../report/summary';
import { type Phrase, phrase, plainNumber } from '../text/message';
import type { Mark, Point, Series, Tick } from './figure';
import { roomMarks, roomsOf } from './rooms';
import { gapped, intervalOf, struckAlone } from './rows';
import { struckOf } from './struck';
import { againstOf, type Builder, endLabel, inkOf, rowsOfBlock, runCell, runHead, runLabel, type Subject, titleOf, words } from './subject';

/** Window sizes that double, and 10 and 100 %: where one looks. */
const TICKS: readonly Tick[] = [1, 2, 5, 10, 25, 50, 100].map((at) => ({ at, label: String(at) }));

/** How bright a part of the screen gets, by its size. */
export const windows: Builder = {
  id: 'curve',
  kinds: ['window'],
  build(subject) {
    const { results } = subject;
    const series = results.map((result, r) => seriesOf(subject, result, r));
    const all = series.flatMap(({ points }) => points);
    if (all.length === 0) return without('no-rows');
    const rooms = roomsOf(subject, results[0]!, 'peak', 0, ['10']);
    const most = Math.max(...all.map(({ y, ci }) => ci?.[1] ?? y), rooms.aim?.low ?? 0, rooms.limit?.low ?? 0);
    const smallest = Math.min(1, ...all.map(({ x }) => x));
    const lines = roomMarks(subject, rooms, words(subject, phrase('cd/m² at 10 %')), [7, 14]);
    const struck = results.flatMap((result, r) => struckOf(subject, result, series[r]!, (other) => seriesOf(subject, other, r)));
    const marks: Mark[] = [...lines, ...series, ...struck];
    return {
      id: 'curve',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        results.map((result) => answerOf(subject, result)),
      ),
      against: againstOf(subject),
      summary: results
        .map((result, r) => `${runLabel(subject, result)}: ${series[r]!.points.map(({ name }) => name).join(', ')}.`)
        .join(' '),
      notes: [],
      panels: [
        {
          id: 'windows',
          x: {
            title: words(subject, phrase('window, % of the screen')),
            scale: 'log',
            domain: [smallest * 0.9, 115],
            ticks: TICKS.filter(({ at }) => at >= smallest),
          },
          y: { title: words(subject, phrase('luminance, cd/m²')), scale: 'linear', domain: [0, most * 1.1] },
          marks,
        },
      ],
      flow: 'column',
      table: {
        head: [...runHead(subject), words(subject, phrase('window, %')), words(subject, phrase('luminance, cd/m²'))],
        rows: results.flatMap((result, r) =>
          series[r]!.points.map(({ run, row, key }) => {
            const figure = figureOf(subject.analysis, result, 'peak', key);
            return {
              run,
              ...(row !== undefined && { row }),
              cells: [...runCell(subject, result), key[0]!, shownText(subject, figure.value, figure.spec)],
            };
          }),
        ),
      },
    };
  },
};

function seriesOf(subject: Subject, result: RunResult, r: number): Series {
  const { patches, run } = { ...result.context!, run: result.run };
  const cell = run.table.columns.get('window')!.cell;
  const nodeOf = rowsOfBlock(subject, result);
  const id = `${run.id}/peak`;
  const sizeOf = (i: number) => run.table.rows[patches.first[i]!]!.values[cell]!;
  const isOne = subject.results.length === 1;
  const all = Array.from({ length: patches.count }, (_, i) => i).filter((i) => !patches.revisit[i]);
  const missing = [...all.filter((i) => patches.seen[i] === Seen.None).map(sizeOf), ...struckAlone(run.table, cell)];
  const points = all
    .filter((i) => patches.seen[i] !== Seen.None && sizeOf(i) > 0 && patches.Y[i]! >= 0)
    .sort((a, b) => sizeOf(a) - sizeOf(b))
    .map((i): Point => {
      const key = result.keyOf(i);
      const bound = boundOf(patches.seen[i]!);
      const ci = bound ? undefined : intervalOf(result, 'peak', i);
      const Y = luminanceText(patches.Y[i]!);
      return {
        id: `${id}/${key[0]}`,
        x: sizeOf(i),
        y: patches.Y[i]!,
        ...(bound && { bound }),
        ...(ci && { ci }),
        row: nodeOf(i),
        run: run.id,
        key,
        name: words(subject, phrase('{window} %: {luminance} cd/m²', { window: plainNumber(sizeOf(i)), luminance: Y })),
        ...(sizeOf(i) === 10 && { label: words(subject, phrase('{luminance} at 10 %', { luminance: Y })) }),
        ...(sizeOf(i) === 100 && isOne && { label: Y }),
      };
    });
  return {
    is: 'series',
    id,
    ...inkOf(subject, r),
    joined: true,
    shape: subject.results.length === 2 && r === 0 ? 'hollow' : 'dot',
    points: gapped(points, missing),
    ...(!isOne && { label: endLabel(subject, result), labelled: 'end' }),
  };
}

/** Two digits of what is below 10 cd/m². */
const decimalsOf = (Y: number): number => (Y > 0 && Y < 10 ? Math.max(0, 1 - Math.floor(Math.log10(Y))) : 0);

const luminanceText = (Y: number): string => numberText(Y, decimalsOf(Y));

const shownText = ({ say }: Subject, value: Value, { unit }: MeasureSpec): string =>
  valueText(value, { unit, decimals: value.ok ? decimalsOf(value.v) : 0 }, say);

/** `821 cd/m² at 10 %, 163 at full field`. */
function answerOf(subject: Subject, result: RunResult): Phrase {
  const [ten, peak, full] = [result.value('peak', ['10']), result.value('peak'), result.value('full')];
  const spec = result.specs.peak!;
  const args = {
    ten: shownText(subject, ten, spec),
    peak: shownText(subject, peak, spec),
    full: full.ok ? luminanceText(full.v) : '',
  };
  if (ten.ok && full.ok) return phrase('{ten} at 10 %, {full} over the full field', args);
  if (ten.ok) return phrase('{ten} at 10 %', args);
  return phrase('Peak {peak}', args);
}
