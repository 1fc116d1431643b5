import { between, d65, inverse, map, type Pair, pqSignal, rgbToXyz, spaces, type Triple, times, xyOf, xyzOf } from './light';
import { type CommonError, commonError, type MeterModel, noCommonError, read, tripodMeter, type Written, written } from './meter';
import type { Panel } from './panels';
import { normal, stream, type Uniform } from './random';
import { type Light, light, lightAt, type Picture, type Scene } from './screen';
import { arrive, type Link, signalOf } from './signal';
import { throughFilters } from './spectra';

/** What a run is taken with. */
export interface Setup {
  readonly picture: Picture;
  readonly link: Link;
  /** Share of the screen that a patch covers. */
  readonly window?: number;
  /** Exponent by which the pattern source makes its colours; that of the target. */
  readonly exponent?: number;
}

export type Rows = readonly (readonly string[])[];

/** Seconds a patch stands before and while it is read. */
const perReading = 6;

export const steps = (from: number, to: number, by: number): number[] =>
  Array.from({ length: Math.round((to - from) / by) + 1 }, (_, i) => from + i * by);

export const hues = {
  red: [1, 0, 0],
  green: [0, 1, 0],
  blue: [0, 0, 1],
  cyan: [0, 1, 1],
  magenta: [1, 0, 1],
  yellow: [1, 1, 0],
} as const satisfies Record<string, Triple>;
export type Hue = keyof typeof hues;

/**
 * Signal of a saturation patch: the point at `saturation` on the straight line in xy from white to the hue, linear RGB scaled to a largest
 * channel of 1, then to the stimulus signal.
 */
export function saturationDrive(hue: Hue, saturation: number, stimulus: number, exponent: number): Triple {
  const toXyz = rgbToXyz(spaces.bt709);
  const pure = xyOf(times(toXyz, hues[hue]));
  const point: Pair = [d65[0] + saturation * (pure[0] - d65[0]), d65[1] + saturation * (pure[1] - d65[1])];
  const linear = times(inverse(toXyz), xyzOf(point));
  const largest = Math.max(...linear);
  return map(linear, (n) => stimulus * Math.max(0, n / largest) ** (1 / exponent));
}

/** PQ signal in the BT.2020 container of a full-drive colour of P3. */
export const p3InBt2020 = (colour: Triple): Triple =>
  map(times(between(spaces.p3, spaces.bt2020), colour), (n) => pqSignal(10_000 * Math.min(1, Math.max(0, n))));

/**
 * A display in front of a meter, with a clock. Each run draws from a stream of its own and the common error from one of the session, so
 * that the same plan gives the same text.
 */
export class Bench {
  readonly panel: Panel;
  readonly meter: MeterModel;
  readonly common: CommonError;
  private readonly sees: (light: Light) => Triple;
  private readonly seed: string;
  private minutes: number;
  private chance: Uniform;

  constructor(plan: { panel: Panel; seed: string; minutesOn: number; meter?: MeterModel }) {
    this.panel = plan.panel;
    this.meter = plan.meter ?? tripodMeter;
    this.sees = this.meter.filters ? throughFilters(this.panel, this.meter.filters) : ({ xyz }) => xyz;
    this.seed = plan.seed;
    this.minutes = plan.minutesOn;
    this.common = commonError(this.meter, stream(`${plan.seed}/session`));
    this.chance = stream(plan.seed);
  }

  /** Opens a run: its chance depends on its name alone. */
  run(id: string): this {
    this.chance = stream(`${this.seed}/${id}`);
    return this;
  }

  wait(minutes: number): this {
    this.minutes += minutes;
    return this;
  }

  read(picture: Picture, scene: Scene): Written {
    const shown = lightAt(this.panel, picture, { minutes: this.minutes, held: perReading / 2, ...scene });
    this.minutes += perReading / 60;
    return written(this.meter, read(this.meter, this.sees(shown), this.common, this.chance));
  }

  private patch({ picture, link, window = 0.1 }: Setup, nominal: Triple, scene: Partial<Scene> = {}): Written {
    return this.read(picture, { window, rgb: arrive(nominal, link), ...scene });
  }

  /** `level Y x y`, levels in per cent. Serves for PQ tracking as well, with an HDR picture. */
  greyscale(setup: Setup, levels: readonly number[]): Rows {
    return levels.map((level) => [`${level}`, ...colour(this.patch(setup, grey(level / 100)))]);
  }

  /** `hue sat Y x y`. */
  saturation(setup: Setup, stimulus: number, saturations: readonly number[]): Rows {
    return (Object.keys(hues) as Hue[]).flatMap((hue) =>
      saturations.map((sat) => {
        const drive = saturationDrive(hue, sat / 100, stimulus / 100, setup.exponent ?? 2.4);
        return [hue, `${sat}`, ...colour(this.patch(setup, drive))];
      }),
    );
  }

  /** `patch R G B Y x y`, with codes of the link's own depth and range. */
  patches(setup: Setup, patches: Readonly<Record<string, Triple>>): Rows {
    const { picture, link, window = 0.1 } = setup;
    return Object.entries(patches).map(([name, codes]) => {
      const rgb = map(codes, (code) => signalOf(code, link));
      return [name, ...codes.map(String), ...colour(this.read(picture, { window, rgb }))];
    });
  }

