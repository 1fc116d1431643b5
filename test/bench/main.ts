import Color from 'colorjs.io';
import { differenceCiede2000 } from 'culori';
import { parseTree } from 'jsonc-parser';
import { parseDocument } from 'yaml';
import { deltaE2000 } from '../../src/colour/difference';
import type { Vec3 } from '../../src/colour/vector';
import { NO_CONFIG } from '../../src/config/config';
import { RunResult } from '../../src/measure/result';
import { analyse, intervals, isSettled } from '../../src/project/analysis';
import { sessionOf } from '../../src/session/session';
import { SessionText } from '../../src/session/sessionText';
import { asJson, asYaml, session, stream } from './data';
import { recordedEdits } from './edits';
import { figureTable } from './figures';
import { languageTable } from './language';
import { reviewTable } from './review';
import { growth, median, milliseconds, nextTask, percentile, ratio, table, timed } from './timing';

// What was computed is added up and printed, so that nothing of it can be left out as unused.
let sum = 0;

const ROWS = 10_000;

function parsing(): void {
  const text = session(ROWS);
  const json = asJson(ROWS);
  const yaml = asYaml(ROWS);
  const times = timed({
    nitbook: () => SessionText.read(text).lines.length,
    'jsonc-parser': () => parseTree(json)!.children!.length,
  });
  // yaml takes so long that three rounds say enough.
  const slow = timed({ yaml: () => parseDocument(yaml).errors.length }, { rounds: 3, warmUp: 1 });
  const own = median(times.nitbook!);
  table(`Parsing ${ROWS.toLocaleString('en')} rows of [R, G, B, Y, x, y] with a range on every cell`, [
    ['', 'median', 'against nitbook'],
    ['nitbook', milliseconds(own), '1'],
    ['jsonc-parser parseTree', milliseconds(median(times['jsonc-parser']!)), ratio(median(times['jsonc-parser']!), own)],
    ['yaml parseDocument', milliseconds(median(slow.yaml!)), ratio(median(slow.yaml!), own)],
  ]);
}

function values(): void {
  const texts = [11, 12, 13].map((seed) => session(ROWS, seed));
  const textOf = (round: number) => texts[round % texts.length]!;
  const { figures, findings } = timed({
    figures: (round) => {
      const result = resultOf(textOf(round));
      const [average, most] = [result.value('de.avg'), result.value('de.max')];
      return average.ok && most.ok ? average.v + most.v : Number.NaN;
    },
    findings: (round) => {
      const analysis = analyse(SessionText.read(textOf(round + 1)), NO_CONFIG);
      return analysis.findings.length + (analysis.results[0]!.value('de.avg').ok ? 1 : 0);
    },
  }) as { figures: number[]; findings: number[] };
  table(`Reading and judging ${ROWS.toLocaleString('en')} rows afresh`, [
    ['', 'median', 'target'],
    ['parse + point values (ΔE average and maximum)', milliseconds(median(figures)), '< 15 ms'],
    ['parse + point values + all findings', milliseconds(median(findings)), ''],
  ]);
}

/** Figures without the search for findings. */
function resultOf(text: string): RunResult {
  const session = sessionOf(SessionText.read(text));
  return new RunResult(session, session.runs[0]!);
}

async function typing(rows: number): Promise<{ p50: number; p95: number; p99: number }> {
  const text = session(rows);
  const edits = recordedEdits(text);
  const round = async (): Promise<number[]> => {
    let source = SessionText.read(text);
    analyse(source, NO_CONFIG);
    const times: number[] = [];
    for (const edit of edits) {
      await nextTask();
      const start = performance.now();
      source = source.change([edit]);
      const analysis = analyse(source, NO_CONFIG);
      const value = analysis.results[0]?.value('de.avg');
      times.push(performance.now() - start);
      sum += analysis.findings.length + (value?.ok ? value.v : 0);
    }
    return times;
  };
  await round();
  const times = [await round(), await round(), await round()].flat();
  return { p50: percentile(times, 0.5), p95: percentile(times, 0.95), p99: percentile(times, 0.99) };
}

