import { eetf } from '../colour/eetf';
import { pqEotf } from '../colour/pq';
import type { RunResult } from '../measure/result';
import { curveName } from '../measure/target';
import { isTracked, type Tracked } from '../measure/tracking';
import { type Value, without } from '../measure/value';
import { numberText } from '../report/format';
import { type Phrase, phrase, plainNumber } from '../text/message';
import type { Axis, Mark, Outline, Rule, Tick } from './figure';
import { type Rooms, roomMarks, roomSize, roomsOf } from './rooms';
import { type Drawn, deviationsOf, domainOf, drawn, levelsOf, levelText, tableRows } from './rows';
import { signedText } from './scale';
import { asRead, isOpen, largestOf, stretchOf, whereOf } from './stretch';
import { struckOf } from './struck';
import { againstOf, type Builder, inkOf, runHead, runLabel, runLook, type Subject, titleOf, words } from './subject';

/** Whether an HDR display follows its curve, where it leaves it, and where it clips. */
export const tracking: Builder = {
  id: 'tracking',
  kinds: ['tracking'],
  build(subject) {
    const { results } = subject;
    const lines = results.map((result) => stopsOf(subject, result));
    if (lines.every(({ all }) => all.length === 0)) return without('no-rows');
    const rooms = roomsOf(subject, results[0]!, 'bias');
    const top = Math.max(...results.map((result) => kneeOf(result)));
    const marks: Mark[] = [
      ...roomMarks(subject, rooms, words(subject, phrase('stops')), [0, Math.min(top, 100)]),
      { is: 'rule', along: 'y', at: 0, role: 'zero' },
      ...(results.length === 1 ? fitOf(results[0]!) : []),
      ...placesOf(subject),
      ...lines.map(({ series }) => series),
      ...lines.flatMap(({ result, series }) => struckOf(subject, result, series, (other) => stopsOf(subject, other).series)),
    ];
    return {
      id: 'tracking',
      runs: results.map(({ run }) => run.id),
      title:
        followsAll(subject) ??
        titleOf(
          subject,
          lines.map((line) => answerOf(line, roomSize(rooms) ?? 0.1)),
          {
            what: phrase('Largest deviation before the roll-off'),
            of: lines.map((line) => largestOf(deviationsOf(line))),
            text: (v) => words(subject, phrase('{size} stops', { size: numberText(v, 2) })),
          },
        ),
      against: againstOf(subject),
      summary: results.map((result) => [`${runLabel(subject, result)}:`, ...result.says(subject.say)].join(' ')).join(' '),
      notes:
        results.length === 1 && fitOf(results[0]!).length > 0
          ? [words(subject, phrase('Dotted: the nearest roll-off of ITU-R BT.2408 Annex 5.'))]
          : [],
      panels: [
        {
          id: 'stops',
          x: signalAxis(subject),
          y: {
            title: words(subject, phrase('luminance, stops from target')),
            scale: 'linear',
            domain: domainDown(lines, rooms),
            signed: true,
          },
          marks,
        },
      ],
      flow: 'column',
      table: {
        head: [
          ...runHead(subject),
          words(subject, phrase('signal, %')),
          words(subject, phrase('target, cd/m²')),
          words(subject, phrase('luminance, cd/m²')),
          words(subject, phrase('stops from target')),
        ],
        rows: tableRows(subject, lines, ({ patch, x, y }, result) => {
          const { asked, patches } = trackedOf(result);
          return [levelText(x), asked[patch]!.toPrecision(4), patches.Y[patch]!.toPrecision(4), signedText(y, 2)];
        }),
      },
    };
  },
};

/** A roll-off is shown as far as it can be told from others; what lies deeper stands at the edge. */
const DEEPEST = -2;

function domainDown(lines: readonly Drawn[], rooms: Rooms): readonly [number, number] {
  const [low, high] = domainOf(lines, rooms);
  const deepest = Math.min(...lines.flatMap(({ all }) => all.map(({ y }) => y)));
  return [Math.min(low, Math.max(DEEPEST, deepest)) - 0.05, high];
}

export const trackedOf = ({ context }: RunResult): Tracked => {
  if (!context || !isTracked(context)) throw new Error('no tracking run');
  return context;
};

function stopsOf(subject: Subject, result: RunResult): Drawn {
  const { patches, level, written, struck } = levelsOf(result);
  const { counts } = trackedOf(result);
  return drawn(subject, runLook(subject, result), {
    result,
    id: 'stops',
    series: `${result.run.id}/stops`,
    patches,
    x: level,
    struck,
    name: (i, { v }) => words(subject, phrase('{level} %: {v} stops', { level: written(i), v: signedText(v, 2) })),
    faint: (i) => !counts(i),
  });
}

/** Per cent of signal; above all levels where there is none. */
function kneeOf(result: RunResult): number {
  const found = result.value('knee.level');
  return found.ok ? found.v : Number.POSITIVE_INFINITY;
}

/** Where a roll-off of the nearest EETF would lie, if the display is near one. */
function fitOf(result: RunResult): Outline[] {
  const [peak, from, rms, gain] = ['eetf.peak', 'eetf.from', 'eetf.rms', 'gain'].map((id) => result.value(id));
  if (!peak?.ok || !from?.ok || !rms?.ok || !gain?.ok || rms.v > NEAR) return [];
  const range = { Lb: 0, Lw: from.v, Lmin: 0, Lmax: peak.v / 2 ** gain.v };
  const points: (readonly [number, number])[] = [];
  for (let percent = 20; percent <= 100; percent++)
    points.push([percent, gain.v + Math.log2(pqEotf(eetf(percent / 100, range)) / pqEotf(percent / 100))]);
  return [{ is: 'outline', id: 'eetf', role: 'fit', points, closed: false }];
}