  /** `patch Y x y` at full drive, each colour given as the signal that is sent. */
  gamut(setup: Setup, send: (colour: Triple) => Triple): Rows {
    const white: Triple = [1, 1, 1];
    const { red, green, blue, ...secondaries } = hues;
    return Object.entries({ red, green, blue, white, ...secondaries }).map(([name, rgb]) => [
      name,
      ...colour(this.patch(setup, send(rgb))),
    ]);
  }

  /** `window Y` of full white, windows in per cent of the area. The screen rests between them. */
  windows(setup: Setup, windows: readonly number[]): Rows {
    return windows.map((window) => [`${window}`, this.wait(1).patch({ ...setup, window: window / 100 }, grey(1)).Y]);
  }

  /** `row col Y x y` of a full field, rows and columns counted from the top left, the outer ones a tenth of the screen from its edges. */
  uniformity(setup: Setup, level: number, rows: number, columns: number): Rows {
    const along = (i: number, count: number): number => -0.8 + (1.6 * (i - 1)) / (count - 1);
    return steps(1, rows, 1).flatMap((row) =>
      steps(1, columns, 1).map((column) => [
        `${row}`,
        `${column}`,
        ...colour(this.patch({ ...setup, window: 1 }, grey(level / 100), { at: [along(column, columns), along(row, rows)] })),
      ]),
    );
  }

  /** `t Y` of white that stands still, seconds from its appearance. */
  endurance(setup: Setup, seconds: readonly number[]): Rows {
    const start = this.minutes;
    return seconds.map((t) => {
      this.minutes = start + t / 60;
      return [`${t}`, this.patch(setup, grey(1), { held: t }).Y];
    });
  }

  /** `angle Y x y` of a grey, degrees from the axis to either side. */
  angles(setup: Setup, level: number, angles: readonly number[]): Rows {
    return angles.map((angle) => [`${angle}`, ...colour(this.patch(setup, grey(level / 100), { angle: Math.abs(angle) }))]);
  }

  /** `R G B Y x y` of the surface of the drive cube, levels in per cent. */
  volume(setup: Setup, levels: readonly number[]): Rows {
    const ends = [levels[0], levels[levels.length - 1]];
    const drives = levels.flatMap((r) => levels.flatMap((g) => levels.map((b): Triple => [r, g, b])));
    return drives
      .filter((rgb) => rgb.some((level) => ends.includes(level)))
      .map((rgb) => [
        ...rgb.map(String),
        ...colour(
          this.patch(
            setup,
            map(rgb, (level) => level / 100),
          ),
        ),
      ]);
  }

  /** `patch Y x y` of one grey again and again. */
  repeats(setup: Setup, name: string, level: number, times: number): Rows {
    return steps(1, times, 1).map(() => [name, ...colour(this.patch(setup, grey(level / 100)))]);
  }

  /** `place lag[ms]`: the picture is drawn from the top to the bottom. */
  lag(times: number): Rows {
    const { top, scan } = this.panel.lag;
    return (['top', 'centre', 'bottom'] as const).flatMap((place, i) =>
      steps(1, times, 1).map(() => [place, (top + (scan * i) / 2 + 0.35 * normal(this.chance)).toFixed(1)]),
    );
  }

  /** `patch power` of full fields. */
  power(setup: Setup, levels: Readonly<Record<string, number>>): Rows {
    const { dark, perLight } = this.panel.power;
    return Object.entries(levels).map(([name, level]) => {
      const Y = light(this.panel, setup.picture, { rgb: arrive(grey(level / 100), setup.link), window: 1, minutes: this.minutes })[1];
      return [name, (dark + perLight * Y + 0.4 * normal(this.chance)).toFixed(1)];
    });
  }

  /** `patch illuminance Y`: a full field of white and of black under light from the room. */
  reflectance(setup: Setup, illuminances: readonly number[]): Rows {
    return (['white', 'black'] as const).flatMap((name) =>
      illuminances.map((lux) => {
        const level = name === 'white' ? 1 : 0;
        const reflected = (this.panel.reflectance * lux) / Math.PI;
        return [name, `${lux}`, this.patch({ ...setup, window: 1 }, grey(level), { reflected }).Y];
      }),
    );
  }

  /** `patch ref.Y ref.x ref.y Y x y`: colours as another meter reads them, and as this one does. */
  pairs(setup: Setup, colours: Readonly<Record<string, Triple>>, reference: MeterModel): Rows {
    return Object.entries(colours).map(([name, rgb]) => {
      const other = written(reference, read(reference, this.shown(setup, rgb).xyz, noCommonError, this.chance));
      return [name, ...colour(other), ...colour(this.patch(setup, rgb))];
    });
  }

  /** A patch as it stands on the screen, without a meter. */
  shown({ picture, link, window = 0.1 }: Setup, rgb: Triple): Light {
    return lightAt(this.panel, picture, { window, rgb: arrive(rgb, link), minutes: this.minutes, held: perReading / 2 });
  }

  /** `patch Y`: full fields of white and black, and the fields of a checkerboard. */
  contrast(setup: Setup): Rows {
    const field = { ...setup, window: 1 };
    const checker = { ...setup, window: 0.5 };
    return [
      ['white', this.patch(field, grey(1)).Y],
      ['black', this.patch(field, grey(0)).Y],
      ['checker-white', this.patch(checker, grey(1)).Y],
      ['checker-black', this.patch(checker, grey(0), { surround: 1 }).Y],
    ];
  }
}

const grey = (level: number): Triple => [level, level, level];
const colour = ({ Y, x, y }: Written): string[] => [Y, x, y];