function differences(): void {
  const random = stream(7);
  const pairs = Array.from({ length: 100_000 }, () =>
    Array.from({ length: 2 }, () => [random() * 100, random() * 200 - 100, random() * 200 - 100] as const satisfies Vec3),
  );
  const ciede = differenceCiede2000();
  const asCulori = pairs.map((pair) => pair.map(([l, a, b]) => ({ mode: 'lab65' as const, l, a, b })));
  const asColorJs = pairs.map((pair) => pair.map((coords) => new Color('lab-d65', [...coords])));
  const total = <T>(list: readonly (readonly T[])[], difference: (a: T, b: T) => number): number =>
    list.reduce((all, [a, b]) => all + difference(a!, b!), 0);
  const times = timed({
    nitbook: () => total(pairs, deltaE2000),
    culori: () => total(asCulori, ciede),
    'colorjs.io': () => total(asColorJs, (a, b) => a.deltaE(b, '2000')),
  });
  const own = median(times.nitbook!);
  table('100,000 colour differences CIEDE2000', [
    ['', 'median', 'against nitbook'],
    ...Object.entries(times).map(([name, list]) => [name, milliseconds(median(list)), ratio(median(list), own)]),
  ]);
}

/** The second phase, with everything that a meter can state. */
function intervalsTable(): void {
  const texts = [21, 22, 23].map((seed) => session(ROWS, seed).replace('0.5 %\n', '0.5 %\n  accuracy: 0.002 xy, 2 %\n'));
  const longest: number[] = [];
  const work: number[] = [];
  for (let round = -3; round < 15; round++) {
    const analysis = analyse(SessionText.read(texts[(round + 3) % texts.length]!), NO_CONFIG);
    // Point values are there before.
    for (const id of Object.keys(analysis.results[0]!.specs)) analysis.results[0]!.value(id);
    const slices = intervals(analysis);
    const took: number[] = [];
    for (let isDone = false; !isDone; ) {
      const start = performance.now();
      isDone = slices.next().done === true;
      took.push(performance.now() - start);
    }
    if (!isSettled(analysis)) throw new Error('the bench computed no intervals');
    if (round < 0) continue;
    longest.push(Math.max(...took));
    work.push(took.reduce((total, ms) => total + ms, 0));
  }
  table(`Intervals of all figures of ${ROWS.toLocaleString('en')} readings, after their point values`, [
    ['', 'median', 'worst', 'target'],
    ['work', milliseconds(median(work)), milliseconds(Math.max(...work)), '< 150 ms'],
    ['longest piece between two pauses', milliseconds(median(longest)), milliseconds(Math.max(...longest)), '< 8 ms'],
  ]);
}

function growing(): void {
  const sizes = [1_250, 5_000, 20_000, 80_000];
  const texts = new Map(sizes.map((size) => [size, session(size)]));
  const rows = sizes.map((size) => {
    const text = texts.get(size)!;
    const read = timed({ read: () => SessionText.read(text).lines.length }, { rounds: 7, warmUp: 2 }).read!;
    const all = timed({ all: () => analyse(SessionText.read(text), NO_CONFIG).findings.length }, { rounds: 7, warmUp: 2 }).all!;
    return { size, read: median(read), all: median(all) };
  });
  table('Growth (a power of 1 is linear)', [
    ['rows', 'parsing', 'parsing, figures, findings'],
    ...rows.map(({ size, read, all }) => [size.toLocaleString('en'), milliseconds(read), milliseconds(all)]),
    ['power', growth(rows.map(({ size, read }) => [size, read])), growth(rows.map(({ size, all }) => [size, all]))],
  ]);
}

async function typingTable(): Promise<void> {
  const list = [
    { rows: 1_000, ...(await typing(1_000)) },
    { rows: 10_000, ...(await typing(10_000)) },
  ];
  table('200 recorded edits (a digit in the middle, the white row, the head, the target), from the change to the findings', [
    ['rows', 'p50', 'p95', 'p99', 'target'],
    ...list.map(({ rows, p50, p95, p99 }) => [
      rows.toLocaleString('en'),
      milliseconds(p50),
      milliseconds(p95),
      milliseconds(p99),
      rows === 1_000 ? 'p99 < 5 ms' : 'p95 < 5 ms',
    ]),
  ]);
}

parsing();
values();
await typingTable();
await languageTable(ROWS);
await figureTable();
reviewTable();
growing();
intervalsTable();
differences();
if (!Number.isFinite(sum)) throw new Error('the bench computed something that is no number');
