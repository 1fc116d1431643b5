import { xyzToXy } from '../colour/chromaticity';
import { deltaUv } from '../colour/difference';
import { area, areaRatio, clip, coverage, type Plane, triangleOf } from '../colour/gamut';
import { SPACES, type Space, spaceOf } from '../colour/spaces';
import type { Xy } from '../colour/vector';
import { cellWord } from '../session/line';
import type { Run, Session } from '../session/session';
import { phrase, tabled } from '../text/message';
import { duvFrom } from '../uncertainty/errorVector';
import { byPatch, xyzAt } from './colours';
import { HUES, hueChromaticity } from './hues';
import type { Context, Kernel } from './kernel';
import { meantWord, patchWordsOf } from './patchWords';
import { Seen } from './readings';
import { readPatches } from './readPatches';
import { describeTarget } from './scaling';
import { type Target, targetOf } from './target';
import { figure, tooFew, type Value, without } from './value';

interface Gamut extends Context {
  readonly target: Target | undefined;
  /** What the patches were driven in, as far as the run says. */
  readonly driven: Space | undefined;
  readonly nameOf: (patch: number) => string;
}

function prepare(session: Session, run: Run): Gamut {
  const { cell } = run.table.columns.get('patch')!;
  const patches = readPatches(session, run, ['patch']);
  const found = targetOf(session, run.target);
  const target = 'ok' in found ? undefined : found;
  const nameOf = (i: number) => cellWord(run.table.rows[patches.first[i]!]!, cell);
  return {
    session,
    run,
    patches,
    keys: ['patch'],
    target,
    driven: target?.space ?? spaceOf(session.text(run.signal, 'container') ?? ''),
    nameOf,
    ...(target ? { against: describeTarget(target) } : {}),
  };
}

const REFERENCES = { bt709: SPACES.bt709, p3: SPACES['p3-d65'], bt2020: SPACES.bt2020 } as const;

const WORDS = patchWordsOf('gamut')!;
const NO_ROWS: ReadonlySet<string> = new Set();

/** Whether a patch is black, be it mistyped, of which a finding tells where no row is `black`: its chromaticity is no vertex of a gamut. */
export const isBlackPatch = (name: string): boolean => name === 'black' || meantWord(name, WORDS, NO_ROWS) === 'black';

/** All readings but black and those that are there for the drift, as the hull of whatever was shown. Their luminance plays no part. */
function points(c: Gamut): Xy[] {
  const found: Xy[] = [];
  for (let i = 0; i < c.patches.count; i++) {
    if (c.patches.seen[i] !== Seen.Measured || c.patches.revisit[i] || isBlackPatch(c.nameOf(i))) continue;
    const xy = xyzToXy(xyzAt(c, i));
    if (Number.isFinite(xy[0]) && Number.isFinite(xy[1])) found.push(xy);
  }
  return found;
}

/**
 * Whether patches driven in a space can show all of a reference. P3 lies 0.02 % outside the triangle of BT.2020 by the rounding of its red,
 * so a hair is allowed.
 */
export function canShow(driven: Space, reference: Space): boolean {
  const triangle = triangleOf(reference.primaries);
  return area(clip(triangleOf(driven.primaries), triangle)) / area(triangle) > 0.999;
}

const shareOf = (share: number | undefined): Value =>
  share !== undefined && Number.isFinite(share) ? figure(100 * share) : tooFew(3, phrase('with a colour, not in one line'));

const coverageOf =
  (id: keyof typeof REFERENCES, plane: Plane) =>
  (c: Gamut): Value => {
    const reference = REFERENCES[id];
    if (c.driven && !canShow(c.driven, reference))
      return without('driven-narrower', { driven: tabled(c.driven.title), wider: tabled(reference.title) });
    return shareOf(coverage(points(c), triangleOf(reference.primaries), plane));
  };

const areaOf =
  (id: keyof typeof REFERENCES, plane: Plane) =>
  (c: Gamut): Value =>
    shareOf(areaRatio(points(c), triangleOf(REFERENCES[id].primaries), plane));

function additivity(c: Gamut): Value {
  const found: Record<string, number> = {};
  for (let i = 0; i < c.patches.count; i++)
    if (c.patches.seen[i] === Seen.Measured && !c.patches.revisit[i] && c.run.table.columns.has('Y')) found[c.nameOf(i)] = c.patches.Y[i]!;
  const lacking = ['red', 'green', 'blue', 'white'].find((name) => !(found[name]! > 0));
  return lacking ? without('no-patch', { patch: lacking }) : figure((found.red! + found.green! + found.blue!) / found.white!);
}

/** The chromaticity that the target has for the name of a patch. */
const wantedFor = (c: Gamut, i: number): Xy | undefined =>
  c.target && (c.nameOf(i) === 'white' ? c.target.white : hueChromaticity(c.target, c.nameOf(i)));

export const gamut: Kernel<'gamut', Gamut> = {
  prepare,
  rows: {
    'delta.uv': (c) =>
      byPatch(c, (i) => {
        const wanted = wantedFor(c, i);
        return wanted ? deltaUv(xyzToXy(xyzAt(c, i)), wanted) : Number.NaN;
      }),
  },
  vectors: {
    'delta.uv': (c) => (i) => {
      const wanted = wantedFor(c, i);
      return wanted ? duvFrom(wanted)(xyzAt(c, i)) : [Number.NaN, Number.NaN, Number.NaN];
    },
  },
  run: {
    'coverage.bt709.xy': coverageOf('bt709', 'xy'),
    'coverage.bt709.uv': coverageOf('bt709', 'uv'),
    'coverage.p3.xy': coverageOf('p3', 'xy'),
    'coverage.p3.uv': coverageOf('p3', 'uv'),
    'coverage.bt2020.xy': coverageOf('bt2020', 'xy'),
    'coverage.bt2020.uv': coverageOf('bt2020', 'uv'),
    'area.bt709.xy': areaOf('bt709', 'xy'),
    'area.bt709.uv': areaOf('bt709', 'uv'),
    'area.p3.xy': areaOf('p3', 'xy'),
    'area.p3.uv': areaOf('p3', 'uv'),
    'area.bt2020.xy': areaOf('bt2020', 'xy'),
    'area.bt2020.uv': areaOf('bt2020', 'uv'),
    additivity,
  },
  why: (c, _, patch) => {
    if (!c.target) return without('no-target');
    const hue = c.nameOf(patch);
    const named = hue === 'white' || HUES.includes(hue);
    return named ? undefined : without('row-hue', { hue, hues: [...HUES, 'white'].join(', ') });
  },
};
