import type { RunResult } from '../measure/result';
import type { Samples } from '../measure/samples';
import { without } from '../measure/value';
import { numberText, valueText } from '../report/format';
import { type Phrase, phrase, plainNumber } from '../text/message';
import type { Point, Series, Tick } from './figure';
import { roomEnds, roomMarks, roomsOf } from './rooms';
import { padded } from './scale';
import { againstOf, type Builder, rowsOfBlock, runCell, runHead, runLabel, type Subject, titleOf, words } from './subject';

/** How much readings of one thing scatter, and about which mean: a strip of dots for each. */
export const readings: Builder = {
  id: 'readings',
  kinds: ['lag', 'power', 'repeats'],
  build(subject) {
    const { results } = subject;
    const rows = results.flatMap((result) => {
      const { patches, values } = result.context as Samples;
      return Array.from({ length: patches.count }, (_, i) => ({ result, patch: i, values: values[i]! })).filter(
        (row) => row.values.length > 0,
      );
    });
    if (rows.length === 0) return without('no-rows');
    const { unit, decimals } = results[0]!.specs.mean!;
    const names = rows.map(({ result, patch }, at): Tick => {
      const key = result.keyOf(patch).join(' ');
      return { at, label: results.length > 1 ? [runLabel(subject, result), key].filter((part) => part !== '').join(', ') : key };
    });
    const dots: Series = {
      is: 'series',
      id: 'readings',
      ink: 'muted',
      dash: 'solid',
      joined: false,
      along: 'x',
      shape: 'dot',
      points: rows.flatMap(({ result, patch, values }, at) => {
        const nodeOf = rowsOfBlock(subject, result);
        return values.map(
          (v, k): Point => ({
            id: `${result.run.id}/reading/${[...result.keyOf(patch), k + 1].join(',')}`,
            x: v,
            // Beside each other, so that equal readings can be counted.
            y: at + 0.14 * ((k % 3) - 1),
            row: nodeOf(patch),
            run: result.run.id,
            key: result.keyOf(patch),
            name: `${names[at]!.label}: ${plainNumber(v)} ${unit}`,
            faint: true,
          }),
        );
      }),
    };
    const means: Series = {
      is: 'series',
      id: 'means',
      ink: 'text',
      dash: 'solid',
      joined: false,
      along: 'x',
      shape: 'cross',
      points: rows.map(({ result, patch, values }, at): Point => {
        const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
        const text = numberText(mean, decimals);
        return {
          id: `${result.run.id}/mean/${result.keyOf(patch).join(',')}`,
          x: mean,
          y: at,
          run: result.run.id,
          key: result.keyOf(patch),
          name: words(subject, phrase('{name}: mean {mean} {unit}', { name: names[at]!.label, mean: text, unit })),
          label: text,
        };
      }),
    };
    const all = dots.points.map(({ x }) => x);
    const rooms = roomsOf(subject, results[0]!, 'mean');
    const most = Math.max(...all);
    const isScatter = results[0]!.run.kind === 'repeats' && rows.length === 1;
    const domain = isScatter ? padded(Math.min(...all), most, 0.15) : ([0, Math.max(most, ...roomEnds(rooms)) * 1.08] as const);
    return {
      id: 'readings',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        results.map((result) => answerOf(subject, result)),
      ),
      against: againstOf(subject),
      summary: means.points.map(({ name }) => `${name}.`).join(' '),
      notes: [words(subject, phrase('Dot: a reading. Cross: their mean.'))],
      panels: [
        {
          id: 'readings',
          x: { title: unit, scale: 'linear', domain },
          y: { title: '', scale: 'names', domain: [rows.length - 0.5, -1], ticks: names },
          marks: [...roomMarks(subject, rooms, unit).map((mark) => ({ ...mark, along: 'x' as const })), dots, means],
        },
      ],
      flow: 'column',
      table: {
        head: [...runHead(subject), '', words(subject, phrase('readings')), words(subject, phrase('mean, {unit}', { unit }))],
        rows: rows.map(({ result, values }, at) => ({
          run: result.run.id,
          cells: [...runCell(subject, result), names[at]!.label, String(values.length), means.points[at]!.label!],
        })),
      },
    };
  },
};

/** `9.5 ms on average, from 5.1 (top) to 13.6 (bottom)`; of one thing alone how much it scatters. */
function answerOf(subject: Subject, result: RunResult): Phrase {
  const { patches, values } = result.context as Samples;
  const spec = result.specs.mean!;
  const means = Array.from({ length: patches.count }, (_, i) => ({
    key: result.keyOf(i),
    v: values[i]!.reduce((sum, v) => sum + v, 0) / values[i]!.length,
  })).filter(({ v }) => Number.isFinite(v));
  const low = means.reduce((p, q) => (q.v < p.v ? q : p));
  const high = means.reduce((p, q) => (q.v > p.v ? q : p));
  const [mean, spread, n] = [result.value('mean'), result.value('sd'), result.value('n')];
  const args = {
    mean: valueText(mean, spec, subject.say),
    low: numberText(low.v, spec.decimals),
    lowKey: low.key.join(' '),
    high: `${numberText(high.v, spec.decimals)} ${spec.unit}`,
    highKey: high.key.join(' '),
    spread: spread.ok ? valueText(spread, result.specs.sd!, subject.say) : '',
    count: n.ok ? n.v : '',
  };
  if (means.length > 1)
    return mean.ok
      ? phrase('{mean} on average, from {low} ({lowKey}) to {high} ({highKey})', args)
      : phrase('From {low} ({lowKey}) to {high} ({highKey})', args);
  if (!spread.ok) return phrase('{mean}', { mean: `${args.low} ${spec.unit}` });
  const percent = result.specs['sd.percent'] && result.value('sd.percent');
  if (!percent?.ok) return phrase('{mean}, standard deviation {spread} over {count} readings', args);
  return phrase('{mean}, scattering by {percent} over {count} readings', {
    ...args,
    percent: valueText(percent, result.specs['sd.percent']!, subject.say),
  });
}
