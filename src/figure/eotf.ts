import type { RunResult } from '../measure/result';
import { without } from '../measure/value';
import { numberText } from '../report/format';
import { type Phrase, phrase } from '../text/message';
import type { Point, Series, Tick } from './figure';
import { gapped, levelsOf } from './rows';
import { againstOf, type Builder, endLabel, inkOf, rowsOfBlock, runCell, runHead, runLabel, type Subject, titleOf, words } from './subject';
import { trackedOf } from './tracking';

/** Luminance over the luminance asked for, both in logarithms: where light ends, above and below. */
export const eotf: Builder = {
  id: 'eotf',
  kinds: ['tracking'],
  variant: true,
  build(subject) {
    const { results } = subject;
    const series = results.map((result, r) => luminances(subject, result, r));
    const all = series.flatMap(({ points }) => points);
    if (all.length === 0) return without('no-rows');
    const low = Math.min(...all.map(({ x, y }) => Math.min(x, y)));
    const high = Math.max(...all.map(({ x, y }) => Math.max(x, y)));
    const domain = [10 ** Math.floor(Math.log10(low)), 10 ** Math.ceil(Math.log10(high))] as const;
    const answers = results.map(answerOf);
    const ticks = [0.01, 0.1, 1, 10, 100, 1000, 10000]
      .filter((v) => v >= domain[0] && v <= domain[1])
      .map((at): Tick => ({ at, label: String(at) }));
    return {
      id: 'eotf',
      runs: results.map(({ run }) => run.id),
      title: titleOf(subject, answers),
      against: againstOf(subject),
      summary: answers.map((answer, r) => `${runLabel(subject, results[r]!)}: ${words(subject, answer)}.`).join(' '),
      notes: [],
      panels: [
        {
          id: 'luminance',
          x: { title: words(subject, phrase('target, cd/m²')), scale: 'log', domain, ticks },
          y: { title: words(subject, phrase('luminance, cd/m²')), scale: 'log', domain, ticks },
          marks: [
            {
              is: 'outline',
              id: 'target',
              role: 'target',
              closed: false,
              points: [
                [domain[0], domain[0]],
                [domain[1], domain[1]],
              ],
              label: words(subject, phrase('target')),
            },
            ...series,
          ],
        },
      ],
      flow: 'column',
      table: {
        head: [
          ...runHead(subject),
          words(subject, phrase('signal, %')),
          words(subject, phrase('target, cd/m²')),
          words(subject, phrase('luminance, cd/m²')),
        ],
        rows: series.flatMap(({ points }, r) => {
          const { written } = levelsOf(results[r]!);
          return points.map(({ run, row, key, x, y }) => ({
            run,
            ...(row !== undefined && { row }),
            cells: [...runCell(subject, results[r]!), written(results[r]!.patchOf(['level'], key)!), x.toPrecision(4), y.toPrecision(4)],
          }));
        }),
      },
    };
  },
};

function answerOf(result: RunResult): Phrase {
  const peak = result.value('peak');
  return peak.ok ? phrase('Up to {luminance} cd/m²', { luminance: numberText(peak.v, 0) }) : phrase('Peak not computed');
}

function luminances(subject: Subject, result: RunResult, r: number): Series {
  const { asked, patches: read } = trackedOf(result);
  const { patches, written } = levelsOf(result);
  const missing = patches.filter((i) => asked[i]! > 0 && !(read.Y[i]! > 0)).map((i) => asked[i]!);
  const nodeOf = rowsOfBlock(subject, result);
  const id = `${result.run.id}/luminance`;
  const points = patches
    .filter((i) => asked[i]! > 0 && read.Y[i]! > 0)
    .map((i): Point => {
      const key = result.keyOf(i);
      return {
        id: `${id}/${key[0]}`,
        x: asked[i]!,
        y: read.Y[i]!,
        row: nodeOf(i),
        run: result.run.id,
        key,
        name: `${written(i)} %: ${read.Y[i]!.toPrecision(4)} cd/m²`,
      };
    });
  const isOne = subject.results.length === 1;
  return {
    is: 'series',
    id,
    ...inkOf(subject, r),
    ...(!isOne && { label: endLabel(subject, result), labelled: 'end' }),
    joined: true,
    shape: 'dot',
    points: gapped(points, missing),
  };
}
