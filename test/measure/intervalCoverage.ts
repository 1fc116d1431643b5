import { xyYToXyz, xyzToXy } from '../../src/colour/chromaticity';
import type { Vec3 } from '../../src/colour/vector';
import { NO_CONFIG } from '../../src/config/config';
import { type Intervals, intervalsOf } from '../../src/measure/intervals';
import type { RunResult } from '../../src/measure/result';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { finish } from '../../src/uncertainty/covariance';
import { stream } from '../display/random';
import type { SimulatedMeter } from '../uncertainty/coverage';

// Sessions as text, with a known truth: how often does the interval that a session is given hold what it would be without error? No published
// source: meters and displays are invented.

/** A run by its rows: the cells of the key and the true light, X, Y, Z in cd/m². */
export interface TrueRun {
  readonly name: string;
  readonly head: readonly string[];
  readonly columns: string;
  readonly rows: readonly (readonly [key: string, xyz: Vec3])[];
  /** Whether only luminances are read. */
  readonly grey?: boolean;
}

const HEAD = `nitbook 1
session 2026-03-14
display tv
  firmware: 1
signal sdr
  range: limited
  depth: 10
mode cinema
target dark
  space: bt709
  curve: power 2.4
  white: d65
target lifted
  space: bt709
  curve: bt1886
  white: d65
target hdr
  space: bt2020
  curve: pq
  white: d65
`;

const meterBlock = ({ states: { spread, accuracy, floor = 0 } }: SimulatedMeter): string =>
  [
    'meter probe',
    ...(floor > 0 ? [`  floor: ${floor} cd/m2`] : []),
    `  spread: ${spread.xy} xy, ${100 * spread.Y} %`,
    ...(accuracy ? [`  accuracy: ${accuracy.xy} xy, ${100 * accuracy.Y} %`] : []),
    '',
  ].join('\n');

/** The text of a session, with all digits: the meter is tested, not its rounding. */
export function sessionOf(meter: SimulatedMeter, runs: readonly TrueRun[], read: (xyz: Vec3) => Vec3): string {
  const blocks = runs.map(({ head, columns, rows, grey }) =>
    [
      head[0],
      ...head.slice(1).map((line) => `  ${line}`),
      `    ${columns}`,
      ...rows.map(([key, xyz]) => {
        const [X, Y, Z] = read(xyz);
        if (Y < (meter.states.floor ?? 0)) return `    ${key}  <${meter.states.floor}${grey ? '' : '  -  -'}`;
        const cells = grey ? [Y] : [Y, ...xyzToXy([X, Y, Z])];
        return `    ${key}  ${cells.map((v) => v.toFixed(12)).join('  ')}`;
      }),
      '',
    ].join('\n'),
  );
  return `${HEAD}${meterBlock(meter)}\n${blocks.join('\n')}`;
}

export function resultOf(text: string, name: string): RunResult {
  const { results } = analyse(SessionText.read(text), NO_CONFIG);
  return results.find(({ run }) => run.id === name)!;
}

/** How often the intervals of the last of some runs hold the truth, by figure: in the sessions in which it has a number and an interval. */
export function coverageOf(runs: readonly TrueRun[], meter: SimulatedMeter, sessions: number): ReadonlyMap<string, number> {
  const run = runs[runs.length - 1]!;
  const truth = resultOf(
    sessionOf(meter, runs, (xyz) => xyz),
    run.name,
  );
  const chance = stream(`${runs.map(({ name }) => name)} ${meter.name}`);
  const held = new Map<string, { held: number; of: number }>();
  for (let s = 0; s < sessions; s++) {
    const seen = resultOf(sessionOf(meter, runs, meter.session(chance)), run.name);
    const intervals: Intervals = finish(intervalsOf(seen));
    for (const [id, { scope }] of Object.entries(truth.specs)) {
      const value = scope === 'row' ? undefined : truth.value(id);
      if (!value?.ok || !seen.value(id).ok) continue;
      const told = intervals.of(id);
      if (!told?.ok) continue;
      const [low, high] = value.ends ?? [value.v, value.v];
      const holds = told.ci[0] <= low + 1e-9 && high <= told.ci[1] + 1e-9;
      const count = held.get(id) ?? { held: 0, of: 0 };
      held.set(id, { held: count.held + Number(holds), of: count.of + 1 });
    }
  }
  return new Map([...held].map(([id, count]) => [id, count.held / count.of]));
}

const D65 = [0.3127, 0.329] as const;
const steps = (from: number, to: number, by: number): number[] =>
  Array.from({ length: Math.round((to - from) / by) + 1 }, (_, i) => from + i * by);

/** A greyscale whose curve, black and tint are a little off, or as they should be. */
function greyscale(name: string, target: string, { exponent = 2.4, black = 0, tint = 0, white = 120 } = {}): TrueRun {
  return {
    name,
    head: [`greyscale ${name}`, 'mode: cinema', `target: ${target}`, 'signal: sdr'],
    columns: 'level Y x y',
    rows: [100, ...steps(0, 100, 10)].map((level) => {
      const Y = Math.max(black, 0.0004) + white * (level / 100) ** exponent;
      return [`${level}`, xyYToXyz(D65[0] + tint * (1 - level / 100) - tint / 2, D65[1] + tint, Y)];
    }),
  };
}

const fullDrive = (red: readonly [number, number], green: readonly [number, number], blue: readonly [number, number]) =>
  (
    [
      ['red', ...red, 21],
      ['green', ...green, 72],
      ['blue', ...blue, 7],
      ['white', 0.3127, 0.329, 100],
    ] as const
  ).map(([key, x, y, Y]) => [key, xyYToXyz(x, y, Y)] as const);

