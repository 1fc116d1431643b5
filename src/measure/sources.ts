import type { Vec3 } from '../colour/vector';
import type { Block } from '../session/block';
import type { Run, Session } from '../session/session';
import { type MeterErrors, sharedOf } from '../uncertainty/covariance';
import { correctionReadings } from './correcting';
import { type StatedErrors, spreadColumns, statedErrors } from './errors';
import type { Context } from './kernel';
import type { Move } from './moved';
import { type Patches, Seen } from './readings';
import { readPatches } from './readPatches';
import type { RunResult } from './result';
import type { ScaledBy } from './scaling';

/** An independent source of error, and what a session would read with so many standard deviations of it. */
export interface Source {
  /** Names an error that figures of other runs may have too; none for the spread of rows that no other row hangs on. */
  readonly name?: string;
  /** The patch of the run whose own spread it is all the same. */
  readonly patch?: number;
  readonly move: (by: number) => Move;
}

/** Readings of one block with one meter, row by row or repeats side by side. */
export interface Readings {
  readonly block: Block;
  readonly meter: Block | undefined;
  readonly patches: Patches;
}

/** What a run is read with: its meter; of a correction both. */
export function metersOf({ session, run, context }: RunResult): readonly (Block | undefined)[] {
  const own = run.kind === 'correction' ? correctionReadings(session, run.block).map(({ meter }) => meter) : [run.meter];
  return [...new Set([...own, ...(context?.judged?.read ?? []).map(({ run: other }) => other.meter)])];
}

export function ownReadings({ session, run }: RunResult, { patches }: Context): readonly Readings[] {
  if (run.kind === 'correction') return correctionReadings(session, run.block);
  const keys = run.block.spec?.table?.keys ?? [];
  const visits = session.text(run.block, 'repeat') === 'all' ? readPatches(session, run, keys, { repeatAll: false }) : patches;
  return [{ block: run.block, meter: run.meter, patches: visits }];
}

/** Up to so many patches are moved one after the other. */
export const ONE_BY_ONE = 64;
/** The rows moved in all, and the fewest groups: with so many the spread of a sum over all rows is good to a quarter. */
export const MOST_MOVED = 8192;
export const FEWEST = 8;

/**
 * The independent errors of a run: the spread of its readings, of those that give it its scale, and what the readings of a meter share.
 *
 * More patches than `ONE_BY_ONE` are moved in groups of far-apart ones, each patch with a sign by chance: the square of what a group does to
 * a sum is, in the mean over such signs, the sum of squares. Patches that others hang on stay by themselves.
 *
 * `together`: all patches that no other hangs on err alike. Figures of rows, which know their own reading and those that others hang on, are
 * the same for that; and for a figure that goes by the rank of readings it is more than enough.
 */
export function sourcesOf(result: RunResult, together = false): readonly Source[] {
  const { session, run, context } = result;
  if (!context) return [];
  const sources: Source[] = [];
  const scale = context.judged?.read ?? [];
  for (const readings of ownReadings(result, context)) {
    const stated = statedErrors(session, readings.meter);
    if (!stated) continue;
    const pivots = run.kind === 'correction' ? undefined : new Set([...(context.pivots ?? []), ...ownScale(scale, run)]);
    sources.push(...spreadSources(readings, stated.meter, pivots, context.patches, together));
  }
  for (const { run: other, patch } of scale) {
    const stated = statedErrors(session, other.meter);
    if (other.block === run.block || !stated) continue;
    const readings = { block: other.block, meter: other.meter, patches: readPatches(session, other, ['level']) };
    sources.push(
      ...columnSources(readings, stated.meter, [patch])
        .slice(0, 1)
        .map((source) => named(source, readings, patch, 0)),
    );
  }
  for (const meter of metersOf(result)) {
    const stated = statedErrors(session, meter);
    if (stated) sources.push(...sharedSources(meter, stated));
  }
  return sources;
}

const ownScale = (scale: readonly ScaledBy[], run: Run): readonly number[] =>
  scale.filter(({ run: other }) => other.block === run.block).map(({ patch }) => patch);

/**
 * The spread of the readings of a run. `pivots` are patches of the run, of which one may be several visits; undefined where any reading may
 * matter for any row.
 */
function spreadSources(
  readings: Readings,
  meter: MeterErrors,
  pivots: ReadonlySet<number> | undefined,
  { ofRow }: Patches,
  together: boolean,
): Source[] {
  const { patches } = readings;
  const alone: number[] = [];
  const others: number[] = [];
  for (let i = 0; i < patches.count; i++) {
    if (patches.seen[i] !== Seen.Measured) continue;
    (!pivots || pivots.has(ofRow[patches.first[i]!]!) ? alone : others).push(i);
  }
  const many = Math.max(FEWEST, Math.min(ONE_BY_ONE, Math.floor(MOST_MOVED / others.length)));
  const count = together ? Math.min(1, others.length) : others.length <= ONE_BY_ONE ? others.length : many;
  const groups = Array.from({ length: count }, (_, g) => others.filter((__, k) => k % count === g));
  const ownPatch = (i: number) => (pivots ? { patch: ofRow[patches.first[i]!]! } : {});
  return [
    ...alone.flatMap((i) => columnSources(readings, meter, [i]).map((source, k) => ({ ...named(source, readings, i, k), ...ownPatch(i) }))),
    ...groups.flatMap((group) => columnSources(readings, meter, group, together ? () => 1 : sign)),
  ];
}

