import { uv1960ToXy, xyToUv, xyzToXy } from '../colour/chromaticity';
import { deltaUv } from '../colour/difference';
import { hull, triangleOf } from '../colour/gamut';
import { SPACES, type Space } from '../colour/spaces';
import { locusXy } from '../colour/spectrum';
import { cctDuv, planckianUv } from '../colour/temperature';
import type { Vec3, Xy } from '../colour/vector';
import type { Coloured } from '../measure/colours';
import { isBlackPatch } from '../measure/gamut';
import { HUES, hueChromaticity } from '../measure/hues';
import { Seen } from '../measure/readings';
import type { RunResult } from '../measure/result';
import { type Target, targetOf } from '../measure/target';
import { type Value, without } from '../measure/value';
import { numberText } from '../report/format';
import { type Arg, allOf, counted, type Forms, type Phrase, phrase, worded } from '../text/message';
import { enveloped } from './envelope';
import type { Axis, Figure, Mark, Outline, Panel, Point, Series } from './figure';
import { levelsOf } from './rows';
import { padded } from './scale';
import { againstOf, type Builder, endLabel, inkOf, rowsOfBlock, runCell, runHead, runLabel, type Subject, titleOf, words } from './subject';

/** A diagram of chromaticities. */
interface Plane {
  readonly id: 'uv' | 'xy';
  readonly of: (xy: Xy) => Xy;
  readonly name: string;
  readonly axes: readonly [string, string];
}

const UV: Plane = {
  id: 'uv',
  of: xyToUv,
  name: "u'v'",
  axes: ["u'", "v'"],
};
const XY: Plane = {
  id: 'xy',
  of: (xy) => xy,
  name: 'xy',
  axes: ['x', 'y'],
};

const KINDS = ['greyscale', 'tracking', 'saturation', 'patches', 'gamut'] as const;

/** Where colours lie beside where they should: in u'v', where distances look alike. */
export const chromaticity: Builder = { id: 'chromaticity', kinds: KINDS, build: (subject) => build(subject, UV) };
export const chromaticityXy: Builder = { id: 'chromaticity.xy', kinds: KINDS, variant: true, build: (subject) => build(subject, XY) };

function build(subject: Subject, plane: Plane): Figure | Extract<Value, { ok: false }> {
  const read = subject.results.map(readingsOf);
  if (read.every(({ length }) => length === 0)) return without('no-colour');
  switch (subject.results[0]!.run.kind) {
    case 'greyscale':
    case 'tracking':
      return ofGreys(subject, plane, read);
    case 'gamut':
      return ofGamut(subject, plane, read);
    default:
      return ofColours(subject, plane, read);
  }
}

/** A reading that has a chromaticity, and the one that it should have. */
interface Reading {
  readonly patch: number;
  readonly key: readonly string[];
  readonly name: string;
  /** Of a grey, per cent as a title names it. */
  readonly level?: string;
  readonly xy: Xy;
  readonly target?: Xy | undefined;
  /** Takes part in what is said of the run. */
  readonly counts: boolean;
}

function readingsOf(result: RunResult): Reading[] {
  const { patches } = result.context!;
  const isGrey = result.run.kind === 'greyscale' || result.run.kind === 'tracking';
  const levels = isGrey ? levelsOf(result) : undefined;
  const order = levels ? levels.patches : Array.from({ length: patches.count }, (_, i) => i).filter((i) => !patches.revisit[i]);
  const target = targetOfRun(result);
  return order.flatMap((patch): Reading[] => {
    const xyz: Vec3 = [patches.X[patch]!, patches.Y[patch]!, patches.Z[patch]!];
    if (patches.seen[patch] !== Seen.Measured || !Number.isFinite(xyz[0] + xyz[2])) return [];
    const xy = xyzToXy(xyz);
    if (!Number.isFinite(xy[0])) return [];
    const key = result.keyOf(patch);
    const aim = target && targetXy(result, target, patch, key);
    if (!levels) return [{ patch, key, name: key.join(' '), xy, target: aim, counts: true }];
    const level = levels.written(patch);
    return [{ patch, key, name: `${level} %`, level, xy, target: aim, counts: levels.level(patch) >= 20 }];
  });
}

const targetOfRun = ({ run, context }: RunResult): Target | undefined => {
  const found = targetOf(context!.session, run.target);
  return 'ok' in found ? undefined : found;
};

