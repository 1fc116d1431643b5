import type { Lit } from '../measure/reflectance';
import type { RunResult } from '../measure/result';
import { without } from '../measure/value';
import { numberText, valueText } from '../report/format';
import { type Phrase, phrase, plainNumber } from '../text/message';
import type { Axis, Panel, Series } from './figure';
import { againstOf, type Builder, inkOf, plotted, runCell, runHead, runLabel, type Subject, titleOf, words } from './subject';

/** What light from the room leaves of the contrast, and what it does to black. */
export const light: Builder = {
  id: 'light',
  kinds: ['reflectance'],
  build(subject) {
    const { results } = subject;
    const contrast = results.map((result, r) => seriesOf(subject, result, r, 'contrast'));
    const black = results.map((result, r) => seriesOf(subject, result, r, 'black'));
    const contrasts = contrast.flatMap(({ points }) => points);
    const blacks = black.flatMap(({ points }) => points);
    if (blacks.length === 0) return without('no-illuminance');
    const x: Axis = {
      title: words(subject, phrase('light on the screen, lx')),
      scale: 'linear',
      domain: [0, Math.max(...blacks.map(({ x: lux }) => lux)) * 1.04],
    };
    const panels: Panel[] = [
      ...(contrasts.length === 0
        ? []
        : [
            {
              id: 'contrast',
              x: { ...x, title: '' },
              y: { title: words(subject, phrase('contrast, :1')), scale: 'log', domain: decades(contrasts.map(({ y }) => y)) },
              marks: contrast,
            } satisfies Panel,
          ]),
      {
        id: 'black',
        x,
        y: { title: words(subject, phrase('black, cd/m²')), scale: 'linear', domain: [0, Math.max(...blacks.map(({ y }) => y)) * 1.1] },
        share: 0.7,
        marks: black.map(({ label: _, labelled: __, ...one }) => one),
      },
    ];
    return {
      id: 'light',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        results.map((result, r) => answerOf(result, contrast[r]!)),
      ),
      against: againstOf(subject),
      summary: results
        .map(
          (result, r) =>
            `${runLabel(subject, result)}: ${[...contrast[r]!.points, ...black[r]!.points].map(({ name }) => name).join(', ')}.`,
        )
        .join(' '),
      notes: [],
      panels,
      flow: 'column',
      table: {
        head: [...runHead(subject), 'lx', words(subject, phrase('black, cd/m²')), words(subject, phrase('contrast, :1'))],
        rows: black.flatMap(({ points }, r) =>
          points.map((point) => {
            const at = contrast[r]!.points.find(({ x: lux }) => lux === point.x);
            return {
              run: point.run,
              ...(point.row !== undefined && { row: point.row }),
              cells: [...runCell(subject, results[r]!), plainNumber(point.x), numberText(point.y, 3), at ? numberText(at.y, 0) : ''],
            };
          }),
        ),
      },
    };
  },
};

const decades = (values: readonly number[]): readonly [number, number] => [
  10 ** Math.floor(Math.log10(Math.min(...values))),
  10 ** Math.ceil(Math.log10(Math.max(...values) * 1.01)),
];

function seriesOf(subject: Subject, result: RunResult, r: number, measure: 'contrast' | 'black'): Series {
  const { illuminance, patches } = result.context as Lit;
  const id = `${result.run.id}/${measure}`;
  // White and black have a row each at every illuminance, with the same figure.
  const first = Array.from(illuminance, (_, i) => i).filter((i) => !patches.revisit[i] && illuminance.indexOf(illuminance[i]!) === i);
  const spec = result.specs[measure]!;
  const { points } = plotted(subject, {
    result,
    id: measure,
    series: id,
    patches: first.sort((a, b) => illuminance[a]! - illuminance[b]!),
    x: (i) => illuminance[i]!,
    name: (i, value) =>
      words(
        subject,
        phrase('{title} at {lux} lx: {value}', { title: spec.title, lux: plainNumber(illuminance[i]!), value: valueText(value, spec) }),
      ),
  });
  return {
    is: 'series',
    id,
    ...inkOf(subject, r),
    ...(subject.results.length > 1 && { label: runLabel(subject, result), labelled: 'end' }),
    joined: true,
    shape: subject.results.length === 2 && r === 0 ? 'hollow' : 'dot',
    points:
      measure === 'contrast' && subject.results.length === 1
        ? points.map((point) => ({ ...point, label: numberText(point.y, 0) }))
        : points,
  };
}

/** `Contrast 350:1 at 100 lx, 116:1 at 300 lx; reflectance 1.10 %`. */
function answerOf(result: RunResult, { points }: Series): Phrase {
  const reflectance = result.value('reflectance');
  const last = points.at(-1);
  const args = {
    contrast: last ? numberText(last.y, 0) : '',
    lux: last ? plainNumber(last.x) : '',
    reflectance: valueText(reflectance, result.specs.reflectance!),
  };
  if (!last) return phrase('Reflectance {reflectance}', args);
  return reflectance.ok
    ? phrase('Contrast {contrast}:1 under {lux} lx; reflectance {reflectance}', args)
    : phrase('Contrast {contrast}:1 under {lux} lx', args);
}
