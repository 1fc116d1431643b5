import type { RunResult } from '../measure/result';
import { without } from '../measure/value';
import { numberText } from '../report/format';
import { type Phrase, phrase } from '../text/message';
import type { Dash, Figure, Panel, Series } from './figure';
import { signedText } from './scale';
import { type Stretch, stretchOf, whereOf } from './stretch';
import {
  againstOf,
  type Builder,
  deviationsOf,
  domainOf,
  levelsOf,
  plotted,
  roomMarks,
  roomSize,
  roomsOf,
  runCell,
  runHead,
  runLabel,
  type Subject,
  titleOf,
  words,
} from './subject';

/** Rows below are shown, and not judged: as the measure has it. */
const JUDGED_FROM = 20;

interface Channel {
  readonly id: 'balance.r' | 'balance.g' | 'balance.b';
  readonly ink: 'red' | 'green' | 'blue';
  readonly dash: Dash;
  readonly name: Phrase;
}

const CHANNELS: readonly Channel[] = [
  { id: 'balance.r', ink: 'red', dash: 'long', name: phrase('Red') },
  { id: 'balance.g', ink: 'green', dash: 'solid', name: phrase('Green') },
  { id: 'balance.b', ink: 'blue', dash: 'dot', name: phrase('Blue') },
];

/** Whether the greys are neutral, level by level: how far each channel is from neutral. */
export const balance: Builder = {
  id: 'balance',
  kinds: ['greyscale'],
  build(subject) {
    const { results } = subject;
    const levels = results.map(levelsOf);
    const found = results.map((result, r) => channelSeries(subject, result, levels[r]!));
    if (found.every((series) => series.every(({ points }) => points.length === 0))) return without('no-colour');
    const rooms = roomsOf(subject, results[0]!, 'balance');
    const domain = domainOf(found.flat(), rooms);
    const panels = results.map(
      (result, r): Panel => ({
        id: result.run.id,
        ...(results.length > 1 && { title: runLabel(subject, result) }),
        x: { title: words(subject, phrase('level, %')), scale: 'linear', domain: [0, 100] },
        y: { title: words(subject, phrase('% from neutral')), scale: 'linear', domain, signed: true },
        marks: [...roomMarks(subject, rooms, '%', [JUDGED_FROM, 100]), { is: 'rule', along: 'y', at: 0, role: 'zero' }, ...found[r]!],
      }),
    );
    const answers = found.map((series) => answerOf(series, roomSize(rooms) ?? 2));
    return {
      id: 'balance',
      runs: results.map(({ run }) => run.id),
      title: titleOf(subject, answers),
      against: againstOf(subject),
      summary: results.map((result, r) => summaryOf(subject, result, found[r]!)).join(' '),
      notes: [],
      panels,
      flow: 'row',
      table: {
        head: [...runHead(subject), words(subject, phrase('level, %')), ...CHANNELS.map(({ name }) => words(subject, name))],
        rows: found.flatMap((series, r) => tableRows(series, runCell(subject, results[r]!))),
      },
    };
  },
};

function channelSeries(subject: Subject, result: RunResult, { patches, level, written }: ReturnType<typeof levelsOf>): readonly Series[] {
  return CHANNELS.map(({ id, ink, dash, name }) => {
    const channel = words(subject, name);
    const series = `${result.run.id}/${ink}`;
    return {
      is: 'series',
      id: series,
      ink,
      dash,
      label: channel,
      labelled: 'end',
      joined: true,
      shape: 'dot',
      ...plotted(subject, {
        result,
        id,
        series,
        patches,
        x: level,
        y: (v) => v - 100,
        name: (i, { v }, verdict) => `${written(i)} %: ${channel} ${signedText(v - 100, 1)} % ${verdict}`.trimEnd(),
        faint: (i) => level(i) < JUDGED_FROM,
      }),
    };
  });
}

/** `Blue 4 % high from 70 % up`: the channel that is farthest off, and where. */
function answerOf(series: readonly Series[], room: number): Phrase {
  let found: { readonly stretch: Stretch; readonly name: Phrase } | undefined;
  series.forEach((one, channel) => {
    const stretch = stretchOf(deviationsOf(one), room);
    if (stretch && !(found && Math.abs(found.stretch.worst.v) >= Math.abs(stretch.worst.v)))
      found = { stretch, name: CHANNELS[channel]!.name };
  });
  if (!found) return phrase('Neutral within ±{room} % from {level} % up', { room, level: JUDGED_FROM });
  const { stretch, name } = found;
  const size = numberText(Math.abs(stretch.alike ?? stretch.worst.v), 0);
  const args = { channel: name, size, where: whereOf(stretch) };
  const isHigh = stretch.worst.v > 0;
  if (stretch.alike !== undefined)
    return isHigh ? phrase('{channel} {size} % high {where}', args) : phrase('{channel} {size} % low {where}', args);
  return isHigh ? phrase('{channel} up to {size} % high {where}', args) : phrase('{channel} up to {size} % low {where}', args);
}

function summaryOf(subject: Subject, result: RunResult, series: readonly Series[]): string {
  const parts = series.map(({ points, label }) => {
    const ys = points.filter(({ faint }) => !faint).map(({ y }) => y);
    return phrase('{channel} from {low} to {high} %', {
      channel: label!,
      low: signedText(Math.min(...ys), 1),
      high: signedText(Math.max(...ys), 1),
    });
  });
  return words(
    subject,
    phrase('{run}: deviation of the channels from neutral from {level} % up: {parts}.', {
      run: runLabel(subject, result),
      level: JUDGED_FROM,
      parts,
    }),
  );
}

function tableRows(series: readonly Series[], before: readonly string[]): Figure['table']['rows'] {
  const [first, ...others] = series;
  return first!.points.map(({ key, row, run, y }, i) => ({
    run,
    ...(row !== undefined && { row }),
    cells: [...before, key[0]!, signedText(y, 1), ...others.map(({ points }) => (points[i] ? signedText(points[i].y, 1) : ''))],
  }));
}
