import { signalToCode } from '../colour/quantise';
import { SPACES, spaceMatrices } from '../colour/spaces';
import type { Vec3 } from '../colour/vector';
import { type ShownColour, shownColour } from '../language/patch';
import { HUE_DRIVES, hueChromaticity } from '../measure/hues';
import { driveReader, signalFormat } from '../measure/readings';
import { colourXyz, isHdr, lightOf, type Scale, saturationSignal, sentSignal, type Target, targetOf } from '../measure/target';
import { cellWord, type RowLine } from '../session/line';
import type { Run, Session } from '../session/session';
import { valueAt } from '../session/table';

/** What a patch should look like, before anything has been read. */
export interface Patch {
  /** cd/m² where the target states its white, or its curve is absolute; else shares of white. */
  readonly xyz: Vec3;
  readonly isShare: boolean;
}

/** Reference white of HDR, cd/m². Source: ITU-R BT.2408. */
const HDR_WHITE = 203;

/** What patches are held against for the eye alone where a run has no target: a usual display (power 2.2, BT.709, D65). */
const USUAL: Target = {
  id: '',
  space: SPACES.bt709,
  matrices: spaceMatrices(SPACES.bt709)!,
  curve: { kind: 'power', exponent: 2.2, overBlack: false },
  white: SPACES.bt709.white,
  whiteName: 'D65',
};

/** The patches of a run as they are sent. Undefined for a row whose patch is no single colour, or is not told by its cells. */
export class Patches {
  readonly target: Target;
  /** Whether the run says what it is judged against. */
  readonly isJudged: boolean;
  private readonly scale: Scale;
  private readonly signalOf: (row: RowLine) => Vec3 | undefined;

  constructor(
    private readonly session: Session,
    private readonly run: Run,
  ) {
    const target = targetOf(session, run.target);
    this.isJudged = !('ok' in target);
    this.target = 'ok' in target ? USUAL : target;
    // A black that nobody has read yet is taken for none.
    this.scale = { Lw: this.target.luminance ?? 100, Lb: 0 };
    this.signalOf = this.reader();
  }

  of(row: RowLine): Patch | undefined {
    const signal = this.signalOf(row);
    if (!signal?.every(Number.isFinite)) return undefined;
    const { target, scale } = this;
    const xyz = colourXyz(target, signal, scale, lightOf(target, scale, 1));
    return { xyz, isShare: target.curve.kind !== 'pq' && target.luminance === undefined };
  }

  /** A light as a field on this screen. */
  field([X, Y, Z]: Vec3, white = this.scale.Lw): ShownColour | undefined {
    const hdr = isHdr(this.target.curve);
    // On an absolute scale a brighter field is white at most, so that it keeps its colour; what it lacks of its light is told.
    const shown = shownColour([X, Y, Z], this.target.white, hdr ? Math.max(HDR_WHITE, Y) : white);
    return shown && hdr && Y > HDR_WHITE ? { ...shown, clipped: true } : shown;
  }

  /** The codes that a row goes down the wire as, where its signal says how levels become codes. */
  codes(row: RowLine): readonly number[] {
    const { session, run } = this;
    const format = signalFormat(session, run);
    const drives = ['level', 'R', 'G', 'B'].flatMap((name) => run.table.columns.get(name) ?? []);
    if (drives.some(({ bits }) => bits !== undefined)) return [];
    return format ? drives.map((column) => signalToCode(valueAt(row, column) / 100, format)).filter(Number.isFinite) : [];
  }

  private reader(): (row: RowLine) => Vec3 | undefined {
    const { session, run } = this;
    const { columns } = run.table;
    const format = signalFormat(session, run);
    const range = session.text(run.signal, 'range');
    const drive = (name: string) => {
      const column = columns.get(name);
      const read = column && driveReader(column, format, range);
      return read && ((row: RowLine) => read(row.values[column.cell] ?? Number.NaN));
    };
    const grey = (signal: number): Vec3 => [signal, signal, signal];
    const stated = (name: string) => sentSignal(session.number(run.block, name) ?? 100, format);
    const wordOf = (row: RowLine, name: string) => {
      const column = columns.get(name);
      return column && column.cell < row.values.length ? cellWord(row, column.cell) : '';
    };
    switch (run.kind) {
      case 'greyscale':
      case 'tracking': {
        const level = drive('level');
        return (row) => level && grey(level(row));
      }
      case 'patches':
      case 'volume': {
        const [R, G, B] = ['R', 'G', 'B'].map(drive);
        return R && G && B ? (row) => [R(row), G(row), B(row)] : (row) => named(wordOf(row, 'patch'), 1);
      }
      case 'saturation': {
        const sat = columns.get('sat');
        // Of a run that says none, the stimulus is the full one; see `measure/coloured`.
        const stimulus = sentSignal(session.number(run.block, 'stimulus') ?? 100, undefined);
        return (row) => {
          const hue = wordOf(row, 'hue');
          const xy = hueChromaticity(this.target, hue);
          if (!xy || !sat) return named(hue, 1);
          const signal = saturationSignal(this.target, xy, valueAt(row, sat) / 100, stimulus);
          return signal.map((V) => sentSignal(100 * V, format)) as unknown as Vec3;
        };
      }
      case 'window':
        return () => grey(stated('stimulus'));
      case 'uniformity':
      case 'endurance':
      case 'angles':
        return () => grey(stated('level'));
      default:
        return (row) => named(wordOf(row, 'patch'), stated('stimulus'));
    }
  }
}

/** A patch by its name: white, black, one of the six hues, or a grey with its level: `grey-40`. */
function named(name: string, stimulus: number): Vec3 | undefined {
  if (name === 'white') return [stimulus, stimulus, stimulus];
  if (name === 'black') return [0, 0, 0];
  const level = /^gr[ea]y-(\d+(?:\.\d+)?)$/.exec(name);
  if (level) return named('white', Number(level[1]) / 100);
  const hue = Object.hasOwn(HUE_DRIVES, name) ? HUE_DRIVES[name] : undefined;
  return hue && (hue.map((drive) => drive * stimulus) as unknown as Vec3);
}
