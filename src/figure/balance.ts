import type { RunResult } from '../measure/result';
import { without } from '../measure/value';
import { numberText } from '../report/format';
import { type Phrase, phrase } from '../text/message';
import type { Dash, Panel, Series } from './figure';
import { roomMarks, roomSize, roomsOf } from './rooms';
import { type Drawn, deviationsOf, domainOf, drawn, levelsOf, levelText, tableRows } from './rows';
import { signedText } from './scale';
import { asRead, type Deviation, isOpen, largestOf, type Stretch, stretchOf, whereOf } from './stretch';
import { struckOf } from './struck';
import { againstOf, type Builder, runHead, runLabel, type Subject, titleOf, words } from './subject';

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
    const found = results.map((result, r) => channels(subject, result, levels[r]!));
    if (found.every((lines) => lines.every(({ all }) => all.length === 0))) return without('no-colour');
    const rooms = roomsOf(subject, results[0]!, 'balance');
    const domain = domainOf(found.flat(), rooms);
    const panels = results.map(
      (result, r): Panel => ({
        id: result.run.id,
        ...(results.length > 1 && { title: runLabel(subject, result) }),
        x: { title: words(subject, phrase('level, %')), scale: 'linear', domain: [0, 100] },
        y: { title: words(subject, phrase('% from neutral')), scale: 'linear', domain, signed: true },
        marks: [
          ...roomMarks(subject, rooms, '%', [JUDGED_FROM, 100]),
          { is: 'rule', along: 'y', at: 0, role: 'zero' },
          ...found[r]!.map(({ series }) => series),
          ...struckIn(subject, result, found[r]!),
        ],
      }),
    );
    const answers = found.map((lines) => answerOf(lines, roomSize(rooms) ?? 2));
    return {
      id: 'balance',
      runs: results.map(({ run }) => run.id),
      title: titleOf(subject, answers, {
        what: phrase('Largest balance error'),
        of: found.map(farthest),
        text: (v) => `${numberText(v, 1)} %`,
      }),
      against: againstOf(subject),
      summary: results.map((result, r) => summaryOf(subject, result, found[r]!, answers[r]!)).join(' '),
      notes: [],
      panels,
      flow: 'row',
      table: {
        head: [...runHead(subject), words(subject, phrase('level, %')), ...CHANNELS.map(({ name }) => words(subject, name))],
        rows: found.flatMap(([first, ...others]) =>
          tableRows(subject, [first!], ({ patch, x, y }) => [
            levelText(x),
            signedText(y, 1),
            ...others.map(({ result }, k) => signedText(result.rows(CHANNELS[k + 1]!.id)![patch]! - 100, 1)),
          ]),
        ),
      },
    };
  },
};

function channels(subject: Subject, result: RunResult, { patches, level, written, struck }: ReturnType<typeof levelsOf>): readonly Drawn[] {
  return CHANNELS.map(({ id, ink, dash, name }) => {
    const channel = words(subject, name);
    return drawn(
      subject,
      { ink, dash, label: channel, labelled: 'end', joined: true, shape: 'dot' },
      {
        result,
        id,
        series: `${result.run.id}/${ink}`,
        patches,
        x: level,
        struck,
        y: (v) => v - 100,
        name: (i, { v }, verdict) => `${written(i)} %: ${channel} ${signedText(v - 100, 1)} % ${verdict}`.trimEnd(),
        faint: (i) => level(i) < JUDGED_FROM,
      },
    );
  });
}

/** The channels of rows that are struck out. */
const struckIn = (subject: Subject, result: RunResult, lines: readonly Drawn[]): Series[] =>
  lines.flatMap(({ series }, k) => struckOf(subject, result, series, (other) => channels(subject, other, levelsOf(other))[k]!.series));

const farthest = (lines: readonly Drawn[]): number => largestOf(lines.flatMap(deviationsOf));

/** A channel, and where it is off. */
interface Off {
  readonly stretch: Stretch;
  readonly name: Phrase;
}

/** `Blue 4 % high from 70 % up`: the channel that is farthest off, and where. */
function answerOf(lines: readonly Drawn[], room: number): Phrase {
  if (lines.every((line) => deviationsOf(line).length === 0))
    return phrase('Balance is judged from {level} % up: no colour was read there', { level: JUDGED_FROM });
  let found: Off | undefined;
  lines.forEach((line, channel) => {
    const stretch = stretchOf(deviationsOf(line), room);
    if (stretch && !(found && Math.abs(found.stretch.worst.v) >= Math.abs(stretch.worst.v)))
      found = { stretch, name: CHANNELS[channel]!.name };
  });
  const open = isOpen(found?.stretch, lines.flatMap(deviationsOf), room);
  return asRead(found ? offText(found) : neutralText(deviationsOf(lines[0]!), room), open);
}

function neutralText(levels: readonly Deviation[], room: number): Phrase {
  const args = { room, level: levels[0]!.at };
  return levels.length === 1
    ? phrase('Neutral within ±{room} % at {level} %', args)
    : phrase('Neutral within ±{room} % from {level} % up', args);
}

function offText({ stretch, name }: Off): Phrase {
  const size = numberText(Math.abs(stretch.alike ?? stretch.worst.v), 0);
  const args = { channel: name, size, where: whereOf(stretch) };
  const isHigh = stretch.worst.v > 0;
  if (stretch.alike !== undefined)
    return isHigh ? phrase('{channel} {size} % high {where}', args) : phrase('{channel} {size} % low {where}', args);
  return isHigh ? phrase('{channel} up to {size} % high {where}', args) : phrase('{channel} up to {size} % low {where}', args);
}

function summaryOf(subject: Subject, result: RunResult, lines: readonly Drawn[], answer: Phrase): string {
  const parts = lines.flatMap((line) => {
    const vs = deviationsOf(line).map(({ v }) => v);
    if (vs.length === 0) return [];
    return phrase('{channel} from {low} to {high} %', {
      channel: line.series.label!,
      low: signedText(Math.min(...vs), 1),
      high: signedText(Math.max(...vs), 1),
    });
  });
  if (parts.length === 0) return `${runLabel(subject, result)}: ${words(subject, answer)}.`;
  return words(
    subject,
    phrase('{run}: deviation of the channels from neutral from {level} % up: {parts}.', {
      run: runLabel(subject, result),
      level: JUDGED_FROM,
      parts,
    }),
  );
}
