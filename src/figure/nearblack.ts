import type { Grey } from '../measure/greyscale';
import { Seen } from '../measure/readings';
import type { RunResult } from '../measure/result';
import { tooFew } from '../measure/value';
import { numberText } from '../report/format';
import { type Phrase, phrase, plainNumber } from '../text/message';
import type { Panel, Point, Series } from './figure';
import { drawn, gapped, levelsOf } from './rows';
import { deviationDomain, signedText } from './scale';
import { againstOf, type Builder, rowsOfBlock, runCell, runHead, runLabel, runLook, type Subject, titleOf, words } from './subject';

/** Near-black ends where the measures of it do, per cent. */
const LUMINANCE_TO = 10;
const TINT_TO = 20;
/** Fewer levels show no shape. */
const LEAST = 3;
/** An interval that reaches beyond so many times the largest tint is cut: what was read is to be seen. */
const MOST_DOUBT = 1.6;
/** Stops within which it is neither crushed nor raised (common practice, no source). */
const ROOM = 0.25;

/** Whether the first levels above black are crushed or raised, on a scale of their own; below it their tint. */
export const nearblack: Builder = {
  id: 'nearblack',
  kinds: ['greyscale'],
  build(subject) {
    const { results } = subject;
    const stops = results.map((result) => stopsOf(subject, result));
    if (stops.every(({ points }) => points.length < LEAST)) return tooFew(LEAST, phrase('above 0 up to 10 %'));
    const tints = results.map((result) => tintOf(subject, result)).filter(({ points }) => points.length > 0);
    const all = stops.flatMap(({ points }) => points);
    const x = {
      title: words(subject, phrase('level, %')),
      scale: 'linear',
      domain: [0, Math.max(...all.map(({ x: level }) => level), LUMINANCE_TO)],
    } as const;
    const luminance: Panel = {
      id: 'stops',
      x: { ...x, ...(tints.length > 0 && { title: '' }) },
      y: {
        title: words(subject, phrase('luminance, stops from target')),
        scale: 'linear',
        domain: deviationDomain(
          all.filter(({ bound }) => !bound).map(({ y }) => y),
          all.filter(({ bound }) => bound).map(({ y }) => y),
          [ROOM, -ROOM],
        ),
        signed: true,
      },
      marks: [{ is: 'rule', along: 'y', at: 0, role: 'zero' }, ...stops],
    };
    const mostTint = Math.max(0, ...tints.flatMap(({ points }) => points.map(({ y }) => y)));
    const tint: Panel = {
      id: 'tint',
      x,
      y: {
        title: words(subject, phrase('tint at its own level, ΔE 2000')),
        scale: 'linear',
        domain: [
          0,
          1.1 * Math.max(1, ...tints.flatMap(({ points }) => points.map(({ y, ci }) => Math.min(ci?.[1] ?? y, MOST_DOUBT * mostTint)))),
        ],
      },
      share: 0.7,
      marks: tints,
    };
    return {
      id: 'nearblack',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        results.map((result, r) => answerOf(result, stops[r]!)),
      ),
      against: againstOf(subject),
      summary: results
        .map((result, r) => `${runLabel(subject, result)}: ${stops[r]!.points.map(({ name }) => name).join(', ')}.`)
        .join(' '),
      notes: all.some(({ bound }) => bound) ? [words(subject, phrase('▼ below the floor of the meter: at most as bright as shown.'))] : [],
      panels: tints.length > 0 ? [luminance, tint] : [luminance],
      flow: 'column',
      table: {
        head: [
          ...runHead(subject),
          words(subject, phrase('level, %')),
          words(subject, phrase('luminance, cd/m²')),
          words(subject, phrase('stops from target')),
        ],
        rows: results.flatMap((result, r) => {
          const { written } = levelsOf(result);
          return stops[r]!.points.map(({ run, row, key, y, bound }) => {
            const patch = result.patchOf(['level'], key)!;
            const Y = plainNumber((result.context as Grey).patches.Y[patch]!);
            return {
              run,
              ...(row !== undefined && { row }),
              cells: [...runCell(subject, result), written(patch), bound ? `<${Y}` : Y, bound ? `< ${signedText(y, 2)}` : signedText(y, 2)],
            };
          });
        }),
      },
    };
  },
};

