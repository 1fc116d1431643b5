import type { Grey } from '../measure/greyscale';
import type { RunResult } from '../measure/result';
import { curveName, isHdr } from '../measure/target';
import { without } from '../measure/value';
import { numberText } from '../report/format';
import { type Arg, type Phrase, phrase } from '../text/message';
import { enveloped, MOST_POINTS } from './envelope';
import type { Outline, Panel, Point, Series } from './figure';
import { roomMarks, roomSize, roomsOf } from './rooms';
import { type Drawn, deviationsOf, domainOf, drawn, gapped, levelsOf, levelText, tableRows } from './rows';
import { signedText } from './scale';
import { asRead, isOpen, largestOf, type Stretch, stretchOf, whereOf } from './stretch';
import { struckOf } from './struck';
import { againstOf, type Builder, inkOf, rowsOfBlock, runHead, runLabel, runLook, type Subject, titleOf, words } from './subject';

/** Rows below are shown, and not judged: as the measure has it. */
const JUDGED_FROM = 10;

interface Unit {
  readonly id: 'curve' | 'curve.stops';
  readonly limits: 'curve.worst' | 'curve.worst.stops';
  readonly unit: '%' | 'stops';
  readonly decimals: number;
  /** What is near enough where no limit says so. */
  readonly room: number;
}

const PERCENT: Unit = { id: 'curve', limits: 'curve.worst', unit: '%', decimals: 1, room: 5 };
const STOPS: Unit = { id: 'curve.stops', limits: 'curve.worst.stops', unit: 'stops', decimals: 2, room: 0.1 };

const unitOf = ({ unit }: Unit): Arg => (unit === '%' ? unit : phrase('stops'));

/** Whether luminance follows its curve: its deviation from the target, not two almost equal curves. */
export const curve: Builder = {
  id: 'curve',
  kinds: ['greyscale'],
  build(subject) {
    const { results } = subject;
    const unit = isHdr(greyOf(results[0]!).judged.target.curve) ? STOPS : PERCENT;
    const lines = results.map((result) => lineOf(subject, result, unit));
    if (lines.every(({ all }) => all.length === 0)) return without('no-rows');
    const rooms = roomsOf(subject, results[0]!, unit.limits);
    const room = roomSize(rooms) ?? unit.room;
    const panel: Panel = {
      id: 'deviation',
      x: { title: words(subject, phrase('level, %')), scale: 'linear', domain: [0, 100] },
      y: {
        title: words(subject, unit === PERCENT ? phrase('luminance, % from target') : phrase('luminance, stops from target')),
        scale: 'linear',
        domain: domainOf(lines, rooms),
        signed: true,
      },
      marks: [
        ...roomMarks(subject, rooms, words(subject, unitOf(unit)), [JUDGED_FROM, 100]),
        { is: 'rule', along: 'y', at: 0, role: 'zero' },
        ...lines.map(({ series }) => series),
        ...lines.flatMap(({ result, series }) => struckOf(subject, result, series, (other) => lineOf(subject, other, unit).series)),
      ],
      aside: rawCurve(subject),
    };
    return {
      id: 'curve',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        lines.map((line) => answerOf(line, unit, room)),
        {
          what: phrase('Largest luminance error'),
          of: lines.map((line) => largestOf(deviationsOf(line))),
          text: (v) => `${numberText(v, unit.decimals)} ${words(subject, unitOf(unit))}`,
        },
      ),
      against: againstOf(subject),
      summary: results.map((result, r) => summaryOf(subject, result, lines[r]!, unit)).join(' '),
      notes: exponents(subject),
      panels: [panel],
      flow: 'column',
      table: {
        head: [
          ...runHead(subject),
          words(subject, phrase('level, %')),
          words(subject, phrase('luminance, cd/m²')),
          words(subject, phrase('target, cd/m²')),
          panel.y.title,
        ],
        rows: tableRows(subject, lines, ({ patch, x, y }, result) => [
          levelText(x),
          greyOf(result).patches.Y[patch]!.toPrecision(4),
          result.rows('target')![patch]!.toPrecision(4),
          signedText(y, unit.decimals),
        ]),
      },
    };
  },
};

function lineOf(subject: Subject, result: RunResult, unit: Unit): Drawn {
  const { patches, level, written, struck } = levelsOf(result);
  return drawn(subject, runLook(subject, result), {
    result,
    id: unit.id,
    series: `${result.run.id}/curve`,
    patches,
    x: level,
    struck,
    name: (i, { v }, verdict) => `${written(i)} %: ${signedText(v, unit.decimals)} ${words(subject, unitOf(unit))} ${verdict}`.trimEnd(),
    faint: (i) => level(i) < JUDGED_FROM,
  });
}

const greyOf = ({ context }: RunResult): Grey => context as Grey;