/** The chromaticity that a patch should have; undefined where it has no target, or is black. */
function targetXy({ run, context }: RunResult, target: Target, patch: number, key: readonly string[]): Xy | undefined {
  if (run.kind === 'greyscale' || run.kind === 'tracking') return target.white;
  if (run.kind === 'gamut') return key[0] === 'white' ? target.white : hueChromaticity(target, key[0]!);
  const { targetX, targetY, targetZ } = context as Coloured;
  const xy = xyzToXy([targetX[patch]!, targetY[patch]!, targetZ[patch]!]);
  return Number.isFinite(xy[0]) ? xy : undefined;
}

/** Those that are drawn: of very many the nearest to their targets and the farthest. */
const shown = (readings: readonly Reading[]): readonly Reading[] =>
  enveloped(readings, ({ xy, target }) => (target ? deltaUv(xy, target) : 0));

/** Points of a run in a plane. */
function pointsOf(subject: Subject, result: RunResult, readings: readonly Reading[], plane: Plane, series: string): Point[] {
  const nodeOf = rowsOfBlock(subject, result);
  return readings.map(({ patch, key, name, xy, target, counts }): Point => {
    const [x, y] = plane.of(xy);
    const away = target ? `, Δu'v' ${numberText(deltaUv(xy, target), 4)}` : '';
    const where = `${plane.axes[0]} ${numberText(x, 4)}, ${plane.axes[1]} ${numberText(y, 4)}${away}`;
    return {
      id: `${series}/${key.join(',')}`,
      x,
      y,
      row: nodeOf(patch),
      run: result.run.id,
      key,
      name: `${name}: ${where}`,
      ...(!counts && { faint: true }),
    };
  });
}

type Domains = readonly [x: readonly [number, number], y: readonly [number, number]];

function axesOf({ axes }: Plane, domains: Domains, equal: 'fit' | 'fill'): Pick<Panel, 'x' | 'y' | 'equal'> {
  const [x, y] = [0, 1].map((k): Axis => ({ title: axes[k]!, scale: 'linear', domain: domains[k]! })) as [Axis, Axis];
  return { x, y, equal };
}

/** A square about a middle that holds some places. */
function around(middle: Xy, places: readonly Xy[], least: number): Domains {
  const all = [middle, ...places];
  const centre = [0, 1].map((k) => (Math.min(...all.map((p) => p[k]!)) + Math.max(...all.map((p) => p[k]!))) / 2) as [number, number];
  const half = Math.max(
    least,
    0.62 * Math.max(...[0, 1].map((k) => Math.max(...all.map((p) => p[k]!)) - Math.min(...all.map((p) => p[k]!)))),
  );
  return [
    [centre[0] - half, centre[0] + half],
    [centre[1] - half, centre[1] + half],
  ];
}

/** The part of the diagram that holds some places. */
function holding(places: readonly Xy[]): Domains {
  const along = (k: 0 | 1) => padded(Math.min(...places.map((p) => p[k])), Math.max(...places.map((p) => p[k])), 0.1);
  return [along(0), along(1)];
}

const cross = (id: string, run: string, [x, y]: Xy, name: string, label?: string): Point => ({
  id: `${run}/target/${id}`,
  x,
  y,
  run,
  key: [],
  name,
  ...(label !== undefined && { label }),
});

const targets = (run: string, points: readonly Point[]): Series => ({
  is: 'series',
  id: `${run}/target`,
  ink: 'muted',
  dash: 'solid',
  joined: false,
  shape: 'cross',
  points,
});

/** Whites of all temperatures. */
function planckian(subject: Subject, plane: Plane): Outline {
  const points: Xy[] = [];
  for (let mired = 60; mired <= 250; mired += 5) {
    points.push(plane.of(uv1960ToXy(planckianUv(1e6 / mired))));
  }
  return { is: 'outline', id: 'planckian', role: 'locus', points, closed: false, label: words(subject, phrase('Planckian locus')) };
}

const whiteName = (subject: Subject, target: Target): string => worded(target.whiteName as Arg, subject.say);

