import { parseTree } from 'jsonc-parser';
import { NO_CONFIG } from '../../src/config/config';
import { type Analysis, analyse, intervals } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { alone } from './alone';
import { asJson, session } from './data';
import { recordedEdits } from './edits';
import { accurate } from './intervals';
import type { Cells } from './report';
import { median, nextTask, ratio } from './timing';

const READINGS = 50_000;
const RUNS = 3;

/** What a process of its own holds, in bytes, by step. */
type Held = Readonly<Record<string, number>>;

export const SUBJECTS: Readonly<Record<string, (after: (step: string, kept: unknown) => Promise<void>, count: number) => Promise<void>>> = {
  async nitbook(after, count) {
    const text = accurate(session(count));
    await after('the text', text);
    const source = SessionText.read(text);
    await after('read', source);
    const analysis = analyse(source, NO_CONFIG);
    await after('analysed', valued(analysis));
    for (const _ of intervals(analysis));
    await after('with its intervals', analysis);
  },
  async edits(after, count) {
    const text = accurate(session(count));
    let source = SessionText.read(text);
    let analysis = valued(analyse(source, NO_CONFIG));
    for (const edit of recordedEdits(text)) {
      await nextTask();
      source = source.change([edit]);
      analysis = valued(analyse(source, NO_CONFIG));
    }
    for (const _ of intervals(analysis));
    await after('after 200 edits, with its intervals', analysis);
  },
  async json(after, count) {
    const text = asJson(count);
    await after('the text', text);
    await after('jsonc-parser parseTree', [text, parseTree(text)]);
  },
};

/** With all figures that are computed when they are asked for. */
function valued(analysis: Analysis): Analysis {
  for (const result of analysis.results) for (const id of Object.keys(result.specs)) result.value(id);
  return analysis;
}

async function inUse(): Promise<number> {
  for (let i = 0; i < 4; i++) {
    await nextTask();
    globalThis.gc!();
  }
  return process.memoryUsage().heapUsed + process.memoryUsage().external;
}

/** What each step of a subject holds, to be asked for in a process of its own. */
export async function memoryOf(name: string): Promise<Held> {
  const subject = SUBJECTS[name]!;
  // Compiled code is no part of what a session takes.
  await subject(async () => {}, 1_000);
  const before = await inUse();
  const held: Record<string, number> = {};
  let kept: unknown;
  await subject(async (step, what) => {
    kept = what;
    held[step] = (await inUse()) - before;
  }, READINGS);
  if (kept === undefined) throw new Error('nothing was kept');
  return held;
}

export function memoryTable(): Cells {
  const [text, ...steps] = [...held('nitbook'), ...held('edits')];
  const [json, tree] = held('json');
  const row = ([step, bytes]: readonly [string, number], ofText: number) => [
    step,
    `${(bytes / 1e6).toFixed(1)} MB`,
    `${(bytes / READINGS).toFixed(0)} B`,
    ratio(bytes, ofText),
  ];
  return [
    ['', 'in use', 'a reading', 'against its text'],
    row(['the text of the session', text![1]], text![1]),
    ...steps.map((step) => row(step, text![1])),
    row(['the same data as JSON', json![1]], json![1]),
    row(tree!, json![1]),
  ];
}

/** By step, the median of some processes. */
function held(name: string): readonly (readonly [string, number])[] {
  const runs = Array.from({ length: RUNS }, () => alone<Held>(`memory of ${name}`));
  return Object.keys(runs[0]!).map((step) => [step, median(runs.map((run) => run[step]!))]);
}