const pqNits = (signal: number): number => {
  const [m1, m2, c1, c2, c3] = [2610 / 16384, (2523 / 4096) * 128, 3424 / 4096, (2413 / 4096) * 32, (2392 / 4096) * 32];
  const p = signal ** (1 / m2);
  return 10_000 * (Math.max(p - c1, 0) / (c2 - c3 * p)) ** (1 / m1);
};

/** Follows PQ up to near its peak, with a soft roll-off. */
const rolled = (Y: number, peak: number): number => (Y < 0.5 * peak ? Y : peak * (1 - 0.5 * Math.exp(-(Y - 0.5 * peak) / (0.5 * peak))));

export const RUNS: readonly (readonly TrueRun[])[] = [
  [greyscale('perfect', 'dark')],
  [greyscale('tinted', 'dark', { exponent: 2.3, black: 0.05, tint: 0.006 })],
  [greyscale('lifted', 'lifted', { exponent: 2.35, black: 0.05, tint: 0.003 })],
  [
    greyscale('lender', 'dark', { tint: 0.004 }),
    {
      name: 'borrowing',
      head: ['saturation borrowing', 'mode: cinema', 'target: dark', 'signal: sdr'],
      columns: 'hue sat Y x y',
      rows: [
        ['red 50', xyYToXyz(0.48, 0.333, 38)],
        ['red 100', xyYToXyz(0.63, 0.331, 25)],
        ['green 100', xyYToXyz(0.305, 0.595, 84)],
        ['blue 100', xyYToXyz(0.152, 0.062, 9)],
        ['cyan 50', xyYToXyz(0.268, 0.329, 96)],
      ],
    },
  ],
  [
    {
      name: 'gamut-709',
      head: ['gamut gamut-709', 'target: dark'],
      columns: 'patch Y x y',
      rows: fullDrive([0.64, 0.33], [0.3, 0.6], [0.15, 0.06]),
    },
  ],
  [
    {
      name: 'gamut-near',
      head: ['gamut gamut-near', 'target: hdr'],
      columns: 'patch Y x y',
      rows: fullDrive([0.677, 0.3185], [0.262, 0.688], [0.151, 0.059]),
    },
  ],
  [
    {
      name: 'gamut-p3',
      head: ['gamut gamut-p3', 'target: hdr'],
      columns: 'patch Y x y',
      rows: fullDrive([0.676, 0.316], [0.262, 0.669], [0.149, 0.064]),
    },
  ],
  [
    {
      name: 'windows',
      head: ['window windows'],
      columns: 'window Y',
      grey: true,
      rows: (
        [
          [1, 812],
          [2, 812],
          [5, 812],
          [10, 812],
          [25, 430],
          [50, 260],
          [100, 160],
        ] as const
      ).map(([w, Y]) => [`${w}`, xyYToXyz(...D65, Y)]),
    },
  ],
  [
    {
      name: 'pair',
      head: ['contrast pair'],
      columns: 'patch Y',
      grey: true,
      rows: (
        [
          ['white', 120],
          ['black', 0.05],
          ['checker-white', 110],
          ['checker-black', 0.4],
        ] as const
      ).map(([p, Y]) => [p, xyYToXyz(...D65, Y)]),
    },
  ],
  ...([0, 0.05] as const).map((fall): readonly TrueRun[] => [
    {
      name: fall === 0 ? 'even' : 'uneven',
      head: [`uniformity ${fall === 0 ? 'even' : 'uneven'}`],
      columns: 'row col Y x y',
      rows: steps(1, 5, 1).flatMap((r) =>
        steps(1, 5, 1).map((c): readonly [string, Vec3] => {
          const away = ((r - 3) ** 2 + (c - 3) ** 2) / 8;
          return [`${r} ${c}`, xyYToXyz(D65[0] + 0.02 * fall * away, D65[1], 60 * (1 - fall * away))];
        }),
      ),
    },
  ]),
  [
    {
      name: 'hold',
      head: ['endurance hold'],
      columns: 't[s] Y',
      grey: true,
      rows: [0, 10, 20, 30, 60, 90, 120, 180, 300, 450, 600].map((t) => [
        `${t}`,
        xyYToXyz(...D65, 820 * (0.85 + 0.15 * Math.exp(-t / 90))),
      ]),
    },
  ],
  [
    {
      name: 'side',
      head: ['angles side'],
      columns: 'angle Y x y',
      rows: [-60, -45, -30, -15, 0, 15, 30, 45, 60].map((a) => [
        `${a}`,
        xyYToXyz(D65[0] + 0.00015 * Math.abs(a), D65[1], 100 * Math.cos((a * Math.PI) / 180) ** 2.2),
      ]),
    },
  ],
  [
    {
      name: 'track',
      head: ['tracking track', 'target: hdr', 'signal: sdr'],
      columns: 'level Y x y',
      rows: steps(5, 100, 5).map((level) => [`${level}`, xyYToXyz(0.3132, 0.3285, rolled(1.04 * pqNits(level / 100), 800))]),
    },
  ],
  [
    {
      name: 'track-exact',
      head: ['tracking track-exact', 'target: hdr', 'signal: sdr'],
      columns: 'level Y x y',
      rows: steps(5, 100, 5).map((level) => [`${level}`, xyYToXyz(...D65, Math.min(800, pqNits(level / 100)))]),
    },
  ],
];
