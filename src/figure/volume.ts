import { hull } from '../colour/gamut';
import { xyzToIctcp } from '../colour/ictcp';
import { xyzToLab } from '../colour/lab';
import type { Vec3, Xy } from '../colour/vector';
import type { RunResult } from '../measure/result';
import { colourXyz, isHdr, lightOf, whiteXyz } from '../measure/target';
import { without } from '../measure/value';
import type { Solid } from '../measure/volume';
import { numberText } from '../report/format';
import { type Phrase, phrase } from '../text/message';
import type { Mark, Point, Series } from './figure';
import { padded } from './scale';
import { againstOf, type Builder, inkOf, rowsOfBlock, runCell, runHead, runLabel, type Subject, titleOf, words } from './subject';

/** The solid of colours that a display shows, seen from above, over that of its target. */
export const volume: Builder = {
  id: 'volume',
  kinds: ['volume'],
  build(subject) {
    const { results } = subject;
    const first = solidOf(results[0]!);
    const isAbsolute = isHdr(first.judged!.target.curve);
    const seen = results.map((result) => shadows(result, isAbsolute));
    const series = results.map((result, r) => seriesOf(subject, result, r, seen[r]!.own));
    const hulls = results.flatMap((result, r): Mark[] => {
      const corners = hull(seen[r]!.own.flatMap((place) => (place ? [place] : [])));
      return corners
        ? [
            {
              is: 'outline',
              id: `${result.run.id}/hull`,
              role: r === results.length - 1 ? 'hull' : 'reference',
              closed: true,
              points: corners,
              ...(results.length > 1 && { label: runLabel(subject, result) }),
            },
          ]
        : [];
    });
    const target = hull(seen[0]!.target);
    if (hulls.length === 0 || !target) return without('no-colour');
    const all = [...target, ...series.flatMap(({ points }) => points.map(({ x, y }): Xy => [x, y]))];
    const along = (k: 0 | 1) => padded(Math.min(...all.map((p) => p[k])), Math.max(...all.map((p) => p[k])), 0.08);
    const axes = isAbsolute ? (['Ct', 'Cp'] as const) : (['a*', 'b*'] as const);
    return {
      id: 'volume',
      runs: results.map(({ run }) => run.id),
      title: titleOf(subject, results.map(answerOf)),
      against: againstOf(subject),
      summary: results.map((result) => `${runLabel(subject, result)}: ${words(subject, answerOf(result))}.`).join(' '),
      notes: [words(subject, phrase('Seen along lightness: how far colours reach to all sides. The share is of the volume.'))],
      panels: [
        {
          id: 'above',
          x: { title: axes[0], scale: 'linear', domain: along(0) },
          y: { title: axes[1], scale: 'linear', domain: along(1) },
          equal: 'fill',
          marks: [
            { is: 'outline', id: 'target', role: 'reference', closed: true, points: target, label: words(subject, phrase('target')) },
            ...hulls,
            ...series,
          ],
        },
      ],
      flow: 'column',
      table: {
        head: [...runHead(subject), words(subject, phrase('patch')), ...axes],
        rows: series.flatMap(({ points }, r) =>
          points.map(({ run, row, key, x, y }) => ({
            run,
            ...(row !== undefined && { row }),
            cells: [...runCell(subject, results[r]!), key.join(' '), numberText(x, 1), numberText(y, 1)],
          })),
        ),
      },
    };
  },
};

const solidOf = ({ context }: RunResult): Solid => context as Solid;

/** Scaled as ΔE ITP counts them (ITU-R BT.2124), so that both axes are alike: 720 times, and Ct by half. */
const ITP = { ct: 360, cp: 720 };

/** Where the colours of a run and of its target lie, seen along lightness. */
function shadows(result: RunResult, isAbsolute: boolean): { readonly own: readonly (Xy | undefined)[]; readonly target: readonly Xy[] } {
  const { xyz, drives, judged, patches } = solidOf(result);
  const { target, scale } = judged!;
  const light = lightOf(target, scale, patches.count);
  const white = whiteXyz(target, scale.Lw);
  const shadow = (of: Vec3): Xy => {
    if (!isAbsolute) {
      const [, a, b] = xyzToLab(of, white);
      return [a, b];
    }
    const [, ct, cp] = xyzToIctcp(of);
    return [ITP.ct * ct, ITP.cp * cp];
  };
  return {
    own: xyz.map((of) => (of.every(Number.isFinite) ? shadow(of) : undefined)),
    target: drives.map((drive) => shadow(colourXyz(target, drive, scale, light))),
  };
}

function seriesOf(subject: Subject, result: RunResult, r: number, places: readonly (Xy | undefined)[]): Series {
  const { patches } = solidOf(result);
  const nodeOf = rowsOfBlock(subject, result);
  const id = `${result.run.id}/volume`;
  const counting = Array.from({ length: patches.count }, (_, i) => i).filter((i) => !patches.revisit[i]);
  const points = counting.flatMap((i, k): Point[] => {
    const place = places[k];
    const key = result.keyOf(i);
    return place
      ? [{ id: `${id}/${key.join(',')}`, x: place[0], y: place[1], row: nodeOf(i), run: result.run.id, key, name: key.join(' ') }]
      : [];
  });
  return { is: 'series', id, ...inkOf(subject, r), joined: false, shape: r === subject.results.length - 1 ? 'dot' : 'hollow', points };
}

/** `92.1 % of the target's volume in CIELAB, 88.0 % in ICtCp`. */
function answerOf(result: RunResult): Phrase {
  const [lab, ictcp] = [result.value('lab'), result.value('ictcp')];
  const args = { lab: lab.ok ? numberText(lab.v, 1) : '', ictcp: ictcp.ok ? numberText(ictcp.v, 1) : '' };
  if (lab.ok && ictcp.ok) return phrase("{lab} % of the target's volume in CIELAB, {ictcp} % in ICtCp", args);
  if (ictcp.ok) return phrase("{ictcp} % of the target's volume in ICtCp", args);
  return lab.ok ? phrase("{lab} % of the target's volume in CIELAB", args) : phrase('Colours seen along lightness');
}
