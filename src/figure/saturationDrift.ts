import type { Coloured } from '../measure/colours';
import type { RunResult } from '../measure/result';
import { curveName, isHdr } from '../measure/target';
import { without } from '../measure/value';
import { numberText } from '../report/format';
import { type Arg, type Phrase, phrase } from '../text/message';
import type { Ink, Mark, Panel, Series } from './figure';
import { drawn } from './rows';
import { padded, signedText } from './scale';
import { againstOf, type Builder, runCell, runHead, runLabel, type Subject, titleOf, words } from './subject';

interface Part {
  readonly id: 'delta.c' | 'delta.h';
  readonly name: string;
  readonly ink: Ink;
  readonly dash: Series['dash'];
}

const CHROMA: Part = { id: 'delta.c', name: 'ΔC*', ink: 'text', dash: 'solid' };
const HUE: Part = { id: 'delta.h', name: 'ΔH*', ink: 'a', dash: 'long' };

/** How saturation and hue drift on the way from white to each full-drive hue: a small panel a hue. */
export const saturationDrift: Builder = {
  id: 'drift',
  kinds: ['saturation'],
  runs: [1, 2],
  build(subject) {
    const { results } = subject;
    const { curve } = (results[0]!.context as Coloured).judged.target;
    if (isHdr(curve)) return without('wrong-curve', { expected: 'SDR', found: curveName(curve) });
    const names = [...new Set(results.flatMap((result) => rowsOf(result).map(({ hue }) => hue)))];
    const series = names.map((hue) => results.flatMap((result) => [CHROMA, HUE].map((part) => lineOf(subject, result, hue, part))));
    const all = series.flat().flatMap(({ points }) => points);
    if (all.length === 0) return without('no-colour');
    const domain = padded(Math.min(-1, ...all.map(({ y }) => y)), Math.max(1, ...all.map(({ y }) => y)), 0.1);
    const panels = names.map(
      (hue, i): Panel => ({
        id: hue,
        title: hue,
        x: { title: words(subject, phrase('saturation, %')), scale: 'linear', domain: [0, 100] },
        y: { title: words(subject, phrase('from target')), scale: 'linear', domain, signed: true },
        marks: [
          { is: 'rule', along: 'y', at: 0, role: 'zero' },
          ...series[i]!.filter(({ points }) => points.length > 0).map((one): Mark => one),
        ],
      }),
    );
    return {
      id: 'drift',
      runs: results.map(({ run }) => run.id),
      title: titleOf(
        subject,
        results.map((result) => answerOf(result)),
        {
          what: phrase('Largest chroma error'),
          of: results.map((result) => Math.abs(worstOf(result, 'delta.c')?.v ?? 0)),
          text: (v) => `ΔC* ${numberText(v, 1)}`,
          last: hueAnswer(results.at(-1)!),
        },
      ),
      against: againstOf(subject),
      summary: results.map((result) => `${runLabel(subject, result)}: ${words(subject, answerOf(result))}.`).join(' '),
      notes: [
        words(
          subject,
          phrase('ΔC*: above 0 over-saturated. ΔH*: above 0 turned towards the next hue of red, yellow, green, cyan, blue, magenta.'),
        ),
      ],
      panels,
      flow: 'row',
      table: {
        head: [...runHead(subject), words(subject, phrase('hue')), words(subject, phrase('saturation, %')), CHROMA.name, HUE.name],
        rows: results.flatMap((result) =>
          rowsOf(result).map(({ patch, hue, saturation }) => ({
            run: result.run.id,
            cells: [
              ...runCell(subject, result),
              hue,
              String(saturation),
              ...[CHROMA, HUE].map(({ id }) => signedText(result.rows(id)![patch]!, 2)),
            ],
          })),
        ),
      },
    };
  },
};

interface Row {
  readonly patch: number;
  readonly hue: string;
  readonly saturation: number;
}

/** The rows that have a target, in the order of the file. */
function rowsOf(result: RunResult): Row[] {
  const { patches } = result.context!;
  const chroma = result.rows('delta.c')!;
  return Array.from({ length: patches.count }, (_, i) => i)
    .filter((i) => !patches.revisit[i] && Number.isFinite(chroma[i]!) && (result.context as Coloured).counts(i))
    .map((patch) => {
      const [hue, saturation] = result.keyOf(patch);
      return { patch, hue: hue!, saturation: Number(saturation) };
    });
}

function lineOf(subject: Subject, result: RunResult, hue: string, { id, name, ink, dash }: Part): Series {
  const isLast = result === subject.results.at(-1);
  const rows = rowsOf(result).filter((row) => row.hue === hue);
  const saturationOf = new Map(rows.map(({ patch, saturation }) => [patch, saturation]));
  const look = isLast
    ? ({ ink, dash, joined: true, shape: 'dot', label: name, labelled: 'near' } as const)
    : ({ ink: 'muted', dash, joined: true, shape: 'hollow' } as const);
  return drawn(subject, look, {
    result,
    id,
    series: `${result.run.id}/${id}/${hue}`,
    patches: rows.sort((p, q) => p.saturation - q.saturation).map(({ patch }) => patch),
    x: (patch) => saturationOf.get(patch)!,
    name: (patch, { v }) => `${result.keyOf(patch).join(' ')}: ${name} ${signedText(v, 2)}`,
    faint: () => !isLast,
  }).series;
}

/** `Over-saturated by up to ΔC* 5.2 (blue 50 %), hue off by up to ΔH* 2.3 (magenta 75 %)`. */
function answerOf(result: RunResult): Phrase {
  const chroma = worstOf(result, 'delta.c');
  if (!chroma) return phrase('No colours');
  const size = numberText(Math.abs(chroma.v), 1);
  if (Number(size) === 0) return phrase('Saturation within ΔC* 0.1, {turned}', { turned: hueAnswer(result) });
  const args = { size, where: whereOf(chroma), turned: hueAnswer(result) };
  return chroma.v > 0
    ? phrase('Over-saturated by up to ΔC* {size} ({where}), {turned}', args)
    : phrase('Under-saturated by up to ΔC* {size} ({where}), {turned}', args);
}

function hueAnswer(result: RunResult): Phrase {
  const hue = worstOf(result, 'delta.h');
  if (!hue) return phrase('No colours');
  const turn = numberText(Math.abs(hue.v), 1);
  return Number(turn) === 0 ? phrase('hue within ΔH* 0.1') : phrase('hue off by up to ΔH* {turn} ({where})', { turn, where: whereOf(hue) });
}

const whereOf = ({ hue, saturation }: Row): Arg => phrase('{hue} {saturation} %', { hue, saturation });

/** The row that is farthest off, signed. */
const worstOf = (result: RunResult, id: Part['id']) =>
  rowsOf(result).reduce<(Row & { readonly v: number }) | undefined>((most, row) => {
    const v = result.rows(id)![row.patch]!;
    return most && Math.abs(most.v) >= Math.abs(v) ? most : { ...row, v };
  }, undefined);