/** Farther from any such roll-off than this, stops, it is one of its own. */
const NEAR = 0.1;

/** Levels nearer than this, per cent of signal, are spoken of as one. */
const ONE_PLACE = 1.5;

/** Knee and clip; of several runs once where they are the same. */
function placesOf(subject: Subject): Rule[] {
  const { results } = subject;
  const isOne = results.length === 1;
  return KINDS.flatMap(({ at: atId, luminance: luminanceId, label, level }) => {
    const found = results.flatMap((result, r) => {
      const [at, luminance] = [result.value(atId), result.value(luminanceId)];
      return at.ok && luminance.ok ? [{ at: at.v, luminance: luminance.v, ink: inkOf(subject, r).ink }] : [];
    });
    const [low, high] = [Math.min(...found.map(({ at }) => at)), Math.max(...found.map(({ at }) => at))];
    const isAlike = high - low <= ONE_PLACE;
    return (isAlike ? found.slice(0, 1) : found).map(
      ({ at, luminance, ink }): Rule => ({
        is: 'rule',
        along: 'x',
        at,
        role: 'place',
        ...(!isAlike && { ink }),
        label: words(subject, isOne ? label(numberText(luminance, 0)) : level(numberText(at, 0))),
      }),
    );
  });
}

const KINDS = [
  {
    at: 'knee.level',
    luminance: 'knee',
    label: (luminance: string) => phrase('knee {luminance} cd/m²', { luminance }),
    level: (level: string) => phrase('knee {level} %', { level }),
  },
  {
    at: 'clip',
    luminance: 'clip.peak',
    label: (luminance: string) => phrase('clip {luminance} cd/m²', { luminance }),
    level: (level: string) => phrase('clip {level} %', { level }),
  },
] as const;

/** Signal, and above it the luminance that it asks for. */
export function signalAxis(subject: Subject): Axis {
  const { readings } = trackedOf(subject.results[0]!);
  const luminanceOf = readings.curve ?? pqEotf;
  const ticks = [0.1, 1, 10, 100, 1000, 10000].flatMap((luminance): Tick[] => {
    const at = 100 * inverse(luminanceOf, luminance);
    return Number.isNaN(at) ? [] : [{ at, label: plainNumber(luminance) }];
  });
  return {
    title: words(subject, phrase('signal, %')),
    scale: 'linear',
    domain: [0, 100],
    second: { title: words(subject, phrase('target, cd/m²')), ticks },
  };
}

/** The signal of a luminance, by bisection; NaN above all signals. */
function inverse(luminanceOf: (signal: number) => number, luminance: number): number {
  let [low, high] = [0, 1];
  if (!(luminanceOf(high) >= luminance)) return Number.NaN;
  for (let step = 0; step < 40; step++) {
    const middle = (low + high) / 2;
    if (luminanceOf(middle) < luminance) low = middle;
    else high = middle;
  }
  return high;
}

/** Of runs that differ in their mastering peak alone: whether the display minds it. Undefined where that cannot be told. */
function followsAll(subject: Subject): string | undefined {
  const { results } = subject;
  if (results.length < 2) return undefined;
  const siblings = trackedOf(results[0]!).siblings;
  if (!results.every(({ run }) => siblings.includes(run))) return undefined;
  const [difference, threshold] = [results[0]!.value('metadata'), results[0]!.value('metadata.threshold')];
  if (!difference.ok || !threshold.ok) return undefined;
  const knees = results.map(kneeOf).filter(Number.isFinite);
  const knee =
    knees.length === results.length && Math.max(...knees) - Math.min(...knees) <= ONE_PLACE ? numberText(knees[0]!, 0) : undefined;
  if (difference.v > threshold.v)
    return words(
      subject,
      phrase('Follows the metadata: up to {stops} stops apart by the mastering peak', { stops: numberText(difference.v, 2) }),
    );
  return words(
    subject,
    knee === undefined
      ? phrase('The same curve whatever the mastering peak')
      : phrase('The same roll-off from {level} % whatever the mastering peak', { level: knee }),
  );
}

/** `Follows PQ within ±0.1 stop up to its knee at 477 cd/m²`. */
function answerOf(line: Drawn, room: number): Phrase {
  const { result } = line;
  const curve = curveName(trackedOf(result).judged.target.curve);
  const knee = result.value('knee');
  const deviations = deviationsOf(line);
  const stretch = stretchOf(deviations, room);
  const end = endOf(knee);
  if (deviations.length === 0) return phrase('No level to hold against {curve}, {end}', { curve, end });
  const open = isOpen(stretch, deviations, room);
  if (!stretch) {
    const args = { curve, room, end };
    return open
      ? phrase('Follows {curve} within ±{room} stops as read, undecided; {end}', args)
      : phrase('Follows {curve} within ±{room} stops, {end}', args);
  }
  const v = stretch.alike ?? stretch.worst.v;
  const where = asRead(whereOf(stretch), open);
  const args = { curve, size: numberText(Math.abs(v), 2), where, end };
  return v > 0
    ? phrase('Up to {size} stops above {curve} {where}, {end}', args)
    : phrase('Up to {size} stops below {curve} {where}, {end}', args);
}

/** That the display rolls off nowhere is found; without its mid-tones nothing is. */
function endOf(knee: Value): Phrase {
  if (knee.ok) return phrase('knee at {luminance} cd/m²', { luminance: numberText(knee.v, 0) });
  return knee.why.code === 'no-roll-off' ? phrase('no roll-off') : phrase('knee not computed');
}