/** `Luminance 7 % high from 40 to 60 %`. */
function answerOf(line: Drawn, unit: Unit, room: number): Phrase {
  const deviations = deviationsOf(line);
  if (deviations.length === 0) return nothingJudged();
  const stretch = stretchOf(deviations, room);
  return asRead(answerAt(stretch, unit, room), isOpen(stretch, deviations, room));
}

const nothingJudged = (): Phrase => phrase('Luminance is judged from {level} % up: it was read at no level there', { level: JUDGED_FROM });

function answerAt(stretch: Stretch | undefined, of: Unit, room: number): Phrase {
  const unit = unitOf(of);
  if (!stretch) return phrase('Luminance within ±{room} {unit} of its curve from {level} % up', { room, unit, level: JUDGED_FROM });
  const v = stretch.alike ?? stretch.worst.v;
  const size = numberText(Math.abs(v), of === PERCENT ? 0 : 2);
  const args = { size: of === PERCENT ? `${size} %` : phrase('{size} stops', { size }), where: whereOf(stretch) };
  if (stretch.alike !== undefined)
    return v > 0 ? phrase('Luminance {size} high {where}', args) : phrase('Luminance {size} low {where}', args);
  return v > 0 ? phrase('Luminance up to {size} high {where}', args) : phrase('Luminance up to {size} low {where}', args);
}

/** The curve itself, in which one sees its shape and no error. */
function rawCurve(subject: Subject): Panel {
  const { results } = subject;
  const outlines: Outline[] = [];
  const series = results.map((result, r): Series => {
    const { patches, level, written, struck } = levelsOf(result);
    const { patches: read } = greyOf(result);
    const nodeOf = rowsOfBlock(subject, result);
    const id = `${result.run.id}/luminance`;
    const points = enveloped(
      patches.filter((i) => read.Y[i]! >= 0),
      (i) => read.Y[i]!,
    ).map((i): Point => {
      const key = result.keyOf(i);
      return {
        id: `${id}/${key[0]}`,
        x: level(i),
        y: read.Y[i]!,
        row: nodeOf(i),
        run: result.run.id,
        key,
        name: `${written(i)} %: ${read.Y[i]!.toPrecision(4)} cd/m²`,
      };
    });
    const missing = patches.length > MOST_POINTS ? [] : [...patches.filter((i) => !(read.Y[i]! >= 0)).map(level), ...struck];
    return {
      is: 'series',
      id,
      ...inkOf(subject, r),
      joined: true,
      shape: missing.length > 0 ? 'dot' : 'none',
      points: gapped(points, missing),
    };
  });
  const first = results[0]!;
  const target = first.rows('target')!;
  const { patches, level } = levelsOf(first);
  outlines.push({
    is: 'outline',
    id: 'target',
    role: 'target',
    closed: false,
    points: enveloped(
      patches.filter((i) => Number.isFinite(target[i]!)),
      (i) => target[i]!,
    ).map((i) => [level(i), target[i]!] as const),
  });
  const most = [
    ...series.flatMap(({ points }) => points.map(({ y }) => y)),
    ...outlines.flatMap(({ points }) => points.map(([, y]) => y)),
  ].reduce((p, y) => Math.max(p, y), 0);
  return {
    id: 'raw',
    x: { title: words(subject, phrase('level, %')), scale: 'linear', domain: [0, 100] },
    y: { title: words(subject, phrase('cd/m²; thin: target')), scale: 'linear', domain: [0, most * 1.04] },
    marks: [...series, ...outlines],
  };
}

function exponents(subject: Subject): string[] {
  return subject.results.flatMap((result) => {
    const [own, from] = [result.value('exponent'), result.value('curve.exponent')];
    if (!own.ok || !from.ok) return [];
    const args = {
      run: runLabel(subject, result),
      own: numberText(own.v, 2),
      aimed: numberText(own.v - from.v, 2),
      curve: curveName(greyOf(result).judged.target.curve),
    };
    return [words(subject, phrase('{run}: exponent {own} from 10 to 90 %, that of the target {aimed} ({curve}).', args))];
  });
}

function summaryOf(subject: Subject, result: RunResult, line: Drawn, unit: Unit): string {
  const ys = deviationsOf(line).map(({ v }) => v);
  if (ys.length === 0) return `${runLabel(subject, result)}: ${words(subject, nothingJudged())}.`;
  return words(
    subject,
    phrase('{run}: luminance from {low} to {high} {unit} of its target from {level} % up.', {
      run: runLabel(subject, result),
      low: signedText(Math.min(...ys), unit.decimals),
      high: signedText(Math.max(...ys), unit.decimals),
      unit: unitOf(unit),
      level: JUDGED_FROM,
    }),
  );
}