/** With the rows that the meter could not see: those are crushed at least as far as the floor lies below their target. */
function stopsOf(subject: Subject, result: RunResult): Series {
  const { patches: read, targetY } = result.context as Grey;
  const { patches, level, written, struck } = levelsOf(result);
  const nodeOf = rowsOfBlock(subject, result);
  const id = `${result.run.id}/nearblack`;
  const points = patches.flatMap((i): Point[] => {
    const stops = Math.log2(read.Y[i]! / targetY[i]!);
    const isBelow = read.seen[i] === Seen.Below;
    const isIn = level(i) > 0 && level(i) <= LUMINANCE_TO + 0.05 && Number.isFinite(stops);
    // A floor above the target tells nothing of a reading below it.
    if (!isIn || (isBelow ? stops >= 0 : read.seen[i] !== Seen.Measured)) return [];
    const key = result.keyOf(i);
    const text = signedText(stops, 2);
    return [
      {
        id: `${id}/${key[0]}`,
        x: level(i),
        y: stops,
        ...(isBelow && { bound: 'at-most' as const }),
        row: nodeOf(i),
        run: result.run.id,
        key,
        name: words(
          subject,
          isBelow
            ? phrase('{level} %: at most {stops} stops', { level: written(i), stops: text })
            : phrase('{level} %: {stops} stops', { level: written(i), stops: text }),
        ),
      },
    ];
  });
  const missing = [...patches.filter((i) => read.seen[i] === Seen.None).map(level), ...struck];
  return { is: 'series', id, ...runLook(subject, result), points: gapped(points, missing) };
}

function tintOf(subject: Subject, result: RunResult): Series {
  const { patches, level, written, struck } = levelsOf(result);
  const inSight = Math.max(LUMINANCE_TO, ...stopsOf(subject, result).points.map(({ x }) => x));
  return drawn(subject, runLook(subject, result), {
    result,
    id: 'dc.adapted',
    series: `${result.run.id}/tint`,
    patches: patches.filter((i) => level(i) > 0 && level(i) <= Math.min(TINT_TO, inSight) + 0.05),
    x: level,
    struck,
    name: (i, { v }) => `${written(i)} %: ΔE ${numberText(v, 2)}`,
  }).series;
}

/** `Crushed by 0.6 stops on average, 2 levels below the floor; first light at 2 %`. */
function answerOf(result: RunResult, { points }: Series): Phrase {
  const [mean, first] = [result.value('nearblack.stops'), result.value('nearblack.first')];
  const unseen = points.filter(({ bound }) => bound).length;
  if (!mean.ok) return phrase('Near-black, up to 10 %');
  const { patches, level, written } = levelsOf(result);
  const lit = first.ok ? patches.find((i) => level(i) === first.v) : undefined;
  const args = { size: numberText(Math.abs(mean.v), 2), first: lit === undefined ? '' : written(lit) };
  const isCrushed = mean.v < -ROOM;
  const isRaised = mean.v > ROOM;
  if (isCrushed && unseen > 0)
    return first.ok
      ? phrase('Crushed by at least {size} stops on average; first level above black {first} %', args)
      : phrase('Crushed by at least {size} stops on average', args);
  if (isCrushed)
    return first.ok
      ? phrase('Crushed by {size} stops on average; first level above black {first} %', args)
      : phrase('Crushed by {size} stops on average', args);
  if (isRaised)
    return first.ok
      ? phrase('Raised by {size} stops on average; first level above black {first} %', args)
      : phrase('Raised by {size} stops on average', args);
  return first.ok
    ? phrase('Near-black holds within {size} stops on average; first level above black {first} %', args)
    : phrase('Near-black holds within {size} stops on average', args);
}