const named = (source: Source, { block, patches }: Readings, i: number, column: number): Source => ({
  ...source,
  name: `${block.name} ${patches.first[i]} ${column}`,
});

/** The three columns of the spread of some readings, moved together; those that move nothing are left out. */
function columnSources(
  { block, meter, patches: from }: Readings,
  stated: MeterErrors,
  group: readonly number[],
  signOf: (i: number) => number = () => 1,
): Source[] {
  const columns = group.map((i) => spreadColumns(stated, [from.X[i]!, from.Y[i]!, from.Z[i]!], from.times[i]!));
  return ([0, 1, 2] as const).flatMap((k) => {
    if (columns.every((of) => !of[k]?.some((v) => v > 0))) return [];
    const move =
      (by: number): Move =>
      (of, reader, patches) =>
        of === block && reader === meter
          ? shifted(patches, (add) =>
              group.forEach((i, at) => {
                const patch = patches.ofRow[from.first[i]!]!;
                const shift = columns[at]![k];
                if (patch >= 0 && shift) add(patch, shift, (by * signOf(i) * from.times[i]!) / patches.times[patch]!);
              }),
            )
          : patches;
    return [{ move }];
  });
}

/** + or −, as good as by chance, but always the same: the top bit of a multiplicative hash. */
export const sign = (i: number): number => 1 - 2 * (Math.imul(i, 0x9e3779b1) >>> 31);

/** What all readings of a meter share: an error in x, in y, and in Y. */
export function sharedSources(meter: Block | undefined, stated: StatedErrors): Source[] {
  const { accuracy } = stated.meter;
  return ([0, 1, 2] as const).flatMap((k) => {
    if (!((k === 2 ? accuracy?.Y : accuracy?.xy) ?? 0)) return [];
    return [{ name: stated.names[k], move: (by) => sharedMove(meter, stated.meter, k, by) }];
  });
}

const sharedMove =
  (meter: Block | undefined, errors: MeterErrors, k: 0 | 1 | 2, by: number): Move =>
  (_, reader, patches) =>
    reader === meter
      ? shifted(patches, (add) => {
          for (let i = 0; i < patches.count; i++) {
            if (patches.seen[i] !== Seen.Measured) continue;
            const [X, Y, Z] = [patches.X[i]!, patches.Y[i]!, patches.Z[i]!];
            const hasColour = !Number.isNaN(X + Z);
            if (hasColour || k === 2) add(i, sharedOf(errors, hasColour ? [X, Y, Z] : [Y, Y, Y])[k], by);
          }
        })
      : patches;

/** How much is moved to see whether a figure hangs on what a meter says no spread of: little, and far more than rounding. */
const TOUCH = { xy: 2e-4, Y: 2e-4 };

/** Moves all readings of a meter in x and y, or in Y, by next to nothing. */
export const touch = (meter: Block | undefined, what: 'xy' | 'Y'): Move => {
  const errors = { spread: { xy: 0, Y: 0 }, accuracy: TOUCH };
  return (block, reader, patches) => {
    if (what === 'Y') return sharedMove(meter, errors, 2, 1)(block, reader, patches);
    return sharedMove(meter, errors, 1, 0.7)(block, reader, sharedMove(meter, errors, 0, 1)(block, reader, patches));
  };
};

type Add = (patch: number, shift: Vec3, by: number) => void;

/** A luminance is never moved to 0 or below: there is light where some was seen. */
const LEAST_LIGHT = 1e-3;

export function shifted(patches: Patches, change: (add: Add) => void): Patches {
  const [X, Y, Z] = [patches.X.slice(), patches.Y.slice(), patches.Z.slice()];
  change((i, shift, by) => {
    if (patches.seen[i] !== Seen.Measured) return;
    X[i]! += by * shift[0];
    Y[i] = Math.max(Y[i]! + by * shift[1], LEAST_LIGHT * Y[i]!);
    Z[i]! += by * shift[2];
  });
  return { ...patches, X, Y, Z };
}

/** The first meter of a run that states no spread; undefined where all do. */
export const silentMeter = (session: Session, result: RunResult): { readonly meter: Block | undefined } | undefined => {
  const meters = metersOf(result);
  const silent = meters.findIndex((meter) => !statedErrors(session, meter));
  return silent < 0 ? undefined : { meter: meters[silent] };
};