function ofGreys(subject: Subject, plane: Plane, read: readonly (readonly Reading[])[]): Figure {
  const { results } = subject;
  const target = targetOfRun(results[0]!);
  const series = results.map((result, r): Series => {
    const id = `${result.run.id}/chromaticity`;
    const list = shown(read[r]!);
    const points = pointsOf(subject, result, list, plane, id);
    const named = [0, points.length - 1];
    return {
      is: 'series',
      id,
      ...inkOf(subject, r),
      ...(results.length > 1 && { label: endLabel(subject, result), labelled: 'near' }),
      joined: true,
      trail: true,
      shape: results.length === 2 && r === 0 ? 'hollow' : 'dot',
      points: results.length > 1 ? points : points.map((point, i) => (named.includes(i) ? { ...point, label: list[i]!.name } : point)),
    };
  });
  const judged = series.flatMap(({ points }) => points.filter(({ faint }) => !faint));
  const all = judged.length > 0 ? judged : series.flatMap(({ points }) => points);
  const middle = target ? plane.of(target.white) : ([all[0]!.x, all[0]!.y] as Xy);
  const marks: Mark[] = [
    planckian(subject, plane),
    ...series,
    ...(target ? [targets('white', [cross('white', 'white', middle, whiteName(subject, target), whiteName(subject, target))])] : []),
  ];
  return {
    ...figureOf(subject, plane, read, series),
    title: titleOf(
      subject,
      read.map((list) => whiteAnswer(subject, list, target)),
    ),
    panels: [
      {
        id: 'white',
        ...axesOf(
          plane,
          around(
            middle,
            all.map(({ x, y }): Xy => [x, y]),
            0.004,
          ),
          'fill',
        ),
        marks,
      },
    ],
  };
}

/** `White 7120 K, 0.0031 from D65 in u'v'`. */
function whiteAnswer(subject: Subject, readings: readonly Reading[], target: Target | undefined): Phrase {
  const white = readings.at(-1);
  if (!white) return phrase('No colours');
  const temperature = cctDuv(white.xy);
  const cct = 'cct' in temperature ? phrase('{kelvin} K', { kelvin: numberText(temperature.cct, 0) }) : '';
  const args = { name: white.level === '100' ? phrase('White') : phrase('{level} % grey', { level: white.level! }), cct };
  if (!target) return phrase('{name} {cct}', args);
  return phrase("{name} {cct}, {distance} from {white} in u'v'", {
    ...args,
    distance: numberText(deltaUv(white.xy, target.white), 4),
    white: whiteName(subject, target),
  });
}

/** The spectrum locus with the purple line, every 5 nm. */
function locus(plane: Plane): Outline {
  const points: Xy[] = [];
  for (let nm = 380; nm <= 700; nm += 5) points.push(plane.of(locusXy(nm)!));
  return { is: 'outline', id: 'locus', role: 'locus', points, closed: true };
}

const triangle = (plane: Plane, label: string, { primaries }: Pick<Space, 'primaries'>): Outline => ({
  is: 'outline',
  id: label,
  role: 'reference',
  points: triangleOf(primaries).map(plane.of),
  closed: true,
  label,
});

/** Factors by which error vectors are drawn longer. */
const FACTORS = [20, 10, 5, 2] as const;
/** As long as the longest vector may become, in u'v' or x, y. */
const LONGEST = 0.06;
/** So many of the farthest are labelled. */
const LABELLED = 3;

function ofColours(subject: Subject, plane: Plane, read: readonly (readonly Reading[])[]): Figure {
  const { results } = subject;
  const target = targetOfRun(results[0]!);
  const errors = read.flatMap((list) => list.flatMap(({ xy, target: aim }) => (aim ? [distance(plane.of(xy), plane.of(aim))] : [])));
  const longest = errors.reduce((p, q) => Math.max(p, q), 0);
  const factor = FACTORS.find((f) => f * longest <= LONGEST) ?? 1;
  const series = results.map((result, r): Series => {
    const id = `${result.run.id}/chromaticity`;
    const isLast = r === results.length - 1;
    const list = shown(read[r]!);
    const worst = [...list]
      .filter(({ target: aim }) => aim)
      .sort((p, q) => deltaUv(q.xy, q.target!) - deltaUv(p.xy, p.target!))
      .slice(0, LABELLED);
    const points = pointsOf(subject, result, list, plane, id).map((point, i): Point => {
      const { target: aim, name } = list[i]!;
      if (!aim) return point;
      const from = plane.of(aim);
      const tip: Xy = [from[0] + factor * (point.x - from[0]), from[1] + factor * (point.y - from[1])];
      return { ...point, from, ...(factor > 1 && { tip }), ...(isLast && worst.includes(list[i]!) && { label: name }) };
    });
    return {
      is: 'series',
      id,
      ...inkOf(subject, r),
      ...(results.length > 1 && { label: endLabel(subject, result), labelled: 'near' }),
      joined: false,
      shape: isLast ? 'dot' : 'hollow',
      points,
    };
  });
  const crosses = shown(read.at(-1)!).flatMap(({ key, name, target: aim }) =>
    aim ? [cross(key.join(','), 'aim', plane.of(aim), name)] : [],
  );
  const outlines = target ? [triangle(plane, target.space.title, target.space)] : [];
  const white = whitePanel(subject, plane, target, read);
  return {
    ...figureOf(subject, plane, read, series),
    title: titleOf(subject, read.map(farthestAnswer), {
      what: phrase("Largest distance in u'v'"),
      of: read.map(farthestOff),
      text: (v) => numberText(v, 4),
      last: phrase('{mean} on average', { mean: numberText(meanOff(read.at(-1)!), 4) }),
    }),
    notes: factor === 1 ? [] : [words(subject, phrase('Error vectors are {factor} times as long.', { factor }))],
    panels: [
      {
        id: 'diagram',
        ...axesOf(plane, holding([...outlines, ...crosses, ...series.flatMap(({ points }) => points)].flatMap(placesOf)), 'fill'),
        marks: [locus(plane), ...outlines, targets('aim', crosses), ...series],
        ...(white && { aside: white }),
      },
    ],
  };
}

