import type { Lit } from '../measure/reflectance';
import type { RunResult } from '../measure/result';
import { without } from '../measure/value';
import { numberText, valueText } from '../report/format';
import { type Phrase, phrase, plainNumber, tabled } from '../text/message';
import type { Axis, Panel, Series } from './figure';
import { type Drawn, drawn, tableRows } from './rows';
import { againstOf, type Builder, runHead, runLabel, runLook, type Subject, titleOf, words } from './subject';

/** What light from the room leaves of the contrast, and what it does to black. */
export const light: Builder = {
  id: 'light',
  kinds: ['reflectance'],
  build(subject) {
    const { results } = subject;
    const contrast = results.map((result) => lineOf(subject, result, 'contrast'));
    const black = results.map((result) => lineOf(subject, result, 'black'));
    const contrasts = contrast.flatMap(({ all }) => all);
    const blacks = black.flatMap(({ all }) => all);
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
              marks: contrast.map((line) => numbered(line, subject)),
            } satisfies Panel,
          ]),
      {
        id: 'black',
        x,
        y: { title: words(subject, phrase('black, cd/m²')), scale: 'linear', domain: [0, Math.max(...blacks.map(({ y }) => y)) * 1.1] },
        share: 0.7,
        marks: black.map(({ series: { label: _, labelled: __, ...one } }) => one),
      },
    ];
    return {
      id: 'light',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        contrast.map((line) => answerOf(subject, line)),
      ),
      against: againstOf(subject),
      summary: results
        .map(
          (result, r) =>
            `${runLabel(subject, result)}: ${[...contrast[r]!.series.points, ...black[r]!.series.points].map(({ name }) => name).join(', ')}.`,
        )
        .join(' '),
      notes: [],
      panels,
      flow: 'column',
      table: {
        head: [...runHead(subject), 'lx', words(subject, phrase('black, cd/m²')), words(subject, phrase('contrast, :1'))],
        rows: tableRows(subject, black, ({ patch, x: lux, y }, result) => {
          const ratio = result.rows('contrast')![patch]!;
          return [plainNumber(lux), numberText(y, 3), Number.isFinite(ratio) ? numberText(ratio, 0) : ''];
        }),
      },
    };
  },
};

const decades = (values: readonly number[]): readonly [number, number] => [
  10 ** Math.floor(Math.log10(Math.min(...values))),
  10 ** Math.ceil(Math.log10(Math.max(...values) * 1.01)),
];

function lineOf(subject: Subject, result: RunResult, measure: 'contrast' | 'black'): Drawn {
  const { illuminance, patches } = result.context as Lit;
  // White and black have a row each at every illuminance, with the same figure.
  const first = Array.from(illuminance, (_, i) => i).filter((i) => !patches.revisit[i] && illuminance.indexOf(illuminance[i]!) === i);
  const spec = result.specs[measure]!;
  return drawn(subject, runLook(subject, result), {
    result,
    id: measure,
    series: `${result.run.id}/${measure}`,
    patches: first.sort((a, b) => illuminance[a]! - illuminance[b]!),
    x: (i) => illuminance[i]!,
    name: (i, value) =>
      words(
        subject,
        phrase('{title} at {lux} lx: {value}', {
          title: tabled(spec.title),
          lux: plainNumber(illuminance[i]!),
          value: valueText(value, spec, subject.say),
        }),
      ),
  });
}

/** Each reading with its number, where there is room for numbers. */
const numbered = ({ series }: Drawn, subject: Subject): Series =>
  subject.results.length > 1 ? series : { ...series, points: series.points.map((point) => ({ ...point, label: numberText(point.y, 0) })) };

/** `Contrast 350:1 at 100 lx, 116:1 at 300 lx; reflectance 1.10 %`. */
function answerOf(subject: Subject, { result, all }: Drawn): Phrase {
  const reflectance = result.value('reflectance');
  const last = all.at(-1);
  const args = {
    contrast: last ? numberText(last.y, 0) : '',
    lux: last ? plainNumber(last.x) : '',
    reflectance: valueText(reflectance, result.specs.reflectance!, subject.say),
  };
  if (!last) return phrase('Reflectance {reflectance}', args);
  return reflectance.ok
    ? phrase('Contrast {contrast}:1 under {lux} lx; reflectance {reflectance}', args)
    : phrase('Contrast {contrast}:1 under {lux} lx', args);
}