/** The places of a mark. */
const placesOf = (mark: Point | Outline): readonly Xy[] =>
  'points' in mark ? mark.points : [[mark.x, mark.y], ...(mark.tip ? [mark.tip] : [])];

const distance = (p: Xy, q: Xy): number => Math.hypot(p[0] - q[0], p[1] - q[1]);

/** What is said of a run is said of these: of its readings that count, of all where none does. */
function judgedOf(readings: readonly Reading[]): readonly Reading[] {
  const judged = readings.filter(({ counts }) => counts);
  return judged.length > 0 ? judged : readings;
}

const offs = (readings: readonly Reading[]): readonly number[] =>
  judgedOf(readings).flatMap(({ xy, target }) => (target ? [deltaUv(xy, target)] : []));

const farthestOff = (readings: readonly Reading[]): number => offs(readings).reduce((most, v) => Math.max(most, v), 0);

const meanOff = (readings: readonly Reading[]): number => offs(readings).reduce((sum, v, _, { length }) => sum + v / length, 0);

/** `Farthest off in u'v': sky by 0.0121`. */
function farthestAnswer(readings: readonly Reading[]): Phrase {
  const most = farthestOff(readings);
  const worst = judgedOf(readings).find(({ xy, target }) => target && deltaUv(xy, target) === most);
  if (!worst) return counted(readings.length, WITHOUT_TARGET);
  return phrase("Up to {most} off in u'v' ({name}), {mean} on average", {
    name: worst.name,
    most: numberText(most, 4),
    mean: numberText(meanOff(readings), 4),
  });
}

const WITHOUT_TARGET: Forms = ['1 colour without a target', '{count} colours without a target'];

/** White and its target from near. */
function whitePanel(subject: Subject, plane: Plane, target: Target | undefined, read: readonly (readonly Reading[])[]): Panel | undefined {
  const { results } = subject;
  const whites = read.map((list) => list.filter(({ key }) => key[0] === 'white'));
  if (!target || whites.every(({ length }) => length === 0)) return undefined;
  const series = results.map((result, r): Series => {
    const id = `${result.run.id}/white`;
    const points = pointsOf(subject, result, whites[r]!, plane, id).map(
      (point): Point => ({ ...point, label: results.length > 1 ? runLabel(subject, result) : words(subject, phrase('white')) }),
    );
    return { is: 'series', id, ...inkOf(subject, r), joined: false, shape: r === results.length - 1 ? 'dot' : 'hollow', points };
  });
  const middle = plane.of(target.white);
  const name = whiteName(subject, target);
  const places = series.flatMap(({ points }) => points.map(({ x, y }): Xy => [x, y]));
  return {
    id: 'white',
    ...axesOf(plane, around(middle, places, 0.006), 'fit'),
    marks: [planckianQuiet(subject, plane), targets('white', [cross('white', 'white', middle, name, name)]), ...series],
  };
}

function planckianQuiet(subject: Subject, plane: Plane): Outline {
  const { label: _, ...quiet } = planckian(subject, plane);
  return quiet;
}

const REFERENCES = [
  ['bt709', 'BT.709', SPACES.bt709],
  ['p3', 'P3', SPACES['p3-d65']],
  ['bt2020', 'BT.2020', SPACES.bt2020],
] as const;

function ofGamut(subject: Subject, plane: Plane, read: readonly (readonly Reading[])[]): Figure {
  const { results } = subject;
  const target = targetOfRun(results[0]!);
  const shares = results.map((result) => coveredBy(result, plane));
  const said = REFERENCES.filter(([id]) => shares.some((list) => list.some((share) => share.id === id)));
  const outlines =
    said.length > 0
      ? said.map(([, name, space]) => triangle(plane, name, space))
      : target
        ? [triangle(plane, target.space.title, target.space)]
        : [];
  const series = results.map((result, r): Series => {
    const id = `${result.run.id}/chromaticity`;
    const isLast = r === results.length - 1;
    const points = pointsOf(subject, result, shown(read[r]!), plane, id);
    return {
      is: 'series',
      id,
      ...inkOf(subject, r),
      joined: false,
      shape: isLast ? 'dot' : 'hollow',
      points: points.map((point) => (isLast ? { ...point, label: point.key.join(' ') } : point)),
    };
  });
  const hulls = results.flatMap((result, r): Outline[] => {
    const corners = hull(read[r]!.filter(({ key }) => !isBlackPatch(key[0]!)).map(({ xy }) => plane.of(xy)));
    if (!corners) return [];
    const label = results.length > 1 ? { label: runLabel(subject, result) } : {};
    return [
      {
        is: 'outline',
        id: `${result.run.id}/hull`,
        role: r === results.length - 1 ? 'hull' : 'reference',
        points: corners,
        closed: true,
        ...label,
      },
    ];
  });
  const aims = target
    ? [...HUES, 'white'].map((hue) => cross(hue, 'aim', plane.of(hue === 'white' ? target.white : hueChromaticity(target, hue)!), hue))
    : [];
  const white = whitePanel(subject, plane, target, read);
  return {
    ...figureOf(subject, plane, read, series),
    title: titleOf(
      subject,
      shares.map((list) => coverageAnswer(list, plane)),
    ),
    panels: [
      {
        id: 'diagram',
        ...axesOf(plane, holding([...outlines, ...aims, ...series.flatMap(({ points }) => points)].flatMap(placesOf)), 'fill'),
        marks: [locus(plane), ...outlines, ...hulls, targets('aim', aims), ...series],
        ...(white && { aside: white }),
      },
    ],
  };
}

interface Share {
  readonly id: string;
  readonly name: string;
  readonly percent: number;
}

/** What a gamut covers of the spaces that it could be asked to show; a space that it holds whole is left out beside another. */
function coveredBy(result: RunResult, plane: Plane): readonly Share[] {
  const shares = REFERENCES.flatMap(([id, name]): Share[] => {
    const value = result.value(`coverage.${id}.${plane.id}`);
    return value.ok ? [{ id, name, percent: value.v }] : [];
  });
  return shares.filter(({ percent }, i) => percent < WHOLE || i === shares.length - 1);
}

/** Rounds to 100.0 %. */
const WHOLE = 99.95;

/** `Covers 97.9 % of P3, 74.0 % of BT.2020 in u'v'`. */
function coverageAnswer(shares: readonly Share[], plane: Plane): Phrase {
  const said = shares.map(({ name, percent }) => phrase('{share} % of {space}', { share: numberText(percent, 1), space: name }));
  return said.length === 0
    ? phrase('The gamut in {plane}', { plane: plane.name })
    : phrase('Covers {shares} in {plane}', { shares: allOf(said), plane: plane.name });
}

/** What all have in common; the panels and the title are still to come. */
function figureOf(subject: Subject, plane: Plane, read: readonly (readonly Reading[])[], series: readonly Series[]): Figure {
  const { results } = subject;
  return {
    id: plane === UV ? 'chromaticity' : 'chromaticity.xy',
    runs: results.map(({ run }) => run.id),
    title: '',
    against: againstOf(subject),
    summary: results.map((result, r) => `${runLabel(subject, result)}: ${words(subject, farthestAnswer(read[r]!))}.`).join(' '),
    notes: [],
    panels: [],
    flow: 'column',
    table: {
      head: [
        ...runHead(subject),
        words(subject, phrase('row')),
        ...plane.axes,
        ...plane.axes.map((axis) => words(subject, phrase('{axis} of the target', { axis }))),
        "Δu'v'",
      ],
      rows: series.flatMap(({ points }, r) => {
        const list = shown(read[r]!);
        return points.map((point, i) => {
          const { xy, target, name } = list[i]!;
          const aim = target ? plane.of(target).map((v) => numberText(v, 4)) : ['', ''];
          const cells = [
            ...runCell(subject, results[r]!),
            name,
            numberText(point.x, 4),
            numberText(point.y, 4),
            ...aim,
            target ? numberText(deltaUv(xy, target), 4) : '',
          ];
          return { run: point.run, ...(point.row !== undefined && { row: point.row }), cells };
        });
      }),
    },
  };
}
